from __future__ import annotations

import math
import random

import pytest
from drawing.samples import ORIENTATION_WORDS, assert_sound, orientation, texts

from generator.drawing.model import Drawing, Label, Line, Polyline
from generator.drawing.orientation import NoRoom, Side

FOUR = (
    Side("1 ●", 135.0, 14.8, 2),
    Side("2 ▲ ○", None, None, 4),
    Side("3 ▼", 45.0, 9.4, 2),
    Side("4 ◊", 315.0, None, 0),
)


def strokes(drawing: Drawing) -> list[Polyline]:
    """The faces, rings left out, in the order in which they were put."""
    return [
        part
        for part in drawing.primitives
        if isinstance(part, Polyline) and part.weight_mm == 0.9 and len(part.points) == 2
    ]


def middle(drawing: Drawing) -> tuple[float, float]:
    """The middle of the compass, where its two lines cross."""
    (up,) = [
        part
        for part in drawing.primitives
        if isinstance(part, Line) and part.weight_mm == 0.25 and part.y1 - part.y2 > 5
    ]
    return up.x1, up.y1 - 4.6


def bearing(drawing: Drawing, stroke: Polyline) -> float:
    """The way across a stroke that leads away from the compass, in degrees from north through east."""
    (x1, y1), (x2, y2) = stroke.points
    cx, cy = middle(drawing)
    across = (-(y2 - y1), x2 - x1)
    out = ((x1 + x2) / 2 - cx, (y1 + y2) / 2 - cy)
    turn = 1 if across[0] * out[0] + across[1] * out[1] > 0 else -1
    return math.degrees(math.atan2(turn * across[0], -turn * across[1])) % 360


def test_each_face_lies_across_the_way_it_looks_and_on_that_side_of_the_compass() -> None:
    drawing = orientation(FOUR)
    assert sorted(bearing(drawing, stroke) for stroke in strokes(drawing)) == pytest.approx([45, 135, 315])


def test_lengths_are_to_scale_where_the_width_is_known_and_dashed_where_it_is_not() -> None:
    drawing = orientation(FOUR)
    assert "1\u00a0:\u00a0750" in drawing.alt
    lengths = {bool(stroke.dash): math.dist(*stroke.points) for stroke in strokes(drawing)}
    assert lengths[False] == pytest.approx(9400 / 750)
    assert [bool(stroke.dash) for stroke in strokes(drawing)].count(True) == 1
    assert "Scale 1\u00a0:\u00a0750" in texts(drawing)


def test_without_any_width_there_is_no_scale_to_read() -> None:
    drawing = orientation((Side("1", 0.0, None, 1), Side("2", 180.0, None, 1)))
    assert not any("Scale" in text for text in texts(drawing))


def test_what_stands_free_shares_one_ring_round_the_compass() -> None:
    drawing = orientation((*FOUR, Side("5", None, None, 3)))
    rings = [part for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) > 20]
    assert len(rings) == 1
    assert all(math.dist(spot, middle(drawing)) == pytest.approx(9.0) for spot in rings[0].points)


def test_as_many_ticks_stand_outside_a_face_as_its_exposure_counts() -> None:
    for count in range(5):
        drawing = orientation((Side("1", 90.0, 5.0, count), Side("2", 270.0, 5.0, 0)))
        x, _ = middle(drawing)
        ticks = [part for part in drawing.primitives if isinstance(part, Line) and min(part.x1, part.x2) > x + 5]
        assert len(ticks) == count


def test_every_face_is_called_by_its_label_and_north_is_up() -> None:
    drawing = orientation(FOUR)
    assert {side.label for side in FOUR} <= set(texts(drawing))
    (north,) = [part for part in drawing.primitives if isinstance(part, Label) and part.text == ORIENTATION_WORDS.north]
    assert north.y < middle(drawing)[1]
    assert north.x == middle(drawing)[0]


def crossing(one: Polyline, other: Polyline) -> bool:
    """Whether two strokes cut each other."""

    def side(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one.points, other.points
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def test_any_faces_that_are_drawn_keep_clear_of_each_other_and_lie_on_the_side_that_they_look_to() -> None:
    chance = random.Random(16)
    drawn = 0
    for _ in range(150):
        sides = [
            Side(f"{number} ●", chance.choice([None, *(22.5 * place for place in range(16))]),
                 chance.choice([None, 0.6, 4.0, 9.4, 14.8, 60.0]), chance.randrange(5))
            for number in range(1, chance.randrange(3, 9))
        ]  # fmt: skip
        try:
            drawing = orientation(sides)
        except NoRoom:
            continue
        drawn += 1
        assert_sound(drawing)
        found = strokes(drawing)
        wanted = sorted(side.degrees for side in sides if side.degrees is not None)
        assert sorted(round(bearing(drawing, stroke), 1) % 360 for stroke in found) == pytest.approx(wanted)
        assert not any(crossing(one, other) for at, one in enumerate(found) for other in found[:at])
    assert drawn > 120


def test_more_faces_than_there_is_room_for_are_refused() -> None:
    with pytest.raises(NoRoom):
        orientation([Side(f"{number} ● ▲ ○ ▼", 90.0, 10.0, 4) for number in range(30)])
