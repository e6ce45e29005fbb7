"""A face indoors dries when works on the outside of its wall have stopped wetting it: in time and in words."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import example, job
from timed_jobs import keys, planned, scaffolded, surface, task

from generator.papers.steps import all_steps

GUTTER = {"enabling_tasks": "[gutters]", "gutter_m": "10", "face_area_m2": None, "quantity_sure": None}
CURED = {"decay_causes": "[gutter]", "causes_cured": "in-this-work", "wall_wet": "damp"}
ROOM = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open", **CURED}
PLASTER = {"plaster_coats": "three", "plaster_surface": "trowelled", "dubbing_mm": "0", "cornice_m": "0"}


def front(*works: str) -> str:
    return scaffolded(*works, surface("g", "enabling", **GUTTER), **CURED)


def room(**changes: str) -> str:
    plaster = surface("p", "plaster", **PLASTER)
    return wall(plaster, id_="room", name="Room", **{**ROOM, "cured_on": "[front]", **changes})


def test_the_room_behind_a_front_dries_once_the_front_is_no_longer_kept_damp() -> None:
    found = example("mill-house")
    damp, dries = (task(found.programme, key) for key in ("front/repoint/pointing/damp", "dining-room/dry-out"))
    released, coat = (task(found.programme, f"dining-room/{key}") for key in ("dry-released", "plaster/scratch/lay"))
    assert dries.start >= damp.finish
    assert (released.start - damp.finish).days >= 14
    assert coat.start > released.finish
    assert released.hold == "dry-face"


def test_a_room_behind_a_front_that_is_mended_dry_waits_for_its_gutter_alone() -> None:
    wetted, dry = planned(front(work()), room()), planned(front(), room())
    assert task(wetted.programme, "room/dry-out").start >= task(wetted.programme, "front/repoint/pointing/damp").finish
    proved = task(dry.programme, "room/cured-elsewhere")
    assert task(dry.programme, "room/dry-out").start == proved.finish
    told = ("plaster.wet-walls", "plaster.wet-walls-outside")
    assert [[found.in_papers(clause) for clause in told] for found in (dry, wetted)] == [[True, False], [False, True]]


def test_paint_that_is_stripped_wet_outside_is_waited_for_too() -> None:
    found = planned(front(surface("s", "remove", removed="film-paint")), room()).programme
    assert task(found, "room/dry-out").start >= task(found, "front/s/laid-bare").finish


@pytest.mark.parametrize("changes", [{"wall_wet": "dry"}, {"causes_cured": "done", "cured_on": None}])
def test_a_room_whose_face_need_not_dry_waits_for_no_damping_outside(changes: dict[str, str]) -> None:
    found = planned(front(work()), room(**changes))
    assert found.facts.at_scope(("room",)).yes("wetted_outside") is not True
    assert not found.in_papers("plaster.wet-walls-outside")


def test_a_ceiling_on_laths_is_wetted_by_no_wall_beside_it() -> None:
    found = example("mill-house").programme
    assert task(found, "chamber-ceiling/dry-out").start == task(found, "chamber-ceiling/cured-elsewhere").finish


@pytest.mark.parametrize("dated", [True, False])
def test_the_sheet_says_it_with_or_without_dates(dated: bool) -> None:
    dates = {} if dated else {"start_date": None, "finish_date": None}
    found = job(answers(front(work()), room(), **dates))
    assert ("room/dry-out" in keys(found.programme)) is dated
    texts = [step.entry.id for step in all_steps(found, ("room",)) if step.entry.holds == ("dry-face",)]
    assert "plaster.wet-wall-outside" in texts
    assert "plaster.wet-wall" not in texts
