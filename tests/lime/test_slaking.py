"""Slaking: mass balance, heat, steam, growth and the ratio a quicklime mix comes to."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import astuple

from generator.lime import expansion, slaking
from generator.lime.slaking import Slaking, hot_mix
from generator.values import Range

USUAL = {
    "quicklime_kg_per_l": 0.95,
    "purity_share": 0.92,
    "sand_dry_kg_per_l": 1.55,
    "sand_moisture_share": 0.05,
    "bulking_share": 0.25,
    "putty_solids_share": 0.50,
    "start_c": 15.0,
}


def mixed(quicklime_l: float = 1.0, sand_l: float = 3.0, **changed: float) -> Slaking:
    return hot_mix(quicklime_l, sand_l, **{**USUAL, **changed})


def same(value: float) -> Range[float]:
    return Range(value, value, value)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(slaking)
    failed += doctest.testmod(expansion).failed
    assert failed == 0
    assert attempted >= 7


@given(st.floats(0.1, 500.0), st.floats(0.0, 2000.0))
def test_doubling_the_volumes_doubles_heat_steam_and_water(lime_l: float, sand_l: float) -> None:
    once, twice = mixed(lime_l, sand_l), mixed(2 * lime_l, 2 * sand_l)
    assert astuple(twice) == pytest.approx([2 * part for part in astuple(once)])


@given(st.floats(0.0, 0.19), st.floats(0.0, 0.01), st.floats(0.5, 12.0))
def test_wetter_sand_never_needs_more_added_water(moisture: float, more: float, sand_l: float) -> None:
    drier = mixed(sand_l=sand_l, sand_moisture_share=moisture)
    wetter = mixed(sand_l=sand_l, sand_moisture_share=moisture + more)
    assert wetter.water_to_add_kg <= drier.water_to_add_kg
    assert wetter.steam_kg == drier.steam_kg


def test_sand_that_brings_more_water_than_the_mix_wants_takes_none() -> None:
    assert mixed(sand_l=12.0, sand_moisture_share=0.15).water_to_add_kg == 0.0


@given(st.floats(0.5, 1.0), st.floats(0.0, 8.0))
def test_purer_lime_never_drives_off_less_steam(purity: float, sand_l: float) -> None:
    less, more = mixed(sand_l=sand_l, purity_share=purity * 0.9), mixed(sand_l=sand_l, purity_share=purity)
    assert more.steam_kg >= less.steam_kg


def test_steam_is_driven_off_only_where_the_heat_comes_to_the_boil() -> None:
    assert mixed(putty_solids_share=0.35).steam_kg == 0.0
    assert mixed().steam_kg > 0.0


@pytest.mark.parametrize(
    ("name", "value", "limits"),
    [
        ("purity_share", 1.01, "from 0.4 to 1"),
        ("purity_share", 92.0, "from 0.4 to 1"),
        ("quicklime_kg_per_l", 950.0, "from 0.5 to 1.6"),
        ("sand_moisture_share", 0.21, "from 0 to 0.2"),
        ("bulking_share", 0.6, "from 0 to 0.5"),
        ("putty_solids_share", 0.8, "from 0.05 to 0.7"),
        ("start_c", 96.0, "from 0 to 95"),
    ],
)
def test_inputs_out_of_validity_are_refused_with_value_and_limits(name: str, value: float, limits: str) -> None:
    with pytest.raises(ValueError, match=f"{name} is {value}: valid {limits}"):
        mixed(**{name: value})


def test_expansion_runs_from_light_lime_in_stiff_putty_to_heavy_lime_in_thin() -> None:
    grown = expansion.expansion_factor(Range(0.85, 0.95, 1.05), Range(0.88, 0.92, 0.96), Range(0.42, 0.47, 0.52))
    assert grown.low == expansion.expansion_factor(same(0.85), same(0.88), same(0.52)).likely
    assert grown.high == expansion.expansion_factor(same(1.05), same(0.96), same(0.42)).likely
    assert grown.low < grown.likely < grown.high


def test_a_vessel_holds_the_greater_of_grown_lime_and_of_lime_with_its_water() -> None:
    grown = expansion.vessel_l(10.0, 5.0, expansion=Range(1.9, 2.1, 2.6), headroom_share=same(0.0))
    assert grown == Range(19.0, 21.0, 26.0)
    filled = expansion.vessel_l(10.0, 30.0, expansion=Range(1.9, 2.1, 2.6), headroom_share=same(0.5))
    assert filled == same(60.0)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_headroom_never_asks_for_a_smaller_vessel(headroom: float, more: float) -> None:
    less = expansion.vessel_l(10.0, 25.0, expansion=same(2.1), headroom_share=same(headroom))
    greater = expansion.vessel_l(10.0, 25.0, expansion=same(2.1), headroom_share=same(headroom + more))
    assert greater.high >= less.high


@given(st.floats(0.5, 10.0))
def test_more_sand_makes_the_effective_ratio_leaner_in_proportion(sand_l: float) -> None:
    ranges = {
        "quicklime_kg_per_l": Range(0.85, 0.95, 1.05),
        "purity_share": Range(0.88, 0.92, 0.96),
        "putty_solids_share": Range(0.45, 0.48, 0.52),
        "bulking_share": Range(0.15, 0.25, 0.30),
    }
    once = expansion.effective_ratio(1.0, sand_l, **ranges)
    twice = expansion.effective_ratio(1.0, 2.0 * sand_l, **ranges)
    assert twice.low == pytest.approx(2.0 * once.low)
