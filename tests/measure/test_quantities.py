"""Areas and lengths by the rules of measurement."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import one_wall
from small_library import job

from generator.papers.schedule import rules

OPENINGS = "[{width_m: 0.60, height_m: 0.80}, {width_m: 1.20, height_m: 1.50}]"
WORK = ("front", "repoint")


# A wall of 4.00 x 3.00 m with openings of 0.48 and 1.80 m2, by thresholds of published rules of measurement
# (0.10 SMM7 masonry and IS 1200, from memory and read; 0.50 NRM2 masonry, from memory; 1.00 NRM2 finishings, from
# memory; 2.50 VOB/C DIN 18350, read).
@pytest.mark.parametrize(
    ("threshold", "net"), [("0.10", "9.72"), ("0.50", "10.20"), ("1.00", "10.20"), ("2.50", "12.00")]
)
def test_openings_above_the_threshold_are_deducted_whole_and_none_below_it(threshold: str, net: str) -> None:
    found = job(one_wall(face_area_m2="12.00", openings=OPENINGS, opening_deducted_over_m2=threshold))
    assert found.facts.get(WORK, "net_area_m2") == Decimal(net)


def test_an_opening_of_just_the_threshold_is_not_deducted() -> None:
    found = job(one_wall(openings="[{width_m: 0.5, height_m: 1.0}]", opening_deducted_over_m2="0.5"))
    assert found.facts.get(WORK, "net_area_m2") == Decimal(12)


def test_the_threshold_in_force_is_printed_with_the_schedule() -> None:
    assert any("1 m²" in rule for rule in rules(job(one_wall(opening_deducted_over_m2="1.00"))))


def test_openings_of_one_size_are_counted() -> None:
    found = job(one_wall(openings="[{width_m: 1.0, height_m: 1.0, count_nr: 3}]"))
    assert found.facts.get(WORK, "net_area_m2") == Decimal(9)


def test_the_treated_area_is_the_net_area_times_the_likely_share() -> None:
    found = job(one_wall(treated_per_cent="30 - 40 (35)"))
    assert found.facts.get(WORK, "treated_area_m2") == Decimal("4.2")


def test_metric_brick_in_stretcher_bond_has_17_2_m_of_joint_in_a_square_metre() -> None:
    # geometry: 215 x 65 mm, 10 mm joints, 17.185 m/m2
    assert job(one_wall()).facts.get(WORK, "joint_length_m_per_m2") == Decimal("17.2")


def test_pointing_25_mm_deep_takes_4_3_l_of_mortar_in_a_square_metre() -> None:
    # geometry: area share 0.1719 times 25 mm
    per_m2 = job(one_wall(joint_width_mm="10")).facts.get(WORK, "mortar_l_per_m2")
    assert per_m2.likely == Decimal("4.3")  # type: ignore[union-attr]


def test_twice_the_area_takes_twice_the_mortar_within_rounding() -> None:
    one, two = (job(one_wall(face_area_m2=area)).measured.materials for area in ("50", "100"))
    for single, double in zip(one, two, strict=True):
        assert double.amount.likely == pytest.approx(2 * single.amount.likely, rel=0.15)  # half a load up, one panel


@pytest.mark.parametrize("area", ["0", None, "not known"])
def test_a_missing_area_leaves_no_live_line_and_makes_a_draft(area: str | None) -> None:
    found = job(one_wall(face_area_m2=area))
    assert found.status == "draft"
    assert all(item.quantity for item in found.measured.items() if item.kind not in ("rate only", "sum"))
    assert any(item.to_follow for item in found.measured.items())
    assert found.measured.materials == ()
