from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pytest

from generator.drawing.hazards import RED, beside, corrosion, exclamation
from generator.drawing.model import Circle, Drawing, Polygon, bounds

pictograms = pytest.mark.parametrize("pictogram", [partial(corrosion, alt="Burns."), partial(exclamation, alt="Dust.")])
Pictogram = Callable[[float], Drawing]


@pictograms
def test_the_frame_is_a_red_square_on_its_point_with_a_white_ground(pictogram: Pictogram) -> None:
    # UN GHS, annex 1 (from memory): black symbol, white background, red frame, a square set at a point
    frame, *symbol = pictogram(20).primitives
    assert isinstance(frame, Polygon)
    assert (frame.rgb, frame.fill) == (RED, 1.0)
    (top, right, bottom, left) = frame.points
    assert top[0] == bottom[0] == pytest.approx(10)
    assert left[1] == right[1] == pytest.approx(10)
    assert right[0] - left[0] == pytest.approx(bottom[1] - top[1])
    assert {part.fill for part in symbol if isinstance(part, Polygon | Circle)} <= {0.0, 1.0}


@pictograms
def test_the_symbol_keeps_clear_of_the_frame(pictogram: Pictogram) -> None:
    frame, *symbol = pictogram(100).primitives
    assert isinstance(frame, Polygon)
    reach = 45.5 - 2**0.5 * frame.weight_mm / 2
    for part in symbol:
        box = bounds(part)
        points = part.points if isinstance(part, Polygon) else ((box.left, box.top), (box.right, box.bottom))
        assert max(abs(x - 50) + abs(y - 50) for x, y in points) < reach


@pictograms
def test_a_pictogram_grows_as_a_whole(pictogram: Pictogram) -> None:
    small, large = pictogram(20), pictogram(40)
    assert (large.width_mm, large.height_mm) == (40, 40)
    for a, b in zip(small.primitives, large.primitives, strict=True):
        assert bounds(b).right == pytest.approx(2 * bounds(a).right)
    assert large.primitives[0].weight_mm == 2 * small.primitives[0].weight_mm  # type: ignore[union-attr]


@pictograms
def test_a_pictogram_too_small_to_be_made_out_is_refused(pictogram: Pictogram) -> None:
    with pytest.raises(ValueError, match="valid from"):
        pictogram(9.9)


def test_both_sides_of_the_corrosion_symbol_mirror_each_other_above_the_bar_and_the_hand() -> None:
    above = [bounds(part) for part in corrosion(100, "Burns.").primitives[1:] if bounds(part).bottom < 58]
    middles = sorted((box.left + box.right) / 2 - 50 for box in above)
    assert middles == pytest.approx([-middle for middle in reversed(middles)], abs=0.6)


def test_two_pictograms_in_one_picture_keep_their_size_and_stand_apart() -> None:
    burns, irritates = corrosion(10, "Burns."), exclamation(10, "Irritates.")
    both = beside(burns, irritates, "Burns and irritates.")
    assert both.height_mm == 10
    parts = len(burns.primitives)
    left, right = both.primitives[:parts], both.primitives[parts:]
    assert left == burns.primitives
    assert min(bounds(part).left for part in right) > max(bounds(part).right for part in left) + 1
    assert max(bounds(part).right for part in right) <= both.width_mm
