"""The season: last placing, last start, finish, working days and frost dates."""

from __future__ import annotations

import datetime
import doctest
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import season
from generator.lime.season import Calendar, FrostYear

FROST = date(2027, 11, 10)
FIVE_DAYS = Calendar(5)
EVERY_DAY = Calendar(7)
FESTIVAL = Calendar(5, ((date(2027, 10, 11), date(2027, 10, 13)),))

dates = st.dates(date(2020, 1, 1), date(2040, 12, 31))
calendars = st.builds(
    lambda days, first, length: Calendar(days, ((first, first + timedelta(length)),)),
    st.integers(1, 7),
    dates,
    st.integers(0, 60),
)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(season)
    assert failed == 0
    assert attempted >= 6


@given(dates, st.integers(0, 400), st.floats(0.0, 200.0), st.none() | st.floats(0.0, 30.0))
def test_a_later_frost_never_gives_an_earlier_last_placing(
    frost: date, later: int, vulnerable: float, mean_c: float | None
) -> None:
    placing = season.last_placing(frost, vulnerable, mean_c)
    assert season.last_placing(frost + timedelta(later), vulnerable, mean_c) >= placing
    assert placing <= frost - timedelta(vulnerable) + timedelta(1e-6)


def test_a_part_of_a_day_open_to_frost_counts_as_a_day() -> None:
    assert season.last_placing(FROST, 20.1) == season.last_placing(FROST, 21.0) == date(2027, 10, 20)


def test_cold_lengthens_the_vulnerable_period_by_the_slowest_law() -> None:
    assert season.last_placing(FROST, 90.0, 20.0) == FROST - timedelta(90)
    assert season.last_placing(FROST, 90.0, 10.0) == FROST - timedelta(181)
    assert season.last_placing(FROST, 90.0, 5.0) == FROST - timedelta(308)


def test_warmth_never_shortens_the_vulnerable_period() -> None:
    assert season.last_placing(FROST, 90.0, 30.0) == season.last_placing(FROST, 90.0)


def test_a_barred_span_pushes_the_last_start_back_by_its_working_days() -> None:
    placing = date(2027, 10, 20)
    assert season.last_start(placing, 10, FIVE_DAYS) == date(2027, 10, 7)
    assert season.last_start(placing, 10, FESTIVAL) == date(2027, 10, 4)


def test_a_last_placing_on_a_sunday_is_worked_up_to_the_friday() -> None:
    sunday = date(2027, 10, 24)
    assert season.last_start(sunday, 1, FIVE_DAYS) == date(2027, 10, 22)
    assert season.last_start(sunday, 0, FIVE_DAYS) == date(2027, 10, 22)
    assert season.last_start(sunday, 1, EVERY_DAY) == sunday


@given(dates, st.floats(0.1, 300.0), calendars)
def test_a_job_begun_on_its_last_start_is_done_in_time_and_a_day_later_is_not(
    placing: date, days: float, calendar: Calendar
) -> None:
    start = season.last_start(placing, days, calendar)
    assert calendar.works_on(start)
    assert season.finish(start, days, calendar) <= placing
    assert season.finish(start + timedelta(1), days, calendar) > placing


@given(dates, st.integers(1, 300), calendars)
def test_a_job_holds_as_many_working_days_as_it_takes(start: date, days: int, calendar: Calendar) -> None:
    done = season.finish(start, days, calendar)
    span = [start + timedelta(day) for day in range((done - start).days + 1)]
    assert sum(calendar.works_on(day) for day in span) == days


def test_frost_dates_part_the_year_at_midsummer_and_count_each_day() -> None:
    minima = [
        (date(2012, 1, 5), -3.0),
        (date(2012, 6, 30), 0.0),
        (date(2012, 7, 1), 0.1),
        (date(2012, 9, 30), -0.1),
        (date(2013, 1, 1), 4.0),
    ]
    assert season.frost_years(minima) == (
        FrostYear(2012, date(2012, 6, 30), date(2012, 9, 30), 3),
        FrostYear(2013, None, None, 0),
    )
    assert season.frost_years(minima, 0.1)[0].first_early == date(2012, 7, 1)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: Calendar(0), "working_days_per_week is 0: valid 1 to 7"),
        (lambda: Calendar(8), "working_days_per_week is 8: valid 1 to 7"),
        (lambda: Calendar(5, ((FROST, date(2027, 11, 9)),)), "barred dates run from 2027-11-10"),
        (lambda: season.last_placing(FROST, 366.0), r"vulnerable_days is 366\.0: valid from 0 to 365"),
        (lambda: season.last_placing(FROST, 21.0, -2.0), r"temperature_c is -2\.0: valid from 0 to 40"),
        (lambda: season.duration_working_days(10.0, 0.0), r"output_m2_per_day is 0\.0: valid above 0"),
        (lambda: season.last_start(FROST, -1.0, FIVE_DAYS), r"working_days is -1\.0: valid from 0 up"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()


def test_a_calendar_with_every_day_barred_is_told_and_not_searched_for_ever() -> None:
    closed = Calendar(5, ((datetime.date.min, datetime.date.max),))
    with pytest.raises(ValueError, match="no 3 working days in ten years of 2027-11-10: 1 spans barred"):
        season.last_start(FROST, 3, closed)
