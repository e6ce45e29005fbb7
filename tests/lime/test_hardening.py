"""Hardening: rates by temperature, ages in the cold, carbonation depth."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import hardening
from generator.values import Range

temperatures = st.floats(0.0, 40.0)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(hardening)
    assert failed == 0
    assert attempted >= 9


def test_every_law_is_one_at_20_degrees() -> None:
    rate = hardening.relative_rate(20.0)
    assert (rate.low, rate.high) == pytest.approx((1.0, 1.0))


@given(temperatures, temperatures)
def test_warmer_is_never_slower_under_any_law(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert hardening.nurse_saul_rate(warm) >= hardening.nurse_saul_rate(cold)
    assert hardening.arrhenius_rate(warm, 40.0) >= hardening.arrhenius_rate(cold, 40.0)
    assert hardening.cement_law_rate(warm) >= hardening.cement_law_rate(cold)


@given(st.floats(0.0, 400.0), st.floats(0.0, 20.0))
def test_an_age_is_never_shorter_in_the_cold_and_hardens_the_same(days: float, temperature_c: float) -> None:
    age, rate = hardening.age_needed_days(days, temperature_c), hardening.relative_rate(temperature_c)
    assert age.low >= days - 1e-9
    assert age.high * rate.low == pytest.approx(days)
    assert age.low * rate.high == pytest.approx(days)


def test_a_higher_activation_energy_makes_the_cold_slower() -> None:
    assert hardening.arrhenius_rate(5.0, 60.0) < hardening.arrhenius_rate(5.0, 40.0)


@given(st.floats(0.0, 3000.0))
def test_four_times_the_time_carbonates_twice_as_deep_and_turns_back(days: float) -> None:
    k = Range(1.0, 1.5, 2.1)
    depth = hardening.carbonation_depth_mm(days, k)
    assert hardening.carbonation_depth_mm(4.0 * days, k).likely == pytest.approx(2.0 * depth.likely)
    if depth.high <= 100.0:
        assert hardening.carbonation_days(depth.likely, k).likely == pytest.approx(days)


@given(st.floats(0.0, 50.0))
def test_twice_as_deep_takes_four_times_as_long(depth_mm: float) -> None:
    k = Range(1.0, 1.5, 2.1)
    once, twice = (hardening.carbonation_days(depth, k) for depth in (depth_mm, 2.0 * depth_mm))
    assert twice.likely == pytest.approx(4.0 * once.likely)


def test_the_quickest_carbonation_goes_with_the_greatest_coefficient() -> None:
    days = hardening.carbonation_days(20.0, Range(1.0, 1.25, 2.0))
    assert (days.low, days.likely, days.high) == pytest.approx((100.0, 256.0, 400.0))


def test_more_lime_carbonates_more_slowly() -> None:
    rich, lean = (hardening.carbonation_mm_per_sqrt_day(2e-6, kg) for kg in (800.0, 200.0))
    assert rich == pytest.approx(lean / 2.0)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: hardening.nurse_saul_rate(-1.0), r"temperature_c is -1\.0: valid from 0 to 40"),
        (lambda: hardening.cement_law_rate(-30.0), r"temperature_c is -30\.0: valid from 0 to 40"),
        (lambda: hardening.relative_rate(45.0), r"temperature_c is 45\.0: valid from 0 to 40"),
        (lambda: hardening.nurse_saul_rate(10.0, 5.0), r"datum_c is 5\.0: valid from -15 to 0"),
        (
            lambda: hardening.arrhenius_rate(10.0, 40000.0),
            r"activation_kj_per_mol is 40000\.0: valid from 10",
        ),
        (lambda: hardening.age_needed_days(-1.0, 10.0), r"days_at_20_c is -1\.0: valid from 0 up"),
        (lambda: hardening.carbonation_depth_mm(-1.0, Range(1.0, 1.0, 1.0)), r"days is -1\.0"),
        (lambda: hardening.carbonation_depth_mm(9.0, Range(1.0, 1.0, 20.0)), r"k_mm_per_sqrt_day is 20\.0"),
        (lambda: hardening.carbonation_days(-1.0, Range(1.0, 1.0, 1.0)), r"depth_mm is -1\.0"),
        (lambda: hardening.carbonation_days(9.0, Range(1.0, 1.0, 20.0)), r"k_mm_per_sqrt_day is 20\.0"),
        (lambda: hardening.carbonation_days(9.0, Range(0.0, 1.0, 2.0)), r"k_mm_per_sqrt_day is 0\.0"),
        (lambda: hardening.carbonation_mm_per_sqrt_day(2.0, 200.0), r"diffusivity_m2_per_s is 2\.0"),
        (lambda: hardening.carbonation_mm_per_sqrt_day(2e-6, 0.0), r"hydrate_kg_per_m3 is 0\.0"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
