"""Walls whose lime waits for spring: nothing is begun on them in autumn that would stand open through the winter."""

from __future__ import annotations

import datetime
from collections.abc import Container, Iterable, Mapping
from typing import Final

from generator.lime.season import DAY, FrostSeason, PlacingSeason, winter_of
from generator.programme.gangs import with_later
from generator.programme.network import Activity, Id, Network, Work, reframed
from generator.programme.schedule import Held, Schedule, Short, Timetable, schedule
from generator.values import Struct, field, replace

LONG_WAIT_DAYS: Final = 28
"""What waits no longer than so for its season is made ready before it: scaffold, panels' places, raking."""
MOST_ROUNDS: Final = 4
"""What waits for spring moves what follows it, which may then run past its own season: looked at so often."""


def frost_within(frost: FrostSeason, first: datetime.date, last: datetime.date) -> datetime.date | None:
    """The first day within two on which frost can come; None where none can."""
    for winter in range(winter_of(first, frost.half) - 1, winter_of(last, frost.half) + 1):
        begins, ends = frost.span(winter)
        if begins <= last and ends >= first:
            return max(begins, first)
    return None


def over_winter(planned: Schedule) -> dict[str, int]:
    """The days by which work on each wall can begin later, because what is laid on it first waits for spring."""
    first: dict[str, tuple[datetime.date, int]] = {}
    for activity in planned.network.activities:
        takes = activity.takes
        if isinstance(takes, Work) and takes.season is not None:
            wall, laid = str(activity.place), planned.dates.start(activity.id)
            if wall not in first or laid < first[wall][0]:
                first[wall] = laid, _slack(activity, takes.season, planned)
    return {wall: days for wall, (_, days) in first.items() if days > LONG_WAIT_DAYS}


def _slack(activity: Activity, season: PlacingSeason, planned: Schedule) -> int:
    """The days for which a laying of lime waits after its own wall is ready, where a winter lies among them."""
    own = (link.after for link in activity.after if link.after[0] == activity.id[0])
    laid = planned.dates.start(activity.id)
    ready = max((planned.dates.early(id)[1] for id in own), default=laid)
    return (laid - ready).days if frost_within(season.frost, ready, laid) else 0


def held_back(network: Network, dates: Timetable, days: dict[str, int]) -> Network:
    """The network with the first tasks of some walls not begun before so many days later."""
    return replace(network, activities=tuple(_held(activity, dates, days) for activity in network.activities))


def _held(activity: Activity, dates: Timetable, days: dict[str, int]) -> Activity:
    if not _begins(activity, days):
        return activity
    return replace(activity, not_before=dates.early(activity.id)[0] + days[str(activity.place)] * DAY)


def _begins(activity: Activity, walls: Container[str]) -> bool:
    """Whether it is among the first that is done on one of these walls."""
    first = not any(link.after[0] == activity.id[0] for link in activity.after)
    return first and not activity.at_once and str(activity.place) in walls


def held_to_spring(late: Schedule) -> tuple[Schedule, Stopped]:
    """A late run whose lime, where it would run past its season, waits for the next; and what is stopped so.

    What would be begun in its season and not end in it waits whole. Walls on which nothing is laid before that are not
    begun either. Gangs go on meanwhile, in their order, with what can be done. Raises a `NetworkError`.
    """
    passed: dict[Id, Short] = {}
    waited: set[str] = set()
    planned = late
    for _ in range(MOST_ROUNDS):
        new = {short.id: short for short in planned.short if short.kind == "season" and short.id not in passed}
        waiting = {wall: days for wall, days in over_winter(planned).items() if passed and wall not in waited}
        if not new and not waiting:
            break
        passed |= new
        waited |= waiting.keys()
        activities = tuple(_deferred(each, new) for each in planned.network.activities)
        network = held_back(replace(planned.network, activities=activities), planned.dates, waiting)
        frame = reframed(late.frame, network)
        put_off = {n for n, each in enumerate(network.activities) if each.id in passed or _begins(each, waited)}
        held = Held.of(frame, late.held.order.putting_last(frame, put_off))
        planned = schedule(network, late.start, late.completion, late.run, held, frame)
    return planned, _stopped(late, passed, waited)


def _deferred(activity: Activity, passed: Mapping[Id, Short]) -> Activity:
    """An activity that waits for its season where it missed one, and that does not begin in the one it passed."""
    takes, short = activity.takes, passed.get(activity.id)
    if not passed or not isinstance(takes, Work) or takes.season is None:
        return activity
    opens = None if short is None else takes.season.opens(short.limit + DAY)
    days = [day for day in (activity.not_before, opens) if day is not None]
    return replace(activity, takes=replace(takes, defers=True), not_before=max(days, default=None))


class Stopped(Struct, frozen=True):
    """What the seasons stop in a late run: the lime that comes after no other that is stopped, and the walls put off.

    `walls` are those that lime is stopped on and those that come after it, each with the day on which it is stopped.
    """

    first: tuple[Short, ...] = ()
    walls: Mapping[Id, datetime.date] = field(default_factory=dict)


def _stopped(late: Schedule, passed: Mapping[Id, Short], waited: Iterable[str]) -> Stopped:
    frame, seen = late.frame, set[int]()
    first: list[Short] = []
    walls: dict[Id, datetime.date] = {}
    for number in frame.sequence:
        short = passed.get(frame.network.activities[number].id)
        if short is None or number in seen:
            continue
        first.append(short)
        put_off = with_later(frame, {number})
        seen |= put_off
        for place in dict.fromkeys(frame.network.activities[each].place for each in put_off):
            walls[place] = min(walls.get(place, short.limit), short.limit)
    stopped = min((short.limit for short in first), default=late.end)
    return Stopped(tuple(first), {**walls, **{wall: stopped for wall in waited if wall not in walls}})
