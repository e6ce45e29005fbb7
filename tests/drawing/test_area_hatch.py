"""Six hatches clipped to areas: pitch, direction, openings, and dots that keep clear of edges."""

from __future__ import annotations

import math

import pytest

from generator.drawing.area_hatch import PATTERNS, Pattern, area_hatch, stretches
from generator.drawing.model import Circle, Line, Point

SQUARE: list[Point] = [(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)]
HOLE: list[Point] = [(10.0, 10.0), (30.0, 10.0), (30.0, 20.0), (10.0, 20.0)]


def lines(pattern: Pattern, rings: list[list[Point]] | None = None, pitch_mm: float = 3.3) -> list[Line]:
    return [mark for mark in area_hatch(rings or [SQUARE], pattern, pitch_mm, 0.35) if isinstance(mark, Line)]


@pytest.mark.parametrize(
    ("pattern", "degrees"), [("rise", {-45}), ("fall", {45}), ("cross", {-45, 45}), ("level", {0}), ("upright", {90})]
)
def test_lines_run_as_their_name_says(pattern: Pattern, degrees: set[int]) -> None:
    found = {round(math.degrees(math.atan2(line.y2 - line.y1, line.x2 - line.x1))) for line in lines(pattern)}
    assert found == degrees


@pytest.mark.parametrize("pattern", [pattern for pattern in PATTERNS if pattern != "dots"])
def test_lines_lie_a_pitch_apart_and_end_on_the_outline(pattern: Pattern) -> None:
    for line in lines(pattern):
        for x, y in ((line.x1, line.y1), (line.x2, line.y2)):
            on_edge = min(abs(x), abs(x - 40.0), abs(y), abs(y - 30.0))
            assert on_edge < 1e-9
            assert -1e-9 <= x <= 40.0 + 1e-9
            assert -1e-9 <= y <= 30.0 + 1e-9
    # the length of all lines times the pitch is the area, once for each direction
    total = sum(math.dist((line.x1, line.y1), (line.x2, line.y2)) for line in lines(pattern))
    assert total * 3.3 == pytest.approx(1200.0 * (2.0 if pattern == "cross" else 1.0), rel=0.08)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_openings_are_left_bare(pattern: Pattern) -> None:
    for mark in area_hatch([SQUARE, HOLE], pattern, 3.3, 0.35):
        x, y = (mark.x, mark.y) if isinstance(mark, Circle) else ((mark.x1 + mark.x2) / 2, (mark.y1 + mark.y2) / 2)
        assert not (10.0 < x < 30.0 and 10.0 < y < 20.0)


def test_dots_stand_in_rows_set_off_and_clear_of_every_edge() -> None:
    dots = [mark for mark in area_hatch([SQUARE, HOLE], "dots", 3.3, 0.9) if isinstance(mark, Circle)]
    assert len(dots) > 100
    for dot in dots:
        assert dot.radius == 0.45
        assert 0.9 <= dot.x <= 39.1
        assert 0.9 <= dot.y <= 29.1
        assert not (9.1 < dot.x < 30.9 and 9.1 < dot.y < 20.9)
    nearest = min(math.dist((a.x, a.y), (b.x, b.y)) for a in dots for b in dots if a is not b)
    assert nearest == pytest.approx(3.3 / math.sqrt(2.0))


def test_hatches_of_areas_that_touch_run_on() -> None:
    beside = [(x + 40.0, y) for x, y in SQUARE]
    left = {round(line.y2 - line.x2 * -1.0, 6) for line in lines("rise")}
    right = {round(line.y1 - line.x1 * -1.0, 6) for line in lines("rise", [beside])}
    assert left & right


@pytest.mark.parametrize(("pitch", "weight"), [(0.6, 0.18), (1.0, 0.6), (math.nan, 0.35)])
def test_lines_too_close_to_be_copied_are_refused(pitch: float, weight: float) -> None:
    with pytest.raises(ValueError, match="valid from"):
        area_hatch([SQUARE], "rise", pitch, weight)


def test_a_line_is_cut_by_all_rings() -> None:
    assert stretches([SQUARE, HOLE], (1.0, 0.0), 15.0) == [(0.0, 10.0), (30.0, 40.0)]
