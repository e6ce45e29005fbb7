"""Six hatches for areas, worked out as lines and dots clipped to an outline and its openings."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final, Literal

from generator.drawing.hatch import across_line, point_at
from generator.drawing.model import Circle, Line, Point

Pattern = Literal["rise", "fall", "cross", "level", "upright", "dots"]
PATTERNS: Final[tuple[Pattern, ...]] = ("rise", "fall", "cross", "level", "upright", "dots")
"""In the order in which they are handed out; a copy keeps no more of them apart."""

LEAST_PITCH_MM: Final = 0.7  # ISO 128 (from memory), or twice the line
_ALONG: Final[dict[Pattern, tuple[Point, ...]]] = {
    "rise": ((math.sqrt(0.5), -math.sqrt(0.5)),),
    "fall": ((math.sqrt(0.5), math.sqrt(0.5)),),
    "cross": ((math.sqrt(0.5), -math.sqrt(0.5)), (math.sqrt(0.5), math.sqrt(0.5))),
    "level": ((1.0, 0.0),),
    "upright": ((0.0, 1.0),),
}
_LEVEL: Final = (1.0, 0.0)


def area_hatch(
    rings: Sequence[Sequence[Point]], pattern: Pattern, pitch_mm: float, weight_mm: float
) -> tuple[Line | Circle, ...]:
    """The lines or dots that fill the inside of rings by the even-odd rule, in a fixed order.

    Paper millimetres. `weight_mm` is the line, or the dots' diameter. Hatches of areas that touch run on. Pitch
    from 0.7 mm and twice the line; ValueError below.
    """
    least = max(LEAST_PITCH_MM, 2.0 * weight_mm)
    if not pitch_mm >= least:
        raise ValueError(f"pitch is {pitch_mm} mm: valid from {least} up")
    if pattern == "dots":
        return tuple(_dots(rings, pitch_mm, weight_mm))
    return tuple(line for along in _ALONG[pattern] for line in _lines(rings, along, pitch_mm, weight_mm))


def stretches(rings: Sequence[Sequence[Point]], along: Point, offset: float) -> list[tuple[float, float]]:
    """Where a line lies inside rings, by the even-odd rule, as distances along it.

    The line runs along a unit direction at an offset across it, from the origin.
    """
    crossings = []
    for ring in rings:
        for place, second in enumerate(ring):
            first = ring[place - 1]
            a, b = across_line(along, first) - offset, across_line(along, second) - offset
            if (a <= 0) != (b <= 0):
                share = a / (a - b)
                x, y = first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1])
                crossings.append(along[0] * x + along[1] * y)
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _lines(rings: Sequence[Sequence[Point]], along: Point, pitch_mm: float, weight_mm: float) -> Iterator[Line]:
    for offset in _offsets(rings, along, pitch_mm):
        for start, end in stretches(rings, along, offset):
            yield Line(*point_at(along, start, offset), *point_at(along, end, offset), weight_mm)


def _dots(rings: Sequence[Sequence[Point]], pitch_mm: float, dot_mm: float) -> Iterator[Circle]:
    for offset in _offsets(rings, _LEVEL, pitch_mm / 2.0):
        # every other row is set off by half
        shift = round(offset / (pitch_mm / 2.0)) % 2 / 2.0
        for start, end in stretches(rings, _LEVEL, offset):
            place = (math.ceil(start / pitch_mm - shift) + shift) * pitch_mm
            while place < end:
                # dots keep clear of every edge
                if edge_distance(rings, (place, offset)) >= dot_mm:
                    yield Circle(place, offset, dot_mm / 2.0, 0.0, 0.0)
                place += pitch_mm


def edge_distance(rings: Sequence[Sequence[Point]], point: Point) -> float:
    """How far a point lies from the nearest side of any ring, inside or out."""
    return min(away(point, start, end) for start, end in sides(rings))


def sides(rings: Sequence[Sequence[Point]]) -> list[tuple[Point, Point]]:
    """The sides of rings by their ends."""
    return [(ring[place - 1], end) for ring in rings for place, end in enumerate(ring)]


def away(point: Point, start: Point, end: Point) -> float:
    """The distance of a point from a side."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    if length == 0.0:
        return math.dist(point, start)
    share = min(1.0, max(0.0, ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length))
    return math.hypot(point[0] - start[0] - share * dx, point[1] - start[1] - share * dy)


def _offsets(rings: Sequence[Sequence[Point]], along: Point, pitch_mm: float) -> Iterator[float]:
    across = [across_line(along, point) for ring in rings for point in ring]
    # multiples of the pitch, so that the hatch of areas that touch runs on
    step = math.floor(min(across) / pitch_mm) + 1
    while step * pitch_mm < max(across):
        yield step * pitch_mm
        step += 1
