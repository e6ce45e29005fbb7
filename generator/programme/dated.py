"""The tasks of a job with their dates: walls, coats, how long access stands, what decides the end."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from generator.library.model import Library
from generator.library.tasks import HOLE
from generator.programme.calendar import worked
from generator.programme.effects import Runs
from generator.programme.model import ByRun, Lime, Limit, Task, Wall
from generator.programme.network import Id, Network, Work
from generator.programme.schedule import Schedule, last_starts
from generator.programme.seasons import Climate
from generator.programme.tasks import ACCESS, Planned, Works
from generator.questionnaire.facts import View

WEEK_DAYS: Final = 7
# The tasks of the library that dates on the papers are taken from.
LAID: Final = ("lay", "wash")
PANEL_MADE: Final = ("panel-coat", "panel-wash")
PANEL_ANSWERED: Final = "panel-answer"
DAMP: Final = "damp"
COVER: Final = "cover"


def dated_walls(
    found: Works, made: Runs, limits: Limits, climate: Climate, library: Library
) -> tuple[Wall, ...]:
    """The walls of a job in time, those that something is done to."""
    tasks = _tasks(found, made)
    walls: dict[str, list[Task]] = {}
    for task in tasks:
        walls.setdefault(task.place[0], []).append(task)
    return tuple(_wall(found, made, limits, climate, library, on) for on in walls.values())


def _tasks(found: Works, made: Runs) -> Iterator[Task]:
    deciding = {id for id, _ in made.likely.chain()}
    for id in (activity.id for activity in made.likely.network.activities):
        item, dates = found.planned[id], made.likely.dates[id]
        yield Task(
            id, "/".join(id), item.entry.id, item.here.path[:1], item.here.path, item.entry.kind,
            labelled(item), item.trade, item.why,
            dates.early_start, dates.early_finish, dates.late_start, dates.late_finish, dates.total_float_days,
            made.early.dates[id].early_finish, made.late.dates[id].early_finish,
            dates.causes, item.after, id in deciding, item.entry.hold,
        )  # fmt: skip


def labelled(item: Planned) -> str:
    """What a task is called, with the values of its scope in it."""
    return HOLE.sub(lambda match: item.here.spoken(match[1]), item.entry.label)


class Limits:
    """By when each task must be done for all limits to hold, and for those of the season alone, whoever does it.

    Which gang does what after what is the contractor's to choose: what hangs on it is no limit of a wall.
    """

    def __init__(self, likely: Schedule) -> None:
        self.activities = {activity.id: activity for activity in likely.network.activities}
        free = Network(tuple(replace(activity, gang="") for activity in likely.network.activities))
        apart = replace(likely, network=free, held=replace(likely.held, links=()))
        self.of_all = last_starts(apart)
        self.of_season = self.of_all if likely.completion is None else last_starts(replace(apart, completion=None))

    def by(self, id: Id) -> tuple[datetime.date | None, Limit | None]:
        """The last day on which a work may be finished, and what limits it."""
        start = self.of_all.get(id)
        if start is None:
            return None, None
        takes = self.activities[id].takes
        assert isinstance(takes, Work)
        days = takes.days if isinstance(takes.days, float | int) else takes.days.likely
        last = worked(takes.calendar).nth(start.toordinal(), max(1, math.ceil(days)))
        return datetime.date.fromordinal(last), "season" if self.of_season.get(id) == start else "completion"


def _wall(
    found: Works, made: Runs, limits: Limits, climate: Climate, library: Library, tasks: list[Task]
) -> Wall:
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
    limits: Limits,
    climate: Climate,
    library: Library,
    here: View,
) -> Lime:
    season = climate.placing(here, library)
    closes = season.last_safe(task.start) or season.closes(task.start) if season is not None else None
    place_by, limit = limits.by(task.id)
    damp, cover = (by_scope.get((kept, task.path)) for kept in (DAMP, COVER))
    return Lime(
        task.path, task.start, task.finish,
        None if damp is None else damp.finish,
        None if cover is None else cover.finish,
        closes, closes is not None and task.finish > closes, place_by, limit,
    )  # fmt: skip


def of_kind(tasks: Iterable[Task], *entries: str) -> list[Task]:
    """The tasks of some entries of the library."""
    return [task for task in tasks if task.entry in entries]
