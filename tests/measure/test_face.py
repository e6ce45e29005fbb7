"""The face of a wall as it is answered: its areas by hand, what lies in it, and what it offers."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import one_wall
from jobs import job

from generator.library.findings import Finding
from generator.measure.face import Face, Rectangle, face_of

WIDE = {"face_width_m": "9.4", "face_height_m": "5.2"}


def face(**changes: str | None) -> Face:
    found = face_of(job(one_wall(**WIDE, **changes)).facts.at_scope(("front",)))
    assert found is not None
    return found


def told(code: str, **changes: str | None) -> list[Finding]:
    return [item for item in job(one_wall(**changes)).findings if item.code == code]


@pytest.mark.parametrize(
    ("top", "area"),
    [("level", "48.88"), ("gable", "62.04"), ("rising-left", "62.04"), ("rising-right", "62.04")],
)
def test_the_area_is_that_of_rectangle_and_triangle(top: str, area: str) -> None:
    # by hand: 9.4 x 5.2 = 48.88, and half of 9.4 x 2.8 above it
    found = face(face_top=top, face_peak_m=None if top == "level" else "8")
    assert found.area_m2 == found.zone_m2 == Decimal(area)


def test_a_zone_has_the_face_between_its_heights() -> None:
    # by hand: of the triangle above 6.6 m, half its height, a quarter of 13.16; the rest lies below
    low = face(face_top="gable", face_peak_m="8", zone_boundary="a band", zone_to_m="6.6")
    high = face(face_top="gable", face_peak_m="8", zone_boundary="a band", zone_from_m="6.6")
    assert high.zone_m2 == Decimal("3.29")
    assert low.zone_m2 + high.zone_m2 == low.area_m2


@pytest.mark.parametrize(
    ("left", "foot", "inside"), [(4.2, 7.0, True), (0.2, 5.0, False), (8.6, 1.0, False), (0, 0, True)]
)
def test_a_rectangle_lies_in_a_gable_only_below_its_slopes(left: float, foot: float, inside: bool) -> None:
    part = Rectangle(Decimal(str(left)), Decimal(str(foot)), Decimal(1), Decimal("0.5"))
    assert face(face_top="gable", face_peak_m="8").holds(part) is inside


def test_a_face_of_which_a_side_is_missing_is_none() -> None:
    wall = job(one_wall(face_width_m="9.4")).facts.at_scope(("front",))
    assert face_of(wall) is None


def test_openings_across_the_edge_of_a_zone_count_in_it_by_what_lies_there() -> None:
    window = "[{kind: window, width_m: 1, height_m: 2, left_m: 1, sill_m: 1}]"
    found = face(zone_boundary="a band", zone_to_m="1.5", wall_openings=window)
    assert found.zone_openings_m2 == Decimal("0.5")


def test_a_face_offers_its_area_where_none_was_answered_and_the_set_stays_a_draft() -> None:
    window = "[{kind: window, width_m: 1, height_m: 2}]"
    given = {**WIDE, "wall_openings": window, "face_area_m2": None}
    (offered,) = told("face-area-offered", **given)
    assert offered.level == "note"
    assert "48.9 m²" in offered.message
    assert "2 m²" in offered.message
    assert job(one_wall(**given)).status == "draft"


def test_an_area_that_was_answered_is_not_offered_another() -> None:
    assert told("face-area-offered", **WIDE) == []


def test_joints_that_fail_here_and_there_may_be_fewer_than_the_part_they_lie_in_and_never_more() -> None:
    def parts(wide: str) -> str:
        return f"[{{left_m: 0, bottom_m: 0, width_m: {wide}, height_m: 3}}]"

    given = {**WIDE, "face_area_m2": "48.9", "treated_per_cent": "30 - 40 (35)"}
    assert told("placed-area-apart", **given, areas_placed=parts("9")) == []
    (found,) = told("placed-area-apart", **given, areas_placed=parts("3"))
    assert "9 m²" in found.message
    assert "17.1 m²" in found.message


def test_a_stack_has_more_faces_than_the_one_that_is_drawn() -> None:
    given = {"face_width_m": "1", "face_height_m": "2", "face_area_m2": "6"}
    assert told("face-area-apart", **given)
    assert told("face-area-apart", **given, position="chimney") == []


def test_a_list_that_no_drawing_holds_is_told_and_the_rest_of_it_left_out() -> None:
    many = "[" + ", ".join(["{kind: vent, width_m: 0.01, height_m: 0.01}"] * 200) + "]"
    (found,) = told("face-parts-too-many", **WIDE, wall_openings=many)
    assert "(200)" in found.message
    assert len(face(wall_openings=many).openings) == 150
