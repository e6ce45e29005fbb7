"""How far a figure from a photograph may be out by picking and by tape: first order, and drawn at random.

Symbols: p error of a pick, one coordinate, one sigma, in pixels; the centre of a reference is the mean of its
corners.
Confidence of a source: R read, X computed and held against other code, P practice.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Sequence
from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.plane import (
    Point,
    Quad,
    cos_corner_by_diagonals,
    crosses_horizon,
    mean_point,
    rectangle_to_wall,
    strictly_convex,
    turns,
)
from generator.lime.plane_shapes import Area, Ring, signed_area, wall_area, wall_length
from generator.values import Struct

PICK_PX: Final = 3.0  # after nudging under a magnifier (P)
PICK_OF_PX: Final = 4032.0
DRAWS: Final = 4000
SEED: Final = 1
TAIL_PER_CENT: Final = 2.5
_STEP: Final = 0.01


class Taped(Struct, frozen=True):
    """A rectangle on the wall by its corners in pixels, clockwise from the top left, and its taped sides.

    `tape_error_mm` is one sigma of each side. `diagonals_mm`, from the top left and from the top right, tell
    how far its corners are from square; without them they are taken as square. A rectangle that stands for taped
    `points` has corners of its own error, `corner_px`; those picked are out by that of a pick.
    """

    corners: Quad
    width_mm: float
    height_mm: float
    tape_error_mm: float
    diagonals_mm: tuple[float, float] | None = None
    corner_px: float | None = None
    points: tuple[Point, ...] = ()

    def __post_init__(self) -> None:
        positive("width_mm", self.width_mm)
        positive("height_mm", self.height_mm)
        checked("tape_error_mm", self.tape_error_mm, 0.0)

    @property
    def cos_corner(self) -> float:
        """The cosine of its first angle."""
        if self.diagonals_mm is None:
            return 0.0
        return cos_corner_by_diagonals(self.width_mm, self.height_mm, *self.diagonals_mm)

    @property
    def picks(self) -> tuple[Point, ...]:
        """What was picked on the photograph: its corners, or the points that it stands for."""
        return self.points or self.corners

    def error_px(self, pick_px: float) -> float:
        """The error of a corner, one coordinate, one sigma."""
        return pick_px if self.corner_px is None else self.corner_px

    @property
    def sides_mm(self) -> tuple[float, float]:
        """Width and height."""
        return self.width_mm, self.height_mm


class Spread(Struct, frozen=True):
    """One standard uncertainty of a figure, in its unit, and the parts it is made of in squares."""

    corners: float
    vertices: float
    tape: float

    @property
    def whole(self) -> float:
        """All parts together."""
        return math.hypot(self.corners, self.vertices, self.tape)


class Drawn(Struct, frozen=True):
    """A figure drawn at random: its 2.5, 50 and 97.5 centiles; infinite where draws went over the horizon."""

    low: float
    middle: float
    high: float

    @property
    def sigma(self) -> float:
        """A quarter of what lies between the outer centiles."""
        return (self.high - self.low) / 4.0


Figure = Callable[[Quad, Ring, float, float], float]
"""A figure from corners, vertices, width and height: what the differences and the draws are taken of."""


def pick_error_px(width_px: float, height_px: float) -> float:
    """The error of a pick on an upright picture, one coordinate, one sigma: 3 px, above 4032 px in proportion.

    Pixels above 0; ValueError otherwise. Source: practice with a magnifier of 8 and nudging (P).

    >>> pick_error_px(4032.0, 3024.0), pick_error_px(8064.0, 6048.0)
    (3.0, 6.0)
    """
    return PICK_PX * max(1.0, max(positive("width_px", width_px), positive("height_px", height_px)) / PICK_OF_PX)


def kappa(corners: Quad, vertices: Sequence[Point], pick_px: float) -> float:
    """How far the horizon is swung by picking, at the farthest vertex: first order holds while it is small.

        kappa = 2 p Rv / (area of the reference in px2), Rv from its centre to the farthest vertex

    Within 1 % of draws to 0.02 and 6 % to 0.05; no bound from 0.3. Source: X. Worked: 375 x 562.5 px, a
    vertex 1769 px off, 3 px.

    >>> quad = ((0.0, 0.0), (375.0, 0.0), (375.0, 562.5), (0.0, 562.5))
    >>> round(kappa(quad, [(187.5 + 1500.0, 281.25 + 937.5)], 3.0), 4)
    0.0503
    """
    farthest = max(math.dist(vertex, mean_point(corners)) for vertex in vertices)
    return 2.0 * checked("pick_px", pick_px, 0.0) * farthest / abs(signed_area(corners))


def area_figure(areas: Sequence[Area], cos_corner: float = 0.0) -> Figure:
    """The sum of areas under one reference as one figure, in squares of the unit of width and height.

    Errors of the corners move areas on either side of the reference against one another and on one side
    together, which a sum in squares of single areas would miss.
    """
    counts = [[len(ring) for ring in area.rings] for area in areas]

    def figure(corners: Quad, vertices: Ring, width: float, height: float) -> float:
        matrix = rectangle_to_wall(corners, width, height, cos_corner)
        if crosses_horizon(matrix, vertices):
            raise ValueError("a vertex lies beyond the horizon")
        total, start = 0.0, 0
        for rings in counts:
            parted = []
            for count in rings:
                parted.append(vertices[start : start + count])
                start += count
            total += wall_area(matrix, Area(parted[0], tuple(parted[1:])))
        return total

    return figure


def length_figure(cos_corner: float = 0.0) -> Figure:
    """The length between two vertices as a figure, in the unit of width and height."""

    def figure(corners: Quad, vertices: Ring, width: float, height: float) -> float:
        return wall_length(rectangle_to_wall(corners, width, height, cos_corner), vertices[0], vertices[1])

    return figure


def spread(figure: Figure, taped: Taped, vertices: Ring, pick_px: float) -> Spread:
    """The standard uncertainty of a figure by corners, vertices and tape, to first order.

        u^2 = sum((f(x + s) - f(x - s)) / (2 s) * sigma)^2 over 8 + 2 n coordinates and two sides, s = sigma / 100

    In the figure's unit (mm, mm2). Holds within 1 % of draws at kappa up to 0.02 and 6 % below 0.05. Source:
    JCGM 100:2008, 5.1 (M); first order suffices for usual views: Criminisi, Reid & Zisserman 1997 (R); X.
    """
    values, sigmas = _parameters(taped, vertices, pick_px)
    parts = []
    for place, sigma in enumerate(sigmas):
        step = sigma * _STEP
        if step == 0.0:
            parts.append(0.0)
            continue
        up, down = (_at(figure, [*values[:place], values[place] + way, *values[place + 1 :]]) for way in (step, -step))
        parts.append((up - down) / (2.0 * _STEP))
    return Spread(math.hypot(*parts[:8]), math.hypot(*parts[8:-2]), math.hypot(*parts[-2:]))


def drawn(figure: Figure, taped: Taped, vertices: Ring, pick_px: float) -> Drawn:
    """The centiles of a figure over 4000 draws of all picks and both sides, the same every time.

        draws by `random.Random(1).gauss` in the order corners x y, vertices x y, width, height; the centile of
        q at place q (n - 1) of the sorted draws, between two in a straight line

    A draw that turns a side of the reference or puts a vertex over the horizon counts as the greatest. In the
    figure's unit. Source: JCGM 101:2008 (M); X.
    """
    values, sigmas = _parameters(taped, vertices, pick_px)
    way = turns(taped.corners)[0] > 0.0
    gauss = random.Random(SEED).gauss
    found = sorted(
        _drawn_once(figure, [gauss(value, sigma) for value, sigma in zip(values, sigmas, strict=True)], way)
        for _ in range(DRAWS)
    )
    low, middle, high = (_centile(found, share) for share in (TAIL_PER_CENT, 50.0, 100.0 - TAIL_PER_CENT))
    return Drawn(low, middle, high)


def _parameters(taped: Taped, vertices: Ring, pick_px: float) -> tuple[list[float], list[float]]:
    picks = [coordinate for point in (*taped.corners, *vertices) for coordinate in point]
    tape = taped.tape_error_mm
    corner_px = checked("corner_px", taped.error_px(checked("pick_px", pick_px, 0.0)), 0.0)
    sigmas = [corner_px] * 8 + [pick_px] * (len(picks) - 8)
    return [*picks, taped.width_mm, taped.height_mm], [*sigmas, tape, tape]


def _at(figure: Figure, values: Sequence[float]) -> float:
    corners, vertices = _points(values)
    return figure(corners, vertices, values[-2], values[-1])


def _points(values: Sequence[float]) -> tuple[Quad, Ring]:
    points = tuple(zip(values[:-2:2], values[1:-2:2], strict=True))
    first, second, third, fourth = points[:4]
    return (first, second, third, fourth), points[4:]


def _drawn_once(figure: Figure, values: Sequence[float], way: bool) -> float:
    corners, vertices = _points(values)
    if not strictly_convex(corners) or (turns(corners)[0] > 0.0) != way or min(values[-2:]) <= 0.0:
        return math.inf
    try:
        return figure(corners, vertices, values[-2], values[-1])
    except ValueError:
        return math.inf


def _centile(ordered: Sequence[float], per_cent: float) -> float:
    place = per_cent / 100.0 * (len(ordered) - 1)
    below = math.floor(place)
    low, high = ordered[below], ordered[min(below + 1, len(ordered) - 1)]
    return low if low == high or place == below else low + (place - below) * (high - low)
