"""What pictures of steps are put together from: a heap, lumps of lime, a tub, an arrow, a clock; mm in one frame."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from generator.drawing.annotate import arc, arrow
from generator.drawing.hatch import dots
from generator.drawing.model import THIN, Circle, Line, Point, Polygon, Polyline, Primitive, rectangle

FRAME: Final = (32.0, 14.2)
"""Width and height of a picture; its top left corner is kept free for the number of the step."""

GROUND: Final = 13.4
OUTLINE: Final = 0.5
BOLD: Final = 0.8
_DOTS: Final = (1.5, 0.2)

Picture = Iterator[Primitive]


def ground() -> Line:
    """The floor."""
    return Line(1.6, GROUND, FRAME[0] - 1.6, GROUND, OUTLINE)


def mound(left: float, right: float, height: float) -> tuple[Point, ...]:
    """A heap with a rounded top on the ground."""
    rises = (math.sin(math.pi * step / 20) ** 1.2 for step in range(21))
    return tuple((left + (right - left) * step / 20, GROUND - height * rise) for step, rise in enumerate(rises))


def sand(points: tuple[Point, ...]) -> Picture:
    """A body of sand, white with dots."""
    yield Polygon(points, OUTLINE, 1.0)
    yield from dots(points, *_DOTS)


def lump(x: float, y: float, size: float) -> Polygon:
    """A lump of quicklime: lime is black in every picture."""
    corners = ((-1.0, 0.2), (-0.6, -0.8), (0.3, -1.0), (1.0, -0.3), (0.8, 0.7), (-0.3, 1.0))
    return Polygon(tuple((x + size * a, y + size * b) for a, b in corners), THIN, 0.0)


def lumps(middle: float) -> Picture:
    """Quicklime spread level: two rows of lumps on the ground."""
    for x in (-3.4, -1.7, 0.0, 1.7, 3.4):
        yield lump(middle + x, GROUND - 1.0, 0.8)
    for x in (-2.6, -0.9, 0.9, 2.6):
        yield lump(middle + x, GROUND - 2.5, 0.75)


def clock(x: float, y: float, share: float = 0.25, radius: float = 2.9) -> Picture:
    """A clock with a share of its round black, from the top; a whole round is a day, and keeps its hands."""
    yield Circle(x, y, radius, OUTLINE, 1.0)
    yield Polygon(((x, y), *arc((x, y), radius - 0.5, -90, -90 + 360 * share, 24)), 0.0, 0.0)
    if share == 1.0:
        yield Polygon(rectangle(x - 0.25, y - radius + 0.9, x + 0.25, y + 0.25), 0.0, 1.0)
        yield Polygon(rectangle(x - 0.25, y - 0.25, x + radius - 1.3, y + 0.25), 0.0, 1.0)


def tub(left: float, right: float, rim: float, level: float) -> Picture:
    """A tub in section, filled with mortar to a level."""
    slope = 1.4

    def side(y: float) -> float:
        return slope * (y - rim) / (GROUND - rim)

    inside = (
        (left + side(level), level),
        (right - side(level), level),
        (right - slope, GROUND),
        (left + slope, GROUND),
    )
    yield from sand(inside)
    yield Polyline(((left, rim), (left + slope, GROUND), (right - slope, GROUND), (right, rim)), BOLD)


def paddle(x: float, top: float, foot: float) -> Picture:
    """A mixing paddle: a shaft with two bars."""
    yield Line(x, top, x, foot, BOLD)
    for y in (foot - 2.0, foot):
        yield Line(x - 2.2, y, x + 2.2, y, BOLD)


def turning(x: float, y: float) -> Picture:
    """An arrow that goes round a shaft."""
    yield from arrow(tuple((x + 4.2 * a, y + 1.4 * b) for a, b in arc((0.0, 0.0), 1.0, 200, 350, 10)))


def drops(x: float, top: float, foot: float) -> Picture:
    """Water that falls: three dashed lines."""
    for shift in (-1.2, 0.0, 1.2):
        yield Line(x + shift, top + abs(shift) / 2, x + 1.4 * shift, foot, 0.35, (0.9, 0.6))


def can(x: float, y: float) -> Picture:
    """A watering can tipped to the left, its rose at x, y."""
    body = ((5.2, -2.6), (10.0, -1.4), (9.0, 3.0), (4.2, 1.8))
    yield Polygon(tuple((x + a, y + b) for a, b in body), OUTLINE, 1.0)
    yield Polygon(tuple((x + a, y + b) for a, b in ((4.8, 0.1), (0.4, -0.4), (0.2, 0.4), (4.5, 1.3))), THIN, 0.0)
    yield Line(x + 0.7, y - 1.2, x - 0.2, y + 1.2, BOLD)
    yield Polyline(arc((x + 10.2, y - 0.2), 2.0, -70, 110), OUTLINE)


def sheet(left: float, right: float, height: float) -> Picture:
    """A sheet over a heap, weighed down at both ends."""
    points = mound(left, right, height)
    yield Polyline(points, 1.1)
    for x in (left, right):
        yield Polygon(rectangle(x - 1.1, GROUND - 1.8, x + 1.1, GROUND), 0.0, 0.0)
