"""The sheet that says of each clause where its cost lies, and which lines pay for it."""

from __future__ import annotations

from typing import Final

from generator.document.model import CostRow
from generator.render.workbook.sheet import Book, Sheet, lines_kept, lines_needed, words_whole

COLUMNS: Final = (("column_clause", 9.0), ("column_title", 44.0), ("column_place", 30.0), ("column_lines", 26.0))
WIDTHS: Final = tuple(width for _, width in COLUMNS)
LAST: Final = len(COLUMNS) - 1


def write_costs(book: Book) -> None:
    """Writes a row a clause under the title of its part: its number, its title, the place of its cost, the lines."""
    sheet = Sheet(book, "sheet_costs", WIDTHS)
    row = sheet.top(LAST, "sheet_costs")
    sheet.full_band(row, LAST, book.words["costs_about"])
    head = row + 1
    for column, (word, _) in enumerate(COLUMNS):
        sheet.text(head, column, book.words[word], "head")
    last = head
    for last, cost in enumerate(book.source.costs, head + 1):
        _write_row(sheet, last, cost)
    sheet.cells.freeze_panes(head + 1, 0)
    sheet.cells.repeat_rows(head)
    sheet.keep_titles({row for row, cost in enumerate(book.source.costs, head + 1) if cost.is_part}, head + 1, last)
    # Numbers of clauses and lines such as 1.2 are text by intent.
    sheet.cells.ignore_errors({"number_stored_as_text": f"A1:D{last + 1}"})
    sheet.protect()


def _write_row(sheet: Sheet, row: int, cost: CostRow) -> None:
    told = (cost.number, cost.title, cost.place, words_whole(cost.lines, WIDTHS[LAST]))
    style = "section" if cost.is_part else "cell"
    for column, text in enumerate(told):
        sheet.text(row, column, text, style)
    sheet.fit_row(row, max(*map(lines_needed, told, WIDTHS), lines_kept(told[LAST], WIDTHS[LAST])))
