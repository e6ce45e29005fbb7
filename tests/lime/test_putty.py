"""Lime putty: density, solids and acceptance."""

from __future__ import annotations

import doctest
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import putty


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(putty)
    assert failed == 0
    assert attempted >= 5


@given(st.floats(1.03, 1.63))
def test_density_to_solids_and_back_is_the_same_density(density_kg_per_l: float) -> None:
    solids = putty.putty_solids_share(density_kg_per_l)
    assert putty.putty_density_kg_per_l(solids) == pytest.approx(density_kg_per_l, rel=1e-12)


@given(st.floats(0.05, 0.69), st.floats(0.001, 0.01))
def test_more_lime_makes_a_heavier_putty_that_carries_more(solids: float, more: float) -> None:
    assert putty.putty_density_kg_per_l(solids + more) > putty.putty_density_kg_per_l(solids)
    assert putty.hydrate_carried_kg_per_l(solids + more) > putty.hydrate_carried_kg_per_l(solids)


@given(st.floats(0.0, 500.0), st.floats(0.05, 0.70))
def test_doubling_the_lime_doubles_the_putty(hydrate_kg: float, solids: float) -> None:
    once = putty.putty_l_from_hydrate(hydrate_kg, solids)
    assert putty.putty_l_from_hydrate(2.0 * hydrate_kg, solids) == pytest.approx(2.0 * once)


def test_lime_and_water_make_up_the_whole_putty() -> None:
    litre_kg = putty.putty_density_kg_per_l(0.45)
    water_kg = litre_kg * (1.0 - putty.putty_solids_share(litre_kg))
    assert putty.hydrate_carried_kg_per_l(0.45) + water_kg == pytest.approx(litre_kg)


@pytest.mark.parametrize(
    ("density", "band"),
    [(1.349, "light"), (1.35, "within"), (1.40, "within"), (1.45, "within"), (1.451, "heavy")],
)
def test_the_acceptance_band_holds_its_limits(density: float, band: str) -> None:
    assert putty.putty_check(density, 1.35, 1.45).band == band


def test_a_check_tells_the_solids_that_the_density_would_mean() -> None:
    assert putty.putty_check(1.40, 1.35, 1.45).solids_share == putty.putty_solids_share(1.40)


def test_a_band_that_runs_backwards_is_refused() -> None:
    with pytest.raises(ValueError, match=r"1\.45 to 1\.35"):
        putty.putty_check(1.40, 1.45, 1.35)


@pytest.mark.parametrize("solids", [0.0, 0.04, 0.71, 1.0, math.nan])
def test_solids_that_are_no_putty_are_refused_with_the_limits(solids: float) -> None:
    with pytest.raises(ValueError, match=r"valid from 0\.05 to 0\.7"):
        putty.putty_density_kg_per_l(solids)


@pytest.mark.parametrize("density", [0.998, 1.02, 1.64, 2.24])
def test_densities_that_are_no_putty_are_refused_with_the_limits(density: float) -> None:
    with pytest.raises(ValueError, match=r"valid from 1\.02\d* to 1\.63"):
        putty.putty_solids_share(density)
