"""Widths and heights of text in Arial and its metric twins, so that a page can be fitted without a font.

The advances are those of Liberation Sans, which has Arial's by design (`metrics_data.json`, written by
tests/make_metrics.py). Kerning is left out, as Word leaves it out unless a style asks for it. All sizes are
in points.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

POINTS_PER_MM: Final = 72 / 25.4

UNKNOWN_EM: Final = 0.75
"""Advance of a character the table lacks: wider than most letters, so that no fit is promised too soon."""

WIDE_EM: Final = 1.0
"""Advance of Chinese, Japanese and Korean characters, of emoji and other signs the table lacks."""

SLACK_PT: Final = 0.5
"""Room at a line's end that word processors may leave: LibreOffice 7.4 leaves it, as measured."""

_DATA: Final = Path(__file__).with_name("metrics_data.json")
_NO_ADVANCE: Final = {"Mn", "Me", "Cf", "Cc"}
# A line may break after spaces, after a hyphen or dash with more behind it, and by a wide character.
_SPACES: Final = " \t\u2002\u2003\u2009\u200b"
_WIDE: Final = "\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\uffe0-\uffe6"
_CHUNK: Final = re.compile(
    rf"[{_SPACES}]+"
    rf"|[{_WIDE}][{_SPACES}]*"
    rf"|[^{_SPACES}{_WIDE}]+?(?:(?<=[\-\u2010\u2012-\u2014])(?![\-\u2010\u2012-\u2014{_SPACES}])"
    rf"|[{_SPACES}]+|(?=[{_WIDE}])|$)"
)


class _Advances(dict[str, int]):
    """Advances by character in units of the em; one that is missing is reckoned once and kept."""

    def __init__(self, known: dict[str, int], units_per_em: int) -> None:
        super().__init__(known)
        self.units_per_em = units_per_em

    def __missing__(self, character: str) -> int:
        self[character] = advance = round(_unlisted_em(character) * self.units_per_em)
        return advance


@dataclass(frozen=True, slots=True)
class _Face:
    regular: _Advances
    bold: _Advances
    units_per_em: int
    line: int


@dataclass(frozen=True, slots=True)
class CellLook:
    """How text stands in a table's cells, in points; `line_pt` 0 is single spacing, else the line pitch."""

    size_pt: float
    margin_x_pt: float = 5.4
    margin_y_pt: float = 0.0
    space_before_pt: float = 0.0
    space_after_pt: float = 0.0
    line_pt: float = 0.0
    border_pt: float = 0.5

    @property
    def pitch_pt(self) -> float:
        """From one line of text to the next."""
        return self.line_pt or line_height_pt(self.size_pt)


def text_width_pt(text: str, size_pt: float, bold: bool = False) -> float:
    """The width of a text on one line, in points; spaces at its end count.

    Characters the table lacks count `UNKNOWN_EM`, wide ones and signs `WIDE_EM`, combining marks nothing.
    """
    return _units(text, bold) * size_pt / _face().units_per_em


@lru_cache(maxsize=8192)
def _units(text: str, bold: bool) -> int | float:
    """The width in the face's own units: asked for again at every size and column that a layout tries."""
    face = _face()
    return sum(map((face.bold if bold else face.regular).__getitem__, text))


def line_height_pt(size_pt: float) -> float:
    """The pitch of lines in single spacing, in points: 1.15 of the size, from the face's own figures."""
    face = _face()
    return size_pt * face.line / face.units_per_em


@lru_cache(maxsize=2048)
def wrap(text: str, width_pt: float, size_pt: float, bold: bool = False) -> tuple[str, ...]:
    """The lines a text takes in a column: greedy, broken after spaces and hyphens; spaces at line ends hang.

    A line feed starts a new line; an empty text is one empty line. What is wider than the column alone is
    broken between characters, as word processors do: `too_wide` names it. Who must be sure of the lines gives
    a width `SLACK_PT` less. ValueError unless the width is above 0.
    """
    if width_pt <= 0:
        raise ValueError(f"width_pt is {width_pt}: valid above 0")
    return tuple(
        line for paragraph in text.split("\n") for line in _lines(paragraph, width_pt, size_pt, bold)
    )


def too_wide(text: str, width_pt: float, size_pt: float, bold: bool = False) -> tuple[str, ...]:
    """The parts of a text, each once, that cannot be broken and are wider than the column."""
    parts = (chunk.strip(_SPACES) for paragraph in text.split("\n") for chunk in _CHUNK.findall(paragraph))
    return tuple(dict.fromkeys(part for part in parts if text_width_pt(part, size_pt, bold) > width_pt))


def widest_part_pt(text: str, size_pt: float, bold: bool = False) -> float:
    """The width of the widest part of a text that cannot be broken, in points."""
    return max((text_width_pt(chunk.strip(_SPACES), size_pt, bold) for chunk in _CHUNK.findall(text)), default=0.0)


def row_height_pt(
    cells: Sequence[str], widths_pt: Sequence[float], look: CellLook, bold: bool = False
) -> float:
    """The height of a table row, in points: its tallest cell with margins, and the line above it.

    `widths_pt` are the columns' widths, cell margins included. ValueError where cells and columns differ in
    number or a column is no wider than its margins and the slack.
    """
    tallest = max(
        len(wrap(text, width - 2 * look.margin_x_pt - SLACK_PT, look.size_pt, bold))
        for text, width in zip(cells, widths_pt, strict=True)
    )
    around = look.space_before_pt + look.space_after_pt + 2 * look.margin_y_pt + look.border_pt
    return tallest * look.pitch_pt + around


def table_height_pt(
    rows: Sequence[Sequence[str]], widths_pt: Sequence[float], look: CellLook, header_rows: int = 1
) -> float:
    """The height of a table, in points, its first `header_rows` bold, with the line that closes it below."""
    heights = (row_height_pt(row, widths_pt, look, index < header_rows) for index, row in enumerate(rows))
    return sum(heights) + look.border_pt


@cache
def _face() -> _Face:
    data = json.loads(_DATA.read_text(encoding="utf-8"))
    per_em: int = data["units_per_em"]
    regular, bold = (_Advances(_spread(data[face]), per_em) for face in ("regular", "bold"))
    return _Face(regular, bold, per_em, data["line"])


def _spread(runs: dict[str, list[int]]) -> dict[str, int]:
    return {
        chr(code): advance
        for first, advances in runs.items()
        for code, advance in enumerate(advances, int(first))
    }


def _unlisted_em(character: str) -> float:
    category = unicodedata.category(character)
    if category in _NO_ADVANCE:
        return 0.0
    wide = category == "So" or unicodedata.east_asian_width(character) in "WF"
    return WIDE_EM if wide else UNKNOWN_EM


def _lines(paragraph: str, width_pt: float, size_pt: float, bold: bool) -> Iterator[str]:
    line = ""
    for chunk in _CHUNK.findall(paragraph):
        if _fits(line + chunk, width_pt, size_pt, bold):
            line += chunk
            continue
        if line:
            yield line.rstrip(_SPACES)
        *whole, line = _broken(chunk, width_pt, size_pt, bold)
        yield from whole
    yield line.rstrip(_SPACES)


def _fits(text: str, width_pt: float, size_pt: float, bold: bool) -> bool:
    # sums of binary fractions leave dust; a text as wide as its column fits
    return text_width_pt(text.rstrip(_SPACES), size_pt, bold) <= width_pt + 1e-6


def _broken(chunk: str, width_pt: float, size_pt: float, bold: bool) -> list[str]:
    """What cannot be broken, cut into pieces that fit, one character at the least."""
    pieces = [""]
    for character in chunk:
        if pieces[-1] and not _fits(pieces[-1] + character, width_pt, size_pt, bold):
            pieces.append("")
        pieces[-1] += character
    return pieces
