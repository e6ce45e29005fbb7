"""How each activity passes through the days: when it may begin, when it is finished, and the same turned round.

Days are ordinals (`date.toordinal`). Every step is monotone: a later day in never gives an earlier day out. On this
rests that a longer wait never ends a programme earlier while its order holds.
"""

from __future__ import annotations

import datetime
import math
from functools import lru_cache
from typing import Protocol

from generator.lime.maturity import MonthlyRates, days_to_mature, latest_placing
from generator.lime.season import DUST_DAYS, SEARCH_DAYS, FrostSeason, PlacingSeason, winter_of
from generator.programme.calendar import LAST_DAY, NoWorkedDay, Worked, worked
from generator.programme.network import Activity, Cover, Run, Wait, Work
from generator.values import Range


class Clock(Protocol):
    """The time of one activity."""

    def begin(self, day: int) -> int:
        """The first day from a day on, on which it may start."""

    def finish(self, start: int) -> int:
        """The day on which it is finished, from its start."""

    def end(self, day: int) -> int:
        """The last day up to a day, on which it may be finished."""

    def start(self, finish: int) -> int:
        """The latest start from which it is finished by a day."""

    def between(self, day: int, later: int) -> int:
        """Its own days from one day to another, below 0 where the other is the earlier."""


class WorkClock:
    """Worked days of a calendar."""

    __slots__ = ("_days", "_nr", "between")

    def __init__(self, days: Worked, days_nr: int) -> None:
        self._days, self._nr = days, days_nr
        self.between = days.between

    def begin(self, day: int) -> int:
        return self._days.nth(day, 1)

    def finish(self, start: int) -> int:
        return self._days.nth(start, self._nr)

    def end(self, day: int) -> int:
        return self._days.nth_back(day, 1)

    def start(self, finish: int) -> int:
        return self._days.nth_back(finish, self._nr)


class SeasonClock(WorkClock):
    """Worked days held against a season: from a start on, work waits for a season that has not opened yet.

    A season that closed after the start was missed: the work then starts outside it, and is told as late, unless it
    `defers` to the next.
    """

    __slots__ = ("_since", "season")

    def __init__(self, days: Worked, days_nr: int, season: PlacingSeason, defers: bool, start: int) -> None:
        super().__init__(days, days_nr)
        self.season = season
        self._since = LAST_DAY if defers else start

    def begin(self, day: int) -> int:
        found = self.any_day(day)
        while found - day < SEARCH_DAYS:
            opens = next((first for first, last in _windows(self.season, found) if last >= found), None)
            if opens is None:
                break
            if opens <= found or self.closed_before(found) >= self._since:
                return found
            found = self.any_day(opens)
        raise NoWorkedDay(day, 1)

    def end(self, day: int) -> int:
        found = super().end(day)
        while day - found < SEARCH_DAYS:
            closes = next((last for first, last in reversed(_windows(self.season, found)) if first <= found), None)
            if closes is None:
                break
            if closes >= found:
                return found
            found = super().end(closes)
        raise NoWorkedDay(day, 1)

    def any_day(self, day: int) -> int:
        """The first worked day from a day on, safe or not."""
        return super().begin(day)

    def limit(self, start: int) -> int:
        """The last day of the season in which a start lies, or of the one that it missed."""
        return max(last for first, last in _windows(self.season, start) if first <= start)

    def closed_before(self, day: int) -> int:
        """The last safe day before a day, 0 where there was none."""
        return max((last for _, last in _windows(self.season, day) if last < day), default=0)


def _windows(season: PlacingSeason, day: int) -> tuple[tuple[int, int], ...]:
    return _windows_near(season, winter_of(datetime.date.fromordinal(day), season.frost.half))


@lru_cache(maxsize=1024)  # asked for several times for each work placed outside: a hundred walls take half the time
def _windows_near(season: PlacingSeason, winter: int) -> tuple[tuple[int, int], ...]:
    spans = (season.window(year) for year in range(winter - 1, winter + 3))
    return tuple((span[0].toordinal(), span[1].toordinal()) for span in spans if span is not None)


class WaitClock:
    """Elapsed days."""

    __slots__ = ("_nr",)

    def __init__(self, days_nr: int) -> None:
        self._nr = max(1, days_nr)

    def begin(self, day: int) -> int:
        return day

    def finish(self, start: int) -> int:
        return self._over(start, self._nr)

    def end(self, day: int) -> int:
        return day

    def start(self, finish: int) -> int:
        if finish <= self._nr:
            raise NoWorkedDay(finish, self._nr)
        return finish - self._nr

    def between(self, day: int, later: int) -> int:
        return later - day

    def _over(self, start: int, days_nr: int) -> int:
        if start + days_nr > LAST_DAY:
            raise NoWorkedDay(start, days_nr)
        return start + days_nr


class RipeningClock(WaitClock):
    """Days at 20 C, stretched by the cold of each month."""

    __slots__ = ("_need", "_rates")

    def __init__(self, days_at_20_c: float, rates: MonthlyRates) -> None:
        super().__init__(1)
        self._need, self._rates = days_at_20_c, rates

    def finish(self, start: int) -> int:
        days_nr = days_to_mature(self._need, datetime.date.fromordinal(start), self._rates)
        return self._over(start, max(1, days_nr))

    def start(self, finish: int) -> int:
        placing = latest_placing(self._need, datetime.date.fromordinal(finish), self._rates)
        return min(finish - 1, placing.toordinal())


class CoverClock(WaitClock):
    """Elapsed days under cover, and longer to the last of the tender days on which frost can come.

        finish = max(start + days, end of the damp days, day after the last day of frost before   start + tender days)

    So what is placed by the last safe day of its season needs no cover against frost. Monotone, for the last day of
    frost before a day is.
    """

    __slots__ = ("_cover", "_damp", "_tender")

    def __init__(self, days_nr: int, cover: Cover, damp: WaitClock) -> None:
        super().__init__(days_nr)
        self._cover, self._damp = cover, damp
        self._tender = WaitClock(math.ceil(cover.tender_days - DUST_DAYS))
        if cover.rates is not None:
            self._tender = RipeningClock(cover.tender_days, cover.rates)

    def finish(self, start: int) -> int:
        frost = self._last_frost(self._tender.finish(start) - 1) + 1
        return max(super().finish(start), self._damp.finish(start), frost)

    def start(self, finish: int) -> int:
        frost = self._tender.start(self._safe_by(finish - 1) + 1)
        return min(super().start(finish), self._damp.start(finish), frost)

    def _last_frost(self, day: int) -> int:
        """The last day up to a day on which frost can come."""
        if self._cover.frost is None:
            return day
        return next(min(day, last) for first, last in reversed(_frosts(self._cover.frost, day)) if first <= day)

    def _safe_by(self, day: int) -> int:
        """The last day up to which no later day of frost comes than up to a day."""
        if self._cover.frost is None:
            return day
        following = next(first for first, last in _frosts(self._cover.frost, day) if last > day)
        return max(day, following - 1)


def _frosts(frost: FrostSeason, day: int) -> tuple[tuple[int, int], ...]:
    return _frosts_near(frost, winter_of(datetime.date.fromordinal(day), frost.half))


@lru_cache(maxsize=1024)
def _frosts_near(frost: FrostSeason, winter: int) -> tuple[tuple[int, int], ...]:
    """The spans of days on which frost can come, in the winters about one: from early to late frost, both in."""
    winters = range(winter - 2, winter + 2)
    return tuple((first.toordinal(), last.toordinal()) for first, last in map(frost.span, winters))


def clock(activity: Activity, run: Run, start: int) -> Clock:
    """The time of an activity in a run, in a network that starts on a day."""
    takes, days = activity.takes, days_of(activity, run)
    if isinstance(takes, Work):
        days_nr = max(1, math.ceil(days - DUST_DAYS))
        on = worked(takes.calendar)
        if takes.season is None:
            return WorkClock(on, days_nr)
        return SeasonClock(on, days_nr, takes.season, takes.defers, start)
    if isinstance(takes, Cover):
        damp = WaitClock(0) if takes.damp is None else _waiting(takes.damp, _of_run(takes.damp.days, run))
        return CoverClock(math.ceil(days - DUST_DAYS), takes, damp)
    return _waiting(takes, days)


def _waiting(takes: Wait, days: float) -> WaitClock:
    return WaitClock(math.ceil(days - DUST_DAYS)) if takes.rates is None else RipeningClock(days, takes.rates)


def days_of(activity: Activity, run: Run) -> float:
    """The days that an activity takes in a run: worked, elapsed, or at 20 C."""
    return _of_run(activity.takes.days, run)


def _of_run(days: float | Range[float], run: Run) -> float:
    if not isinstance(days, Range):
        return days
    return {"early": days.low, "likely": days.likely, "late": days.high}[run]
