"""The commands `walls export` and `walls import`, as they are typed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
from answers_text import one_wall
from command_line import run


def test_walls_go_out_are_filled_in_and_come_back(tmp_path: Path) -> None:
    answers, walls = tmp_path / "answers.yaml", tmp_path / "walls.xlsx"
    answers.write_text(one_wall(), encoding="utf-8")
    assert run("walls", "export", answers, "--out", walls) == (0, f"wrote {walls}\n", "")
    book = openpyxl.load_workbook(walls)
    sheet: Any = book["Walls"]
    at = {cell.value: cell.column for cell in sheet[1]}
    sheet.cell(3, at["exposure"]).value = "severely exposed"
    book.save(walls)
    code, told, _ = run("walls", "import", walls, "--into", answers)
    assert code == 0
    assert "Front wall: Exposure to weather: severely exposed" in told
    assert "exposure: severe" in answers.read_text(encoding="utf-8")
    assert run("walls", "export", answers, "--out", walls)[0] == 1  # it was edited: not overwritten unasked


def test_a_cell_that_cannot_be_read_is_named_and_ends_with_1(tmp_path: Path) -> None:
    answers, walls = tmp_path / "answers.yaml", tmp_path / "walls.xlsx"
    answers.write_text(one_wall(), encoding="utf-8")
    run("walls", "export", answers, "--out", walls)
    book = openpyxl.load_workbook(walls)
    sheet: Any = book["Walls"]
    at = {cell.value: cell.column for cell in sheet[1]}
    cell = sheet.cell(3, at["height_m"])
    cell.value = "tall"
    book.save(walls)
    code, _, told = run("walls", "import", walls, "--into", answers)
    assert code == 1
    assert f"cell {cell.coordinate}" in told
    assert "Nothing was changed" in told
    assert answers.read_text(encoding="utf-8") == one_wall()


def test_what_is_no_workbook_is_told_so(tmp_path: Path) -> None:
    answers, walls = tmp_path / "answers.yaml", tmp_path / "walls.xlsx"
    answers.write_text(one_wall(), encoding="utf-8")
    walls.write_bytes(b"no workbook")
    code, _, told = run("walls", "import", walls, "--into", answers)
    assert code == 1
    assert "is no workbook" in told
