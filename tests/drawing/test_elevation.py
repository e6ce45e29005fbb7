"""The drawing of a face: to its stated scale, openings over hatches, works within its outline, and fit for a copier."""

from __future__ import annotations

import io

import pytest
from drawing.samples import FACES, WHOLE_FRONT, assert_sound, texts
from PIL import Image

from generator.drawing.area_hatch import PATTERNS
from generator.drawing.elevation import (
    LOW_ROOM_MM,
    ROOM_MM,
    Elevation,
    ElevationWords,
    Gap,
    Worked,
    clipped,
    elevation,
    elevation_scale,
    swatch,
)
from generator.drawing.model import Box, Circle, Drawing, Line, Point, Polygon, Rect, bounds, rectangle
from generator.drawing.png import png

WORDS = ElevationWords("Scale {scale}")
GABLE = ((0.0, 0.0), (9.0, 0.0), (9.0, 5.0), (4.5, 8.0), (0.0, 5.0))


def drawn(face: Elevation) -> Drawing:
    return elevation(face, elevation_scale(face.corners), WORDS, "A face.")


def square(wide: float, high: float) -> tuple[Point, ...]:
    return rectangle(0.0, 0.0, wide, high)


@pytest.mark.parametrize(
    ("corners", "room", "scale"),
    [
        (square(14.8, 6.5), ROOM_MM, "1\u00a0:\u00a0150"),
        (square(14.8, 6.5), LOW_ROOM_MM, "1\u00a0:\u00a0200"),
        (GABLE, ROOM_MM, "1\u00a0:\u00a0150"),
        (square(0.6, 0.4), ROOM_MM, "1\u00a0:\u00a010"),
        (square(199.0, 20.0), ROOM_MM, "1\u00a0:\u00a02000"),
    ],
)
def test_the_scale_is_the_largest_of_the_series_that_fits(corners: tuple[Point, ...], room: Point, scale: str) -> None:
    assert str(elevation_scale(corners, room)) == scale


def test_a_face_beyond_any_scale_is_refused() -> None:
    with pytest.raises(ValueError, match="fits no scale"):
        elevation_scale(square(250.0, 3.0))


def test_outline_and_bar_are_as_long_as_the_scale_says() -> None:
    made = drawn(Elevation(square(14.8, 6.5), (6.5,)))
    outlines = [bounds(part) for part in made.primitives if isinstance(part, Polygon)]
    assert any(box.right - box.left == pytest.approx(14_800 / 150) for box in outlines)
    steps = [part for part in made.primitives if isinstance(part, Rect) and part.height < 2.0]
    assert {round(step.width, 3) for step in steps} == {round(2_000 / 150, 3)}
    assert texts(made)[-7:] == ["0", "2", "4", "6", "8", "10 m", "Scale 1\u00a0:\u00a0150"]


def test_heights_too_near_one_another_are_told_once() -> None:
    assert [text for text in texts(drawn(Elevation(GABLE, (5.0, 5.2, 8.0)))) if "m" in text][:2] == ["8 m", "5 m"]


@pytest.mark.parametrize("name", FACES)
def test_nothing_is_grey_so_a_copy_at_seventy_per_cent_keeps_all(name: str) -> None:
    made = FACES[name]
    fills = {part.fill for part in made.primitives if isinstance(part, Polygon | Rect | Circle)}
    assert fills <= {None, 0.0, 1.0}
    assert_sound(made)


def test_each_hatch_still_reads_after_a_copy_at_seventy_per_cent() -> None:
    for pattern in PATTERNS:
        with Image.open(io.BytesIO(png(swatch(pattern, pattern, (20.0, 20.0)), 150))) as image:
            copied = image.convert("L").point(lambda grey: 0 if grey < 0.7 * 255 else 255)
        inside = copied.crop((10, 10, copied.width - 10, copied.height - 10))
        black = inside.histogram()[0] / (inside.width * inside.height)
        assert 0.05 < black < 0.5, pattern


def test_openings_stand_white_over_what_is_hatched() -> None:
    made = drawn(WHOLE_FRONT)
    shapes = list(made.primitives)
    hatching = max(place for place, part in enumerate(shapes) if isinstance(part, Line) and part.weight_mm == 0.35)
    openings = [place for place, part in enumerate(shapes) if isinstance(part, Polygon) and part.fill == 1.0]
    assert len(openings) == len(WHOLE_FRONT.gaps)
    assert min(openings) > hatching


def test_a_name_is_written_into_an_opening_that_holds_it_and_into_no_other() -> None:
    gaps = (
        Gap("other", 1.0, 1.0, 6.0, 1.5, "shop front"),
        Gap("door", 8.0, 0.0, 1.0, 2.1, "a door that has a long name"),
    )
    assert texts(drawn(Elevation(square(10.0, 4.0), (4.0,), gaps)))[0] == "shop front"
    assert "a door that has a long name" not in texts(drawn(Elevation(square(10.0, 4.0), (4.0,), gaps)))


def test_a_part_is_clipped_to_the_slopes_of_its_face() -> None:
    found = sorted({(round(x, 6), round(y, 6)) for x, y in clipped(rectangle(0.0, 6.5, 9.0, 8.0), GABLE)})
    assert found == [(2.25, 6.5), (4.5, 8.0), (6.75, 6.5)]
    assert clipped(rectangle(0.0, 7.9, 1.0, 8.0), GABLE) == ()


def test_a_letter_keeps_off_the_openings_of_its_part() -> None:
    part = Worked("A", "rise", square(4.0, 3.0))
    window = Gap("window", 1.4, 0.9, 1.2, 1.2)
    made = drawn(Elevation(square(4.0, 3.0), (3.0,), (window,), (), (part,)))
    (plate,) = [bounds(part) for part in made.primitives if isinstance(part, Rect) and part.weight_mm == 0.0]
    (hole,) = [bounds(part) for part in made.primitives if isinstance(part, Polygon) and part.fill == 1.0]
    assert plate.right <= hole.left or plate.left >= hole.right or plate.top >= hole.bottom or plate.bottom <= hole.top


def plates(made: Drawing) -> list[Box]:
    return [bounds(part) for part in made.primitives if isinstance(part, Rect) and part.weight_mm == 0.0]


def test_each_piece_of_a_part_that_a_door_cuts_in_two_has_its_letter() -> None:
    part = Worked("A", "rise", rectangle(2.0, 0.0, 10.0, 1.4))
    door, window = Gap("door", 5.0, 0.0, 1.0, 2.1), Gap("window", 3.0, 0.4, 0.6, 0.4)
    wall = square(14.8, 6.5)
    found = plates(drawn(Elevation(wall, (6.5,), (door, window), (), (part,))))
    (hole,) = [
        bounds(part) for part in drawn(Elevation(wall, (6.5,), (door,))).primitives
        if isinstance(part, Polygon) and part.fill == 1.0
    ]  # fmt: skip
    assert sorted(plate.right < hole.left for plate in found) == [False, True]
    assert all(plate.right < hole.left or plate.left > hole.right for plate in found)
    # above a window goes on what is not cut through
    assert len(plates(drawn(Elevation(wall, (6.5,), (window,), (), (part,))))) == 1


def test_the_letter_of_a_strip_lower_than_itself_leaves_the_top_of_the_face_whole() -> None:
    strip = Worked("A", "rise", rectangle(0.0, 5.7, 14.8, 6.5))
    face = Elevation(square(14.8, 6.5), (6.5,), (), (), (strip,))
    made = elevation(face, elevation_scale(face.corners, LOW_ROOM_MM), WORDS, "A face.")
    (plate,) = plates(made)
    top = min(bounds(part).top for part in made.primitives if isinstance(part, Polygon))
    assert plate.top > top


def test_the_edge_of_a_zone_runs_from_side_to_side_and_is_broken() -> None:
    made = drawn(Elevation(GABLE, (5.0, 6.5, 8.0), (), (6.5,)))
    (edge,) = [part for part in made.primitives if isinstance(part, Line) and part.dash]
    assert edge.x2 - edge.x1 == pytest.approx(4_500 / 150)
