"""What a mix of air lime may come to: depth of carbonation, and the band that its putty is taken in."""

from __future__ import annotations

from decimal import Decimal

import pytest
from jobs import shipped

from generator.decide.model import Mix
from generator.measure.air_lime import carbonated, putty_taken
from generator.values import Range, replace

LIBRARY = shipped()
WITH_POZZOLAN = [key for key, recipe in LIBRARY.recipes.items() if recipe.pozzolan]
AIR_LIME = [
    key for key, recipe in LIBRARY.recipes.items() if recipe.making in ("putty", "hot-mix") and key not in WITH_POZZOLAN
]
OTHERS = sorted(set(LIBRARY.recipes) - set(AIR_LIME))


def mix_of(recipe: str) -> Mix:
    return Mix("M1", LIBRARY.recipes[recipe], Decimal(3), ())


@pytest.mark.parametrize("recipe", AIR_LIME)
def test_air_lime_may_have_carbonated_to_some_ten_to_twenty_millimetres_in_ninety_days(recipe: str) -> None:
    found = carbonated(mix_of(recipe), LIBRARY)
    assert found is not None
    assert found.days == 90
    assert (found.depth_mm.low, found.depth_mm.high) == pytest.approx((9.49, 19.92), abs=0.005)


@pytest.mark.parametrize("recipe", OTHERS)
def test_nothing_is_told_of_limes_that_harden_otherwise(recipe: str) -> None:
    assert carbonated(mix_of(recipe), LIBRARY) is None


def test_the_heaviest_putty_taken_carries_half_as_much_lime_again_as_the_lightest() -> None:
    found = putty_taken(mix_of("putty-brick"), LIBRARY)
    assert found is not None
    # by hand: 1.30 kg/l is 41.9 % solids, 1.45 kg/l 56.2 %
    assert found.low_carries_kg_per_l == pytest.approx(1.30 * 0.419, abs=0.001)
    assert found.high_carries_kg_per_l == pytest.approx(1.45 * 0.562, abs=0.001)
    assert found.reckoned_lies == "within"


def test_a_putty_reckoned_outside_the_band_is_told_so() -> None:
    putty = LIBRARY.materials["lime-putty"]
    assert putty.bulk_density_kg_per_l is not None
    light = replace(putty.bulk_density_kg_per_l, low=Decimal("1.2"), likely=Decimal("1.25"))
    changed = replace(putty, bulk_density_kg_per_l=light)
    library = replace(LIBRARY, materials={**LIBRARY.materials, "lime-putty": changed})
    found = putty_taken(mix_of("putty-brick"), library)
    assert found is not None
    assert found.reckoned_lies == "light"


def test_a_mix_without_putty_has_no_band() -> None:
    assert putty_taken(mix_of(next(key for key in OTHERS if LIBRARY.recipes[key].making == "nhl")), LIBRARY) is None


def test_the_band_is_the_one_that_the_clause_on_putty_asks_for() -> None:
    found = putty_taken(mix_of("putty-brick"), LIBRARY)
    assert found is not None
    assert "{{ litre_weighs_kg | to }}" in LIBRARY.clauses["materials.putty"].text
    asked = LIBRARY.figures["materials.putty/litre_weighs_kg"].value
    assert isinstance(asked, Range)
    assert (float(asked.low), float(asked.high)) == pytest.approx((found.low_kg_per_l, found.high_kg_per_l), abs=0.005)
