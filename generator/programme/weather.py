"""Driving rain on a wall from a weather file, told to the specifier who has to answer how exposed a wall is."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from statistics import median_low
from typing import Final

from generator.errors import InputInvalid, Mark, Problem
from generator.files.limits import MOST_TOLD, MOST_WEATHER_BYTES
from generator.lime import driving_rain as rain
from generator.values import plain, rounded

HOURS_OF_A_YEAR: Final = 8_760
_HOUR: Final = datetime.timedelta(hours=1)
_BY_THE_HOUR: Final = "give a row for each hour: the mean of its wind and all of its rain"


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

    def factors(self) -> dict[str, float]:
        """What the wall's place makes of the rain at the airfield. Raises ValueError for what is no place."""
        return {
            "roughness": rain.roughness_factor(self.terrain, self.height_m),  # type: ignore[arg-type]
            "topography": rain.topography_factor(self.slope, self.place_on_slope),
            "obstruction": rain.obstruction_factor(self.shelter_m),
            "wall": rain.wall_factor(self.shape),
        }


def read_weather(path: Path) -> rain.WeatherRows:
    """The hours of a weather file. Raises `InputInvalid` where it cannot be read, or holds none."""
    text = weather_text(path)
    try:
        read = rain.weather_rows(text.splitlines())
    except ValueError as error:
        raise refused(path, str(error), f"start it with the line '{','.join(rain.COLUMNS)}'") from None
    if not read.hours:
        why = f"; row {read.bad[0].row}: {read.bad[0].why}" if read.bad else ""
        raise refused(path, f"has no hour of weather that can be used{why}", "write an hour a line")
    if strange := _strange_steps(read.hours):
        raise refused(path, *strange)
    return read


def weather_text(path: Path) -> str:
    """The text of a weather file. Raises `InputInvalid` where it cannot be read or is too large."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(MOST_WEATHER_BYTES + 1)
        if len(raw) > MOST_WEATHER_BYTES:
            raise refused(path, f"is larger than {MOST_WEATHER_BYTES:,} bytes, a century of hours", "part it by years")
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refused(path, "is not UTF-8 text", "save it as CSV in UTF-8") from None
    except OSError as error:
        reason = f"cannot be read ({error.strerror or error})"
        raise refused(path, reason, "check the path and its permissions") from None


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


def refused(path: Path, what: str, to_do: str) -> InputInvalid:
    """The mistake of a weather file as a whole."""
    return InputInvalid([Problem(Mark(str(path)), what, to_do)])


def told(read: rain.WeatherRows, place: WallPlace, words: dict[str, str]) -> list[str]:
    """The driving rain at the airfield and on the wall, with what limits it.

    Raises ValueError for a place that is none.
    """
    factors = place.factors()
    airfield = rain.airfield_index(read.hours, place.faces_deg)
    wall = rain.wall_index(airfield, **factors)
    found = [said(words["rain-bad"], row=str(bad.row), why=bad.why) for bad in read.bad[:MOST_TOLD]]
    if read.bad[MOST_TOLD:]:
        found.append(said(words["rain-bad-more"], count=f"{len(read.bad) - MOST_TOLD:,}"))
    found.append(said(words["rain-airfield"], faces=f"{place.faces_deg:g}", **_figures(airfield)))
    found.append(said(words["rain-wall"], **{"class": rain.uk_exposure_class(wall)}, **_figures(wall)))
    if len(read.hours) < HOURS_OF_A_YEAR:
        found.append(said(words["rain-short"], hours=plain(rounded(len(read.hours)))))
    if airfield.few_years:
        found.append(said(words["rain-few"], years=f"{airfield.years_nr:g}"))
    return [*found, words["rain-position"]]


def _figures(index: rain.DrivingRain) -> dict[str, str]:
    return {"annual": str(rounded(index.annual_l_per_m2, 0)), "spell": str(rounded(index.spell_l_per_m2, 1))}


def said(text: str, **fills: str) -> str:
    """Words with their places filled."""
    for key, value in fills.items():
        text = text.replace(f"{{{key}}}", value)
    return text
