"""Worked days counted without walking them, and waits that run through the days that are not worked."""

from __future__ import annotations

import datetime
import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable
from functools import cache, lru_cache, partial
from typing import Final

from generator.lime.limits import checked
from generator.lime.season import DUST_DAYS, SEARCH_DAYS, Calendar

LAST_DAY: Final = datetime.date.max.toordinal()
WEEK_DAYS: Final = 7


class NoWorkedDay(ValueError):
    """A calendar that has not so many worked days within ten years of a day."""

    def __init__(self, day: int, days_nr: int) -> None:
        self.day = _date(day)
        self.days_nr = days_nr
        super().__init__(f"no {days_nr} worked days in ten years of {self.day}")


class Worked:
    """The worked days of a calendar, days told as their ordinals (`date.toordinal`).

    The days of the week that are worked are numbered through from Monday 1 January of year 1; a barred span takes
    out a run of numbers. So each question is a division and a search among the spans: the time does not grow with
    the days counted. What was found is kept: a large job asks for the same days over and over. Source: arithmetic (D).
    """

    __slots__ = ("_before", "_day", "_first", "_last", "_taken", "_week", "ahead", "back", "up_to")

    up_to: Callable[[int], int]
    """How many days were worked up to a day, that day counted; the start of the count says nothing."""

    ahead: Callable[[int], Callable[[int], int]]
    """Of a number of worked days, what tells the last of so many from a day on, as `nth` does."""

    back: Callable[[int], Callable[[int], int]]
    """Of a number of worked days, what tells the last of so many back from a day, as `nth_back` does."""

    def __init__(self, calendar: Calendar) -> None:
        self._week = calendar.working_days_per_week
        self._first: list[int] = []
        self._last: list[int] = []
        self._taken: list[int] = [0]
        for first, last in _merged(calendar.barred):
            low, high = _number(first - 1, self._week) + 1, _number(last, self._week)
            if low <= high:
                self._first.append(low)
                self._last.append(high)
                self._taken.append(self._taken[-1] + high - low + 1)
        self._before = [low - 1 - taken for low, taken in zip(self._first, self._taken, strict=False)]
        self.up_to = cache(self._counted)
        self._day = cache(self._worked_on)
        self.ahead = cache(lambda nth: cache(partial(self.nth, nth=nth)))
        self.back = cache(lambda nth: cache(partial(self.nth_back, nth=nth)))

    def _counted(self, day: int) -> int:
        number = _number(day, self._week)
        span = bisect_right(self._first, number)
        barred = span and number <= self._last[span - 1]
        return self._before[span - 1] if barred else number - self._taken[span]

    def nth(self, day: int, nth: int) -> int:
        """The nth worked day from a day on, that day counted. Raises `NoWorkedDay`."""
        found = self._day(self.up_to(day - 1) + nth)
        if found > LAST_DAY or found - day >= SEARCH_DAYS:
            raise NoWorkedDay(day, nth)
        return found

    def nth_back(self, day: int, nth: int) -> int:
        """The nth worked day back from a day, that day counted. Raises `NoWorkedDay`."""
        found = self._day(self.up_to(day) - nth + 1)
        if found < 1 or day - found >= SEARCH_DAYS:
            raise NoWorkedDay(day, nth)
        return found

    def between(self, day: int, later: int) -> int:
        """The worked days after a day up to another; below 0 where the other is the earlier."""
        return self.up_to(later) - self.up_to(day)

    def _worked_on(self, worked: int) -> int:
        """The day on which so many have been worked."""
        number = worked + self._taken[bisect_left(self._before, worked)]
        weeks, nth = divmod(number - 1, self._week)
        return weeks * WEEK_DAYS + nth + 1


def _number(day: int, week: int) -> int:
    """How many days of the week's first so many there were up to a day; day 1 is a Monday."""
    weeks, weekday = divmod(day - 1, WEEK_DAYS)
    return weeks * week + (weekday + 1 if weekday < week else week)


def _merged(barred: Iterable[tuple[datetime.date, datetime.date]]) -> list[tuple[int, int]]:
    """Barred spans in order, those that touch or overlap as one."""
    merged: list[tuple[int, int]] = []
    for first, last in sorted((first.toordinal(), last.toordinal()) for first, last in barred):
        if merged and first <= merged[-1][1] + 1:
            merged[-1] = merged[-1][0], max(merged[-1][1], last)
        else:
            merged.append((first, last))
    return merged


@lru_cache(maxsize=256)
def worked(calendar: Calendar) -> Worked:
    """The worked days of a calendar; equal calendars are numbered once, and are then one and the same."""
    return Worked(calendar)


def _date(ordinal: int) -> datetime.date:
    return datetime.date.fromordinal(min(max(ordinal, 1), LAST_DAY))


def order_by(
    first_use: datetime.date, lead_days: float, calendar: Calendar, checking_days: float = 0.0
) -> datetime.date:
    """The last worked day on which a thing may be ordered that is there for its first use.

        first use - lead - checking of samples, back to a worked day

    Elapsed days, a part of a day counted whole. Valid for days of 0 up; ValueError outside; raises `NoWorkedDay`.
    Source: common practice, no published source. Worked: 6 weeks before Monday 10 May 2027 is 29 March.

    >>> order_by(datetime.date(2027, 5, 10), 42, Calendar(5))
    datetime.date(2027, 3, 29)
    """
    days = checked("lead_days", lead_days, 0.0) + checked("checking_days", checking_days, 0.0)
    return _date(worked(calendar).nth_back(first_use.toordinal() - math.ceil(days - DUST_DAYS), 1))
