from __future__ import annotations

import pytest

from generator.drawing.model import (
    Circle,
    Drawing,
    Label,
    Line,
    Polygon,
    Polyline,
    Rect,
    bounds,
    filled,
    grey,
    moved,
    one_line,
)


@pytest.mark.parametrize("alt", ["", " ", "\u00a0"])
def test_a_drawing_without_alternative_text_is_refused(alt: str) -> None:
    with pytest.raises(ValueError, match="alternative text"):
        Drawing(10, 10, alt)


@pytest.mark.parametrize("size", [(0, 10), (10, -1), (float("nan"), 10)])
def test_a_drawing_without_size_is_refused(size: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="valid above 0"):
        Drawing(*size, "A wall.")


@pytest.mark.parametrize("bad", ["\x00", "\x1b", "\n", "\t", "\x7f", "\x85", "\ud800", "\ufffe", "\U0001ffff"])
def test_characters_that_cannot_be_drawn_are_refused_by_their_number(bad: str) -> None:
    with pytest.raises(ValueError, match=f"U\\+{ord(bad):04X}"):
        Label(0, 0, f"a{bad}b")
    with pytest.raises(ValueError, match=f"U\\+{ord(bad):04X}"):
        Drawing(10, 10, f"A wall{bad}.")


@pytest.mark.parametrize("good", ["<b>&\"'", "½ m² 🙂", "Łódź", "漢字", "{x}"])
def test_any_text_that_prints_is_taken_as_it_is(good: str) -> None:
    assert Label(0, 0, good).text == good


def test_bounds_hold_every_primitive() -> None:
    def edges(primitive: object) -> tuple[float, ...]:
        box = bounds(primitive)  # type: ignore[arg-type]
        return box.left, box.top, box.right, box.bottom

    assert edges(Line(5, 2, 1, 3)) == (1, 2, 5, 3)
    assert edges(Rect(1, 2, 3, 4)) == (1, 2, 4, 6)
    assert edges(Circle(5, 5, 2)) == (3, 3, 7, 7)
    assert edges(Polygon(((0, 1), (4, 0), (2, 5)))) == (0, 0, 4, 5)
    assert edges(Polyline(((3, 1), (1, 2)))) == (1, 1, 3, 2)


@pytest.mark.parametrize(("anchor", "share"), [("start", 0), ("middle", 0.5), ("end", 1)])
def test_a_label_stands_by_its_anchor(anchor: str, share: float) -> None:
    label = Label(50, 20, "25 mm", anchor=anchor)  # type: ignore[arg-type]
    box = bounds(label)
    assert 50 - box.left == pytest.approx(share * label.width_mm)
    assert box.right - box.left == pytest.approx(label.width_mm)
    assert box.top < 20 < box.bottom


def test_the_width_of_a_label_is_that_of_the_face() -> None:
    # figures are 0.556 em, a space 0.278: Helvetica's core metrics, which Arial shares (from memory)
    assert Label(0, 0, "25 25", 10).width_mm == pytest.approx((4 * 0.556 + 0.278) * 10 / 72 * 25.4, rel=1e-3)


def test_white_space_becomes_single_spaces() -> None:
    assert one_line(" North\n wall\t\u00a0 east ") == "North wall east"


def test_only_named_braces_are_filled() -> None:
    assert filled("{a} {b} {0} {a.__class__} {{a}}", a="1") == "1 {b} {0} {a.__class__} {1}"


def test_a_part_is_drawn_at_its_share_of_the_size_and_set_off() -> None:
    assert moved(Line(1, 2, 3, 4, 0.5), 10, 20, 2) == Line(12, 24, 16, 28, 1.0)
    assert moved(Circle(1, 2, 3, 0.5, 0.0), 10, share=2) == Circle(12, 4, 6, 1.0, 0.0)
    assert moved(Polyline(((0, 1), (2, 3))), down=5) == Polyline(((0, 6), (2, 8)))
    with pytest.raises(TypeError, match="Label"):
        moved(Label(0, 0, "a"))


def test_greys_run_from_black_to_white() -> None:
    assert [grey(level) for level in (0.0, 0.5, 1.0)] == ["#000000", "#808080", "#ffffff"]
