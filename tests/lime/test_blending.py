"""Blending sands in whole boxes towards the grading of an old mortar."""

from __future__ import annotations

import doctest
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import blending
from generator.lime.blending import Blend, SandOnOffer, choose_blend
from generator.lime.sand import Grading

NEST = (0.125, 0.25, 0.5, 1.0, 2.0, 4.0)


def grading(*passing: float) -> Grading:
    return Grading(tuple(zip(NEST, passing, strict=True)))


GRIT = SandOnOffer("grit", grading(1, 4, 15, 40, 75, 100))
PIT = SandOnOffer("pit", grading(4, 20, 55, 85, 97, 100))
SOFT = SandOnOffer("soft", grading(12, 55, 92, 99, 100, 100))


def mixed(sands: list[SandOnOffer], boxes: tuple[int, ...]) -> Grading:
    """The grading that so many boxes of each truly make."""

    def passing(sieve_mm: float) -> float:
        pairs = zip(boxes, sands, strict=True)
        return sum(count * sand.grading.passing_per_cent_at(sieve_mm) for count, sand in pairs) / sum(boxes)

    return Grading(tuple((sieve_mm, passing(sieve_mm)) for sieve_mm in NEST))


def miss(blend: Blend) -> float:
    """The sum of squares of what a blend is off by on each sieve."""
    return math.fsum(residual.residual_per_cent**2 for residual in blend.residuals)


figures = st.lists(st.floats(0.0, 100.0), min_size=6, max_size=6)
gradings = figures.map(lambda passing: grading(*sorted(passing)))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(blending)
    assert failed == 0
    assert attempted >= 5


@pytest.mark.parametrize("boxes", [(1, 0, 0), (2, 1, 0), (3, 2, 1), (1, 1, 4), (0, 5, 1)])
def test_a_blend_that_is_the_target_is_found(boxes: tuple[int, ...]) -> None:
    best = choose_blend([GRIT, PIT, SOFT], mixed([GRIT, PIT, SOFT], boxes), boxes_at_most=6)
    assert best.boxes == boxes
    assert best.largest_residual.residual_per_cent == pytest.approx(0.0, abs=1e-9)


@given(gradings, st.integers(1, 6))
def test_boxes_keep_to_the_limit(target: Grading, boxes_at_most: int) -> None:
    best = choose_blend([GRIT, PIT, SOFT], target, boxes_at_most=boxes_at_most)
    assert 1 <= sum(best.boxes) <= boxes_at_most


@given(gradings)
def test_no_other_sharing_of_the_boxes_fits_better(target: Grading) -> None:
    best = choose_blend([GRIT, PIT, SOFT], target, boxes_at_most=4)
    for grit in range(5):
        for pit in range(5 - grit):
            for soft in range(5 - grit - pit):
                if grit + pit + soft:
                    other = mixed([GRIT, PIT, SOFT], (grit, pit, soft))
                    misses = [other.passing_per_cent_at(s) - target.passing_per_cent_at(s) for s in NEST]
                    assert miss(best) <= math.fsum(m * m for m in misses) + 1e-6


@given(gradings, st.integers(1, 5))
def test_more_boxes_never_fit_worse(target: Grading, boxes: int) -> None:
    few = choose_blend([GRIT, PIT, SOFT], target, boxes_at_most=boxes)
    more = choose_blend([GRIT, PIT, SOFT], target, boxes_at_most=boxes + 1)
    assert miss(more) <= miss(few) + 1e-9


def test_residuals_are_blend_less_target_and_the_largest_keeps_its_sign() -> None:
    target = grading(1, 4, 15, 40, 75, 100)
    best = choose_blend([PIT], target, boxes_at_most=3)
    assert best.boxes == (1,)
    assert [r.residual_per_cent for r in best.residuals] == [3, 16, 40, 45, 22, 0]
    assert best.largest_residual.residual_per_cent == 45
    coarse = choose_blend([GRIT], PIT.grading, boxes_at_most=1)
    assert coarse.largest_residual.residual_per_cent == -45


def test_a_tie_goes_to_fewer_sands_and_then_to_the_first_on_offer() -> None:
    twin = SandOnOffer("twin", PIT.grading)
    assert choose_blend([twin, PIT], PIT.grading, boxes_at_most=6).boxes == (1, 0)
    assert choose_blend([PIT, twin], PIT.grading, boxes_at_most=6).names == ("pit", "twin")


def test_a_heavier_box_counts_for_more_of_the_blend() -> None:
    heavy = SandOnOffer("heavy grit", GRIT.grading, dry_kg_per_l=2.0)
    best = choose_blend([heavy, PIT], mixed([GRIT, PIT], (2, 1)), boxes_at_most=4)
    assert best.boxes == (1, 1)
    assert best.largest_residual.residual_per_cent == pytest.approx(0.0, abs=1e-9)


def test_three_shared_sieves_and_twenty_boxes_are_enough() -> None:
    short = SandOnOffer("short report", Grading.of({2.0: 97, 1.0: 85, 0.5: 55, 4.0: 99.0}))
    target = Grading.of({8.0: 100, 2.0: 97, 1.0: 85, 0.5: 55})
    best = choose_blend([short], target, boxes_at_most=20)
    assert miss(best) == 0.0
    assert best.sieves_left_out_mm == (8.0,)


def test_sieves_that_some_sand_was_not_tested_on_are_left_out_and_named() -> None:
    coarse_nest = SandOnOffer("short report", Grading.of({4.0: 100, 2.0: 90, 1.0: 70, 0.5: 40, 0.25: 12}))
    best = choose_blend([coarse_nest, PIT], PIT.grading, boxes_at_most=4)
    assert best.sieves_left_out_mm == (0.125,)
    assert [r.sieve_mm for r in best.residuals] == [0.25, 0.5, 1.0, 2.0, 4.0]


@pytest.mark.parametrize(
    ("sands", "boxes", "message"),
    [
        ([], 6, "one at least"),
        ([PIT, PIT], 6, "each name once"),
        ([PIT], 0, "boxes_at_most is 0: valid from 1 to 20"),
        ([PIT], 21, "boxes_at_most is 21"),
        ([SandOnOffer(str(n), PIT.grading) for n in range(9)], 12, "293930 ways .* valid up to 50000"),
        ([SandOnOffer("two sieves", Grading.of({2.0: 90, 1.0: 50}))], 6, "2 sieves are shared"),
    ],
)
def test_offers_that_cannot_be_judged_are_refused(sands: list[SandOnOffer], boxes: int, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        choose_blend(sands, PIT.grading, boxes_at_most=boxes)
