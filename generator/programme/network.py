"""A network of activities in time: work, waits, what comes after what, gangs, limits; checked before it is reckoned.

A wait is an activity of its own, so that a programme shows it (the GAO schedule guide, GAO-16-89G, prefers it to
a hidden lag). Whoever builds a network chooses the ids: words or tuples of words.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from typing import Final, Literal

from generator.lime.maturity import LONGEST_NEED_DAYS, LONGEST_WAIT_DAYS, MonthlyRates
from generator.lime.season import Calendar, FrostSeason, PlacingSeason
from generator.values import Range, Struct, field, replace

Id = str | tuple[str, ...]
Run = Literal["early", "likely", "late"]
"""The early run takes the low days of everything, the late run the high."""

LONGEST_DAYS: Final = float(LONGEST_WAIT_DAYS)


class Work(Struct, frozen=True):
    """Work in worked days of a calendar, low to high where they are not sure; a part of a day counts whole, least 1.

    Nothing is broken off half done: days that are not worked lie inside it. With a season (lime placed outside) it
    waits for one that has not opened yet. Where it runs past its season, or misses one that was open on or after the
    start of the network, its dates stand and the season is told as passed, never mended in silence; `defers` says that
    a missed season is to be waited for until it comes back.
    """

    days: float | Range[float]
    calendar: Calendar
    season: PlacingSeason | None = None
    defers: bool = False


class Wait(Struct, frozen=True):
    """Elapsed days, worked or not: what follows may start so many days after what went before was finished.

    The day of finishing is day 0; 0 or 1 is the next worked day. With `rates` the days are days at 20 C, which the
    cold of each month stretches (`maturity`). With a calendar that it is `begun` in, somebody begins it, on a worked
    day.
    """

    days: float | Range[float]
    rates: MonthlyRates | None = None
    begun: Calendar | None = None


class Cover(Struct, frozen=True):
    """Elapsed days under cover: so many against rain, sun and wind, and longer only while frost can still do harm.

    The mortar is open to frost for its tender days (with `rates`, days at 20 C that the cold stretches). Cover stays
    to the last of them on which frost can come; where none can, the days alone count. Without a frost season that is
    known it stays for all of them. It is never lifted before what is under it has been kept `damp`.
    """

    days: float | Range[float]
    tender_days: float
    frost: FrostSeason | None = None
    rates: MonthlyRates | None = None
    damp: Wait | None = None


class Link(Struct, frozen=True):
    """What an activity comes after, and elapsed days between that no activity of their own shows."""

    after: Id
    wait_days: int = 0


class Activity(Struct, frozen=True):
    """One thing that takes time.

    `gang`: the trade whose gang does it, `""` where nobody is waited for; `place`: the wall, on which a trade has one
    gang at a time and which decides in which order gangs go; `face`: what walls one above another share, of which one
    is worked on at a time, and `storey` how many of them are below; `tags`: what it counts for, such as the access of a
    wall; `late`: it is told for the latest days that move nothing after it; `stays`: its gang goes nowhere else before
    it has done what comes next on the wall, where that follows soon; `at_once`: no wait for spring holds it back.
    """

    id: Id
    takes: Work | Wait | Cover
    after: tuple[Link, ...] = ()
    gang: str = ""
    place: Id = ""
    tags: tuple[Id, ...] = ()
    not_before: datetime.date | None = None
    not_after: datetime.date | None = None
    late: bool = False
    stays: bool = False
    at_once: bool = False
    face: Id = ""
    storey: int = 0


class Network(Struct, frozen=True):
    """Activities as given, which settles ties, and how many gangs each trade has: one where nothing is said."""

    activities: tuple[Activity, ...]
    gangs: Mapping[str, int] = field(default_factory=dict)


class NetworkError(ValueError):
    """A network that cannot be reckoned; `ids` are the activities at fault."""

    def __init__(self, told: str, *ids: Id) -> None:
        self.ids = ids
        super().__init__(told)


class RepeatedId(NetworkError):
    """Two activities with one id."""


class UnknownActivity(NetworkError):
    """An activity that comes after one that is not there: its id, then the id that is missing."""


class Circle(NetworkError):
    """Activities each of which comes after the one before it, round to the first."""


class NoGang(NetworkError):
    """Activities of a trade that has no gang."""


class WaitWithGang(NetworkError):
    """A wait that would keep a gang: only work does."""


class DaysOutOfReach(NetworkError):
    """Days below 0 or above ten years, or a ripening above a year at 20 C."""


class NoDayFor(NetworkError):
    """An activity for which the calendar, the season or the cold leaves no day within ten years."""


class Frame(Struct, frozen=True):
    """A checked network by number: what each activity comes after and before with the days between, and in what order;
    and which activities bear each tag.

    Between two works lies at least one day: the next starts on the day after. A wait begins on the day on which what
    went before was finished, and its own finish is the day on which the next may start.
    """

    network: Network
    number: Mapping[Id, int]
    before: tuple[tuple[tuple[int, int], ...], ...]
    after: Sequence[Sequence[tuple[int, int]]]
    sequence: tuple[int, ...]
    tagged: Mapping[Id, Sequence[Id]]


def framed(network: Network) -> Frame:
    """A network by number. Raises a `NetworkError` where it has a repeated or missing id, a circle, no gang for a
    trade, or days out of reach.
    """
    number: dict[Id, int] = {}
    tagged: dict[Id, list[Id]] = {}
    for activity in network.activities:
        if activity.id in number:
            raise RepeatedId(f"two activities are {activity.id}", activity.id)
        number[activity.id] = len(number)
        _check(activity, network.gangs)
        for tag in activity.tags:
            tagged.setdefault(tag, []).append(activity.id)
    before = tuple(_before(activity, number, network.activities) for activity in network.activities)
    after = successors(before)
    return Frame(network, number, before, after, _sequence(network, before, after), tagged)


def reframed(frame: Frame, network: Network) -> Frame:
    """The frame of a network that has the same activities and links, with other days, seasons or gangs.

    Raises a `NetworkError` as `framed` does.
    """
    same_gangs = network.gangs is frame.network.gangs
    for new, old in zip(network.activities, frame.network.activities, strict=True):
        if new is not old:
            _check(new, network.gangs)
        elif not same_gangs:
            _check_gang(new, network.gangs)
    return replace(frame, network=network)


def _check(activity: Activity, gangs: Mapping[str, int]) -> None:
    if activity.gang and not isinstance(activity.takes, Work):
        raise WaitWithGang(f"{activity.id} is a wait and keeps a gang of {activity.gang}", activity.id)
    _check_gang(activity, gangs)
    ripens = isinstance(activity.takes, Wait) and activity.takes.rates is not None
    longest = LONGEST_NEED_DAYS if ripens else LONGEST_DAYS
    days = activity.takes.days
    ends = (days.low, days.high) if isinstance(days, Range) else (days,)
    lags = [link.wait_days for link in activity.after]
    if isinstance(activity.takes, Cover) and not 0 <= activity.takes.tender_days <= LONGEST_NEED_DAYS:
        raise DaysOutOfReach(f"{activity.id} is open to frost for days outside 0 to {LONGEST_NEED_DAYS:g}", activity.id)
    if not all(0 <= end <= longest for end in ends) or not all(0 <= lag <= LONGEST_DAYS for lag in lags):
        raise DaysOutOfReach(f"{activity.id} takes or waits for days outside 0 to {longest:g}", activity.id)


def _check_gang(activity: Activity, gangs: Mapping[str, int]) -> None:
    if activity.gang and gangs.get(activity.gang, 1) < 1:
        raise NoGang(f"{activity.id} has no gang of {activity.gang}", activity.id)


def _before(
    activity: Activity, number: Mapping[Id, int], activities: tuple[Activity, ...]
) -> tuple[tuple[int, int], ...]:
    links: list[tuple[int, int]] = []
    for link in activity.after:
        if link.after not in number:
            told = f"{activity.id} comes after {link.after}, which is not there"
            raise UnknownActivity(told, activity.id, link.after)
        earlier = activities[number[link.after]]
        least = int(isinstance(earlier.takes, Work) and isinstance(activity.takes, Work))
        links.append((number[link.after], max(least, link.wait_days)))
    return tuple(links)


def _sequence(
    network: Network, before: tuple[tuple[tuple[int, int], ...], ...], after: Sequence[Sequence[tuple[int, int]]]
) -> tuple[int, ...]:
    """The activities so that each comes after all that it waits for, otherwise as given."""
    waits_for = [len(links) for links in before]
    found = [number for number, count in enumerate(waits_for) if count == 0]
    for number in found:
        for later, _ in after[number]:
            waits_for[later] -= 1
            if waits_for[later] == 0:
                found.append(later)
    if len(found) < len(before):
        ids = tuple(network.activities[number].id for number in _circle(before, waits_for))
        raise Circle(f"activities wait for one another in a circle: {', '.join(map(str, ids))}", *ids)
    return tuple(found)


def successors(before: Sequence[Sequence[tuple[int, int]]]) -> list[list[tuple[int, int]]]:
    """What comes after each activity, with the days between."""
    after: list[list[tuple[int, int]]] = [[] for _ in before]
    for number, links in enumerate(before):
        for earlier, days in links:
            after[earlier].append((number, days))
    return after


def _circle(before: tuple[tuple[tuple[int, int], ...], ...], waits_for: list[int]) -> list[int]:
    """One circle among the activities that still wait, in the order in which they would be done."""
    walked: list[int] = [next(number for number, count in enumerate(waits_for) if count)]
    while True:
        earlier = next(number for number, _ in before[walked[-1]] if waits_for[number])
        if earlier in walked:
            return walked[walked.index(earlier) :][::-1]
        walked.append(earlier)
