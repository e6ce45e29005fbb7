"""A reference of five taped points or more, told as the rectangle that means as much, and its error.

A homography is fixed by where it puts four corners, so what is not known of it is what is not known of them.
Confidence of a source: M from memory, X computed and held against draws.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.plane import Fit, Matrix, Point, Quad, crosses_horizon, inverse, mapped, mean_point, points_to_wall
from generator.lime.plane_errors import Taped
from generator.lime.plane_limits import Told, apart_told
from generator.values import Struct

_STEP: Final = 0.1
_TURNS: Final = 200
_STILL: Final = 1e-9

Pairs = tuple[Sequence[Point], Sequence[Point]]
"""Points of the photograph in pixels, and their places on the wall in mm."""


class Points(Struct, frozen=True):
    """Points as a reference: the rectangle that stands for them, how they fit, and what is told of that."""

    taped: Taped
    fit: Fit
    told: tuple[Told, ...]


def points_reference(
    photograph: Sequence[Point], wall_mm: Sequence[Point], pick_px: float, tape_error_mm: float
) -> Points:
    """The rectangle round the points on the wall, its corners in the photograph by the fit, and their error.

        p_c = sqrt(greatest eigenvalue of C), C the 8 x 8 covariance of its corners by the error of each pick and of
        each taped place, by central differences of the fit

    No figure is less certain with C than with corners that are each out by p_c on their own. The tape's error is in
    p_c, so the sides count as exact. Points off the fit are told of as a check length is, by the rectangle's diagonal.
    Pixels and mm; ValueError for fewer than five points, all but one in line, or a corner over the horizon. Source:
    JCGM 102:2011, 6.2 (M); the bound by the eigenvalue (X).
    """
    fit = points_to_wall(photograph, wall_mm)
    across, down = [x for x, _ in wall_mm], [y for _, y in wall_mm]
    width, height = positive("width", max(across) - min(across)), positive("height", max(down) - min(down))
    ring = _rectangle(min(across), min(down), width, height)
    corners = _seen(fit.matrix, mean_point(wall_mm), ring)
    sigmas = (checked("pick_px", pick_px, 0.0), checked("tape_error_mm", tape_error_mm, 0.0))
    corner_px = math.sqrt(_greatest_eigenvalue(list(_moves((photograph, wall_mm), sigmas, ring))))
    diagonal_mm = math.hypot(width, height)
    sigma_mm = math.hypot(tape_error_mm, pick_px * diagonal_mm / math.dist(corners[0], corners[2]))
    taped = Taped(corners, width, height, 0.0, corner_px=corner_px, points=tuple(photograph))
    return Points(taped, fit, tuple(apart_told("reference-points-apart", fit.greatest, sigma_mm, diagonal_mm)))


def _rectangle(left: float, top: float, width: float, height: float) -> Quad:
    return (left, top), (left + width, top), (left + width, top + height), (left, top + height)


def _seen(matrix: Matrix, about: Point, ring: Quad) -> Quad:
    """Where corners on the wall fall in the photograph."""
    back = inverse(matrix, about)
    if crosses_horizon(back, ring):
        raise ValueError("a corner of the rectangle round the points lies over the horizon")
    first, second, third, fourth = (mapped(back, corner) for corner in ring)
    return first, second, third, fourth


def _moves(pairs: Pairs, sigmas: tuple[float, float], ring: Quad) -> Iterator[list[float]]:
    """How one sigma of each coordinate of each point moves the eight coordinates of the corners."""
    for which, sigma in enumerate(sigmas):
        for place in range(len(pairs[which])):
            for axis in (0, 1):
                up, down = (_corners(pairs, which, place, axis, way * _STEP * sigma, ring) for way in (1.0, -1.0))
                yield [(one - other) / (2.0 * _STEP) for one, other in zip(up, down, strict=True)]


def _corners(pairs: Pairs, which: int, place: int, axis: int, by: float, ring: Quad) -> list[float]:
    """The corners' coordinates with one coordinate of one point moved."""
    moved = [list(points) for points in pairs]
    x, y = moved[which][place]
    moved[which][place] = (x + by, y) if axis == 0 else (x, y + by)
    fit = points_to_wall(*moved)
    return [value for corner in _seen(fit.matrix, mean_point(moved[1]), ring) for value in corner]


def _greatest_eigenvalue(columns: Sequence[Sequence[float]]) -> float:
    """The greatest eigenvalue of the sum of outer products of columns, by the power method from all ones.

    Never less than the greatest on the diagonal, should the start lie square to what is sought.
    """
    size = len(columns[0])
    vector, found = [1.0] * size, 0.0
    for _ in range(_TURNS):
        shares = [math.fsum(a * b for a, b in zip(column, vector, strict=True)) for column in columns]
        turned = [math.fsum(c[i] * share for c, share in zip(columns, shares, strict=True)) for i in range(size)]
        length = math.hypot(*turned)
        if length == 0.0 or abs(length - found) <= _STILL * length:
            break
        vector, found = [value / length for value in turned], length
    return max(found, *(math.fsum(column[i] ** 2 for column in columns) for i in range(size)))
