"""Slaking: mass balance, heat as an upper bound, steam, growth and the ratio a quicklime mix comes to."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
    assert attempted >= 15


def test_slaking_keeps_every_kilogram() -> None:
    mix = mixed()
    assert mix.cao_kg + mix.bound_water_kg == pytest.approx(mix.hydrate_kg)
    assert mix.cao_kg + mix.inert_kg == pytest.approx(mix.quicklime_kg)
    assert mix.sand_water_kg + mix.water_to_add_kg == pytest.approx(mix.water_in_all_kg)


@given(st.floats(0.1, 500.0), st.floats(0.0, 2000.0))
def test_doubling_the_volumes_doubles_materials_and_leaves_the_temperature(
    lime_l: float, sand_l: float
) -> None:
    once, twice = mixed(lime_l, sand_l), mixed(2 * lime_l, 2 * sand_l)
    for name in ("quicklime_kg", "hydrate_kg", "free_water_kg", "heat_kj", "steam_kg", "water_to_add_kg"):
        assert getattr(twice, name) == pytest.approx(2 * getattr(once, name))
    assert twice.upper_bound_c == pytest.approx(once.upper_bound_c)


@given(st.floats(0.0, 0.19), st.floats(0.0, 0.01), st.floats(0.5, 12.0))
def test_wetter_sand_never_needs_more_added_water(moisture: float, more: float, sand_l: float) -> None:
    drier = mixed(sand_l=sand_l, sand_moisture_share=moisture)
    wetter = mixed(sand_l=sand_l, sand_moisture_share=moisture + more)
    assert wetter.water_to_add_kg <= drier.water_to_add_kg
    assert wetter.water_surplus_kg >= drier.water_surplus_kg


def test_sand_that_brings_more_water_than_the_mix_wants_is_told_as_a_surplus() -> None:
    mix = mixed(sand_l=12.0, sand_moisture_share=0.15)
    assert mix.water_to_add_kg == 0.0
    assert mix.water_surplus_kg == pytest.approx(mix.sand_water_kg - mix.water_in_all_kg)


@given(st.floats(0.5, 1.0), st.floats(0.0, 8.0))
def test_purer_lime_never_slakes_cooler_nor_drives_off_less_steam(purity: float, sand_l: float) -> None:
    less, more = mixed(sand_l=sand_l, purity_share=purity * 0.9), mixed(sand_l=sand_l, purity_share=purity)
    assert more.upper_bound_c >= less.upper_bound_c
    assert more.steam_kg >= less.steam_kg


def test_steam_is_driven_off_only_where_the_bound_lies_above_boiling() -> None:
    cool = mixed(putty_solids_share=0.35)
    assert not cool.boils
    assert cool.steam_kg == 0.0
    assert mixed().boils
    assert mixed().steam_kg > 0.0


def test_at_the_free_water_where_boiling_stops_the_bound_is_the_boiling_point() -> None:
    mix = mixed()
    free_kg = slaking.free_water_where_boiling_stops_kg(mix)
    just = mixed(putty_solids_share=mix.hydrate_kg / (mix.hydrate_kg + free_kg))
    assert just.upper_bound_c == pytest.approx(slaking.BOILING_C, abs=1e-6)


def test_starved_pure_lime_is_capped_where_slaked_lime_falls_apart_and_says_so() -> None:
    powder = slaking.dry_slake(1.0, purity_share=1.0, sand_dry_kg=0.0, sand_moisture_share=0.0, start_c=15.0)
    assert powder.capped
    assert powder.upper_bound_c == slaking.DEHYDRATION_C
    assert not mixed().capped


def test_dry_slaking_leaves_no_free_water_and_runs_hotter_than_the_wet_mix() -> None:
    wet = mixed()
    powder = slaking.dry_slake(
        wet.quicklime_kg,
        purity_share=0.92,
        sand_dry_kg=wet.sand_dry_kg,
        sand_moisture_share=0.05,
        start_c=15.0,
    )
    assert powder.free_water_kg == 0.0
    assert powder.upper_bound_c > wet.upper_bound_c
    assert powder.water_to_add_kg + powder.sand_water_kg == pytest.approx(powder.water_in_all_kg)


@given(st.floats(0.35, 8.0), st.floats(0.5, 1.0))
def test_a_tank_never_boils_off_more_than_its_free_water(water_kg: float, purity: float) -> None:
    tank = slaking.slake_in_water(1.0, water_kg, purity_share=purity, start_c=15.0)
    assert tank.free_water_kg >= 0.0
    assert tank.water_in_all_kg == pytest.approx(water_kg)
    assert tank.boils_dry == (tank.free_water_kg == 0.0 and tank.steam_kg > 0.0)


def test_a_tank_with_less_water_than_slaking_binds_is_refused() -> None:
    with pytest.raises(ValueError, match=r"water_kg is 0\.3: valid from 0\.32"):
        slaking.slake_in_water(1.0, 0.3, purity_share=1.0, start_c=15.0)


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
def test_inputs_out_of_validity_are_refused_with_value_and_limits(
    name: str, value: float, limits: str
) -> None:
    with pytest.raises(ValueError, match=f"{name} is {value}: valid {limits}"):
        mixed(**{name: value})


def test_expansion_runs_from_light_lime_in_stiff_putty_to_heavy_lime_in_thin() -> None:
    grown = expansion.expansion_factor(
        Range(0.85, 0.95, 1.05), Range(0.88, 0.92, 0.96), Range(0.42, 0.47, 0.52)
    )
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


def test_the_putty_water_is_what_the_hot_mix_holds_before_steam() -> None:
    mix = mixed()
    water = slaking.putty_water_kg(mix.quicklime_kg, purity_share=0.92, putty_solids_share=0.50)
    assert water == pytest.approx(mix.bound_water_kg + mix.free_water_kg)


@pytest.mark.parametrize(("temperature_c", "hdpe"), [(80.0, False), (81.0, True), (239.0, True)])
def test_hdpe_is_named_beyond_its_short_time_limit(temperature_c: float, hdpe: bool) -> None:
    assert ("HDPE" in [plastic.name for plastic in expansion.plastics_softened_at(temperature_c)]) is hdpe


def test_no_listed_plastic_stands_the_heat_of_the_worked_dry_slake() -> None:
    powder = slaking.dry_slake(
        0.95, purity_share=0.92, sand_dry_kg=3.72, sand_moisture_share=0.05, start_c=15.0
    )
    assert expansion.plastics_softened_at(powder.upper_bound_c) == expansion.PLASTICS
    assert all(p.melts_c is None or p.melts_c.high < powder.upper_bound_c for p in expansion.PLASTICS)


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
    assert twice.sand_dry_parts.low == pytest.approx(2.0 * once.sand_dry_parts.low)
    assert once.sand_dry_parts.high < once.sand_damp_parts.high
