"""Driving rain on a wall from a weather file, told to the specifier who has to answer how exposed a wall is."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from itertools import pairwise
from statistics import median_low
from typing import Final

from generator.asking.weather.columns import Quantity, bearing
from generator.asking.weather.file import MISSING, BadRow, WeatherFile, lacking, refused, said
from generator.files.limits import MOST_TOLD
from generator.lime import driving_rain as rain
from generator.lime.limits import checked
from generator.values import Struct, plain, rounded

HOURS_OF_A_YEAR: Final = 8_760
WANTED: Final[tuple[Quantity, ...]] = ("time", "wind", "from", "rain")
_HOUR: Final = datetime.timedelta(hours=1)
_BY_THE_HOUR: Final = "give a row for each hour: the mean of its wind and all of its rain"


class WallPlace(Struct, frozen=True):
    """Where a wall stands, as EN ISO 15927-3 asks: bearing it faces, terrain, height, hill, shelter, shape."""

    faces_deg: float
    terrain: str
    height_m: float
    slope: float
    place_on_slope: float
    shelter_m: float
    shape: str

    def factors(self) -> dict[str, float]:
        """What the wall's place makes of the rain at the airfield. Raises ValueError for what is no place."""
        return {
            "roughness": rain.roughness_factor(self.terrain, self.height_m),  # type: ignore[arg-type]
            "topography": rain.topography_factor(self.slope, self.place_on_slope),
            "obstruction": rain.obstruction_factor(self.shelter_m),
            "wall": rain.wall_factor(self.shape),
        }


class WeatherRows(Struct, frozen=True):
    """The hours read from a weather file, the rows left out, and how many hours have no wind, bearing or rain."""

    hours: tuple[rain.Hour, ...]
    bad: tuple[BadRow, ...] = ()
    missing_nr: int = 0


def hours_of(read: WeatherFile) -> WeatherRows:
    """The hours of wind and rain in a weather file. Raises `InputInvalid` where it has none, or steps that are none."""
    found = rows_of(read)
    if not found.hours:
        why = f"; row {found.bad[0].row}: {found.bad[0].why}" if found.bad else ""
        raise refused(read.path, f"has no hour of weather that can be used{why}", "write an hour a line")
    if strange := _strange_steps(found.hours):
        raise refused(read.path, *strange)
    return found


def rows_of(read: WeatherFile) -> WeatherRows:
    """The rows of wind and rain in a weather file. Raises `InputInvalid` where it lacks their columns.

    A row is bad where a value is no number, outside the limits (0 to 75 m/s, 0 to 360 degrees, 0 to 400 mm), or
    earlier than the row before; it is told, never guessed. In an hour without wind the bearing says nothing.
    """
    if lacks := lacking(read, WANTED):
        raise lacks
    hours: list[rain.Hour] = []
    bad: list[BadRow] = []
    missing = 0
    for number, cells in read.rows:
        try:
            hour = _hour(read, cells, hours[-1].when if hours else None)
        except ValueError as error:
            bad.append(BadRow(number, str(error)))
            continue
        if hour is None:
            missing += 1
        else:
            hours.append(hour)
    return WeatherRows(tuple(hours), tuple(bad), missing)


def _hour(read: WeatherFile, cells: tuple[str, ...], after: datetime.datetime | None) -> rain.Hour | None:
    when = read.when(cells)
    if after is not None and when < after:
        raise ValueError(f"time is {when}: valid from {after} up")
    wind, fall, bears = read.value(cells, "wind"), read.value(cells, "rain"), read.cell(cells, "from")
    if wind is None or fall is None or (wind and bears.casefold() in MISSING):
        return None
    degrees = bearing(bears) if wind else 0.0
    if degrees is None:
        raise ValueError(f"from is '{bears}': valid from 0 to 360, or a point of the compass such as NNE")
    return rain.Hour(
        when,
        checked("wind_m_per_s", wind, *rain.WIND_LIMITS_M_PER_S),
        checked("from_deg", degrees, 0.0, 360.0),
        checked("rain_mm", fall, *rain.RAIN_LIMITS_MM),
    )


def _strange_steps(hours: Sequence[rain.Hour]) -> tuple[str, str] | None:
    """What is wrong with the times of a record that is not one of hours, each once, and what to do.

    Hours may be missing here and there; each counts once, so a doubled one, a half or three in one would count falsely.
    """
    steps = [(later.when, later.when - hour.when) for hour, later in pairwise(hours)]
    if doubled := [when for when, step in steps if not step]:
        more = f", and {len(doubled) - 1:,} other hours twice" if doubled[1:] else ""
        to_do = "give each hour once, in a time that has no summer time"
        return f"gives {doubled[0].isoformat()} twice{more}", to_do
    parted = next(((when, step) for when, step in steps if step % _HOUR), None)
    if parted is not None:
        return f"comes to {parted[0].isoformat()} {parted[1]} after the row before", _BY_THE_HOUR
    usual = median_low(step for _, step in steps) if steps else _HOUR
    return (f"has rows {usual} apart", _BY_THE_HOUR) if usual != _HOUR else None


def told(read: WeatherRows, place: WallPlace, words: Mapping[str, str]) -> list[str]:
    """The driving rain at the airfield and on the wall, with what limits it.

    Raises ValueError for a place that is none.
    """
    factors = place.factors()
    airfield = rain.airfield_index(read.hours, place.faces_deg)
    wall = rain.wall_index(airfield, **factors)
    found = [said(words["rain-bad"], row=str(bad.row), why=bad.why) for bad in read.bad[:MOST_TOLD]]
    if read.bad[MOST_TOLD:]:
        found.append(said(words["rain-bad-more"], count=f"{len(read.bad) - MOST_TOLD:,}"))
    if read.missing_nr:
        found.append(said(words["rain-missing"], count=f"{read.missing_nr:,}"))
    found.append(said(words["rain-airfield"], faces=f"{place.faces_deg:g}", **_figures(airfield)))
    found.append(said(words["rain-wall"], **{"class": rain.uk_exposure_class(wall)}, **_figures(wall)))
    if len(read.hours) < HOURS_OF_A_YEAR:
        found.append(said(words["rain-short"], hours=plain(rounded(len(read.hours)))))
    if airfield.few_years:
        found.append(said(words["rain-few"], years=f"{airfield.years_nr:g}"))
    return [*found, words["rain-position"]]


def _figures(index: rain.DrivingRain) -> dict[str, str]:
    return {"annual": str(rounded(index.annual_l_per_m2, 0)), "spell": str(rounded(index.spell_l_per_m2, 1))}
