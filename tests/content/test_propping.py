"""Loose old plaster is propped in all papers or in none: step, hold point, clause, line, hire, days, and its end."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

import pytest
from answers_text import wall
from decided_cases import HERE, case
from jobs import EXAMPLES, example
from order_of_work import days_of
from timed_jobs import planned, surface
from told_papers import specification

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.steps import all_steps
from generator.questionnaire.facts import View

CEMENT = surface("off", "remove", removed="cement-render", removed_hold="loose")
CEILING_OFF = surface("off", "remove", removed="lime-plaster", removed_hold="loose")
RENDER = surface(
    "coats", "render", render_kind="flat", panel_place="access", new_laths_m2="3", lath_gap_mm="9", dubbing_mm=None
)
PLASTER = surface(
    "coats", "plaster", plaster_coats="three", plaster_surface="trowelled", new_laths_m2="0", lath_gap_mm="9",
    cornice_m="0", old_plaster_beside="yes",
)  # fmt: skip
WASH = surface("wash", "limewash", old_coating="none", wash_colour="white", wash_mend_m2="0")
REFIX = surface("held", "refix", refix_from_above="no", cornice_m="0")
ROOM = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none",
}  # fmt: skip
FRAME: dict[str, str] = {"masonry": "laths", "overhead": "no", "in_frame": "yes", "height_m": "5"}
CEILING: dict[str, str] = {"masonry": "laths", "overhead": "yes", **ROOM}
WALLS: dict[str, tuple[tuple[str, ...], dict[str, str]]] = {
    "panels in a frame, cement off": ((CEMENT, RENDER), {**FRAME, "access": "scaffold"}),
    "panels reached from the ground": ((CEMENT, RENDER), {**FRAME, "access": "ground"}),
    "soffit outside": ((CEMENT, RENDER), {**FRAME, "overhead": "yes", "access": "scaffold"}),
    "ceiling taken off alone": ((CEILING_OFF,), {**CEILING, "access": "deck"}),
    "ceiling plastered": ((PLASTER,), {**CEILING, "access": "deck"}),
    "loose plaster on brick": ((REFIX,), {**ROOM, "access": "tower"}),
    "loose render on brick": ((REFIX,), {"access": "scaffold"}),
}
CLAUSES = ("safety.propping", "safety.propping-upright")
CASES = [path.stem for path in sorted(HERE.glob("*.yaml"))]
NAMES = [path.parent.name for path in EXAMPLES]
LINES = {"plaster.propping", "plaster.propping-upright"}


def made(name: str) -> Job:
    works, answers = WALLS[name]
    return planned(wall(*works, **answers), finish_date="2028-09-29")


def places(job: Job, here: View) -> Iterator[str]:
    """Where in the papers the props of a wall stand."""
    steps = [told.entry for told in all_steps(job, here.path)]
    tasks = {task.entry for task in job.programme.tasks() if task.path == here.path}
    lines = [item for item in job.measured.items() if item.path == here.path]
    yield from ["clause"] * any(job.serves(clause, here.path) for clause in CLAUSES)
    yield from ["step"] * any("props" in step.holds for step in steps)
    yield from ["step out"] * any(step.id.endswith("props-out") for step in steps)
    yield from ["hold"] * ("props" in tasks)
    yield from ["out"] * bool(tasks & {"props-out", "props-off"})
    yield from ["line"] * (len([item for item in lines if item.entry.id in LINES]) == 1)
    hire = [item.quantity for item in lines if item.entry.id == "plaster.props-weeks"]
    yield from ["hire"] * (bool(hire) and bool(hire[0]))
    yield from ["further week"] * any(item.entry.id == "rates.props-week" for item in lines)


ALL = {"clause", "step", "step out", "hold", "out", "line", "hire", "further week"}


@pytest.mark.parametrize("name", WALLS)
def test_what_is_propped_has_its_place_in_every_paper(name: str) -> None:
    job = made(name)
    (here,) = job.facts.views("element")
    assert set(places(job, here)) == ALL
    table = outline(assemble(job).specification)
    assert re.search(r"^Props of loose plaster, before work near it \|", table, re.M)


@pytest.mark.parametrize("name", [*CASES, *NAMES])
def test_a_wall_has_all_of_these_or_none(name: str) -> None:
    job = example(name) if name in NAMES else case(name)
    dated = job.programme.runs is not None
    for here in job.facts.views("element"):
        found = set(places(job, here))
        undated = set() if dated else {"hire", "hold", "out"}
        assert found | undated in (ALL, undated), here.path


def test_upright_plaster_outside_is_held_back_from_its_access_and_what_hangs_is_propped_before_it() -> None:
    job = made("panels in a frame, cement off")
    names = ("access-up", "props", "surface-marked", "take-off", "laid-bare", "props-off", "panel-coat", "laths-passed")
    days = [next(task.start for task in job.programme.tasks() if task.entry == name) for name in names]
    assert days == sorted(days)
    told = [told.entry.id for told in all_steps(job, ("front",))]
    steps = ("wall.access", "wall.prop-access", "remove.mark", "remove.show", "remove.props-out", "render.timbers")
    assert [step for step in told if step in steps] == list(steps)
    assert "screw props" not in outline(assemble(job).specification)
    assert not job.facts.at_scope(("front",)).known("room_from_date")
    soffit = made("soffit outside")
    first = {task.entry: task for task in reversed([*soffit.programme.tasks()])}
    props, up = first["props"], first["access-up"]
    assert props.finish < up.start
    told = [told.entry.id for told in all_steps(soffit, ("front",))]
    assert told.index("wall.prop") < told.index("wall.access")


@pytest.mark.parametrize(
    ("works", "told_"),
    [
        ((REFIX, RENDER, WASH), {**FRAME, "access": "scaffold"}),
        ((REFIX, PLASTER, WASH), {**CEILING, "access": "deck"}),
    ],
)
def test_what_stays_is_pressed_once_its_props_are_out_and_washed_after_it(
    works: tuple[str, ...], told_: dict[str, str]
) -> None:
    """Nobody washes round a prop; outside no room is kept closed."""
    job = planned(wall(*works, **told_), finish_date="2028-09-29")
    names = ("props", "refix", "props-out", "props-pressed", "prepare-wash", "strike-passed")
    days = [next(task.start for task in job.programme.tasks() if task.entry == name) for name in names]
    assert days == sorted(days)
    told = [told.entry for told in all_steps(job, ("front",))]
    steps = [step.id for step in told]
    assert len([step for step in steps if step.endswith("props-out")]) == 1
    out = next(number for number, step in enumerate(steps) if step.endswith("props-out"))
    damp = max(number for number, step in enumerate(steps) if step in ("render.damp", "plaster.keep-damp"))
    assert damp < out < steps.index("refix.proof") < steps.index("limewash.face")
    inside = told_.get("position") == "indoors"
    assert job.in_papers("refix.proof") is inside
    assert job.in_papers("refix.proof-outside") is not inside


@pytest.mark.parametrize(("name", "outside"), [("render off laths outside", True), ("ceiling taken off alone", False)])
def test_who_takes_old_plaster_off_laths_outside_is_told_of_no_rooms_above_and_below(name: str, outside: bool) -> None:
    if outside:
        gable = {"masonry": "laths", "overhead": "no", "access": "scaffold"}
        job = planned(wall(CEILING_OFF, **gable), finish_date="2028-09-29")
    else:
        job = made(name)
    clauses = ("safety.taking-down-outside", "safety.taking-down")
    assert [job.in_papers(clause) for clause in clauses] == [outside, not outside]


NEW_LATHS: Final = {"masonry": "laths", "overhead": "no", **ROOM, "access": "ground", "plaster_age": "before-1920"}


def partition(beside: str) -> Job:
    """A partition lathed and plastered anew from end to end."""
    coats = {"plaster_coats": "three", "plaster_surface": "trowelled", "cornice_m": "0", "lath_gap_mm": "9"}
    new = surface("new", "plaster", face_area_m2="12", new_laths_m2="12", old_plaster_beside=beside, **coats)
    return planned(wall(new, **NEW_LATHS), finish_date="2028-09-29")


def test_bare_studs_without_old_plaster_have_none_propped_cut_screwed_or_breathed() -> None:
    """The answer that no old plaster stays was read for masonry alone; props then held up nothing for weeks."""
    bare, beside = (partition(answer) for answer in ("no", "yes"))
    for job, holds in ((bare, False), (beside, True)):
        (here,) = job.facts.views("element")
        told = {told.entry.id for told in all_steps(job, here.path)}
        assert bool(set(places(job, here))) == holds
        assert ("plaster.edges-on-laths" in told, "wall.hygiene" in told, "plaster.new-laths" in told) == (holds,) * 3
        assert ("plaster.new-laths-alone" in told) != holds
        assert [job.in_papers(clause) for clause in ("laths.edges", "safety.hair-plaster")] == [holds] * 2
        assert bool([task for task in job.programme.tasks() if task.entry == "edges"]) == holds


def test_no_flake_of_paint_is_taken_from_below_what_is_loose_before_that_is_propped() -> None:
    made = planned(wall(REFIX, **{**CEILING, "access": "deck", "lead_paint": "not-tested"}))
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert told.index("wall.prop") < told.index("wall.lead-test") < told.index("wall.room")


@pytest.mark.parametrize("clause", ["refix.screws", "refix.on-masonry"])
def test_old_plaster_is_held_while_a_board_of_its_props_makes_room_for_a_screw(clause: str) -> None:
    """Screws and washers are set while the props stand, whose boards lie on the very plaster."""
    text = example("mill-house").library.clauses[clause].text
    assert "boards of props clear of seats" in text
    assert "two people turn up another beside it before they move it" in text
    for safety in CLAUSES:
        assert "nobody moves one alone" in example("mill-house").library.clauses[safety].check


@pytest.mark.parametrize("name", ["loose plaster on brick", "loose render on brick"])
def test_loose_plaster_is_drawn_once_its_props_stand_and_before_a_screw_and_its_fillings_have_a_day_to_be_seen(
    name: str,
) -> None:
    job = made(name)
    props, drawn, screwed, filled = days_of(job, "front", "props", "refix-survey", "refix", "refix-fill")
    assert props.finish < drawn.start <= drawn.finish < screwed.start
    seen = job.facts.at_scope(("front", "held")).day("fillings_seen_date")
    assert seen is not None
    assert (seen - filled.finish).days == 28  # four weeks, as the clause on cracks asks
    assert "Fillings seen from" in specification("mill-house")
    assert "to reach it where access has gone" in job.library.clauses["refix.cracks"].check
