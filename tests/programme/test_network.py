"""Networks that cannot be reckoned are told by kind and id, and never reckoned for ever."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from timed_walls import START, K, after, front

from generator.lime.maturity import monthly_rates
from generator.lime.season import Calendar, FrostSeason, PlacingSeason
from generator.programme import network
from generator.programme.network import Activity, Id, Link, Network, NetworkError, Wait, Work, framed
from generator.programme.schedule import schedule
from generator.values import MonthDay, Range

CLOSED = Calendar(5, ((date.min, date.max),))
NEVER = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 300)
FROZEN = monthly_rates((-5.0,) * 12)


def net(*activities: Activity, **gangs: int) -> Network:
    return Network(activities, gangs)


def work(id: Id, *before: Id, gang: str = "") -> Activity:
    return Activity(id, Work(1, K), after(*before), gang)


def test_each_comes_after_all_that_it_waits_for_otherwise_as_given() -> None:
    frame = framed(net(work("c", "b"), work("a"), work("b", "a"), work("d")))
    assert [frame.network.activities[number].id for number in frame.sequence] == ["a", "d", "b", "c"]


@pytest.mark.parametrize(
    ("made", "kind", "ids"),
    [
        (lambda: net(work("a"), work("a")), network.RepeatedId, ("a",)),
        (lambda: net(work("a", "b")), network.UnknownActivity, ("a", "b")),
        (lambda: net(work("a", "a")), network.Circle, ("a",)),
        (
            lambda: net(work("x"), work("a", "c", "x"), work("b", "a"), work("c", "b"), work("d", "c")),
            network.Circle,
            ("b", "c", "a"),
        ),
        (lambda: net(work("a", gang="mason"), mason=0), network.NoGang, ("a",)),
        (lambda: net(Activity("a", Wait(3), gang="mason")), network.WaitWithGang, ("a",)),
        (lambda: net(Activity("a", Wait(10**9))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Wait(-1))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Wait(math.nan))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Work(math.inf, K))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Work(Range(1.0, 2.0, 1e9), K))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Wait(400, FROZEN))), network.DaysOutOfReach, ("a",)),
        (lambda: net(work("b"), Activity("a", Work(1, K), (Link("b", 10**9),))), network.DaysOutOfReach, ("a",)),
        (lambda: net(Activity("a", Work(1, CLOSED))), network.NoDayFor, ("a",)),
        (lambda: net(Activity("a", Work(1, CLOSED), gang="mason")), network.NoDayFor, ("a",)),
        (lambda: net(Activity("a", Work(1, K, NEVER))), network.NoDayFor, ("a",)),
        (lambda: net(Activity("a", Wait(7, FROZEN))), network.NoDayFor, ("a",)),
        (lambda: net(Activity("a", Work(1, K), not_before=date.max)), None, ()),
        (lambda: net(), NetworkError, ()),
    ],
)
def test_what_cannot_be_reckoned_is_told_by_kind_and_id(
    made: Callable[[], Network], kind: type[NetworkError] | None, ids: tuple[Id, ...]
) -> None:
    if kind is None:
        assert schedule(made(), START).end == date.max
        return
    with pytest.raises(kind) as caught:
        schedule(made(), START)
    assert type(caught.value) is kind
    assert caught.value.ids == ids


def test_a_chain_that_runs_past_the_last_year_is_told() -> None:
    waits = [Activity(f"{nr}", Wait(3653), after(f"{nr - 1}") if nr else ()) for nr in range(900)]
    with pytest.raises(network.NoDayFor):
        schedule(net(*waits), START)


def test_a_calendar_that_closes_for_good_after_the_last_work_is_no_fault() -> None:
    closing = Calendar(5, ((START + timedelta(3), date.max),))
    made = net(
        Activity("a", Work(2, closing), gang="mason", place="N"),
        Activity("b", Work(1, closing), gang="mason", place="S"),
    )
    assert schedule(made, START).end == START + timedelta(2)
    with pytest.raises(network.NoDayFor):
        schedule(net(*made.activities, Activity("c", Work(1, closing), gang="mason")), START)


def test_a_hundred_walls_of_fifteen_activities_in_a_circle_are_told_at_once() -> None:
    chain = [work(f"{nr}", f"{nr - 1}" if nr else "1499") for nr in range(1500)]
    with pytest.raises(network.Circle) as caught:
        schedule(net(*chain), START)
    assert len(caught.value.ids) == 1500


def test_two_links_to_one_activity_keep_the_longer() -> None:
    both = net(work("a"), Activity("b", Work(1, K), (Link("a", 3), Link("a", 9))))
    assert schedule(both, START).dates["b"].early_start == START + timedelta(9)


def test_a_network_is_not_changed_by_reckoning_it() -> None:
    made = Network(front())
    schedule(made, START)
    assert made == Network(front())
