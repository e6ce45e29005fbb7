"""The season for placing lime outside, every year anew, and the days that are worked.

Frost goes by the early-frost date less the mortar's vulnerable period, giving the last placing. Frost comes back
each winter, so its dates are a month and a day with a chance, and what they allow recurs (`frost` finds them in a
record). Dates are whole days, so a part of a day always counts as a day. The vulnerable periods are the caller's
(published: 48 hours to 90 days and until spring); `maturity` stretches them in the cold. A calendar never chooses
a binder.
"""

from __future__ import annotations

import datetime
import math
from calendar import isleap
from collections.abc import Iterator
from functools import lru_cache
from typing import Final, Literal

from generator.lime.limits import checked
from generator.lime.maturity import MonthlyRates, TooCold, latest_placing
from generator.values import MonthDay, Struct

DAY: Final = datetime.timedelta(days=1)
SEARCH_DAYS: Final = 3653  # ten years: a job that finds no day in them has barred them all
DUST_DAYS: Final = 1e-9  # what binary fractions add to a whole number of days
LONGEST_COVER_DAYS: Final = 365.0
COMMON_YEAR: Final = 2001  # neither it nor the next has a 29 February

Span = tuple[datetime.date, datetime.date]
"""The first and the last day of something, both in."""

Half = Literal["north", "south"]
"""The half of the world: its winter is counted from 1 July to 30 June in the north, 1 January on in the south."""


class Calendar(Struct, frozen=True):
    """The days that are worked: so many from Monday in each week, less barred spans (both ends in)."""

    working_days_per_week: int
    barred: tuple[Span, ...] = ()

    def __post_init__(self) -> None:
        if self.working_days_per_week not in range(1, 8):
            raise ValueError(f"working_days_per_week is {self.working_days_per_week}: valid 1 to 7")
        for first, last in self.barred:
            if last < first:
                raise ValueError(f"barred dates run from {first} to {last}: the end must not be the earlier")


def _whole_days(days: float) -> int:
    return math.ceil(days - DUST_DAYS)


def last_placing(early_frost: datetime.date, vulnerable_days: float) -> datetime.date:
    """The last day on which lime may be placed outside without being enclosed and heated.

        last placing = early frost - vulnerable days

    A date; a part of a day counts whole. Valid for vulnerable periods of 0 to 365 days; ValueError outside.
    Source: common practice, no published source, for the subtraction; the period is the caller's. Worked: frost
    on 10 November less 21 days is 20 October.

    >>> last_placing(datetime.date(2027, 11, 10), 21)
    datetime.date(2027, 10, 20)
    """
    days = checked("vulnerable_days", vulnerable_days, 0.0, LONGEST_COVER_DAYS)
    return early_frost - _whole_days(days) * DAY


def in_winter(day: MonthDay, winter: int, half: Half) -> datetime.date:
    """The date of a month and day in the winter that begins in a year; 28 February for a 29 February it lacks.

    >>> in_winter(MonthDay(4, 15), 2027, "north")
    datetime.date(2028, 4, 15)
    """
    year = winter if day.month >= _first_month(half) else winter + 1
    cut = (day.month, day.day) == (2, 29) and not isleap(year)
    return datetime.date(year, day.month, 28 if cut else day.day)


def _first_month(half: Half) -> int:
    return 7 if half == "north" else 1


def winter_of(day: datetime.date, half: Half) -> int:
    """The year in which the winter of a day begins.

    >>> winter_of(datetime.date(2028, 1, 5), "north"), winter_of(datetime.date(2028, 1, 5), "south")
    (2027, 2028)
    """
    return day.year if day.month >= _first_month(half) else day.year - 1


def winter_starts(year: int, half: Half) -> datetime.date:
    """The first day of the winter that begins in a year."""
    return datetime.date(year, _first_month(half), 1)


def days_into_winter(day: MonthDay, half: Half) -> int:
    """The days from the winter's beginning to a month and day, counted in common years; 29 February as 1 March.

    >>> days_into_winter(MonthDay(10, 19), "north"), days_into_winter(MonthDay(4, 15), "north")
    (110, 288)
    """
    counted = MonthDay(3, 1) if day == MonthDay(2, 29) else day
    return (in_winter(counted, COMMON_YEAR, half) - winter_starts(COMMON_YEAR, half)).days


def month_day(days: int, half: Half) -> MonthDay:
    """The month and day so many days after the winter's beginning, in common years; held within the winter.

    >>> month_day(110, "north")
    MonthDay(month=10, day=19)
    """
    return MonthDay.of(winter_starts(COMMON_YEAR, half) + min(max(days, 0), 364) * DAY)


class FrostSeason(Struct, frozen=True):
    """Between which days frost is to be reckoned with, every winter, at a chance.

    `early`: frost comes before it with that chance; `late`: frost comes after it with that chance.
    """

    early: MonthDay
    late: MonthDay
    half: Half = "north"
    chance_per_cent: int = 10

    def __post_init__(self) -> None:
        if days_into_winter(self.early, self.half) > days_into_winter(self.late, self.half):
            raise ValueError(
                f"frost from {self.early.month:02}-{self.early.day:02} to {self.late.month:02}-{self.late.day:02}: "
                f"valid within one winter, in the {self.half}"
            )

    def span(self, winter: int) -> Span:
        """The days on which frost can come in the winter that begins in a year, from early to late frost, both in.

        >>> [str(day) for day in FrostSeason(MonthDay(10, 19), MonthDay(4, 15)).span(2027)]
        ['2027-10-19', '2028-04-15']
        """
        return in_winter(self.early, winter, self.half), in_winter(self.late, winter, self.half)

    def spans(self, first: datetime.date, last: datetime.date) -> Iterator[Span]:
        """The days of frost of every winter from that before a day's to that after another's.

        >>> frost = FrostSeason(MonthDay(10, 19), MonthDay(4, 15))
        >>> [str(begins) for begins, _ in frost.spans(datetime.date(2027, 8, 1), datetime.date(2028, 5, 1))]
        ['2026-10-19', '2027-10-19', '2028-10-19']
        """
        return map(self.span, range(winter_of(first, self.half) - 1, winter_of(last, self.half) + 2))


class PlacingSeason(Struct, frozen=True):
    """The days, every year, on which lime with a cover against frost may be placed outside.

        from the day after late frost to early frost less the cover, both in

    The cover is in days; with `rates`, in days at 20 C that the cold of each month stretches. Valid for covers of
    0 to 365 days; ValueError outside. Source: common practice, no published source.

    >>> outside = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 42)
    >>> [str(day) for day in outside.window(2027)]
    ['2027-04-16', '2027-09-07']
    """

    frost: FrostSeason
    cover_days: float
    rates: MonthlyRates | None = None

    def __post_init__(self) -> None:
        checked("cover_days", self.cover_days, 0.0, LONGEST_COVER_DAYS)

    def window(self, winter: int) -> Span | None:
        """The first and last safe day before the winter that begins in a year; None where cover or cold leave none."""
        opens = in_winter(self.frost.late, winter - 1, self.frost.half) + DAY
        early = in_winter(self.frost.early, winter, self.frost.half)
        if self.rates is None:
            closes = last_placing(early, self.cover_days)
        else:
            try:
                closes = latest_placing(self.cover_days, early, self.rates)
            except TooCold:
                return None
        return (opens, closes) if opens <= closes else None

    def opens(self, day: datetime.date) -> datetime.date | None:
        """The first safe day from a day on; None where no year has one."""
        window = self.next_window(day)
        return None if window is None else max(day, window[0])

    def closes(self, day: datetime.date) -> datetime.date | None:
        """The last safe day up to a day; None where no year has one."""
        return next((min(day, last) for first, last in reversed(self._near(day)) if first <= day), None)

    def last_safe(self, day: datetime.date) -> datetime.date | None:
        """The last day of the window that a day lies in; None where the day is not safe."""
        return next((last for first, last in self._near(day) if first <= day <= last), None)

    def next_window(self, day: datetime.date) -> Span | None:
        """The whole window that a day lies in or that opens next after it; None where no year has one."""
        return next((window for window in self._near(day) if window[1] >= day), None)

    def _near(self, day: datetime.date) -> tuple[Span, ...]:
        return _windows_about(self, winter_of(day, self.frost.half))


@lru_cache(maxsize=1024)
def _windows_about(season: PlacingSeason, winter: int) -> tuple[Span, ...]:
    """The windows of a season about a winter, in order: a job has few seasons, and each of its walls asks."""
    windows = (season.window(year) for year in range(winter - 1, winter + 3))
    return tuple(window for window in windows if window is not None)
