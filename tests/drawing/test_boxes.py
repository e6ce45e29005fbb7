from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest
from drawing.samples import assert_sound, boxes_per_batch, texts
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing.boxes import BOX_MM, count_text
from generator.drawing.model import Drawing, Polyline, Rect


def filled_boxes(drawing: Drawing) -> list[Rect]:
    return [part for part in drawing.primitives if isinstance(part, Rect)]


def test_boxes_are_counted_out_one_by_one() -> None:
    drawing = boxes_per_batch((("Lime", Decimal(1)), ("Sand", Decimal(3))), Decimal(10))
    assert len(filled_boxes(drawing)) == 4
    assert {"Lime", "Sand", "1", "3"} <= set(texts(drawing))


def test_half_a_box_is_a_box_filled_to_half_with_the_rest_dashed() -> None:
    drawing = boxes_per_batch((("Sand", Decimal("2.5")),), Decimal(10))
    heights = [box.height / BOX_MM[1] for box in filled_boxes(drawing)]
    assert heights == pytest.approx([1, 1, 0.5])
    (rest,) = [part for part in drawing.primitives if isinstance(part, Polyline)]
    assert rest.dash
    assert "2½" in texts(drawing)


def test_boxes_stand_ten_to_a_line_in_fives() -> None:
    boxes = filled_boxes(boxes_per_batch((("Sand", Decimal(12)),), Decimal(10)))
    assert len({box.y for box in boxes[:10]}) == 1
    assert boxes[10].y > boxes[9].y
    assert boxes[10].x == boxes[0].x
    steps = [b.x - a.x for a, b in pairwise(boxes[:10])]
    assert steps.index(max(steps)) == 4


@pytest.mark.parametrize(
    ("count", "text"),
    [("1", "1"), ("2.5", "2½"), ("0.5", "½"), ("0.25", "¼"), ("3.75", "3¾"),
     ("10", "10"), ("1.3333", "1.33"), ("0", "0")],
)  # fmt: skip
def test_counts_are_spoken_in_boxes_and_parts(count: str, text: str) -> None:
    assert count_text(Decimal(count)) == text


def test_the_alternative_text_says_what_is_counted() -> None:
    drawing = boxes_per_batch((("Lime", Decimal(1)), ("Sand", Decimal("2.5"))), Decimal("14.0"))
    assert drawing.alt == "Boxes for one batch, each box 14 litres. Lime: 1; Sand: 2½."


@pytest.mark.parametrize("count", ["-1", "100", "nan", "inf"])
def test_counts_out_of_reason_are_refused(count: str) -> None:
    with pytest.raises(ValueError, match="boxes: valid 0 to 99"):
        boxes_per_batch((("Sand", Decimal(count)),), Decimal(10))


def test_no_rows_and_no_box_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one row"):
        boxes_per_batch((), Decimal(10))
    with pytest.raises(ValueError, match="valid above 0"):
        boxes_per_batch((("Sand", Decimal(1)),), Decimal(0))


names = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cn")), min_size=1, max_size=60)
counts = st.decimals(0, 99, places=2)


@given(st.lists(st.tuples(names, counts), min_size=1, max_size=5))
def test_any_batch_is_drawn_soundly(rows: list[tuple[str, Decimal]]) -> None:
    assert_sound(boxes_per_batch(rows, Decimal(10)))
