"""Polygons on a photograph and on a wall: area, crossings, overlap, and what picking does to an area."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from generator.lime.limits import checked
from generator.lime.plane import Matrix, Point, mapped
from generator.values import Struct

Ring = tuple[Point, ...]
"""A closed polygon by its vertices, the last not repeating the first."""

_DUST: Final = 1e-9


class Area(Struct, frozen=True):
    """An area marked on a photograph in pixels: its outline, and what is left out of it."""

    outline: Ring
    without: tuple[Ring, ...] = ()

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The outline and what is left out, in that order."""
        return (self.outline, *self.without)

    @property
    def vertices(self) -> Ring:
        """All vertices in the order of the rings."""
        return tuple(point for ring in self.rings for point in ring)


def signed_area(points: Sequence[Point]) -> float:
    """The area of a polygon, above 0 where it runs clockwise as seen with y down.

        1/2 sum(x_i y_(i+1) - x_(i+1) y_i)

    Square units. Polygons that cross themselves give nonsense (a figure of eight 0): `crosses_itself`. Source:
    shoelace formula (M; X).

    >>> signed_area([(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)])
    2.0
    >>> signed_area([(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])
    0.0
    """
    # about the first vertex, so that a small polygon far from the origin keeps its digits
    x0, y0 = points[0]
    near = [(x - x0, y - y0) for x, y in points[1:]]
    return math.fsum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise(near)) / 2.0


def wall_area(matrix: Matrix, area: Area) -> float:
    """The area on the wall, openings off.

        straight lines stay straight under a homography, so the vertices are taken to the wall and the
        shoelace formula is exact

    Square units of the matrix's wall. Valid where the polygon does not cross itself or the horizon. Source:
    Hartley & Zisserman 2004, ch. 4 (M); X.
    """
    outline, *without = (abs(signed_area([mapped(matrix, point) for point in ring])) for ring in area.rings)
    return outline - math.fsum(without)


def wall_length(matrix: Matrix, start: Point, end: Point) -> float:
    """The length on the wall between two points of the photograph, in units of the matrix's wall."""
    return math.dist(mapped(matrix, start), mapped(matrix, end))


def area_sigma_by_vertices(points: Sequence[Point], sigma: float) -> float:
    """The standard uncertainty of an area whose vertices were picked each with sigma in x and in y.

        sigma_A = sigma / 2 * sqrt(sum |P(i+1) - P(i-1)|^2)

    Square units of the points. Sigma from 0; ValueError below. Source: derivative of the shoelace formula (X).
    Worked: a square of 2 m, sigma 8 mm: 0.022627 m2.

    >>> round(area_sigma_by_vertices([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)], 0.008), 6)
    0.022627
    """
    count = len(points)
    squares = (math.dist(points[(place + 1) % count], points[place - 1]) ** 2 for place in range(count))
    return checked("sigma", sigma, 0.0) / 2.0 * math.sqrt(math.fsum(squares))


def crosses_itself(points: Sequence[Point]) -> bool:
    """Whether a polygon touches or crosses itself, has fewer than three vertices or runs back on itself.

    >>> crosses_itself([(0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0)])
    True
    """
    count = len(points)
    if count < 3 or len(set(points)) < count:
        return True
    sides = [(points[place], points[(place + 1) % count]) for place in range(count)]
    for first in range(count):
        for second in range(first + 1, count):
            neighbours = second - first in (1, count - 1)
            meet = _runs_back if neighbours else _meet
            if meet(sides[first], sides[second]):
                return True
    return False


def _side_of(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _between(start: Point, end: Point, point: Point) -> bool:
    """Whether a point in line with two others lies from one to the other."""
    return all(min(a, b) <= value <= max(a, b) for a, b, value in zip(start, end, point, strict=True))


def _meet(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two sides that share no vertex touch or cross."""
    a, b = _side_of(*one, other[0]), _side_of(*one, other[1])
    c, d = _side_of(*other, one[0]), _side_of(*other, one[1])
    if a * b < 0.0 and c * d < 0.0:
        return True
    touching = ((a, one, other[0]), (b, one, other[1]), (c, other, one[0]), (d, other, one[1]))
    return any(turn == 0.0 and _between(*side, point) for turn, side, point in touching)


def _runs_back(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two neighbouring sides lie upon one another."""
    shared = one[1] if one[1] in other else one[0]
    first, second = (side[0] if side[1] == shared else side[1] for side in (one, other))
    along = (first[0] - shared[0]) * (second[0] - shared[0]) + (first[1] - shared[1]) * (second[1] - shared[1])
    return _side_of(shared, first, second) == 0.0 and along > 0.0


def common_area(one: Sequence[Point], other: Sequence[Point]) -> float:
    """The area that two polygons share, each by the even-odd rule.

        the plane is cut into level strips at every vertex and crossing; within a strip no sides cross, so the
        width shared grows in a straight line and the width at half height times the height is exact

    Square units. Source: X.

    >>> common_area([(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)], [(1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)])
    1.0
    """
    sides = [side for ring in (one, other) for side in _sides(ring)]
    levels = {y for ring in (one, other) for _, y in ring}
    for place, side in enumerate(sides):
        levels.update(level for rest in sides[place + 1 :] if (level := _crossing_level(side, rest)) is not None)
    total = 0.0
    for low, high in pairwise(sorted(levels)):
        half = (low + high) / 2.0
        total += _shared_width(_stretches(one, half), _stretches(other, half)) * (high - low)
    return total


def _sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return [(points[place - 1], points[place]) for place in range(len(points))]


def _crossing_level(one: tuple[Point, Point], other: tuple[Point, Point]) -> float | None:
    """The y where two sides cross; None where they do not, or run alike."""
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = other
    divisor = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    if divisor == 0.0:
        return None
    share = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / divisor
    rest = ((x3 - x1) * (y2 - y1) - (y3 - y1) * (x2 - x1)) / divisor
    return y1 + share * (y2 - y1) if 0.0 <= share <= 1.0 and 0.0 <= rest <= 1.0 else None


def _stretches(points: Sequence[Point], level: float) -> list[tuple[float, float]]:
    crossings = sorted(
        x1 + (level - y1) / (y2 - y1) * (x2 - x1)
        for (x1, y1), (x2, y2) in _sides(points)
        if (y1 <= level) != (y2 <= level)
    )
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _shared_width(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> float:
    return math.fsum(max(0.0, min(b, d) - max(a, c)) for a, b in one for c, d in other)


def overlap(one: Sequence[Point], other: Sequence[Point], pick_px: float) -> bool:
    """Whether two outlines of a photograph share more than picking their common edge can make.

        shared area > 2 sqrt(sigma_A^2 + sigma_B^2), the sigmas by `area_sigma_by_vertices`

    Pixels. Source: a limit of the project (no published source), on the formula for vertices (X).
    """
    doubt = math.hypot(area_sigma_by_vertices(one, pick_px), area_sigma_by_vertices(other, pick_px))
    return common_area(one, other) > 2.0 * doubt


def lies_within(inner: Sequence[Point], outer: Sequence[Point], pick_px: float) -> bool:
    """Whether an opening lies in its outline but for what picking can make, as in `overlap`."""
    beyond = abs(signed_area(inner)) - common_area(inner, outer)
    # an opening drawn to the edge of its area is picked beside it, not within
    return beyond <= 2.0 * area_sigma_by_vertices(inner, pick_px) + _DUST
