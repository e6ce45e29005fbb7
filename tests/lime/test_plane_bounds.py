"""Lens, depth and the range: worked values (X) and the law they come from."""

from __future__ import annotations

import math

import pytest

from generator.lime.plane import Point, Quad
from generator.lime.plane_bounds import (
    Frame,
    bent,
    combined,
    depth_share,
    edge_bend,
    guessed_distance_mm,
    k_by_lens,
    lens_bound,
    off_face_factor,
    outward,
)
from generator.lime.plane_errors import area_figure
from generator.lime.plane_shapes import Area

FRAME = Frame(4032.0, 3024.0)


def seen(x_m: float, y_m: float) -> Point:
    """A point of a wall 8 m off, square on, f 3000 px; metres from the frame's middle, y up."""
    return 2016.0 + x_m / 8.0 * 3000.0, 1512.0 - y_m / 8.0 * 3000.0


def box(left: float, foot: float, right: float, top: float) -> Quad:
    return seen(left, top), seen(right, top), seen(right, foot), seen(left, foot)


def change_per_cent(reference: Quad, ring: Quad, k: float) -> float:
    """How much an area reads too large through a lens of k, 1 x 1.5 m reference."""
    figure = area_figure([Area(ring)])
    true = figure(reference, ring, 1000.0, 1500.0)
    a, b, c, d = (bent(point, FRAME, k) for point in reference)
    return 100.0 * (figure((a, b, c, d), tuple(bent(point, FRAME, k) for point in ring), 1000.0, 1500.0) / true - 1.0)


MIDDLE = box(-0.5, -0.75, 0.5, 0.75)
ASIDE = box(2.0, -0.75, 3.0, 0.75)
WALL = box(-4.0, -2.5, 4.0, 2.5)


@pytest.mark.parametrize(
    ("k", "expected"),
    [(-0.003, (-0.02, -0.28, -0.28)), (-0.01, (-0.05, -0.94, -0.95)), (-0.02, (-0.11, -1.87, -1.89))],
)
def test_a_lens_changes_areas_as_tabled(k: float, expected: tuple[float, ...]) -> None:
    # X, table of the note: 2 x 2 m round the reference, a patch aside, the wall
    areas = (box(-1.0, -1.0, 1.0, 1.0), box(2.0, 0.0, 4.0, 2.0), WALL)
    found = [change_per_cent(MIDDLE, area, k) for area in areas]
    assert found == pytest.approx(list(expected), abs=6e-3)


def test_no_fixed_multiple_of_k_bounds_the_change() -> None:
    # X, of the note at k -1 %
    assert change_per_cent(ASIDE, WALL, -0.01) == pytest.approx(-1.22, abs=6e-3)
    assert change_per_cent(MIDDLE, box(3.0, -1.0, 5.0, 1.0), -0.01) == pytest.approx(-1.47, abs=6e-3)
    assert change_per_cent(ASIDE, box(-4.0, -1.0, -2.0, 1.0), -0.01) == pytest.approx(-2.10, abs=6e-3)


def test_the_bound_is_the_greater_of_both_ways() -> None:
    figure = area_figure([Area(WALL)])
    bound = lens_bound(figure, MIDDLE, WALL, (1000.0, 1500.0), FRAME, 0.01)
    both = [abs(change_per_cent(MIDDLE, WALL, k)) for k in (0.01, -0.01)]
    assert 100.0 * bound / 40e6 == pytest.approx(max(both), rel=1e-6)
    assert lens_bound(figure, MIDDLE, WALL, (1000.0, 1500.0), FRAME, -0.01) == pytest.approx(bound)


def test_the_bound_of_an_area_some_way_off() -> None:
    # CV22 (X): 1.36 % at k 1 %, 1.05 % at the k of its straight edge, 0.77 %
    def pixels(*shares: Point) -> tuple[Point, ...]:
        return tuple((x * 4032.0, y * 3024.0) for x, y in shares)

    a, b, c, d = pixels((0.4312, 0.3907), (0.5621, 0.3884), (0.5637, 0.6461), (0.4325, 0.6492))
    ring = pixels((0.05, 0.70), (0.42, 0.70), (0.42, 0.93), (0.05, 0.93))
    figure = area_figure([Area(ring)])
    for k, expected in ((0.01, 1.36), (0.0077, 1.05)):
        bound = lens_bound(figure, (a, b, c, d), ring, (1010.0, 1490.0), FRAME, k)
        assert 100.0 * bound / 3.687595e6 == pytest.approx(expected, abs=6e-3)
    start, middle, end = pixels((0.02, 0.0600), (0.50, 0.0580), (0.98, 0.0600))
    found = edge_bend(start, middle, end, FRAME, 3.0)
    assert 100.0 * found.k == pytest.approx(-0.77, abs=0.01)


def test_a_straight_edge_tells_k() -> None:
    # CV20 (X): top edge of 4032 x 3024 px, k 1 %: sag 9.677 px
    ends = [(0.0, 0.0), (2016.0, 0.0), (4032.0, 0.0)]
    for k in (0.01, -0.01):
        start, middle, end = (bent(point, FRAME, k) for point in ends)
        sag = middle[1] - (start[1] + end[1]) / 2.0
        assert sag == pytest.approx(math.copysign(9.677, k), abs=6e-4)
        found = edge_bend(start, middle, end, FRAME, 3.0)
        assert found.k == pytest.approx(k, rel=0.05)
        assert found.sigma == pytest.approx(1.22 * 3.0 / 967.7, rel=0.06)
        assert found.greatest == abs(found.k) + found.sigma


def test_an_upright_edge_and_an_uneven_pick_tell_the_same_k() -> None:
    upright = [(60.0, 100.0), (60.0, 1100.0), (60.0, 2900.0)]
    start, middle, end = (bent(point, FRAME, -0.015) for point in upright)
    assert edge_bend(start, middle, end, FRAME, 3.0).k == pytest.approx(-0.015, rel=0.08)


def test_an_edge_through_the_middle_tells_nothing() -> None:
    found = edge_bend((0.0, 1512.0), (2016.0, 1512.0), (4032.0, 1512.0), FRAME, 3.0)
    assert math.isinf(found.sigma)


@pytest.mark.parametrize("middle", [(-5.0, 0.0), (4100.0, 3.0)])
def test_a_middle_beyond_the_ends_is_refused(middle: Point) -> None:
    with pytest.raises(ValueError, match="between the ends"):
        edge_bend((0.0, 0.0), middle, (4032.0, 0.0), FRAME, 3.0)
    with pytest.raises(ValueError, match="valid above 0"):
        edge_bend((5.0, 5.0), middle, (5.0, 5.0), FRAME, 3.0)


def test_lenses_go_by_their_equivalent() -> None:
    assert [k_by_lens(lens) for lens in (26.0, 24.0, 23.9, 13.0, None)] == [0.01, 0.01, 0.02, 0.02, 0.02]


def test_a_frame_in_its_reveal_makes_areas_too_large() -> None:
    # CV15 (X, exact): 0.1 m at 6 m, 4 m2 read 4.134444
    assert 4.0 * off_face_factor(100.0, 6000.0) ** 2 == pytest.approx(4.134444, abs=5e-7)
    assert off_face_factor(-100.0, 6000.0) < 1.0 < off_face_factor(100.0, 6000.0)
    with pytest.raises(ValueError, match="off_face_mm"):
        off_face_factor(700.0, 6000.0)


def test_depth_and_distance() -> None:
    # X, of the note: a bulge of 50 mm at 8 m 1.26 % (to first order 1.25); the 26 mm lens of 4032 px at 8 m
    assert depth_share(50.0, 8000.0) == pytest.approx(0.0126, abs=1.1e-4)
    assert depth_share(10.0, 7500.0) == pytest.approx(20.0 / 7500.0)
    assert guessed_distance_mm(FRAME, MIDDLE, 1000.0, 1500.0) == pytest.approx(8000.0 * 3024.0 / 3000.0)


def test_doubts_make_up_the_range() -> None:
    # CV19 (X): 12.4 m2, random 1.8 %, tape 0.359, lens 2, depth 1: u 2.244 %, 11.84 to 12.96, printed 11.8 to 13.0
    u = combined((0.018, 0.00359), (0.02, 0.01))
    assert u == pytest.approx(0.02244, abs=5e-6)
    low, high = 12.4 * (1.0 - 2.0 * u), 12.4 * (1.0 + 2.0 * u)
    assert (low, high) == pytest.approx((11.84, 12.96), abs=5e-3)
    assert outward(low, high) == (11.8, 13.0)


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (11.8, 13.0, (11.8, 13.0)),
        (-0.2, 0.31, (0.0, 0.4)),
        (3.2 - 1e-9, 4.1 + 1e-9, (3.2, 4.1)),
        (0.34, 0.34, (0.3, 0.4)),
    ],
)
def test_a_range_is_rounded_outward(low: float, high: float, expected: tuple[float, float]) -> None:
    assert outward(low, high) == expected
