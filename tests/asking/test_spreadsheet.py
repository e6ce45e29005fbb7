"""Walls by spreadsheet: out as a workbook and back, changed cells alone, wrong cells named, nothing half saved."""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from answers_text import answers, wall, work
from jobs import shipped

from generator.asking.answering import Answering
from generator.asking.spreadsheet import brought, grid_of
from generator.render.check.opened import Unreadable
from generator.render.workbook.grid import NoGrid, grid_workbook, read_grid

TEXT = answers(
    wall(work(), work("wash", work="limewash"), id_="front", name="Front wall"),
    "# the garden side\n" + wall(work(), id_="rear", name="Rear wall", hardness="not known"),
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    found = tmp_path / "answers.yaml"
    found.write_text(TEXT, encoding="utf-8")
    return found


def exported(path: Path) -> bytes:
    return grid_workbook(grid_of(Answering(path, shipped())))


class Sheet:
    """The workbook of a file as somebody fills it in: cells by wall row and heading key."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.book = openpyxl.load_workbook(io.BytesIO(exported(path)))
        self.sheet: Any = self.book["Walls"]
        self.at = {cell.value: cell.column for cell in self.sheet[1]}

    def cell(self, row: int, key: str) -> Any:
        """A cell of a row, counted from the first wall."""
        return self.sheet.cell(row + 2, self.at[key])

    def put(self, row: int, **values: Any) -> Sheet:
        """Fills cells of a row."""
        for key, value in values.items():
            self.cell(row, key.replace("work_id", "work-id")).value = value
        return self

    def back(self) -> tuple[str, list[str], list[str]]:
        """The file after it comes back, what was told, and what was wrong."""
        stream = io.BytesIO()
        self.book.save(stream)
        on_desk = Answering(self.path, shipped())
        found = brought(on_desk, read_grid(stream.getvalue(), "Walls"))
        if found.changes:
            on_desk.save(found.changes)
        return self.path.read_text(encoding="utf-8"), list(found.lines), list(found.wrong)


def test_a_row_a_wall_and_work_with_help_and_choices(path: Path) -> None:
    sheet = Sheet(path)
    rows = [
        [sheet.cell(row, key).value for key in ("wall", "name", "hardness", "work-id", "work")] for row in (1, 2, 3)
    ]
    assert rows == [
        ["front", "Front wall", "soft", "repoint", "repointing"],
        ["front", "Front wall", None, "wash", "limewashing"],
        ["rear", "Rear wall", "not known", "repoint", "repointing"],
    ]
    help_ = sheet.sheet.cell(2, sheet.at["hardness"]).comment.text
    assert "Mortar must be weaker than the unit" in help_
    assert "thumbnail" in help_
    ranges = {str(one.sqref).split(":")[0] for one in sheet.sheet.data_validations.dataValidation}
    assert sheet.cell(1, "hardness").coordinate in ranges
    assert sheet.sheet.row_dimensions[1].hidden


def test_what_comes_back_unchanged_changes_nothing(path: Path) -> None:
    assert Sheet(path).back() == (TEXT, [], [])


def test_the_same_answers_give_the_same_bytes(path: Path) -> None:
    assert exported(path) == exported(path)


def test_changed_cells_change_those_answers_and_no_other_byte(path: Path) -> None:
    text, told, wrong = Sheet(path).put(1, exposure="severely exposed", height_m=4.5).put(3, hardness="medium").back()
    assert wrong == []
    expected = TEXT.replace("exposure: moderate", "exposure: severe", 1).replace("height_m: 3", "height_m: 4.5", 1)
    assert text == expected.replace("hardness: not known", "hardness: medium")
    assert len(told) == 3


def test_a_blank_cell_leaves_an_answer_as_it_stands(path: Path) -> None:
    assert Sheet(path).put(1, exposure=None, condition=None).back()[0] == TEXT


def test_new_walls_and_works_come_in(path: Path) -> None:
    sheet = Sheet(path).put(4, name="Gable", masonry="rubble stone", joint_width_mm="3/8 - 1/2 in", work="repointing")
    sheet.put(5, name="Gable", work="limewashing").put(6, wall="rear", name="Rear wall", work="limewashing")
    text, told, wrong = sheet.back()
    assert wrong == []
    assert "- id: gable\n  name: Gable\n  masonry: rubble\n  joint_width_mm: 9.5 - 12.7\n  works:\n" in text
    assert "  - id: repoint\n    work: repoint\n  - id: limewash\n    work: limewash\n" in text
    assert text.startswith(TEXT.split("# the garden side")[0])
    assert len(told) == 2


@pytest.mark.parametrize(
    ("row", "key", "value", "word"),
    [
        (1, "hardness", "squishy", "not on the list of the cell: choose from it."),
        (1, "height_m", "tall", "write a number alone"),
        (1, "joint_width_mm", datetime.datetime(2027, 12, 8), "made a date of it"),
        (1, "height_m", "=1+2", "formula"),
        (1, "height_m", "#DIV/0!", ""),
        (1, "joint_width_mm", "about 10", "more than one way"),
        (1, "condition", "idk", "would be printed as an answer. Leave the cell blank"),
        (1, "hardness", "tbc", "'not known'. Else leave the cell blank"),
        (1, "masonry", "not known", "Leave the cell blank until somebody can tell"),
        (1, "wall", "nowhere", "no wall with the id 'nowhere'"),
        (1, "work-id", "nothing", "no work with the id 'nothing'"),
        (4, "height_m", "3", "the row names no wall"),
        (4, "name", "Gable", "no kind of work"),
    ],
)
def test_a_wrong_cell_is_named_and_nothing_is_saved(path: Path, row: int, key: str, value: Any, word: str) -> None:
    sheet = Sheet(path)
    sheet.put(3, exposure="severely exposed")
    sheet.cell(row, key).value = value
    text, _, wrong = sheet.back()
    assert text == TEXT
    assert len(wrong) == 1
    assert sheet.cell(row, key).coordinate in wrong[0]
    assert word in wrong[0]


def spoilt(data: bytes, change: Callable[[str, bytes], bytes]) -> bytes:
    """A workbook with its parts changed."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change(name, old.read(name)))
    return stream.getvalue()


def test_what_is_no_workbook_or_is_made_to_harm_is_refused(path: Path) -> None:
    good = exported(path)
    bomb = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "x"><!ENTITY c "&b;&b;">]><a>&c;</a>'
    entity = spoilt(good, lambda name, data: bomb if name == "xl/workbook.xml" else data)
    cut = spoilt(good, lambda name, data: data[: len(data) // 2] if name.endswith("sheet1.xml") else data)
    large = spoilt(good, lambda name, data: data + b" " * 60_000_000 if name.endswith("sheet1.xml") else data)
    for data in (b"", b"PK", b"not a workbook", entity, cut, large):
        with pytest.raises((Unreadable, ValueError)):
            read_grid(data, "Walls")


def test_a_workbook_of_something_else_is_told_so(path: Path) -> None:
    other = openpyxl.Workbook()
    stream = io.BytesIO()
    other.save(stream)
    with pytest.raises(NoGrid):
        read_grid(stream.getvalue(), "Walls")
