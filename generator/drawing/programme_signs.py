"""The signs of a programme on paper: bars and their hatches, hold points, last placings, frames, access, ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from generator.drawing.area_hatch import Pattern, area_hatch
from generator.drawing.model import MEDIUM, THICK, THIN, Line, Polygon, Primitives, Rect, rectangle
from generator.drawing.programme_labels import Span
from generator.drawing.programme_model import Kind

BAR_MM: Final = 4.2
OUTLINE_MM: Final = 0.7
EDGE_MM: Final = 0.35
HOLD_MM: Final = 1.3
"""Half the width of a hold point's diamond: all are of one size, for a smaller one looks like another sign."""

HOLD_ROW_MM: Final = 2.3
"""Pitch of the rows that diamonds stand on where they are close together."""

MARK_MM: Final = 1.5
"""Half the width of the triangle of a last placing or a thing to order."""

FRAME_MM: Final = 1.25
"""How far the frame of the chain that decides stands off its bars."""

STOP_MM: Final = 0.9
ARROW_MM: Final = 2.6
_HOLD_APART_MM: Final = 2 * HOLD_MM + 0.3
_MOST_HOLD_ROWS: Final = 2
_LEAST_BAR_MM: Final = 0.35
_JOINT_MM: Final = 0.3
_CLEARED_MM: Final = 0.1
_CROSS_MM: Final = 0.9
_BARRED: Final[tuple[Pattern, float, float]] = ("level", 1.2, THIN)
_FROST: Final[tuple[Pattern, float, float]] = ("cross", 3.0, THIN)
_HATCHES: Final[dict[Kind, tuple[Pattern, float, float]]] = {
    "damp": ("upright", 1.1, 0.3),
    "cover": ("rise", 2.2, 0.35),
}
WHISKER_DASH: Final = (0.9, 0.6)
FROST_EDGES: Final[tuple[tuple[float, ...], ...]] = ((), (1.6, 1.0), (0.35, 0.9))
"""The edges of a winter at chances of 1, 5 and 9 in 10: whole, dashed, dotted."""


def bar(kind: Kind, span: Span, top: float) -> Primitives:
    """A task from its first to its last day: work black, waits white, damp and cover hatched."""
    left, right = span[0], max(span[1], span[0] + _LEAST_BAR_MM)
    if kind == "work":
        return (Rect(left, top, right - left, BAR_MM, 0.0, 0.0),)
    ground = Rect(left, top, right - left, BAR_MM, 0.0, 1.0)
    edge = Rect(left, top, right - left, BAR_MM, EDGE_MM if kind == "wait" else MEDIUM)
    if kind == "wait":
        return ground, edge
    corners = rectangle(left, top, right, top + BAR_MM)
    return ground, *_hatched(corners, *_HATCHES[kind]), edge


def frost(left: float, top: float, right: float, bottom: float) -> Primitives:
    """The hatch of a winter."""
    return area_hatch([rectangle(left, top, right, bottom)], *_FROST)


def barred(left: float, top: float, right: float, bottom: float) -> Primitives:
    """The lines of days without work."""
    return area_hatch([rectangle(left, top, right, bottom)], *_BARRED)


def _hatched(corners: tuple[tuple[float, float], ...], pattern: Pattern, pitch: float, weight: float) -> Primitives:
    """A hatch, one line at the least."""
    marks = area_hatch([corners], pattern, pitch, weight)
    (left, top), (right, _), (_, bottom), _ = corners
    middle = (left + right) / 2
    return marks or (Line(middle, top, middle, bottom, weight),)


def joint(x: float, top: float) -> Primitives:
    """A white line where one work passes into the next."""
    return (Rect(x - _JOINT_MM / 2, top, _JOINT_MM, BAR_MM, 0.0, 1.0),)


def hold_rows(places: Sequence[float]) -> list[int]:
    """The row of each diamond, the first that is free, so that they can be counted; the emptiest where none is."""
    ends = [-math.inf] * _MOST_HOLD_ROWS
    found = []
    for place in places:
        row = next((row for row, end in enumerate(ends) if place - end >= _HOLD_APART_MM), ends.index(min(ends)))
        ends[row] = place
        found.append(row)
    return found


def hold(x: float, y: float) -> Primitives:
    """A diamond about its middle."""
    return (Polygon(((x, y - HOLD_MM), (x + HOLD_MM, y), (x, y + HOLD_MM), (x - HOLD_MM, y)), 0.6, 1.0),)


def placing(x: float, top: float, bottom: float) -> Primitives:
    """The last day for placing: a black triangle on a stem down through the bars."""
    return (
        Line(x, top + MARK_MM, x, bottom, THICK),
        Polygon(((x - MARK_MM, top), (x + MARK_MM, top), (x, top + 2 * MARK_MM)), 0.0, 0.0),
    )


def order(x: float, top: float) -> Primitives:
    """The day by which a thing is ordered: a white triangle that stands on it."""
    return (Polygon(((x, top), (x + MARK_MM, top + 1.8 * MARK_MM), (x - MARK_MM, top + 1.8 * MARK_MM)), EDGE_MM, 1.0),)


def frame(span: Span, top: float, inside_mm: float = BAR_MM) -> Primitives:
    """The heavy outline round bars of the chain that decides, the bars so high."""
    height = inside_mm + 2 * FRAME_MM
    return (Rect(span[0], top - FRAME_MM, span[1] - span[0], height, OUTLINE_MM, 1.0),)


def in_hand(span: Span, top: float) -> Primitives:
    """Days in hand: a thin line with a stop at its end."""
    y = top + BAR_MM / 2
    return Line(span[0], y, span[1], y, MEDIUM), Line(span[1], top + 0.4, span[1], top + BAR_MM - 0.4, THICK)


def bracket(span: Span, y: float) -> Primitives:
    """Access: a line with a stop at both ends."""
    stops = tuple(Line(x, y - STOP_MM, x, y + STOP_MM, EDGE_MM) for x in span)
    return Line(*_level(span, y), MEDIUM), *stops


def whisker(early: float, likely: float, late: float, y: float, *, goes_on: bool = False) -> Primitives:
    """The end in the early, the likely and the late run: a dashed line with stops, a black square for the likely.

    An arrow after the late end where that run goes on beyond what is shown.
    """
    square = Rect(likely - 0.7, y - 0.7, 1.4, 1.4, 0.0, 0.0)
    stops = [Line(x, y - STOP_MM, x, y + STOP_MM, EDGE_MM) for x in ((early,) if goes_on else (early, late))]
    if goes_on:
        late += ARROW_MM
        stops += [Line(late, y, late - STOP_MM, y + way * STOP_MM, EDGE_MM) for way in (1, -1)]
    return Line(*_level((early, late), y), EDGE_MM, WHISKER_DASH), *stops, square


def cleared(x: float, y: float) -> Rect:
    """White over a day that cuts through, so that the end of a wall is seen to run past it."""
    wide = OUTLINE_MM + 2 * _CLEARED_MM
    return Rect(x - wide / 2, y - STOP_MM, wide, 2 * STOP_MM, 0.0, 1.0)


def cross(x: float, y: float) -> Primitives:
    """The cross of a barred span."""
    return tuple(Line(x - _CROSS_MM, y - way * _CROSS_MM, x + _CROSS_MM, y + way * _CROSS_MM, THICK) for way in (1, -1))


def _level(span: Span, y: float) -> tuple[float, float, float, float]:
    return span[0], y, span[1], y
