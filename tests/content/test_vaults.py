"""Vaults and soffits of masonry are worked overhead: safely, from a deck, at a price and in days of their own."""

from __future__ import annotations

from typing import Any, Final

import pytest
from answers_text import wall
from timed_jobs import codes, planned, surface

from generator.job.job import Job
from generator.papers.steps import all_steps

ROOM: Final[dict[str, Any]] = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none",
}  # fmt: skip
PLASTER: Final = surface(
    "coat", "plaster", plaster_coats="two", plaster_surface="floated", old_plaster_beside="no", face_area_m2="46"
)


def room(overhead: str | None, *works: str, access: str = "deck") -> Job:
    return planned(wall(*(works or (PLASTER,)), id_="front", name="Vault", overhead=overhead, access=access, **ROOM))


def test_a_vault_that_is_plastered_has_its_safety_step_extra_and_days() -> None:
    made, walls = room("yes"), room("no")
    assert made.in_papers("safety.overhead")
    assert not walls.in_papers("safety.overhead")
    assert "wall.overhead" in {step.entry.id for step in all_steps(made, ("front",))}
    assert "plaster.vaults" in {item.entry.id for item in made.measured.items()}
    assert "plaster.vaults" not in {item.entry.id for item in walls.measured.items()}
    ends = [max(task.finish for task in each.programme.tasks() if task.key.endswith("/lay")) for each in (made, walls)]
    assert ends[0] > ends[1]


@pytest.mark.parametrize(("access", "told"), [("ground", True), ("tower", True), ("deck", False)])
def test_a_vault_is_worked_from_a_full_deck(access: str, told: bool) -> None:
    assert ("ceiling-without-deck" in codes(room("yes", access=access))) == told


def test_a_repointed_vault_is_dearer_than_a_wall() -> None:
    made = room("yes", surface("joints", "repoint", joint_finish="slightly-recessed"))
    assert "repoint.vaults" in {item.entry.id for item in made.measured.items()}
    assert made.in_papers("safety.overhead")


def test_old_plaster_of_a_vault_is_propped_from_below_and_nothing_is_where_none_hangs() -> None:
    assert room("yes", surface("fix", "refix")).facts.get(("front",), "propped") == "below"
    assert room("no", surface("fix", "refix")).facts.get(("front",), "propped") == "floor"
    assert "ceiling-may-fall" not in codes(room("yes"))
    assert not any("vault or soffit" in item.message for item in room("yes").findings if item.code == "answer-unused")
