"""Photographs in answers: what is read, where it belongs, and each mistake at its line and column."""

from __future__ import annotations

import datetime
from decimal import Decimal

import pytest
from helpers import read
from jobs import shipped

from generator.files.source import Source
from generator.questionnaire.answers import read_answers
from generator.questionnaire.facts import Facts
from generator.questionnaire.photographed import Photographed

CORNERS = "[[0.2, 0.3], [0.4, 0.3], [0.4, 0.6], [0.2, 0.6]]"
TRIANGLE = "[[0.1, 0.5], [0.4, 0.5], [0.4, 0.8]]"
MARK = f"{{work: repoint, outline: {TRIANGLE}}}"
REFERENCE = f"{{corners: {CORNERS}, width_mm: 905, height_mm: 1370}}"
TWO_WALLS = """
- {id: front, name: Front, masonry: brick, works: [{work: repoint}, {id: wash, work: limewash}]}
- {id: back, name: Back, masonry: brick, works: [{id: low, work: repoint}, {id: high, work: repoint}]}
"""


def answers(photographs: str, walls: str = "") -> Source:
    one = "\n- {id: front, name: Front, masonry: brick, works: [{work: repoint}, {id: wash, work: limewash}]}\n"
    listed = photographs.strip("\n")
    told = "".join(f"\n  {line}" for line in listed.splitlines()) if listed.startswith("-") else f" {listed}"
    head = "project:\n  title: T\n  reference: R\n  issue_date: 2027-01-01\n"
    return read(f"{head}  photographs:{told}\nelements:{walls or one}")


def facts(photographs: str, walls: str = "") -> Facts:
    source = answers(photographs, walls)
    found = read_answers(source, shipped().questionnaire, shipped().names)
    assert source.problems == []
    return found


def only(photographs: str, walls: str = "") -> Photographed:
    (one,) = facts(photographs, walls).photographs
    return one


def mistakes(photographs: str, walls: str = "") -> list[str]:
    source = answers(photographs, walls)
    read_answers(source, shipped().questionnaire, shipped().names)
    return sorted(str(problem).removeprefix("answers.yaml:") for problem in source.problems)


def test_a_photograph_of_the_one_wall_needs_no_more_than_its_file_and_what_it_shows() -> None:
    one = only("- {file: photographs/front-1.jpg, shows: '  Front   from the lawn '}")
    assert (one.id, one.element, one.areas) == ("F1", ("front",), ())
    assert one.asked.shows == "Front from the lawn"
    assert one.asked.reference is None


def test_all_that_can_be_told_of_a_photograph_is_read() -> None:
    one = only(
        f"""
- id: F7
  file: front.jpg
  sha256: {"ab" * 32}
  pixels: 4032 x 3024
  shows: Front
  element: front
  alt: A brick front
  taken: 2026-05-12
  by: A. Sample
  equivalent_mm: 26
  uneven_mm: 15
  reference: {{what: a window, corners: {CORNERS}, width_mm: 905.5, height_mm: 1370, tape_error_mm: 2,
    diagonals_mm: [1640, 1642], off_face_mm: -10, distance_m: 7.5}}
  checks: [{{from: [0.1, 0.8], to: [0.3, 0.8], length_mm: 1447}}]
  straight: [[0.02, 0.06], [0.5, 0.058], [0.98, 0.06]]
  marks:
  - {{letter: B, work: wash, outline: {TRIANGLE}, without: [[[0.3, 0.55], [0.35, 0.55], [0.35, 0.6]]], counted: no}}
  joints: [{{from: [0.3, 0.5], to: [0.3, 0.63], courses: 10}}, {{from: [0.5, 0.5], to: [0.5, 0.51]}}]
  lengths: [{{what: a crack, from: [0.3, 0.5], to: [0.4, 0.9]}}]
"""
    )
    asked = one.asked
    assert (one.id, asked.pixels, asked.taken) == ("F7", (4032, 3024), datetime.date(2026, 5, 12))
    assert asked.reference is not None
    assert asked.reference.width_mm == Decimal("905.5")
    assert asked.reference.diagonals_mm == (Decimal(1640), Decimal(1642))
    assert asked.reference.off_face_mm == -10
    assert [joint.courses for joint in asked.joints] == [10, None]
    (area,) = one.areas
    assert (area.letter, area.work, area.counted) == ("B", ("front", "wash"), False)
    assert area.outline[2] == (0.4, 0.8)
    assert len(area.without) == 1


def test_five_taped_points_stand_in_place_of_corners() -> None:
    points = ", ".join(f"{{at: [0.{n}, 0.{n}], x_mm: {n}00, y_mm: -{n}00}}" for n in range(1, 6))
    reference = only(f"- {{file: a.jpg, shows: A, reference: {{points: [{points}]}}}}").asked.reference
    assert reference is not None
    assert reference.points is not None
    assert reference.points[4].y_mm == -500


def test_diagonals_may_be_not_known() -> None:
    reference = REFERENCE.replace("{corners", "{diagonals_mm: not known, corners")
    found = only(f"- {{file: a.jpg, shows: A, reference: {reference}}}").asked.reference
    assert found is not None
    assert found.diagonals_mm is None


def test_photographs_are_known_to_conditions_by_what_they_are_called() -> None:
    found = facts("- {file: a.jpg, shows: A}\n- {id: west, file: b.jpg, shows: B}")
    assert found.get((), "photographs") == ("F1", "west")
    assert facts("[]").get((), "photographs") == ()


def test_a_work_is_named_by_its_id_or_by_its_kind_where_the_wall_has_one_of_it() -> None:
    marks = f"[{MARK}, {{work: wash, outline: {TRIANGLE}}}, {{work: limewash, outline: {TRIANGLE}, letter: B}}]"
    one = only(f"- {{file: a.jpg, shows: A, marks: {marks}}}")
    assert [area.work[-1] for area in one.areas] == ["repoint", "wash", "wash"]


def test_letters_follow_the_order_and_pass_over_those_given() -> None:
    marks = f"[{MARK}, {{letter: A, work: wash, outline: {TRIANGLE}}}, {MARK}]"
    assert [area.letter for area in only(f"- {{file: a.jpg, shows: A, marks: {marks}}}").areas] == ["B", "A", "C"]


def test_a_mark_may_be_of_another_wall_than_its_photograph() -> None:
    marks = f"[{{element: back, work: low, outline: {TRIANGLE}}}, {MARK}]"
    one = only(f"- {{file: a.jpg, shows: A, element: front, marks: {marks}}}", TWO_WALLS)
    assert [area.work for area in one.areas] == [("back", "low"), ("front", "repoint")]


def test_each_area_knows_its_line() -> None:
    one = only(f"- file: a.jpg\n  shows: A\n  marks:\n  - {MARK}\n  - {MARK}")
    assert [(area.mark.line, area.mark.column) for area in one.areas] == [(9, 7), (10, 7)]


@pytest.mark.parametrize(
    ("photographs", "told"),
    [
        ("no", ["5:16: 'photographs' is not a list of photographs: "
                "list each on lines that start with '- file: photographs/front.jpg'"]),
        ("- {file: a.jpg}", ["6:5: lacks 'shows': add 'shows: …'"]),
        ("- {file: a.jpg, shows: ''}", ["6:26: 'shows' is empty: write it out"]),
        ("- {file: a.jpg, show: A}", ["6:19: has an unknown key 'show': did you mean 'shows'?",
                                      "6:5: lacks 'shows': add 'shows: …'"]),
        *[(f"- {{file: {bad}, shows: A}}",
           [f"6:12: 'file' cannot be '{bad.strip(chr(39))}': "
            "name a file below the folder of the answers, such as photographs/front.jpg"])
          for bad in ("../a.jpg", "/etc/passwd", "'C:a.jpg'", "a/../../b.jpg", "'a\\b.jpg'")],
        ("- {file: a.jpg, shows: A, taken: 12 May}",
         ["6:36: 'taken' cannot be '12 May': write the date as year-month-day, such as 2027-03-01"]),
        ("- {file: a.jpg, shows: A, pixels: big}",
         ["6:37: 'pixels' cannot be 'big': write width and height of the picture held upright, such as 4032 x 3024"]),
        ("- {file: a.jpg, shows: A, sha256: abc}",
         ["6:37: 'sha256' cannot be 'abc': write its 64 figures, as `gaugebox photographs` tells them"]),
        ("- {file: a.jpg, shows: A, reference: {width_mm: 900, height_mm: 900}}",
         ["6:40: 'reference' names nothing that was taped: give 'corners:' with 'width_mm:' and 'height_mm:'"]),
        (f"- {{file: a.jpg, shows: A, reference: {{corners: {CORNERS}, width_mm: 900}}}}",
         ["6:40: 'reference' lacks the width or the height of its corners: "
          "add 'width_mm: …' and 'height_mm: …'"]),
        ("- {file: a.jpg, shows: A, reference: {corners: [[0.2, 0.3]], width_mm: 900, height_mm: 900}}",
         ["6:50: 'reference.corners' has 1 points, where 4 are wanted: add points, or take some out"]),
        ("- {file: a.jpg, shows: A, marks: [{work: repoint, outline: [[0.1, 0.5], [1.2, 0.5], [0.4, 0.8]]}]}",
         ["6:76: 'marks.outline' is '1.2', where one from 0 to 1 is wanted: mend the number"]),
        ("- {file: a.jpg, shows: A, marks: [{work: repoint, outline: [[0.1, 0.5], [0.2], [0.4, 0.8]]}]}",
         ["6:75: 'marks.outline' is a list, where two numbers are wanted: write them as [0.25, 0.4]"]),
        ("- {file: a.jpg, shows: A, marks: [{work: repoint, outline: [[0.1, 0.5], [0.2, 0.5]]}]}",
         ["6:62: 'marks.outline' has 2 points, where 3 to 40 are wanted: add points, or take some out"]),
        (f"- {{file: a.jpg, shows: A, marks: [{{letter: a1, work: repoint, outline: {TRIANGLE}}}]}}",
         ["6:46: 'marks.letter' cannot be 'a1': write one or two capital letters, such as A"]),
        ("- {file: a.jpg, shows: A, checks: [{from: [0.1, 0.5], to: [0.1, 0.5], length_mm: 900}]}",
         ["6:38: 'checks' starts and ends in one place: pick two points"]),
        ("- {file: a.jpg, shows: A, joints: [{from: [0.1, 0.5], to: [0.1, 0.6], courses: 2.5}]}",
         ["6:82: 'joints.courses' is '2.5', where a whole number from 1 to 200 is wanted: "
          "count the courses of the run"]),
        (f"- {{file: a.jpg, shows: A, marks: [{{work: repont, outline: {TRIANGLE}}}]}}",
         ["6:44: 'work' is 'repont', which is no work of Front: did you mean 'repoint'?"]),
        ("- {file: a.jpg, shows: A, element: frnt}",
         ["6:38: 'element' is 'frnt', which is no wall of these answers: did you mean 'front'?"]),
        ("- {id: F1, file: a.jpg, shows: A}\n- {id: F1, file: b.jpg, shows: B}",
         ["7:10: calls a second photograph 'F1': give each photograph its own id"]),
        (f"- {{file: a.jpg, shows: A, marks: [{MARK}, {{letter: A, work: wash, outline: {TRIANGLE}}},"
         f" {{letter: A, work: repoint, outline: {TRIANGLE}}}]}}",
         ["6:182: 'letter' is 'A', which stands for another work on this photograph: give each work its own letters"]),
    ],
)  # fmt: skip
def test_a_mistake_is_told_at_its_place(photographs: str, told: list[str]) -> None:
    assert mistakes(photographs) == told


def test_where_there_are_several_walls_a_photograph_says_which_it_shows() -> None:
    assert mistakes("- {file: a.jpg, shows: A}", TWO_WALLS) == [
        "6:5: a photograph lacks 'element', and there are several walls: "
        "add 'element: front', or whichever wall it shows"
    ]


def test_a_kind_of_work_that_the_wall_has_twice_is_named_by_id() -> None:
    told = mistakes(f"- {{file: a.jpg, shows: A, element: back, marks: [{MARK}]}}", TWO_WALLS)
    assert told == ["6:59: Back has 2 works of the kind 'repoint': name one: low, high"]


def test_more_photographs_points_or_marks_than_anybody_marks_by_hand_are_refused() -> None:
    assert "lists 61" in mistakes("\n".join(["- {file: a.jpg, shows: A}"] * 61))[0]
    ring = "[" + ", ".join(f"[0.{n:02}, 0.5]" for n in range(41)) + "]"
    assert "has 41 points" in mistakes(f"- {{file: a.jpg, shows: A, marks: [{{work: repoint, outline: {ring}}}]}}")[0]
    assert "has 27 marks" in mistakes(f"- {{file: a.jpg, shows: A, marks: [{', '.join([MARK] * 27)}]}}")[0]
