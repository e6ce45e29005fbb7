"""From photograph to wall: homographies against worked values and against other code.

CV numbers are the check values worked out for this piece (X: computed in exact fractions or by two codings).
Outside references: opencv (`getPerspectiveTransform`, `findHomography`) and scikit-image (`ProjectiveTransform`),
both general-purpose libraries with codings of their own (X); CV4's points are those of scikit-image's tutorial
on rectifying (R).
"""

from __future__ import annotations

import doctest
import math
from fractions import Fraction

import cv2
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from skimage.transform import ProjectiveTransform

from generator.lime import plane, plane_bounds, plane_errors, plane_limits, plane_shapes
from generator.lime.plane import (
    Matrix,
    Point,
    Quad,
    area_scale,
    cos_corner_by_diagonals,
    crosses_horizon,
    denominator,
    determinant,
    inverse,
    jacobian,
    mapped,
    mean_point,
    points_to_wall,
    rectangle_to_wall,
    sorted_corners,
    stretch,
    strictly_convex,
)
from generator.lime.plane_shapes import Area, crosses_itself, signed_area, wall_area, wall_length

Ring = tuple[Point, ...]

CV1: Quad = ((400.0, 300.0), (1600.0, 500.0), (1600.0, 1700.0), (400.0, 1900.0))
CV4: Quad = ((155.0, 15.0), (360.0, 95.0), (260.0, 130.0), (65.0, 40.0))
CV6: Quad = ((0.0, 0.0), (4.0, 0.0), (3.0, 2.0), (1.0, 2.0))
CV7: Quad = ((1000.0, 1000.0), (2000.0, 1200.0), (2100.0, 2300.0), (900.0, 2200.0))


def flat(matrix: Matrix) -> list[float]:
    """The nine values with the last 1, as other code spells them."""
    return [value / matrix[2][2] for row in matrix for value in row]


def square(*points: Point) -> Ring:
    return points


def test_every_example_in_the_docstrings_holds() -> None:
    results = [doctest.testmod(module) for module in (plane, plane_shapes, plane_errors, plane_bounds, plane_limits)]
    assert sum(result.failed for result in results) == 0
    assert sum(result.attempted for result in results) >= 25


def test_four_corners_give_the_homography_of_exact_fractions() -> None:
    # CV1 (X, exact)
    exact = [
        Fraction(9, 13), 0, Fraction(-3600, 13), Fraction(-15, 104), Fraction(45, 52), Fraction(-2625, 13),
        Fraction(-1, 5200), 0, 1,
    ]  # fmt: skip
    assert flat(rectangle_to_wall(CV1, 1200.0, 1500.0)) == pytest.approx([float(value) for value in exact], abs=1e-12)


def test_points_go_to_the_wall_and_back() -> None:
    # CV2 (X, exact)
    matrix = rectangle_to_wall(CV1, 1200.0, 1500.0)
    assert mapped(matrix, (1000.0, 1100.0)) == pytest.approx((3600 / 7, 750.0), abs=1e-9)
    assert mapped(inverse(matrix, (600.0, 750.0)), (600.0, 750.0)) == pytest.approx((7600 / 7, 1100.0), abs=1e-9)


def test_an_area_is_that_of_its_vertices_on_the_wall() -> None:
    # CV3 (X, exact; opencv and scikit-image agree)
    matrix = rectangle_to_wall(CV1, 1200.0, 1500.0)
    outline = square((700.0, 700.0), (1300.0, 700.0), (1300.0, 1500.0), (700.0, 1500.0))
    on_wall = [(240.0, 350.0), (10800 / 13, 3750 / 13), (10800 / 13, 15750 / 13), (240.0, 1150.0)]
    for point, expected in zip(outline, on_wall, strict=True):
        assert mapped(matrix, point) == pytest.approx(expected, abs=1e-9)
    assert wall_area(matrix, Area(outline)) == pytest.approx(86016000 / 169, rel=1e-12)


def test_the_tutorials_points_give_its_homography() -> None:
    # CV4: points of scikit-image's tutorial (R); values by two codings (X)
    matrix = rectangle_to_wall(CV4, 300.0, 50.0)
    expected = [
        0.790153564, 2.844552831, -165.142094936, -0.360320439, 0.923321125, 41.999851194, 0.000178343959,
        0.00246612490, 1.0,
    ]  # fmt: skip
    assert flat(matrix) == pytest.approx(expected, rel=1e-8, abs=1e-9)
    assert mapped(matrix, (200.0, 70.0)) == pytest.approx((158.907314, 28.609048), abs=1e-6)


def test_a_parallelogram_has_no_horizon() -> None:
    # CV5 (X, exact)
    corners: Quad = ((100.0, 100.0), (500.0, 200.0), (600.0, 500.0), (200.0, 400.0))
    matrix = rectangle_to_wall(corners, 2.0, 3.0)
    assert matrix[2] == pytest.approx((0.0, 0.0, 1.0), abs=1e-12)
    area = Area(square((100.0, 100.0), (600.0, 100.0), (600.0, 500.0), (100.0, 500.0)))
    assert wall_area(matrix, area) == pytest.approx(120 / 11, rel=1e-12)


def test_a_leaning_wall_has_its_horizon_where_the_sides_meet() -> None:
    # CV6 (X, exact)
    matrix = rectangle_to_wall(CV6, 4.0, 4.0)
    assert flat(matrix) == pytest.approx([1, -0.5, 0, 0, 1, 0, 0, -0.25, 1], abs=1e-12)
    area = Area(square((0.0, 0.0), (4.0, 0.0), (3.5, 1.0), (0.5, 1.0)))
    assert wall_area(matrix, area) == pytest.approx(16 / 3, rel=1e-12)
    assert mapped(matrix, (2.0, 1.0)) == pytest.approx((2.0, 4 / 3), abs=1e-12)
    assert denominator(matrix, (7.0, 4.0)) == pytest.approx(0.0, abs=1e-12)
    assert crosses_horizon(matrix, [(0.0, 0.0), (2.0, 4.001)])
    assert not crosses_horizon(matrix, [(0.0, 0.0), (2.0, 3.999)])


def test_a_slanting_window_measures_a_triangle() -> None:
    # CV7 (X; opencv and scikit-image agree)
    matrix = rectangle_to_wall(CV7, 1010.0, 1490.0)
    outline = square((1200.0, 1300.0), (1800.0, 1400.0), (1500.0, 2100.0))
    expected = [(197.2065, 376.1317), (776.8724, 369.2921), (474.8295, 1324.6115)]
    for point, place in zip(outline, expected, strict=True):
        assert mapped(matrix, point) == pytest.approx(place, abs=6e-5)
    assert wall_area(matrix, Area(outline)) == pytest.approx(275850.108, abs=6e-4)
    assert wall_length(matrix, *outline[:2]) == pytest.approx(579.706, abs=6e-4)


def test_local_scale_is_the_derivative() -> None:
    # CV9 (X, exact)
    matrix = rectangle_to_wall(CV1, 1200.0, 1500.0)
    (p, q), (r, s) = jacobian(matrix, (1000.0, 1100.0))
    assert (p, q, r, s) == pytest.approx((48 / 49, 0.0, 0.0, 15 / 14), abs=1e-12)
    assert area_scale(matrix, (1000.0, 1100.0)) == pytest.approx(360 / 343, rel=1e-12)


@pytest.mark.parametrize(
    "corners",
    [
        ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (1.0, 1.0)),
        ((0.0, 0.0), (10.0, 0.0), (0.0, 10.0), (10.0, 10.0)),
        ((0.0, 0.0), (10.0, 0.0), (2.0, 2.0), (0.0, 10.0)),
        ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0), (0.0, 1.0)),
    ],
    ids=["twice-one-corner", "crossed", "hollow", "three-in-line"],
)
def test_corners_that_make_no_quadrilateral_are_refused(corners: Quad) -> None:
    # CV10 (X)
    assert not strictly_convex(corners)
    with pytest.raises(ValueError, match="valid strictly convex"):
        rectangle_to_wall(corners, 1.0, 1.0)


NINE_SEEN: list[Point] = [
    (1357, 967), (1367, 1491), (1376, 2000), (2016, 942), (2016, 1512), (2016, 2063), (2800, 913), (2786, 1536),
    (2773, 2138),
]  # fmt: skip
NINE_WALL: list[Point] = [(x, y) for x in (-2000.0, 0.0, 2000.0) for y in (-1500.0, 0.0, 1500.0)]


def test_nine_taped_points_are_fitted_on_the_wall() -> None:
    # CV11 (X; opencv's findHomography leaves 0.6419)
    fit = points_to_wall(NINE_SEEN, NINE_WALL)
    assert fit.rms == pytest.approx(0.6419, abs=5e-5)
    assert fit.greatest == pytest.approx(0.926, abs=5e-4)
    theirs, _ = cv2.findHomography(np.array(NINE_SEEN), np.array(NINE_WALL), 0)
    for point in ((0.0, 0.0), (4032.0, 0.0), (4032.0, 3024.0), (0.0, 3024.0)):
        across, down, under = theirs @ np.array([*point, 1.0])
        assert math.dist(mapped(fit.matrix, point), (across / under, down / under)) < 0.01


def test_no_other_homography_lies_nearer_than_the_fit() -> None:
    fit = points_to_wall(NINE_SEEN, NINE_WALL)

    def rms(values: list[float]) -> float:
        matrix = tuple(tuple(values[row * 3 : row * 3 + 3]) for row in range(3))
        squares = (math.dist(mapped(matrix, a), b) ** 2 for a, b in zip(NINE_SEEN, NINE_WALL, strict=True))  # type: ignore[arg-type]
        return math.sqrt(sum(squares) / len(NINE_WALL))

    best = flat(fit.matrix)
    for place in range(8):
        for share in (-1e-5, 1e-5):
            other = [value * (1.0 + share) if at == place else value for at, value in enumerate(best)]
            assert rms(other) > fit.rms


def test_points_in_line_or_too_few_are_not_fitted() -> None:
    line = [(float(x), 2.0 * x) for x in range(6)]
    with pytest.raises(ValueError, match="in line"):
        points_to_wall(line, line)
    with pytest.raises(ValueError, match="5 or more"):
        points_to_wall(NINE_SEEN[:4], NINE_WALL[:4])
    with pytest.raises(ValueError, match="in one place"):
        points_to_wall([(1.0, 1.0)] * 6, [(1.0, 1.0)] * 6)


def test_diagonals_tell_how_far_corners_are_from_square() -> None:
    # CV16 (X, exact)
    cosine = cos_corner_by_diagonals(1000.0, 1500.0, 1810.0, 1795.0)
    assert cosine == pytest.approx(0.0090125, abs=1e-12)
    assert math.degrees(math.acos(cosine)) == pytest.approx(89.4836, abs=5e-5)
    plain = rectangle_to_wall(CV7, 1000.0, 1500.0)
    leaning = rectangle_to_wall(CV7, 1000.0, 1500.0, cosine)
    outline = Area(square((1200.0, 1300.0), (1800.0, 1400.0), (1500.0, 2100.0)))
    assert wall_area(leaning, outline) / wall_area(plain, outline) == pytest.approx(0.999959, abs=5e-7)
    first, second, third, fourth = (mapped(leaning, corner) for corner in CV7)
    assert math.dist(first, third) == pytest.approx(math.hypot(1000.0, 1500.0) + 7.5, abs=0.05)
    assert math.dist(first, third) ** 2 - math.dist(second, fourth) ** 2 == pytest.approx(1810.0**2 - 1795.0**2)
    assert (math.dist(first, second), math.dist(first, fourth)) == pytest.approx((1000.0, 1500.0))


def test_sides_given_the_wrong_way_round_show_as_a_slant() -> None:
    # CV17 (X, exact)
    corners: Quad = ((1000.0, 1000.0), (2000.0, 1000.0), (2000.0, 2500.0), (1000.0, 2500.0))
    assert stretch(rectangle_to_wall(corners, 1500.0, 1000.0), mean_point(corners)) == pytest.approx(2.25)
    assert stretch(rectangle_to_wall(corners, 1000.0, 1500.0), mean_point(corners)) == pytest.approx(1.0)


@pytest.mark.parametrize(("degrees", "expected"), [(30.0, 1.155), (45.0, 1.414), (60.0, 2.000)])
def test_the_slant_on_the_axis_is_one_over_the_cosine(degrees: float, expected: float) -> None:
    # X, of the note; a camera of 3000 px at 8 m turned aside, looking at the middle of a 1 m square
    angle = math.radians(degrees)

    def seen(x: float, y: float) -> Point:
        depth = 8.0 + x * math.sin(angle)
        return 3000.0 * x * math.cos(angle) / depth, 3000.0 * y / depth

    corners: Quad = (seen(-0.5, -0.5), seen(0.5, -0.5), seen(0.5, 0.5), seen(-0.5, 0.5))
    assert stretch(rectangle_to_wall(corners, 1.0, 1.0), (0.0, 0.0)) == pytest.approx(expected, abs=6e-4)


def test_a_figure_of_eight_is_told_by_its_crossing_and_not_by_its_area() -> None:
    # CV18 (X, exact)
    eight = square((0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0))
    assert signed_area(eight) == 0.0
    assert crosses_itself(eight)


def test_a_gable_is_reckoned_gross_and_net() -> None:
    # CV21 (X, exact): 7.2 m wide, eaves 4.8, apex 7.4; openings 2 of 1.01 x 1.49 and 1 of 1.0 x 2.1
    gable = square((0.0, 0.0), (0.0, -4.8), (3.6, -7.4), (7.2, -4.8), (7.2, 0.0))

    def opening(left: float, foot: float, width: float, height: float) -> Ring:
        return square((left, foot), (left + width, foot), (left + width, foot - height), (left, foot - height))

    openings = (opening(1.0, -2.6, 1.01, 1.49), opening(5.0, -2.6, 1.01, 1.49), opening(3.0, 0.0, 1.0, 2.1))
    same: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    assert wall_area(same, Area(gable)) == pytest.approx(43.92)
    assert wall_area(same, Area(gable, openings)) == pytest.approx(38.81, abs=5e-4)


places = st.floats(0.0, 4000.0)
shifts = st.floats(-0.25, 0.25)


@st.composite
def quads(draw: st.DrawFn) -> Quad:
    """Corners that a photograph of a rectangle could show: none a sliver or a needle."""
    left, top, wide, high = (draw(st.floats(low, 1500.0)) for low in (0.0, 0.0, 150.0, 150.0))
    corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    first, second, third, fourth = (
        (left + (x + draw(shifts)) * wide, top + (y + draw(shifts)) * high) for x, y in corners
    )
    return first, second, third, fourth


@settings(max_examples=40)
@given(quads(), st.floats(200.0, 5000.0), st.floats(200.0, 5000.0))
def test_opencv_and_scikit_image_find_the_same_homography(corners: Quad, width: float, height: float) -> None:
    assume(strictly_convex(corners))
    target = np.array([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)])
    ours = rectangle_to_wall(corners, width, height)
    opencv = cv2.getPerspectiveTransform(np.array(corners, np.float32), target.astype(np.float32))
    scikit = ProjectiveTransform.from_estimate(np.array(corners), target)
    middle = mean_point(corners)
    exact = mapped(ours, middle)
    assert scikit(np.array([middle]))[0] == pytest.approx(exact, rel=1e-6, abs=1e-6)
    # opencv takes corners in single precision
    by_opencv = opencv @ np.array([*middle, 1.0])
    assert (by_opencv[:2] / by_opencv[2]) == pytest.approx(exact, rel=1e-3, abs=width * 1e-4)


@settings(max_examples=40)
@given(quads(), places, places)
def test_the_way_back_undoes_the_way_there(corners: Quad, x: float, y: float) -> None:
    assume(strictly_convex(corners))
    matrix = rectangle_to_wall(corners, 1000.0, 1500.0)
    assume(denominator(matrix, (x, y)) > 0.05)
    back = inverse(matrix, mapped(matrix, mean_point(corners)))
    assert mapped(back, mapped(matrix, (x, y))) == pytest.approx((x, y), abs=1e-3)


@settings(max_examples=40)
@given(quads())
def test_this_side_of_the_horizon_is_the_side_of_the_reference(corners: Quad) -> None:
    assume(strictly_convex(corners))
    matrix = rectangle_to_wall(corners, 1000.0, 1500.0)
    assert denominator(matrix, mean_point(corners)) == pytest.approx(1.0)
    assert not crosses_horizon(matrix, corners)
    assert determinant(matrix) > 0.0


@given(st.permutations(list(CV7)))
def test_corners_come_out_in_one_order_however_they_were_picked(picked: list[Point]) -> None:
    assert sorted_corners(picked) == CV7


def test_three_corners_are_not_sorted() -> None:
    with pytest.raises(ValueError, match="valid 4"):
        sorted_corners(CV7[:3])


@pytest.mark.parametrize(("width", "height", "cosine"), [(0.0, 1.0, 0.0), (1.0, -1.0, 0.0), (1.0, 1.0, 0.95)])
def test_sides_and_angles_without_sense_are_refused(width: float, height: float, cosine: float) -> None:
    with pytest.raises(ValueError, match="valid"):
        rectangle_to_wall(CV1, width, height, cosine)
