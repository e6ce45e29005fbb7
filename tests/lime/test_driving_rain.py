"""Driving rain: the hourly kernel, spells, indices, factors, classes and the weather file."""

from __future__ import annotations

import doctest
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import driving_rain
from generator.lime.driving_rain import DrivingRain, Hour

NEW_YEAR = datetime(2013, 1, 1)
HEADING = "time,wind_m_per_s,from_deg,rain_mm"


def wet(hours_on: float, rain_mm: float = 1.0, year: int = 2013) -> Hour:
    """An hour of rain driven at 5 m/s from the north, 1.1111 l/m2 on a north face for each 1 mm."""
    return Hour(NEW_YEAR.replace(year=year) + timedelta(hours=hours_on), 5.0, 0.0, rain_mm)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(driving_rain)
    assert failed == 0
    assert attempted >= 15


@given(st.floats(0.0, 70.0), st.floats(0.0, 100.0), st.floats(-720.0, 720.0))
def test_rain_from_behind_never_wets_a_wall_and_doubled_wind_doubles_it(wind: float, rain: float, angle: float) -> None:
    index = driving_rain.hourly_l_per_m2(wind, rain, angle)
    assert index >= 0.0
    assert driving_rain.hourly_l_per_m2(wind / 2.0, rain, angle) == pytest.approx(index / 2.0)
    if 90.0 < angle % 360.0 < 270.0:
        assert index == 0.0


def test_95_dry_hours_hold_a_spell_together_and_96_part_it() -> None:
    together = driving_rain.spells([wet(0), wet(96)], 0.0)
    parted = driving_rain.spells([wet(0), wet(97)], 0.0)
    assert [spell.total_l_per_m2 for spell in together] == pytest.approx([2.2222], rel=1e-4)
    assert [spell.total_l_per_m2 for spell in parted] == pytest.approx([1.1111, 1.1111], rel=1e-4)
    assert parted[1].began == NEW_YEAR + timedelta(hours=97)


def test_an_hour_below_a_thousandth_neither_counts_nor_holds_a_spell_together() -> None:
    trace = 0.0003  # 5 m/s and 0.0003 mm: 0.0008 l/m2
    parted = driving_rain.spells([wet(0), wet(50, trace), wet(97)], 0.0)
    assert len(parted) == 2
    assert sum(spell.total_l_per_m2 for spell in parted) == pytest.approx(2.2222, rel=1e-4)


def test_a_repeated_hour_is_taken_and_a_backward_one_refused() -> None:
    assert driving_rain.spells([wet(5), wet(5)], 0.0)[0].total_l_per_m2 == pytest.approx(2.2222, rel=1e-4)
    with pytest.raises(ValueError, match="valid in order of time"):
        driving_rain.spells([wet(5), wet(4)], 0.0)


def test_the_annual_index_is_spread_over_dry_years_too() -> None:
    rain = driving_rain.airfield_index([wet(0), wet(1), wet(0, 0.0, 2014)], 0.0)
    assert rain.years_nr == 2
    assert rain.annual_l_per_m2 == pytest.approx(1.1111, rel=1e-4)


def test_a_spell_belongs_to_the_year_it_began_in() -> None:
    hours = [wet(24 * 364 + 23), wet(0, year=2014), wet(1, year=2014)]
    by_rank = driving_rain.airfield_index(hours, 0.0, by="percentile")
    assert by_rank.spell_l_per_m2 == pytest.approx(0.67 * 3.3333, rel=1e-4)  # between 0 and 3.3333


def test_one_year_gives_its_largest_spell_and_the_warning_stands_below_ten_years() -> None:
    one = driving_rain.airfield_index([wet(0), wet(200), wet(201)], 0.0)
    assert one.spell_l_per_m2 == pytest.approx(2.2222, rel=1e-4)
    nine, ten = (
        driving_rain.airfield_index([wet(0, year=2001 + year) for year in range(count)], 0.0) for count in (9, 10)
    )
    assert (one.few_years, nine.few_years, ten.few_years) == (True, True, False)


def test_the_warning_of_few_years_goes_with_the_wall_result() -> None:
    wall = driving_rain.wall_index(
        DrivingRain("airfield", 500.0, 100.0, 9), roughness=1.0, topography=1.0, obstruction=1.0, wall=0.4
    )
    assert wall.few_years
    assert wall.spell_l_per_m2 == pytest.approx(40.0)


def test_an_airfield_result_has_no_class_and_factors_are_never_taken_twice() -> None:
    airfield = DrivingRain("airfield", 551.35, 137.85, 1)
    with pytest.raises(ValueError, match="place is airfield: valid wall"):
        driving_rain.uk_exposure_class(airfield)
    wall = driving_rain.wall_index(airfield, roughness=1.0, topography=1.0, obstruction=1.0, wall=0.5)
    with pytest.raises(ValueError, match="place is wall: valid airfield"):
        driving_rain.wall_index(wall, roughness=1.0, topography=1.0, obstruction=1.0, wall=0.5)


@pytest.mark.parametrize(
    ("spell", "named"),
    [
        (0.0, "sheltered"),
        (32.999, "sheltered"),
        (33.0, "moderate"),
        (56.499, "moderate"),
        (56.5, "severe"),
        (99.999, "severe"),
        (100.0, "very-severe"),
        (500.0, "very-severe"),
    ],
)
def test_a_class_starts_at_its_limit(spell: float, named: str) -> None:
    assert driving_rain.uk_exposure_class(DrivingRain("wall", 0.0, spell, 20)) == named


@given(st.lists(st.floats(1.0, 300.0), min_size=2, max_size=30))
def test_once_in_three_years_lies_among_the_ranked_years(yearly: list[float]) -> None:
    by_rank = driving_rain.percentile_once_in_3_years(yearly)
    assert min(yearly) <= by_rank <= max(yearly)
    doubled = driving_rain.gumbel_once_in_3_years([2.0 * value for value in yearly])
    assert doubled == pytest.approx(2.0 * driving_rain.gumbel_once_in_3_years(yearly))


@given(st.floats(4.0, 500.0), st.floats(4.0, 500.0))
def test_a_farther_obstruction_never_shelters_more(one: float, other: float) -> None:
    near, far = sorted((one, other))
    assert driving_rain.obstruction_factor(near) <= driving_rain.obstruction_factor(far)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (
            lambda: driving_rain.hourly_l_per_m2(468.5, 1.0, 0.0),
            r"wind_m_per_s is 468\.5: valid from 0 to 75",
        ),
        (lambda: driving_rain.hourly_l_per_m2(5.0, -1.0, 0.0), r"rain_mm is -1\.0: valid from 0 to 400"),
        (lambda: driving_rain.gumbel_once_in_3_years([40.0]), "1 years: valid from 2 up"),
        (lambda: driving_rain.percentile_once_in_3_years([]), "0 years: valid from 1 up"),
        (lambda: driving_rain.airfield_index([], 0.0), "0 hours of weather: valid from 1 up"),
        (lambda: driving_rain.airfield_index([wet(0)], 0.0, by="guess"), "by is guess: valid gumbel"),  # type: ignore[arg-type]
        (lambda: driving_rain.roughness_factor("V", 8.0), "terrain is V: valid I, II"),  # type: ignore[arg-type]
        (lambda: driving_rain.roughness_factor("I", 0.0), r"height_m is 0\.0: valid above 0"),
        (lambda: driving_rain.topography_factor(-0.1, 0.5), r"slope is -0\.1: valid from 0 to 2"),
        (lambda: driving_rain.topography_factor(0.1, 1.5), r"place_on_slope is 1\.5: valid from 0 to 1"),
        (lambda: driving_rain.obstruction_factor(3.9), r"distance_m is 3\.9: valid from 4 up"),
        (lambda: driving_rain.wall_factor("tower"), "shape is tower: valid two-storey eaves"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
