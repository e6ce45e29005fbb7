"""Driving rain on a wall from a weather file, told to the specifier who has to answer how exposed a wall is."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.lime import driving_rain as rain
from generator.values import rounded


@dataclass(frozen=True, slots=True)
class WallPlace:
    """Where a wall stands, as EN ISO 15927-3 asks: bearing it faces, terrain, height, hill, shelter, shape."""

    faces_deg: float
    terrain: str
    height_m: float
    slope: float
    place_on_slope: float
    shelter_m: float
    shape: str


def told(lines: Iterable[str], place: WallPlace, words: dict[str, str]) -> list[str]:
    """The driving rain at the airfield and on the wall, with what limits it. Raises ValueError for bad input."""
    read = rain.weather_rows(lines)
    airfield = rain.airfield_index(read.hours, place.faces_deg)
    wall = rain.wall_index(
        airfield,
        roughness=rain.roughness_factor(place.terrain, place.height_m),  # type: ignore[arg-type]
        topography=rain.topography_factor(place.slope, place.place_on_slope),
        obstruction=rain.obstruction_factor(place.shelter_m),
        wall=rain.wall_factor(place.shape),
    )
    found = [_said(words["rain-bad"], row=str(bad.row), why=bad.why) for bad in read.bad]
    found.append(_said(words["rain-airfield"], faces=f"{place.faces_deg:g}", **_figures(airfield)))
    found.append(_said(words["rain-wall"], **{"class": rain.uk_exposure_class(wall)}, **_figures(wall)))
    if airfield.few_years:
        found.append(_said(words["rain-few"], years=f"{airfield.years_nr:g}"))
    return [*found, words["rain-position"]]


def _figures(index: rain.DrivingRain) -> dict[str, str]:
    return {"annual": str(rounded(index.annual_l_per_m2, 0)), "spell": str(rounded(index.spell_l_per_m2, 1))}


def _said(text: str, **fills: str) -> str:
    for key, value in fills.items():
        text = text.replace(f"{{{key}}}", value)
    return text
