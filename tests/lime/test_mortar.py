"""Mortar: yield, orders, old mortar put back."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import mortar
from generator.lime.mortar import OldMortar
from generator.values import Range


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(mortar)
    assert failed == 0
    assert attempted >= 5


@given(st.floats(0.5, 4.0), st.floats(0.5, 8.0))
def test_a_void_filling_mortar_is_never_less_than_its_sand(putty: float, sand: float) -> None:
    span = mortar.void_filling_yield(putty, sand, Range(0.33, 0.38, 0.42))
    assert span.low >= 1.0
    assert mortar.void_filling_yield(putty * 1.1, sand, Range(0.33, 0.38, 0.42)).high >= span.high


@given(st.floats(0.0, 5000.0), st.floats(1.0, 40.0))
def test_an_order_is_never_short_and_never_a_whole_container_over(wanted: float, holds: float) -> None:
    for count in (
        mortar.bags_to_order(wanted, holds),
        mortar.tubs_to_order(wanted, holds),
    ):
        assert count * holds >= wanted - holds * 1.1e-6
        assert (count - 1) * holds < wanted or count == 0


CLEAN = OldMortar(salty=False, sooty=False, painted=False, cement_bound=False)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1000.0))
def test_old_mortar_goes_back_up_to_the_cap(wanted: float, cap: float, aggregate_l: float) -> None:
    back = mortar.recovered_old_mortar(aggregate_l, wanted, CLEAN, cap_share=cap)
    assert back.share == min(wanted, cap)
    assert back.recovered_l <= aggregate_l


@pytest.mark.parametrize(
    ("old", "reason"),
    [
        (OldMortar(True, False, False, False), "salty"),
        (OldMortar(False, True, False, False), "sooty"),
        (OldMortar(False, False, True, False), "painted"),
        (OldMortar(False, False, False, True), "cement-bound"),
    ],
)
def test_spoilt_old_mortar_is_refused_with_its_reason(old: OldMortar, reason: str) -> None:
    back = mortar.recovered_old_mortar(100.0, 0.2, old, cap_share=0.25)
    assert back.recovered_l == 0.0
    assert back.refused_for == (reason,)


@pytest.mark.parametrize(("wanted", "cap"), [(1.05, 0.2), (0.2, 1.05), (-0.1, 0.2)])
def test_shares_of_old_mortar_beyond_the_whole_are_refused(wanted: float, cap: float) -> None:
    with pytest.raises(ValueError, match="valid from 0 to 1"):
        mortar.recovered_old_mortar(100.0, wanted, CLEAN, cap_share=cap)


def test_old_mortar_that_nobody_has_looked_at_is_held_back_and_says_why() -> None:
    back = mortar.recovered_old_mortar(100.0, 0.2, OldMortar(None, False, False, None), cap_share=0.25)
    assert back.share == 0.0
    assert back.refused_for == ()
    assert back.not_known == ("salty", "cement-bound")
