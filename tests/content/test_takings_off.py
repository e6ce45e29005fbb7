"""What is taken off has its own step, look and day; lines in its way are freed once the room is closed."""

from __future__ import annotations

import pytest
from answers_text import answers, wall
from jobs import job
from order_of_work import begun_too_soon, ordered_steps, out_of_order, undated, untold
from timed_jobs import surface

from generator.job.job import Job

ROOM = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none", "access": "ground",
}  # fmt: skip


def taken_off(kind: str, **told: str) -> Job:
    coats = surface("coats", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0")
    return job(
        answers(wall(surface("off", "remove", removed=kind), coats, **{**ROOM, **told}), asbestos_survey="clear")
    )


@pytest.mark.parametrize(("kind", "step"), [("film-paint", "remove.paint"), ("textured-coating", "remove.coating")])
def test_paint_and_coatings_are_taken_off_as_released_and_what_is_bared_is_looked_at(kind: str, step: str) -> None:
    """Their sheets went from the trial to the new coats, and the day of a look stood in the programme alone."""
    made = taken_off(kind)
    trial = "remove.trial-paint" if kind == "film-paint" else "remove.textured-clear"
    order = (trial, step, "remove.show", "plaster.record-bared")
    assert ordered_steps(made, "front", *order) == list(order)
    assert made.in_papers("removal.inspection")
    assert [*untold(made), *undated(made)] == []


def test_a_line_in_the_way_inside_is_freed_once_its_room_is_closed() -> None:
    made = taken_off("film-paint", service_freed="alarm cable", lightning_conductor="yes")
    order = ("wall.room", "wall.circuits", "wall.service")
    assert ordered_steps(made, "front", *order) == list(order)
    assert [*out_of_order(made), *begun_too_soon(made)] == []


def test_weep_holes_are_seen_before_covers_hang_for_a_panel_from_the_access() -> None:
    joints = surface("joints", "repoint", panel_place="access")
    made = job(answers(wall(joints, position="retaining", access="scaffold")))
    order = ("wall.weep-holes", "wall.covers", "repoint.panel")
    assert ordered_steps(made, "front", *order) == list(order)
    assert begun_too_soon(made) == []
