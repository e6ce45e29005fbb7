"""How each activity passes through the days: when it may begin, when it is finished, and the same turned round.

Days are ordinals (`date.toordinal`). Every step is monotone: a later day in never gives an earlier day out. On this
rests that a longer wait never ends a programme earlier while its order holds.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
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

    __slots__ = ("begin", "between", "end", "finish", "start")

    def __init__(self, days: Worked, days_nr: int) -> None:
        self.begin, self.end = days.ahead(1), days.back(1)
        self.finish, self.start = days.ahead(days_nr), days.back(days_nr)
        self.between = days.between


class SeasonClock:
    """Worked days held against a season: from a start on, work waits for a season that has not opened yet.

    A season that closed after the start was missed: the work then starts outside it, and is told as late, unless it
    `defers` to the next.
    """

    __slots__ = ("_last_day", "_since", "_windows", "any_day", "between", "finish", "start")

    def __init__(self, days: Worked, days_nr: int, season: PlacingSeason, defers: bool, start: int) -> None:
        self.any_day = days.ahead(1)
        """The first worked day from a day on, safe or not."""
        self._last_day = days.back(1)
        self.finish, self.start = days.ahead(days_nr), days.back(days_nr)
        self.between = days.between
        self._windows = _windows_of(season)
        self._since = LAST_DAY if defers else start

    def begin(self, day: int) -> int:
        found = self.any_day(day)
        while found - day < SEARCH_DAYS:
            opens = next((first for first, last in self._windows(found) if last >= found), None)
            if opens is None:
                break
            if opens <= found or self.closed_before(found) >= self._since:
                return found
            found = self.any_day(opens)
        raise NoWorkedDay(day, 1)

    def end(self, day: int) -> int:
        found = self._last_day(day)
        while day - found < SEARCH_DAYS:
            closes = next((last for first, last in reversed(self._windows(found)) if first <= found), None)
            if closes is None:
                break
            if closes >= found:
                return found
            found = self._last_day(closes)
        raise NoWorkedDay(day, 1)

    def limit(self, start: int) -> int:
        """The last day of the season in which a start lies, or of the one that it missed."""
        return max(last for first, last in self._windows(start) if first <= start)

    def closed_before(self, day: int) -> int:
        """The last safe day before a day, 0 where there was none."""
        return max((last for _, last in self._windows(day) if last < day), default=0)


Spans = tuple[tuple[int, int], ...]


# what is asked of a season, of a ripening and of frost is kept with it: a large job asks for the same days of a few
@lru_cache(maxsize=256)
def _windows_of(season: PlacingSeason) -> Callable[[int], Spans]:
    """What tells the safe windows near a day, in order."""

    @cache
    def near(winter: int) -> Spans:
        spans = (season.window(year) for year in range(winter - 1, winter + 3))
        return tuple((span[0].toordinal(), span[1].toordinal()) for span in spans if span is not None)

    return cache(lambda day: near(winter_of(datetime.date.fromordinal(day), season.frost.half)))


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


class BegunClock(WaitClock):
    """Elapsed days from what somebody does on a worked day: mortar is made, and rests."""

    __slots__ = ("_first_day", "_last_day")

    def __init__(self, days_nr: int, days: Worked) -> None:
        super().__init__(days_nr)
        self._first_day, self._last_day = days.ahead(1), days.back(1)

    def begin(self, day: int) -> int:
        return self._first_day(day)

    def start(self, finish: int) -> int:
        return self._last_day(super().start(finish))


class KeptClock:
    """The time of a wait that is counted back at no fewer days than it took when it was planned."""

    __slots__ = ("_own", "begin", "between", "end", "finish")

    def __init__(self, own: Clock, days_nr: int) -> None:
        self._own = own, days_nr
        self.begin, self.end, self.finish, self.between = own.begin, own.end, own.finish, own.between

    def start(self, finish: int) -> int:
        own, days_nr = self._own
        return min(own.start(finish), finish - days_nr)


class RipeningClock(WaitClock):
    """Days at 20 C, stretched by the cold of each month."""

    __slots__ = ("_matures", "_placed")

    def __init__(self, days_at_20_c: float, rates: MonthlyRates) -> None:
        super().__init__(1)
        self._matures, self._placed = _ripening(days_at_20_c, rates)

    def finish(self, start: int) -> int:
        return self._over(start, max(1, self._matures(start)))

    def start(self, finish: int) -> int:
        return min(finish - 1, self._placed(finish))


@lru_cache(maxsize=256)
def _ripening(days_at_20_c: float, rates: MonthlyRates) -> tuple[Callable[[int], int], Callable[[int], int]]:
    """What tells the days until what is placed on a day is ripe, and the latest placing that is ripe by a day."""

    def placed(by: int) -> int:
        return latest_placing(days_at_20_c, datetime.date.fromordinal(by), rates).toordinal()

    return cache(lambda day: days_to_mature(days_at_20_c, datetime.date.fromordinal(day), rates)), cache(placed)


class CoverClock(WaitClock):
    """Elapsed days under cover, and longer to the last of the tender days on which frost can come.

        finish = max(start + days, end of the damp days, day after the last day of frost before   start + tender days)

    So what is placed by the last safe day of its season needs no cover against frost. Monotone, for the last day of
    frost before a day is.
    """

    __slots__ = ("_damp", "_frosts", "_tender")

    def __init__(self, days_nr: int, cover: Cover, damp: WaitClock) -> None:
        super().__init__(days_nr)
        self._damp = damp
        self._frosts = None if cover.frost is None else _frosts_of(cover.frost)
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
        if self._frosts is None:
            return day
        return next(min(day, last) for first, last in reversed(self._frosts(day)) if first <= day)

    def _safe_by(self, day: int) -> int:
        """The last day up to which no later day of frost comes than up to a day."""
        if self._frosts is None:
            return day
        following = next(first for first, last in self._frosts(day) if last > day)
        return max(day, following - 1)


@lru_cache(maxsize=256)
def _frosts_of(frost: FrostSeason) -> Callable[[int], Spans]:
    """What tells the spans on which frost can come in the winters about a day: from early to late frost, both in."""

    @cache
    def near(winter: int) -> Spans:
        winters = range(winter - 2, winter + 2)
        return tuple((first.toordinal(), last.toordinal()) for first, last in map(frost.span, winters))

    return cache(lambda day: near(winter_of(datetime.date.fromordinal(day), frost.half)))


def clocks_of(activities: Iterable[Activity], run: Run, start: int) -> list[Clock]:
    """The time of each activity in a run, in a network that starts on a day; those that take the same share theirs."""
    known: dict[int, Clock] = {}
    found = []
    for activity in activities:
        key = id(activity.takes)  # no other's while the activities stand
        if key not in known:
            known[key] = clock(activity.takes, run, start)
        found.append(known[key])
    return found


def clock(takes: Work | Wait | Cover, run: Run, start: int) -> Clock:
    """The time of what is done in a run, in a network that starts on a day."""
    days = _of_run(takes.days, run)
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
    if takes.rates is not None:
        return RipeningClock(days, takes.rates)
    days_nr = math.ceil(days - DUST_DAYS)
    return WaitClock(days_nr) if takes.begun is None else BegunClock(days_nr, worked(takes.begun))


def days_of(activity: Activity, run: Run) -> float:
    """The days that an activity takes in a run: worked, elapsed, or at 20 C."""
    return _of_run(activity.takes.days, run)


def _of_run(days: float | Range[float], run: Run) -> float:
    if not isinstance(days, Range):
        return days
    return {"early": days.low, "likely": days.likely, "late": days.high}[run]
