"""Gauge boxes of a batch, counted out as rows of little boxes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from generator.drawing.annotate import LINE_MM, lettering, lines_in, text_width_mm
from generator.drawing.model import (
    DASHED,
    LETTER_PT,
    MEDIUM,
    Drawing,
    Label,
    Polyline,
    Primitives,
    Rect,
    filled,
    one_line,
)
from generator.values import fraction_told, plain, rounded

Row = tuple[str, Decimal]

WIDTH_MM: Final = 140.0
MOST_BOXES: Final = 99
BOX_MM: Final = (6.4, 5.0)
_PITCH: Final = (7.6, 6.4)
_FIVES_GAP: Final = 2.4
_PER_LINE: Final = 10
_MARGIN: Final = 3.0
_ROW_GAP: Final = 2.4
_COUNT_PT: Final = 12.0
_FILL: Final = 0.8


@dataclass(frozen=True, slots=True)
class BoxWords:
    """What stands below the boxes and in the alternative text.

    In braces: `{litres}`, `{rows}`, and in a row `{label}`, `{count}`.
    """

    note: str
    row: str
    alt: str


def boxes_per_batch(rows: Sequence[Row], box_l: Decimal, words: BoxWords, box_told: str = "") -> Drawing:
    """The boxes of each ingredient of a batch, ten to a line in fives; part of a box is a box filled so far.

    Each row is a label and a count of boxes; the box holds `box_l` litres, told as `box_told` where not by their
    number. ValueError for no rows, for counts
    outside 0 to 99 and for a box not above 0 litres.
    """
    _check(rows, box_l)
    rows = [(one_line(label), count) for label, count in rows]
    counts = max(text_width_mm(count_text(count), _COUNT_PT, bold=True) for _, count in rows)
    boxes_right = WIDTH_MM - _MARGIN - counts - 3.0
    boxes_left = boxes_right - _across(_PER_LINE - 1) - BOX_MM[0]
    parts: list[Primitives] = []
    y = _MARGIN
    for label, count in rows:
        lines = lines_in(label, boxes_left - _MARGIN - 3.0, LETTER_PT + 1)
        height = max(_lines_of(count) * _PITCH[1], len(lines) * LINE_MM * 1.13) + _ROW_GAP
        parts += [_row(lines, count, y, boxes_left)]
        y += height
    litres = box_told or plain(box_l)
    said = "; ".join(filled(words.row, label=label, count=count_text(count)) for label, count in rows)
    note = lines_in(filled(words.note, litres=litres), WIDTH_MM - 2 * _MARGIN)
    parts.append(lettering(note, _MARGIN, y + LINE_MM))
    height = y + LINE_MM * len(note) + _MARGIN
    primitives = tuple(primitive for part in parts for primitive in part)
    return Drawing(WIDTH_MM, round(height, 2), filled(words.alt, litres=litres, rows=said), primitives)


def count_text(count: Decimal) -> str:
    """A count of boxes as it is spoken: `2`, `2½`, `½`, else in figures."""
    return fraction_told(rounded(count, 2))


def _check(rows: Sequence[Row], box_l: Decimal) -> None:
    if not rows:
        raise ValueError("a batch has no boxes: give at least one row")
    for label, count in rows:
        if not (count.is_finite() and 0 <= count <= MOST_BOXES):
            raise ValueError(f"{label} is {count} boxes: valid 0 to {MOST_BOXES}")
    if not (box_l.is_finite() and box_l > 0):
        raise ValueError(f"a box is {box_l} litres: valid above 0")


def _lines_of(count: Decimal) -> int:
    return max(1, math.ceil(math.ceil(count) / _PER_LINE))


def _across(place: int) -> float:
    """How far the box at a place of its line stands from the first."""
    return place * _PITCH[0] + (_FIVES_GAP if place >= _PER_LINE // 2 else 0.0)


def _row(label: Sequence[str], count: Decimal, y: float, left: float) -> Primitives:
    whole, rest = divmod(count, 1)
    shares = [1.0] * int(whole) + ([float(rest)] if rest else [])
    boxes: list[Primitives] = []
    for index, share in enumerate(shares):
        line, place = divmod(index, _PER_LINE)
        boxes.append(_box(left + _across(place), y + line * _PITCH[1], share))
    baseline = y + BOX_MM[1] * 0.72
    return (
        *lettering(label, _MARGIN, baseline, LETTER_PT + 1),
        *(primitive for box in boxes for primitive in box),
        Label(WIDTH_MM - _MARGIN, baseline + 0.4, count_text(count), _COUNT_PT, "end", True),
    )


def _box(x: float, y: float, share: float) -> Primitives:
    """A gauge box from the side, filled to its share, the part that stays empty dashed."""
    width, height = BOX_MM
    level = y + height * (1 - share)
    body = Rect(x, level, width, height * share, MEDIUM, _FILL)
    if share == 1.0:
        return (body,)
    return body, Polyline(((x, level), (x, y), (x + width, y), (x + width, level)), MEDIUM, DASHED)
