from __future__ import annotations

from itertools import pairwise

import pytest

from generator.drawing.hatch import DOT_SPACING_MM, SPACING_MM, hatch_marks
from generator.drawing.model import Box, Circle, Line, Point, Polygon, bounds

SQUARE: tuple[Point, ...] = ((3, 3), (23, 3), (23, 23), (3, 23))
# an L: a square without its lower right quarter
NOTCHED: tuple[Point, ...] = ((0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20))


def within(inner: Box, outer: Box) -> bool:
    return (
        inner.left >= outer.left - 1e-9
        and inner.top >= outer.top - 1e-9
        and inner.right <= outer.right + 1e-9
        and inner.bottom <= outer.bottom + 1e-9
    )


@pytest.mark.parametrize("hatch", ["diagonal", "level", "cross", "dots"])
def test_marks_stay_inside_the_shape(hatch: str) -> None:
    shape = Polygon(SQUARE, hatch=hatch)  # type: ignore[arg-type]
    marks = hatch_marks(shape)
    assert len(marks) > 10
    assert all(within(bounds(mark), bounds(shape)) for mark in marks)


@pytest.mark.parametrize("hatch", ["diagonal", "level", "cross", "dots"])
def test_marks_keep_out_of_a_notch(hatch: str) -> None:
    marks = hatch_marks(Polygon(NOTCHED, hatch=hatch))  # type: ignore[arg-type]
    middles = [((box.left + box.right) / 2, (box.top + box.bottom) / 2) for box in map(bounds, marks)]
    assert not [place for place in middles if place[0] > 10.01 and place[1] > 10.01]


def test_a_shape_without_hatch_has_no_marks() -> None:
    assert hatch_marks(Polygon(SQUARE)) == ()


def test_diagonals_rise_at_45_degrees_at_an_even_spacing() -> None:
    lines = [mark for mark in hatch_marks(Polygon(SQUARE, hatch="diagonal")) if isinstance(mark, Line)]
    assert all(line.x2 - line.x1 == pytest.approx(line.y1 - line.y2) for line in lines)
    offsets = sorted((line.x1 + line.y1) / 2**0.5 for line in lines)
    assert [b - a for a, b in pairwise(offsets)] == pytest.approx([SPACING_MM] * (len(lines) - 1))


def test_a_cross_hatch_has_lines_of_both_directions_in_equal_number() -> None:
    marks = hatch_marks(Polygon(SQUARE, hatch="cross"))
    rising = [mark for mark in marks if isinstance(mark, Line) and (mark.x2 - mark.x1) * (mark.y2 - mark.y1) < 0]
    assert abs(2 * len(rising) - len(marks)) <= 2


def test_dots_never_stand_nearer_than_half_their_spacing() -> None:
    dots = [mark for mark in hatch_marks(Polygon(SQUARE, hatch="dots")) if isinstance(mark, Circle)]
    gaps = [(a.x - b.x) ** 2 + (a.y - b.y) ** 2 for index, a in enumerate(dots) for b in dots[:index]]
    assert min(gaps) ** 0.5 > DOT_SPACING_MM * 0.5


def test_the_hatch_of_shapes_that_touch_runs_on() -> None:
    left = hatch_marks(Polygon(((0, 0), (10, 0), (10, 9), (0, 9)), hatch="diagonal"))
    right = hatch_marks(Polygon(((10, 0), (20, 0), (20, 9), (10, 9)), hatch="diagonal"))
    ends = {round(line.y2, 6) for line in left if isinstance(line, Line) and line.x2 == pytest.approx(10)}
    starts = {round(line.y1, 6) for line in right if isinstance(line, Line) and line.x1 == pytest.approx(10)}
    assert ends - {0.0, 9.0} == starts - {0.0, 9.0} != set()
