"""Joints: faces, joint length and share, pointing, bedding, deep voids and the share of a face treated."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import joints
from generator.lime.joints import Bond, Unit
from generator.values import Range

METRIC = Unit(215.0, 102.5, 65.0)
# Stretchers and headers in each course of the repeat, written out again for the check of areas.
REPEATS: dict[Bond, list[tuple[int, int]]] = {
    "stretcher": [(1, 0)],
    "header": [(0, 1)],
    "english": [(1, 0), (0, 1)],
    "flemish": [(1, 1)],
    "english-garden": [(1, 0), (1, 0), (1, 0), (0, 1)],
    "flemish-garden": [(3, 1)],
}

units = st.builds(Unit, st.floats(100.0, 900.0), st.floats(50.0, 400.0), st.floats(30.0, 400.0))
widths = st.floats(0.5, 60.0)
bonds = st.sampled_from(sorted(REPEATS))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(joints)
    assert failed == 0
    assert attempted >= 14


@given(units, widths, bonds)
def test_the_joint_share_is_what_the_faces_leave(unit: Unit, joint_mm: float, bond: Bond) -> None:
    face_shares = []
    for long, short in REPEATS[bond]:
        faces_mm = long * unit.length_mm + short * unit.width_mm
        face_shares.append(faces_mm / (faces_mm + (long + short) * joint_mm))
    of_course = sum(face_shares) / len(face_shares)
    left = 1.0 - of_course * unit.height_mm / (unit.height_mm + joint_mm)
    assert joints.joint_area_share(unit, joint_mm, bond) == pytest.approx(left)


@given(units, widths, widths, bonds)
def test_wider_joints_never_show_more_faces(unit: Unit, one_mm: float, other_mm: float, bond: Bond) -> None:
    narrow, wide = sorted((one_mm, other_mm))
    assert joints.faces_per_m2(unit, wide, bond) <= joints.faces_per_m2(unit, narrow, bond)
    assert joints.joint_area_share(unit, wide, bond) >= joints.joint_area_share(unit, narrow, bond)


@given(st.floats(0.0, 1.0), st.floats(0.0, 500.0), st.floats(0.0, 500.0))
def test_deeper_joints_never_need_less_mortar(share: float, one_mm: float, other_mm: float) -> None:
    shallow, deep = sorted((one_mm, other_mm))
    assert joints.pointing_l_per_m2(share, deep) >= joints.pointing_l_per_m2(share, shallow)


def test_garden_bonds_come_down_to_english_and_flemish_at_one_stretcher() -> None:
    for garden, plain in (("english-garden", "english"), ("flemish-garden", "flemish")):
        one = joints.faces_per_m2(METRIC, 10.0, garden, 1)  # type: ignore[arg-type]
        assert one == pytest.approx(joints.faces_per_m2(METRIC, 10.0, plain))  # type: ignore[arg-type]


def test_more_stretchers_in_a_garden_bond_show_fewer_faces() -> None:
    counts = [joints.faces_per_m2(METRIC, 10.0, "english-garden", n) for n in (1, 3, 5, 50)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] > joints.faces_per_m2(METRIC, 10.0, "stretcher")


def test_faces_of_a_header_bond_are_the_bricks_of_a_one_brick_wall() -> None:
    header_faces = joints.faces_per_m2(METRIC, 10.0, "header")
    assert joints.bricks_per_m2(METRIC, 10.0, 2) == pytest.approx(header_faces)
    assert joints.faces_per_m2(METRIC, 10.0, "flemish") < joints.bricks_per_m2(METRIC, 10.0, 2)


def test_a_one_brick_wall_is_as_thick_as_a_brick_is_long() -> None:
    assert joints.brick_wall_mm(METRIC, 10.0, 1) == 102.5
    assert joints.brick_wall_mm(METRIC, 10.0, 2) == 215.0


def test_units_that_do_not_fit_in_the_wall_are_refused() -> None:
    with pytest.raises(ValueError, match=r"units fill 0\.1698 m3/m2: valid up to the wall's 0\.1025"):
        joints.bedding_m3_per_m2(METRIC, 102.5, 118.52)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: joints.faces_per_m2(METRIC, 0.0), r"joint_mm is 0\.0: valid from 0\.1 to 150"),
        (lambda: joints.faces_per_m2(METRIC, 10.0, "english-garden", 0), "stretchers is 0: valid from 1"),
        (lambda: joints.faces_per_m2(METRIC, 10.0, "monk"), "bond is monk: valid stretcher"),  # type: ignore[arg-type]
        (lambda: Unit(215.0, 0.0, 65.0), r"width_mm is 0\.0: valid above 0"),
        (lambda: joints.pointing_l_per_m2(1.1, 20.0), r"area_share is 1\.1: valid from 0 to 1"),
        (lambda: joints.pointing_l_per_m2(0.2, -1.0), r"depth_mm is -1\.0: valid from 0 to 1000"),
        (lambda: joints.bricks_per_m2(METRIC, 10.0, 0), "half_bricks is 0: valid from 1 up"),
        (lambda: joints.rubble_mortar_m3_per_m2(500.0, Range(0.2, 0.3, 1.2)), r"mortar_share is 1\.2"),
        (lambda: joints.ashlar_l_per_m(200.0, 30.0), r"joint_mm is 200\.0: valid from 0\.1 to 150"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
