"""The pieces of a mix page and their heights, reckoned as Word sets them.

Lengths are twips, type sizes points. Lines of text have exact pitch and rows exact height, so that a page is measured
before it is written. In an exact line Word shows no more of a picture than stands above its baseline.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from generator.document.model import Inlines, Strong
from generator.drawing.model import Drawing, Sketch
from generator.drawing.text import SLACK_PT, text_width_pt
from generator.render.word.xml import TWIPS_PER_PT, fit_text, twips
from generator.values import Struct, unparted

PADDING: Final = 20
"""Above and below the content of a cell."""

SIDE: Final = 60
"""Between a cell's edge and its content, left and right."""

PITCH: Final = 7 / 6
"""From line to line, as a share of the type: 14 points for 12."""

ABOVE_BASELINE: Final = 0.72
"""Of an exact line: a baseline stands at four fifths of its height, or its descent above the foot."""

_RULE: Final = 50
_ASCENT, _DESCENT = 0.91, 0.25  # of the face, in a line that grows, the gap between lines with the descent
_LONG: Final = re.compile(r"[^\s\u2060]{23,}")
_PART: Final = re.compile(r"[^@._/\-]{0,18}[@._/\-]|.{18}")
_BLANKS: Final = " \n\u200b"
_PIECE: Final = re.compile(f"[{_BLANKS}]+|[^{_BLANKS}]+")


class TooWide(Exception):
    """A word or a picture is wider than its column."""


class Span(Struct, frozen=True):
    """Words of one size and weight; `low_pt` is how far below the baseline they stand."""

    text: str
    size: float
    bold: bool = False
    low_pt: float = 0.0


Item = Span | Drawing | Sketch
"""Words, or a picture."""


class Line(Struct, frozen=True):
    """A paragraph of words and pictures. `pitch` is its exact line, 0 that of its largest type.

    `hang` is how far its first span stands out, `rule` a thin rule above, `title` the heading of the page, `blank` a
    white box to be filled in by pen.
    """

    items: tuple[Item, ...]
    pitch: int = 0
    before: int = 0
    hang: int = 0
    rule: bool = False
    title: bool = False
    blank: bool = False

    @property
    def grows(self) -> bool:
        """Whether it holds a picture in a line that is as high as that asks for."""
        return not self.pitch and any(not isinstance(item, Span) for item in self.items)

    @property
    def size(self) -> float:
        """Its largest type; that of the mark of a paragraph without words."""
        return max((item.size for item in self.items if isinstance(item, Span)), default=1.0)

    @property
    def high(self) -> int:
        """The height of each of its lines, in twips."""
        if not self.grows:
            return self.pitch or math.ceil(self.size * PITCH * TWIPS_PER_PT)
        pictures = max(twips(item.height_mm) for item in self.items if not isinstance(item, Span))
        return max(pictures, math.ceil(_ASCENT * self.size * TWIPS_PER_PT)) + math.ceil(
            (_DESCENT * self.size + 0.5) * TWIPS_PER_PT
        )


class Cell(Struct, frozen=True):
    """A cell: paragraphs from the top, white on black or black on white; rules by side, in eighths of a point.

    `flush` where its content reaches from edge to edge; `clear` is what it keeps besides from the cell on its right.
    """

    lines: tuple[Line, ...] = ()
    black: bool = False
    rules: tuple[tuple[str, int], ...] = ()
    flush: bool = False
    clear: int = 0

    def height(self, width: int) -> int:
        """The least height in a column of that width. Raises `TooWide`."""
        room = width - 2 * self.margin - self.clear
        return sum(_height(line, room) for line in self.lines) + 2 * PADDING

    @property
    def margin(self) -> int:
        """Between its edge and its content, left and right."""
        return 0 if self.flush else SIDE


class Grid(Struct, frozen=True):
    """A table: column widths, rows of cells, what it is of, what each row takes beyond its least, the blank `below`.

    `joined` where the next table goes on from it in one frame: the blank between is black, so that no slit shows.
    """

    widths: tuple[int, ...]
    rows: tuple[tuple[Cell, ...], ...]
    told: str
    extra: tuple[int, ...] = ()
    below: int = 20
    joined: bool = False

    @property
    def heights(self) -> tuple[int, ...]:
        """The height of each row. Raises `TooWide`."""
        least = [max(cell.height(width) for cell, width in zip(row, self.widths, strict=True)) for row in self.rows]
        return tuple(map(sum, zip(least, self.extra or (0,) * len(least), strict=True)))


@lru_cache(maxsize=2048)  # of the same words again for each width that is tried
def spans(content: Inlines, size: float, bold: bool = False) -> tuple[Span, ...]:
    """Inlines as spans of one size; strong ones are bold."""
    found: list[Span] = []
    for item in content:
        if isinstance(item, Strong):
            found += spans(item.content, size, bold=True)
        elif item.text:
            text = item.text if found else item.text.lstrip()
            # a unit is held to the number that ends the span before it
            number = found[-1].text[-1:] if found and found[-1].text[-1:].isdigit() else ""
            found.append(Span(held(number + text)[len(number) :], size, bold))
    return tuple(found)


def held(text: str) -> str:
    """A text in which no number is parted from its unit, no range broken, and every long word may be."""
    return _LONG.sub(_parted, unparted(text))


def _parted(word: re.Match[str]) -> str:
    return _PART.sub(lambda part: part[0] + "\u200b", word[0])


def width_of(items: Iterable[Item]) -> int:
    """The width of items on one line."""
    return sum(round(_wide(i.text, i)) if isinstance(i, Span) else twips(i.width_mm) for i in items)


def _wide(text: str, span: Span) -> float:
    return text_width_pt(fit_text(text), span.size, span.bold) * TWIPS_PER_PT


def _height(line: Line, room: int) -> int:
    above = line.before + (_RULE if line.rule else 0)
    return above + _lines(line, room - line.hang - SLACK_PT * TWIPS_PER_PT) * line.high


def _lines(line: Line, room: float) -> int:
    """How many lines a paragraph takes, broken at blanks alone."""
    count, used = 1, 0.0
    for width, blank in _words(line.items[1:] if line.hang else line.items):
        if width > room + SLACK_PT * TWIPS_PER_PT:
            raise TooWide
        if used and used + blank + width > room:
            count, used = count + 1, width
        else:
            used += (blank if used else 0.0) + width
    return count


@lru_cache(maxsize=2048)  # most paragraphs keep their type while others are tried in another
def _words(items: tuple[Item, ...]) -> tuple[tuple[float, float], ...]:
    """The width of each unbroken stretch, over spans and pictures, and of the blank before it."""
    found: list[list[float]] = []
    blank: float | None = 0.0
    for item in items:
        pieces = _pieces(item) if isinstance(item, Span) else ((twips(item.width_mm), ""),)
        for width, space in pieces:
            if space:
                blank = (blank or 0.0) + width
            elif blank is None:
                found[-1][0] += width
            else:
                found.append([width, blank])
                blank = None
            blank = blank if space else None
    return tuple((width, blank) for width, blank in found)


@lru_cache(maxsize=4096)  # a page is tried in many widths, of which few change the type
def _pieces(span: Span) -> tuple[tuple[float, str], ...]:
    """Words and blanks of a span in turn, each with its width; a blank is told by its text."""
    return tuple(
        (text_width_pt(fitted, span.size, span.bold) * TWIPS_PER_PT, blank) for fitted, blank in _split(span.text)
    )


@lru_cache(maxsize=1024)
def _split(text: str) -> tuple[tuple[str, str], ...]:
    """Words and blanks of a text in turn, each as it is printed, and the text of a blank."""
    found = _PIECE.findall(text)
    return tuple((fit_text(piece), "" if piece.strip(_BLANKS) else piece) for piece in found)
