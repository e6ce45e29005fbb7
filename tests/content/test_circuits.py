"""Circuits behind old coats: dead before a cut, boxes out before a coat, all back while access stands, dated."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import job
from order_of_work import days_of, ordered_steps, standing
from timed_jobs import surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions

ROOM = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "found", "wall_painting": "none",
}  # fmt: skip


def room(kind: str, access: str = "tower") -> Job:
    coats = {"plaster_coats": "two", "plaster_surface": "floated", "dubbing_mm": "10", "cornice_m": "0"}
    own = surface("coats", kind, **(coats if kind == "plaster" else {"removed": "lime-plaster"}))
    return job(answers(wall(own, access=access, **ROOM)))


@pytest.mark.parametrize("access", ["tower", "ground"])
def test_an_electrician_comes_before_the_first_cut_and_the_first_coat_and_after_the_last_damping(
    access: str,
) -> None:
    made = room("plaster", access)
    closed, boxes, first = days_of(made, "front", "room-closed", "boxes-set", "lay")
    damp = max(task.finish for task in standing(made, ("damp",), ("front",)))
    (back,) = days_of(made, "front", "circuits-back")
    (wiped,) = days_of(made, "front", "wiped")
    assert closed.finish < boxes.start < first.start
    assert damp < back.start < wiped.start
    assert access == "ground" or back.finish < days_of(made, "front", "access-down")[0].start


def test_each_visit_is_a_hold_of_the_sheet_in_its_order_and_a_line_of_the_form() -> None:
    made = room("plaster")
    steps = ("wall.circuits", "plaster.boxes", "plaster.scratch-ruled", "wall.circuits-back", "wall.look-room")
    assert ordered_steps(made, "front", *steps) == list(steps)
    assert [task.hold for task in days_of(made, "front", "boxes-set", "circuits-back")] == ["circuits", "circuits"]
    (records,) = companions(made, ["records"]).values()
    assert any(line.startswith("Circuits dead") for line in outline(records).splitlines())


def test_what_has_no_new_face_has_no_boxes_to_move_and_a_room_repointed_no_electrician() -> None:
    removed = room("remove")
    assert standing(removed, ("circuits-back",), ("front",))
    assert not standing(removed, ("boxes-set",), ("front",))
    joints = job(answers(wall(work("p"), access="tower", **ROOM)))
    assert not standing(joints, ("circuits-back", "boxes-set"), ("front",))
    assert not joints.in_papers("safety.circuits")


def test_the_owner_reads_from_when_to_when_the_circuits_of_a_room_are_off() -> None:
    (page,) = companions(room("plaster"), ["owner"]).values()
    assert any("room closed, power off, " in line for line in outline(page).splitlines())


def test_the_electrician_is_ordered_weeks_before_the_room_is_closed() -> None:
    made = room("plaster")
    (order,) = (order for order in made.programme.orders if order.thing == "electrician")
    (closed,) = days_of(made, "front", "room-closed")
    assert order.first_use == closed.start
    assert (closed.start - order.by).days >= 14
