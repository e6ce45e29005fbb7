"""Where pages of a printed sheet end, so that no title stands alone at the foot of one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from typing import Final

from generator.render.word.geometry import PAPERS
from generator.render.word.xml import TWIPS_PER_PT

MARGINS_IN: Final = {"left": 0.45, "right": 0.45, "top": 0.75, "bottom": 0.7}
_POINTS_PER_INCH: Final = 72
_UNSET: Final = 15.0
_AS_PRINTED: Final = 1.05
"""LibreOffice 7.4 was seen to print 1.08 of what the widths of columns let one reckon; Excel breaks by itself."""

_KEPT: Final = 3
"""So many rows stand together with a title."""


def room_pt(paper: str, wide_pt: float, *, landscape: bool) -> float:
    """The height of rows on a page, on which the sheet is printed so small that its width fits."""
    width, height = (side / TWIPS_PER_PT for side in PAPERS[paper][:: -1 if landscape else 1])
    free_wide = width - (MARGINS_IN["left"] + MARGINS_IN["right"]) * _POINTS_PER_INCH
    free_high = height - (MARGINS_IN["top"] + MARGINS_IN["bottom"]) * _POINTS_PER_INCH
    return free_high * max(1.0, wide_pt / free_wide) * _AS_PRINTED


def breaks_before(titles: Set[int], first: int, last: int, heights: Mapping[int, float], room: float) -> Iterator[int]:
    """The rows that start a page: each that would not fit, and a title of whose rows too few would follow it.

    Every page is told, so that no difference from what is printed adds up over pages. Rows count from 0; those before
    `first` stand on the first page, that right before it on every page.
    """
    used = sum(heights.get(row, _UNSET) for row in range(first))
    repeated = heights.get(first - 1, _UNSET)
    for row in range(first, last + 1):
        together = range(row, min(row + _KEPT, last + 1)) if row in titles else (row,)
        if used + sum(heights.get(one, _UNSET) for one in together) > room:
            yield row
            used = repeated
        used += heights.get(row, _UNSET)
