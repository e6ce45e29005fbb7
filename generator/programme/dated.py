"""The tasks of a job with their dates: walls, coats, how long access stands, what decides the end."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Final

from generator.library.model import Library
from generator.library.tasks import HOLE
from generator.lime.season import Calendar, PlacingSeason, Span
from generator.measure.shared_access import host_of
from generator.programme.calendar import worked
from generator.programme.clocks import clock
from generator.programme.effects import Runs
from generator.programme.model import ByRun, Lime, Limit, Task, Wall
from generator.programme.network import Cover, Wait
from generator.programme.schedule import LastDates, Schedule
from generator.programme.seasons import Climate, is_inside
from generator.programme.tasks import ACCESS, LAID, Planned, Works
from generator.programme.winters import LONG_WAIT_DAYS
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct

# The tasks of the library that dates on the papers are taken from.
MENDED: Final = "mend-old"
PANEL_WASHED: Final = "panel-wash"
PANEL_MADE: Final = ("panel-coat", "panel-earth", "colour", PANEL_WASHED)
BEFORE: Final = (*PANEL_MADE, "panel-lath", "growth-off", "panel-growth", MENDED)
"""What is done at a work before it begins: its panel, growth that has to die back, mending that has to harden."""
PANEL_DAMP: Final = "panel-damp"
PANEL_ANSWERED: Final = "panel-answer"
EARTH_FILLED: Final = "fill-earth"
TRIAL: Final = "trial"
TAKE_OFF: Final = "take-off"
ROOM_CLOSED: Final = "room-closed"
ROOM: Final = ("props", ROOM_CLOSED)
ROOM_BACK: Final = ("room-passed", "wiped")
"""The last of a room: where neither is there, its access struck."""
SOAKED: Final = {"lath-soak": "laths_soaked_date", "panel-lath-soak": "panel_laths_soaked_date"}
ON_THE_WALL: Final = {
    "growth-cut": "plants_cut_date",
    "growth-drawn": "plants_drawn_date",
    "flues-off": "flues_off_date",
    "flues-lined": "flues_lined_date",
    "flues-mended": "flues_lined_date",
    "flues-proved": "flues_proved_date",
}
GREEN: Final = {
    "tapped-later": "tapped_from_date",
    "fillings-later": "fillings_seen_date",
    "floor-barred": "floor_barred_date",
    "mouldings-moist": "moulding_damp_date",
    "wash-held-later": "wash_held_date",
}
"""What is not done to green plaster or wash, and the name of the day to which it is not."""
CURED_DAY: Final = "causes_done_date"
"""The day answered for what others put right: the task that is not before it proves them cured."""
ENDS: Final = {"copings-hardened": "copings_covered_date", "shores-out": "shores_out_date"}
"""What ends on a day of its work, and the name of that day."""
MOULDED: Final = "cornice-first"
FIRST_OF_ALL: Final = {"mixing-ready": "mixing_set_up_date", "stuff-cools": "panel_slaked_date"}
"""What is first done on a day of the job, whatever wall it is for, and the name of that day."""
HEAP_MADE: Final = ("heap-cools", "heap-rests")
DRIES: Final = "dry-out"
DAMP: Final = "damp"
COVER: Final = "cover"


class Bounds(Struct, frozen=True):
    """What lime is held against: the last dates of a job, its climate and its calendar."""

    limits: LastDates
    climate: Climate
    calendar: Calendar
    library: Library


def dated_walls(found: Works, made: Runs, bounds: Bounds) -> tuple[Wall, ...]:
    """The walls of a job in time, those that something is done to."""
    tasks = _tasks(found, made)
    walls: dict[str, list[Task]] = {}
    for task in tasks:
        walls.setdefault(task.place[0], []).append(task)
    return tuple(_wall(found, made, bounds, on) for on in walls.values())


def _tasks(found: Works, made: Runs) -> Iterator[Task]:
    deciding = {id for id, _ in made.likely.chain()}
    dates = made.likely.dates
    for id in dates:
        item = found.planned[id]
        yield Task(
            id, "/".join(id), item.entry.id, item.here.path[:1], item.here.path, item.entry.kind,
            labelled(item), item.trade, item.why, dates.start(id), dates.finish(id), *dates.late(id),
            made.early.dates.finish(id), max(dates.finish(id), made.late.dates.finish(id)), item.after,
            id in deciding, item.hold,
        )  # fmt: skip


def late_wash(facts: Facts, wall: Wall, library: Library) -> tuple[datetime.date, datetime.date] | None:
    """To when new render of a wall is kept damp and when its wash begins, where that no longer takes on it damp."""
    rendered = [coat for coat in wall.lime if facts.at_scope(coat.path).text("work") == "render"]
    damp = max((coat.damp_until or coat.last for coat in rendered), default=None)
    wash = next((task for task in wall.tasks if task.entry == "wash"), None)
    if wash is None or damp is None:
        return None
    within_days = library.row("waits", wait="wash-within").number("likely")
    return (damp, wash.start) if (wash.start - damp).days > within_days else None


def labelled(item: Planned) -> str:
    """What a task is called, with the values of its scope in it."""
    return HOLE.sub(lambda match: item.here.spoken(match[1]), item.entry.label)


def located(facts: Facts, item: Planned) -> str:
    """What a task is called, led by the wall it is on."""
    return f"{facts.title(item.here.path[:1])}, {labelled(item)}"


def _wall(found: Works, made: Runs, bounds: Bounds, tasks: list[Task]) -> Wall:
    wall = tasks[0].place
    by_scope = {(task.entry, task.path): task for task in tasks}
    lime = [_lime(task, by_scope, bounds, found.planned[task.id].here) for task in tasks if task.entry in LAID]
    laying = [task for task in tasks if found.planned[task.id].entry.lays and task.entry not in BEFORE]
    host = host_of(found.planned[tasks[0].id].here.around("element"))
    tag = (ACCESS, (host or wall)[0])
    stays = [run.stay(tag) for run in (made.early, made.likely, made.late)]
    early, likely, late = (None if stay is None or host is not None else stay.weeks for stay in stays)
    stands = None if stays[1] is None else (stays[1].first, stays[1].last)
    weeks = None if early is None or likely is None or late is None else ByRun(early, likely, late)
    ordered = tuple(sorted(tasks, key=lambda task: (task.start, task.finish)))
    return Wall(wall, ordered, tuple(lime), _limed(laying), stands, weeks, _washed_by(ordered, lime, found, bounds))


def _limed(laying: list[Task]) -> dict[ScopePath, Span]:
    works: dict[ScopePath, list[Task]] = {}
    for task in laying:
        works.setdefault(task.path[:2], []).append(task)
    return {path: (min(task.start for task in on), max(task.finish for task in on)) for path, on in works.items()}


def _washed_by(
    tasks: tuple[Task, ...], lime: list[Lime], found: Works, bounds: Bounds
) -> Mapping[ScopePath, datetime.date]:
    """By when limewash on new render is begun, that its first coat finds damp what was laid as late as may be.

    by = end of the damping of what is laid first, as late as it may be + days within which it takes wash
    - worked days from beginning to washing
    """
    washes = [task for task in tasks if task.entry == LAID[1]]
    rendered = {
        task.path: bounds.limits.of_all.get(task.id, (task.start,))[0]
        for task in tasks
        if washes and task.entry == LAID[0] and found.planned[task.id].here.text("work") == "render"
    }
    within_days = bounds.library.row("waits", wait="wash-within").number("likely")
    kept = [
        coat.damp_until + (max(coat.first, rendered[coat.path]) - coat.last)
        for coat in lime
        if coat.damp_until and coat.path in rendered
    ]
    days = worked(bounds.calendar)
    by: dict[ScopePath, datetime.date] = {}
    for wash in washes if kept else ():
        own = (task for task in tasks if task.path[:2] == wash.path[:2] and task.kind == "work")
        begun = min((task.start for task in own if task.entry not in BEFORE), default=wash.start)
        day = max(kept) + datetime.timedelta(float(within_days))
        between_nr = days.up_to(wash.start.toordinal()) - days.up_to(begun.toordinal() - 1)
        last = datetime.date.fromordinal(days.nth_back(day.toordinal(), between_nr))
        by[wash.path[:2]] = max(begun, last)  # a wash that comes too late anyhow is a finding of its own
    return by


def _lime(task: Task, by_scope: Mapping[tuple[str, ScopePath], Task], bounds: Bounds, here: View) -> Lime:
    limits, climate, library = bounds.limits, bounds.climate, bounds.library
    closes, passed = _season_last(task, bounds, climate.placing(here, library))
    place_by = limits.of_all.get(task.id)
    limit: Limit = "season" if limits.but_completion.get(task.id) == place_by else "completion"
    kept = (by_scope.get((DAMP, task.path)), climate.damp(here, library, here.real("damp_days") or 0.0))
    covered = (by_scope.get((COVER, task.path)), climate.cover(here, library, here.real("rain_cover_days") or 0.0))
    return Lime(
        task.path, task.start, task.finish,
        _until(task, *kept),
        None if is_inside(here) else _until(task, *covered),
        closes, passed,
        *((place_by[1], limit) if place_by is not None else (None, None)),
    )  # fmt: skip


def _season_last(task: Task, bounds: Bounds, season: PlacingSeason | None) -> tuple[datetime.date | None, bool]:
    """The last safe worked day for a laying of lime, and whether it comes after it."""
    if season is None:
        return None, False
    closes = season.last_safe(task.start) or season.closes(task.start)
    passed = closes is not None and task.finish > closes
    if missed(season, bounds.limits):
        closes, passed = season.closes(bounds.limits.start), True
    if closes is not None:
        last_worked = datetime.date.fromordinal(worked(bounds.calendar).nth_back(closes.toordinal(), 1))
        closes = last_worked if last_worked >= bounds.limits.start else closes
    return closes, passed


def _until(laid: Task, kept: Task | None, takes: Wait | Cover) -> datetime.date:
    """Until when a coat is kept: as its task has it, or, under another coat, as its task would."""
    if kept is not None:
        return kept.finish
    own = clock(takes, "likely", laid.finish.toordinal())
    return datetime.date.fromordinal(own.finish(laid.finish.toordinal()))


def missed(season: PlacingSeason, planned: LastDates | Schedule) -> bool:
    """Whether lime has no season in the time of the works: none before the completion, or none while they idle.

    They idle where nothing at all is begun before its season opens.
    """
    opens = season.opens(planned.start)
    idle = (planned.begins - planned.start).days > LONG_WAIT_DAYS
    return opens is None or idle or (planned.completion is not None and opens > planned.completion)
