from __future__ import annotations

import math
from itertools import pairwise

import pytest
from drawing.samples import flaunching_section, texts

from generator.drawing.flaunching import Flaunching
from generator.drawing.hatch import hatch_marks
from generator.drawing.model import Circle, Drawing, Line, Polygon, Polyline, bounds
from generator.values import replace

USUAL = Flaunching(coat=75, layer=25, edge=25, short=10, foot=75)


def body(drawing: Drawing) -> Polygon:
    """The mortar: the only body of dots."""
    (found,) = [part for part in drawing.primitives if isinstance(part, Polygon) and part.hatch == "dots"]
    return found


def slips(drawing: Drawing) -> list[Polygon]:
    """The slips of tile: black bodies of four corners."""
    return [
        part for part in drawing.primitives if isinstance(part, Polygon) and part.fill == 0 and len(part.points) == 4
    ]


def test_the_mortar_is_as_thick_at_edge_and_pot_and_as_far_from_the_face_as_the_scale_says() -> None:
    drawing = flaunching_section(USUAL)
    assert "scale 1\u00a0:\u00a05" in drawing.alt
    (start, bed), (_, edge), (pot, top), _ = body(drawing).points
    assert bed - edge == pytest.approx(25 / 5)
    assert bed - top == pytest.approx(75 / 5)
    faces = [part.x1 for part in drawing.primitives if isinstance(part, Line) and part.x1 == part.x2 == 15.0]
    assert start - faces[0] == pytest.approx(10 / 5)
    assert pot > start


def test_it_falls_from_the_pot_to_its_edge_and_the_arrow_says_so() -> None:
    drawing = flaunching_section(USUAL)
    (head,) = [part.points for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 3]
    (x, y), back, _ = head
    assert x < back[0]
    assert y > back[1]


def test_slips_lie_between_layers_and_within_the_mortar() -> None:
    drawing = flaunching_section(USUAL)
    around = bounds(body(drawing))
    found = [bounds(slip) for slip in slips(drawing)]
    assert [(box.top + box.bottom) / 2 for box in found] == pytest.approx([around.bottom - 5, around.bottom - 10])
    assert all(around.left < box.left < box.right < around.right for box in found)
    assert "Slips of tile" in texts(drawing)


def test_no_hatch_of_the_courses_runs_past_the_break_below_them() -> None:
    drawing = flaunching_section(USUAL)
    breaks = [part.points for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) == 6]
    line = max(breaks, key=lambda points: points[0][1])
    courses = [part for part in drawing.primitives if isinstance(part, Polygon) and part.hatch == "diagonal"]
    ends = [
        end
        for course in courses
        for mark in hatch_marks(course)
        if isinstance(mark, Line)
        for end in ((mark.x1, mark.y1), (mark.x2, mark.y2))
    ]
    assert ends
    for x, y in ends:
        (left, right) = next((a, b) for a, b in pairwise(line) if a[0] <= x <= b[0])
        assert y <= left[1] + (right[1] - left[1]) * (x - left[0]) / (right[0] - left[0]) + 0.001


@pytest.mark.parametrize("coat", [75, 150, 300])
def test_the_break_of_the_pot_ends_at_its_wall_short_of_the_rings_of_the_key(coat: float) -> None:
    drawing = flaunching_section(replace(USUAL, coat=coat, foot=coat))
    breaks = [part.points for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) == 6]
    (*_, end) = min(breaks, key=lambda points: points[0][1])
    rings = [part.x - part.radius for part in drawing.primitives if isinstance(part, Circle) and part.radius > 1]
    assert end[0] < min(rings) - 2


def test_what_is_laid_in_one_layer_has_no_slips_and_names_none() -> None:
    drawing = flaunching_section(Flaunching(40, 40, 25, 10, 60))
    assert slips(drawing) == []
    assert "Slips of tile" not in texts(drawing)


def test_the_pot_stands_on_the_top_course_as_deep_in_the_mortar_as_it_must() -> None:
    drawing = flaunching_section(USUAL)
    (pot,) = [part for part in drawing.primitives if isinstance(part, Polygon) and part.fill == 1.0]
    around = bounds(body(drawing))
    assert bounds(pot).bottom == around.bottom
    assert bounds(pot).left == around.right
    broken = [part for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) == 6]
    assert around.bottom - bounds(broken[-1]).bottom > 75 / 5


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_sizes_that_are_no_lengths_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="valid above 0"):
        flaunching_section(Flaunching(75, bad, 25, 10, 75))


def test_an_edge_as_high_as_the_mortar_at_the_pot_is_refused() -> None:
    with pytest.raises(ValueError, match="lower at its edge"):
        flaunching_section(Flaunching(25, 25, 25, 10, 25))
