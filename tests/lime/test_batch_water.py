"""The water of a batch: of a hot mix as a range, and what damp sand brings."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import BULKING, nhl, one
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import batch_water
from generator.lime.batch_water import HotMixMaterials, hot_mix_water_l, sand_water_l
from generator.lime.gauging import GaugedMix, SandYield, counted, gauged_mix
from generator.values import Range

MATERIALS = HotMixMaterials(
    quicklime_kg_per_l=Range(0.85, 0.95, 1.05),
    purity_share=Range(0.88, 0.92, 0.95),
    putty_solids_share=Range(0.42, 0.47, 0.52),
    sand_dry_kg_per_l=Range(1.50, 1.60, 1.70),
    sand_moisture_share=Range(0.03, 0.05, 0.08),
    start_c=15.0,
)


def hot_mix(parts: float = 3.0) -> GaugedMix:
    return gauged_mix(parts, BULKING, SandYield(Range(1.12, 1.25, 1.4), "published"))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(batch_water)
    assert failed == 0
    assert attempted >= 5


def test_a_litre_of_quicklime_to_three_of_sand_takes_the_reference_water() -> None:
    """The reference example of slaking: 0.95 kg/l at 92 % in 50 % putty, sand 1.55 kg/l at 5 %: 1.344 kg."""
    of = HotMixMaterials(one(0.95), one(0.92), one(0.50), one(1.55), one(0.05), 15.0)
    batch = counted(hot_mix(), 14.0, "jug", Fraction(1))
    assert (batch.lime_l, batch.sands_l) == (1.0, (3.0,))
    water = hot_mix_water_l(batch, hot_mix(), of)
    assert water.low == water.likely == water.high == pytest.approx(1.344, abs=5e-4)


def test_a_batch_of_two_boxes_of_quicklime_takes_some_forty_litres() -> None:
    batch = counted(hot_mix(), 14.0, "whole", Fraction(2))
    water = hot_mix_water_l(batch, hot_mix(), MATERIALS)
    assert water.likely == pytest.approx(41.0, abs=0.5)
    assert water.low < 0.8 * water.likely < 1.2 * water.likely < water.high


def test_wetter_sand_takes_less_water() -> None:
    batch = counted(hot_mix(), 14.0, "whole", Fraction(1))
    dry = HotMixMaterials(one(0.95), one(0.92), one(0.47), one(1.6), one(0.03), 15.0)
    wet = HotMixMaterials(one(0.95), one(0.92), one(0.47), one(1.6), one(0.08), 15.0)
    assert hot_mix_water_l(batch, hot_mix(), wet).likely < hot_mix_water_l(batch, hot_mix(), dry).likely


@given(st.sampled_from([3.0, 4.0]), st.integers(1, 8))
def test_water_grows_with_the_batch(parts: float, times: int) -> None:
    once = counted(hot_mix(parts), 14.0, "half", Fraction(1, 2))
    more = counted(hot_mix(parts), 14.0, "half", Fraction(times, 2))
    water, all_water = (hot_mix_water_l(batch, hot_mix(parts), MATERIALS) for batch in (once, more))
    assert all_water.likely == pytest.approx(times * water.likely)
    assert water.low <= water.likely <= water.high


def test_the_sand_of_a_batch_in_damp_or_dry_counts_would_bring_the_same_water() -> None:
    damp = counted(nhl(2.5), 14.0, "quarter", Fraction(1, 4))
    dry = counted(nhl(2.5, sand="dry"), 14.0, "half", Fraction(1, 2))
    moisture = Range(0.03, 0.05, 0.08)
    assert sand_water_l(damp, nhl(2.5), 1.55, moisture).likely == pytest.approx(1.085)
    found = sand_water_l(dry, nhl(2.5, sand="dry"), 1.55, moisture)
    assert found.likely == pytest.approx(1.085)


def test_sand_wetter_than_any_is_refused() -> None:
    batch = counted(nhl(2.5), 14.0, "whole", Fraction(1))
    with pytest.raises(ValueError, match="sand_moisture_share"):
        sand_water_l(batch, nhl(2.5), 1.55, Range(0.05, 0.1, 0.3))
