"""The season: last placing, and what recurs every year."""

from __future__ import annotations

import doctest
from collections.abc import Callable
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import season
from generator.lime.maturity import monthly_rates
from generator.lime.season import Calendar, FrostSeason, PlacingSeason
from generator.values import MonthDay

FROST = date(2027, 11, 10)
CLEMSON = FrostSeason(MonthDay(10, 19), MonthDay(4, 15))  # V26

dates = st.dates(date(2020, 1, 1), date(2040, 12, 31))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(season)
    assert failed == 0
    assert attempted >= 6


@given(dates, st.integers(0, 400), st.floats(0.0, 200.0))
def test_a_later_frost_never_gives_an_earlier_last_placing(frost: date, later: int, vulnerable: float) -> None:
    placing = season.last_placing(frost, vulnerable)
    assert season.last_placing(frost + timedelta(later), vulnerable) >= placing
    assert placing <= frost - timedelta(vulnerable) + timedelta(1e-6)


def test_a_part_of_a_day_open_to_frost_counts_as_a_day() -> None:
    assert season.last_placing(FROST, 20.1) == season.last_placing(FROST, 21.0) == date(2027, 10, 20)


def test_v27_the_last_placing_comes_back_every_year() -> None:
    outside = PlacingSeason(CLEMSON, 42)
    for year in (2027, 2028, 2031):
        assert outside.window(year) == (date(year, 4, 16), date(year, 9, 7))


def test_a_day_between_late_frost_and_the_last_placing_is_safe_both_ends_in() -> None:
    outside = PlacingSeason(CLEMSON, 42)
    assert outside.opens(date(2027, 4, 15)) == outside.opens(date(2027, 4, 16)) == date(2027, 4, 16)
    assert outside.opens(date(2027, 9, 7)) == date(2027, 9, 7)
    assert outside.opens(date(2027, 9, 8)) == date(2028, 4, 16)
    assert outside.closes(date(2027, 9, 8)) == outside.closes(date(2028, 4, 15)) == date(2027, 9, 7)
    assert outside.last_safe(date(2027, 6, 1)) == date(2027, 9, 7)
    assert outside.last_safe(date(2027, 12, 1)) is None


def test_what_is_not_safe_lies_between_windows_year_after_year() -> None:
    outside = PlacingSeason(CLEMSON, 42)
    first, last = date(2027, 5, 1), date(2029, 2, 1)
    unsafe = [day for nr in range((last - first).days + 1) if outside.last_safe(day := first + timedelta(nr)) is None]
    assert unsafe[0] == date(2027, 9, 8)
    assert unsafe[-1] == last
    assert [pair for pair in pairwise(unsafe) if pair[1] - pair[0] > timedelta(1)] == [
        (date(2028, 4, 15), date(2028, 9, 8))
    ]


def test_a_first_frost_in_january_closes_the_season_of_the_year_before_it() -> None:
    mild = PlacingSeason(FrostSeason(MonthDay(1, 5), MonthDay(2, 10)), 21)
    assert mild.window(2027) == (date(2027, 2, 11), date(2027, 12, 15))
    assert mild.opens(date(2027, 12, 20)) == date(2028, 2, 11)


def test_in_the_south_the_season_runs_over_new_year() -> None:
    south = PlacingSeason(FrostSeason(MonthDay(5, 20), MonthDay(9, 10), "south"), 30)
    assert south.window(2028) == (date(2027, 9, 11), date(2028, 4, 20))
    assert south.opens(date(2028, 1, 1)) == date(2028, 1, 1)


def test_the_cold_before_a_frost_brings_the_last_placing_forward() -> None:
    frost = FrostSeason(MonthDay(11, 10), MonthDay(4, 15))
    means = (4.0, 4.0, 6.0, 9.0, 12.0, 15.0, 17.0, 17.0, 14.0, 12.0, 7.0, 5.0)
    window = PlacingSeason(frost, 21, monthly_rates(means)).window(2027)
    assert window == (date(2027, 4, 16), date(2027, 10, 2))  # V30
    even = PlacingSeason(frost, 21, monthly_rates((10.0,) * 12)).window(2027)
    assert even == (date(2027, 4, 16), date(2027, 9, 28))  # V17


def test_a_cover_that_no_year_is_long_enough_for_leaves_no_day() -> None:
    never = PlacingSeason(CLEMSON, 200)
    assert never.window(2027) is None
    assert never.opens(date(2027, 6, 1)) is None
    assert never.closes(date(2027, 6, 1)) is None
    assert never.last_safe(date(2027, 6, 1)) is None


@pytest.mark.parametrize("means", [(-5.0,) * 12, (*(-5.0,) * 11, 0.0)])
def test_where_no_month_is_warm_enough_no_year_has_a_day(means: tuple[float, ...]) -> None:
    never = PlacingSeason(CLEMSON, 365, monthly_rates(means))
    assert never.window(2027) is None
    assert never.next_window(date(2027, 6, 1)) is None
    assert never.last_safe(date(2027, 6, 1)) is None


def test_the_twenty_ninth_of_february_comes_every_year() -> None:
    leap = MonthDay(2, 29)
    assert season.in_winter(leap, 2027, "north") == date(2028, 2, 29)
    assert season.in_winter(leap, 2028, "north") == date(2029, 2, 28)
    assert season.days_into_winter(leap, "north") == season.days_into_winter(MonthDay(3, 1), "north")


@given(dates, st.integers(0, 200), st.integers(0, 364), st.integers(0, 364), st.sampled_from(["north", "south"]))
def test_every_day_is_safe_or_not_and_what_opens_is_the_first_safe_day(
    day: date, cover: int, one: int, other: int, half: season.Half
) -> None:
    early, late = (season.month_day(days, half) for days in sorted((one, other)))
    outside = PlacingSeason(FrostSeason(early, late, half), cover)
    safe = outside.last_safe(day) is not None
    assert safe == (outside.opens(day) == day) == (outside.closes(day) == day)
    opens = outside.opens(day)
    if opens is not None:
        assert outside.last_safe(opens) is not None
        before = outside.closes(opens - timedelta(1))  # the last safe day before it: none lies between
        assert opens == day or before is None or before < day


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: Calendar(0), "working_days_per_week is 0: valid 1 to 7"),
        (lambda: Calendar(8), "working_days_per_week is 8: valid 1 to 7"),
        (lambda: Calendar(5, ((FROST, date(2027, 11, 9)),)), "barred dates run from 2027-11-10"),
        (lambda: season.last_placing(FROST, 366.0), r"vulnerable_days is 366\.0: valid from 0 to 365"),
        (lambda: PlacingSeason(CLEMSON, 366.0), r"cover_days is 366\.0: valid from 0 to 365"),
        (lambda: FrostSeason(MonthDay(4, 15), MonthDay(10, 19)), "frost from 04-15 to 10-19: valid within one winter"),
        (lambda: FrostSeason(MonthDay(5, 20), MonthDay(9, 10)), "valid within one winter, in the north"),
        (lambda: MonthDay(2, 30), "day is out of range"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
