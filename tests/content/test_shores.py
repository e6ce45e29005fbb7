"""Props and needles of what is rebuilt: in before a unit moves, out once it bears, on every paper."""

from __future__ import annotations

import pytest
from answers_text import work
from timed_jobs import planned, scaffolded, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.values import month_day_short

STEPS = (
    "rebuild.record",
    "rebuild.record-propped",
    "rebuild.support-numbered",
    "rebuild.damp",
    "rebuild.shores-out",
    "wall.look",
)


def rebuilt(what: str, *works: str, **told: str) -> Job:
    of_units = {"replaced_units_nr": "6"} if what == "units" else {"replaced_units_nr": "0"}
    built = surface("up", "rebuild", rebuild_what=what, rebuild_thickness_mm="220", face_area_m2="6", **of_units)
    return planned(scaffolded(built, *works, **told), finish_date="2028-09-29")


@pytest.mark.parametrize("what", ["whole", "facing"])
@pytest.mark.parametrize("works", [(), (work("pointed"),)])
def test_props_go_in_before_the_pictures_are_passed_and_come_out_by_a_step_a_hold_a_day_and_a_line_of_the_form(
    what: str, works: tuple[str, ...]
) -> None:
    made = rebuilt(what, *works)
    told = [step.entry for step in all_steps(made, ("front",)) if step.entry.id in STEPS]
    assert [entry.id for entry in told] == list(STEPS[1:])
    assert told[1].holds == ("numbered",)
    out = next(task for task in made.programme.tasks() if task.entry == "shores-out")
    damp = next(task for task in made.programme.tasks() if task.entry == "damp" and task.path[:2] == out.path[:2])
    assert (out.hold, out.start > damp.start, out.finish > damp.finish) == ("shores-out", True, True)
    specification = outline(assemble(made).specification)
    days = made.facts.spoken(("front", "up"), "shores_out_date"), month_day_short(out.finish)
    assert any(f"Props out | {day}" in specification for day in days)
    assert "before the first of its props is eased" in specification
    (records,) = (outline(paper) for paper in companions(made, ["records"]).values())
    assert "before the first of its props is eased" in records
    assert "Prop set, looked at on" in records.partition("What guards people")[2]


def test_single_units_are_numbered_at_their_hold_and_nothing_is_propped() -> None:
    made = rebuilt("units")
    told = [step.entry for step in all_steps(made, ("front",)) if step.entry.id in STEPS]
    assert [entry.id for entry in told] == ["rebuild.record", "rebuild.damp", "wall.look"]
    assert told[0].holds == ("numbered",)
    assert "its props is eased" not in outline(assemble(made).specification)
