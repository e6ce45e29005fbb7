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


def every_kind(cells: type) -> bytes:
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as workbook:
        written = workbook.add_worksheet("Cells", cells)
        written.set_row(1, 30, workbook.add_format({"italic": True}))
        written.set_column(3, 3, 9, workbook.add_format({"bottom": 1}))
        for row, style in enumerate((workbook.add_format({"bold": True}), None, None)):
            for text, place in (('a <b> & "c"', 0), ("", 1), (" kept ", 2), ("<r>rich</r>", 3), ("twice", 4)):
                written.write_string(row, place, text, style)
            written.write_blank(row, 6, None, style)
            values = (0, 2.5, 1e-7, "", "told", "#N/A", True, False)
            for place, value in enumerate(values, 7):
                written.write_formula(row, place, '=IF(A1<>"",B1&"<",1>2)', style, value)
            written.write_number(row, 16, 12.25, style)
            written.write_boolean(row, 17, True, style)
            rich = ("a", workbook.add_format({"bold": True}), "b", "c", style)
            written.write_rich_string(row, 18, *filter(None, rich))
            written.merge_range(row, 19, row, 30, "over several", style)
    return zipfile.ZipFile(stream).read("xl/worksheets/sheet1.xml")


def test_cells_of_every_kind_are_spelt_as_the_library_spells_them() -> None:
    assert every_kind(Cells) == every_kind(Worksheet)


def test_a_cell_outside_the_sheet_is_refused_as_the_library_refuses_it() -> None:
    for cells in (Cells(), Worksheet()):
        assert cells.write_string(0, 16_384, "too far") == cells.write_formula(0, 16_384, "=A1") == -1


def test_a_way_of_calling_that_needs_no_spelling_is_looked_over_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []

    def prepared(self: Worksheet, formula: str, expand_future_functions: bool = False) -> str:
        asked.append(formula)
        return formula.removeprefix("=")

    monkeypatch.setattr(Worksheet, "_prepare_formula", prepared)
    cells = Cells()
    assert [cells._prepare_formula(f"=ROUND(A{row},2)") for row in range(3)] == [f"ROUND(A{row},2)" for row in range(3)]
    assert asked == ["=ROUND(A0,2)"]
