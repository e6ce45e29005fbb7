"""A cellar is a room whose walls may never dry: it keeps what is asked of rooms, and its lime sets by itself."""

from __future__ import annotations

import pytest
from answers_text import wall
from timed_jobs import codes, planned, surface

from generator.job.job import Job

PLASTER = surface("coat", "plaster", plaster_coats="two", plaster_surface="floated", old_plaster_beside="no")
JOINTS = surface("coat", "repoint", joint_finish="slightly-recessed")
NEVER_HARDENS = {"putty", "hot-mix"}


def cellar(work: str, damp: str | None, masonry: str = "brick") -> Job:
    of_room = {"position": "indoors", "exposure": "internal", "heating_indoors": "none", "air_indoors": "open"}
    known = {"lead_paint": "none", "wall_painting": "none", "wall_wet": "damp", "damp_behind": damp, "masonry": masonry}
    return planned(wall(work, id_="front", name="Cellar", **of_room, **known))


def binders(made: Job) -> set[object]:
    coats = made.facts.views("coat")
    return {coat.text("binder") for coat in coats if coat.text("coat") != "wash"}


@pytest.mark.parametrize("work", [PLASTER, JOINTS], ids=["plaster", "joints"])
@pytest.mark.parametrize("masonry", ["brick", "rubble"])
def test_lime_that_never_hardens_there_is_not_laid_on_a_wall_that_never_dries(work: str, masonry: str) -> None:
    made = cellar(work, "for-good", masonry)
    assert binders(made)
    assert not binders(made) & NEVER_HARDENS
    assert "no-recipe" not in codes(made)
    assert binders(cellar(work, "dries", masonry)) == binders(cellar(work, None, masonry))


def test_a_cellar_keeps_what_is_asked_of_rooms_and_its_plaster_is_told_as_sacrificial() -> None:
    made = cellar(PLASTER, "for-good")
    for clause in ("site.rooms", "curing.heating-off"):
        assert made.in_papers(clause)
    assert made.in_papers("causes.patch-stays")
    assert "plaster-below-damp-course" in codes(made)
    assert "plaster-below-damp-course" not in codes(cellar(PLASTER, "dries"))


def test_air_lime_that_is_asked_for_there_is_told_why_it_is_not_taken() -> None:
    asked = surface("coat", "repoint", joint_finish="slightly-recessed", asked_binder="putty")
    assert "air-lime-never-dry" in codes(cellar(asked, "for-good"))
    assert "air-lime-never-dry" not in codes(cellar(asked, "dries"))
