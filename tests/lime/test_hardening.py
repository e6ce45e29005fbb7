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
    assert attempted >= 6


def test_every_law_is_one_at_20_degrees() -> None:
    rate = hardening.relative_rate(20.0)
    assert (rate.low, rate.high) == pytest.approx((1.0, 1.0))


@given(temperatures, temperatures)
def test_warmer_is_never_slower_under_any_law(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert hardening.nurse_saul_rate(warm) >= hardening.nurse_saul_rate(cold)
    assert hardening.arrhenius_rate(warm, 40.0) >= hardening.arrhenius_rate(cold, 40.0)
    assert hardening.cement_law_rate(warm) >= hardening.cement_law_rate(cold)


@given(st.floats(0.0, 20.0))
def test_lime_never_hardens_faster_in_the_cold(temperature_c: float) -> None:
    assert hardening.relative_rate(temperature_c).high <= 1.0 + 1e-9


def test_a_higher_activation_energy_makes_the_cold_slower() -> None:
    assert hardening.arrhenius_rate(5.0, 60.0) < hardening.arrhenius_rate(5.0, 40.0)


@given(st.floats(0.0, 3000.0))
def test_four_times_the_time_carbonates_twice_as_deep(days: float) -> None:
    k = Range(1.0, 1.5, 2.1)
    depth = hardening.carbonation_depth_mm(days, k)
    assert hardening.carbonation_depth_mm(4.0 * days, k).likely == pytest.approx(2.0 * depth.likely)


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
        (lambda: hardening.carbonation_depth_mm(-1.0, Range(1.0, 1.0, 1.0)), r"days is -1\.0"),
        (lambda: hardening.carbonation_depth_mm(9.0, Range(1.0, 1.0, 20.0)), r"k_mm_per_sqrt_day is 20\.0"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
