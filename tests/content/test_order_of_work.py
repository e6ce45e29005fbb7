"""One order of work: tasks come as the steps of the sheets do, and nothing stands open for long."""

from __future__ import annotations

from datetime import date
from itertools import chain, pairwise
from typing import Final

import pytest
from jobs import EXAMPLES, example
from timed_jobs import planned, scaffolded, surface

from generator.job.job import Job
from generator.papers.steps import wall_steps
from generator.programme.model import Task
from generator.questionnaire.facts import ScopePath

NAMES: Final = [path.parent.name for path in EXAMPLES]
LONGEST_OPEN_DAYS: Final = 14

# The tasks that a step of a sheet stands for; a step that is no task has no line.
STEPS: Final = {
    "gutters": ("enable-gutters",), "ground.panel": ("panel-coat", "panel-answer"), "dry": ("enabling-proved",),
    "flues": ("flues-off",), "access": ("access-up",), "prop": ("props",),
    "panel": ("panel-coat", "panel-wash", "panel-answer"), "colour": ("colour", "colour-dry"),
    "cement-trial": ("cement-trial", "cement-released"),
    "rake": ("rake",), "rake-metre": ("rake-first",), "rake-length": ("rake-length",), "inspect": ("raked",),
    "deep": ("pack",), "fill": ("lay",), "fill-fine": ("lay",), "fill-gauged": ("lay",),
    "down": ("take-down", "rejects"), "bed": ("lay",),
    "trial": ("trial", "trial-wait", "released"), "trial-paint": ("trial", "trial-wait", "released"),
    "pointing": ("take-off",), "render": ("take-off",), "gypsum": ("take-off",), "plaster": ("take-off",),
    "show": ("laid-bare", "washers"),
    "edges": ("edges",), "new-laths": ("lath",), "show-laths": ("laths-passed",), "prepare": ("prepare", "background"),
    "dub": ("dub",), "splatter": ("lay",), "base": ("lay",), "harl-first": ("lay",), "finish": ("lay",),
    "harl-second": ("lay",), "first-laths": ("lay",), "scratch": ("lay",), "float": ("lay",), "setting": ("lay",),
    "wait-base": ("damp", "coat-wait"), "wait-first": ("damp", "coat-wait"), "wait-float": ("damp", "coat-wait"),
    "face": ("prepare", "background"), "coats": ("wash",), "shade": ("damp",), "dry-indoors": ("damp",),
    "off": ("flaunching-off",), "top": ("stack-top", "top-bedded"), "lay": ("lay",),
    "damp": ("damp",), "keep-damp": ("damp",), "props-out": ("props-out",),
    "screws": ("refix",), "wall": ("refix",),
}  # fmt: skip
# Steps of one name in several works.
OF_WORK: Final = {
    ("refix", "fill"): ("refix-fill",), ("desalt", "trial"): ("salts-trial",), ("desalt", "lay"): ("salts-lay",),
    ("repoint", "finish"): (),
}  # fmt: skip


def standing(made: Job, tasks: tuple[str, ...], path: ScopePath) -> list[Task]:
    """The tasks so called at a scope, around it or in it."""
    found = [task for task in made.programme.tasks() if task.entry in tasks]
    return [task for task in found if path[: len(task.path)] == task.path or task.path[: len(path)] == path]


def spans(made: Job, wall: ScopePath) -> list[tuple[str, date, date]]:
    """The steps of a wall that are tasks, in order, each with its first and last day; panels made elsewhere too."""
    told = []
    for step in chain.from_iterable(wall_steps(made, wall).values()):
        work, _, name = step.entry.id.partition(".")
        found = standing(made, OF_WORK.get((work, name), STEPS.get(name, ())), step.path)
        answered = made.facts.at_scope(step.path).day("panel_answered_date")
        if found:
            told.append((step.entry.id, min(task.start for task in found), max(task.finish for task in found)))
        elif name == "panel" and answered is not None:
            told.append((step.entry.id, answered, answered))
    return told


def out_of_order(made: Job) -> list[str]:
    """Steps that begin before the one before them has ended; a panel waits while another work of its wall goes on."""
    return [
        f"{wall.path}: {later} on {start} before the end of {step} on {end}"
        for wall in made.facts.views("element")
        for (step, _, end), (later, start, _) in pairwise(spans(made, wall.path))
        if start < end and not _beside(step, later)
    ]


def _beside(step: str, later: str) -> bool:
    waits = (".panel", ".colour")
    return later.endswith(waits) or (step.endswith(waits) and step.split(".")[0] != later.split(".")[0])


RENDERED: Final = (
    surface("off", "remove", removed="cement-render", removed_hold="firm"),
    surface("coat", "render", render_kind="flat", dubbing_mm="10"),
    surface("wash", "limewash", wash_colour="white", old_coating="none"),
)


@pytest.mark.parametrize("name", NAMES)
def test_tasks_of_a_wall_come_in_the_order_of_the_steps_of_its_sheet(name: str) -> None:
    made = example(name)
    assert all(len(spans(made, wall.path)) > 4 for wall in made.facts.views("element"))
    assert out_of_order(made) == []


def test_tasks_of_a_wall_that_is_bared_rendered_and_washed_come_in_the_order_of_its_sheet() -> None:
    made = planned(scaffolded(*RENDERED, lead_paint="none", wall_painting="none"), finish_date="2028-09-29")
    assert len(spans(made, ("front",))) > 12
    assert out_of_order(made) == []


@pytest.mark.parametrize("name", NAMES)
def test_no_joint_is_opened_before_its_panel_is_answered_and_none_stands_open_for_weeks(name: str) -> None:
    made = example(name)
    for work in made.facts.views("work"):
        opened = standing(made, ("rake", "rake-first", "rake-length", "take-down"), work.path)
        laid = standing(made, ("pack", "lay"), work.path)
        answered = work.day("panel_answered_date")
        if opened and laid and answered is not None:
            first = min(task.start for task in opened)
            assert first > answered
            assert (min(task.start for task in laid) - first).days <= LONGEST_OPEN_DAYS


def test_a_stack_is_hammered_at_its_top_before_a_joint_below_is_raked_and_its_flues_are_shut_off_before_all() -> None:
    made = example("mill-house")
    (off,), (shut,) = (standing(made, (name,), ("stack",)) for name in ("flaunching-off", "flues-off"))
    (bedded,), (raked,) = (standing(made, (name,), ("stack",)) for name in ("top-bedded", "rake-length"))
    first = min(task.start for task in made.programme.tasks() if task.place == ("stack",))
    assert shut.start == first
    assert off.finish < bedded.start <= bedded.finish < raked.start


def test_props_stay_until_the_last_coat_beside_them_has_been_kept_damp() -> None:
    made = example("mill-house")
    (out,) = standing(made, ("props-out",), ("chamber-ceiling",))
    kept = standing(made, ("damp",), ("chamber-ceiling",))
    assert kept
    assert out.start >= max(task.finish for task in kept)


def test_a_panel_on_a_wall_that_is_bared_is_made_on_the_bared_face() -> None:
    made = planned(scaffolded(*RENDERED, lead_paint="none", wall_painting="none"), finish_date="2028-09-29")
    (bare,) = standing(made, ("laid-bare",), ("front", "off"))
    assert min(task.start for task in standing(made, ("panel-coat",), ("front", "coat"))) >= bare.finish


def test_limewash_starts_when_the_damping_of_new_render_has_ended_and_its_last_start_follows_from_that() -> None:
    made = example("mill-house")
    (damp,) = standing(made, ("damp",), ("rear", "render", "render-finish"))
    (wash,) = standing(made, ("wash",), ("rear", "limewash"))
    assert 0 <= (wash.start - damp.finish).days <= 7  # within the week of its clause
    render = made.facts.at_scope(("rear", "render", "render-finish"))
    last, by = made.facts.at_scope(("rear", "limewash")).day("last_start_date"), render.day("last_placing_date")
    kept = render.number("kept_damp_days")
    assert last is not None
    assert by is not None
    assert kept is not None
    assert (last - by).days <= kept + 7


def test_stuff_that_rests_is_not_used_before_it_has_rested_from_the_start_on() -> None:
    made = example("mill-house")
    start = made.programme.start
    assert start is not None
    laid = [task for task in made.programme.tasks() if task.entry in ("panel-coat", "colour", "lay")]
    rests = [(task, made.facts.at_scope(task.path).real("mix_used_rest_days") or 0.0) for task in laid]
    assert max(days for _, days in rests) >= 7
    assert [task.key for task, days in rests if (task.start - start).days < days] == []
