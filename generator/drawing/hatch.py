"""Hatches worked out as lines and dots, so that every writer draws the same ones."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from generator.drawing.model import FINE, THIN, Circle, Line, Point, Polygon

SPACING_MM: Final = 1.8
LEVEL_MM: Final = 1.5
"""Apart of level lines: they are heavier than slanting ones, which a copy in black and white keeps better."""

DOT_SPACING_MM: Final = 1.5
DOT_MM: Final = 0.14
_UP: Final = (math.sqrt(0.5), -math.sqrt(0.5))
_DOWN: Final = (math.sqrt(0.5), math.sqrt(0.5))
_LEVEL: Final = (1.0, 0.0)


def hatch_marks(shape: Polygon) -> tuple[Line | Circle, ...]:
    """The lines or dots that fill a shape, in a fixed order; nothing for a shape without hatch."""
    match shape.hatch:
        case "diagonal":
            return tuple(_lines(shape.points, _UP))
        case "cross":
            return (*_lines(shape.points, _UP), *_lines(shape.points, _DOWN))
        case "level":
            return tuple(_lines(shape.points, _LEVEL, LEVEL_MM, THIN))
        case "dots":
            return tuple(dots(shape.points))
        case _:
            return ()


def _lines(
    points: tuple[Point, ...], along: Point, spacing_mm: float = SPACING_MM, weight_mm: float = FINE
) -> Iterator[Line]:
    for offset in _offsets(points, along, spacing_mm):
        for start, end in _inside(points, along, offset):
            (x1, y1), (x2, y2) = point_at(along, start, offset), point_at(along, end, offset)
            yield Line(x1, y1, x2, y2, weight_mm)


def dots(
    points: tuple[Point, ...], spacing_mm: float = DOT_SPACING_MM, radius_mm: float = DOT_MM, fill: float = 0.0
) -> Iterator[Circle]:
    """Dots of one size and grey that fill a shape and keep clear of its edge."""
    clear = radius_mm + 0.16
    for row, offset in enumerate(_offsets(points, _LEVEL, spacing_mm / 2)):
        for start, end in _inside(points, _LEVEL, offset):
            # every other row is set off by half
            place = (math.ceil((start + clear) / spacing_mm - row % 2 / 2) + row % 2 / 2) * spacing_mm
            while place < end - clear:
                yield Circle(place, offset, radius_mm, 0.0, fill)
                place += spacing_mm


def across_line(along: Point, point: Point) -> float:
    return -along[1] * point[0] + along[0] * point[1]


def point_at(along: Point, distance: float, offset: float) -> Point:
    return along[0] * distance - along[1] * offset, along[1] * distance + along[0] * offset


def _offsets(points: tuple[Point, ...], along: Point, spacing: float) -> Iterator[float]:
    across = [across_line(along, point) for point in points]
    # multiples of the spacing, so that the hatch of shapes that touch runs on
    step = math.floor(min(across) / spacing) + 1
    while step * spacing < max(across):
        yield step * spacing
        step += 1


def _inside(points: tuple[Point, ...], along: Point, offset: float) -> list[tuple[float, float]]:
    """Stretches of a hatching line that lie in the shape, by the even-odd rule."""
    crossings = []
    for first, second in zip(points, (*points[1:], points[0]), strict=True):
        a, b = across_line(along, first) - offset, across_line(along, second) - offset
        if (a <= 0) != (b <= 0):
            share = a / (a - b)
            x, y = (first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1]))
            crossings.append(along[0] * x + along[1] * y)
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))
