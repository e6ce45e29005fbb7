"""The limits within which the reckoning holds, and the error beyond them."""

from __future__ import annotations

import doctest
import math

import pytest

from generator.lime import limits


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(limits)
    assert failed == 0
    assert attempted == 2


@pytest.mark.parametrize("value", [-0.1, math.inf, math.nan])
def test_a_quantity_below_nothing_or_not_finite_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match=r"tub_l is .*valid from 0 up"):
        limits.checked("tub_l", value, 0.0)
    with pytest.raises(ValueError, match=r"tub_l is .*valid above 0"):
        limits.positive("tub_l", value)
