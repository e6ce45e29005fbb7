"""The face of a wall on its sheet: drawn where it was measured, keyed, and honest of what nobody placed."""

from __future__ import annotations

import json
from pathlib import Path

from answers_text import answers, one_wall, wall, work
from jobs import example, job
from photographed import LEFT, mark, photograph, pictured

from generator.document.model import Figure, Swatch, Table, plain_text
from generator.document.outline import block_text
from generator.job.job import Job
from generator.papers.assemble import assemble

FACE = {"face_width_m": "4", "face_height_m": "3"}
KEY = ("Area", "What is done", "Mix", "Quantity", "Line")


def drawing(found: Job, wall_: str = "front") -> Figure | None:
    blocks = assemble(found).specification.blocks()
    return next((it for it in blocks if isinstance(it, Figure) and it.anchor == f"figure:face:{wall_}"), None)


def key(found: Job) -> list[list[str]]:
    tables = (block for block in assemble(found).specification.blocks() if isinstance(block, Table))
    table = next(table for table in tables if tuple(column.title for column in table.columns) == KEY)
    return [[plain_text(cell).strip() for cell in row.cells] for row in table.rows]


def hatches(found: Job) -> list[str]:
    tables = (block for block in assemble(found).specification.blocks() if isinstance(block, Table))
    cells = (item for table in tables for row in table.rows for item in row.cells[0])
    return [item.drawing.alt for item in cells if isinstance(item, Swatch)]


def test_a_wall_whose_face_was_not_measured_has_no_drawing_of_it() -> None:
    assert drawing(job(one_wall())) is None
    assert drawing(job(one_wall(face_width_m="4"))) is None


def test_what_is_placed_is_hatched_and_what_is_not_is_said_to_be_not_hatched() -> None:
    placed = one_wall(**FACE, areas_placed="[{left_m: 0, bottom_m: 0, width_m: 3, height_m: 2}]")
    assert key(job(placed)) == [["A", "repointing", "M1", "6 m²", "2.2"]]
    assert hatches(job(placed)) == ["hatched with rising lines"]
    assert key(job(one_wall(**FACE))) == [["A", "repointing; not hatched here, see its extent", "M1", "6 m²", "2.2"]]
    assert hatches(job(one_wall(**FACE))) == []


def test_works_on_all_of_the_face_have_one_hatch_and_each_its_letter() -> None:
    coats = {"plaster_coats": "two", "plaster_surface": "floated", "treated_per_cent": None}
    off = work("off", work="remove", removed="lime-plaster", treated_per_cent=None)
    on = work("on", work="plaster", **coats)
    found = job(answers(wall(off, on, position="indoors", exposure="internal", **FACE)))
    assert [row[0] for row in key(found)] == ["A", "B"]
    assert hatches(found) == ["hatched with rising lines"] * 2
    figure = drawing(found)
    assert figure is not None
    assert figure.drawing.alt.count("all of it, hatched with rising lines") == 2


def test_all_failed_joints_of_a_face_are_hatched_whole_only_where_all_of_them_are_done() -> None:
    assert hatches(job(one_wall(**FACE, treated_per_cent="100"))) == ["hatched with rising lines"]
    assert hatches(job(one_wall(**FACE, treated_per_cent="50"))) == []


def test_an_opening_that_nobody_placed_is_told_under_the_drawing_and_not_drawn() -> None:
    listed = [
        {"kind": "window", "width_m": 0.6, "height_m": 0.5, "left_m": 1, "sill_m": 1},
        {"kind": "vent", "name": "larder vent", "width_m": 0.2, "height_m": 0.1},
    ]
    figure = drawing(job(one_wall(**FACE, wall_openings=json.dumps(listed))))
    assert figure is not None
    assert "Not drawn, for nobody measured where they are: larder vent (number 2" in figure.caption
    assert "window, 0.6 m by 0.5 m, 1 m from the left edge and 1 m up" in figure.drawing.alt
    assert "larder vent" not in figure.drawing.alt


def test_an_opening_that_reaches_out_of_its_face_is_told_and_not_drawn() -> None:
    listed = [{"kind": "door", "width_m": 1, "height_m": 3.5, "left_m": 1, "sill_m": 0}]
    found = job(one_wall(**FACE, wall_openings=json.dumps(listed)))
    assert drawing(found) is not None
    assert found.status == "draft"


def test_a_zone_is_drawn_on_the_whole_face_and_its_work_within_it() -> None:
    given = {**FACE, "zone_boundary": "the damp-course", "zone_to_m": "0.5", "face_area_m2": "2"}
    figure = drawing(job(one_wall(**given, treated_per_cent="100")))
    assert figure is not None
    assert "This part lies between 0 m and 0.5 m above the ground." in figure.drawing.alt
    assert "all of it" in figure.drawing.alt


def test_a_wall_with_a_marked_photograph_is_shown_by_that_alone(tmp_path: Path) -> None:
    found = pictured(tmp_path, photograph(marks=[mark(LEFT)]), **FACE)
    assert drawing(found, "front") is None
    bare = pictured(tmp_path, photograph(marks=[]), **FACE)
    assert drawing(bare, "front") is not None


def test_the_caption_says_that_it_is_no_survey_and_the_alternative_text_what_it_shows() -> None:
    figure = drawing(example("toll-house"), "gable")
    assert figure is not None
    assert "not a survey" in figure.caption
    told = block_text(figure)
    sizes = ("scale 1\u00a0:\u00a0150", "9.4 m wide and 8 m high", "vent, 0.5 m by 0.6 m")
    for words in (*sizes, "a gable", "A, repointing, M3"):
        assert words in told
