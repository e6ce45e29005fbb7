from __future__ import annotations

import pytest
from drawing.samples import COAT_WORDS, THREE_COATS, assert_sound, coats_section, texts
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing.model import Circle, Drawing, Polygon, Polyline, bounds
from generator.values import replace

ON_WALL = (("Scratch coat", 12, True), ("Float coat", 10, False), ("Finish", 3, False))


def bodies(drawing: Drawing) -> list[Polygon]:
    """The coats as drawn, from the background outward: shapes without an edge from the wall on."""
    shapes = [part for part in drawing.primitives if isinstance(part, Polygon) and part.weight_mm == 0]
    return [shape for shape in shapes if bounds(shape).left >= 24 and len(shape.points) == 4]


def test_each_coat_is_as_thick_as_the_scale_says() -> None:
    drawing = coats_section("masonry", ON_WALL)
    assert "scale 1\u00a0:\u00a01" in drawing.alt
    widths = [bounds(body).right - bounds(body).left for body in bodies(drawing)]
    assert widths == pytest.approx([12, 10, 3])


def test_coats_lie_on_one_another_from_the_background_outward() -> None:
    boxes = [bounds(body) for body in bodies(coats_section("masonry", ON_WALL))]
    assert [box.left for box in boxes[1:]] == pytest.approx([box.right for box in boxes[:-1]])


def test_each_coat_is_named_with_its_thickness_and_hair_and_the_total_dimensioned() -> None:
    written = texts(coats_section("masonry", ON_WALL))
    assert {"Scratch coat, haired, 12 mm", "Float coat, 10 mm", "Finish, 3 mm", "25 mm"} <= set(written)
    assert [text for text in written if text.isdigit()] == ["1", "2", "3"] * 2  # over the section, and by the names


def test_hair_is_drawn_in_haired_coats_alone() -> None:
    def hairs(coats: tuple[tuple[str, float, bool], ...]) -> int:
        drawing = coats_section("masonry", coats)
        return sum(isinstance(part, Polyline) and len(part.points) == 3 for part in drawing.primitives)

    assert hairs((("Coat", 10, False),)) == 0
    assert hairs((("Coat", 10, True),)) > 20


def test_on_laths_nibs_hang_behind_through_every_gap() -> None:
    drawing = coats_section("laths", THREE_COATS)
    laths = [part for part in drawing.primitives if isinstance(part, Polygon) and part.hatch == "diagonal"]
    nibs = [
        part
        for part in drawing.primitives
        if isinstance(part, Polygon) and part.hatch == "dots" and len(part.points) > 4
    ]
    assert len(nibs) == len(laths) - 1 == 2
    back = min(bounds(lath).left for lath in laths)
    for nib, above, below in zip(nibs, laths, laths[1:], strict=False):
        box = bounds(nib)
        assert box.left < back < box.right == 24
        # wider behind than the gap: that is what holds
        assert box.bottom - box.top > bounds(below).top - bounds(above).bottom
    assert {"Lath", "Nib"} <= set(texts(drawing))


def test_laths_are_never_drawn_over_full_size() -> None:
    assert "scale 1\u00a0:\u00a01" in coats_section("laths", THREE_COATS[:1]).alt
    assert "scale 2\u00a0:\u00a01" in coats_section("masonry", THREE_COATS[:1]).alt


def test_each_number_is_led_to_its_own_coat() -> None:
    drawing = coats_section("masonry", ON_WALL)
    dots = [part.x for part in drawing.primitives if isinstance(part, Circle) and part.radius == 0.35][1:]
    for dot, body in zip(dots, bodies(drawing), strict=True):
        assert bounds(body).left < dot < bounds(body).right


def test_a_name_with_line_ends_is_put_on_lines_of_its_own() -> None:
    drawing = coats_section("masonry", (("Scratch\n coat", 12, False),))
    assert "Scratch coat, 12 mm" in texts(drawing)


def test_words_are_taken_from_the_caller() -> None:
    words = replace(COAT_WORDS, masonry="Rubble", note="1 = {scale}")
    drawing = coats_section("masonry", ON_WALL, words=words)
    assert {"Rubble", "1 = 1\u00a0:\u00a01"} <= set(texts(drawing))
    assert "coats on rubble" in drawing.alt


@pytest.mark.parametrize(
    ("background", "coats", "why"),
    [("straw", ON_WALL, "valid masonry, laths"), ("laths", (), "one or more"),
     ("masonry", (("Coat", 0, False),), "thicker than 0"), ("masonry", (("Coat", 9000, False),), "no scale")],
)  # fmt: skip
def test_impossible_coats_are_refused(background: str, coats: tuple[tuple[str, float, bool], ...], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        coats_section(background, coats)  # type: ignore[arg-type]


names = st.text(st.characters(exclude_categories=("Cc", "Cs", "Cn")), min_size=1, max_size=60)


@given(
    st.sampled_from(["masonry", "laths"]),
    st.lists(st.tuples(names, st.floats(1, 120), st.booleans()), min_size=1, max_size=7),
)
def test_any_coats_are_drawn_soundly(background: str, coats: list[tuple[str, float, bool]]) -> None:
    assert_sound(coats_section(background, coats))  # type: ignore[arg-type]


def test_coats_overhead_say_which_way_is_up_and_those_of_a_wall_do_not() -> None:
    overhead = coats_section("laths", THREE_COATS, is_overhead=True)
    assert COAT_WORDS.overhead in texts(overhead)
    assert overhead.alt.endswith(COAT_WORDS.overhead)
    assert COAT_WORDS.overhead not in texts(coats_section("laths", THREE_COATS))
