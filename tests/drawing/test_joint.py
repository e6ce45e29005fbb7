from __future__ import annotations

from itertools import pairwise

import pytest
from drawing.samples import JOINT_WORDS, assert_sound, joint_section, texts
from hypothesis import given
from hypothesis import strategies as st

from generator.drawing.annotate import length_told
from generator.drawing.hatch import hatch_marks
from generator.drawing.model import Drawing, Label, Line, Polygon, Polyline, bounds
from generator.values import replace


def mortar(drawing: Drawing) -> Polygon:
    (shape,) = [part for part in drawing.primitives if isinstance(part, Polygon) and part.hatch == "dots"]
    return shape


def units(drawing: Drawing) -> list[Polygon]:
    return [part for part in drawing.primitives if isinstance(part, Polygon) and part.hatch == "diagonal"]


@pytest.mark.parametrize(
    ("width", "depth", "scale", "factor"),
    [
        (6, 12, "2\u00a0:\u00a01", 2),
        (10, 25, "1\u00a0:\u00a01", 1),
        (25, 50, "1\u00a0:\u00a02", 0.5),
        (60, 120, "1\u00a0:\u00a05", 0.2),
        (60, 280, "1\u00a0:\u00a010", 0.1),
    ],
)
def test_width_and_depth_are_drawn_to_the_scale_stated(width: float, depth: float, scale: str, factor: float) -> None:
    drawing = joint_section(width, depth, (depth,), "flush")
    box = bounds(mortar(drawing))
    assert box.right - box.left == pytest.approx(depth * factor)
    assert box.bottom - box.top == pytest.approx(width * factor)
    assert any(text.endswith(f"Scale {scale}.") for text in texts(drawing))
    assert f"scale {scale}." in drawing.alt


def test_a_section_through_a_usual_joint_stands_full_size_in_the_narrow_column_of_a_sheet() -> None:
    for width in (6, 8, 10, 12, 15):
        drawing = joint_section(width, 25, (12.5, 12.5), "flush")
        assert drawing.width_mm <= 54
        assert drawing.height_mm < 57
        assert drawing.alt.startswith("Section, scale 1\u00a0:\u00a01.")


def test_dimensions_state_the_given_width_and_depth() -> None:
    written = texts(joint_section(9.5, 25, (12.5, 12.5), "flush"))
    assert written.count("9.5 mm") == 1
    assert written.count("25 mm") == 1


def test_layers_are_numbered_from_the_back_to_the_face() -> None:
    drawing = joint_section(10, 30, (10, 10, 10), "flush")
    numbers = {
        item.text: item.x for item in drawing.primitives if isinstance(item, Label) and item.text in ("1", "2", "3")
    }
    assert numbers["1"] > numbers["2"] > numbers["3"]


def test_layers_are_parted_where_they_meet() -> None:
    drawing = joint_section(10, 24, (12, 8, 4), "flush")
    box = bounds(mortar(drawing))
    parts = [
        part.x1
        for part in drawing.primitives
        if isinstance(part, Line) and (part.y1, part.y2) == (box.top, box.bottom) and part.x1 >= box.left
    ]
    assert sorted(box.right - x for x in parts) == pytest.approx([0, 12, 20, 24])


def test_of_many_thin_layers_the_first_and_last_keep_their_numbers() -> None:
    written = texts(joint_section(30, 600, (12,) * 50, "flush"))
    assert {"1", "50"} <= set(written)
    assert len([text for text in written if text.isdigit()]) < 25


def test_a_flush_joint_is_full_to_the_face_and_a_recessed_one_kept_behind_worn_arrises() -> None:
    flush, recessed = (joint_section(10, 25, (25,), profile) for profile in ("flush", "slightly-recessed"))
    face = bounds(units(flush)[0]).left
    assert bounds(mortar(flush)).left == face
    # 2 to 3 mm behind the edges (common practice), at full size
    assert 2 <= bounds(mortar(recessed)).left - face <= 3
    # the lower one has the four corners of the break line besides
    assert [len(unit.points) for unit in units(flush)] == [4, 8]
    assert all(found > plain + 4 for found, plain in zip((len(u.points) for u in units(recessed)), (4, 8), strict=True))


def test_no_hatch_runs_past_the_break_line() -> None:
    drawing = joint_section(10, 25, (25,), "flush")
    (line,) = [part.points for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) == 6]
    marks = [mark for unit in units(drawing) for mark in hatch_marks(unit) if isinstance(mark, Line)]
    for mark in marks:
        for x, y in ((mark.x1, mark.y1), (mark.x2, mark.y2)):
            (above, below) = next((a, b) for a, b in pairwise(line) if a[1] <= y <= b[1])
            assert x <= above[0] + (below[0] - above[0]) * (y - above[1]) / (below[1] - above[1]) + 0.001


@pytest.mark.parametrize("profile", ["as-found", "not known", "weathered"])
def test_a_profile_that_is_not_known_is_dashed_and_left_to_the_panel(profile: str) -> None:
    drawing = joint_section(10, 25, (25,), profile)
    assert any(isinstance(part, Line) and part.dash for part in drawing.primitives)
    assert "as the old" in drawing.alt
    assert not [part for part in joint_section(10, 25, (25,), "flush").primitives if getattr(part, "dash", ())]


def test_profiles_may_be_spelt_with_spaces() -> None:
    assert joint_section(10, 25, (25,), "Brushed flush") == joint_section(10, 25, (25,), "brushed-flush")


def test_one_layer_is_said_in_the_singular() -> None:
    assert "in one layer." in joint_section(10, 12, (12,), "flush").alt
    assert "in 2 layers" in joint_section(10, 24, (12, 12), "flush").alt


def test_words_are_taken_from_the_caller_as_they_are() -> None:
    words = replace(JOINT_WORDS, old="{7*7} <b>&", finish="{profile} {scale}")
    written = texts(joint_section(10, 25, (25,), "flush", words=words))
    assert {"{7*7} <b>&", "flush 1\u00a0:\u00a01"} <= set(written)


@pytest.mark.parametrize(
    ("width", "depth", "layers", "why"),
    [(0, 25, (25,), "valid above 0"), (10, -1, (25,), "valid above 0"), (10, 25, (), "valid above 0"),
     (10, 25, (25, 0), "valid above 0"), (10, float("nan"), (25,), "valid above 0"),
     (10, 25, (10, 10), "do not fill"), (10, 25, (20, 20), "do not fill"), (10, 9000, (9000,), "no scale")],
)  # fmt: skip
def test_impossible_joints_are_refused(width: float, depth: float, layers: tuple[float, ...], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        joint_section(width, depth, layers, "flush")


@given(
    st.floats(0.5, 150),
    st.floats(5, 1000),
    st.integers(1, 60),
    st.sampled_from(["flush", "slightly-recessed", "as-found"]),
)
def test_any_joint_is_drawn_soundly(width: float, depth: float, count: int, profile: str) -> None:
    drawing = joint_section(width, depth, (depth / count,) * count, profile)
    assert_sound(drawing)
    assert {length_told(width), length_told(depth)} <= set(texts(drawing))
    assert any(isinstance(part, Polyline) for part in drawing.primitives)
