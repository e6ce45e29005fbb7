"""A network in time: published networks, the trade's walls, floats, what decides, limits, access.

E1 to E6 are published examples: E1, E2 lecture slides and E3 an exam guide, answers read (R); E4 a problem without its
answer; E5 Hendrickson, Project Management for Construction, ch. 10, and E6 the building firm of Hillier and Lieberman,
Operations Research, both from memory (M); E7 has textbook lags. The answers of E4 to E7 and V13 to V20, V34 to V36
were computed by networkx, CP-SAT and two two-pass programs, all independent of this one, which agree (X).
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from timed_walls import BARRED, START, K, after, ceiling, front, two_fronts

from generator.lime.maturity import monthly_rates
from generator.lime.season import Calendar, FrostSeason, PlacingSeason
from generator.programme.calendar import order_by
from generator.programme.effects import runs
from generator.programme.network import Activity, Id, Link, Network, Wait, Work
from generator.programme.schedule import Schedule, Stay, last_dates, schedule
from generator.values import MonthDay, Range, replace

EVERY_DAY = Calendar(7)
DAY_0 = date(2027, 1, 4)


def reckoned(*activities: Activity) -> Schedule:
    return schedule(Network(activities), START)


def day(found: Schedule, id: Id) -> tuple[date, date]:
    return found.dates[id].early_start, found.dates[id].early_finish


def last_starts(found: Schedule) -> dict[Id, date]:
    return {id: start for id, (start, _) in last_dates(found).of_all.items()}


def ids(found: Schedule, to: Id | None = None) -> list[Id]:
    return [id for id, _ in found.chain(to)]


def textbook(spelt: str) -> Schedule:
    """A network spelt as `A4; B6(A); C3(A+2)`: days, what comes before, whole days between."""
    activities = []
    for item in spelt.split("; "):
        name, _, rest = item.partition("(")
        links = []
        for before in rest.rstrip(")").split(",") if rest else ():
            earlier, _, lag = before.partition("+")
            links.append(Link(earlier, int(lag) + 1 if lag else 0))
        activities.append(Activity(name[0], Work(int(name[1:]), EVERY_DAY), tuple(links)))
    return schedule(Network(tuple(activities)), DAY_0)


PUBLISHED = {
    "E1": (
        "A4; B6(A); C3(A); D6(B); E14(D); F5(C); G2(E,F); H2(G); I3(G); J4(H,I); K2(J)",
        41, "ABDEGIJK", {"C": 18, "F": 18, "H": 1},
    ),
    "E2": ("A4; B3(A); C5(A); D2(A); E5(B,C); F6(C,D); G4(E,F); H3(G)", 22, "ACFGH", {"B": 3, "D": 3, "E": 1}),
    "E3": ("A5; B3(A); C7(A); D4(B,C)", 16, "ACD", {"B": 4}),
    "E4": (
        "A4; B2; C6(A); D7(A); E4(B); F5(D,E); G5(C); H4(E)",
        16, "ADF", {"B": 5, "C": 1, "E": 5, "G": 1, "H": 6},
    ),
    "E5": (
        "A4; B3; C8(A); D7(A,B); E9(B,C); F12(B,C); G2(D,E); H5(D,E); I6(F,G)",
        30, "ACFI", {"B": 9, "D": 11, "E": 1, "G": 1, "H": 4},
    ),
    "E6": (
        "A2; B4(A); C10(B); D6(C); E4(C); F5(E); G7(D); H9(E,G); I7(C); J8(F,I); K4(J); L5(J); M2(H); N6(K,L)",
        44, "ABCEFJLN", {"D": 4, "G": 4, "H": 4, "M": 4, "I": 2, "K": 1},
    ),
    "E7": ("A3; B4(A+2); C5(A); D2(B+7,C+3); E3(C+1); F2(D+1,E)", 21, "ABDF", {"C": 5, "E": 7}),
}  # fmt: skip


@pytest.mark.parametrize(("spelt", "days_nr", "decides", "floats"), PUBLISHED.values(), ids=PUBLISHED.keys())
def test_published_networks_end_decide_and_float_as_published(
    spelt: str, days_nr: int, decides: str, floats: dict[str, int]
) -> None:
    found = textbook(spelt)
    assert (found.end - DAY_0).days + 1 == days_nr
    assert ids(found) == list(decides)
    assert {id: dates.total_float_days for id, dates in found.dates.items()} == {
        id: floats.get(str(id), 0) for id in found.dates
    }


def test_dates_within_the_published_networks() -> None:
    two, three, four = (textbook(PUBLISHED[name][0]).dates for name in ("E2", "E3", "E4"))
    at = {(DAY_0 + timedelta(nr)): nr for nr in range(60)}
    assert (at[two["G"].early_start], at[two["G"].early_finish] + 1) == (15, 19)
    assert (at[two["C"].late_start], at[two["C"].late_finish] + 1) == (4, 9)
    assert at[three["B"].late_start] == 9
    assert (at[four["C"].late_finish] + 1, at[four["E"].late_finish] + 1) == (11, 11)


@pytest.mark.parametrize(
    ("done", "days_nr", "next_day"),
    [
        (date(2027, 5, 14), 7, date(2027, 5, 21)),  # V10: from a Friday through a weekend
        (date(2027, 5, 14), 1, date(2027, 5, 17)),  # V12: a day is over by Monday
        (date(2027, 5, 28), 3, date(2027, 6, 1)),  # V11: the 31st is barred
        (date(2027, 5, 20), 10, date(2027, 6, 1)),
    ],
)
def test_v10_to_v12_elapsed_waits_run_through_weekends_and_move_on_to_a_worked_day(
    done: date, days_nr: int, next_day: date
) -> None:
    lay, wait = Activity("lay", Work(1, K)), Activity("wait", Wait(days_nr), after("lay"))
    found = schedule(Network((lay, wait, Activity("cover", Work(1, K), after("wait")))), done)
    assert day(found, "lay") == (done, done)
    assert found.dates["cover"].early_start == next_day


def test_the_front_day_by_day() -> None:
    found = schedule(Network(front()), START)
    assert {id: day(found, id) for id in ("scaffold", "panel", "rake", "fill", "point", "hold", "strike")} == {
        "scaffold": (date(2027, 5, 10), date(2027, 5, 11)),
        "panel": (date(2027, 5, 12), date(2027, 5, 12)),
        "rake": (date(2027, 5, 13), date(2027, 5, 26)),
        "fill": (date(2027, 5, 27), date(2027, 5, 28)),
        "point": (date(2027, 6, 4), date(2027, 6, 17)),
        "hold": (date(2027, 7, 8), date(2027, 7, 8)),
        "strike": (date(2027, 7, 9), date(2027, 7, 9)),
    }
    assert day(found, "cover") == (date(2027, 6, 17), date(2027, 7, 8))  # a wait ends on the day the next may start


@pytest.mark.parametrize(
    ("changed", "points", "strikes", "access_days", "rake_floats"),
    [
        ({}, date(2027, 6, 17), date(2027, 7, 9), 61, 0),  # V13
        ({"work": 6}, date(2027, 6, 10), date(2027, 7, 2), 54, 3),  # V14
        ({"work": 15}, date(2027, 7, 2), date(2027, 7, 26), 78, 0),  # V15
        ({"panel": 15}, date(2027, 6, 17), date(2027, 7, 9), 61, 0),  # V16
        ({"panel": 21}, date(2027, 6, 23), date(2027, 7, 15), 67, 3),
        ({"work": 15, "panel": 21, "fill": 10, "cover": 28}, date(2027, 7, 7), date(2027, 8, 5), 88, 0),  # V36
    ],
)
def test_v13_to_v16_and_v36_the_front_with_other_outputs_and_waits(
    changed: dict[str, Any], points: date, strikes: date, access_days: int, rake_floats: int
) -> None:
    found = schedule(Network(front(**changed)), START)
    assert found.dates["point"].early_finish == points
    assert found.end == strikes
    stay = found.stay("access")
    assert stay is not None
    assert (stay.first, stay.last, stay.days) == (START, strikes, access_days)
    assert found.dates["rake"].total_float_days == rake_floats


def test_the_front_with_more_barred_days_and_with_a_longer_week() -> None:
    fair = Calendar(5, (*BARRED, (date(2027, 6, 7), date(2027, 6, 18))))
    barred = schedule(Network(front(calendar=fair)), START)
    assert (day(barred, "point"), barred.end) == ((date(2027, 6, 4), date(2027, 7, 1)), date(2027, 7, 23))
    six = schedule(Network(front(calendar=Calendar(6, BARRED))), START)
    assert (six.dates["point"].early_finish, six.end) == (date(2027, 6, 14), date(2027, 7, 6))


def cold_front() -> Schedule:
    """V17: the front from 6 September at 10 C, where frost comes on 10 November; waits and cover at 20 C."""
    rates = monthly_rates((10.0,) * 12)
    season = PlacingSeason(FrostSeason(MonthDay(11, 10), MonthDay(4, 15)), 21, rates)
    return schedule(Network(front(rates=rates, season=season)), date(2027, 9, 6))


def test_v17_in_the_cold_the_front_is_placed_24_days_late() -> None:
    found = cold_front()
    assert day(found, "point") == (date(2027, 10, 11), date(2027, 10, 22))
    (short,) = found.short
    assert (short.id, short.kind, short.limit, short.days) == ("point", "season", date(2027, 9, 28), 24)
    stay = found.stay("access")
    assert stay is not None
    assert (found.end, stay.days) == (date(2027, 12, 7), 93)


def test_v18_the_ceiling_coat_by_coat() -> None:
    found = reckoned(*ceiling())
    starts = {id: dates.early_start for id, dates in found.dates.items()}
    assert [starts[id] for id in ("lath", "pricking-up", "float", "set", "hold")] == [
        date(2027, 5, 17), date(2027, 5, 19), date(2027, 6, 2), date(2027, 6, 16), date(2027, 6, 23),
    ]  # fmt: skip
    assert [starts[f"wash {nr}"].day for nr in range(1, 5)] == [24, 25, 28, 29]
    assert (found.dates["take down"].total_float_days, found.dates["tower"].total_float_days) == (3, 4)
    stay = found.stay("access")
    assert stay is not None
    assert (found.end, stay.days) == (date(2027, 6, 30), 52)
    longer = reckoned(*ceiling(coat=21))
    assert longer.end == date(2027, 7, 14)
    assert (longer.dates["float"].early_start, longer.dates["set"].early_start) == (date(2027, 6, 9), date(2027, 6, 30))


def test_v19_one_gang_on_two_fronts_in_a_row_and_two_side_by_side() -> None:
    one = schedule(two_fronts(1), START)
    assert one.end == date(2027, 7, 12)
    assert one.dates["S", "scaffold"].total_float_days == 14
    assert one.dates["N", "strike"].total_float_days == 12
    assert (("N", "point"), ("S", "rake"), "gang") in one.held.links
    assert schedule(two_fronts(2), START).end == date(2027, 6, 24)
    assert schedule(two_fronts(1, south_first=True), START).end == date(2027, 7, 12)


def test_v20_back_from_the_last_placing_whatever_the_start() -> None:
    found = last_starts(schedule(Network(front(last_placing=date(2027, 10, 20))), START))
    assert {id: found[id] for id in ("point", "fill", "rake", "panel", "scaffold")} == {
        "point": date(2027, 10, 7),
        "fill": date(2027, 9, 29),
        "rake": date(2027, 9, 15),
        "panel": date(2027, 9, 14),
        "scaffold": date(2027, 9, 10),
    }
    assert "strike" not in found  # no limit holds what comes after the placing


def test_v32_order_by_dates_stand_on_the_first_use() -> None:
    found = reckoned(*ceiling())
    leads = {"soak": 42, "pricking-up": 14, "set": 91}
    assert [order_by(found.dates[id].early_start, lead, K) for id, lead in leads.items()] == [
        date(2027, 3, 29), date(2027, 5, 5), date(2027, 3, 17),
    ]  # fmt: skip


def washed_front() -> Schedule:
    """V34: five washes a day apart after the hold point, three days, then strike."""
    kept = [activity for activity in front() if activity.id != "strike"]
    washes = [Activity(f"wash {nr}", Work(1, K), after(f"wash {nr - 1}" if nr > 1 else "hold")) for nr in range(1, 6)]
    dries = Activity("wash dries", Wait(3), after("wash 5"))
    return reckoned(*kept, *washes, dries, Activity("strike", Work(1, K), after("wash dries"), tags=("access",)))


def test_v34_all_decide_though_a_wait_over_a_weekend_leaves_float_in_the_chain() -> None:
    found = washed_front()
    assert [found.dates[f"wash {nr}"].early_start.day for nr in range(1, 6)] == [9, 12, 13, 14, 15]
    stay = found.stay("access")
    assert stay is not None
    assert (found.end, stay.days) == (date(2027, 7, 19), 71)
    floats = {id: dates.total_float_days for id, dates in found.dates.items()}
    assert [floats[id] for id in ("scaffold", "panel", "rake", "fill", "strike")] == [0] * 5
    assert [floats[id] for id in ("point", "hold", "wash 1", "wash 5")] == [1] * 4
    assert ids(found) == [activity.id for activity in found.network.activities if activity.id != "panel dries"]


def test_v35_an_answer_begins_on_the_day_that_drying_ends() -> None:
    activities = {activity.id: activity for activity in front()}
    activities["answer"] = Activity("answer", Work(5, K), after("panel dries"))
    activities["fill"] = replace(activities["fill"], after=after("rake", "answer"))
    found = reckoned(*activities.values())
    assert day(found, "answer") == (date(2027, 5, 26), date(2027, 6, 2))
    assert (found.dates["fill"].early_start, found.end) == (date(2027, 6, 3), date(2027, 7, 16))
    assert found.dates["rake"].total_float_days == 4


def test_v36_the_late_run_takes_the_high_days_of_everything_and_the_early_run_the_low() -> None:
    spread = front(Range(6.0, 10.0, 15.0), Range(14.0, 14.0, 21.0), Range(7.0, 7.0, 10.0), Range(21.0, 21.0, 28.0))
    found = runs(Network(spread), START)
    assert [found.early.end, found.likely.end, found.late.end] == [
        date(2027, 7, 2), date(2027, 7, 9), date(2027, 8, 5),
    ]  # fmt: skip


def test_every_cause_that_would_set_a_start_alone_is_told_the_latest_first() -> None:
    found = schedule(Network(front()), START)
    assert [(cause.kind, cause.by) for cause in found.dates["fill"].causes] == [("after", "rake")]
    both = schedule(Network(front(panel=15)), START)  # drying ends on the 27th, the day after raking
    assert [cause.by for cause in both.dates["fill"].causes] == ["rake", "panel dries"]
    weekend = schedule(Network(front(fill=8)), START)  # hardened on Saturday 5 June
    assert weekend.dates["point"].causes[0].day == date(2027, 6, 5)
    assert weekend.dates["point"].early_start == date(2027, 6, 7)


def test_a_start_that_waits_for_a_gang_says_for_which_work() -> None:
    found = schedule(two_fronts(1), START)
    cause = found.dates["S", "rake"].causes[0]
    assert (cause.kind, cause.by) == ("gang", ("N", "point"))
    assert ids(found)[-4:] == [("S", "rake"), ("S", "point"), ("S", "cover"), ("S", "strike")]
    assert ids(found)[0] == ("N", "scaffold")


def test_a_work_starts_no_sooner_than_its_delivery_and_says_so() -> None:
    activities = [replace(a, not_before=date(2027, 6, 12)) if a.id == "fill" else a for a in front()]
    found = reckoned(*activities)
    assert found.dates["fill"].early_start == date(2027, 6, 14)  # the 12th is a Saturday
    assert found.dates["fill"].causes[0].kind == "not-before"
    assert ids(found)[0] == "fill"  # nothing before it decides


def test_a_limit_that_is_passed_tells_by_how_much_and_what_floats_below_zero() -> None:
    found = schedule(Network(front(last_placing=date(2027, 6, 11))), START)
    (short,) = found.short
    assert (short.id, short.kind, short.finish) == ("point", "not-after", date(2027, 6, 17))
    assert (short.days, short.own_days, found.short_days) == (6, 4, 6)
    assert found.dates["point"].total_float_days == -4
    assert found.dates["scaffold"].total_float_days < 0
    assert found.dates["strike"].total_float_days == 0
    assert ids(found, short.id) == ["scaffold", "panel", "rake", "fill", "fill hardens", "point"]


def test_a_completion_before_the_end_is_short_of_the_last_work() -> None:
    found = schedule(Network(front()), START, completion=date(2027, 7, 2))
    (short,) = found.short
    assert (short.id, short.kind, short.days, short.own_days) == ("strike", "completion", 7, 5)
    assert found.dates["strike"].total_float_days == -5
    assert schedule(Network(front()), START, completion=date(2027, 7, 9)).short == ()


def test_a_completion_after_the_end_gives_no_float_but_later_last_starts() -> None:
    found = schedule(Network(front()), START, completion=date(2027, 7, 30))
    assert found.dates["strike"].total_float_days == 0
    assert last_starts(found)["strike"] == date(2027, 7, 30)


def test_free_float_moves_nothing_and_total_float_moves_no_end() -> None:
    found = textbook(PUBLISHED["E1"][0]).dates
    assert (found["C"].free_float_days, found["F"].free_float_days, found["H"].free_float_days) == (0, 18, 1)
    seen = reckoned(*ceiling()).dates
    assert (seen["soak"].free_float_days, seen["take down"].free_float_days) == (0, 3)


def placed(start: date, days: int, defers: bool = False) -> Schedule:
    """Raking, then placing that is safe from 16 April to 7 September."""
    season = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 42)
    activities = (
        Activity("rake", Work(5, K)),
        Activity("point", Work(days, K, season, defers), after("rake")),
        Activity("strike", Work(1, K), after("point")),
    )
    return schedule(Network(activities), start)


def test_placing_in_season_has_the_seasons_end_for_its_limit() -> None:
    found = placed(date(2027, 8, 16), 10)
    assert day(found, "point") == (date(2027, 8, 23), date(2027, 9, 6))
    assert found.short == ()
    assert last_starts(found)["point"] == date(2027, 8, 24)


def test_placing_that_runs_past_its_season_is_told_and_never_split_in_silence() -> None:
    found = placed(date(2027, 8, 16), 15)
    assert day(found, "point") == (date(2027, 8, 23), date(2027, 9, 13))
    (short,) = found.short
    assert (short.kind, short.limit, short.days, short.own_days) == ("season", date(2027, 9, 7), 6, 4)


def test_a_season_missed_since_the_start_is_told_and_the_dates_stand() -> None:
    found = placed(date(2027, 9, 6), 5)
    assert day(found, "point") == (date(2027, 9, 13), date(2027, 9, 17))
    (short,) = found.short
    assert (short.kind, short.limit, short.days) == ("season", date(2027, 9, 7), 10)
    assert last_starts(found)["rake"] == date(2027, 8, 24)


def test_a_work_that_defers_waits_for_the_next_season_and_names_what_missed_it() -> None:
    found = placed(date(2027, 9, 6), 5, defers=True)
    assert day(found, "point") == (date(2028, 4, 17), date(2028, 4, 21))
    assert found.short == ()
    cause = found.dates["point"].causes[0]
    assert (cause.kind, cause.by) == ("season", "rake")
    assert ids(found) == ["rake", "point", "strike"]


def test_a_start_in_winter_waits_for_the_season_and_nothing_before_decides() -> None:
    found = placed(date(2027, 12, 6), 5)
    assert day(found, "point") == (date(2028, 4, 17), date(2028, 4, 21))
    cause = found.dates["point"].causes[0]
    assert (cause.kind, cause.by) == ("season", None)
    assert ids(found) == ["point", "strike"]
    assert found.dates["rake"].total_float_days > 60


def test_the_order_in_which_activities_are_given_moves_no_date() -> None:
    forth, back = schedule(Network(front()), START), schedule(Network(front()[::-1]), START)
    assert dict(forth.dates) == dict(back.dates)


def test_a_schedule_is_reckoned_the_same_twice() -> None:
    assert schedule(two_fronts(2), START) == schedule(two_fronts(2), START)


def test_hire_is_counted_in_weeks_begun_from_the_day_after_access_is_up() -> None:
    put_up = date(2027, 5, 14)
    stays = [Stay(date(2027, 5, 11), put_up, put_up + timedelta(days)) for days in (0, 7, 8, 82, 84, 85)]
    assert [stay.weeks for stay in stays] == [1, 1, 2, 12, 12, 13]
