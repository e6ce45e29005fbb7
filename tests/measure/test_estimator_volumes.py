"""Mortar that an estimator checked by hand: brickwork rebuilt, joints by the metre, flaunching."""

from __future__ import annotations

import pytest
from answers_text import Answers, answers, wall, work
from jobs import example, shipped
from small_library import job

from generator.measure.volumes import MENDED_IN, beside_l_per_m2, coat_alone_l_per_m2, coat_l
from generator.values import Range

LIBRARY = shipped()
NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
)
ASHLAR: dict[str, str | None] = {
    "masonry": "ashlar", "unit_length_mm": "500", "unit_width_mm": None, "unit_height_mm": "300", "bond": None,
    "joint_width_mm": "3 - 5 (4)", "hardness": "medium",
}  # fmt: skip


def litres(text: str, coat: str) -> Range[float] | None:
    return coat_l(job(text).facts.at_scope(("front", "a", coat)), LIBRARY)


def rebuilt(thick_mm: str, wall_is: Answers | None = None) -> str:
    told = {**NOT_REPOINTING, "rebuild_what": "whole", "rebuild_thickness_mm": thick_mm, "face_area_m2": "10"}
    return answers(walled(work("a", work="rebuild", **told), wall_is or {}))


def walled(done: str, wall_is: Answers) -> str:
    """The one wall with a work of its own and some answers changed."""
    return wall(done, id_="front", **wall_is)


# geometry, metric brick with 10 mm joints: 0.0176, 0.0452 and 0.0728 m3 a m2 (price books 0.018 and 0.044 for the
# first two: from memory)
@pytest.mark.parametrize(("thick", "m3"), [("102.5", 0.0176), ("215", 0.0452), ("327.5", 0.0728)])
def test_brickwork_takes_the_mortar_between_its_half_bricks(thick: str, m3: float) -> None:
    found = litres(rebuilt(thick), "bedding")
    assert found is not None
    assert found.likely == pytest.approx(10 * m3 * 1000, rel=0.01)
    assert found.low < found.likely < found.high


def test_a_thickness_that_bricks_do_not_make_falls_back_on_the_share_of_joint() -> None:
    whole, odd = litres(rebuilt("215"), "bedding"), litres(rebuilt("270"), "bedding")
    assert whole is not None
    assert odd is not None
    assert odd.likely == pytest.approx(10 * 270 * 0.1719, rel=0.01)  # stretcher bond, 17.2 per cent of the face


def test_rubble_takes_its_share_of_mortar() -> None:
    brick = dict.fromkeys(("unit_length_mm", "unit_width_mm", "unit_height_mm", "bond"))
    found = litres(rebuilt("450", {**brick, "masonry": "rubble", "hardness": "medium"}), "bedding")
    assert found is not None
    assert 10 * 450 * 0.20 <= found.low < found.high <= 10 * 450 * 0.40  # handbooks: a fifth to a third, and more


def test_joints_measured_by_the_metre_take_mortar_too() -> None:
    told: dict[str, str | None] = {"open_joint_m": "160", "face_area_m2": None, "treated_per_cent": None}
    made = job(answers(walled(work("a", joint_depth_lost_mm="5 - 30", **told), ASHLAR)))
    depth = float(str(made.facts.get(("front", "a"), "rake_depth_mm")))
    found = coat_l(made.facts.at_scope(("front", "a", "pointing")), LIBRARY)
    assert found is not None
    # geometry: a joint 4 mm wide takes 4 ml a metre for each mm of depth
    assert found.likely == pytest.approx(160 * 4 * depth / 1000)
    assert (found.low, found.high) == pytest.approx((160 * 3 * depth / 1000, 160 * 5 * depth / 1000))
    assert all(batch.batches.likely > 0 for batch in made.measured.batches)
    assert {mix for line in made.measured.materials for mix, _ in line.uses} == {"M1"}


def test_flaunching_lies_between_a_pyramid_and_a_top_half_level() -> None:
    told: dict[str, str | None] = {**NOT_REPOINTING, "flaunching_m2": "2", "pots_nr": "0", "face_area_m2": None}
    made = job(answers(wall(work("a", work="flaunching", **told), position="chimney")))
    thick = float(str(made.facts.get(("front", "a", "flaunching"), "coat_mm")))
    found = coat_alone_l_per_m2(made.facts.at_scope(("front", "a", "flaunching")), LIBRARY)
    assert found is not None
    assert found.low == pytest.approx(thick * (1 + 2 / 3) / 3)  # a third at the edge, and a third of the rise
    assert found.high == pytest.approx(thick * (1 + 2 / 3) / 2)  # full over half, the mean slope over half


def test_loose_units_of_a_top_take_what_they_would_in_a_wall_and_a_pot_its_own() -> None:
    """Three bricks at 0.5 l and two pots at 3 l, over the 2 m2 of a flaunching."""
    told: dict[str, str | None] = {**NOT_REPOINTING, "flaunching_m2": "2", "pots_nr": "2", "face_area_m2": None}
    made = job(answers(wall(work("a", work="flaunching", **told), position="chimney", masonry="brick")))
    beside = beside_l_per_m2(made.facts.at_scope(("front", "a", "flaunching")), LIBRARY)
    tenths = {task: each.times(2).each(lambda litres: round(litres * 10)) for task, each in beside.items()}
    assert tenths == {"reset": Range(9, 15, 24), "lay": Range(30, 60, 100)}


# by hand: 3 m2 of places, 30 mm deep on average in rubble (20 to 50), are 90 l (60 to 150) beside a base coat
def test_an_old_face_is_mended_in_the_mix_of_the_first_new_coat_of_its_wall_and_no_other() -> None:
    made = example("mill-house")
    coats = {coat: made.facts.at_scope(("rear", "render", coat)) for coat in ("render-base", "render-finish")}
    area = coats["render-base"].around("work").real("treated_area_m2") or 0.0
    beside = {coat: beside_l_per_m2(here, made.library) for coat, here in coats.items()}
    assert beside["render-base"]["mend-old"].times(area).each(round) == Range(60, 90, 150)
    assert "mend-old" not in beside["render-finish"]
    assert made.library.items["limewash.mending"].coats == MENDED_IN


# by hand: 2 m2 of places, 20 mm deep on average in brick (10 to 35), are 40 l (20 to 70) of the pointing mix
def test_an_old_face_on_which_no_coat_is_laid_is_mended_in_the_mortar_of_its_joints() -> None:
    told: dict[str, str | None] = {**NOT_REPOINTING, "wash_mend_m2": "2", "old_coating": "limewash"}
    front = wall(work("a"), work("w", work="limewash", **told), masonry="brick")
    made = job(answers(front))
    here = made.facts.at_scope(("front", "a", "pointing"))
    area = here.around("work").real("treated_area_m2") or 0.0
    assert beside_l_per_m2(here, LIBRARY)["mend-old"].times(area).each(round) == Range(20, 40, 70)
