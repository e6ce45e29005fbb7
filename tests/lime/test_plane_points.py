"""Five taped points and more as a reference: their rectangle, its error held against draws, and what does not fit."""

from __future__ import annotations

import math
import random
from itertools import product

import pytest

from generator.lime.plane import Point, mapped, points_to_wall, rectangle_to_wall
from generator.lime.plane_bounds import Frame
from generator.lime.plane_errors import area_figure, spread
from generator.lime.plane_points import points_reference
from generator.lime.plane_reckoning import View, reckoned, told_of
from generator.lime.plane_shapes import Area, wall_area

# CV11 (X): nine points of a wall in mm and where they fall; findHomography of opencv leaves an rms of 0.6419 mm
WALL = [(1000.0 * x, 1000.0 * y) for x in (-2.0, 0.0, 2.0) for y in (-1.5, 0.0, 1.5)]
PHOTOGRAPH = [
    (1357.0, 967.0), (1367.0, 1491.0), (1376.0, 2000.0), (2016.0, 942.0), (2016.0, 1512.0), (2016.0, 2063.0),
    (2800.0, 913.0), (2786.0, 1536.0), (2773.0, 2138.0),
]  # fmt: skip
AREA = Area(((1000.0, 600.0), (3000.0, 700.0), (3000.0, 2300.0), (1000.0, 2300.0)))


def moved(points: list[Point], place: int, by: Point) -> list[Point]:
    found = list(points)
    found[place] = (found[place][0] + by[0], found[place][1] + by[1])
    return found


def test_the_rectangle_round_the_points_means_what_their_fit_means() -> None:
    found = points_reference(PHOTOGRAPH, WALL, 3.0, 3.0)
    assert found.fit.rms == pytest.approx(0.6419, abs=5e-5)
    assert found.taped.sides_mm == (4000.0, 3000.0)
    assert found.told == ()
    matrix = rectangle_to_wall(found.taped.corners, *found.taped.sides_mm)
    for spot in (*PHOTOGRAPH, (900.0, 500.0)):
        x, y = mapped(matrix, spot)
        # the rectangle counts from its own corner
        assert (x - 2000.0, y - 1500.0) == pytest.approx(mapped(found.fit.matrix, spot), abs=1e-6)


@pytest.mark.parametrize(("pick_px", "tape_mm"), [(3.0, 3.0), (3.0, 0.0), (0.0, 5.0)])
def test_no_draw_of_the_points_spreads_an_area_more_than_the_error_of_the_corners(
    pick_px: float, tape_mm: float
) -> None:
    found = points_reference(PHOTOGRAPH, WALL, pick_px, tape_mm)
    bound = spread(area_figure([AREA]), found.taped, AREA.outline, 0.0).corners
    draw = random.Random(2)
    areas = []
    for _ in range(200):
        spots = [(draw.gauss(x, pick_px), draw.gauss(y, pick_px)) for x, y in PHOTOGRAPH]
        places = [(draw.gauss(x, tape_mm), draw.gauss(y, tape_mm)) for x, y in WALL]
        areas.append(wall_area(points_to_wall(spots, places).matrix, AREA))
    mean = math.fsum(areas) / len(areas)
    drawn = math.sqrt(math.fsum((area - mean) ** 2 for area in areas) / (len(areas) - 1))
    assert drawn < 1.1 * bound  # 200 draws tell a spread within 5 %
    assert bound < 2.0 * drawn


def test_more_points_leave_less_doubt() -> None:
    five = [0, 2, 4, 6, 8]
    few = points_reference([PHOTOGRAPH[n] for n in five], [WALL[n] for n in five], 3.0, 3.0)
    many = points_reference(PHOTOGRAPH, WALL, 3.0, 3.0)
    assert few.taped.corner_px is not None
    assert many.taped.corner_px is not None
    assert many.taped.corner_px < few.taped.corner_px


@pytest.mark.parametrize(("off_mm", "level"), [(20.0, None), (80.0, "warning"), (600.0, "refusal")])
def test_a_point_taped_wrongly_shows(off_mm: float, level: str | None) -> None:
    told = points_reference(PHOTOGRAPH, moved(WALL, 4, (off_mm, 0.0)), 3.0, 3.0).told
    assert [(one.code, one.level) for one in told] == ([("reference-points-apart", level)] if level else [])


def test_points_check_one_another_and_are_looked_for_in_the_picture() -> None:
    found = points_reference(PHOTOGRAPH, WALL, 3.0, 3.0)
    view = View(Frame(4032.0, 3024.0), found.taped, 10.0, 8000.0, equivalent_mm=26.0, told=found.told)
    assert told_of(view) == ()
    outside = points_reference(moved(PHOTOGRAPH, 0, (-1400.0, 0.0)), moved(WALL, 0, (-8000.0, 0.0)), 3.0, 3.0)
    assert [one.code for one in told_of(View(Frame(4032.0, 3024.0), outside.taped, 10.0))] == ["reference-outside"]


def test_an_area_by_points_has_a_range_that_holds_its_size() -> None:
    found = points_reference(PHOTOGRAPH, WALL, 3.0, 3.0)
    view = View(Frame(4032.0, 3024.0), found.taped, 10.0, 8000.0, equivalent_mm=26.0)
    quantity = reckoned(view, [AREA]).offered
    assert quantity is not None
    assert quantity.area_m2 == pytest.approx(wall_area(found.fit.matrix, AREA) / 1e6, rel=1e-9)
    assert quantity.low_m2 < quantity.area_m2 < quantity.high_m2
    assert quantity.parts.tape == 0.0


@pytest.mark.parametrize(
    "wall",
    [
        [(float(n), 0.0) for n in range(9)],
        [(0.0, 0.0)] * 9,
        [*[(float(n), 0.0) for n in range(8)], (0.0, 1000.0)],
    ],
)
def test_points_in_line_are_no_reference(wall: list[Point]) -> None:
    with pytest.raises(ValueError, match=r"line|one place|horizon|width|height"):
        points_reference(PHOTOGRAPH, wall, 3.0, 3.0)


def test_fewer_than_five_points_are_refused() -> None:
    square = [(float(x), float(y)) for x, y in product((0, 1000), (0, 1000))]
    with pytest.raises(ValueError, match="5 or more"):
        points_reference(square, square, 3.0, 3.0)
