"""What is written on drawings: scales, dimensions, leaders, arrows, numbers in rings, blocks of lettering."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from generator.drawing.model import (
    LETTER_PT,
    MEDIUM,
    THICK,
    THIN,
    Anchor,
    Circle,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitives,
    Rect,
)
from generator.drawing.text import POINTS_PER_MM, text_width_pt, wrap
from generator.values import METRIC, Spelling, Struct, rounded

TICK_MM: Final = 0.9
"""Half the reach of a dimension's oblique tick, across and down."""

RING_MM: Final = 2.1
"""Radius of the ring round a number."""

LINE_MM: Final = 3.6
"""Pitch of lines of lettering at the usual size."""

_CENTRE_MM: Final = 1.0
_TEXT_GAP_MM: Final = 0.9


class Scale(Struct, frozen=True):
    """A scale of drawing, as whole numbers of paper and of what is drawn."""

    paper: int
    real: int

    @property
    def factor(self) -> float:
        """Millimetres of paper for a millimetre of what is drawn."""
        return self.paper / self.real

    def __str__(self) -> str:
        # apart and unparted: a copy that thins the colon leaves no number that could be another
        return f"{self.paper}\u00a0:\u00a0{self.real}"


SCALES: Final = (Scale(2, 1), Scale(1, 1), Scale(1, 2), Scale(1, 5), Scale(1, 10), Scale(1, 20), Scale(1, 50))
"""The scales drawings are made at, the largest first."""


def scale_for(
    width_mm: float,
    height_mm: float,
    room: tuple[float, float],
    largest: Scale = SCALES[0],
    scales: Sequence[Scale] = SCALES,
) -> Scale:
    """The largest scale at which something fits the room on paper, all in mm. ValueError where none does."""
    for scale in scales:
        fits = width_mm * scale.factor <= room[0] and height_mm * scale.factor <= room[1]
        if fits and scale.factor <= largest.factor:
            return scale
    raise ValueError(f"{width_mm} by {height_mm} mm fits no scale down to {scales[-1]}")


def length_told(length_mm: float, spelling: Spelling = METRIC) -> str:
    """A length as a drawing states it, to a tenth of a millimetre: `25 mm`, `8.5 mm`; `1 in.` where inches are read."""
    return spelling.drawn(rounded(length_mm, 1))


def bar_fields(left: float, top: float, step_mm: float, steps: int, high_mm: float, stroke: float) -> Iterator[Rect]:
    """The fields of a scale bar, black and white in turn."""
    for place in range(steps):
        yield Rect(left + place * step_mm, top, step_mm, high_mm, stroke, 0.0 if place % 2 == 0 else 1.0)


def dimension_across(
    x1: float, x2: float, y: float, length_mm: float, reach: float, spelling: Spelling = METRIC
) -> Primitives:
    """A level dimension at y with extension lines from `reach`; its text above, or beside a short one."""
    text = length_told(length_mm, spelling)
    if text_width_mm(text) + 2 * _TEXT_GAP_MM <= x2 - x1:
        label = Label((x1 + x2) / 2, y - TICK_MM - 0.5, text, anchor="middle")
    else:
        label = Label(x2 + TICK_MM + _TEXT_GAP_MM, y + _CENTRE_MM, text)
    ends = [(x1, y), (x2, y)]
    past = math.copysign(TICK_MM, y - reach)
    extensions = [Line(x, reach + past, x, y + past, THIN) for x, _ in ends]
    return (*extensions, Line(x1, y, x2, y, THIN), *ticks(ends), label)


def dimension_upright(
    y1: float, y2: float, x: float, length_mm: float, reach: float, spelling: Spelling = METRIC
) -> Primitives:
    """An upright dimension at x with extension lines from `reach`, its text level on the left."""
    ends = [(x, y1), (x, y2)]
    past = math.copysign(TICK_MM, x - reach)
    extensions = [Line(reach + past, y, x + past, y, THIN) for _, y in ends]
    text = length_told(length_mm, spelling)
    label = Label(x - TICK_MM - _TEXT_GAP_MM, (y1 + y2) / 2 + _CENTRE_MM, text, anchor="end")
    return (*extensions, Line(x, y1, x, y2, THIN), *ticks(ends), label)


def ticks(places: Sequence[Point]) -> Primitives:
    """Oblique ticks at the ends of dimensions."""
    return tuple(Line(x - TICK_MM, y + TICK_MM, x + TICK_MM, y - TICK_MM, MEDIUM) for x, y in places)


def leader(*points: Point) -> Primitives:
    """A line through points from what it names, marked by a dot, to the name: slanting, it breaks up if thinner."""
    (x, y), *_ = points
    return Polyline(points, MEDIUM), Circle(x, y, 0.35, 0.0, 0.0)


def arrow(points: Sequence[Point], weight_mm: float = THICK, head_mm: Point = (2.0, 0.9)) -> Primitives:
    """A line through points with a head at the last, so long and to each side so wide."""
    (x1, y1), (x2, y2) = points[-2:]
    length = math.hypot(x2 - x1, y2 - y1)
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    long, wide = head_mm
    back = (x2 - long * ux, y2 - long * uy)
    head = ((x2, y2), (back[0] - wide * uy, back[1] + wide * ux), (back[0] + wide * uy, back[1] - wide * ux))
    return Polyline((*points[:-1], back), weight_mm), Polygon(head, 0.0, 0.0)


def ringed(number: int, x: float, y: float) -> Primitives:
    """A number in a white ring, centred on a place."""
    size = 7.0 if number < 100 else 5.5
    return (
        Circle(x, y, RING_MM, THIN, 1.0),
        Label(x, y + 0.345 * size / POINTS_PER_MM, str(number), size, "middle"),
    )


def text_width_mm(text: str, size_pt: float = LETTER_PT, bold: bool = False) -> float:
    """The width of lettering on one line."""
    return text_width_pt(text, size_pt, bold) / POINTS_PER_MM


def lines_in(text: str, width_mm: float, size_pt: float = LETTER_PT, bold: bool = False) -> tuple[str, ...]:
    """The lines that lettering takes in a width."""
    return wrap(text, width_mm * POINTS_PER_MM, size_pt, bold)


def lettering(
    lines: Sequence[str],
    x: float,
    y: float,
    size_pt: float = LETTER_PT,
    anchor: Anchor = "start",
    bold: bool = False,
) -> Primitives:
    """Lines one below the other, y the baseline of the first."""
    pitch = LINE_MM * size_pt / LETTER_PT
    return tuple(Label(x, y + index * pitch, line, size_pt, anchor, bold) for index, line in enumerate(lines) if line)


def arc(centre: Point, radius: float, start: float, end: float, steps: int = 8) -> tuple[Point, ...]:
    """Points on an arc from one angle to another, in degrees: 0 to the right, 90 down the page."""
    angles = (math.radians(start + (end - start) * step / steps) for step in range(steps + 1))
    return tuple((centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles)
