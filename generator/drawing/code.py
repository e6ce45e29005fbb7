"""A text as a QR code that a telephone reads without a network; the one door to the library that makes it.

Level L of ISO/IEC 18004 mends 7 % of a code and packs the most text in a size: the page hangs flat and is replaced.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from generator.drawing.model import Drawing, Polygon, rectangle

MODULE_MM: Final = 0.466
"""Width of the least square: eleven dots of the picture before it is halved, so that edges stay sharp."""

QUIET_MODULES: Final = 2
"""White on every side; the page leaves as much again, and readers ask for four (ISO/IEC 18004)."""

MOST_CHARACTERS: Final = 150


class CodeTooLong(ValueError):
    """The text makes a code larger than its room."""


@lru_cache(maxsize=16)
def code(text: str, alt: str, room_mm: float) -> Drawing:
    """The code of a text with its white margin, mm of room for either side.

    CodeTooLong for over 150 characters, and for a code that does not fit the room at 0.47 mm a square.
    """
    if len(text) > MOST_CHARACTERS:
        raise CodeTooLong(f"a code of {len(text)} characters: valid up to {MOST_CHARACTERS}")
    import segno

    made = segno.make(text, error="l", boost_error=False, micro=False)
    rows = [bytes(row) for row in made.matrix_iter(border=QUIET_MODULES)]
    side = round(len(rows) * MODULE_MM, 3)
    if side > room_mm:
        raise CodeTooLong(f"a code {side} mm wide in {room_mm} mm of room")
    return Drawing(side, side, alt, tuple(_bar(y, run) for y, row in enumerate(rows) for run in _runs(row)))


def _runs(row: bytes) -> list[tuple[int, int]]:
    """Where dark squares begin and end in a row."""
    edges = [x for x in range(1, len(row)) if row[x] != row[x - 1]]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _bar(y: int, run: tuple[int, int]) -> Polygon:
    left, right = run
    return Polygon(rectangle(left * MODULE_MM, y * MODULE_MM, right * MODULE_MM, (y + 1) * MODULE_MM), 0.0, 0.0)
