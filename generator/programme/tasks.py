"""The works of a job as a network in time, from the tasks that the library declares."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.library.model import Library
from generator.library.tasks import TaskEntry
from generator.lime.season import Calendar, PlacingSeason
from generator.measure.outputs import Gang
from generator.measure.stacked import stacks
from generator.programme.model import Why
from generator.programme.network import Activity, Cover, Id, Link, Network, Wait, Work
from generator.programme.seasons import Climate, is_inside
from generator.programme.standing import Standing
from generator.programme.taking import Taking, coat_mixed_as
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.values import Struct

ACCESS: Final = "access"
LAID: Final = ("lay", "wash")
_KEPT: Final = ("damp", "cover")
_DONE: Final = ("work", "hold", "access")


class Planned(Struct, frozen=True):
    """A task that there is: its entry and scope, why it takes its days, its trade, what it comes after and is since.

    `hold` is the hold point at which it stops, its own or of what is counted in it.
    """

    id: Id
    entry: TaskEntry
    here: View
    why: Why
    trade: str
    after: tuple[Id, ...]
    since: tuple[Id, ...] = ()
    hold: str = ""


class Works(Struct, frozen=True):
    """The network of a job, the tasks in it by id, those that only follow, and the gangs of its trades."""

    network: Network
    planned: Mapping[Id, Planned]
    follows: tuple[Planned, ...]
    gangs: Mapping[str, Gang]


def works(facts: Facts, library: Library, climate: Climate, calendar: Calendar, kept: Kept = AFRESH) -> Works:
    """The works of a job as a network; empty where nothing is done that takes time."""
    planned, gangs = _planned(facts, library, kept)
    times = _Times(library, climate, calendar, {})
    shared = stacks(facts)
    activities = tuple(
        _activity(item, planned, times, *shared.get(item.here.path[0], ("", 0)))
        for item in planned.values()
        if item.entry.kind != "follow"
    )
    counts = {trade: found.gangs_nr for trade, found in gangs.items()}
    follows = tuple(item for item in planned.values() if item.entry.kind == "follow")
    return Works(Network(activities, counts), planned, follows, gangs)


def _planned(facts: Facts, library: Library, kept: Kept) -> tuple[dict[Id, Planned], dict[str, Gang]]:
    standing, taking = Standing(facts, library), Taking(library)
    joined, holds = _joined(standing, taking), _held(standing)
    after = standing.order(kept)
    found: dict[Id, Planned] = {}
    for id, (entry, here) in standing.found.items():
        if entry.joins:
            continue
        why = taking.why(entry, here, tuple(joined.get(id, ())))
        gang = taking.gang(entry, here)
        trade = gang.trade if gang is not None else ""
        since = tuple(each for task in entry.since for each in standing.named(task, here))
        found[id] = Planned(id, entry, here, why, trade, after[id], since, entry.hold or holds.get(id, ""))
    waited_for = {id for item in found.values() for id in item.after}
    idle = {id for id, item in found.items() if _is_of_use_to_others(item.entry) and id not in waited_for}
    return {id: item for id, item in found.items() if id not in idle}, taking.gangs


def _is_of_use_to_others(entry: TaskEntry) -> bool:
    """Whether a task is there for what waits for it alone: a wait, or what is seen before a panel that works share."""
    return entry.kind == "wait" or (entry.late and entry.one_for_each_mix)


def _joined(standing: Standing, taking: Taking) -> dict[Id, list[Why]]:
    """What is counted in other tasks, by the task that it is counted in."""
    joined: dict[Id, list[Why]] = {}
    for entry, here in standing.found.values():
        if entry.joins and entry.output:
            for id in standing.named(entry.joins, here)[:1]:
                into, there = standing.found[id]
                gang = taking.gang(into, there)
                part = taking.part(entry, here, gang.reckoned_nr if gang is not None else 1)
                if part is not None:
                    joined.setdefault(id, []).append(part)
    return joined


def _held(standing: Standing) -> dict[Id, str]:
    """The hold points met on the days of another task, by that task."""
    held = (each for each in standing.found.values() if each[0].joins and each[0].hold)
    return {id: entry.hold for entry, here in held for id in standing.named(entry.joins, here)[:1]}


class _Times(Struct, frozen=True):
    """What turns days into time: the calendar and the climate.

    Many tasks of a job take the same: they are given one and the same of it (`made`), whose days are then found once.
    """

    library: Library
    climate: Climate
    calendar: Calendar
    made: dict[Work | Wait | Cover, Work | Wait | Cover]

    def season(self, here: View) -> PlacingSeason | None:
        """The season in which lime is laid at a scope: of a work, that of the coat that is longest open to frost.

        A work without coats, such as copings, lays the mortar of its wall; outside, where that has none either, the
        season is that of any coat of the job.
        """
        coats = here.inside("coat") or here.around("element").inside("coat")
        if not coats and not is_inside(here):
            coats = here.facts.views("coat")
        seasons = [self.climate.placing(coat, self.library) for coat in coats]
        return max((found for found in seasons if found is not None), key=lambda found: found.cover_days, default=None)


def _activity(item: Planned, planned: Mapping[Id, Planned], times: _Times, face: str, storey: int) -> Activity:
    entry, here, takes = item.entry, item.here, _takes(item, times, planned)
    return Activity(
        item.id,
        times.made.setdefault(takes, takes),
        tuple(Link(id, _day_between(planned[id], item)) for id in item.after),
        item.trade if entry.kind in ("work", "access") else "",
        here.path[0],
        _tags(entry, here),
        here.day(entry.not_before) if entry.not_before else None,
        late=entry.late,
        stays=entry.stays,
        at_once=entry.at_once,
        face=face,
        storey=storey,
    )


def _tags(entry: TaskEntry, here: View) -> tuple[Id, ...]:
    """What an activity counts for: the access of its wall, or what is hired for its wall or work."""
    if entry.kind == ACCESS:
        return ((ACCESS, here.path[0]),)
    return ((entry.stands, *here.path[:2]),) if entry.stands else ()


def _day_between(earlier: Planned, later: Planned) -> int:
    """What is kept damp or covered stays so to the evening of its last day; a next coat on it ends that itself."""
    next_coat = later.entry.lays and later.here.path[:2] == earlier.here.path[:2]
    return int(earlier.entry.kind in _KEPT and later.entry.kind in _DONE and not next_coat)


def laid_with(coat: View, planned: Mapping[Id, object]) -> tuple[View, ...]:
    """A coat, led by those before it without a laying of their own: they are laid with it, day by day."""
    found: list[View] = []
    for each in coat.around("work").inside("coat"):
        found.append(each)
        if each.path == coat.path:
            break
        if not each.known("mix_used") or any((*each.path, laying) in planned for laying in LAID):
            found.clear()
    return tuple(found)


def _takes(item: Planned, times: _Times, planned: Mapping[Id, Planned]) -> Work | Wait | Cover:
    kind, here, days = item.entry.kind, item.here, item.why.days
    together = laid_with(here, planned) if kind in _KEPT and item.entry.per == "coat" else ()
    damp = times.climate.damp_of_all(together, times.library) if len(together) > 1 else None
    if kind in ("work", "hold", "access"):
        return Work(days, times.calendar, times.season(here) if item.entry.lays else None)
    if kind == "cover":
        return times.climate.cover(coat_mixed_as(item.entry, here) or here, times.library, days, damp)
    if kind == "damp":
        return damp or times.climate.damp(here, times.library, days)
    return Wait(days, begun=times.calendar if item.entry.made else None)
