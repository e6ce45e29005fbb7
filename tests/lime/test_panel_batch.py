"""The batch of a panel: it serves every panel, in true gauge, and is counted only where it saves."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import KIT, nhl, one
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import panel_batch as panels
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of
from generator.lime.panel_batch import panel_batch, with_panels


def work(*panels_m2: float, per_m2: float = 4.0) -> Work:
    return Work(one(20.0), {"yard": 10.0}, one(per_m2), panels_m2)


def test_every_example_in_the_docstrings_holds() -> None:
    assert doctest.testmod(panels).failed == 0


def test_no_panel_has_no_batch_and_one_that_saves_little_has_none_of_its_own() -> None:
    assert panel_batch([work()], nhl(2.5), KIT, 60.0) is None
    assert panel_batch([work(1.0)], nhl(2.5), KIT, 8.0) is None  # 6.4 l beside a batch of 8 l


def test_sand_of_more_than_a_box_is_counted_in_quarters_and_not_by_the_jug() -> None:
    found = panel_batch([work(1.5, per_m2=10.0)], nhl(2.5), KIT, 72.0)  # 16.5 l, of which the jug makes 17.1
    assert found is not None
    assert (found.measure, found.counts) == ("quarter", (Fraction(1), Fraction(5, 2)))


@given(
    panels_m2=st.lists(st.floats(0.2, 3.0), min_size=1, max_size=3), per_m2=st.floats(1.0, 30.0),
    parts=st.sampled_from([2.0, 2.5, 3.0]), counted_l=st.floats(5.0, 120.0),
)  # fmt: skip
def test_a_batch_of_a_panel_serves_the_largest_and_saves_half(
    panels_m2: list[float], per_m2: float, parts: float, counted_l: float
) -> None:
    found = panel_batch([work(*panels_m2, per_m2=per_m2)], nhl(parts), KIT, counted_l)
    if found is not None:
        assert max(panels_m2) * per_m2 * 1.1 <= found.makes_l + 1e-6
        assert found.makes_l <= counted_l / 2
        assert float(sum(found.sands)) == pytest.approx(parts * float(found.lime))


def test_panels_are_added_each_in_a_batch_of_its_own() -> None:
    mix, walls = nhl(2.5), [work(1.0), work(0.5)]
    batch = panel_batch(walls, mix, KIT, 60.0)
    assert batch is not None
    nothing = amounts_of(mix, 0.0, in_place_l=0.0, dropped_l=0.0)
    found: Amounts = with_panels(Cases(nothing, nothing, nothing), walls, mix, batch).likely
    assert found.made_l == pytest.approx(2 * batch.makes_l)
    assert found.in_place_l == pytest.approx(6.0)
    assert found.dropped_l == pytest.approx(0.6)
