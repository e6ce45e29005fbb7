"""What a change would do: another start, another gang, other days, enclosing, deferring, splitting."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import pytest
from timed_walls import START, K, front, two_fronts

from generator.lime.season import FrostSeason, PlacingSeason
from generator.programme import effects
from generator.programme.effects import deferred, enclosed, from_start, runs, with_days, with_gangs
from generator.programme.network import Activity, Id, Network, NetworkError, NoGang, UnknownActivity, Wait, Work
from generator.programme.schedule import Schedule, schedule
from generator.values import MonthDay, Range

OUTSIDE = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 42)  # V27: to 7 September


def late_front() -> Schedule:
    """The front from 2 August, placed after the last safe day."""
    return schedule(Network(front(season=OUTSIDE)), date(2027, 8, 2))


def test_an_earlier_start_mends_a_placing_that_came_too_late() -> None:
    planned = late_front()
    assert [short.id for short in planned.short] == ["point"]
    earlier = from_start(planned, date(2027, 7, 12))
    assert earlier.short == ()
    assert earlier.end < planned.end


def test_a_second_gang_gains_the_days_between_twelfth_july_and_twenty_fourth_june() -> None:
    planned = schedule(two_fronts(1), START)
    assert planned.end == date(2027, 7, 12)
    assert with_gangs(planned, "masonry", 2).end == date(2027, 6, 24)


def test_a_gang_fewer_is_reckoned_anew_and_none_is_told() -> None:
    planned = schedule(two_fronts(2), START)
    assert with_gangs(planned, "masonry", 1).end == date(2027, 7, 12)
    with pytest.raises(NoGang):
        with_gangs(planned, "masonry", 0)


def test_a_shorter_wait_gains_and_a_longer_one_loses() -> None:
    planned = schedule(Network(front()), START)

    def gained(days: Mapping[Id, float | Range[float]]) -> int:
        return (planned.end - with_days(planned, days).end).days

    assert gained({"cover": 14}) == 7
    assert gained({"panel dries": 21}) == -6  # V16
    assert gained({"rake": Range(1.0, 9.0, 10.0), "panel dries": 13}) == 1


def test_a_large_job_keeps_its_order_but_for_a_further_gang_and_what_is_put_off(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    planned = schedule(two_fronts(1), START)
    chosen: list[object] = []

    def told(*given: object) -> Schedule:
        chosen.append(given[4] if len(given) > 4 else None)
        return schedule(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(effects, "schedule", told)
    monkeypatch.setattr(effects, "MOST_PLACED", 3)
    work = next(activity.id for activity in planned.network.activities if activity.gang)
    with_days(planned, {work: 1.0})
    enclosed(planned, work)
    assert chosen == [planned.held, planned.held]
    deferred(planned, work)
    with_gangs(planned, "masonry", 2)
    assert chosen[2:] == [planned.held, None, None]


def test_what_is_enclosed_keeps_no_season() -> None:
    planned = late_front()
    free = enclosed(planned, "point")
    assert (free.short, free.end) == ((), planned.end)


def test_what_is_deferred_waits_for_the_season_that_it_missed() -> None:
    start = date(2027, 9, 1)
    planned = schedule(Network(front(season=OUTSIDE)), start)
    put_off = deferred(planned, "point")
    assert put_off.short == ()
    assert put_off.dates["point"].early_start == date(2028, 4, 17)
    assert put_off.dates["point"].causes[0].kind == "season"


def test_runs_hold_one_order_and_never_cross() -> None:
    walls = two_fronts(1)
    spread = tuple(
        Activity(
            activity.id,
            Work(Range(4.0, 8.0, 9.0), K) if isinstance(activity.takes, Work) else Wait(Range(7.0, 21.0, 28.0)),
            activity.after,
            activity.gang,
            activity.place,
        )
        for activity in walls.activities
    )
    found = runs(Network(spread), START)
    assert found.early.end < found.likely.end < found.late.end
    assert found.early.held == found.likely.held == found.late.held


def test_effects_on_what_is_not_there_or_a_wait_are_told() -> None:
    planned = schedule(Network(front()), START)
    with pytest.raises(UnknownActivity):
        with_days(planned, {"rakes": 3})
    with pytest.raises(NetworkError):
        deferred(planned, "cover")
    with pytest.raises(NetworkError):
        schedule(two_fronts(), START, held=planned.held)
