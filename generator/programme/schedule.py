"""A network in time: the dates of each activity, its floats, what set its start, and what decides the end."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from operator import itemgetter
from typing import Literal

from generator.programme import passes
from generator.programme.clocks import Clock, SeasonClock, clock
from generator.programme.gangs import Dispatch, Order, Rank, gangs_of, ranks, ways
from generator.programme.network import Frame, Id, Network, NetworkError, Run, framed
from generator.programme.passes import FREE, Kind, Passed

Limit = Literal["not-after", "season", "completion"]


@dataclass(frozen=True, slots=True)
class Cause:
    """What set a start: its kind, the activity that did (or that missed an earlier season), the day it allowed."""

    kind: Kind
    by: Id | None
    day: datetime.date


@dataclass(frozen=True, slots=True)
class Dates:
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


@dataclass(frozen=True, slots=True)
class Short:
    """A limit that is passed: by which activity, of which kind, by how many elapsed and how many own days."""

    id: Id
    kind: Limit
    limit: datetime.date
    finish: datetime.date
    days: int
    own_days: int


@dataclass(frozen=True, slots=True)
class Stay:
    """From the first start to the last finish of what bears a tag, both in: how long a scaffold stands."""

    first: datetime.date
    last: datetime.date

    @property
    def days(self) -> int:
        """Elapsed days, both ends counted."""
        return (self.last - self.first).days + 1


@dataclass(frozen=True, slots=True)
class Held:
    """The order of gangs that a schedule came of: ids in the order reckoned, and the links of gangs and walls."""

    sequence: tuple[Id, ...]
    links: tuple[tuple[Id, Id, Kind], ...]


@dataclass(frozen=True, slots=True)
class Schedule:
    """A network in time, from a start on. `end` is the last finish of all, that of the activity `last`."""

    network: Network
    start: datetime.date
    completion: datetime.date | None
    run: Run
    held: Held
    dates: Mapping[Id, Dates]
    last: Id
    end: datetime.date
    short: tuple[Short, ...]

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
        tagged = [self.dates[activity.id] for activity in self.network.activities if tag in activity.tags]
        if not tagged:
            return None
        return Stay(min(dates.early_start for dates in tagged), max(dates.early_finish for dates in tagged))


@dataclass(frozen=True, slots=True)
class _Job:
    """What every pass needs: the network by number, its clocks, the start and the completion as ordinals."""

    frame: Frame
    clocks: Sequence[Clock]
    start: int
    completion: int

    @classmethod
    def of(cls, network: Network, start: datetime.date, completion: datetime.date | None, run: Run) -> _Job:
        if not network.activities:
            raise NetworkError("a network without activities")
        frame = framed(network)
        base = start.toordinal()
        clocks = [clock(activity, run, base) for activity in network.activities]
        return cls(frame, clocks, base, FREE if completion is None else completion.toordinal())

    def early(self, order: Order) -> Passed:
        """Forward from the start."""
        return passes.forward(self.frame, self.clocks, order.before, order.sequence, self.start)

    def late(self, order: Order, early: Passed, end: int) -> Passed:
        """Back from an end, from each limit and from the completion."""
        limits = [min(limit, end, self.completion) for limit in passes.own_limits(self.frame, self.clocks, early)]
        return passes.backward(self.frame, self.clocks, order.after, order.sequence, limits)

    def last(self, order: Order, early: Passed) -> int:
        """The activity that ends last, nothing after it; the first given of several."""
        end = max(early.finishes)
        return next(n for n, finish in enumerate(early.finishes) if finish == end and not order.after[n])

    def shorts(self, order: Order, early: Passed) -> Iterator[tuple[int, Limit, int]]:
        """Each limit that is passed: the activity, the kind, the limit."""
        for number, activity in enumerate(self.frame.network.activities):
            finish, own = early.finishes[number], self.clocks[number]
            if activity.not_after is not None and finish > activity.not_after.toordinal():
                yield number, "not-after", activity.not_after.toordinal()
            if isinstance(own, SeasonClock) and finish > own.limit(early.starts[number]):
                yield number, "season", own.limit(early.starts[number])
        last = self.last(order, early)
        if early.finishes[last] > self.completion:
            yield last, "completion", self.completion


def schedule(
    network: Network,
    start: datetime.date,
    completion: datetime.date | None = None,
    run: Run = "likely",
    held: Held | None = None,
) -> Schedule:
    """A network in time. With `held` the gangs keep that order; otherwise they take the most pressing wall first.

    Latest days are counted back from the end (the completion, if that is earlier), from each `not_after`, and from
    the end of the season in which a work starts. Raises a `NetworkError` where it cannot be reckoned.
    """
    job = _Job.of(network, start, completion, run)
    order = _chosen(job) if held is None else _order(job.frame, held)
    early = job.early(order)
    end = max(early.finishes)
    ids = [activity.id for activity in network.activities]
    return Schedule(
        network,
        start,
        completion,
        run,
        Held(tuple(ids[n] for n in order.sequence), tuple((ids[a], ids[b], kind) for a, b, kind in order.made)),
        _dates(job, order, early, end),
        ids[job.last(order, early)],
        _date(end),
        tuple(
            Short(ids[n], kind, _date(limit), _date(early.finishes[n]), early.finishes[n] - limit,
                  job.clocks[n].between(limit, early.finishes[n]))
            for n, kind, limit in job.shorts(order, early)
        ),
    )  # fmt: skip


def last_starts(planned: Schedule) -> dict[Id, datetime.date]:
    """The last start of each activity that still keeps every limit: its own, those after it, the completion.

    Back from the limits alone, in the schedule's order of gangs, whatever its start; nothing for an activity that no
    limit holds. A season's limit is the end of the season in which the schedule has the work, or that it missed.
    Raises a `NetworkError`.
    """
    job = _Job.of(planned.network, planned.start, planned.completion, planned.run)
    order = _order(job.frame, planned.held)
    early = job.early(order)
    late = job.late(order, early, FREE)
    return {id: _date(late.starts[n]) for id, n in job.frame.number.items() if late.starts[n] < FREE}


def _chosen(job: _Job) -> Order:
    """The order by the most pressing wall, with these gangs or with fewer: the one least short, then first done.

    A wall is pressing by its latest start that moves no end; where that passes limits, by the one that keeps limits.
    """
    plain = Order.of(job.frame, job.frame.sequence)
    gangs = gangs_of(job.frame)
    if not gangs:
        return plain
    early = job.early(plain)
    soonest = max(early.finishes)
    late = job.late(plain, early, soonest)
    by_end = ranks(job.frame, late)
    best: tuple[tuple[int, int], Order] | None = None
    for way in ways(gangs):
        tried = [_tried(job, way, by_end)]
        if tried[0][0][0]:
            tried.append(_tried(job, way, ranks(job.frame, job.late(plain, early, FREE), late)))
        best = min([best, *tried] if best else tried, key=itemgetter(0))
        if best[0] == (0, soonest):  # nothing ends before it does without waiting for any gang
            break
    assert best is not None
    return best[1]


def _tried(job: _Job, way: Mapping[str, int], rank: Sequence[Rank]) -> tuple[tuple[int, int], Order]:
    """An order, with the days that it is short and its end."""
    dispatch = Dispatch(job.frame, job.clocks, job.start, way)
    order, early = dispatch.run(rank), dispatch.early
    return (sum(early.finishes[n] - limit for n, _, limit in job.shorts(order, early)), max(early.finishes)), order


def _order(frame: Frame, held: Held) -> Order:
    """A held order by number. Raises `NetworkError` where it is the order of other activities."""
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


def _dates(job: _Job, order: Order, early: Passed, end: int) -> dict[Id, Dates]:
    late = job.late(order, early, end)
    before: list[list[tuple[int, Kind]]] = [[] for _ in job.clocks]
    for earlier, number, kind in order.made:
        before[number].append((earlier, kind))
    found: dict[Id, Dates] = {}
    for id, n in job.frame.number.items():
        own = job.clocks[n]
        found[id] = Dates(
            _date(early.starts[n]),
            _date(early.finishes[n]),
            _date(late.starts[n]),
            _date(late.finishes[n]),
            own.between(early.starts[n], late.starts[n]),
            passes.free_float(job.frame, n, own, order.after[n], early, end),
            tuple(_causes(job, n, before[n], early)),
        )
    return found


def _causes(job: _Job, number: int, before: Sequence[tuple[int, Kind]], early: Passed) -> Iterator[Cause]:
    activities = job.frame.network.activities
    for setting in passes.settings(job.frame, job.clocks, number, before, early, job.start):
        yield Cause(setting.kind, None if setting.by is None else activities[setting.by].id, _date(setting.day))


def _date(day: int) -> datetime.date:
    return datetime.date.fromordinal(day)
