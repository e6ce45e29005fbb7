"""Hair: kg for a volume, grams a batch, and doses brought to kg in a cubic metre."""

from __future__ import annotations

import doctest
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import hair


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(hair)
    assert failed == 0
    assert attempted >= 6


@given(st.floats(0.0, 100.0), st.floats(0.0, 20.0))
def test_doubling_the_mortar_doubles_the_hair_and_batches_agree(mortar_m3: float, dose: float) -> None:
    kg = hair.hair_kg(mortar_m3, dose)
    assert hair.hair_kg(2.0 * mortar_m3, dose) == pytest.approx(2.0 * kg)
    assert hair.hair_g_per_batch(1000.0 * mortar_m3, dose) == pytest.approx(1000.0 * kg)


@pytest.mark.parametrize("country", [None, "UK", "canada", ""])
def test_a_bushel_is_refused_until_its_country_is_said(country: str | None) -> None:
    with pytest.raises(ValueError, match=r"say uk \(14 to 15 lb of hair\) or us \(8 lb\)"):
        hair.bushels_kg(1.0, country)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="say uk"):
        hair.kg_per_m3_of_bushels_in_yd3(3.0, 1.0)


def test_a_british_bushel_holds_nearly_twice_the_hair_of_an_american_one() -> None:
    ratio = hair.bushels_kg(1.0, "uk").likely / hair.bushels_kg(1.0, "us").likely
    assert ratio == pytest.approx(14.5 / 8.0)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: hair.hair_kg(1.0, 21.0), r"dose_kg_per_m3 is 21\.0: valid from 0 to 20"),
        (lambda: hair.hair_kg(-1.0, 5.0), r"mortar_m3 is -1\.0: valid from 0 up"),
        (lambda: hair.hair_g_per_batch(70.0, 350.0), r"dose_kg_per_m3 is 350\.0: valid from 0 to 20"),
        (lambda: hair.kg_per_m3_of_lb_in_ft3(1.0, 0.0), r"stuff_ft3 is 0\.0: valid above 0"),
        (lambda: hair.kg_per_m3_of_kg_per_tonne(2.0, 1.75), r"mortar_kg_per_m3 is 1\.75: valid from 1000"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
