"""Through a network forward and backward: earliest and latest days, floats, and what set each start.

The two passes of the critical path method, with worked days and elapsed waits: dates are kept, floats are counted
in each activity's own days. Links that gangs make are passed as links of logic are; `frame.before` has the one,
an `Order` the other. Days are ordinals.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Literal, NamedTuple

from generator.programme.clocks import Clock, SeasonClock
from generator.programme.network import Frame, NoDayFor
from generator.values import Struct

FREE: Final = 10**9  # a day that nothing limits
OUT_OF_DAYS: Final = (ValueError, OverflowError)
"""What a clock raises that has no day to tell."""
Kind = Literal["start", "after", "gang", "place", "face", "not-before", "season"]
Links = tuple[tuple[tuple[int, int], ...], ...]


class Passed(Struct, frozen=True):
    """The first and last day of each activity by number, in one direction."""

    starts: list[int]
    finishes: list[int]


class Setting(NamedTuple):
    """What set a start: the kind, the activity if one did, the day it allowed."""

    kind: Kind
    by: int | None
    day: int


def floors_of(frame: Frame, start: int) -> list[int]:
    """The first day that the start and its own date allow each activity."""
    limits = (activity.not_before for activity in frame.network.activities)
    return [start if limit is None else max(start, limit.toordinal()) for limit in limits]


def earliest(floor: int, links: Sequence[tuple[int, int]], finishes: Sequence[int]) -> int:
    """The first day, from a floor on, that all before an activity allow it."""
    day = floor
    for earlier, between in links:
        if finishes[earlier] + between > day:
            day = finishes[earlier] + between
    return day


def forward(
    frame: Frame, clocks: Sequence[Clock], links: Links, sequence: Sequence[int], floors: Sequence[int]
) -> Passed:
    """The earliest start and finish of each activity, none before its floor. Raises `NoDayFor`.

    start = first own day from   max(finish of each before + days between)   on
    """
    starts, finishes = [0] * len(clocks), [0] * len(clocks)
    number = -1
    try:
        for number in sequence:
            own = clocks[number]
            starts[number] = begins = own.begin(earliest(floors[number], links[number], finishes))
            finishes[number] = own.finish(begins)
    except OUT_OF_DAYS as error:
        raise no_day(frame, number, error) from error
    return Passed(starts, finishes)


def backward(
    frame: Frame,
    clocks: Sequence[Clock],
    later: Sequence[Sequence[tuple[int, int]]],
    sequence: Sequence[int],
    limits: Sequence[int],
) -> Passed:
    """The latest start and finish of each activity that keep the limits of all after it; `FREE` where none has one.

        finish = last own day up to   min(start of each after - days between, own limit)

    Raises `NoDayFor`.
    """
    starts, finishes = [FREE] * len(clocks), [FREE] * len(clocks)
    number = -1
    try:
        for number in reversed(sequence):
            day = limits[number]
            for after, between in later[number]:
                if starts[after] < FREE and starts[after] - between < day:
                    day = starts[after] - between
            if day < FREE:
                own = clocks[number]
                finishes[number] = ends = own.end(day)
                starts[number] = own.start(ends)
    except OUT_OF_DAYS as error:
        raise no_day(frame, number, error) from error
    return Passed(starts, finishes)


def put_off(
    frame: Frame, clocks: Sequence[Clock], later: Sequence[Sequence[tuple[int, int]]], sequence: Sequence[int],
    early: Passed,
) -> Passed:  # fmt: skip
    """The earliest days, those of activities that are done late moved to the latest that move nothing after them."""
    starts, finishes = early.starts[:], early.finishes[:]
    activities = frame.network.activities
    for number in reversed(sequence):
        if activities[number].late and later[number]:
            day, own = min(starts[after] - between for after, between in later[number]), clocks[number]
            begins = own.start(own.end(day))
            if begins > starts[number]:
                starts[number], finishes[number] = begins, own.finish(begins)
    return Passed(starts, finishes)


def no_day(frame: Frame, number: int, error: Exception) -> NoDayFor:
    """What is raised where a clock has no day for an activity, which is told by its id."""
    activity = frame.network.activities[number]
    return NoDayFor(f"{activity.id}: {error}", activity.id)


def limited_of(frame: Frame, clocks: Sequence[Clock]) -> tuple[int, ...]:
    """The activities that may have a limit of their own: a last day, or a season."""
    pairs = enumerate(zip(frame.network.activities, clocks, strict=True))
    return tuple(n for n, (activity, own) in pairs if activity.not_after is not None or isinstance(own, SeasonClock))


def own_limits(frame: Frame, clocks: Sequence[Clock], limited: Iterable[int], early: Passed) -> list[int]:
    """The day by which each activity must be finished: its own, and the end of the season it starts in or missed."""
    limits = [FREE] * len(clocks)
    for number in limited:
        activity, own = frame.network.activities[number], clocks[number]
        if activity.not_after is not None:
            limits[number] = activity.not_after.toordinal()
        if isinstance(own, SeasonClock):
            limits[number] = min(limits[number], own.limit(early.starts[number]))
    return limits


def free_float(frame: Frame, number: int, own: Clock, later: Sequence[tuple[int, int]], early: Passed, end: int) -> int:
    """The own days by which an activity may slip without moving the earliest start of any other, or the end."""
    day = min((early.starts[after] - between for after, between in later), default=end)
    try:
        start = own.start(own.end(day))
    except OUT_OF_DAYS as error:
        raise no_day(frame, number, error) from error
    return max(0, own.between(early.starts[number], start))


def settings(
    frame: Frame, clocks: Sequence[Clock], number: int, held: Sequence[tuple[int, Kind]], early: Passed, start: int
) -> tuple[Setting, ...]:
    """What set the start of an activity, the latest first, then what would have set the same day without it.

    `held` is what its gang and its wall did before it. Where equal days meet, logic is told before gangs. A season
    comes first; it names an activity where an earlier finish of that would have reached the season before.
    """
    activity, own = frame.network.activities[number], clocks[number]
    found = [Setting("after", earlier, early.finishes[earlier] + days) for earlier, days in frame.before[number]]
    found += [Setting(kind, earlier, early.finishes[earlier] + 1) for earlier, kind in held]
    if activity.not_before is not None:
        found.append(Setting("not-before", None, activity.not_before.toordinal()))
    found.append(Setting("start", None, start))
    latest = max(setting.day for setting in found)
    begins = early.starts[number]
    binding = [setting for setting in found if setting.day == latest or own.between(setting.day - 1, begins) == 1]
    binding.sort(key=lambda setting: -setting.day)
    if isinstance(own, SeasonClock) and own.any_day(latest) < begins:
        missed = own.closed_before(begins) >= start
        binding.insert(0, Setting("season", binding[0].by if missed else None, begins))
    return tuple(binding)
