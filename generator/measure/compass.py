"""Which way a wall faces, as it was answered in words, in degrees from north through east."""

from __future__ import annotations

import re
from typing import Final

from generator.values import Struct

POINTS: Final = (
    "n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw",
)  # fmt: skip
"""The sixteen points of the compass, 22.5 degrees apart."""

_ROUND: Final = re.compile(r"all( four)?( sides| faces| round| around)?|every side|four sides")
_BETWEEN: Final = re.compile(r"\s*(?:,|;|/|&|\+|\band\b)\s*")
_WORDS: Final = re.compile(r"north|south|east|west")
_ABOUT: Final = re.compile(r"\b(?:facing|faces|the|to|towards?)\b")
_DEGREES: Final = re.compile(r"(\d{1,3})\s*(?:°|degrees|deg)")


class Facing(Struct, frozen=True):
    """The ways that a wall faces, in degrees; `all_round` of what stands free on all sides, and has none."""

    degrees: tuple[float, ...] = ()
    all_round: bool = False


def facing(answer: str) -> Facing | None:
    """The ways that an answer such as `south-east` or `north and west` tells; None where any part of it tells none.

    Points by name or by letters, bearings with their sign of degrees, and `all sides` are understood.
    """
    told = answer.strip().lower().rstrip(".")
    if _ROUND.fullmatch(told):
        return Facing(all_round=True)
    found = [_way(part) for part in _BETWEEN.split(told)]
    ways = tuple(dict.fromkeys(way for way in found if way is not None))
    return Facing(ways) if ways and None not in found else None


def _way(text: str) -> float | None:
    bearing = _DEGREES.fullmatch(text.strip())
    if bearing is not None:
        degrees = float(bearing[1])
        return degrees % 360 if degrees <= 360 else None
    bare = re.sub(r"[\s.\-‐‑–]", "", _ABOUT.sub(" ", text))
    letters = _WORDS.sub(lambda word: word[0][0], bare)
    return POINTS.index(letters) * 22.5 if letters in POINTS else None
