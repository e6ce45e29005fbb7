"""The sheet that says where costs lie, read back from the file."""

from __future__ import annotations

import io

import openpyxl
import pytest
from jobs import EXAMPLES, example

from generator.papers.schedule import pricing_book
from generator.render.workbook.book import pricing_workbook


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_the_sheet_holds_a_row_a_clause_with_number_title_place_and_lines_as_text(name: str) -> None:
    book = pricing_book(example(name))
    sheet = openpyxl.load_workbook(io.BytesIO(pricing_workbook(book)))[book.words["sheet_costs"]]
    rows = [tuple(str(cell.value or "") for cell in row[:4]) for row in sheet.iter_rows()]
    heads = tuple(book.words[key] for key in ("column_clause", "column_title", "column_place", "column_lines"))
    first = rows.index(heads) + 1
    told = [(*row[:3], row[3].replace("\u2060", "")) for row in rows[first:]]  # runs are kept whole
    assert told == [(row.number, row.title, row.place, row.lines) for row in book.costs]
    assert {cell.data_type for row in sheet.iter_rows(min_row=first + 1) for cell in row if cell.value} == {"s"}


def test_nothing_on_the_sheet_is_open_to_the_tenderer_and_its_heads_stay_in_view() -> None:
    book = pricing_book(example("toll-house"))
    sheet = openpyxl.load_workbook(io.BytesIO(pricing_workbook(book)))[book.words["sheet_costs"]]
    assert sheet.protection.sheet
    assert all(cell.protection.locked for row in sheet.iter_rows() for cell in row)
    head = next(cell.row for row in sheet.iter_rows() for cell in row if cell.value == book.words["column_place"])
    assert sheet.freeze_panes == f"A{head + 1}"
    assert sheet.print_title_rows == f"${head}:${head}"
