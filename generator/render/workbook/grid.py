"""A grid of cells as a workbook to fill in, and back: a column a question, a row a thing that is asked about."""

from __future__ import annotations

import datetime
import io
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any, Final

from generator.render.workbook.book import OPTIONS
from generator.render.workbook.sheet import cell_text
from generator.values import Struct

MOST_ROWS: Final = 5_000
MOST_COLUMNS: Final = 400
NOTE_LIMIT: Final = 1_500
_FREE_ROWS: Final = 200
_LISTS: Final = "Lists"
_FONT: Final = {"font_name": "Arial", "font_size": 10, "valign": "top", "text_wrap": True}


class Column(Struct, frozen=True):
    """A column by its key: its heading, the help beside it, and what may be chosen; `text` keeps figures as typed."""

    key: str
    heading: str
    note: str = ""
    choices: tuple[str, ...] = ()
    text: bool = True
    width: int = 16


class Grid(Struct, frozen=True):
    """Columns, and rows of texts by the keys of columns; `about` stands on a sheet of its own, a line a paragraph."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[dict[str, str], ...]
    about: tuple[str, ...] = ()
    about_title: str = ""


class Cell(Struct, frozen=True):
    """A cell that something stands in, and where: its column's key, its reference in the sheet such as `F7`."""

    key: str
    ref: str
    text: str
    strange: str = ""


class NoGrid(ValueError):
    """A workbook that holds no grid; says why: `sheet`, `columns`, `large`."""


def grid_workbook(grid: Grid) -> bytes:
    """A grid as bytes of an .xlsx file, the same for the same grid; the keys of columns stand in a hidden row."""
    import xlsxwriter  # type: ignore[import-untyped]

    stream = io.BytesIO()
    workbook = xlsxwriter.Workbook(stream, OPTIONS)
    workbook.set_properties({"title": cell_text(grid.title, 255), "created": datetime.datetime(2000, 1, 1)})
    sheet = workbook.add_worksheet(grid.title)
    formats = {
        "head": workbook.add_format({**_FONT, "bold": True, "bottom": 2}),
        "cell": workbook.add_format({**_FONT, "num_format": "@"}),
        "figure": workbook.add_format(_FONT),
    }
    for at, column in enumerate(grid.columns):
        sheet.write_string(0, at, column.key)
        sheet.write_string(1, at, cell_text(column.heading), formats["head"])
        if column.note:
            sheet.write_comment(1, at, cell_text(column.note, NOTE_LIMIT), {"x_scale": 2.5, "y_scale": 2.5})
        sheet.set_column(at, at, column.width, formats["cell" if column.text else "figure"])
    for number, row in enumerate(grid.rows):
        for at, column in enumerate(grid.columns):
            _write(sheet, number + 2, at, row.get(column.key, ""), formats["cell" if column.text else "figure"], column)
    if any(column.choices for column in grid.columns):
        lists = workbook.add_worksheet(_LISTS)
        _choices(sheet, lists, grid)
        lists.hide()
    if grid.about:
        about = workbook.add_worksheet(cell_text(grid.about_title, 31))
        about.set_column(0, 0, 110)
        for number, line in enumerate(grid.about):
            about.write_string(number, 0, cell_text(line), formats["figure"])
    sheet.set_row(0, None, None, {"hidden": True})
    sheet.freeze_panes(2, 2)
    sheet.activate()
    workbook.close()
    return stream.getvalue()


def _write(sheet: Any, row: int, at: int, text: str, form: Any, column: Column) -> None:
    if not text:
        return
    try:
        figure = None if column.text else Decimal(text)
    except ArithmeticError:
        figure = None
    if figure is None:
        sheet.write_string(row, at, cell_text(text), form)
    else:
        sheet.write_number(row, at, float(figure), form)


def _choices(sheet: Any, lists: Any, grid: Grid) -> None:
    """The choices of each column in a list below its cells; others may be typed, several with commas between them."""
    from xlsxwriter.utility import xl_col_to_name  # type: ignore[import-untyped]

    last = len(grid.rows) + 1 + _FREE_ROWS
    for at, column in enumerate(grid.columns):
        for number, choice in enumerate(column.choices):
            lists.write_string(number, at, cell_text(choice))
        if column.choices:
            letters = xl_col_to_name(at)
            source = f"={_LISTS}!${letters}$1:${letters}${len(column.choices)}"
            sheet.data_validation(2, at, last, at, {"validate": "list", "source": source, "show_error": False})


# --- coming back --------------------------------------------------------------------------------------------


def read_grid(data: bytes, title: str) -> list[list[Cell]]:
    """The rows of a grid that come back, each as the cells that something stands in, by the keys above them.

    The package is looked over before. Raises `NoGrid`; `ValueError` for what is no workbook.
    """
    from openpyxl import load_workbook

    from generator.render.check.opened import Unreadable, sound_xml

    sound_xml(data)
    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
    except Exception as error:  # openpyxl raises whatever its parts raise
        raise ValueError(str(error)) from None
    try:
        if title not in book.sheetnames:
            raise NoGrid("sheet")
        rows = book[title].iter_rows()
        keys = [str(cell.value or "") for cell in next(rows, ())]
        if len(keys) > MOST_COLUMNS:
            raise NoGrid("large")
        next(rows, None)
        return list(_rows(rows, keys))
    except (NoGrid, Unreadable):
        raise
    except Exception as error:
        raise ValueError(str(error)) from None
    finally:
        book.close()


def _rows(rows: Iterator[Sequence[Any]], keys: Sequence[str]) -> Iterator[list[Cell]]:
    from openpyxl.utils import get_column_letter

    for number, row in enumerate(rows, 3):
        if number > MOST_ROWS + 2:
            raise NoGrid("large")
        cells = (
            _cell(key, f"{get_column_letter(at)}{number}", one)
            for at, (key, one) in enumerate(zip(keys, row, strict=False), 1)
        )
        found = [cell for cell in cells if cell.key and (cell.text or cell.strange)]
        if found:
            yield found


def _cell(key: str, ref: str, cell: Any) -> Cell:
    value = cell.value
    if value is None:
        return Cell(key, ref, "")
    if cell.data_type == "f" or (isinstance(value, str) and value.startswith("=")):
        return Cell(key, ref, "", "formula")
    if cell.data_type == "e":
        return Cell(key, ref, "", "error")
    if isinstance(value, datetime.datetime | datetime.date):
        return Cell(key, ref, value.strftime("%Y-%m-%d"), "date")
    if isinstance(value, datetime.time | datetime.timedelta):
        return Cell(key, ref, str(value), "date")
    if isinstance(value, bool):
        return Cell(key, ref, "yes" if value else "no")
    if isinstance(value, int | float):
        return Cell(key, ref, f"{Decimal(repr(value)):f}" if isinstance(value, float) else str(value))
    return Cell(key, ref, " ".join(str(value).split()))
