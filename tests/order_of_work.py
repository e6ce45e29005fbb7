"""Whether steps of the sheets, hold points and dates of a job go together: what tests of order ask of a job."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from itertools import chain, combinations, pairwise
from typing import Final

from generator.job.job import Job
from generator.papers.steps import Told, all_steps
from generator.programme.calendar import worked
from generator.programme.model import Task
from generator.programme.network import Id, Network
from generator.programme.plan import calendar
from generator.questionnaire.scopes import PROJECT, ScopePath

# The tasks that a step of a sheet stands for; a step that is no task, or tells its own time, has no line.
STEPS: Final = {
    "wildlife": ("ecologist",), "engineer": ("engineer",), "paintings": ("paintings",),
    "paintings-above": ("paintings",), "room": ("room-closed",),
    "plants": ("enable-plants",), "weep-holes": ("weep-holes", "weep-holes-seen"),
    "ground.panel-growth": ("panel-growth",), "mark": ("surface-marked", "render-marked"),
    "pipes-off": ("pipes-off",), "pipes-back": ("pipes-back",),
    "trial-holes": ("trial-holes", "holes-seen"), "ground": ("enable-ground",), "drains": ("enable-drains",),
    "cause-gutter": ("causes-mended",), "cause-leak": ("causes-mended",), "cause-movement": ("movement-mended",),
    "cause-movement-first": ("movement-mended",),
    "cause-ground": ("holes-under-sum", "ground-mended"),
    "copings": ("top-sheeted",), "copings-bedded": ("coping-first", "enable-copings"),
    "copings-bedded-softer": ("coping-first", "enable-copings"),
    "copings-on-rebuilt": ("coping-first", "enable-copings"),
    "copings-proved": ("copings-proved",),
    "gutters": ("enable-gutters",), "ground.panel": ("panel-coat",), "frame.panel": ("panel-coat",),
    "early.colour": ("colour", "colour-dry", "colour-chosen"), "early.panel": ("panel-wash",),
    "laths.panel": ("panel-lath", "panel-laths-seen", "panel-coat"),
    "laths-ground.panel": ("panel-lath", "panel-laths-seen", "panel-coat"),
    "laths-old.panel": ("panel-laths-seen", "panel-coat"), "laths-old-ground.panel": ("panel-laths-seen", "panel-coat"),
    "earth.panel": ("panel-earth",), "earth-early.panel": ("panel-earth",),
    "dry": ("enabling-proved",),
    "growth-cut": ("growth-cut",), "growth-cut-stack": ("growth-cut",), "growth": ("growth-drawn",),
    "growth-dead": ("dead-drawn",), "growth-dead-proved": ("dead-proved",), "ground.stems": ("panel-stems",),
    "flues": ("flues-off",), "flues-swept": ("flues-swept",), "access": ("access-up",), "access-stack": ("access-up",),
    "access-indoors": ("access-up",), "access-deck": ("access-up",), "prop": ("props",),
    "prop-access": ("props",),
    "dries-drawn": ("dry-out", "dry-released"),
    "dries": ("dry-out", "raked-dries", "dry-released", "raked-released"), "wet-wall": ("dry-out", "dry-released"),
    "wet-wall-outside": ("dry-out", "dry-released"), "look-ground": ("ground-passed",),
    "cause-flue": ("flues-mended",), "cause-flue-bared": ("flues-lined",),
    "cornice": ("cornice-first", "cornice-passed"), "cornice-run": ("cornice",),
    "flue-test": ("flues-tested",), "liners-freed": ("liners-freed",), "liners-back": ("liners-hung",),
    "plugs": ("flues-proved",), "service": ("service-freed",),
    "stack-conductor": ("conductor-freed",), "conductor": ("conductor-freed",),
    "look-conductor": ("earth-tested", "strike-passed"),
    "panel": ("panel-coat", "panel-wash", "panel-answer"), "colour": ("colour", "colour-dry", "panel-wash"),
    "approved": ("panel-answer",),
    "mend": ("mend-marked", "mend-old"),
    "rake": ("rake",), "rake-metre": ("rake-first",), "rake-length": ("rake-length",), "inspect": ("raked",),
    "inspect-indoors": ("raked",), "deep": ("pack", "pack-length"), "deep-earth": ("pack", "pack-length"),
    "deep-fine": ("pack",),
    "fill": ("lay",), "fill-fine": ("lay",), "fill-gauged": ("lay",),
    "rake-gauged": ("rake",), "ribbon": ("lay",), "fill-earth": ("fill-earth",), "support": ("numbered", "shored"),
    "support-leaning": ("numbered", "shored"), "record-leaning": ("numbered",), "top-new": ("stack-top",),
    "stack-lead": ("lead-freed",), "lead-back": ("lead-back",), "fitter-marks": ("fitter-marks",),
    "down-facing": ("take-first", "rejects"), "earth": ("take-down", "take-first", "rebuild-earth"),
    "daub": ("take-down", "take-first", "rebuild-earth", "earth-dries"), "base-for-finish": ("background",),
    "edges-on-laths": ("edges",), "laths": ("lath", "laths-passed"), "laths-all-new": ("lath", "laths-passed"),
    "proof": ("props-pressed",), "look": ("strike-passed",),
    "down": ("take-down", "rejects"), "bed": ("lay",),
    "trial": ("trial", "trial-wait", "released"), "trial-paint": ("trial", "trial-dries", "released"),
    "textured-clear": ("trial", "trial-dries", "released"), "paint": ("take-off",), "coating": ("take-off",),
    "pointing": ("take-off",), "render": ("take-off",), "gypsum": ("take-off",), "plaster": ("take-off",),
    "show": ("laid-bare", "washers"),
    "edges": ("edges",), "timbers": ("timbers-passed",),
    "new-laths": ("lath",), "new-laths-alone": ("lath",), "new-laths-overhead": ("lath",),
    "show-laths": ("laths-passed",), "prepare": ("prepare", "background"),
    "earth-hollows": ("fill-hollows", "hollows-dry"), "earth-hollows-wet": ("fill-hollows", "hollows-dry"),
    "dub": ("dub",), "splatter": ("lay",), "base": ("lay",), "harl-first": ("lay",), "finish": ("lay",),
    "harl-second": ("lay",), "first-laths": ("lay",), "scratch": ("lay",), "float": ("lay",), "setting": ("lay",),
    "setting-alone": ("lay",), "nibs": ("lay",), "lined": ("lay",), "scratch-ruled": ("lay",),
    "wait-base": ("damp", "coat-wait"), "wait-first": ("damp", "coat-wait"), "wait-float": ("damp", "coat-wait"),
    "face": ("prepare-wash", "background-wash"), "coats": ("wash",),
    "coats-on-new": ("wash",), "coats-late": ("wash",), "shade": ("damp",), "dry-indoors": ("damp",),
    "off": ("flaunching-off",), "top": ("stack-top", "top-bedded"), "top-lined": ("stack-top", "top-bedded"),
    "lay": ("lay",),
    "damp": ("damp",), "keep-damp": ("damp",), "props-out": ("props-out", "props-off"),
    "raise": ("raised",), "screws": ("refix",), "wall": ("refix",),
    "covers": ("covers-hung",),
    "circuits": ("circuits-dead",), "boxes": ("boxes-set",), "show-laths-boxes": ("laths-passed", "boxes-set"),
    "circuits-back": ("circuits-back",),
    "look-room": ("strike-passed", "room-passed"), "wiped": ("wiped",), "wiped-untested": ("wiped",),
}  # fmt: skip


# A wall dries, plants that were cut on it die, a sag is raised a turn a day, and a panel is answered, while others do
# what stands above: the release, and the drawing of what is dead, is what waits.
DRYING: Final = (
    ".dries",
    ".dries-drawn",
    ".wet-wall",
    ".wet-wall-outside",
    ".approved",
    ".dry",
    ".raise",
    "wall.growth",
)


# Another trade puts a cause right on its order, beside the panel and beside another cause.
CAUSES: Final = (".cause-gutter", ".cause-leak", ".cause-flue", ".cause-flue-bared")


# Growth has few weeks to come again before its wash, and is brushed off beside panels, mends and covers.
GROWTH: Final = "limewash.growth"


# So is the panel of a wash, whose colours are tried on the panel below it, made beside the coats.
BESIDE_COATS: Final = (GROWTH, "limewash.panel")


# A face is brushed down and tried while new coats on it are still kept damp, so that its wash follows at once; new
# render is tapped on the visit that passes the brushed face. A first bay on laths is shown while others are laid, and
# lead is wedged into joints that are green. A panel has its
# covers, its place marked, and is made while the source of salts is stopped and the wall dries.
WHILE_DAMP: Final = {
    ("render.damp", "render.sound"), ("render.damp", "limewash.face"),
    ("plaster.keep-damp", "limewash.face"), ("render.sound", "limewash.face"),
    ("plaster.first-laths", "plaster.nibs"), ("render.base", "render.nibs"), ("rebuild.damp", "rebuild.lead-back"),
    ("desalt.source", "wall.covers"), ("desalt.source", "plaster.record-first"), ("desalt.source", "plaster.panel"),
    ("desalt.source", "render.panel"), ("desalt.source", "repoint.panel"),
}  # fmt: skip


# Steps of one name in several works.
OF_WORK: Final = {
    ("refix", "cornice"): ("cornice-first", "cornice-passed", "cornice"),
    ("refix", "survey"): ("refix-survey",),
    ("refix", "fill"): ("refix-fill",), ("desalt", "trial"): ("salts-trial", "salts-released"),
    ("desalt", "lay"): ("salts-lay",),
    ("repoint", "finish"): (), ("wall", "earth"): (), ("limewash", "growth"): ("growth-off",),
    ("plaster", "chalk"): ("face-marked",), ("plaster", "chalk-first"): ("face-marked",),
    ("plaster", "record"): ("face-marked",), ("plaster", "record-first"): ("face-marked",),
    ("plaster", "record-bared"): ("laid-bare",),
    ("render", "record-bared"): ("laid-bare",),
    ("rebuild", "record"): ("numbered",), ("limewash", "colour-new"): ("colour", "colour-dry"),
    ("render", "sound"): ("tapped",), ("desalt", "source"): ("salts-source", "salts-tested"),
    ("desalt", "again"): (
        "salts-left", "salts-seen", "salts-lay-second", "salts-seen-second", "salts-lay-third", "salts-seen-third",
        "salts-lay-further", "salts-seen-further",
    ),
    ("repoint", "cement-trial"): ("mark", "cement-trial", "cement-released"), ("repoint", "loose"): ("mark",),
    ("repoint", "panel"): ("panel-coat",), ("rebuild", "panel"): ("panel-coat",), ("render", "panel"): ("panel-coat",),
    ("plaster", "panel"): ("panel-coat",),
}  # fmt: skip


def standing(made: Job, tasks: tuple[str, ...], path: ScopePath) -> list[Task]:
    """The tasks so called at a scope, around it or in it."""
    found = [task for task in made.programme.tasks() if task.entry in tasks]
    return [task for task in found if path[: len(task.path)] == task.path or task.path[: len(path)] == path]


def tasks_of(made: Job, step: Told) -> list[Task]:
    """The tasks that a step stands for, where it is told; none of a step that is no task."""
    work, _, name = step.entry.id.partition(".")
    return standing(made, OF_WORK.get((work, name), STEPS.get(name, ())), step.path)


def days_of(made: Job, wall: str, *names: str) -> list[Task]:
    """The first task of each of these names at a wall, around it or in it."""
    return [standing(made, (name,), (wall,))[0] for name in names]


def ordered_steps(made: Job, wall: str, *wanted: str) -> list[str]:
    """Those of some steps that the sheet of a wall has, in its order."""
    told = [told.entry.id for told in all_steps(made, (wall,))]
    return [step for step in told if step in wanted]


def spans(made: Job, wall: ScopePath) -> list[tuple[str, date, date]]:
    """The steps of a wall that are tasks, in order, each with its first and last day."""
    told = []
    for step in all_steps(made, wall):
        found = tasks_of(made, step)
        if found:
            told.append((step.entry.id, min(task.start for task in found), max(task.finish for task in found)))
    return told


def made_elsewhere(made: Job, wall: ScopePath) -> set[str]:
    """The steps of a wall that name the panel of another, made in the same mixes for all of their kind."""
    return {step.entry.id for step in all_steps(made, wall) if step.entry.id.endswith(".panel-elsewhere")}


def out_of_order(made: Job) -> list[str]:
    """Steps that begin before the one before them has ended; a panel waits while another work of its wall goes on."""
    return [
        f"{wall.path}: {later} on {start} before the end of {step} on {end}"
        for wall in made.facts.views("element")
        for (step, _, end), (later, start, _) in pairwise(spans(made, wall.path))
        if start < end and not _beside(step, later)
    ]


def _beside(step: str, later: str) -> bool:
    waits = (".panel", ".colour", ".colour-new")
    if (step, later) in WHILE_DAMP or step == GROWTH or later.endswith(CAUSES):
        return True
    return later.endswith((*waits, *DRYING)) or (step.endswith(waits) and step.split(".")[0] != later.split(".")[0])


def begun_too_soon(made: Job) -> list[str]:
    """Steps that begin before one that stands anywhere above them has begun."""
    return [
        f"{wall.path}: {later} on {start}, {step} on {before}"
        for wall in made.facts.views("element")
        for (step, before, _), (later, start, _) in combinations(spans(made, wall.path), 2)
        if start < before
        and not later.endswith((*DRYING, *CAUSES))
        and (step, later) not in WHILE_DAMP
        and step not in BESIDE_COATS
        and later != "limewash.panel"
    ]


# What a step that holds a wall back until its causes are cured or its face is dry waits for.
RELEASES: Final = {
    "causes": ("causes-by-others", "cured-elsewhere", "enabling-proved"),
    "dry-face": ("dry-released", "raked-released"),
}


def held_back(made: Job) -> list[str]:
    """Steps that begin before what a step above them holds the wall back for; a panel is answered beside it."""
    found = []
    for wall in made.facts.views("element"):
        steps = all_steps(made, wall.path)
        for above, later in combinations(steps, 2):
            names = tuple(name for hold in above.entry.holds for name in RELEASES.get(hold, ()))
            until = max((task.finish for task in standing(made, names, above.path)), default=None)
            start = min((task.start for task in tasks_of(made, later)), default=None)
            exempt = later.entry.id.endswith((*DRYING, *CAUSES))
            if until is not None and start is not None and start < until and not exempt:
                found.append(f"{wall.path}: {later.entry.id} on {start}, held by {above.entry.id} until {until}")
    return found


def untold(made: Job) -> Iterator[str]:
    """What is worked on a wall in time, and no step of its sheet stands for."""
    for wall in made.facts.views("element"):
        told = set()
        for step in all_steps(made, wall.path):
            told |= {task.id for task in tasks_of(made, step)}
        tasks = (task for task in made.programme.tasks() if task.place == wall.path and task.kind == "work")
        yield from (task.key for task in tasks if task.id not in told)


# What is done to no face: access, rooms, the ground, the foot of plants. What is done from below has its own pictures.
BEFORE_PICTURES: Final = (
    "access-up", "access-down", "room-closed", "trial-holes", "enable-ground", "enable-drains", "growth-cut",
)  # fmt: skip


TOUCHES: Final = (
    "props", "causes-mended", "movement-mended", "flues-mended", "flues-tested", "flues-lined", "liners-freed",
    "stack-top", "conductor-freed", "service-freed", "dead-drawn",
)  # fmt: skip


# What cuts into a face, or covers it, once it is tapped and chalked; a panel has its own place, seen with it.
CUTS: Final = ("trial", "cement-trial", "take-off", "edges", "prepare", "rake-first", "rake-length", "rake", "mend-old")


MARKS: Final = ("surface-marked", "face-marked", "render-marked", "mark", "mend-marked")


def unmarked(made: Job) -> Iterator[str]:
    """Trials and cuts of a work that do not wait for the marking of its face."""
    before = _before(made)
    for task in made.programme.tasks():
        marks = {(*task.path[:2], mark) for mark in MARKS} & before.keys()
        if task.entry in CUTS and marks and not marks & _reached(task.id, before):
            yield task.key


def _before(made: Job) -> dict[Id, list[Id]]:
    """What each task waits for itself."""
    network = made.programme.runs.likely.network if made.programme.runs is not None else Network(())
    return {activity.id: [link.after for link in activity.after] for activity in network.activities}


def _reached(last: Id, before: Mapping[Id, list[Id]]) -> set[Id]:
    """All that a task waits for."""
    reached: set[Id] = set()
    waiting: list[Id] = [last]
    while waiting:
        reached |= (found := set(before[waiting.pop()]) - reached)
        waiting += found
    return reached


AT_PANEL: Final = ("panel-coat", "panel-lath", "panel-growth", "panel-wash")


def unpictured(made: Job) -> Iterator[str]:
    """Work on a face, props, what is freed from it and mended causes that do not wait for the pictures of that face.

    A panel from the ground, and trials at its place, wait for the pictures of that place.
    """
    before = _before(made)
    for task in made.programme.tasks():
        touches = task.kind == "work" or task.entry in TOUCHES
        place = made.facts.at_scope(task.path).text("panel_place")
        of_place = (*task.path[:2], "panel-pictures")
        early = place == "ground" and of_place in before and task.entry in ("colour", *AT_PANEL)
        pictures = of_place if early else (*task.path[:1], "pictures")
        below = not early and task.entry in AT_PANEL and place != "access"
        below |= task.entry == "movement-mended" and made.facts.at_scope(task.path).known("held_first")
        if not touches or below or task.entry in BEFORE_PICTURES or pictures not in before:
            continue
        if pictures not in _reached(task.id, before):
            yield task.key


# Hold points of a sheet that have no day of their own in time, by why they need none.
NO_DAY: Final = {
    "start": "before the start", "panel-officer": "on the day of the panel's answer",
    "marked-surface": "seen with the pictures where nothing is taken off", "room-released": "before a heater runs",
    "plaster-tapped": "follows the work", "wash-held": "follows the work",
}  # fmt: skip


# Cured under a sum, or by what is taken off; met on the days of another task.
OF_ANOTHER: Final = {
    "causes": ("causes-mended", "movement-mended", "flues-mended", "flues-lined", "laid-bare"),
    "units": ("rejects",), "first-lift": ("lay",), "plants": ("dead-proved",),
}  # fmt: skip


def undated(made: Job) -> Iterator[str]:
    """Hold points at which the sheet of a wall stops work and its programme does not, or the other way round."""
    for wall in made.facts.views("element"):
        told = set(chain.from_iterable(one.entry.holds for one in all_steps(made, wall.path)))
        tasks = [task for task in made.programme.tasks() if task.place == wall.path]
        dated = {task.hold for task in tasks} - {""}
        others = {hold for hold, entries in OF_ANOTHER.items() if set(entries) & {task.entry for task in tasks}}
        others |= {"panel"} if made_elsewhere(made, wall.path) else set()
        yield from (f"{wall.path[0]}: {hold} has no day" for hold in sorted(told - dated - NO_DAY.keys() - others))
        yield from (f"{wall.path[0]}: {hold} is on no sheet" for hold in sorted(dated - told))


def unlooked(made: Job) -> Iterator[str]:
    """Steps that stop at laths or their nibs on no day of their own: one hold point serves all of these looks."""
    for wall in made.facts.views("element"):
        for step in all_steps(made, wall.path):
            if "laths" in step.entry.holds and all(task.hold != "laths" for task in tasks_of(made, step)):
                yield f"{wall.path}: {step.entry.id} has no day"


# Layers that are put on at the least, each once the last resists the thumb.
LAYERS: Final = {"dub": 2, "fill-hollows": 2, "refix-fill": 3}


def unlayered(made: Job) -> Iterator[str]:
    """What is laid in fewer days than layers: a layer waits for the last to resist the thumb, in mortar of its day."""
    for task in made.programme.tasks():
        if task.entry in LAYERS and not task.why.lacks and worked_days(made, task) < LAYERS[task.entry]:
            yield f"{task.key}: {LAYERS[task.entry]} layers in {worked_days(made, task)} days"
        here = made.facts.at_scope(task.path)
        depth, layer = here.around("work").number("rake_depth_mm"), here.number("layer_mm")
        if task.entry == "lay" and here.text("coat") == "pointing" and depth and layer and not task.why.lacks:
            layers, days = -(-depth // layer), worked_days(made, task)
            if days < layers:
                yield f"{task.key}: {layers} layers in {days} days"


def worked_days(made: Job, task: Task) -> int:
    days = worked(calendar(made.facts.at_scope(PROJECT)))
    return days.between(task.start.toordinal() - 1, task.finish.toordinal())


CHECKS: Final = (out_of_order, begun_too_soon, held_back, untold, unpictured, undated, unlayered, unlooked, unmarked)
"""What every job is asked that is fit for tender."""
