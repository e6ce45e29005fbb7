"""What a change would do to a schedule: another start, another gang, other days; and the early and late runs.

A change for the worse keeps the order of the gangs, so that every date is as late or later: no gain is ever shown
from harm. A change for the better is reckoned in that order and in one chosen anew, and the better of both is taken;
of a large job in that order alone, as choosing takes longer than all else, but for what an order cannot be kept with:
a further gang, and works put off.
Seasons alone can turn this round: an earlier start can miss a season that a later one would have waited for.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping

from generator.lime.maturity import MonthlyRates
from generator.programme.clocks import days_of
from generator.programme.gangs import MOST_PLACED
from generator.programme.network import (
    Activity,
    Cover,
    Id,
    Network,
    NetworkError,
    UnknownActivity,
    Wait,
    Work,
    reframed,
)
from generator.programme.schedule import Schedule, schedule
from generator.programme.winters import Stopped
from generator.values import Range, Struct, replace


class Runs(Struct, frozen=True):
    """A network early, likely and late; the likely run's order holds in all three.

    Where the late run would pass seasons its lime is held to the next, and gangs go on with what is not `stopped` so.
    """

    early: Schedule
    likely: Schedule
    late: Schedule
    stopped: Stopped = Stopped()


def runs(network: Network, start: datetime.date, completion: datetime.date | None = None) -> Runs:
    """A network with its low, likely and high days. Raises a `NetworkError` where one cannot be reckoned."""
    return around(schedule(network, start, completion))


def around(likely: Schedule) -> Runs:
    """A likely run, with the early and the late of the same. Raises a `NetworkError` where one cannot be reckoned."""
    early, late = (
        schedule(likely.network, likely.start, likely.completion, run, likely.held, likely.frame)
        for run in ("early", "late")
    )
    return Runs(early, likely, late)


def from_start(planned: Schedule, start: datetime.date) -> Schedule:
    """The same from another start."""
    return _again(planned, planned.network, start, better=start < planned.start)


def with_gangs(planned: Schedule, trade: str, gangs_nr: int) -> Schedule:
    """The same, chosen as the best with its gangs, with so many of a trade; with fewer the order is chosen anew."""
    before = planned.network.gangs.get(trade, 1)
    network = Network(planned.network.activities, {**planned.network.gangs, trade: gangs_nr})
    if gangs_nr < before:
        return schedule(network, planned.start, planned.completion, planned.run)
    if gangs_nr == before:
        return _again(planned, network, planned.start, better=False)
    # in the order that it has now nothing changes: a further gang is of use only in one chosen anew
    frame = reframed(planned.frame, network)
    anew = schedule(network, planned.start, planned.completion, planned.run, None, frame, trade)
    return _less_short(replace(planned, network=network, frame=frame), anew)


def with_days(planned: Schedule, days: Mapping[Id, float | Range[float]]) -> Schedule:
    """The same with other days for some works or waits."""
    named = _named(planned.network, days)
    changed = [replace(activity, takes=replace(activity.takes, days=days[activity.id])) for activity in named]
    better = all(
        days_of(new, planned.run) <= days_of(old, planned.run) for new, old in zip(changed, named, strict=True)
    )
    return _again(planned, _with(planned.network, changed), planned.start, better)


def enclosed(planned: Schedule, *ids: Id, rates: MonthlyRates | None = None) -> Schedule:
    """The same with some works free of their season and their last day, as what is enclosed and heated is.

    With `rates`, those of the warmth it is held at, what ripens after them does so by these, and covers stay, that is
    the enclosure, for all the days in which the mortar is open to frost.
    """
    freed = [
        replace(activity, not_after=None, takes=Work(takes.days, takes.calendar))
        for activity, takes in _placed(planned.network, ids)
    ]
    if rates is not None:
        freed += [replace(activity, takes=_warm(activity.takes, rates)) for activity in _after(planned.network, ids)]
    return _again(planned, _with(planned.network, freed), planned.start, better=True)


def _after(network: Network, ids: Iterable[Id]) -> Iterator[Activity]:
    """The waits and covers that come straight after some works."""
    works = set(ids)
    for activity in network.activities:
        if not isinstance(activity.takes, Work) and any(link.after in works for link in activity.after):
            yield activity


def _warm(takes: Work | Wait | Cover, rates: MonthlyRates) -> Work | Wait | Cover:
    if isinstance(takes, Cover):
        damp = None if takes.damp is None else _kept_warm(takes.damp, rates)
        return replace(takes, frost=None, rates=None if takes.rates is None else rates, damp=damp)
    return _kept_warm(takes, rates) if isinstance(takes, Wait) else takes


def _kept_warm(wait: Wait, rates: MonthlyRates) -> Wait:
    return wait if wait.rates is None else replace(wait, rates=rates)


def deferred(planned: Schedule, *ids: Id) -> Schedule:
    """The same with some works that wait for the next season where they missed one."""
    put_off = [
        replace(activity, not_after=None, takes=replace(takes, defers=True))
        for activity, takes in _placed(planned.network, ids)
    ]
    return _again(planned, _with(planned.network, put_off), planned.start, better=True, moves=True)


def _again(planned: Schedule, network: Network, start: datetime.date, better: bool, moves: bool = False) -> Schedule:
    """The same with other activities of the same links; `moves` says that works may move past many others."""
    frame = reframed(planned.frame, network)
    kept = schedule(network, start, planned.completion, planned.run, planned.held, frame)
    if not better or (len(network.activities) > MOST_PLACED and not moves):
        return kept
    anew = schedule(network, start, planned.completion, planned.run, None, frame)
    return _less_short(kept, anew)


def _less_short(kept: Schedule, anew: Schedule) -> Schedule:
    return min(kept, anew, key=lambda found: (found.short_days, found.end))


def _named(network: Network, ids: Iterable[Id]) -> list[Activity]:
    """The activities of these ids. Raises `UnknownActivity`."""
    by_id = {activity.id: activity for activity in network.activities}
    for id in ids:
        if id not in by_id:
            raise UnknownActivity(f"{id} is not there", id)
    return [by_id[id] for id in ids]


def _placed(network: Network, ids: Iterable[Id]) -> Iterator[tuple[Activity, Work]]:
    """The works of these ids. Raises `NetworkError` for one that is a wait."""
    for activity in _named(network, ids):
        if not isinstance(activity.takes, Work):
            raise NetworkError(f"{activity.id} is a wait", activity.id)
        yield activity, activity.takes


def _with(network: Network, changed: Iterable[Activity]) -> Network:
    new = {activity.id: activity for activity in changed}
    return Network(tuple(new.get(activity.id, activity) for activity in network.activities), network.gangs)
