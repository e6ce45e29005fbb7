"""Old plaster that salts have got into is never ordered off without a work, or an order, that pays for it."""

from __future__ import annotations

import pytest
from answers_text import wall
from timed_jobs import codes, planned, surface, told

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.steps import all_steps

ROOM = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
PLASTER = {"plaster_coats": "two", "plaster_surface": "floated", "dubbing_mm": "0", "cornice_m": "0"}
SALTY = "[nitrate]"


def plastered(removed: str, *, beside: str = "yes", salts: str = "heavy") -> Job:
    off = surface("off", "remove", removed=removed, removed_hold="loose")
    new = surface("p", "plaster", old_plaster_beside=beside, **PLASTER)
    return planned(wall(off, new, salts=salts, salt_kinds=SALTY, wall_wet="damp", **ROOM))


@pytest.mark.parametrize("removed", ["cement-render", "gypsum-plaster"])
@pytest.mark.parametrize("salts", ["some", "heavy"])
def test_old_plaster_beside_tanking_that_comes_off_a_salty_wall_is_asked_after(removed: str, salts: str) -> None:
    found = plastered(removed, salts=salts)
    assert "list a work that takes lime plaster off to 300 mm beyond" in told(found, "salty-plaster-stays")
    papers = outline(assemble(found).specification)
    assert "leave old coats off to" not in papers
    assert "ordered in writing and paid as patches in old plaster" in papers
    assert "Patch in old plaster" in papers


def test_salty_lime_plaster_that_a_work_takes_off_is_not_asked_after() -> None:
    found = plastered("lime-plaster")
    assert "salty-plaster-stays" not in codes(found)
    assert found.in_papers("removal.salty")


def test_nor_is_a_wall_without_old_plaster_beside_the_new_or_without_salts() -> None:
    assert "salty-plaster-stays" not in codes(plastered("cement-render", beside="no"))
    assert "salty-plaster-stays" not in codes(plastered("cement-render", salts="none"))


def test_a_salty_room_stops_at_no_dry_face_but_the_one_that_is_released_before_its_plaster() -> None:
    """What is told of a patch that stays kept two holds on the sheet that nothing dated and nobody could pass."""
    plaster = surface("p", "plaster", old_plaster_beside="no", **PLASTER)
    wash = surface("w", "limewash", old_coating="none", wash_colour="white", wash_mend_m2="0")
    cured = {"decay_causes": "[salts, high-ground]", "causes_cured": "by-others", "causes_done_date": "2027-05-03"}
    salty = {"salts": "some", "salt_kinds": SALTY, "salt_sources": "[ground]", "wall_wet": "damp"}
    made = planned(wall(plaster, wash, **cured, **salty, **ROOM), finish_date="2028-09-29")
    held = [step.entry.id for step in all_steps(made, ("front",)) if "dry-face" in step.entry.holds]
    assert held == ["plaster.wet-wall"]
    (wet,) = (step for step in all_steps(made, ("front",)) if step.entry.id == "plaster.wet-wall")
    assert "causes.patch-stays" in wet.entry.clauses
    assert made.serves("causes.patch-stays", ("front",))
