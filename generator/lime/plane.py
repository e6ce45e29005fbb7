"""From a photograph to a plane wall: homographies, their inverse, horizon, local scale and slant.

Points of a photograph are pixels of the upright picture, x to the right and y down; points of the wall are
lengths in one unit, x to the right and y down from the first corner of the reference. A matrix is scaled so
that its denominator is 1 in the middle of the points it was made from: it is above 0 on this side of the
horizon. Confidence of a source: R read, M from memory, X computed and checked against other code.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from generator.lime.limits import checked, positive
from generator.values import Struct

Point = tuple[float, float]
Quad = tuple[Point, Point, Point, Point]
Matrix = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]

LEAST_FITTED: Final = 5
_STEPS: Final = 12
_STILL: Final = 1e-13
_SINGULAR: Final = 1e-12


class Fit(Struct, frozen=True):
    """A homography fitted to more than four points, and how far it leaves them, in units of the wall."""

    matrix: Matrix
    rms: float
    greatest: float


def mean_point(points: Sequence[Point]) -> Point:
    """The mean of points.

    >>> mean_point([(0.0, 0.0), (4.0, 2.0)])
    (2.0, 1.0)
    """
    return math.fsum(x for x, _ in points) / len(points), math.fsum(y for _, y in points) / len(points)


def sorted_corners(corners: Iterable[Point]) -> Quad:
    """Four corners clockwise round their mean, the first the one with the least x + y.

    ValueError for another number of corners. Source: a rule of the project (no published source).

    >>> sorted_corners([(9.0, 8.0), (0.0, 1.0), (1.0, 9.0), (8.0, 0.0)])
    ((0.0, 1.0), (8.0, 0.0), (9.0, 8.0), (1.0, 9.0))
    """
    points = list(corners)
    if len(points) != 4:
        raise ValueError(f"corners are {len(points)}: valid 4")
    middle_x, middle_y = mean_point(points)
    points.sort(key=lambda point: math.atan2(point[1] - middle_y, point[0] - middle_x))
    start = min(range(4), key=lambda place: sum(points[place]))
    first, second, third, fourth = points[start:] + points[:start]
    return first, second, third, fourth


def turns(points: Sequence[Point]) -> list[float]:
    """The cross products of neighbouring sides; all of one sign where the corners are strictly convex.

    >>> turns([(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)])
    [2.0, 2.0, 2.0, 2.0]
    """
    found = []
    for place, (x, y) in enumerate(points):
        before_x, before_y = points[place - 1]
        after_x, after_y = points[(place + 1) % len(points)]
        found.append((x - before_x) * (after_y - y) - (y - before_y) * (after_x - x))
    return found


def strictly_convex(corners: Sequence[Point]) -> bool:
    """Whether four corners make a quadrilateral without a crossing, a hollow or three points in line.

    >>> strictly_convex([(0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.0, 1.0)])
    False
    """
    found = turns(corners)
    return all(turn > 0.0 for turn in found) or all(turn < 0.0 for turn in found)


def rectangle_to_wall(corners: Quad, width: float, height: float, cos_corner: float = 0.0) -> Matrix:
    """The homography from a photograph to the wall, by the four corners of a taped rectangle.

        X = (a x + b y + c) / (g x + h y + 1), Y = (d x + e y + f) / (g x + h y + 1); unit square to corners:
        dx1 = x1 - x2, dx2 = x3 - x2, sx = x0 - x1 + x2 - x3, y likewise, D = dx1 dy2 - dx2 dy1,
        g = (sx dy2 - dx2 sy) / D, h = (dx1 sy - sx dy1) / D,
        rows (x1 - x0 + g x1, x3 - x0 + h x3, x0), y likewise, (g, h, 1); its adjugate, scaled by the sides

    Corners run clockwise from the top left; width and height in one unit, that of the result. `cos_corner` is
    the cosine of the angle at the first corner where both diagonals were taped (`cos_corner_by_diagonals`).
    Valid for strictly convex corners, sides above 0 and cosines from -0.9 to 0.9; ValueError outside. Source:
    Heckbert 1989 (M); Hartley & Zisserman 2004, ch. 4 (M); Criminisi, Reid & Zisserman 1997 (R); X.
    Worked: a wall 4 by 4 leaning away, and the point in its middle.

    >>> leaning = rectangle_to_wall(((0.0, 0.0), (4.0, 0.0), (3.0, 2.0), (1.0, 2.0)), 4.0, 4.0)
    >>> x, y = mapped(leaning, (2.0, 1.0))
    >>> round(x, 6), round(y, 6)
    (2.0, 1.333333)
    """
    if not strictly_convex(corners):
        raise ValueError("corners cross, lie in line or are hollow: valid strictly convex")
    cosine = checked("cos_corner", cos_corner, -0.9, 0.9)
    positive("width", width)
    positive("height", height)
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    dx1, dx2, sx = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
    dy1, dy2, sy = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
    divisor = dx1 * dy2 - dx2 * dy1
    g, h = (sx * dy2 - dx2 * sy) / divisor, (dx1 * sy - sx * dy1) / divisor
    square = ((x1 - x0 + g * x1, x3 - x0 + h * x3, x0), (y1 - y0 + g * y1, y3 - y0 + h * y3, y0), (g, h, 1.0))
    across, down, under = adjugate(square)
    lean, upright = height * cosine, height * math.sqrt(1.0 - cosine * cosine)
    (p, q, r), (s, t, u) = across, down
    to_x = (width * p + lean * s, width * q + lean * t, width * r + lean * u)
    return _scaled((to_x, (upright * s, upright * t, upright * u), under), mean_point(corners))


def cos_corner_by_diagonals(width: float, height: float, falling: float, rising: float) -> float:
    """The cosine of the angle between width and height of a parallelogram, by both its diagonals.

        cos = (falling^2 - rising^2) / (4 width height); the area goes with the sine

    `falling` runs from the top left, `rising` from the top right. Lengths in one unit, above 0; ValueError
    otherwise. Source: law of cosines (X).

    >>> round(cos_corner_by_diagonals(1000.0, 1500.0, 1810.0, 1795.0), 7)
    0.0090125
    """
    product = positive("width", width) * positive("height", height)
    return (positive("falling", falling) ** 2 - positive("rising", rising) ** 2) / (4.0 * product)


def adjugate(matrix: Matrix) -> Matrix:
    """The adjugate of a matrix: its inverse but for a factor.

    >>> adjugate(((2.0, 0.0, 0.0), (0.0, 3.0, 0.0), (0.0, 0.0, 1.0)))
    ((3.0, 0.0, 0.0), (0.0, 2.0, 0.0), (0.0, 0.0, 6.0))
    """
    (a, b, c), (d, e, f), (g, h, i) = matrix
    return (
        (e * i - f * h, c * h - b * i, b * f - c * e),
        (f * g - d * i, a * i - c * g, c * d - a * f),
        (d * h - e * g, b * g - a * h, a * e - b * d),
    )


def determinant(matrix: Matrix) -> float:
    """The determinant of a matrix."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)


def inverse(matrix: Matrix, about: Point) -> Matrix:
    """The way back, from the wall to the photograph, with denominator 1 at a point of the wall.

    ValueError where the matrix has no inverse. Source: algebra (X).
    """
    if determinant(matrix) == 0.0:
        raise ValueError("a homography with determinant 0 has no inverse")
    return _scaled(adjugate(matrix), about)


def _scaled(matrix: Matrix, about: Point) -> Matrix:
    """The matrix divided by its denominator at a point."""
    divisor = denominator(matrix, about)
    if divisor == 0.0:
        raise ValueError("the middle of the points lies on the horizon")
    first, second, third = (tuple(value / divisor for value in row) for row in matrix)
    return (first[0], first[1], first[2]), (second[0], second[1], second[2]), (third[0], third[1], third[2])


def denominator(matrix: Matrix, point: Point) -> float:
    """The denominator at a point: 0 on the plane's horizon, above 0 on this side of it."""
    return matrix[2][0] * point[0] + matrix[2][1] * point[1] + matrix[2][2]


def mapped(matrix: Matrix, point: Point) -> Point:
    """Where a homography takes a point. ZeroDivisionError on the horizon."""
    (a, b, c), (d, e, f), (g, h, i) = matrix
    x, y = point
    under = g * x + h * y + i
    return (a * x + b * y + c) / under, (d * x + e * y + f) / under


def crosses_horizon(matrix: Matrix, points: Iterable[Point]) -> bool:
    """Whether any of the points lies on the horizon or beyond it, where the wall cannot be seen."""
    return any(denominator(matrix, point) <= 0.0 for point in points)


def jacobian(matrix: Matrix, point: Point) -> tuple[Point, Point]:
    """How the wall's x and y change with those of the photograph at a point, two rows.

        ((a - g X) / w, (b - h X) / w), ((d - g Y) / w, (e - h Y) / w), w the denominator

    Source: derivative of the homography (X).
    """
    (a, b, _), (d, e, _), (g, h, _) = matrix
    under = denominator(matrix, point)
    x, y = mapped(matrix, point)
    return ((a - g * x) / under, (b - h * x) / under), ((d - g * y) / under, (e - h * y) / under)


def area_scale(matrix: Matrix, point: Point) -> float:
    """Square units of the wall for a square pixel at a point, without sign.

        |det(H)| / w^3

    Source: derivative of the homography (X).
    """
    return abs(determinant(matrix) / denominator(matrix, point) ** 3)


def stretch(matrix: Matrix, point: Point) -> float:
    """How unlike the scale is in its two directions at a point: 1 square on.

        s1 / s2, the singular values of the Jacobian; 1 / cos(angle) on the optical axis

    Infinite where one direction vanishes. Source: X (1.155 at 30 degrees, 1.414 at 45, 2.000 at 60).
    """
    (p, q), (r, s) = jacobian(matrix, point)
    total, product = p * p + q * q + r * r + s * s, abs(p * s - q * r)
    if product == 0.0:
        return math.inf
    # s1 / s2 + s2 / s1 = total / product, and the greater root of t + 1 / t = c
    half = max(1.0, total / (2.0 * product))
    return half + math.sqrt(half * half - 1.0)


def points_to_wall(photograph: Sequence[Point], wall: Sequence[Point]) -> Fit:
    """The homography that leaves the least squares of distance on the wall, from five taped points or more.

        points brought to mean 0 and mean distance sqrt(2); linear start with h33 = 1; Gauss-Newton on
        |H(x_i) - X_i|^2

    Pixels and one unit of length. Valid for 5 points and more of which no four-point choice is all in line;
    ValueError otherwise. Source: Hartley & Zisserman 2004, ch. 4 (M; its normalising read in a course that
    quotes it, R); X against `findHomography` of opencv.
    """
    if len(photograph) != len(wall) or len(wall) < LEAST_FITTED:
        raise ValueError(f"points are {len(photograph)} and {len(wall)}: valid as many, {LEAST_FITTED} or more")
    (from_points, from_shift, from_size), (to_points, to_shift, to_size) = _normal(photograph), _normal(wall)
    values = _linear_start(from_points, to_points)
    for _ in range(_STEPS):
        change = _improved(values, from_points, to_points)
        values = [value + step for value, step in zip(values, change, strict=True)]
        if max(map(abs, change)) < _STILL:
            break
    matrix = _unnormal(values, from_shift, from_size, to_shift, to_size)
    left = [math.dist(mapped(matrix, here), there) for here, there in zip(photograph, wall, strict=True)]
    return Fit(matrix, math.sqrt(math.fsum(miss * miss for miss in left) / len(left)), max(left))


def _normal(points: Sequence[Point]) -> tuple[list[Point], Point, float]:
    """Points about their mean at a mean distance of the root of 2, with the mean and the size taken out."""
    middle = mean_point(points)
    size = math.fsum(math.dist(point, middle) for point in points) / len(points) / math.sqrt(2.0)
    if size == 0.0:
        raise ValueError("points are all in one place: valid spread over the wall")
    return [((x - middle[0]) / size, (y - middle[1]) / size) for x, y in points], middle, size


def _linear_start(photograph: Sequence[Point], wall: Sequence[Point]) -> list[float]:
    rows, right = [], []
    for (x, y), (across, down) in zip(photograph, wall, strict=True):
        rows.append([x, y, 1.0, 0.0, 0.0, 0.0, -across * x, -across * y])
        rows.append([0.0, 0.0, 0.0, x, y, 1.0, -down * x, -down * y])
        right += [across, down]
    return _least_squares(rows, right)


def _improved(values: Sequence[float], photograph: Sequence[Point], wall: Sequence[Point]) -> list[float]:
    """The Gauss-Newton change of the eight values."""
    a, b, c, d, e, f, g, h = values
    rows, right = [], []
    for (x, y), (across, down) in zip(photograph, wall, strict=True):
        under = g * x + h * y + 1.0
        here_x, here_y = (a * x + b * y + c) / under, (d * x + e * y + f) / under
        plain = [x / under, y / under, 1.0 / under]
        rows.append([*plain, 0.0, 0.0, 0.0, -here_x * plain[0], -here_x * plain[1]])
        rows.append([0.0, 0.0, 0.0, *plain, -here_y * plain[0], -here_y * plain[1]])
        right += [across - here_x, down - here_y]
    return _least_squares(rows, right)


def _least_squares(rows: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """The least-squares solution by the normal equations, eliminated with the greatest pivot."""
    count = len(rows[0])
    system = [
        [math.fsum(row[i] * row[j] for row in rows) for j in range(count)]
        + [math.fsum(row[i] * value for row, value in zip(rows, right, strict=True))]
        for i in range(count)
    ]
    for place in range(count):
        best = max(range(place, count), key=lambda row: abs(system[row][place]))
        if abs(system[best][place]) < _SINGULAR:
            raise ValueError("points lie in line: valid four of them with no three in line")
        system[place], system[best] = system[best], system[place]
        for row in range(place + 1, count):
            share = system[row][place] / system[place][place]
            system[row] = [value - share * above for value, above in zip(system[row], system[place], strict=True)]
    found = [0.0] * count
    for place in reversed(range(count)):
        known = math.fsum(system[place][other] * found[other] for other in range(place + 1, count))
        found[place] = (system[place][count] - known) / system[place][place]
    return found


def _unnormal(values: Sequence[float], shift: Point, size: float, to_shift: Point, to_size: float) -> Matrix:
    """The homography between points as given, from the one between normal points."""
    a, b, c, d, e, f, g, h = values
    under = (g / size, h / size, 1.0 - (g * shift[0] + h * shift[1]) / size)

    def row(first: float, second: float, third: float, home: float) -> tuple[float, float, float]:
        plain = (first / size, second / size, third - (first * shift[0] + second * shift[1]) / size)
        left, middle, right = (to_size * value + home * low for value, low in zip(plain, under, strict=True))
        return left, middle, right

    return row(a, b, c, to_shift[0]), row(d, e, f, to_shift[1]), under
