"""What photographs give works, through the answers: check values, sums, and what stands against a figure.

CV numbers are check values worked out for this piece and held against other code (X).
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from answers_text import answers, wall, work
from jobs import job
from photographed import CHECK, CORNERS, LEFT, REFERENCE, RIGHT, codes, jpeg, mark, photograph, pictured, text

from generator.job.job import Job
from generator.lime.plane_reckoning import Quantity
from generator.measure.photographs.reckoning import sum_is_surer
from generator.questionnaire.scopes import ScopePath
from generator.values import Range

WORK: ScopePath = ("front", "repoint")
SQUARE = [[0.30, 0.30], [0.70, 0.30], [0.70, 0.90], [0.30, 0.90]]


def quantity(found: Job) -> Quantity:
    assert found.survey is not None
    (given,) = found.survey.works
    assert given.quantity is not None
    return given.quantity


def test_an_area_is_reckoned_by_its_reference_with_the_lens_that_the_file_tells(tmp_path: Path) -> None:
    # CV22: 3.687595 m2, u 6.01 % by picks and tape, 6.06 % with a lens of 1 % and 10 mm at 7.5 m
    found = pictured(tmp_path, photograph())
    given = quantity(found)
    assert given.area_m2 == pytest.approx(3.687595, abs=1e-6)
    assert given.sigma_share == pytest.approx(0.0606, abs=1e-4)
    assert found.facts.get(WORK, "marked_area_m2") == Range(Decimal("3.2"), Decimal("3.7"), Decimal("4.2"))
    assert found.facts.get(WORK, "marked_on") == "F1 (A)"
    assert codes(found) == {"range-wide": "warning", "area-less": "note"}


def test_areas_of_one_photograph_are_one_figure_and_those_of_several_add_in_squares(tmp_path: Path) -> None:
    # CV23: 6.786679 m2, u 4.00 % together; in squares 4.28 %
    both = quantity(pictured(tmp_path, photograph(marks=[mark(LEFT), mark(RIGHT)])))
    apart = quantity(pictured(tmp_path, photograph(), photograph(file="again.jpg", marks=[mark(RIGHT)])))
    assert both.area_m2 == pytest.approx(6.786679, abs=1e-6)
    assert apart.area_m2 == pytest.approx(both.area_m2, rel=1e-9)
    assert both.sigma_share < 0.042 < apart.sigma_share


def test_a_lens_that_was_answered_goes_before_the_one_in_the_file(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(jpeg(equivalent_mm=13))
    assert codes(pictured(tmp_path, photograph()))["lens-wide-refused"] == "warning"
    assert "lens-wide-refused" not in codes(pictured(tmp_path, photograph(equivalent_mm=26)))


def test_corners_may_be_marked_in_any_order(tmp_path: Path) -> None:
    turned = {**REFERENCE, "corners": [CORNERS[2], CORNERS[0], CORNERS[3], CORNERS[1]]}
    assert quantity(pictured(tmp_path, photograph(reference=turned))).area_m2 == pytest.approx(3.687595, abs=1e-6)


def test_openings_come_off(tmp_path: Path) -> None:
    hole = [[0.20, 0.75], [0.30, 0.75], [0.30, 0.85], [0.20, 0.85]]
    whole = quantity(pictured(tmp_path, photograph()))
    without = quantity(pictured(tmp_path, photograph(marks=[mark(LEFT, without=[hole])])))
    alone = quantity(pictured(tmp_path, photograph(marks=[mark(hole)])))
    assert without.area_m2 == pytest.approx(whole.area_m2 - alone.area_m2, rel=1e-9)


def test_five_taped_points_give_what_four_corners_of_the_same_plane_give(tmp_path: Path) -> None:
    places = ((0, 0), (1010, 0), (1010, 1490), (0, 1490))
    points = [{"at": at, "x_mm": x, "y_mm": y} for at, (x, y) in zip(CORNERS, places, strict=True)]
    # CV22 (X): the check length of 1447 mm ends here, 1445.895 mm long by the corners
    more = [*points, {"at": [0.49725, 0.5174], "x_mm": 505, "y_mm": 738}]
    found = pictured(tmp_path, photograph(reference={"points": more, "distance_m": 7.5}))
    assert quantity(found).area_m2 == pytest.approx(3.687595, rel=0.05)
    assert found.photographs[0].fit is not None
    assert "unchecked" not in codes(found)


def test_points_in_line_give_nothing_and_are_told(tmp_path: Path) -> None:
    points = [{"at": [0.1 * n, 0.5], "x_mm": 100 * n, "y_mm": 0} for n in range(1, 6)]
    found = pictured(tmp_path, photograph(reference={"points": points}))
    assert codes(found) == {"reference-in-line-refused": "warning"}


def test_without_a_reference_there_are_marks_and_no_figure(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(reference=None, checks=None))
    assert codes(found) == {}
    assert found.facts.get(WORK, "marked_area_m2") is None
    assert found.facts.get(WORK, "marked_on") == "F1 (A)"


def test_areas_together_are_surer_where_slips_cancel_and_one_by_itself_is_no_sum(tmp_path: Path) -> None:
    """CV23: 4.00 % together, 6.01 and 6.07 % apart."""
    both = pictured(tmp_path, photograph(marks=[mark(LEFT), mark(RIGHT)])).photographs[0]
    (work,) = both.works
    assert sum_is_surer(both, work)
    for marks in ([mark(LEFT)], [mark(LEFT), mark(RIGHT, counted="no")], [mark(LEFT), mark(LEFT)]):
        assert not sum_is_surer(pictured(tmp_path, photograph(marks=marks)).photographs[0], work)


def test_a_sum_without_some_of_its_areas_is_not_offered(tmp_path: Path) -> None:
    bare = photograph(file="again.jpg", reference=None, checks=None, marks=[mark(RIGHT)])
    found = pictured(tmp_path, photograph(), bare)
    assert codes(found)["sum-open"] == "warning"
    assert found.facts.get(WORK, "marked_area_m2") is None
    left_out = {**bare, "marks": [mark(RIGHT, counted="no")]}
    assert quantity(pictured(tmp_path, photograph(), left_out)).area_m2 == pytest.approx(3.687595, abs=1e-6)


def test_areas_over_one_another_give_no_sum(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(marks=[mark(LEFT), mark(LEFT)]))
    assert codes(found)["areas-overlap-refused"] == "warning"
    assert found.facts.get(WORK, "marked_area_m2") is None
    told = next(item for item in found.findings if item.code == "photograph-areas-overlap-refused")
    assert told.message.startswith("Area B on F1 lies over another area")


def test_an_outline_that_crosses_itself_is_told_by_its_letter_and_line(tmp_path: Path) -> None:
    crossing = [LEFT[0], LEFT[2], LEFT[1], LEFT[3]]
    found = pictured(tmp_path, photograph(marks=[mark(RIGHT), mark(crossing)]))
    told = next(item for item in found.findings if item.code == "photograph-area-crosses-itself-refused")
    assert "area B on F1" in told.message
    assert told.marks[0].line


def test_an_area_beyond_the_horizon_is_told(tmp_path: Path) -> None:
    # CV6 (X): the plane's horizon is at y 4 where the reference runs from 0 to 2
    leaning = {"corners": [[0.2, 0.9], [0.8, 0.9], [0.65, 0.6], [0.35, 0.6]], "width_mm": 4000, "height_mm": 4000}
    sky = [[0.4, 0.05], [0.6, 0.05], [0.6, 0.1], [0.4, 0.1]]
    found = pictured(tmp_path, photograph(reference=leaning, checks=None, marks=[mark(sky)]))
    assert codes(found)["beyond-horizon-refused"] == "warning"


def test_joints_come_from_a_run_of_courses_or_from_picks_whichever_is_surer(tmp_path: Path) -> None:
    # CV22: a run of ten courses 746.372 mm; units of 65 mm leave 9.6372 mm
    run = {"from": [0.30, 0.50], "to": [0.30, 0.63], "courses": 10}
    found = pictured(tmp_path, photograph(joints=[run]))
    joint = found.facts.get(("front",), "photographed_joint_mm")
    assert isinstance(joint, Range)
    assert joint.likely == Decimal("9.6")
    picks = [{"from": [0.5, 0.4 + n / 50], "to": [0.5, 0.4 + n / 50 + 0.004]} for n in range(20)]
    both = pictured(tmp_path, photograph(joints=[*picks, run]))
    assert [one.by for one in both.photographs[0].joints] == ["picks", "courses"]
    surest = both.facts.get(("front",), "photographed_joint_mm")
    assert isinstance(surest, Range)
    assert surest.high - surest.low <= joint.high - joint.low


def test_a_run_of_courses_needs_the_height_of_the_unit(tmp_path: Path) -> None:
    run = {"from": [0.30, 0.50], "to": [0.30, 0.63], "courses": 10}
    (joint,) = pictured(tmp_path, photograph(joints=[run]), unit_height_mm=None).photographs[0].joints
    assert joint.width is None


def test_joints_of_few_pixels_are_told(tmp_path: Path) -> None:
    picks = [{"from": [0.5, 0.5], "to": [0.5, 0.5015]}]
    assert codes(pictured(tmp_path, photograph(joints=picks)))["joint-few-pixels-refused"] == "warning"


def test_lengths_are_reckoned_where_nothing_refuses_the_reference(tmp_path: Path) -> None:
    # CV22: the check is 1445.895 mm, u 51.1 by picks
    line: dict[str, Any] = {"what": "the crack", "from": CHECK["from"], "to": CHECK["to"]}
    ((what, length),) = pictured(tmp_path, photograph(lengths=[line])).photographs[0].lengths
    assert what == "the crack"
    assert length is not None
    assert length.length_mm == pytest.approx(1445.895, abs=1e-3)
    assert length.sigma_mm == pytest.approx(51.1, abs=0.3)
    wrong = {**REFERENCE, "width_mm": 1490, "height_mm": 500}
    assert pictured(tmp_path, photograph(lengths=[line], reference=wrong)).photographs[0].lengths == ()


@pytest.mark.parametrize(("masonry", "uneven_mm"), [("brick", 10.0), ("rubble", 25.0)])
def test_how_uneven_a_wall_is_hangs_on_its_masonry_unless_answered(
    masonry: str, uneven_mm: float, tmp_path: Path
) -> None:
    view = pictured(tmp_path, photograph(), masonry=masonry).photographs[0].view
    assert view is not None
    assert view.unevenness_mm == uneven_mm
    answered = pictured(tmp_path, photograph(uneven_mm=40), masonry=masonry).photographs[0].view
    assert answered is not None
    assert answered.unevenness_mm == 40.0


# --- taken, and held against the answers ------------------------------------------------------------------


def test_the_area_is_taken_only_where_the_answers_say_so(tmp_path: Path) -> None:
    offered = pictured(tmp_path, photograph())
    taken = pictured(tmp_path, photograph(), treated_area_from="photographs", quantity_sure="estimated")
    assert offered.facts.get(WORK, "treated_area_m2") == Decimal("6.0")
    assert taken.facts.get(WORK, "treated_area_m2") == Decimal("3.7")
    assert taken.facts.get(WORK, "marked_per_cent") == Range(Decimal(27), Decimal(31), Decimal(35))
    assert "as marked on F1 (A): 3.2–4.2 m²" in taken.facts.spoken(WORK, "treated_told")
    assert offered.facts.spoken(WORK, "treated_told") == "50% of 12 m² of face (in whole patches)"


def test_an_area_that_is_taken_needs_no_face_or_share(tmp_path: Path) -> None:
    changes = {"face_area_m2": None, "treated_per_cent": None, "quantity_sure": "estimated"}
    taken = pictured(tmp_path, photograph(), treated_area_from="photographs", **changes)
    assert taken.status == "tender"
    assert taken.facts.get(WORK, "treated_area_m2") == Decimal("3.7")
    assert pictured(tmp_path, photograph(), **changes).status == "draft"


def test_an_area_to_be_taken_that_photographs_do_not_give_is_told_and_left_open(tmp_path: Path) -> None:
    taken = {"treated_area_from": "photographs", "quantity_sure": "estimated"}
    found = pictured(tmp_path, photograph(reference=None, checks=None), **taken)
    assert codes(found) == {"area-missing": "warning"}
    assert found.facts.get(WORK, "treated_area_m2") is None
    assert found.status == "draft"


def test_an_area_that_nobody_answered_is_offered(tmp_path: Path) -> None:
    assert codes(pictured(tmp_path, photograph(), treated_per_cent=None))["area-offered"] == "note"


@pytest.mark.parametrize(
    ("face", "share", "told"),
    [("12", "50 - 50 (50)", "area-less"), ("7.8", "50 - 50 (50)", None), ("12", "30 - 50 (40)", None),
     ("6", "50 - 50 (50)", "area-more"), ("3", "100 - 100 (100)", "over-face")],
)  # fmt: skip
def test_areas_are_held_against_what_was_answered(face: str, share: str, told: str | None, tmp_path: Path) -> None:
    found = codes(pictured(tmp_path, photograph(), face_area_m2=face, treated_per_cent=share))
    assert {"area-less", "area-more", "over-face"} & set(found) == (
        {"area-more", "over-face"} if told == "over-face" else {told} if told else set()
    )


def test_areas_of_works_of_one_kind_are_held_against_the_face_together(tmp_path: Path) -> None:
    works = [work(key, face_area_m2="5", treated_per_cent="70 - 70 (70)") for key in ("low", "high")]
    marks = [{**mark(LEFT), "work": "low"}, {**mark(RIGHT), "work": "high"}]
    (tmp_path / "front.jpg").write_bytes(jpeg())
    listed = text(photograph(marks=marks)).split("  photographs: ")[1].split("\n")[0]
    found = job(answers(wall(*works), photographs=listed), folder=tmp_path)
    assert "over-face" in codes(found)
    larger = answers(wall(*(item.replace("area_m2: 5", "area_m2: 9") for item in works)), photographs=listed)
    assert "over-face" not in codes(job(larger, folder=tmp_path))


@pytest.mark.parametrize(("answered", "told"), [("9 - 12 (10)", False), ("40 - 60 (50)", True)])
def test_joints_are_held_against_what_was_answered(answered: str, told: bool, tmp_path: Path) -> None:
    run = {"from": [0.30, 0.50], "to": [0.30, 0.63], "courses": 10}
    found = pictured(tmp_path, photograph(joints=[run]), joint_width_mm=answered)
    assert ("joint-apart" in codes(found)) is told


def test_an_area_from_photographs_is_not_called_measured(tmp_path: Path) -> None:
    taken = {"treated_area_from": "photographs"}
    assert "not-measured" in codes(pictured(tmp_path, photograph(), **taken, quantity_sure="measured"))
    assert "not-measured" not in codes(pictured(tmp_path, photograph(), **taken, quantity_sure="estimated"))


def test_how_the_area_came_about_is_told_with_what_its_doubt_is_made_of(tmp_path: Path) -> None:
    reason = pictured(tmp_path, photograph()).decisions.reasons[WORK, "marked_area_m2"]
    (told,) = reason.facts
    assert told.startswith(
        "F1, A: 3.7 m² (3.2–4.2 m²); one sigma 6.1%: corners 6%, outlines 0.5%, tape 0.4%, bounds of lens"
    )
    assert "taken to the plane of the wall" in reason.because
    assert "criminisi-1997" in reason.sources
