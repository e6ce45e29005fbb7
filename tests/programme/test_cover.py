"""Cover in time: days of its own, and longer only while frost can come within the mortar's tender days."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime.maturity import MonthlyRates, monthly_rates
from generator.lime.season import FrostSeason, PlacingSeason
from generator.programme.clocks import Clock, clock
from generator.programme.network import Activity, Cover, DaysOutOfReach, Network, framed
from generator.values import MonthDay

FROST = FrostSeason(MonthDay(10, 19), MonthDay(4, 15))  # V26
COLD = monthly_rates((4.0, 4.0, 6.0, 9.0, 12.0, 15.0, 17.0, 17.0, 14.0, 12.0, 7.0, 5.0))
DAYS = st.dates(date(2027, 1, 1), date(2029, 12, 31))


def covered(days: int, tender: int, frost: FrostSeason | None = FROST, rates: MonthlyRates | None = None) -> Clock:
    return clock(Cover(days, tender, frost, rates), "likely", 1)


def finish(placed: date, own: Clock) -> date:
    return date.fromordinal(own.finish(placed.toordinal()))


def test_a_front_placed_in_june_is_covered_for_its_own_days_and_not_for_a_frost_that_cannot_come() -> None:
    assert finish(date(2027, 6, 17), covered(7, 60)) == date(2027, 6, 24)


@pytest.mark.parametrize(
    ("placed", "ends"),
    [
        (date(2027, 9, 7), date(2027, 9, 21)),  # the last safe day of 42 tender days before 19 October (V27)
        (date(2027, 9, 8), date(2027, 10, 20)),  # a day later frost can come on the last of them
        (date(2027, 11, 1), date(2027, 12, 13)),  # in the frost: all its tender days
        (date(2028, 3, 31), date(2028, 4, 16)),  # to the last frost of spring, and no longer
        (date(2028, 4, 16), date(2028, 4, 30)),  # after it no frost comes
    ],
)
def test_cover_ends_with_the_last_tender_day_on_which_frost_can_come(placed: date, ends: date) -> None:
    assert finish(placed, covered(14, 42)) == ends


def test_what_is_placed_by_the_last_safe_day_of_its_season_needs_no_cover_against_frost() -> None:
    for rates in (None, COLD):
        span = PlacingSeason(FROST, 42, rates).window(2027)
        assert span is not None
        own = covered(7, 42, FROST, rates)
        assert finish(span[1], own) == span[1] + timedelta(7)
        assert finish(span[1] + timedelta(1), own) > date(2027, 10, 19)


def test_where_frost_is_not_known_cover_stays_for_all_tender_days() -> None:
    assert finish(date(2027, 6, 17), covered(7, 60, None)) == date(2027, 8, 16)


@given(DAYS, DAYS, st.integers(0, 40), st.integers(0, 120), st.booleans(), st.booleans())
def test_later_placing_never_ends_cover_earlier_and_the_way_back_is_the_way_forth(
    placed: date, other: date, days: int, tender: int, known: bool, cold: bool
) -> None:
    own = covered(days, tender, FROST if known else None, COLD if cold else None)
    first, second = sorted((placed.toordinal(), other.toordinal()))
    assert own.finish(first) <= own.finish(second)
    ends = own.finish(first)
    back = own.start(ends)
    assert back >= first
    assert own.finish(back) <= ends
    assert own.finish(back + 1) > ends


def test_tender_days_beyond_a_year_are_refused() -> None:
    with pytest.raises(DaysOutOfReach):
        framed(Network((Activity("cover", Cover(7, 400)),)))
