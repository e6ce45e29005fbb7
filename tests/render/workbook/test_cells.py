"""Formulas are spelt as the library spells them, however many call the same functions."""

from __future__ import annotations

import io
import zipfile

import pytest
import xlsxwriter  # type: ignore[import-untyped]
from xlsxwriter.worksheet import Worksheet  # type: ignore[import-untyped]

from generator.render.workbook.cells import Cells

FORMULAS = ("=IF(A1,1,2)", "=IF(B1,3,4)", "=SWITCH(A1,1,2)", "=IF(SWITCH(A1,1,2),1,2)", "=_xlfn.SWITCH(A1,1,2)", "=A1")


def sheet(cells: type) -> bytes:
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as workbook:
        written = workbook.add_worksheet("Cells", cells)
        for row, formula in enumerate(FORMULAS * 2):
            written.write_formula(row, 5, formula)
        written.data_validation(0, 6, 9, 6, {"validate": "custom", "value": "=IF(CONCAT(A1),1,2)"})
    return zipfile.ZipFile(stream).read("xl/worksheets/sheet1.xml")


def test_a_formula_is_spelt_as_the_library_spells_it() -> None:
    assert sheet(Cells) == sheet(Worksheet)


def test_a_way_of_calling_that_needs_no_spelling_is_looked_over_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def prepared(self: Worksheet, formula: str, expand_future_functions: bool = False) -> str:
        asked.append(formula)
        return formula.removeprefix("=")

    monkeypatch.setattr(Worksheet, "_prepare_formula", prepared)
    cells = Cells()
    assert [cells._prepare_formula(f"=ROUND(A{row},2)") for row in range(3)] == [f"ROUND(A{row},2)" for row in range(3)]
    assert asked == ["=ROUND(A0,2)"]
