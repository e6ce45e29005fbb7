"""The cells of a sheet, spelt as the library spells them, without what it does again for each of them."""

from __future__ import annotations

import re
from typing import Any, Final

from xlsxwriter.utility import xl_rowcol_to_cell_fast  # type: ignore[import-untyped]
from xlsxwriter.worksheet import Worksheet  # type: ignore[import-untyped]

_CALLED: Final = re.compile(r"[\w.]+\(")


class Cells(Worksheet):  # type: ignore[misc]
    """A sheet whose cells are told by numbers, have formats, and call a few functions in many formulas.

    How formulas that call the same functions are to be spelt is asked of the library once.
    """

    def __init__(self) -> None:
        super().__init__()
        self._plain: set[tuple[str, ...]] = set()

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        """The formula without its first sign, newer functions under their long names: thirty searches for each."""
        called = tuple(_CALLED.findall(formula))
        if called in self._plain and not expand_future_functions:
            return formula.removeprefix("=")
        prepared: str = super()._prepare_formula(formula, expand_future_functions)
        if prepared == formula.removeprefix("="):
            self._plain.add(called)
        return prepared

    def write_string(self, row: int, col: int, string: str, cell_format: Any = None) -> int:
        """Writes a text into a cell by its numbers: the library tries every time whether they are an address."""
        return int(self._write_string(row, col, string, cell_format))

    def write_formula(self, row: int, col: int, formula: str, cell_format: Any = None, value: Any = 0) -> int:
        """Writes a formula into a cell by its numbers."""
        return int(self._write_formula(row, col, formula, cell_format, value))

    def write_blank(self, row: int, col: int, blank: Any, cell_format: Any = None) -> int:
        """Formats an empty cell by its numbers."""
        return int(self._write_blank(row, col, blank, cell_format))

    def _write_cell(self, row: int, col: int, cell: Any) -> None:
        """The element of a cell; that of a text, an empty cell or a formula with a format is put together at once."""
        spelt = _spelt(cell) if cell.format else None
        if spelt is None:
            super()._write_cell(row, col, cell)
        else:
            place = xl_rowcol_to_cell_fast(row, col)
            self.fh.write(f'<c r="{place}" s="{cell.format._get_xf_index()}"{spelt}')


def _spelt(cell: Any) -> str | None:
    """What follows the format of a cell in its element; None for a kind of cell that is left to the library."""
    kind = type(cell).__name__
    if kind == "String":
        return f' t="s"><v>{cell.string}</v></c>'
    if kind == "Blank":
        return "/>"
    if kind == "Formula" and (cell.value == "" or type(cell.value) in (int, float)):
        return f"><f>{_escaped(cell.formula)}</f><v>{cell.value}</v></c>"
    return None


def _escaped(formula: str) -> str:
    return formula.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
