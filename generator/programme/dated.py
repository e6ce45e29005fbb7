"""The tasks of a job with their dates: walls, coats, how long access stands, what decides the end."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.library.model import Library
from generator.library.tasks import HOLE
from generator.lime.season import PlacingSeason
from generator.programme.effects import Runs
from generator.programme.model import ByRun, Lime, Limit, Task, Wall
from generator.programme.schedule import LastDates, Schedule
from generator.programme.seasons import Climate
from generator.programme.tasks import ACCESS, Planned, Works
from generator.programme.winters import LONG_WAIT_DAYS
from generator.questionnaire.facts import View

WEEK_DAYS: Final = 7
# The tasks of the library that dates on the papers are taken from.
LAID: Final = ("lay", "wash")
PANEL_MADE: Final = ("panel-coat", "panel-wash")
PANEL_ANSWERED: Final = "panel-answer"
DAMP: Final = "damp"
COVER: Final = "cover"


def dated_walls(found: Works, made: Runs, limits: LastDates, climate: Climate, library: Library) -> tuple[Wall, ...]:
    """The walls of a job in time, those that something is done to."""
    tasks = _tasks(found, made)
    walls: dict[str, list[Task]] = {}
    for task in tasks:
        walls.setdefault(task.place[0], []).append(task)
    return tuple(_wall(found, made, limits, climate, library, on) for on in walls.values())


def _tasks(found: Works, made: Runs) -> Iterator[Task]:
    deciding = {id for id, _ in made.likely.chain()}
    dates = made.likely.dates
    for id in dates:
        item = found.planned[id]
        yield Task(
            id, "/".join(id), item.entry.id, item.here.path[:1], item.here.path, item.entry.kind,
            labelled(item), item.trade, item.why, dates.start(id), dates.finish(id), *dates.late(id),
            made.early.dates.finish(id), made.late.dates.finish(id), item.after, id in deciding, item.entry.hold,
        )  # fmt: skip


def labelled(item: Planned) -> str:
    """What a task is called, with the values of its scope in it."""
    return HOLE.sub(lambda match: item.here.spoken(match[1]), item.entry.label)


def _wall(found: Works, made: Runs, limits: LastDates, climate: Climate, library: Library, tasks: list[Task]) -> Wall:
    wall = tasks[0].place
    by_scope = {(task.entry, task.path): task for task in tasks}
    lime = [
        _lime(task, by_scope, limits, climate, library, found.planned[task.id].here)
        for task in tasks
        if task.entry in LAID
    ]
    tag = (ACCESS, wall[0])
    stays = [run.stay(tag) for run in (made.early, made.likely, made.late)]
    early, likely, late = (None if stay is None else math.ceil(stay.days / WEEK_DAYS) for stay in stays)
    stands = None if stays[1] is None else (stays[1].first, stays[1].last)
    weeks = None if early is None or likely is None or late is None else ByRun(early, likely, late)
    ordered = tuple(sorted(tasks, key=lambda task: (task.start, task.finish)))
    return Wall(wall, ordered, tuple(lime), stands, weeks)


def _lime(
    task: Task,
    by_scope: Mapping[tuple[str, tuple[str, ...]], Task],
    limits: LastDates,
    climate: Climate,
    library: Library,
    here: View,
) -> Lime:
    season = climate.placing(here, library)
    closes, passed = None, False
    if season is not None:
        closes = season.last_safe(task.start) or season.closes(task.start)
        passed = closes is not None and task.finish > closes
        if missed(season, limits):
            closes, passed = season.closes(limits.start), True
    place_by = limits.of_all.get(task.id)
    limit: Limit = "season" if limits.but_completion.get(task.id) == place_by else "completion"
    damp, cover = (by_scope.get((kept, task.path)) for kept in (DAMP, COVER))
    return Lime(
        task.path, task.start, task.finish,
        None if damp is None else damp.finish,
        None if cover is None else cover.finish,
        closes, passed,
        *((place_by[1], limit) if place_by is not None else (None, None)),
    )  # fmt: skip


def missed(season: PlacingSeason, planned: LastDates | Schedule) -> bool:
    """Whether lime has no season in the time of the works: none before the completion, or none while they idle.

    They idle where nothing at all is begun before its season opens.
    """
    opens = season.opens(planned.start)
    idle = (planned.begins - planned.start).days > LONG_WAIT_DAYS
    return opens is None or idle or (planned.completion is not None and opens > planned.completion)


def of_kind(tasks: Iterable[Task], *entries: str) -> list[Task]:
    """The tasks of some entries of the library."""
    return [task for task in tasks if task.entry in entries]
