"""The pieces of the one-page site sheet and their heights, reckoned as Word sets them.

All lengths are twips, type sizes points; every line has exact spacing, so that heights are known.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

from generator.drawing.text import line_height_pt, text_width_pt, too_wide, wrap
from generator.render.word.xml import fit_text, twips

SIDE: Final = 85
"""Space between a column's edge and its text, as the table's style has it."""

BULLET: Final = twips(4)
GAP: Final = 120
"""Height of the blank between tables."""

_RULE: Final = 15
_TWIPS: Final = 20
_DUST: Final = 2
_WORD: Final = re.compile(r"\S+")


class TooWide(Exception):
    """A word is wider than its column and would be broken."""


@dataclass(frozen=True, slots=True)
class Span:
    """Words of one size and weight."""

    text: str
    size: float
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A paragraph of the sheet; spans are parted by blanks of their own."""

    spans: tuple[Span, ...]
    bullet: bool = False

    @property
    def text(self) -> str:
        """The words of the paragraph."""
        return "".join(span.text for span in self.spans)

    @property
    def size(self) -> float:
        """The largest type in it, which sets its lines."""
        return max(span.size for span in self.spans)


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of cells, each a stack of paragraphs set from the top or in the middle; `least` is a height."""

    cells: tuple[tuple[Piece, ...], ...]
    header: bool = False
    least: int = 0
    middle: bool = False


@dataclass(frozen=True)
class Grid:
    """A table: column widths, rows, the space above and below the text of a cell, what it is of."""

    widths: tuple[int, ...]
    rows: tuple[GridRow, ...]
    padding: int
    told: str = ""

    @cached_property  # the lists below the mixes are tried with each size of the mixes
    def height(self) -> int:
        """Height with the rules between rows. Raises `TooWide` where a word would be broken."""
        return sum(self._row_height(row) for row in self.rows) + _RULE

    def _row_height(self, row: GridRow) -> int:
        return max(max(map(stack_height, row.cells, self.widths)) + 2 * self.padding, row.least) + _RULE


def piece(text: str, size: float, bold: bool = False, *, bullet: bool = False) -> Piece:
    """A paragraph of one size and weight."""
    return Piece((Span(text, size, bold),), bullet)


@lru_cache(maxsize=64)
def line_height(size: float) -> int:
    """The exact line spacing of a type size."""
    return math.ceil(line_height_pt(size) * _TWIPS)


def stack_height(pieces: Iterable[Piece], width: int) -> int:
    """Height of the paragraphs in a column of that width, edges included. Raises `TooWide`."""
    return sum(piece_height(item, width - 2 * SIDE) for item in pieces)


def piece_height(item: Piece, width: int) -> int:
    """Height of a paragraph on a line of that width. Raises `TooWide`."""
    room = (width - (BULLET if item.bullet else 0)) / _TWIPS
    if len(item.spans) == 1:
        return _lines(item.spans[0], room) * line_height(item.size)
    return _lines_of_spans(item, room) * line_height(item.size)


def least_width(cell: Iterable[Piece]) -> int:
    """Width of the longest word of a cell, without the edges."""
    words = (
        text_width_pt(word, span.size, span.bold) * _TWIPS + (BULLET if item.bullet else 0)
        for item in cell
        for span in item.spans
        for word in _WORD.findall(span.text)
    )
    return math.ceil(max(words, default=0)) + _DUST


def run_width(cell: Iterable[Piece]) -> int:
    """Width of a cell's words on one line, without the edges."""
    widths = (text_width_pt(span.text, span.size, span.bold) for item in cell for span in item.spans)
    return math.ceil(sum(widths) * _TWIPS) + _DUST


@lru_cache(maxsize=8192)  # layouts are tried one after another, and most of their cells are the same
def _lines(span: Span, room: float) -> int:
    text = fit_text(span.text)
    if room <= 0 or too_wide(text, room, span.size, span.bold):
        raise TooWide
    return len(wrap(text, room, span.size, span.bold))


def _lines_of_spans(item: Piece, room: float) -> int:
    """Lines of a paragraph of several sizes, every blank reckoned as wide as the largest one's."""
    blank = text_width_pt(" ", item.size)
    lines, used = 1, -blank
    for span in item.spans:
        for word in _WORD.findall(fit_text(span.text)):
            width = text_width_pt(word, span.size, span.bold)
            if width > room:
                raise TooWide
            if used + blank + width > room:
                lines, used = lines + 1, -blank
            used += blank + width
    return lines
