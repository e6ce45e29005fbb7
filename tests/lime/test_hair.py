"""Hair: grams a batch."""

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
    assert attempted >= 1


@given(st.floats(0.0, 100.0), st.floats(0.0, 20.0))
def test_doubling_the_mortar_doubles_the_hair(mortar_m3: float, dose: float) -> None:
    once = hair.hair_g_per_batch(1000.0 * mortar_m3, dose)
    assert hair.hair_g_per_batch(2000.0 * mortar_m3, dose) == pytest.approx(2.0 * once)
    assert once == pytest.approx(1000.0 * mortar_m3 * dose)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: hair.hair_g_per_batch(1.0, 21.0), r"dose_kg_per_m3 is 21\.0: valid from 0 to 20"),
        (lambda: hair.hair_g_per_batch(-1.0, 5.0), r"batch_l is -1\.0: valid from 0 up"),
        (lambda: hair.hair_g_per_batch(70.0, 350.0), r"dose_kg_per_m3 is 350\.0: valid from 0 to 20"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
