"""Worked days, waits moved on and back, order-by dates.

V8 to V12, V21, V28, V32 and V33 are the trade's check values, computed by codings independent of this one (X).
"""

from __future__ import annotations

import doctest
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timed_walls import K

from generator.lime.season import Calendar, FrostSeason, PlacingSeason
from generator.programme import calendar
from generator.programme.calendar import NoWorkedDay, order_by, worked
from generator.values import MonthDay

dates = st.dates(date(2024, 1, 1), date(2031, 12, 31))
spans = st.lists(
    st.tuples(dates, st.integers(0, 90)).map(lambda span: (span[0], span[0] + timedelta(span[1]))), max_size=6
)
calendars = st.builds(Calendar, st.integers(1, 7), spans.map(tuple))


def nth(start: date, days_nr: int, on: Calendar) -> date:
    return date.fromordinal(worked(on).nth(start.toordinal(), days_nr))


def works_on(on: Calendar, day: date) -> bool:
    """Whether a day is worked, by walking through what is barred."""
    return day.weekday() < on.working_days_per_week and not any(first <= day <= last for first, last in on.barred)


def nth_back(finish: date, days_nr: int, on: Calendar) -> date:
    return date.fromordinal(worked(on).nth_back(finish.toordinal(), days_nr))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(calendar)
    assert failed == 0
    assert attempted >= 1


def test_v8_and_v9_ten_worked_days_with_and_without_a_barred_day() -> None:
    assert nth(date(2027, 5, 10), 10, K) == date(2027, 5, 21)
    assert nth(date(2027, 5, 24), 10, K) == date(2027, 6, 7)


@pytest.mark.parametrize(
    ("placing", "start"), [(date(2027, 10, 20), date(2027, 10, 7)), (date(2027, 9, 28), date(2027, 9, 15))]
)
def test_v21_the_last_start_of_ten_days_before_a_last_placing(placing: date, start: date) -> None:
    assert nth_back(placing, 10, K) == start


def test_v28_placing_that_stops_for_the_frost_goes_on_after_it() -> None:
    outside = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 42)
    start, winter = date(2027, 9, 1), date(2027, 12, 1)
    assert (outside.closes(winter), outside.opens(winter)) == (date(2027, 9, 7), date(2028, 4, 16))
    split = Calendar(5, ((date(2027, 9, 8), date(2028, 4, 15)),))
    assert [nth(start, days_nr, split) for days_nr in (5, 6, 30)] == [
        date(2027, 9, 7), date(2028, 4, 17), date(2028, 5, 19),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("first_use", "weeks", "by"),
    [
        (date(2027, 5, 10), 6, date(2027, 3, 29)),  # laths, before they are soaked
        (date(2027, 5, 19), 2, date(2027, 5, 5)),  # hair, before pricking up
        (date(2027, 6, 16), 13, date(2027, 3, 17)),  # setting putty
        (date(2027, 5, 10), 10, date(2027, 3, 1)),  # consent, before the start
    ],
)
def test_v32_a_thing_is_ordered_its_lead_before_its_first_use(first_use: date, weeks: int, by: date) -> None:
    assert order_by(first_use, 7 * weeks, K) == by


def test_an_order_falls_on_a_worked_day_with_samples_checked_and_part_days_whole() -> None:
    assert order_by(date(2027, 5, 10), 7, K) == date(2027, 4, 30)  # 3 May is barred
    assert order_by(date(2027, 5, 19), 14, K, checking_days=5) == date(2027, 4, 30)
    assert order_by(date(2027, 5, 19), 13.1, K) == date(2027, 5, 5)


def test_counting_agrees_with_walking_for_every_day_of_some_years() -> None:
    weekend = (date(2027, 5, 1), date(2027, 5, 2))
    for on in (K, Calendar(7), Calendar(6, K.barred), Calendar(1), Calendar(5, (weekend,))):
        count, days = 0, worked(on)
        begins = days.up_to(date(2026, 12, 31).toordinal())
        for day in (date(2027, 1, 1) + timedelta(nr) for nr in range(800)):
            count += works_on(on, day)
            assert days.up_to(day.toordinal()) - begins == count, day


@given(dates, st.integers(1, 300), calendars)
def test_the_nth_worked_day_is_the_one_that_walking_finds(start: date, days_nr: int, on: Calendar) -> None:
    finish = nth(start, days_nr, on)
    assert works_on(on, finish)
    assert sum(works_on(on, start + timedelta(day)) for day in range((finish - start).days + 1)) == days_nr
    assert worked(on).between(start.toordinal() - 1, finish.toordinal()) == days_nr
    first = nth(start, 1, on)
    assert nth_back(finish, days_nr, on) == first
    assert nth_back(finish, 1, on) == finish


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: nth(date(2027, 1, 1), 1, Calendar(5, ((date.min, date.max),))), "no 1 worked days in ten years"),
        (lambda: nth_back(date(2027, 1, 1), 1, Calendar(5, ((date.min, date.max),))), "no 1 worked days"),
        (lambda: nth(date(2027, 1, 1), 10**9, K), "no 1000000000 worked days in ten years of 2027-01-01"),
        (lambda: nth_back(date(2027, 1, 1), 10**9, K), "no 1000000000 worked days"),
        (lambda: order_by(date(2027, 1, 1), 10**9, K), "no 1 worked days in ten years of 0001-01-01"),
    ],
)
def test_a_calendar_without_a_worked_day_is_told_and_not_searched_for_ever(
    call: Callable[[], object], told: str
) -> None:
    with pytest.raises(NoWorkedDay, match=told):
        call()
