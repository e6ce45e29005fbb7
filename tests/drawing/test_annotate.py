from __future__ import annotations

import pytest
from drawing.chart_reading import copied_small

from generator.drawing.annotate import (
    SCALES,
    Scale,
    arc,
    dimension_across,
    dimension_upright,
    leader,
    length_told,
    lettering,
    ringed,
    scale_for,
)
from generator.drawing.model import Circle, Drawing, Label, Line, Primitives, bounds


def label_of(primitives: Primitives) -> Label:
    (label,) = [primitive for primitive in primitives if isinstance(primitive, Label)]
    return label


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (25, "25 mm"),
        (25.0, "25 mm"),
        (8.5, "8.5 mm"),
        (22.25, "22.3 mm"),
        (0.5, "0.5 mm"),
        (1200, "1,200 mm"),
    ],
)
def test_a_length_is_stated_to_a_tenth(length: float, text: str) -> None:
    assert length_told(length) == text


def test_a_dimension_states_its_length_above_the_middle_of_its_line() -> None:
    label = label_of(dimension_across(10, 60, 30, 25, 20))
    assert (label.text, label.x, label.anchor) == ("25 mm", 35, "middle")
    assert label.y < 30


def test_a_dimension_too_short_for_its_text_states_it_beside() -> None:
    label = label_of(dimension_across(10, 13, 30, 3, 20))
    assert (label.text, label.anchor) == ("3 mm", "start")
    assert label.x > 13


def test_an_upright_dimension_states_its_length_on_the_left() -> None:
    label = label_of(dimension_upright(10, 30, 20, 10, 25))
    assert label.anchor == "end"
    assert bounds(label).right < 20


def test_a_dimension_runs_from_end_to_end_with_a_tick_at_each() -> None:
    lines = [part for part in dimension_across(10, 60, 30, 25, 20) if isinstance(part, Line)]
    assert any((line.x1, line.y1, line.x2, line.y2) == (10, 30, 60, 30) for line in lines)
    oblique = [line for line in lines if line.x1 != line.x2 and line.y1 != line.y2]
    assert [((line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2) for line in oblique] == [(10, 30), (60, 30)]


def test_the_lines_from_what_is_measured_or_named_stay_whole_in_a_copy_of_a_hundred_dots() -> None:
    lost = []
    for place in range(25):
        x = 5 + place * 3.03
        across = dimension_across(x, 100, 30 + place / 40, 50, 10)
        names = leader((x, 40), (x + 30, 45))
        copy, scale = copied_small(Drawing(120, 60, "Lines.", (*across, *names)))
        for down in range(round(12 * scale), round(28 * scale)):
            near = [copy.getpixel((round(x * scale) + beside, down)) for beside in (-1, 0, 1)]
            lost += [(x, down)] if 0 not in near else []
        for right in range(round((x + 1) * scale), round((x + 29) * scale)):
            y = round((40 + (right / scale - x) / 6) * scale)
            near = [copy.getpixel((right, y + beside)) for beside in (-1, 0, 1)]
            lost += [(right, y)] if 0 not in near else []
    assert lost == []


def test_the_largest_scale_that_fits_is_taken() -> None:
    assert str(scale_for(25, 10, (64, 40))) == "2\u00a0:\u00a01"
    assert str(scale_for(32.1, 10, (64, 40))) == "1\u00a0:\u00a01"
    assert str(scale_for(20, 41, (64, 40))) == "1\u00a0:\u00a02"
    assert str(scale_for(25, 10, (64, 40), largest=Scale(1, 1))) == "1\u00a0:\u00a01"
    assert str(scale_for(1000, 10, (64, 40))) == "1\u00a0:\u00a020"
    assert str(scale_for(2000, 10, (64, 40))) == "1\u00a0:\u00a050"
    assert str(scale_for(3200, 10, (64, 40))) == "1\u00a0:\u00a050"


def test_what_fits_no_scale_is_refused() -> None:
    with pytest.raises(ValueError, match="fits no scale down to 1\u00a0:\u00a050"):
        scale_for(3201, 10, (64, 40))


def test_scales_come_largest_first() -> None:
    factors = [scale.factor for scale in SCALES]
    assert factors == sorted(factors, reverse=True)


@pytest.mark.parametrize("number", [1, 10, 123])
def test_a_number_stands_in_the_middle_of_its_ring(number: int) -> None:
    ring, label = ringed(number, 20, 30)
    assert isinstance(ring, Circle)
    assert isinstance(label, Label)
    box = bounds(label)
    assert (box.left + box.right) / 2 == pytest.approx(20)
    assert box.right - box.left < 2 * ring.radius


def test_lines_of_lettering_do_not_touch() -> None:
    first, second = map(bounds, lettering(("Ággy", "Ággy"), 0, 10))
    assert second.top >= first.bottom


def test_an_arc_begins_and_ends_where_it_says() -> None:
    points = arc((10, 10), 2, 0, 90)
    assert points[0] == pytest.approx((12, 10))
    assert points[-1] == pytest.approx((10, 12))
