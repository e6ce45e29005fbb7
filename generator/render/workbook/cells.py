"""The cells of a sheet, whose formulas are looked over once for each way in which they call functions."""

from __future__ import annotations

import re
from typing import Final

from xlsxwriter.worksheet import Worksheet  # type: ignore[import-untyped]

_CALLED: Final = re.compile(r"[\w.]+\(")


class Cells(Worksheet):  # type: ignore[misc]
    """A sheet that asks the library once how a formula is to be spelt that calls the same functions as others."""

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
