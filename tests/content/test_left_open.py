"""What nobody knows yet has one step and one clause, and none that contradicts another."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import job
from order_of_work import ordered_steps, undated
from timed_jobs import surface

from generator.document.outline import outline
from generator.papers.companions import companions


@pytest.mark.parametrize(("masonry", "step"), [("brick", "repoint.finish"), ("ashlar", "repoint.finish-fine")])
def test_joints_finished_as_the_old_of_which_nobody_knows_the_finish_have_one_step_that_says_how(
    masonry: str, step: str
) -> None:
    made = job(answers(wall(work("p", joint_finish="as-found", old_joint="not known"), masonry=masonry)))
    found = ("repoint.finish", "repoint.finish-chosen", "repoint.finish-fine", "repoint.finish-fine-chosen")
    assert ordered_steps(made, "front", *found) == [step]


@pytest.mark.parametrize(
    ("heating", "step"), [("not known", "wall.heating"), ("none", "wall.heating-none"), ("low", "wall.heating")]
)
def test_a_room_has_one_step_on_its_heating_whether_or_not_that_is_known(heating: str, step: str) -> None:
    room = {"position": "indoors", "exposure": "internal", "heating_indoors": heating, "air_indoors": "open"}
    coats = surface("coats", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0")
    made = job(answers(wall(coats, lead_paint="none", wall_painting="none", **room)))
    assert ordered_steps(made, "front", "wall.heating", "wall.heating-none") == [step]


@pytest.mark.parametrize(("masonry", "clause"), [("brick", "cement"), ("ashlar", "cement-fine")])
def test_cement_of_which_nobody_knows_how_much_there_is_has_the_clause_of_its_joints_alone(
    masonry: str, clause: str
) -> None:
    made = job(one_wall(masonry=masonry, cement_area_m2="not known"))
    asked = ("raking-out.cement", "raking-out.cement-fine")
    assert [key for key in asked if made.in_papers(key)] == [f"raking-out.{clause}"]


@pytest.mark.parametrize("start", ["2027-05-10", None])
def test_the_owner_of_a_stack_that_is_only_repointed_waits_for_the_paper_on_its_live_flues(start: str | None) -> None:
    """The line hung on new flaunching, and a stack that kept its own had a day on which fires were lit unproved."""
    told = {"position": "chimney", "flues": "all-live", "flue_liners": "none", "access": "roof-scaffold"}
    made = job(answers(wall(work("p"), **told), start_date=start))
    (page,) = companions(made, ["owner"]).values()
    (line,) = (line for line in outline(page).splitlines() if "no fire" in line)
    assert line.endswith("nor before the fitter's paper that its flues are clear.")


def test_a_wall_of_which_nobody_knows_how_wet_it_is_waits_for_its_dry_face_on_its_sheet_too() -> None:
    room = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
    coats = surface("coats", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0")
    made = job(answers(wall(coats, lead_paint="none", wall_painting="none", wall_wet="not known", **room)))
    assert ordered_steps(made, "front", "plaster.wet-wall", "plaster.prepare") == [
        "plaster.wet-wall",
        "plaster.prepare",
    ]
    assert list(undated(made)) == []
