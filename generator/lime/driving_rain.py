"""Driving rain by the hourly method of EN ISO 15927-3: airfield and wall indices, and the British classes.

The limits of the classes are for a *wall* (terrain, topography, obstruction and shape counted), never for an
airfield, where the same rain reads several times higher; a result says which it is. No index overrides
position: a parapet, chimney, sill, wall head or splashed base is severely wetted in any climate, and the
index of a wall never lets one be treated as sheltered. Outside the method: sheer cliffs and gorges, climates
with over a quarter of the rain convective, much snow or hail (R, the standard's scope). The standard's full
text could not be read. Confidence of a source: R read, M from memory, X computed.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from statistics import fmean, stdev
from typing import Final, Literal

from generator.lime.limits import checked, positive
from generator.values import Struct

KERNEL: Final = 2.0 / 9.0  # EN ISO 15927-3; in three public codes (R)
KERNEL_EXPONENT: Final = 8.0 / 9.0  # the same (R); Lacy's 0.222 and 0.88 give 2 % less at 10 mm/h
WET_L_PER_M2: Final = 0.001  # an hour with less is dry, Met Office computation record (R)
DRY_HOURS: Final = 96  # at least so many dry hours end a spell (R)
YEARS_WANTED: Final = 10  # at least; 20 to 30 are better (M, ten also R)
RETURN_YEARS: Final = 3
PERCENTILE: Final = 67.0  # what the record calls met once in three years (R)
EULER: Final = 0.5772156649015329

WIND_LIMITS_M_PER_S: Final = (0.0, 75.0)  # an hour's mean; a faster one is a fault of the instrument
RAIN_LIMITS_MM: Final = (0.0, 400.0)  # an hour's fall; the greatest ever measured is just above 300 (M)

Place = Literal["airfield", "wall"]
Terrain = Literal["I", "II", "III", "IV"]
ExposureClass = Literal["sheltered", "moderate", "severe", "very-severe"]
TERRAINS: Final[dict[str, tuple[float, float, float]]] = {  # K_R, z0 m, least z m; a research script (R)
    "I": (0.17, 0.01, 2.0),
    "II": (0.19, 0.05, 4.0),
    "III": (0.22, 0.3, 8.0),
    "IV": (0.24, 1.0, 16.0),
}
# Distance to an obstruction of like height from which each factor holds (M).
OBSTRUCTIONS: Final = (
    (4.0, 0.2), (8.0, 0.3), (15.0, 0.4), (25.0, 0.5), (40.0, 0.6),
    (60.0, 0.7), (80.0, 0.8), (100.0, 0.9), (120.0, 1.0),
)  # fmt: skip
# Wall factors by shape (M, low); that the standard has six shapes, R. The last has two parts.
WALL_SHAPES: Final[dict[str, float]] = {
    "two-storey eaves": 0.3,
    "two-storey gable": 0.4,
    "three-storey eaves": 0.4,
    "three-storey gable": 0.3,
    "two-storey flat roof": 0.4,
    "multi-storey, top 2.5 m": 0.5,
    "multi-storey, below": 0.2,
}
# Approved Document C, Diagram 12 (R): a class starts at its limit.
CLASS_STARTS_L_PER_M2: Final[tuple[tuple[float, ExposureClass], ...]] = (
    (100.0, "very-severe"),
    (56.5, "severe"),
    (33.0, "moderate"),
    (0.0, "sheltered"),
)


class Hour(Struct, frozen=True):
    """One hour of a weather record: its mean wind, the bearing the wind comes from, and the rain in it."""

    when: datetime.datetime
    wind_m_per_s: float
    from_deg: float
    rain_mm: float


class Spell(Struct, frozen=True):
    """One spell of driving rain: the hour it began and all it brought."""

    began: datetime.datetime
    total_l_per_m2: float


class DrivingRain(Struct, frozen=True):
    """Driving rain on a face: an average year, a spell met once in 3 years, where, years of record."""

    place: Place
    annual_l_per_m2: float
    spell_l_per_m2: float
    years_nr: int

    @property
    def few_years(self) -> bool:
        """Whether fewer years were given than the method wants, so that the result must carry a warning."""
        return self.years_nr < YEARS_WANTED


def hourly_l_per_m2(wind_m_per_s: float, rain_mm: float, off_wall_deg: float) -> float:
    """The driving rain of one hour on an upright face at an airfield.

        I = 2/9 * v * r^(8/9) * cos(angle),   0 where the wind comes from behind

    l/m2. The angle lies between the wind's bearing and the bearing that the wall faces. Valid for 0 to 75 m/s
    and 0 to 400 mm; ValueError outside. Source: EN ISO 15927-3, as public codes have it (R). Worked: 10 m/s,
    2 mm, head-on 4.1150; at 60 degrees 2.0575.

    >>> round(hourly_l_per_m2(10.0, 2.0, 0.0), 4), round(hourly_l_per_m2(10.0, 2.0, 60.0), 4)
    (4.115, 2.0575)
    """
    wind = checked("wind_m_per_s", wind_m_per_s, *WIND_LIMITS_M_PER_S)
    rain = checked("rain_mm", rain_mm, *RAIN_LIMITS_MM)
    return KERNEL * wind * math.pow(rain, KERNEL_EXPONENT) * max(0.0, math.cos(math.radians(off_wall_deg)))


def spells(hours: Iterable[Hour], faces_deg: float) -> tuple[Spell, ...]:
    """The spells of driving rain on a face, in order.

        wet hours (0.001 l/m2 up) belong together until 96 or more dry hours part them

    l/m2 by spell. Valid for hours in order of time, a repeated hour allowed; ValueError otherwise. An hour
    that is missing counts as dry. Source: EN ISO 15927-3 by a Met Office computation record (R).

    >>> noon = datetime.datetime(2013, 1, 1, 12)
    >>> late = noon + datetime.timedelta(hours=97)
    >>> [round(spell.total_l_per_m2, 3) for spell in spells([Hour(t, 5, 0, 1) for t in (noon, late)], 0.0)]
    [1.111, 1.111]
    """
    longest_gap = datetime.timedelta(hours=DRY_HOURS)
    found: list[Spell] = []
    last_wet: datetime.datetime | None = None
    for hour in _in_order(hours):
        index = hourly_l_per_m2(hour.wind_m_per_s, hour.rain_mm, hour.from_deg - faces_deg)
        if index < WET_L_PER_M2:
            continue
        if last_wet is None or hour.when - last_wet > longest_gap:
            found.append(Spell(hour.when, index))
        else:
            found[-1] = Spell(found[-1].began, found[-1].total_l_per_m2 + index)
        last_wet = hour.when
    return tuple(found)


def _in_order(hours: Iterable[Hour]) -> tuple[Hour, ...]:
    rows = tuple(hours)
    for before, after in pairwise(rows):
        if after.when < before.when:
            raise ValueError(f"hour {after.when} follows {before.when}: valid in order of time")
    return rows


def gumbel_once_in_3_years(yearly_largest: Sequence[float]) -> float:
    """The value met once in three years, by a Gumbel law fitted through mean and deviation.

        scale = s * sqrt(6) / pi;   value = mean - 0.57722 * scale + 0.90272 * scale

    In the unit given. Valid for 2 values up, unsound below ten; ValueError outside. Source: law named by the
    Met Office record (R), moments X. Worked: 41, 55, 38, 62, 47, 50, 71, 44, 58, 49 give 54.07.

    >>> round(gumbel_once_in_3_years([41, 55, 38, 62, 47, 50, 71, 44, 58, 49]), 2)
    54.07
    """
    if len(yearly_largest) < 2:
        raise ValueError(f"{len(yearly_largest)} years: valid from 2 up")
    scale = stdev(yearly_largest) * math.sqrt(6.0) / math.pi
    reduced = -math.log(-math.log(1.0 - 1.0 / RETURN_YEARS))
    return fmean(yearly_largest) + (reduced - EULER) * scale


def percentile_once_in_3_years(yearly_largest: Sequence[float]) -> float:
    """The value met once in three years as the 67th percentile, straight between the ranked values.

        place = 0.67 * (n - 1) in rank order

    In the unit given. Valid for 1 value up, unsound below ten; ValueError outside. Source: Met Office record
    (R), ranks X. Worked: 41, 55, 38, 62, 47, 50, 71, 44, 58, 49 give 55.09.

    >>> round(percentile_once_in_3_years([41, 55, 38, 62, 47, 50, 71, 44, 58, 49]), 2)
    55.09
    """
    if not yearly_largest:
        raise ValueError("0 years: valid from 1 up")
    ranked = sorted(yearly_largest)
    place = PERCENTILE / 100.0 * (len(ranked) - 1)
    below = math.floor(place)
    above = min(below + 1, len(ranked) - 1)
    return ranked[below] + (place - below) * (ranked[above] - ranked[below])


def airfield_index(
    hours: Iterable[Hour], faces_deg: float, by: Literal["gumbel", "percentile"] = "gumbel"
) -> DrivingRain:
    """The driving rain on a face at the airfield where the weather was recorded.

        annual = sum of hours / years;   spell = once in 3 years of each year's largest

    l/m2. Years are those of the record, dry hours and all; a spell belongs to the year it began in. The
    largest spell stands where only one year is given. Years are counted whole, so a part year or missing
    hours read low. Valid for 1 hour up, in order, and a face to 0 to 360 degrees; ValueError otherwise; under
    ten years it carries a warning (`few_years`). Source: EN ISO 15927-3 (R by its method).

    >>> one = airfield_index([Hour(datetime.datetime(2013, 1, 1, 12), 5.0, 90.0, 1.0)], 90.0)
    >>> one.place, round(one.annual_l_per_m2, 4), one.few_years
    ('airfield', 1.1111, True)
    """
    if by not in ("gumbel", "percentile"):
        raise ValueError(f"by is {by}: valid gumbel, percentile")
    checked("faces_deg", faces_deg, 0.0, 360.0)
    rows = _in_order(hours)
    largest = {hour.when.year: 0.0 for hour in rows}
    if not largest:
        raise ValueError("0 hours of weather: valid from 1 up")
    for spell in spells(rows, faces_deg):
        largest[spell.began.year] = max(largest[spell.began.year], spell.total_l_per_m2)
    total = sum(hourly_l_per_m2(row.wind_m_per_s, row.rain_mm, row.from_deg - faces_deg) for row in rows)
    yearly = list(largest.values())
    once = gumbel_once_in_3_years if by == "gumbel" and len(yearly) > 1 else percentile_once_in_3_years
    return DrivingRain("airfield", total / len(yearly), once(yearly), len(yearly))


def roughness_factor(terrain: Terrain, height_m: float) -> float:
    """The terrain roughness factor C_R at a height above ground.

        C_R = K_R * ln(z / z0),   z not below the terrain's least

    A ratio. Terrain I open sea or flat country, II farmland, III suburb or wood, IV town. Valid to 200 m;
    ValueError outside. Source: EN ISO 15927-3 (R in a research script). Worked: II at 10 m 1.0067.

    >>> round(roughness_factor("II", 10.0), 4), round(roughness_factor("III", 5.0), 4)
    (1.0067, 0.7224)
    """
    if terrain not in TERRAINS:
        raise ValueError(f"terrain is {terrain}: valid {', '.join(TERRAINS)}")
    k_r, z0_m, least_m = TERRAINS[terrain]
    height = checked("height_m", positive("height_m", height_m), 0.0, 200.0)
    return k_r * math.log(max(height, least_m) / z0_m)


def topography_factor(slope: float, place_on_slope: float) -> float:
    """The topography factor C_T on or near a hill.

        1 below a slope of 0.05;   1 + 2 * s * slope to 0.3;   1 + 0.6 * s above

    A ratio. Slope is rise over run to windward; s, 0 to 1, is the standard's place on it, 1 at the crest.
    Valid for slopes of 0 to 2 (a cliff is out of scope); ValueError outside. Source: EN ISO 15927-3 (R).
    Worked: s 1, slope 0.2 gives 1.40.

    >>> topography_factor(0.2, 1.0)
    1.4
    """
    steep = checked("slope", slope, 0.0, 2.0)
    place = checked("place_on_slope", place_on_slope, 0.0, 1.0)
    if steep < 0.05:
        return 1.0
    return 1.0 + 2.0 * place * min(steep, 0.3)


def obstruction_factor(distance_m: float) -> float:
    """The obstruction factor O by the distance to what stands before the wall.

        0.2 from 4 m, 0.3 from 8, 0.4 from 15, 0.5 from 25, 0.6 from 40, 0.7 from 60, 0.8 from 80,
        0.9 from 100, 1.0 from 120 m up

    A ratio. Valid from 4 m; ValueError nearer. Source: EN ISO 15927-3 (M). Worked: 20 m gives 0.4.

    >>> obstruction_factor(20.0), obstruction_factor(500.0)
    (0.4, 1.0)
    """
    distance = checked("distance_m", distance_m, OBSTRUCTIONS[0][0])
    return max(factor for start_m, factor in OBSTRUCTIONS if distance >= start_m)


def wall_factor(shape: str) -> float:
    """The wall factor W of one of the standard's wall shapes (the names of `WALL_SHAPES`).

        W from the table

    A ratio. Valid for the seven names; ValueError for another. Source: EN ISO 15927-3 (M, low). Worked: the
    gable of two storeys has 0.4.

    >>> wall_factor("two-storey gable")
    0.4
    """
    if shape not in WALL_SHAPES:
        raise ValueError(f"shape is {shape}: valid {'; '.join(WALL_SHAPES)}")
    return WALL_SHAPES[shape]


def wall_index(
    airfield: DrivingRain, *, roughness: float, topography: float, obstruction: float, wall: float
) -> DrivingRain:
    """The driving rain on a wall, from that at the airfield.

        index = airfield index * C_R * C_T * O * W

    l/m2. Valid for an airfield result and factors C_R 0 to 2, C_T 1 to 1.6, O 0 to 1, W 0 to 1; ValueError
    otherwise. Can be 2 to 4 times what is measured on walls (R). Source: EN ISO 15927-3 (R). Worked: 551.35
    a year and 137.85 a spell, by 0.7224 * 1 * 0.4 * 0.4, are 63.73 and 15.93.

    >>> here = DrivingRain("airfield", 551.35, 137.85, 1)
    >>> there = wall_index(here, roughness=0.7224, topography=1.0, obstruction=0.4, wall=0.4)
    >>> there.place, round(there.annual_l_per_m2, 2), round(there.spell_l_per_m2, 2)
    ('wall', 63.73, 15.93)
    """
    if airfield.place != "airfield":
        raise ValueError(f"place is {airfield.place}: valid airfield, for the factors are taken once")
    factor = checked("roughness", roughness, 0.0, 2.0) * checked("topography", topography, 1.0, 1.6)
    factor *= checked("obstruction", obstruction, 0.0, 1.0) * checked("wall", wall, 0.0, 1.0)
    return DrivingRain("wall", airfield.annual_l_per_m2 * factor, airfield.spell_l_per_m2 * factor, airfield.years_nr)


def uk_exposure_class(rain: DrivingRain) -> ExposureClass:
    """The British exposure class of a wall, by its spell index.

        sheltered below 33;   moderate from 33;   severe from 56.5;   very severe from 100 l/m2

    Each class starts at its limit. Valid for a wall's result alone, from 0 up; ValueError otherwise. Never
    overrides position on the building. Source: Approved Document C, Diagram 12 (R). Worked: 15.93 is
    sheltered.

    >>> uk_exposure_class(DrivingRain("wall", 63.73, 15.93, 1))
    'sheltered'
    """
    if rain.place != "wall":
        raise ValueError(f"place is {rain.place}: valid wall, for the limits are those of a wall")
    spell = checked("spell_l_per_m2", rain.spell_l_per_m2, 0.0)
    return next(name for start, name in CLASS_STARTS_L_PER_M2 if spell >= start)
