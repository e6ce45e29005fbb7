"""What columns of published weather files are called, and in which units they stand; a unit is never guessed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final, Literal, get_args

from generator.values import Struct

Quantity = Literal["time", "hour", "wind", "from", "rain", "least", "greatest", "temperature"]
QUANTITIES: Final[tuple[Quantity, ...]] = get_args(Quantity)

_NAMES: Final[Mapping[Quantity, str]] = {
    "time": "time date day datetime date_time timestamp valid ob_time mess_datum datum obs_time date/time",
    "hour": "hour hr",
    "wind": "wind wind_speed windspeed wspd ff sknt mean_wind_speed wind_speed_10m windspeed_10m wind_spd",
    "from": "from wind_direction wind_dir wdir winddir dd drct mean_wind_dir wind_direction_10m winddirection_10m",
    "rain": "rain rainfall precipitation precip prcp r1 rr prcp_amt p01m p01i precipitation_amount",
    "least": "min least tmin temp_min min_temp tnk tn temperature_2m_min min_air_temp minimum_temperature",
    "greatest": "max greatest tmax temp_max max_temp txk tx temperature_2m_max max_air_temp maximum_temperature",
    "temperature": "temp temperature tt_tu air_temperature air_temp temperature_2m dry_bulb tmpf tmpc",
}
"""Names of columns in plain form, parted by spaces (from memory of what services publish, where not this project's)."""

_PUBLISHED: Final[Mapping[str, str]] = {
    "ff": "m/s", "mean_wind_speed": "kn", "sknt": "kn", "wspd": "km/h", "r1": "mm", "prcp": "mm", "prcp_amt": "mm",
    "p01m": "mm", "p01i": "in", "tnk": "c", "txk": "c", "tt_tu": "c", "tn": "tenths", "tx": "tenths",
    "air_temperature": "c", "tmpf": "f", "tmpc": "c", "temp_min": "c", "temp_max": "c",
}  # fmt: skip
"""Columns whose unit their publisher's own description tells (from memory)."""

_SPELT: Final[Mapping[str, str]] = {
    "m/s": "m_per_s ms mps m_s ms-1", "km/h": "km_per_h kmh kph km_h kmph", "mph": "mi/h miles_per_hour",
    "kn": "kt kts knot knots", "mm": "millimetres millimeters", "in": "inch inches",
    "c": "°c degc deg_c celsius", "f": "°f degf deg_f fahrenheit", "tenths": "0.1_°c 0.1°c 0.1_c tenths_c",
    "deg": "° degree degrees degt deg_true",
}  # fmt: skip
UNITS: Final = {spelt: unit for unit, words in _SPELT.items() for spelt in (unit, *words.split())}
FACTORS: Final[Mapping[str, tuple[float, float]]] = {
    "m/s": (1.0, 0.0), "km/h": (1 / 3.6, 0.0), "mph": (0.44704, 0.0), "kn": (1852 / 3600, 0.0),
    "mm": (1.0, 0.0), "in": (25.4, 0.0), "c": (1.0, 0.0), "f": (1 / 1.8, -32 / 1.8), "tenths": (0.1, 0.0),
    "deg": (1.0, 0.0),
}  # fmt: skip
"""What a figure in a unit is multiplied by, and what is then added, to come to m/s, mm or degrees C."""

_OF: Final[Mapping[Quantity, tuple[str, ...]]] = {
    "time": (), "hour": (), "wind": ("m/s", "km/h", "mph", "kn"), "from": ("deg",), "rain": ("mm", "in"),
    "least": ("c", "f", "tenths"), "greatest": ("c", "f", "tenths"), "temperature": ("c", "f", "tenths"),
}  # fmt: skip
_KNOWN: Final[Mapping[str, Quantity]] = {name: kind for kind, names in _NAMES.items() for name in names.split()}
_IN_BRACKETS: Final = re.compile(r"\s*[\[(]([^\])]*)[\])]\s*\Z")
_COMPASS: Final = ("n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw")
_WORDS: Final = {"north": "n", "east": "e", "south": "s", "west": "w"}


class Column(Struct, frozen=True):
    """A column of a file: what it holds, its name there, and its unit; "" where none is told."""

    quantity: Quantity
    name: str
    unit: str


def units_of(quantity: Quantity) -> tuple[str, ...]:
    """The units in which a quantity can stand."""
    return _OF[quantity]


def column_of(name: str) -> Column | None:
    """What a heading says that its column holds, with the unit that it or its publisher tells; None for others."""
    bare, unit = name.strip().strip('"'), ""
    if found := _IN_BRACKETS.search(bare):
        bare, unit = bare[: found.start()], UNITS.get(_plain(found[1]), "")
    plain = _plain(bare)
    if plain not in _KNOWN:
        for spelt in sorted(UNITS, key=len, reverse=True):
            if plain.endswith(f"_{spelt}") and plain.removesuffix(f"_{spelt}") in _KNOWN:
                plain, unit = plain.removesuffix(f"_{spelt}"), unit or UNITS[spelt]
                break
    quantity = _KNOWN.get(plain)
    return None if quantity is None else Column(quantity, name.strip(), unit or _PUBLISHED.get(plain, ""))


def _plain(text: str) -> str:
    return re.sub(r"[\s-]+", "_", text.strip().casefold())


def bearing(text: str) -> float | None:
    """A bearing in degrees, or one of the sixteen points of the compass by letters or words; None for neither.

    >>> bearing("NNE"), bearing("south-west"), bearing("225"), bearing("VRB")
    (22.5, 225.0, 225.0, None)
    """
    plain = text.strip().casefold()
    letters = "".join(_WORDS.get(word, word) for word in re.findall("north|east|south|west|[a-z]+", plain))
    if letters in _COMPASS and not re.search("[0-9]", plain):
        return _COMPASS.index(letters) * 360 / len(_COMPASS)
    try:
        return float(plain)
    except ValueError:
        return None
