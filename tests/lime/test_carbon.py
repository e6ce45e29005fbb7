"""Carbon of a mortar: emission and uptake, kept apart."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import carbon
from generator.lime.carbon import CarbonItem, mortar_carbon
from generator.values import Range

LIME = CarbonItem("hydrate", 200.0, Range(0.7, 0.78, 0.9), Range(0.4, 0.5, 0.55))
SAND = CarbonItem("sand", 1500.0, Range(0.004, 0.005, 0.006))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(carbon)
    assert failed == 0
    assert attempted >= 3


def test_uptake_is_reported_apart_and_never_lowers_the_emission() -> None:
    without = CarbonItem("hydrate", 200.0, LIME.emitted_kgco2e_per_kg)
    assert mortar_carbon([LIME, SAND]).emitted_kgco2e_per_m3 == mortar_carbon([without, SAND]).emitted_kgco2e_per_m3
    assert mortar_carbon([LIME, SAND]).reabsorbed_kgco2_per_m3.likely == pytest.approx(100.0)
    assert mortar_carbon([without, SAND]).reabsorbed_kgco2_per_m3.high == 0.0


def test_the_range_of_a_mortar_is_the_sum_of_its_materials_ends() -> None:
    emitted = mortar_carbon([LIME, SAND]).emitted_kgco2e_per_m3
    assert (emitted.low, emitted.likely, emitted.high) == pytest.approx((146.0, 163.5, 189.0))


@given(st.floats(0.0, 1000.0))
def test_doubling_a_material_doubles_its_part(kg: float) -> None:
    once = mortar_carbon([CarbonItem("lime", kg, Range(0.7, 0.8, 0.9), Range(0.1, 0.2, 0.3))])
    twice = mortar_carbon([CarbonItem("lime", 2 * kg, Range(0.7, 0.8, 0.9), Range(0.1, 0.2, 0.3))])
    assert twice.emitted_kgco2e_per_m3.high == pytest.approx(2 * once.emitted_kgco2e_per_m3.high)
    assert twice.reabsorbed_kgco2_per_m3.low == pytest.approx(2 * once.reabsorbed_kgco2_per_m3.low)


def test_nothing_emits_nothing() -> None:
    assert mortar_carbon([]).emitted_kgco2e_per_m3 == Range(0.0, 0.0, 0.0)


def test_weights_and_factors_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match=r"kg_per_m3 of sand is -1\.0"):
        CarbonItem("sand", -1.0, Range(0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="emitted_kgco2e_per_kg of sand is -1"):
        CarbonItem("sand", 1.0, Range(-1.0, 0.0, 0.0))
