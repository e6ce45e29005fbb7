"""The season for placing lime outside: last placing, last start, finish, working days, frost dates.

Frost goes by the early-frost date less the mortar's vulnerable period, giving the last placing; that less the
duration gives the last start. Dates are whole days, so a part of a day always counts as a day. The vulnerable
periods are the caller's (published: 48 hours to 90 days and until spring). A calendar never chooses a binder.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from generator.lime.hardening import age_needed_days
from generator.lime.limits import checked, positive

DAY: Final = datetime.timedelta(days=1)
SEARCH_DAYS: Final = 3653  # ten years: a job that finds no day in them has barred them all
DUST_DAYS: Final = 1e-9  # what binary fractions add to a whole number of days


@dataclass(frozen=True, slots=True)
class Calendar:
    """The days that are worked: so many from Monday in each week, less barred spans (both ends in)."""

    working_days_per_week: int
    barred: tuple[tuple[datetime.date, datetime.date], ...] = ()

    def __post_init__(self) -> None:
        if self.working_days_per_week not in range(1, 8):
            raise ValueError(f"working_days_per_week is {self.working_days_per_week}: valid 1 to 7")
        for first, last in self.barred:
            if last < first:
                raise ValueError(f"barred dates run from {first} to {last}: the end must not be the earlier")

    def works_on(self, day: datetime.date) -> bool:
        """Whether a day is worked."""
        if day.weekday() >= self.working_days_per_week:
            return False
        return not any(first <= day <= last for first, last in self.barred)


def _whole_days(days: float) -> int:
    return math.ceil(days - DUST_DAYS)


def last_placing(
    early_frost: datetime.date, vulnerable_days: float, mean_c: float | None = None
) -> datetime.date:
    """The last day on which lime may be placed outside without being enclosed and heated.

        last placing = early frost - vulnerable days
        with a mean temperature: vulnerable days (at 20 C) stretched by the slowest law of `hardening`

    A date; a part of a day counts whole. Warmth above 20 C never shortens the period. Valid for vulnerable
    periods of 0 to 365 days (before stretching) and 0 to 40 C; ValueError outside. Source: common practice,
    no published source, for the subtraction; the period is the caller's. Worked: frost on 10 November less
    21 days is 20 October.

    >>> last_placing(datetime.date(2027, 11, 10), 21)
    datetime.date(2027, 10, 20)
    """
    days = checked("vulnerable_days", vulnerable_days, 0.0, 365.0)
    if mean_c is not None:
        days = max(days, age_needed_days(days, mean_c).high)
    return early_frost - _whole_days(days) * DAY


def duration_working_days(quantity_m2: float, output_m2_per_day: float) -> float:
    """The working days that a quantity takes at an output by day.

        days = quantity / output

    Working days. Valid for output above 0; ValueError outside. Source: arithmetic (X). Worked: 66 m2 at
    3 m2/day are 22 days.

    >>> duration_working_days(66.0, 3.0)
    22.0
    """
    return checked("quantity_m2", quantity_m2, 0.0) / positive("output_m2_per_day", output_m2_per_day)


def _days(start: datetime.date, step: int) -> Iterator[datetime.date]:
    return (start + step * offset * DAY for offset in range(SEARCH_DAYS))


def _nth_working_day(start: datetime.date, nth: int, calendar: Calendar, step: int) -> datetime.date:
    """The nth working day from a day on (step 1) or back (step -1), that day included."""
    found = 0
    for day in _days(start, step):
        found += calendar.works_on(day)
        if found == nth:
            return day
    raise ValueError(f"no {nth} working days in ten years of {start}: {len(calendar.barred)} spans barred")


def last_start(placing: datetime.date, working_days: float, calendar: Calendar) -> datetime.date:
    """The last day on which a job may start and still be placed by a day.

        the nth working day back from the last placing, that day included;   n = the duration

    A date that is worked; a part of a day counts whole, a job of no time one day. Valid where ten years hold
    the days; ValueError otherwise. Source: common practice, no published source. Worked: 10 days of a
    five-day week by Wednesday 20 October 2027 start on Thursday 7 October.

    >>> last_start(datetime.date(2027, 10, 20), 10, Calendar(5))
    datetime.date(2027, 10, 7)
    """
    nth = max(1, _whole_days(checked("working_days", working_days, 0.0)))
    return _nth_working_day(placing, nth, calendar, -1)


def finish(start: datetime.date, working_days: float, calendar: Calendar) -> datetime.date:
    """The day on which a job that starts on or after a day is done.

        the nth working day from the start, that day included;   n = the duration

    A date that is worked; a part of a day counts whole, a job of no time one day. Valid where ten years hold
    the days; ValueError otherwise. Source: arithmetic (X). Worked: 10 days of a five-day week from Thursday
    7 October 2027 end on Wednesday 20 October.

    >>> finish(datetime.date(2027, 10, 7), 10, Calendar(5))
    datetime.date(2027, 10, 20)
    """
    nth = max(1, _whole_days(checked("working_days", working_days, 0.0)))
    return _nth_working_day(start, nth, calendar, 1)


@dataclass(frozen=True, slots=True)
class FrostYear:
    """The frosts of one calendar year: the last of spring, the first of autumn, and how many days."""

    year: int
    last_late: datetime.date | None
    first_early: datetime.date | None
    frost_days_nr: int


def frost_years(
    daily_minima: Iterable[tuple[datetime.date, float]], frost_c: float = 0.0
) -> tuple[FrostYear, ...]:
    """The frost dates of each calendar year in a record of daily least temperatures.

        frost where the least is at or below `frost_c`; spring to 30 June, autumn from 1 July

    Dates by year, in order. Valid for the northern half of the world; ground frost comes earlier than the
    air's. Source: dates counted (X). Worked: in the test, Seattle 2012 to 2015.

    >>> minima = [(datetime.date(2012, 3, 19), -0.5), (datetime.date(2012, 11, 10), 0.0)]
    >>> frost_years(minima)[0].first_early
    datetime.date(2012, 11, 10)
    """
    by_year: dict[int, list[datetime.date]] = {}
    for day, least_c in daily_minima:
        frosts = by_year.setdefault(day.year, [])
        if least_c <= frost_c:
            frosts.append(day)
    return tuple(_frost_year(year, by_year[year]) for year in sorted(by_year))


def _frost_year(year: int, frosts: list[datetime.date]) -> FrostYear:
    spring = [day for day in frosts if day.month <= 6]
    autumn = [day for day in frosts if day.month > 6]
    return FrostYear(year, max(spring, default=None), min(autumn, default=None), len(frosts))
