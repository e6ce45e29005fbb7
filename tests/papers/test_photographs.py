"""Photographs in papers: by their wall, keyed to work, mix, line and clause, and told to those who cannot see them."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from answers_text import answers, wall, work
from jobs import example, job
from photographed import LEFT, REFERENCE, RIGHT, jpeg, mark, photograph, pictured
from PIL import Image

from generator.document.model import Document, Figure, Heading, Picture, Table, plain_text
from generator.document.outline import outline, within
from generator.drawing.model import THICK, Drawing, Rect
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.figures import numbered_figures
from generator.papers.photographs import dots_an_inch, hatches_of, width_mm
from generator.questionnaire.photographed import MarkedArea

ESTIMATED = {"treated_area_from": "photographs", "quantity_sure": "estimated"}


def pictures(document: Document) -> list[Figure]:
    return [block for block in document.blocks() if isinstance(block, Figure) and isinstance(block.drawing, Picture)]


def specification(found: Job) -> Document:
    return assemble(found).specification


def turned(found: Job) -> Figure:
    """The photograph turned square on, which the officer sees besides."""
    (document,) = companions(found, ["officer"]).values()
    return pictures(document)[1]


def alt(figure: Figure) -> str:
    assert isinstance(figure.drawing, Picture)
    return figure.drawing.alt


def key(found: Job) -> list[list[str]]:
    tables = [block for block in specification(found).blocks() if isinstance(block, Table)]
    (table,) = [table for table in tables if table.description.startswith("What the letters on")]
    return [[plain_text(cell) for cell in row.cells] for row in table.rows]


def test_a_photograph_stands_on_the_sheet_of_its_wall_before_its_works(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(jpeg())
    listed = json.dumps([photograph(element="back")])
    walls = [wall(id_=name, name=name.title()) for name in ("front", "back")]
    found = job(answers(*walls, photographs=listed), folder=tmp_path)
    order = []
    for block in specification(found).blocks():
        if isinstance(block, Heading):
            order.append(plain_text(block.content))
        elif isinstance(block, Figure) and isinstance(block.drawing, Picture):
            order.append("photograph")
    assert order.index("Sheet 2: Back") < order.index("photograph")
    assert order.count("photograph") == 1
    last_work = [place for place, text in enumerate(order) if text.startswith("Repointing")][-1]
    assert order.index("photograph") < last_work


def test_its_caption_tells_what_it_shows_when_and_by_whom_and_that_it_is_no_survey(tmp_path: Path) -> None:
    reference = {**REFERENCE, "what": "the left window"}
    found = pictured(tmp_path, photograph(taken="2026-05-12", by="A. Sample", reference=reference))
    (marked,) = pictures(specification(found))
    assert marked.caption == (
        "F1: Front from the south-west, 12 May 2026, by A. Sample. Crosses mark what was taped: the left window. "
        "Areas are reckoned from the photograph, which is no measured survey, and each is rounded by itself."
    )
    assert "Measure by the bar alone" in turned(found).caption


@pytest.mark.parametrize(
    "changes",
    [
        {"reference": None, "checks": None},
        {"reference": {**REFERENCE, "width_mm": 1490, "height_mm": 500}},
    ],
)
def test_without_a_reference_that_holds_it_is_not_for_scaling_and_never_turned(
    changes: dict[str, Any], tmp_path: Path
) -> None:
    (figure,) = pictures(specification(pictured(tmp_path, photograph(**changes))))
    assert figure.caption == "F1: Front from the south-west. Not for scaling."


def test_marks_made_on_another_file_are_left_out_and_that_is_said(tmp_path: Path) -> None:
    document = specification(pictured(tmp_path, photograph(sha256="0" * 64)))
    _cover, figure = pictures(document)
    assert "made on another file" in figure.caption
    assert "Marked areas" not in alt(figure)
    tables = [block for block in document.blocks() if isinstance(block, Table)]
    assert not [table for table in tables if "letters" in table.description]


def test_a_photograph_that_cannot_be_read_leaves_no_trace_but_its_finding(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").write_bytes(b"nothing")
    found = pictured(tmp_path, photograph())
    assert pictures(specification(found)) == []
    assert "is no picture" in outline(specification(found))  # among the open questions of the draft


def test_the_key_ties_each_letter_to_work_mix_quantity_and_line(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(marks=[mark(LEFT), mark(RIGHT)]), **ESTIMATED)
    line = next(item for item in found.measured.items() if item.entry.quantity == "treated_area_m2")
    assert key(found) == [
        ["A", "repointing", "M1", "3.7 m² (3.2–4.2)", line.ref],
        ["B", "repointing", "M1", "3.1 m² (2.7–3.5)", line.ref],
        ["A and B together", "repointing", "M1", "6.8 m² (6.2–7.4)", line.ref],
    ]


def test_why_areas_together_are_surer_is_told_where_they_are(tmp_path: Path) -> None:
    both = pictured(tmp_path, photograph(marks=[mark(LEFT), mark(RIGHT)]), **ESTIMATED)
    assert "slips along outlines even out" in outline(specification(both))
    assert "slips along outlines even out" not in outline(specification(pictured(tmp_path, photograph(), **ESTIMATED)))


def test_what_is_not_counted_and_what_has_no_figure_is_said_so_in_the_key(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(marks=[mark(LEFT), mark(RIGHT, counted="no")]))
    assert [row[3] for row in key(found)] == ["3.7 m² (3.2–4.2)", "3.1 m² (2.7–3.5), counted on another photograph"]
    bare = pictured(tmp_path, photograph(reference=None, checks=None))
    assert [row[3] for row in key(bare)] == ["–"]


def test_those_who_cannot_see_it_are_told_what_it_shows_and_where_each_area_lies(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(alt="Brick front, two windows", marks=[mark(LEFT), mark(RIGHT)]))
    (marked,) = pictures(specification(found))
    assert alt(marked) == (
        "Brick front, two windows. Marked areas: "
        "A, repointing, M1, 3.7 m² (3.2–4.2), at the foot on the left, hatched with rising lines; "
        "B, repointing, M1, 3.1 m² (2.7–3.5), at the foot on the right, hatched with falling lines."
    )
    assert alt(turned(found)).startswith("The wall turned square on, with a scale bar of 2.5 m. Brick front")


def test_figures_count_on_in_reading_order(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(), photograph(file="again.jpg", reference=None, checks=None))
    blocks = within(specification(found).blocks())
    numbers = [block.number for block in blocks if isinstance(block, Figure) and block.number]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    # the programme of so small a set stands on its first page
    assert list(numbered_figures(found))[:3] == ["figure:programme", "figure:photograph:F1", "figure:photograph:F2"]


def test_nothing_but_pixels_is_in_the_pictures_of_papers(tmp_path: Path) -> None:
    for figure in pictures(specification(pictured(tmp_path, photograph()))):
        assert isinstance(figure.drawing, Picture)
        assert b"Exif" not in figure.drawing.jpeg
        assert b"GPS" not in figure.drawing.jpeg
        with Image.open(io.BytesIO(figure.drawing.jpeg)) as picture:
            assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "progressive",
                                         "progression"}  # fmt: skip


def test_the_same_answers_and_pictures_give_the_same_papers(tmp_path: Path) -> None:
    one = pictures(specification(pictured(tmp_path, photograph())))
    job.cache_clear()
    assert pictures(specification(pictured(tmp_path, photograph()))) == one


@pytest.mark.parametrize(("width", "height", "wide_mm"), [(4032, 3024, 128.0), (3024, 4032, 72.0), (4032, 1000, 128.0)])
def test_a_photograph_is_printed_to_the_room_there_is_whichever_way_it_is_held(
    width: int, height: int, wide_mm: float, tmp_path: Path
) -> None:
    (tmp_path / "front.jpg").write_bytes(jpeg(width, height))
    (one,) = pictured(tmp_path, photograph(reference=None, checks=None)).photographs
    assert width_mm(one) == pytest.approx(wide_mm)


def test_a_paper_of_many_photographs_stays_small_enough_to_send() -> None:
    assert [dots_an_inch(count) for count in (2, 39, 40, 80, 120)] == [200, 200, 150, 110, 110]


def area(letter: str, work_: str = "repoint") -> MarkedArea:
    return MarkedArea(letter, ("front", work_), ((0.1, 0.1), (0.2, 0.1), (0.2, 0.2)), (), True)


def test_letters_have_a_hatch_each_while_there_are_enough() -> None:
    assert len(set(hatches_of([area(letter) for letter in "ABCDEF"]).values())) == 6
    many = hatches_of([*(area(letter) for letter in "ABCDEF"), *(area(letter, "wash") for letter in "GH")])
    assert {many[letter] for letter in "ABCDEF"} == {"rise"}
    assert {many[letter] for letter in "GH"} == {"fall"}


# --- the other papers -------------------------------------------------------------------------------------


def test_the_cover_of_a_long_set_shows_the_first_photograph_as_it_is_and_a_brief_one_does_not(tmp_path: Path) -> None:
    brief = pictured(tmp_path, photograph())
    assert [block for block in brief_cover(brief) if isinstance(block, Figure)] == []
    (tmp_path / "front.jpg").write_bytes(jpeg())
    listed = json.dumps([photograph(element="front")])
    walls = [wall(work(), id_=name, name=name.title()) for name in ("front", "back", "left")]
    (shown,) = [
        block
        for block in brief_cover(job(answers(*walls, photographs=listed), folder=tmp_path))
        if isinstance(block, Figure)
    ]
    assert isinstance(shown.drawing, Picture)
    with Image.open(io.BytesIO(shown.drawing.jpeg)) as picture:
        assert np.asarray(picture).std() < 60
        assert picture.mode == "RGB"
    assert shown.caption == "F1: Front from the south-west."


def brief_cover(found: Job) -> tuple[object, ...]:
    return specification(found).cover


def test_the_officer_sees_each_photograph_with_its_key() -> None:
    found = example("garden-front")
    text = outline(companions(found, ["officer"])["officer-summary.docx"])
    assert re.search(r"\[figure \] F1: Garden front from the lawn", text)
    assert "A–E together | repointing | M1 | 9.6 m² (9.2–10)" in text


def test_the_record_has_a_page_for_each_photograph_with_room_for_one_after() -> None:
    found = example("garden-front")
    record = companions(found, ["records"])["site-records.docx"]
    assert [section.landscape for section in record.sections] == [True, False]
    before, after = [block for block in record.sections[1].blocks if isinstance(block, Figure)]
    assert isinstance(before.drawing, Picture)
    assert (before.drawing.width_mm, before.drawing.height_mm) == (after.drawing.width_mm, after.drawing.height_mm)
    assert "28 January 2027" in before.caption
    assert isinstance(after.drawing, Drawing)
    assert [edge.weight_mm for edge in after.drawing.primitives if isinstance(edge, Rect)] == [THICK]


def test_records_without_photographs_have_no_such_pages() -> None:
    assert len(companions(example("mill-house"), ["records"])["site-records.docx"].sections) == 1
