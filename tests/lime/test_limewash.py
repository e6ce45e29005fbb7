"""Limewash: litres by coats and suction."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import limewash
from generator.values import Range

COVERAGE = Range(4.0, 6.0, 10.0)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(limewash)
    assert failed == 0
    assert attempted >= 2


@given(st.floats(0.0, 5000.0), st.integers(1, 8))
def test_doubling_the_face_or_the_coats_doubles_the_litres(face_m2: float, coats: int) -> None:
    once = limewash.limewash_l(face_m2, coats, COVERAGE)
    for twice in (
        limewash.limewash_l(2.0 * face_m2, coats, COVERAGE),
        limewash.limewash_l(face_m2, 2 * coats, COVERAGE),
    ):
        assert (twice.low, twice.high) == pytest.approx((2.0 * once.low, 2.0 * once.high))


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_waste_never_orders_less(one: float, other: float) -> None:
    less, more = sorted((one, other))
    small = limewash.limewash_l(50.0, 4, COVERAGE, less)
    assert limewash.limewash_l(50.0, 4, COVERAGE, more).likely >= small.likely


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: limewash.limewash_l(-1.0, 4, COVERAGE), r"face_m2 is -1\.0: valid from 0 up"),
        (lambda: limewash.limewash_l(10.0, 0, COVERAGE), "coats is 0: valid from 1 up"),
        (lambda: limewash.limewash_l(10.0, 4, Range(0.0, 1.0, 2.0)), r"coverage_m2_per_l is 0\.0"),
        (lambda: limewash.limewash_l(10.0, 4, COVERAGE, 1.5), r"waste_share is 1\.5: valid from 0 to 1"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
