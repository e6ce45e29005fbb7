"""A wall with nests in use: its sheet, its form of release and its dates wait for the young to have flown."""

from __future__ import annotations

from datetime import date
from typing import Final

import pytest
from answers_text import wall, work
from order_of_work import days_of, ordered_steps, out_of_order, standing, undated
from timed_jobs import codes, planned, scaffolded, surface

from generator.job.job import Job

FLOWN: Final = date(2027, 5, 31)
NESTS: Final = {"species_evidence": "[nests]", "nests_flown_date": FLOWN.isoformat()}
NOT_MEASURED: Final = {"quantity_sure": None, "face_area_m2": None}
TOUCH_NOTHING: Final = {"engineer", "covers-hung", "panel-pictures", "growth-pictured"}


def dug() -> str:
    ground = surface("g", "enabling", enabling_tasks="[ground]", ground_m="9", **NOT_MEASURED)
    causes = {"decay_causes": "[high-ground, leak]", "causes_cured": "in-this-work", "wall_wet": "damp"}
    return scaffolded(ground, work(panel_place="ground"), **causes, **NESTS)


def under_sum() -> str:
    causes = {"decay_causes": "[high-ground, leak]", "causes_cured": "in-this-work", "wall_wet": "damp"}
    return scaffolded(work(panel_place="ground"), **causes, **NESTS)


WALLS: Final = {
    "dug along": dug(),
    "dug under a sum": under_sum(),
    "grown over": scaffolded(work(), decay_causes="[plants]", causes_cured="in-this-work", **NESTS),
    "without a scaffold": wall(work(panel_place="ground"), **NESTS),
    "of a stack": wall(
        work(), position="chimney", flues="some-live", flue_liners="none", access="roof-scaffold", **NESTS
    ),
    "washed": scaffolded(surface("w", "limewash", old_coating="limewash", panel_place="ground"), **NESTS),
    "leaning": scaffolded(work(), leaning="yes", engineer_says="with-care", **NESTS),
    "with bats that a letter clears": scaffolded(
        work(), **{**NESTS, "species_evidence": "[roof, nests]", "ecologist_says": "clear"}
    ),
}


def made(name: str) -> Job:
    return planned(WALLS[name], finish_date="2028-09-29", ground_remains="none-expected")


@pytest.mark.parametrize("name", WALLS)
def test_nothing_is_begun_on_a_wall_with_nests_in_use_before_their_young_have_flown(name: str) -> None:
    """A bar stood in the papers without a step, a hold or a day, and their dates put the scaffold up in April."""
    found = made(name)
    on_wall = [task for task in found.programme.tasks() if task.kind in ("work", "hold", "access")]
    assert [task.key for task in on_wall if task.start < FLOWN and task.entry not in TOUCH_NOTHING] == []
    (word,) = days_of(found, "front", "ecologist")
    assert (word.hold, word.start) == ("ecologist", FLOWN)
    assert ordered_steps(found, "front", "wall.wildlife") == ["wall.wildlife"]
    assert [*out_of_order(found), *undated(found)] == []
    assert found.serves("building.nests", ("front",))


@pytest.mark.parametrize(("day", "told"), [(FLOWN.isoformat(), False), (None, True)])
def test_a_job_whose_nests_have_no_day_is_not_fit_for_tender(day: str | None, told: bool) -> None:
    found = planned(scaffolded(work(), species_evidence="[nests]", nests_flown_date=day), finish_date="2027-12-17")
    assert ("not-answered" in codes(found)) is told
    assert found.status == ("draft" if told else "tender")


def test_papers_tell_the_day_from_which_a_wall_with_nests_is_worked_on() -> None:
    found = planned(scaffolded(work(), **NESTS))
    assert "not before {{ nests_flown_date }}" in found.library.clauses["building.nests"].text
    assert found.facts.at_scope(("front",)).day("nests_flown_date") == FLOWN


def test_no_day_of_nests_is_asked_where_there_are_none() -> None:
    assert "answer-unused" in codes(planned(wall(work(), nests_flown_date="2027-05-31")))


@pytest.mark.parametrize("evidence", ["not known", "[roof]"])
def test_an_ecologist_who_let_the_work_go_on_is_waited_for_on_no_wall_without_nests(evidence: str) -> None:
    found = planned(scaffolded(work(), species_evidence=evidence, ecologist_says="clear"))
    assert standing(found, ("ecologist",), ("front",)) == []
    assert list(undated(found)) == []
