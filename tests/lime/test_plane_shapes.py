"""Polygons: crossings, overlap and openings, against shapes whose areas are plain and against scikit-image."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.draw import polygon2mask

from generator.lime.plane import Point
from generator.lime.plane_shapes import (
    Area,
    area_sigma_by_vertices,
    common_area,
    crosses_itself,
    lies_within,
    overlap,
    signed_area,
)

Ring = tuple[Point, ...]
SQUARE: Ring = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))


def moved(ring: Ring, x: float, y: float) -> Ring:
    return tuple((a + x, b + y) for a, b in ring)


def star(count: int, seed: int) -> Ring:
    """A polygon that does not cross itself: points round a middle, in order of their angle."""
    draw = random.Random(seed)
    angles = [math.tau * place / count for place in range(count)]
    reach = [draw.uniform(20.0, 100.0) for _ in angles]
    return tuple((120.0 + r * math.cos(a), 120.0 + r * math.sin(a)) for a, r in zip(angles, reach, strict=True))


@pytest.mark.parametrize(
    "ring",
    [
        ((0.0, 0.0), (1.0, 1.0)),
        ((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (2.0, 4.0)),
        ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (2.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)),
    ],
    ids=["two-points", "twice-one-point", "runs-back", "touches-a-side", "crosses"],
)
def test_outlines_that_enclose_no_one_area_are_found(ring: Ring) -> None:
    assert crosses_itself(ring)


@settings(max_examples=40)
@given(st.integers(3, 30), st.integers(0, 10_000))
def test_outlines_round_a_middle_do_not_cross(count: int, seed: int) -> None:
    assert not crosses_itself(star(count, seed))
    assert not crosses_itself(star(count, seed)[::-1])


@settings(max_examples=40)
@given(st.integers(3, 20), st.integers(0, 10_000), st.integers(3, 20), st.integers(0, 10_000))
def test_the_shared_area_is_even_handed_and_never_more_than_either(n: int, a: int, m: int, b: int) -> None:
    one, other = star(n, a), moved(star(m, b), 60.0, 20.0)
    shared = common_area(one, other)
    assert shared == pytest.approx(common_area(other, one), abs=1e-6)
    assert -1e-9 <= shared <= min(abs(signed_area(one)), abs(signed_area(other))) + 1e-6
    assert common_area(one, one) == pytest.approx(abs(signed_area(one)), rel=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_the_shared_area_is_that_of_the_pixels_both_cover(seed: int) -> None:
    # outside reference: scikit-image's polygon masks (X), a pixel of edge either way
    one, other = star(9, seed), moved(star(7, seed + 50), 40.0, -10.0)
    both = np.ones((300, 300), bool)
    for ring in (one, other):
        both &= polygon2mask((300, 300), np.array(ring)[:, ::-1])
    assert common_area(one, other) == pytest.approx(both.sum(), rel=0.05)


def test_the_sigma_of_an_area_is_that_of_picked_vertices() -> None:
    # CV14 (X, exact): a square of 2 m, sigma 8 mm
    two = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    assert area_sigma_by_vertices(two, 0.008) == pytest.approx(0.022627, abs=5e-7)
    draw = random.Random(3)
    ring = star(8, 4)
    found = [signed_area([(draw.gauss(x, 0.5), draw.gauss(y, 0.5)) for x, y in ring]) for _ in range(4000)]
    mean = sum(found) / len(found)
    spread = math.sqrt(sum((value - mean) ** 2 for value in found) / len(found))
    assert spread == pytest.approx(area_sigma_by_vertices(ring, 0.5), rel=0.04)


def test_areas_with_a_common_edge_do_not_overlap_until_it_is_past_picking() -> None:
    assert not overlap(SQUARE, moved(SQUARE, 100.0, 0.0), 3.0)
    assert not overlap(SQUARE, moved(SQUARE, 97.0, 0.0), 3.0)
    assert overlap(SQUARE, moved(SQUARE, 85.0, 0.0), 3.0)
    assert overlap(SQUARE, SQUARE, 3.0)
    assert not overlap(SQUARE, moved(SQUARE, 300.0, 0.0), 0.0)


def test_an_opening_lies_within_but_for_picking() -> None:
    door = ((40.0, 60.0), (60.0, 60.0), (60.0, 100.0), (40.0, 100.0))
    assert lies_within(door, SQUARE, 3.0)
    assert lies_within(moved(door, 0.0, 2.0), SQUARE, 3.0)
    assert not lies_within(moved(door, 0.0, 30.0), SQUARE, 3.0)
    assert not lies_within(moved(door, 500.0, 0.0), SQUARE, 3.0)


def test_vertices_come_in_the_order_of_the_rings() -> None:
    hole = ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0))
    assert Area(SQUARE, (hole,)).vertices == SQUARE + hole
