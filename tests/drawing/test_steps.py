"""Pictures of steps: each in its frame and numbered; water on bare quicklime is never drawn."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from drawing.samples import outside, texts

from generator.drawing.joint_steps import JOINTS
from generator.drawing.making import MAKING
from generator.drawing.model import Circle, Drawing, Label, Line, Point, Polygon, Polyline, Primitive, bounds
from generator.drawing.scene import FRAME, GROUND, lumps
from generator.drawing.slaking import SCENES, Scene
from generator.drawing.step_keys import PICTURES
from generator.drawing.steps import step_picture, step_sketched

LUMP = len(next(iter(lumps(0.0))).points)  # type: ignore[union-attr]


def quicklime(drawing: Drawing) -> list[Polygon]:
    """The black lumps in a picture."""
    return [part for part in drawing.primitives if isinstance(part, Polygon) and _is_lump(part)]


def _is_lump(part: Polygon) -> bool:
    return len(part.points) == LUMP and part.fill == 0.0


def water(drawing: Drawing) -> list[Primitive]:
    """The dashed lines in which water falls."""
    return [part for part in drawing.primitives if isinstance(part, Line) and part.dash]


@pytest.mark.parametrize("width_mm", [28.0, 32.0, 65.0])
@pytest.mark.parametrize("key", sorted(PICTURES))
def test_each_picture_stays_in_its_frame_and_keeps_its_shape(key: str, width_mm: float) -> None:
    drawing = step_picture(key, 8, "A step.", width_mm)
    assert outside(drawing) == []
    assert drawing.height_mm / drawing.width_mm == pytest.approx(FRAME[1] / FRAME[0], abs=0.01)


def test_white_wider_than_a_dot_at_100_an_inch_stands_round_the_frame_of_a_step() -> None:
    drawing = step_picture("mill", 1, "A step.", 50.0)
    *_, frame = [part for part in drawing.primitives if isinstance(part, Polygon) and part.fill is None]
    around, stroke = bounds(frame), frame.weight_mm / 2
    white = (
        around.left - stroke,
        around.top - stroke,
        drawing.width_mm - around.right - stroke,
        drawing.height_mm - around.bottom - stroke,
    )
    assert min(white) > 25.4 / 100


@pytest.mark.parametrize("key", sorted(PICTURES))
def test_the_number_stands_in_a_ring_clear_of_what_is_drawn_and_is_never_small(key: str) -> None:
    drawing = step_picture(key, 3, "A step.", 28.0)
    assert texts(drawing) == ["3"]
    (label,) = [part for part in drawing.primitives if isinstance(part, Label)]
    assert label.size_pt >= 12
    *_, ring = [part for part in drawing.primitives if isinstance(part, Circle) and part.fill == 1.0]
    around = bounds(ring)
    for lump in quicklime(drawing):
        assert bounds(lump).left > around.right or bounds(lump).top > around.bottom


@pytest.mark.parametrize("key", sorted(JOINTS))
def test_a_joint_wrong_and_right_stands_in_the_middle_of_each_half(key: str) -> None:
    drawing = step_picture(key, 0, "A joint.")
    units = [bounds(part) for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) == 5]
    for left, boxes in ((0.0, units[:2]), (FRAME[0] / 2, units[-2:])):
        before, after = boxes[0].left - left, left + FRAME[0] / 2 - boxes[0].right
        assert before == pytest.approx(after, abs=0.5)
        assert len(boxes) == 2
    marks = [bounds(part) for part in drawing.primitives if isinstance(part, Line | Polyline)]
    assert max(mark.bottom for mark in marks if mark.bottom - mark.top < 5) < FRAME[1] - 1.0


def test_new_mortar_alone_is_dotted_and_old_mortar_ruled_level_as_in_the_section_of_a_joint() -> None:
    raked, filled = (step_picture(key, 0, "A joint.").primitives for key in ("joint-raked", "joint-filled"))
    ruled = [[part for part in picture if isinstance(part, Line) and part.y1 == part.y2] for picture in (raked, filled)]
    dotted = [[part for part in picture if isinstance(part, Circle)] for picture in (raked, filled)]
    assert [len(lines) > 2 for lines in ruled] == [True, True]
    assert not dotted[0]
    for left in (0.0, FRAME[0] / 2):
        dots = [dot for dot in dotted[1] if left < dot.x < left + FRAME[0] / 2]
        old = min(line.x1 for line in ruled[1] if left < line.x1 < left + FRAME[0] / 2)
        assert dots
        assert all(dot.x < old for dot in dots)


def test_water_on_bare_quicklime_cannot_be_told() -> None:
    # safety.slaking: pour no water on bare or bagged quicklime; only a heap covered with sand is sprinkled
    with pytest.raises(ValueError, match="the forbidden act"):
        Scene("bare", water=True)


@pytest.mark.parametrize("key", sorted(PICTURES))
def test_no_picture_shows_water_and_quicklime_together(key: str) -> None:
    drawing = step_picture(key, 1, "A step.")
    assert not (water(drawing) and quicklime(drawing))


def test_the_pictures_that_must_show_water_or_quicklime_do() -> None:
    shown = {
        key: (bool(quicklime(drawn)), bool(water(drawn))) for key in SCENES for drawn in [step_picture(key, 1, "A")]
    }
    assert {key for key, (lime, _) in shown.items() if lime} == {"lime", "cover"}
    assert {key for key, (_, wet) in shown.items() if wet} == {"sprinkle"}


def test_in_the_picture_of_the_covered_heap_sand_lies_over_every_lump() -> None:
    drawing = step_picture("cover", 1, "A step.")
    heap = max(
        (part for part in drawing.primitives if isinstance(part, Polygon) and len(part.points) > LUMP), key=_high
    )
    for lump in quicklime(drawing):
        for x, y in lump.points:
            assert y - _top(heap.points, x) > 1.5


def _high(shape: Polygon) -> float:
    return GROUND - min(y for _, y in shape.points)


def _top(points: tuple[Point, ...], x: float) -> float:
    """The surface of a heap at a place."""
    for (x1, y1), (x2, y2) in pairwise(points):
        if x1 <= x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    raise AssertionError(f"{x} lies beside the heap")


def test_every_key_that_a_library_may_name_is_drawn_and_no_other() -> None:
    assert {*SCENES, *MAKING, *JOINTS} == PICTURES


def test_a_picture_that_is_not_drawn_is_an_error() -> None:
    with pytest.raises(KeyError):
        step_picture("no-such-step", 1, "A step.")


@pytest.mark.parametrize(("minutes", "shown"), [("5", 1 / 12), ("20", 1 / 3), ("1440", 1.0)])
def test_the_clock_of_a_step_shows_how_long_it_lasts(minutes: str, shown: float) -> None:
    """A round is an hour, and a whole round a day: the area of the black part tells the share."""
    (hand,) = _more("stand", Decimal(minutes))
    assert _area(hand.points) / _area(_more("stand", Decimal(1440))[0].points) == pytest.approx(shown, abs=0.02)


@pytest.mark.parametrize(("key", "minutes"), [("stand", "90"), ("stand", "10080"), ("bank", "20"), ("wet", "15")])
def test_what_a_clock_cannot_tell_has_none(key: str, minutes: str) -> None:
    assert _more(key, Decimal(minutes)) == []


def _more(key: str, minutes: Decimal) -> list[Polygon]:
    """The first black shape that the time of a step adds to its picture."""
    without = step_picture(key, 1, "A step.").primitives
    told = step_picture(key, 1, "A step.", minutes=minutes).primitives
    return [part for part in told if part not in without and isinstance(part, Polygon) and part.fill == 0.0][:1]


def _area(points: tuple[Point, ...]) -> float:
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True))) / 2


def test_a_sketch_of_a_step_is_as_large_as_its_drawing() -> None:
    sketch = step_sketched("stand", 3, "It stands.", 37.7, Decimal(30))
    assert sketch.drawing == step_picture("stand", 3, "It stands.", 37.7, Decimal(30))
    assert (sketch.width_mm, sketch.height_mm) == (sketch.drawing.width_mm, sketch.drawing.height_mm)
