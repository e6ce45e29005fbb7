"""Curves of gradings: where a sieve and its passing stand, how curves are told apart, what those who hear are told."""

from __future__ import annotations

import pytest
from drawing.samples import assert_sound, texts

from generator.drawing.grading import GradingWords, Passing, grading_curves
from generator.drawing.model import Circle, Drawing, Label, Polyline, bounds

WORDS = GradingWords(
    "sieve in mm", "passing, per cent", "Curves. {curves}. For comparison: {envelope}.", "{name}: {passing}"
)
OLD: Passing = ((0.125, 3.0), (0.5, 28.0), (2.0, 68.0), (8.0, 100.0))
PIT: Passing = ((0.125, 4.0), (0.5, 42.0), (2.0, 90.0))
LIMITS = ((0.15, 0.0, 15.0), (5.0, 100.0, 100.0))
LONG = "least and most of a general building sand that has a long name in a long standard"


def drawn(*curves: tuple[str, Passing], envelope: str = "sand of a standard") -> Drawing:
    return grading_curves(curves, (envelope, LIMITS), WORDS)


def lines_of(drawing: Drawing) -> list[Polyline]:
    return [part for part in drawing.primitives if isinstance(part, Polyline) and len(part.points) > 2]


def test_equal_ratios_of_sieves_are_equal_steps_and_more_passing_is_higher() -> None:
    (old,) = lines_of(drawn(("old sand", OLD)))
    across, down = zip(*old.points, strict=True)
    assert across[1] - across[0] == pytest.approx(across[2] - across[1], abs=0.02)
    assert list(down) == sorted(down, reverse=True)


def test_curves_are_told_apart_without_colour_and_the_first_is_the_heaviest() -> None:
    drawing = drawn(("old sand", OLD), ("the blend", PIT), ("pit sand", PIT))
    curves = lines_of(drawing)
    assert len({line.dash for line in curves}) == 3
    assert curves[0].weight_mm > max(line.weight_mm for line in curves[1:])
    assert {"old sand", "the blend", "pit sand", "sieve in mm"} <= set(texts(drawing))


def test_the_figures_of_the_upright_scale_stand_off_it_and_off_the_marks_on_it() -> None:
    drawing = drawn(("old sand", OLD))
    marks = [bounds(part) for part in drawing.primitives if isinstance(part, Circle)]
    scale = [part for part in drawing.primitives if isinstance(part, Label) and part.anchor == "end"]
    assert len(scale) > 4
    assert max(bounds(label).right for label in scale) < min(mark.left for mark in marks) - 0.5


def test_it_is_sound_with_names_that_take_several_lines() -> None:
    assert_sound(drawn(("old sand", OLD), envelope=LONG))


def test_who_hears_it_hears_each_sieve_of_each_sand() -> None:
    told = drawn(("old sand", OLD)).alt
    assert told == "Curves. old sand: 0.125 mm 3, 0.5 mm 28, 2 mm 68, 8 mm 100. For comparison: sand of a standard."


@pytest.mark.parametrize("curves", [(), (("one", ((1.0, 50.0),)),), tuple((str(at), OLD) for at in range(6))])
def test_none_too_many_and_a_single_sieve_are_refused(curves: tuple[tuple[str, Passing], ...]) -> None:
    with pytest.raises(ValueError, match="gradings: valid"):
        drawn(*curves)
