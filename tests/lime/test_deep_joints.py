"""Deep rubble joints: deep voids as a range."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import one
from hypothesis import strategies as st

from generator.lime import deep_joints
from generator.lime.deep_joints import deep_void_l
from generator.values import Range

RUBBLE = Range(0.20, 0.27, 0.35)


def ranges(low: float, high: float) -> st.SearchStrategy[Range[float]]:
    return st.tuples(*([st.floats(low, high)] * 3)).map(lambda ends: Range(*sorted(ends)))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(deep_joints)
    assert failed == 0
    assert attempted >= 1


def test_deep_filling_is_a_range_and_not_its_high_three_times() -> None:
    found = deep_void_l(10.0, RUBBLE, Range(50.0, 90.0, 150.0), pointed_mm=40.0)
    assert found.low == pytest.approx(10 * 0.20 * 10)
    assert found.likely == pytest.approx(10 * 0.27 * 55)  # half way from 40 to 150 mm lies deeper than the usual 90
    assert found.high == pytest.approx(10 * 0.35 * 110)
    assert deep_void_l(10.0, RUBBLE, Range(10.0, 20.0, 40.0), pointed_mm=40.0) == one(0.0)


shares, joints, losses = ranges(0.0, 1.0), ranges(1.0, 150.0), ranges(0.0, 400.0)
