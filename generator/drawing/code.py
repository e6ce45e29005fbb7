"""A text as a QR code that a telephone reads without a network; the one door to the library that makes it.

Level L of ISO/IEC 18004 mends 7 % of a code and packs the most text in a size: the page hangs flat and is replaced.
"""

from __future__ import annotations

import importlib.util
import sys
from functools import cache, lru_cache
from typing import Any, Final

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
    rows = _made(text)
    side = round(len(rows) * MODULE_MM, 3)
    if side > room_mm:
        raise CodeTooLong(f"a code {side} mm wide in {room_mm} mm of room")
    return Drawing(side, side, alt, tuple(_bar(y, run) for y, row in enumerate(rows) for run in _runs(row)))


def _made(text: str) -> list[bytes]:
    """The rows of a code with its white margin, 1 where a square is dark."""
    code_ = _encoder().encode(text, error="l", boost_error=False, micro=False)
    side, blank = bytes(QUIET_MODULES), bytes(len(code_.matrix) + 2 * QUIET_MODULES)
    return [blank] * QUIET_MODULES + [side + bytes(row) + side for row in code_.matrix] + [blank] * QUIET_MODULES


@cache
def _encoder() -> Any:
    """What reckons the squares, alone: with its package come writers, and with these networks, mail and ciphers."""
    spec = importlib.util.find_spec("segno")
    if spec is None or "segno" in sys.modules:
        from segno import encoder

        return encoder
    sys.modules["segno"] = importlib.util.module_from_spec(spec)
    try:
        from segno import encoder

        return encoder
    finally:
        sys.modules.pop("segno", None)  # whoever asks for the package itself gets it whole


def _runs(row: bytes) -> list[tuple[int, int]]:
    """Where dark squares begin and end in a row."""
    edges = [x for x in range(1, len(row)) if row[x] != row[x - 1]]
    return list(zip(edges[::2], edges[1::2], strict=True))


def _bar(y: int, run: tuple[int, int]) -> Polygon:
    left, right = run
    return Polygon(rectangle(left * MODULE_MM, y * MODULE_MM, right * MODULE_MM, (y + 1) * MODULE_MM), 0.0, 0.0)
