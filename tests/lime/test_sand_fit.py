"""Sands against the greatest grain: which fails, by what, and what mends it."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import sand_fit
from generator.lime.sand import Grading
from generator.lime.sand_fit import OfferedSand, grain_held, greatest_grain_of

GRIT = OfferedSand("grit", 6.0, Grading.of({6.0: 100, 4.0: 80, 2.0: 40, 1.0: 15}))
SHARP = OfferedSand("sharp", 4.0, Grading.of({4.0: 100, 2.0: 85, 1.0: 60, 0.5: 30}))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(sand_fit)
    assert failed == 0
    assert attempted >= 3


def test_a_sand_of_four_millimetres_does_not_pass_where_two_are_the_most() -> None:
    """A sand of 0-4 mm was asked for beside a clause of no grain larger than 2 mm."""
    held = grain_held(OfferedSand("pit sand", 4.0), 2.0)
    assert (held.verdict, held.over_mm, held.over_per_cent, held.remedy) == ("too-coarse", 2.0, None, "sieve")


@pytest.mark.parametrize(
    ("sand", "allowed", "verdict", "over_mm", "over_per_cent", "remedy"),
    [
        (SHARP, 4.0, "fits", 0.0, 0.0, "none"),
        (SHARP, 6.0, "fits", 0.0, 0.0, "none"),
        (SHARP, 2.0, "too-coarse", 2.0, 15.0, "sieve"),
        (SHARP, 0.5, "too-coarse", 3.5, 70.0, "other-source"),
        (GRIT, 2.0, "too-coarse", 4.0, 60.0, "other-source"),
        (OfferedSand("bagged", 3.0), 3.0, "fits", 0.0, None, "none"),
        (OfferedSand("gravel", 6.0), 2.0, "too-coarse", 4.0, None, "other-source"),
        (OfferedSand("unseen"), 2.0, "not-known", None, None, "ask"),
    ],
)
def test_a_sand_is_held_against_the_greatest_grain(
    sand: OfferedSand, allowed: float, verdict: str, over_mm: float | None, over_per_cent: float | None, remedy: str
) -> None:
    held = grain_held(sand, allowed)
    assert (held.verdict, held.over_mm, held.over_per_cent, held.remedy) == (verdict, over_mm, over_per_cent, remedy)


def test_a_grading_is_believed_before_the_grain_that_is_stated() -> None:
    held = grain_held(OfferedSand("sold as 0-2", 2.0, SHARP.grading), 2.0)
    assert (held.verdict, held.greatest_mm, held.over_per_cent) == ("too-coarse", 4.0, 15.0)


def test_a_sand_to_be_sieved_is_ordered_so_much_the_more() -> None:
    assert grain_held(SHARP, 2.0).order_factor == pytest.approx(100 / 85)
    assert grain_held(GRIT, 2.0).order_factor == 1.0
    assert grain_held(SHARP, 4.0).order_factor == 1.0


def test_a_sand_kept_on_its_widest_sieve_has_no_greatest_grain() -> None:
    assert greatest_grain_of(Grading.of({2.0: 95, 1.0: 60})) is None
    assert grain_held(OfferedSand("open", None, Grading.of({2.0: 95, 1.0: 60})), 3.0).verdict == "not-known"


@given(st.floats(0.3, 8.0))
def test_a_sand_never_fits_while_some_of_it_is_kept(allowed: float) -> None:
    held = grain_held(SHARP, allowed)
    assert (held.verdict == "fits") == (allowed >= 4.0)
