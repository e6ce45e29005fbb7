"""What would help where the works cannot be done in their dates: each way reckoned, with what it comes to."""

from __future__ import annotations

import datetime
import math
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Final

from generator.lime.season import DAY
from generator.programme.clocks import days_of
from generator.programme.dated import missed
from generator.programme.effects import deferred, from_start, with_days, with_gangs
from generator.programme.network import Id, NetworkError, Work
from generator.programme.schedule import Schedule, Short
from generator.programme.tasks import Works
from generator.programme.winters import LONG_WAIT_DAYS
from generator.values import Range, Struct

TRIES: Final = 8
MOST: Final = 5
LEAST_SHARE: Final = 10  # a trade with less than a tenth of the days of a chain does not hold it


class Way(Struct, frozen=True):
    """One way out, when the works then end, and the limits that are passed even so.

    `kind`: `start`, `gang`, `people`, `enclose`, `put-off`, `later` (another completion). `day` is the start, or the
    first day on which what is put off is laid.
    """

    kind: str
    end: datetime.date
    short: tuple[Short, ...] = ()
    trade: str = ""
    day: datetime.date | None = None

    @property
    def lacks_days(self) -> int:
        """The elapsed days by which limits are still passed, together."""
        return sum(short.days for short in self.short)


def ways(planned: Schedule, found: Works, earliest: datetime.date | None, warm: Schedule | None) -> tuple[Way, ...]:
    """What helps a schedule that passes its limits, the best first.

    `earliest` is the first day it could start on, `warm` the same with all that misses its season enclosed and heated.
    """
    tried = [*_started(planned, earliest), *_manned(planned, found), *_in_season(planned, warm)]
    helping = [way for way in tried if way.lacks_days < planned.short_days or way.kind in ("start", "put-off")]
    best = sorted(helping, key=lambda way: way.lacks_days)[:MOST]
    late = any(short.kind == "completion" for short in planned.short) and not without_season(planned)
    return (*best, *([Way("later", planned.end)] if late else []))


def _way(kind: str, after: Schedule, trade: str = "", day: datetime.date | None = None) -> Way:
    return Way(kind, after.end, after.short, trade, day)


def _started(planned: Schedule, earliest: datetime.date | None) -> Iterator[Way]:
    """An earlier start, from which all limits hold; none where the works cannot start so early."""
    start, after = planned.start, planned
    for _ in range(TRIES):
        start -= max((short.days for short in after.short), default=LONG_WAIT_DAYS) * DAY
        if earliest is not None and start < earliest:
            return
        try:
            after = from_start(planned, start)
        except (NetworkError, OverflowError):
            return
        if not after.short and not without_season(after):
            yield _way("start", after, day=start)
            return


def _manned(planned: Schedule, found: Works) -> Iterator[Way]:
    """One more gang of a trade that holds the chain that decides, and twice the people in its gangs."""
    activities = {activity.id: activity for activity in planned.network.activities}
    chain = [activities[id] for id, _ in planned.chain()]
    held = Counter[str]()
    for activity in chain:
        if activity.gang:
            held[activity.gang] += math.ceil(days_of(activity, planned.run))
    for trade in (trade for trade, days in held.items() if days * LEAST_SHARE >= held.total()):
        yield _way("gang", with_gangs(planned, trade, found.gangs[trade].gangs_nr + 1), trade)
        days = _halved(found, trade)
        if days:
            yield _way("people", with_days(planned, days), trade)


def _halved(found: Works, trade: str) -> Mapping[Id, float | Range[float]]:
    """The days of what a trade does by its output, with twice the people."""
    worked = ((id, days) for id, its_trade, days in doubled(found) if its_trade == trade)
    return {id: days.each(lambda each: float(math.ceil(each / 2))) for id, days in worked}


def doubled(found: Works) -> Iterator[tuple[Id, str, Range[float]]]:
    """What is done faster by twice the people: the task, its trade, its days."""
    return ((item.id, item.trade, item.why.days) for item in found.planned.values() if item.why.people_nr)


def out_of_season(planned: Schedule) -> tuple[Id, ...]:
    """The works that have no season, or else those that miss theirs."""
    return without_season(planned) or tuple(short.id for short in planned.short if short.kind == "season")


def _in_season(planned: Schedule, warm: Schedule | None) -> Iterator[Way]:
    """What misses its season enclosed and heated, and put off to the next, whatever the completion says."""
    apart, late = without_season(planned), out_of_season(planned)
    if warm is None:
        return
    yield _way("enclose", warm)
    put_off = planned if apart else deferred(planned, *late)
    lacks = tuple(short for short in put_off.short if short.kind != "completion")
    moved = [put_off.dates.start(id) for id in late if apart or put_off.dates.start(id) > planned.dates.start(id)]
    if moved:  # what is begun in its season and runs past it is not put off
        yield Way("put-off", put_off.end, lacks, day=min(moved))


def without_season(planned: Schedule) -> tuple[Id, ...]:
    """The works whose season is closed from the start to the completion: they wait for the next, beyond it."""
    laid = [
        (activity.id, activity.takes.season)
        for activity in planned.network.activities
        if isinstance(activity.takes, Work) and activity.takes.season is not None
    ]
    seasons = {season for _, season in laid}  # many works have the same
    closed = {season for season in seasons if missed(season, planned)}
    return tuple(id for id, season in laid if season in closed)
