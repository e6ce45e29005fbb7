"""Sand: bulking, ratios, voids, gradings, fineness, greatest grain and envelopes."""

from __future__ import annotations

import doctest
import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import sand
from generator.lime.sand import Envelope, Grading

RECOVERED = Grading.of({4.0: 100.0, 2.0: 88.0, 1.0: 70.0, 0.5: 45.0, 0.25: 15.0, 0.125: 5.0})


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(sand)
    assert failed == 0
    assert attempted >= 12


@given(st.floats(0.0, 5000.0), st.floats(0.0, 0.5))
def test_damp_to_dry_and_back_is_the_same_volume(volume_l: float, bulking: float) -> None:
    assert sand.damp_l(sand.loose_dry_l(volume_l, bulking), bulking) == pytest.approx(volume_l)


@given(st.floats(0.5, 6.0), st.floats(0.5, 20.0), st.floats(0.0, 0.5))
def test_a_true_ratio_turned_into_damp_boxes_comes_back(binder: float, parts: float, bulking: float) -> None:
    boxes = sand.damp_l(binder * parts, bulking)
    assert sand.true_sand_parts(binder, boxes, bulking) == pytest.approx(parts)


@given(st.floats(0.0, 0.4), st.floats(0.001, 0.1))
def test_the_more_sand_bulks_the_richer_the_gauge_truly_is(bulking: float, more: float) -> None:
    assert sand.true_sand_parts(1.0, 3.0, bulking + more) < sand.true_sand_parts(1.0, 3.0, bulking)


@pytest.mark.parametrize(("damp", "flooded"), [(95.0, 100.0), (160.0, 100.0), (100.0, 0.0)])
def test_a_jar_test_that_cannot_be_is_refused(damp: float, flooded: float) -> None:
    with pytest.raises(ValueError, match="valid"):
        sand.bulking_share(damp, flooded)


def test_sand_that_does_not_bulk_reads_nothing() -> None:
    assert sand.bulking_share(100.0, 100.0) == 0.0


def test_weight_and_water_tell_the_same_voids() -> None:
    assert sand.void_share(1.59, 2.65) == pytest.approx(sand.void_share_by_water(0.8, 2.0))


def test_a_particle_no_heavier_than_the_bulk_is_refused() -> None:
    with pytest.raises(ValueError, match=r"particle_kg_per_l is 1\.6: valid above the bulk density of 1\.6"):
        sand.void_share(1.6, 1.6)
    with pytest.raises(ValueError, match=r"water_l is 1\.0"):
        sand.void_share_by_water(1.0, 1.0)


@given(st.floats(0.20, 0.59), st.floats(0.001, 0.01))
def test_more_voids_always_want_more_lime(voids: float, more: float) -> None:
    assert sand.lean_limit_sand_parts(voids + more) < sand.lean_limit_sand_parts(voids)


def test_a_grading_may_be_given_in_any_order() -> None:
    assert Grading.of({0.6: 40.0, 5.0: 100.0, 1.18: 70.0}).sieves_mm == (0.6, 1.18, 5.0)


@pytest.mark.parametrize(
    ("passing", "message"),
    [
        ({1.0: 80.0, 2.0: 70.0}, "80 % passes 1 mm: valid up to 70, what passes 2 mm"),
        ({1.0: 80.0, 2.0: 101.0}, "passing_per_cent at 2 mm is 101"),
        ({-1.0: 0.0, 2.0: 100.0}, "sieve_mm is -1"),
        ({2.0: 100.0}, "has 1 sieves"),
        ({1.0: math.nan, 2.0: 100.0}, "passing_per_cent at 1 mm is nan"),
    ],
)
def test_a_grading_that_cannot_be_is_refused(passing: dict[float, float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Grading.of(passing)


@pytest.mark.parametrize("second_mm", [1.0, 2.0])
def test_sieves_out_of_order_or_twice_are_refused(second_mm: float) -> None:
    with pytest.raises(ValueError, match=f"sieve {second_mm:g} mm follows 2 mm"):
        Grading(((2.0, 100.0), (second_mm, 100.0)))


def test_a_sieve_used_is_read_as_printed_and_one_between_by_the_logarithm_of_size() -> None:
    assert RECOVERED.passing_per_cent_at(0.5) == 45.0
    assert RECOVERED.passing_per_cent_at(math.sqrt(0.5 * 0.25)) == pytest.approx(30.0)
    assert RECOVERED.passing_per_cent_at(4.0) == 100.0


def test_all_passes_a_wider_sieve_but_nothing_is_known_of_a_finer_one() -> None:
    assert RECOVERED.passing_per_cent_at(8.0) == 100.0
    with pytest.raises(ValueError, match=r"sieve_mm is 0\.063: valid from 0\.125 to 4"):
        RECOVERED.passing_per_cent_at(0.063)
    with pytest.raises(ValueError, match="sieve_mm is 8"):
        Grading.of({2.0: 88.0, 4.0: 97.0}).passing_per_cent_at(8.0)


@given(st.lists(st.floats(0.0, 100.0), min_size=6, max_size=6), st.floats(0.125, 4.0))
def test_a_reading_between_sieves_lies_between_their_figures(figures: list[float], sieve_mm: float) -> None:
    grading = Grading(tuple(zip((0.125, 0.25, 0.5, 1.0, 2.0, 4.0), sorted(figures), strict=True)))
    reading = grading.passing_per_cent_at(sieve_mm)
    below = [passing for sieve, passing in grading.points if sieve <= sieve_mm]
    above = [passing for sieve, passing in grading.points if sieve >= sieve_mm]
    assert max(below) - 1e-9 <= reading <= min(above) + 1e-9


def test_fineness_counts_what_stays_on_the_sieves_named() -> None:
    assert sand.fineness_modulus(RECOVERED, sand.METRIC_SIEVES_MM) == pytest.approx(2.77)
    assert sand.fineness_modulus(RECOVERED, (1.0, 0.5)) == pytest.approx(0.85)
    with pytest.raises(ValueError, match="valid with each sieve once"):
        sand.fineness_modulus(RECOVERED, (1.0, 1.0))
    with pytest.raises(ValueError, match="one at least"):
        sand.fineness_modulus(RECOVERED, ())


@given(st.floats(0.0, 30.0))
def test_a_coarser_sand_has_the_higher_modulus(less: float) -> None:
    finer = Grading.of({4.0: 100, 2.0: 100, 1.0: 90, 0.5: 60, 0.25: 40, 0.125: 30})
    coarser = Grading.of({4.0: 100, 2.0: 100, 1.0: 90, 0.5: 60, 0.25: 40 - less, 0.125: 30 - less})
    nest = sand.METRIC_SIEVES_MM
    assert sand.fineness_modulus(coarser, nest) >= sand.fineness_modulus(finer, nest)


def test_sieves_below_the_grading_are_never_read_as_passed_by_nothing() -> None:
    with pytest.raises(ValueError, match=r"sieve_mm is 0\.25: valid from 0\.3 to 5"):
        sand.fineness_modulus(Grading.of({0.3: 20.0, 5.0: 100.0}), sand.METRIC_SIEVES_MM)


@pytest.mark.parametrize(
    ("call", "limits"),
    [
        (lambda: sand.loose_dry_l(1.0, 0.51), r"from 0 to 0\.5$"),
        (lambda: sand.lean_limit_sand_parts(0.61), r"from 0\.2 to 0\.6$"),
        (lambda: sand.lean_limit_sand_parts(0.19), r"from 0\.2 to 0\.6$"),
    ],
)
def test_inputs_out_of_validity_are_refused_with_limits(call: Callable[[], object], limits: str) -> None:
    with pytest.raises(ValueError, match=limits):
        call()


def test_the_grain_rule_is_the_callers_and_never_above_half_the_joint() -> None:
    assert sand.greatest_grain_mm(12.0, 0.5) == 6.0
    with pytest.raises(ValueError, match=r"share_of_joint is 0\.6: valid from 0 to 0\.5"):
        sand.greatest_grain_mm(12.0, 0.6)
    with pytest.raises(ValueError, match="least_joint_width_mm is 0"):
        sand.greatest_grain_mm(0.0, 1 / 3)


def test_an_envelope_is_checked_sieve_by_sieve_with_its_limits_in() -> None:
    envelope = Envelope("made up", "this test", ((0.25, 15, 40), (0.5, 50, 80), (1.0, 20, 69)))
    rows = sand.check_envelope(RECOVERED, envelope)
    assert [row.verdict for row in rows] == ["within", "too coarse", "too fine"]
    assert [row.passing_per_cent for row in rows] == [15.0, 45.0, 70.0]


def test_a_sieve_between_two_is_read_and_one_out_of_reach_is_never_within() -> None:
    between, beyond = sand.check_envelope(RECOVERED, Envelope("made up", "this test", ((0.6, 0, 100), (0.063, 0, 100))))
    assert between.verdict == "within"
    assert beyond.verdict == "not sieved"
    assert beyond.passing_per_cent is None


def test_an_envelope_with_its_limits_the_wrong_way_round_is_refused() -> None:
    with pytest.raises(ValueError, match="1 mm passes 80 to 70"):
        Envelope("made up", "this test", ((1.0, 80.0, 70.0),))
