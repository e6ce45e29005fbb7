"""A network in time: the dates of each activity, its floats, what set its start, and what decides the end."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import itemgetter
from typing import Literal

from generator.programme import passes
from generator.programme.calendar import WEEK_DAYS
from generator.programme.clocks import Clock, KeptClock, SeasonClock, clocks_of
from generator.programme.gangs import Crews, Dispatch, Order, Ranks, crews_of, ranks, stacks_otherwise, ways
from generator.programme.network import Frame, Id, Network, NetworkError, Run, Work, framed
from generator.programme.passes import FREE, Kind, Passed
from generator.values import Struct, replace

Limit = Literal["not-after", "season", "completion"]


class Cause(Struct, frozen=True):
    """What set a start: its kind, the activity that did (or that missed an earlier season), the day it allowed."""

    kind: Kind
    by: Id | None
    day: datetime.date


class Dates(Struct, frozen=True):
    """One activity in time.

    A wait begins on the day on which what went before was finished and is finished on the day on which the next may
    start. Floats are in its own days (worked or elapsed); below 0 it is so many days late. `causes`: what set the
    early start, then what would have set it in its stead.
    """

    early_start: datetime.date
    early_finish: datetime.date
    late_start: datetime.date
    late_finish: datetime.date
    total_float_days: int
    free_float_days: int
    causes: tuple[Cause, ...]


class Short(Struct, frozen=True):
    """A limit that is passed: by which activity, of which kind, by how many elapsed and how many own days."""

    id: Id
    kind: Limit
    limit: datetime.date
    finish: datetime.date
    days: int
    own_days: int


class Stay(Struct, frozen=True):
    """From the first start to the last finish of what bears a tag, both in: how long a scaffold stands.

    `up` is the day on which what begins first is finished: till then it is being put up.
    """

    first: datetime.date
    up: datetime.date
    last: datetime.date

    @property
    def days(self) -> int:
        """Elapsed days, both ends counted."""
        return (self.last - self.first).days + 1

    @property
    def weeks(self) -> int:
        """Weeks of hire begun, one at the least: counted from the day after it is up."""
        return max(1, math.ceil((self.last - self.up).days / WEEK_DAYS))


@dataclass(frozen=True, slots=True)
class Held:
    """The order of gangs that a schedule came of: ids in the order reckoned, and the links of gangs and walls.

    `order` is the same by number, for networks with the links of the `frame` it was made of.
    """

    sequence: tuple[Id, ...]
    links: tuple[tuple[Id, Id, Kind], ...]
    order: Order = field(repr=False, compare=False)
    frame: Frame = field(repr=False, compare=False)

    @classmethod
    def of(cls, frame: Frame, order: Order) -> Held:
        """An order by the ids of its activities."""
        ids = [activity.id for activity in frame.network.activities]
        links = tuple((ids[earlier], ids[later], kind) for earlier, later, kind in order.made)
        return cls(tuple(ids[number] for number in order.sequence), links, order, frame)


class _Job(Struct, frozen=True):
    """What every pass needs: the network by number, its clocks, the start and the completion as ordinals.

    `floors` are the first days that the start and their own dates allow the activities, `limited` those of them that
    may have a limit of their own.
    """

    frame: Frame
    clocks: Sequence[Clock]
    start: int
    completion: int
    floors: Sequence[int]
    limited: Sequence[int]

    @classmethod
    def of(
        cls,
        network: Network,
        start: datetime.date,
        completion: datetime.date | None,
        run: Run,
        known: Frame | None = None,
    ) -> _Job:
        if not network.activities:
            raise NetworkError("a network without activities")
        frame = framed(network) if known is None else known
        base = start.toordinal()
        clocks = clocks_of(network.activities, run, base)
        last = FREE if completion is None else completion.toordinal()
        return cls(frame, clocks, base, last, passes.floors_of(frame, base), passes.limited_of(frame, clocks))

    def early(self, order: Order) -> Passed:
        """Forward from the start."""
        return passes.forward(self.frame, self.clocks, order.before, order.sequence, self.floors)

    def late(self, order: Order, early: Passed, end: int) -> Passed:
        """Back from an end, from each limit and from the completion."""
        own = passes.own_limits(self.frame, self.clocks, self.limited, early)
        limits = [min(limit, end, self.completion) for limit in own]
        return passes.backward(self.frame, self.clocks, order.after, order.sequence, limits)

    def last(self, order: Order, early: Passed) -> int:
        """The activity that ends last, nothing after it; the first given of several."""
        end = max(early.finishes)
        return next(n for n, finish in enumerate(early.finishes) if finish == end and not order.after[n])

    def begins(self, early: Passed) -> int:
        """The first day of any work; the start where nothing but waits is there."""
        works = (n for n, activity in enumerate(self.frame.network.activities) if isinstance(activity.takes, Work))
        return min((early.starts[n] for n in works), default=self.start)

    def shorts(self, order: Order, early: Passed) -> Iterator[tuple[int, Limit, int]]:
        """Each limit that is passed: the activity, the kind, the limit."""
        for number in self.limited:
            activity, finish, own = self.frame.network.activities[number], early.finishes[number], self.clocks[number]
            if activity.not_after is not None and finish > activity.not_after.toordinal():
                yield number, "not-after", activity.not_after.toordinal()
            if isinstance(own, SeasonClock) and finish > own.limit(early.starts[number]):
                yield number, "season", own.limit(early.starts[number])
        last = self.last(order, early)
        if early.finishes[last] > self.completion:
            yield last, "completion", self.completion


class Timetable(Mapping[Id, Dates]):
    """The dates of each activity. Latest days, floats and causes are reckoned when they are first asked for.

    `start` and `finish` are those that readers are told: of what is done late, the latest that move nothing after it.
    """

    def __init__(self, job: _Job, order: Order, early: Passed, end: int) -> None:
        self._job, self._order, self._early, self._end = job, order, early, end
        self._put_off: Passed | None = None
        self._late: Passed | None = None
        self._made: dict[Id, Dates] = {}
        self._held: list[list[tuple[int, Kind]]] = []

    def __iter__(self) -> Iterator[Id]:
        return iter(self._job.frame.number)

    def __len__(self) -> int:
        return len(self._job.frame.number)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Mapping) and dict(self) == dict(other)

    __hash__ = None  # type: ignore[assignment]

    @property
    def reckoned(self) -> tuple[_Job, Order, Passed]:
        """What the dates are told from: the job by number, the order of its gangs, its earliest days."""
        return self._job, self._order, self._early

    def start(self, id: Id) -> datetime.date:
        """The start of an activity as it is told."""
        return _date(self._told.starts[self._job.frame.number[id]])

    def finish(self, id: Id) -> datetime.date:
        """The finish of an activity as it is told."""
        return _date(self._told.finishes[self._job.frame.number[id]])

    @property
    def _told(self) -> Passed:
        if self._put_off is None:
            job, order = self._job, self._order
            self._put_off = passes.put_off(job.frame, job.clocks, order.after, order.sequence, self._early)
        return self._put_off

    def early(self, id: Id) -> tuple[datetime.date, datetime.date]:
        """The early start and finish of an activity, whether it is told later or not."""
        n = self._job.frame.number[id]
        return _date(self._early.starts[n]), _date(self._early.finishes[n])

    def late(self, id: Id) -> tuple[datetime.date, datetime.date, int]:
        """The late start and finish of an activity, and its total float in its own days."""
        n, late = self._job.frame.number[id], self._back()
        spare = self._job.clocks[n].between(self._told.starts[n], late.starts[n])
        return _date(late.starts[n]), _date(late.finishes[n]), spare

    def _back(self) -> Passed:
        if self._late is None:
            self._late = self._job.late(self._order, self._early, self._end)
        return self._late

    def __getitem__(self, id: Id) -> Dates:
        if id not in self._made:
            self._made[id] = self._dates(self._job.frame.number[id])
        return self._made[id]

    def _dates(self, n: int) -> Dates:
        job, early, late = self._job, self._early, self._back()
        own = job.clocks[n]
        return Dates(
            _date(early.starts[n]),
            _date(early.finishes[n]),
            _date(late.starts[n]),
            _date(late.finishes[n]),
            own.between(early.starts[n], late.starts[n]),
            passes.free_float(job.frame, n, own, self._order.after[n], early, self._end),
            tuple(self._causes(n)),
        )

    def _causes(self, n: int) -> Iterator[Cause]:
        activities = self._job.frame.network.activities
        if not self._held:
            self._held = [[] for _ in self._job.clocks]
            for earlier, number, kind in self._order.made:
                self._held[number].append((earlier, kind))
        held = self._held[n]
        for setting in passes.settings(self._job.frame, self._job.clocks, n, held, self._early, self._job.start):
            yield Cause(setting.kind, None if setting.by is None else activities[setting.by].id, _date(setting.day))


@dataclass(frozen=True, slots=True)
class Schedule:
    """A network in time, from a start on. `end` is the last finish of all, that of the activity `last`.

    `begins` is the first day on which anything is done; waits that nothing comes before begin at the start.
    """

    network: Network
    start: datetime.date
    completion: datetime.date | None
    run: Run
    held: Held
    dates: Timetable
    last: Id
    end: datetime.date
    begins: datetime.date
    short: tuple[Short, ...]
    frame: Frame = field(repr=False, compare=False)

    @property
    def short_days(self) -> int:
        """The elapsed days by which limits are passed, together; 0 where all hold."""
        return sum(short.days for short in self.short)

    def chain(self, to: Id | None = None) -> tuple[tuple[Id, Cause], ...]:
        """What decides the end, or the start of an activity: from the first on, each with what set its start.

        Found back along what set each start, never by float 0: a wait that ends at a weekend leaves float in it.
        """
        walked: list[tuple[Id, Cause]] = []
        here: Id | None = self.last if to is None else to
        while here is not None:
            cause = self.dates[here].causes[0]
            walked.append((here, cause))
            here = cause.by
        return tuple(reversed(walked))

    def stay(self, tag: Id) -> Stay | None:
        """How long what bears a tag lasts; None where nothing bears it."""
        tagged = self.frame.tagged.get(tag)
        if tagged is None:
            return None
        first = min(tagged, key=lambda id: (self.dates.start(id), self.dates.finish(id)))
        return Stay(self.dates.start(first), self.dates.finish(first), max(map(self.dates.finish, tagged)))


def schedule(
    network: Network,
    start: datetime.date,
    completion: datetime.date | None = None,
    run: Run = "likely",
    held: Held | None = None,
    frame: Frame | None = None,
    further: str = "",
) -> Schedule:
    """A network in time. With `held` the gangs keep that order; otherwise they take the most pressing wall first.

    Latest days are counted back from the end (the completion, if that is earlier), from each `not_after`, and from
    the end of the season in which a work starts. A `frame` of the same activities and links need not be made again.
    Of a trade named as `further` all gangs are used: whoever asks knows what fewer come to.
    Raises a `NetworkError` where it cannot be reckoned.
    """
    job = _Job.of(network, start, completion, run, frame)
    order = _chosen(job, further) if held is None else _order(job.frame, held)
    early = job.early(order)
    end = max(early.finishes)
    ids = [activity.id for activity in network.activities]
    return Schedule(
        network,
        start,
        completion,
        run,
        Held.of(job.frame, order) if held is None else held,
        Timetable(job, order, early, end),
        ids[job.last(order, early)],
        _date(end),
        _date(job.begins(early)),
        tuple(
            Short(ids[n], kind, _date(limit), _date(early.finishes[n]), early.finishes[n] - limit,
                  job.clocks[n].between(limit, early.finishes[n]))
            for n, kind, limit in job.shorts(order, early)
        ),
        job.frame,
    )  # fmt: skip


class LastDates(Struct, frozen=True):
    """The last start and finish of activities that keep every limit, and those that keep all but the completion."""

    start: datetime.date
    begins: datetime.date
    completion: datetime.date | None
    of_all: Mapping[Id, tuple[datetime.date, datetime.date]]
    but_completion: Mapping[Id, tuple[datetime.date, datetime.date]]


def last_dates(planned: Schedule) -> LastDates:
    """By when each activity is started and finished to keep every limit: its own, those after it, the completion.

    Back from the limits alone, whatever the start; nothing for an activity that no limit holds. A season's limit is
    the end of the season in which the schedule has the work, or that it missed. In the schedule's order of gangs, so
    that all last starts can be kept together; in a warmer month, which a later start reaches, no coat is counted as
    ripe in fewer days than the papers print for it. Raises a `NetworkError`.
    """
    job, order, early = planned.dates.reckoned
    planned_days = zip(planned.network.activities, job.clocks, early.starts, early.finishes, strict=True)
    kept = [
        own if isinstance(activity.takes, Work) else KeptClock(own, finish - start)
        for activity, own, start, finish in planned_days
    ]
    bound, free = replace(job, clocks=kept), replace(job, clocks=kept, completion=FREE)
    found = [_by(each, each.late(order, early, FREE)) for each in ([bound, free] if job.completion < FREE else [free])]
    return LastDates(planned.start, planned.begins, planned.completion, found[0], found[-1])


def _by(job: _Job, late: Passed) -> dict[Id, tuple[datetime.date, datetime.date]]:
    known = ((id, n) for id, n in job.frame.number.items() if late.starts[n] < FREE)
    return {id: (_date(late.starts[n]), _date(late.finishes[n])) for id, n in known}


def _chosen(job: _Job, further: str = "") -> Order:
    """The order by the most pressing wall, with these gangs or with fewer: the one least short, then first done.

    A wall is pressing by its latest start that moves no end; where that passes limits, by the one that keeps limits.
    Walls one above another go from the top down; where that passes limits, otherwise if that passes fewer.
    """
    plain = Order.of(job.frame, job.frame.sequence)
    crews = crews_of(job.frame)
    if not crews.gangs:
        return plain
    early = job.early(plain)
    soonest = max(early.finishes)
    lates = job.late(plain, early, soonest), job.late(plain, early, FREE)
    best = _best(job, crews, lates, soonest, further)
    for otherwise in stacks_otherwise(crews):
        if not best[0][0]:
            break
        best = min(best, _best(job, otherwise, lates, soonest, further), key=itemgetter(0))
    return best[1]


_Found = tuple[tuple[int, int], Order]
"""An order, with the days that it is short and its end."""


def _best(job: _Job, crews: Crews, lates: tuple[Passed, Passed], soonest: int, further: str) -> _Found:
    """The best order with these gangs or with fewer, each stack in one order of walls; none ends before `soonest`."""
    by_end, by_limits = ranks(crews, lates[0]), None
    best: _Found | None = None
    for way in ways(crews.gangs, len(job.clocks)):
        if way.get(further) != crews.gangs.get(further):
            continue
        tried = list(_tried(job, crews, way, by_end))
        if tried[0][0][0]:
            by_limits = by_limits or ranks(crews, lates[1], lates[0])
            tried += _tried(job, crews, way, by_limits)
        best = min([best, *tried] if best else tried, key=itemgetter(0))
        if best[0] == (0, soonest):  # nothing ends before it does without waiting for any gang
            break
    assert best is not None
    return best


def _tried(job: _Job, crews: Crews, way: Mapping[str, int], rank: Ranks) -> Iterator[_Found]:
    """An order that comes of ranks.

    Where gangs wait in it for a wall left open, and a limit is passed, the order without such waits if it passes none.
    """
    for waits in (True, False):
        dispatch = Dispatch(job.frame, job.clocks, job.floors, crews, way, waits)
        order, early = dispatch.run(rank), dispatch.early
        short = sum(early.finishes[n] - limit for n, _, limit in job.shorts(order, early))
        if waits or not short:
            yield (short, max(early.finishes)), order
        if not (short and dispatch.waited):
            return


def _order(frame: Frame, held: Held) -> Order:
    """A held order by number. Raises `NetworkError` where it is the order of other activities."""
    if frame.before is held.frame.before:
        return held.order
    place = {id: nr for nr, id in enumerate(held.sequence)}
    if place.keys() != frame.number.keys():
        raise NetworkError("a held order of other activities")
    activities = frame.network.activities
    for number, links in enumerate(frame.before):
        for earlier, _ in links:
            if place[activities[earlier].id] > place[activities[number].id]:
                raise NetworkError("a held order of other links", activities[number].id)
    made = [(frame.number[earlier], frame.number[later], kind) for earlier, later, kind in held.links]
    return Order.of(frame, [frame.number[id] for id in held.sequence], made)


def _date(day: int) -> datetime.date:
    return datetime.date.fromordinal(day)
