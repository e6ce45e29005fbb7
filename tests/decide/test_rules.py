"""Rules of depth, grain, layer, curing and season on one wall, changed one answer at a time."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import shipped
from small_library import job

from generator.decide.rules import rake_depth
from generator.values import Value

FRONT, REPOINT, POINTING = ("front",), ("front", "repoint"), ("front", "repoint", "pointing")


def decided(name: str, text: str) -> Value | None:
    """The value of a name as seen from the pointing of the one wall."""
    return job(text).facts.get(POINTING, name)


@pytest.mark.parametrize(
    ("exposure", "position", "reckoned"),
    [
        ("moderate", "wall", "moderate"),
        ("sheltered", "chimney", "severe"),
        ("moderate", "parapet", "very-severe"),
        ("moderate", "below-damp-course", "severe"),
        ("sheltered", "freestanding", "moderate"),
        ("sheltered", "marine", "very-severe"),
        ("severe", "indoors", "internal"),
    ],
)
def test_places_wetter_than_the_wall_are_reckoned_wetter(
    exposure: str, position: str, reckoned: str
) -> None:  # common practice
    assert decided("exposure_reckoned", one_wall(exposure=exposure, position=position)) == reckoned


def test_a_place_is_never_reckoned_drier_than_it_was_answered_unless_it_is_indoors() -> None:
    names = shipped().names
    order = list(names["exposure_reckoned"].choices)
    table = shipped().tables["exposure-reckoned"]
    for exposure in names["exposure"].choices:
        for position in set(names["position"].choices) - {"indoors"}:
            row = table.find(exposure=exposure, position=position)
            assert row is not None
            assert order.index(row.values["exposure_reckoned"]) >= order.index(exposure)


@pytest.mark.parametrize(
    ("masonry", "hardness", "wanted"),
    [("brick", "soft", "soft"), ("rubble", "hard", "hard"), ("flint", None, "dense"), ("chalk", "hard", "soft")],
)
def test_the_weakest_unit_gives_the_wall_its_class(masonry: str, hardness: str | None, wanted: str) -> None:
    assert decided("wall_class", one_wall(masonry=masonry, hardness=hardness)) == wanted


def test_without_the_hardness_there_is_no_class_and_no_binder_rather_than_a_guess() -> None:
    made = job(one_wall(hardness="not known"))
    assert made.facts.get(FRONT, "wall_class") is None
    assert made.facts.get(POINTING, "binder") is None
    assert made.status == "draft"


@pytest.mark.parametrize(
    ("joint", "depth"), [("9 - 12 (10)", 25), ("12 - 18 (14)", 30), ("12 - 18 (15)", 30), ("30 - 40 (35)", 50)]
)
def test_brick_is_raked_the_greater_of_twice_the_joint_and_25_mm_in_steps_of_5(joint: str, depth: int) -> None:
    # NPS Preservation Brief 2 (2 to 2.5 times the joint); BS 8221-2 as quoted (at least 20 mm, aim 25)
    assert decided("rake_depth_mm", one_wall(joint_width_mm=joint)) == depth


def test_ashlar_is_cut_30_to_40_mm_deep_whatever_its_joint() -> None:  # Historic Scotland Inform guide on ashlar
    text = one_wall(masonry="ashlar", hardness="medium", joint_width_mm="2 - 4 (3)", bond=None)
    depth = decided("rake_depth_mm", text)
    assert isinstance(depth, Decimal)
    assert 30 <= depth <= 40


def test_only_repointing_has_a_raking_depth() -> None:
    text = answers(wall(work("render", work="render", render_kind="flat", joint_finish=None)))
    made = job(text)
    assert rake_depth(made.facts.at_scope(("front", "render")), shipped()).values == {}
    assert made.facts.get(("front", "render"), "rake_depth_mm") is None


@pytest.mark.parametrize(
    ("joint", "grain"), [("9 - 12 (10)", "3"), ("6 - 9 (8)", "2"), ("12 - 15", "4"), ("20 - 30", "4"), ("3 - 5", "1")]
)
def test_no_grain_is_over_a_third_of_the_least_joint(joint: str, grain: str) -> None:
    # Historic Scotland Inform: grain a third of the joint; common practice
    assert decided("greatest_grain_mm", one_wall(joint_width_mm=joint)) == Decimal(grain)


def test_a_joint_finer_than_any_sand_is_told_and_takes_the_finest() -> None:
    made = job(one_wall(joint_width_mm="0.5 - 1 (1)"))
    assert made.facts.get(POINTING, "greatest_grain_mm") == Decimal("0.5")
    assert "joint-finer-than-sand" in {item.code for item in made.findings}


def test_a_coarser_grain_asked_for_is_refused_and_the_right_one_specified() -> None:
    made = job(one_wall(asked_grain_mm="5"))
    assert made.facts.get(POINTING, "greatest_grain_mm") == 3
    refusal = next(item for item in made.findings if item.code == "asked-grain-refused")
    assert refusal.level == "refusal"
    assert "5 mm" in refusal.message
    assert "3 mm" in refusal.message


def test_a_finer_grain_asked_for_raises_no_refusal() -> None:
    assert "asked-grain-refused" not in {item.code for item in job(one_wall(asked_grain_mm="2")).findings}


def test_units_without_suction_are_kept_damp_longer() -> None:  # common practice
    soft = decided("damp_days", one_wall(hardness="hard"))
    dense = decided("damp_days", one_wall(hardness="dense"))
    assert isinstance(soft, Decimal)
    assert isinstance(dense, Decimal)
    assert dense > soft


def test_a_row_is_not_found_while_a_key_is_not_known_and_never_a_default_taken() -> None:
    made = job(one_wall(exposure="not known"))
    assert shipped().tables["exposure-reckoned"].found(made.facts.at_scope(FRONT)) == (None, ())
    assert made.facts.held(FRONT, "exposure_reckoned") is None


def test_a_row_that_is_found_tells_the_answers_it_was_found_by() -> None:
    made = job(one_wall())
    row, told = shipped().tables["rake-depth"].found(made.facts.at_scope(FRONT), unknown=("brick_thickness",))
    assert row is not None
    assert told == ("masonry: brick",)
    assert row.number("least_mm") == 25
