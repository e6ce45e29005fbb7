"""Coats: mortar a square metre, laths and nails."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import coats
from generator.values import Range

KEYS = Range(0.10, 0.15, 0.25)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(coats)
    assert failed == 0
    assert attempted >= 6


@given(st.floats(0.0, 50.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 20.0))
def test_more_waste_never_orders_less(thick_mm: float, one: float, other: float, dubbing: float) -> None:
    less, more = sorted((one, other))
    small = coats.coat_l_per_m2(thick_mm, less, key_share=KEYS, dubbing_l_per_m2=dubbing)
    large = coats.coat_l_per_m2(thick_mm, more, key_share=KEYS, dubbing_l_per_m2=dubbing)
    assert large.low >= small.low
    assert large.likely >= small.likely
    assert large.high >= small.high


@given(st.floats(0.0, 50.0), st.floats(0.0, 1.0))
def test_doubling_a_coat_and_its_dubbing_doubles_its_litres(thick_mm: float, waste: float) -> None:
    once = coats.coat_l_per_m2(thick_mm, waste, key_share=KEYS, dubbing_l_per_m2=3.0)
    twice = coats.coat_l_per_m2(2.0 * thick_mm, waste, key_share=KEYS, dubbing_l_per_m2=6.0)
    assert twice.high == pytest.approx(2.0 * once.high)


def test_keys_belong_to_the_coat_and_not_to_its_dubbing() -> None:
    coat = coats.coat_l_per_m2(10.0, 0.0, key_share=KEYS, dubbing_l_per_m2=5.0)
    assert (coat.low, coat.likely, coat.high) == pytest.approx((16.0, 16.5, 17.5))
    assert coats.coat_l_per_m2(10.0, 0.0).single


def test_shorter_spacing_of_supports_takes_more_nails() -> None:
    laths = coats.laths_nr_per_m2(38.1, 9.525, 1219.2)
    ceiling, wall = (coats.nails_nr_per_m2(laths, 1219.2, spacing) for spacing in (304.8, 406.4))
    assert ceiling == pytest.approx(laths * 5)
    assert wall == pytest.approx(laths * 4)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: coats.coat_l_per_m2(101.0, 0.1), r"thickness_mm is 101\.0: valid from 0 to 100"),
        (lambda: coats.coat_l_per_m2(10.0, -0.1), r"waste_share is -0\.1: valid from 0 to 1"),
        (lambda: coats.coat_l_per_m2(10.0, 0.1, key_share=Range(0.1, 0.2, 1.5)), r"key_share is 1\.5"),
        (lambda: coats.coat_l_per_m2(10.0, 0.1, dubbing_l_per_m2=-1.0), r"dubbing_l_per_m2 is -1\.0"),
        (lambda: coats.dubbing_l_per_m2(20.0, 1.2), r"hollow_share is 1\.2: valid from 0 to 1"),
        (lambda: coats.laths_nr_per_m2(30.0, 30.0, 1200.0), r"gap_mm is 30\.0: valid from 0 to 25"),
        (lambda: coats.lath_m_per_m2(0.0, 8.0), r"width_mm is 0\.0: valid above 0"),
        (lambda: coats.nails_nr_per_m2(20.0, 600.0, 700.0), r"support_mm is 700\.0: valid above 0, up to"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
