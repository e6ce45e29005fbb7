from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from drawing.samples import HOT_MIX_WORDS, assert_sound, hot_mix_order, texts

from generator.drawing.model import Polygon, Rect, bounds


def test_there_are_five_numbered_pictures_side_by_side() -> None:
    drawing = hot_mix_order()
    frames = [bounds(part) for part in drawing.primitives if isinstance(part, Rect)]
    assert len(frames) == 5
    assert all(a.right < b.left for a, b in pairwise(frames))
    assert [text for text in texts(drawing) if text.isdigit()] == ["1", "2", "3", "4", "5"]


def test_each_picture_stays_in_its_frame() -> None:
    drawing = hot_mix_order()
    frames = [bounds(part) for part in drawing.primitives if isinstance(part, Rect)]
    shapes = [bounds(part) for part in drawing.primitives if isinstance(part, Polygon)]
    assert all(
        any(
            frame.left < box.left and box.right < frame.right and frame.top < box.top and box.bottom < frame.bottom
            for frame in frames
        )
        for box in shapes
    )


def test_the_quicklime_goes_in_before_the_water() -> None:
    # quicklime in damp sand, then water; a putty tank is filled the other way round (common practice)
    alt = hot_mix_order().alt
    order = [alt.index(word) for word in ("Ring", "Quicklime", "Water", "Covered", "screened")]
    assert order == sorted(order)


def test_the_caution_is_on_the_drawing_and_in_its_alternative_text() -> None:
    drawing = hot_mix_order()
    assert any("goggles" in text for text in texts(drawing))
    assert "goggles" in drawing.alt


def test_long_captions_of_the_caller_are_wrapped() -> None:
    words = replace(HOT_MIX_WORDS, steps=("sand and more sand " * 8,) * 5, caution="Care. " * 60)
    assert_sound(hot_mix_order(words=words))
