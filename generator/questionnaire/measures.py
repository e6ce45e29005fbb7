"""Measures as people write them: fractions, feet and inches, areas by their sides less openings, and rough figures.

Only what can be read in one way is taken; what can be read in several comes back as those to choose from.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any, Final

from generator.questionnaire.customary import INCHES_PER_FT, L_PER_CU_FT, L_PER_GAL, MM_PER_INCH, QT_PER_GAL, as_decimal
from generator.values import Struct

_FRACTIONS: Final = {"¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅓": (1, 3), "⅔": (2, 3), "⅛": (1, 8), "⅜": (3, 8),
    "⅝": (5, 8), "⅞": (7, 8)}  # fmt: skip
_SIGNS: Final = "".join(_FRACTIONS)
_NUMBER: Final = (
    rf"(?:[0-9]{{1,9}}(?:[ -][0-9]{{1,3}}/[1-9][0-9]{{0,2}}|/[1-9][0-9]{{0,2}}|\.[0-9]{{1,6}})?[{_SIGNS}]?|[{_SIGNS}])"
)
# In millimetres.
_MM: Final[Mapping[str, Fraction]] = {
    "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000),
    "in": MM_PER_INCH, "ft": INCHES_PER_FT * MM_PER_INCH, "yd": 3 * INCHES_PER_FT * MM_PER_INCH,
}  # fmt: skip
_SPELT: Final = {
    "mm": "mm|millimet(?:re|er)s?", "cm": "cm|centimet(?:re|er)s?", "m": "m|met(?:re|er)s?",
    "in": 'in|ins|inch|inches|"|″|\'\'', "ft": "ft|foot|feet|'|′", "yd": "yd|yds|yards?",
}  # fmt: skip
_LENGTH: Final = "|".join(f"(?P<{name}>{spelt})" for name, spelt in _SPELT.items())
_ANY: Final = "|".join(spelt for spelt in _SPELT.values())
_QUANTITY: Final = re.compile(rf"(?P<number>{_NUMBER})\s*(?:(?P<unit>{_ANY})(?![^\W\d_]))?\s*", re.IGNORECASE)
_SQUARE: Final = re.compile(
    rf"(?P<number>{_NUMBER})\s*(?:sq\.?|square)?\s*(?P<unit>{_ANY})\s*(?:[2²]|squared)?\Z", re.IGNORECASE
)
_IS_SQUARE: Final = re.compile(r"sq|square|[2²]\Z", re.IGNORECASE)
_RANGE: Final = re.compile(
    r"(?P<low>.+?)\s*(?:–|—|\bto\b|(?<=[\w\"'″′¼½¾])\s*-\s*)\s*(?P<high>[^()]+?)\s*(?:\((?P<likely>[^()]+)\))?\Z"
)
_ABOUT: Final = re.compile(
    r"(?:about|around|approx(?:imately|\.)?|roughly|circa|c\.|ca\.|some|~|≈)\s*(?P<rest>.+)\Z", re.IGNORECASE
)
_COMMA: Final = re.compile(r"(?P<whole>[0-9]{1,3}),(?P<part>[0-9]{1,2})(?P<rest>\D*)\Z")
_TIMES: Final = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_TERMS: Final = re.compile(r"\s*(?:(?<=[\w²\"'″′¼½¾])\s+-\s+|−|\bless\b|\bminus\b)\s*", re.IGNORECASE)
_TERM: Final = re.compile(
    rf"(?:(?P<count>[0-9]{{1,3}})\s+)?(?:(?P<what>[^\W\d_]{{2,}}(?:\s[^\W\d_]{{2,}})*)(?:\s+of)?\s+)?(?P<sides>{_NUMBER}.*)\Z"
)
_PLACES: Final = {"mm": 1, "m": 3, "m²": 2}
# In litres: cubic feet, US gallons and quarts.
_LITRES: Final = {"cu ft": L_PER_CU_FT, "gal": L_PER_GAL, "qt": L_PER_GAL / QT_PER_GAL}
_VOLUME: Final = re.compile(
    rf"(?P<number>{_NUMBER})\s*(?:(?P<cu>cu\.? ?ft|cubic f(?:ee|oo)t)|(?P<gal>gal(?:lons?)?)|(?P<qt>qt|quarts?))\Z",
    re.IGNORECASE,
)
CUSTOMARY: Final = re.compile(
    r"[0-9]\s*(?:(?:(?:sq|cu)\.?|square|cubic) ?)?(?:in|ins|inch|inches|ft|foot|feet|yds?|yards?|gal|gallons?"
    r"|qt|quarts?|[\"'″′])(?![A-Za-z])"
)
"""What tells that a number is of customary units; ECMA's patterns read it alike."""
MEASURED: Final = (*_PLACES, "l")
"""The units in which such a number is read."""
SPREADS: Final = (Fraction(1, 5), Fraction(1, 2))
"""How far a rough figure may lie from what is meant, of itself: what is offered to choose from."""


class Ways(Struct, frozen=True):
    """Several ways in which a line can be read, each as answers spell it."""

    ways: tuple[str, ...]
    about: str = ""


class Opening(Struct, frozen=True):
    """Openings of one size in a face, in metres."""

    width_m: str
    height_m: str
    count_nr: int


class Face(Struct, frozen=True):
    """A face by its sides, m², and the openings to be taken off it."""

    area_m2: str
    openings: tuple[Opening, ...] = ()


def measured(unit: str, kind: str, text: str) -> str | Ways | None:
    """A number or a range in a unit of length or area; None where this is none that is read here."""
    comma = _COMMA.match(text)
    if comma:
        return _with_a_comma(comma, kind)
    about = _ABOUT.match(text)
    if about:
        return _about(unit, kind, about["rest"])
    if unit == "l" and (volume := _VOLUME.match(text)):
        return _spelt(_litres(volume), 3)
    if unit not in _PLACES:
        return _one(unit, text) if "/" in text or any(sign in text for sign in _SIGNS) else None
    single = _one(unit, text)
    return single if single is not None else _ranged(unit, text)


def _with_a_comma(found: re.Match[str], kind: str) -> Ways:
    decimal = f"{found['whole']}.{found['part']}"
    low, high = sorted((int(found["whole"]), int(found["part"])))
    return Ways((decimal, f"{low} - {high}") if kind == "range" and low != high else (decimal,))


def _about(unit: str, kind: str, text: str) -> Ways | None:
    """A rough figure: how far it may be off is asked back, and never taken for granted."""
    found = _one(unit, text)
    if found is None:
        return None
    value = Fraction(found)
    if kind != "range":
        return Ways((found,), found)
    spreads = tuple(f"{_spelt(value * (1 - off), 2)} - {_spelt(value * (1 + off), 2)} ({found})" for off in SPREADS)
    return Ways((*spreads, found), found)


def _ranged(unit: str, text: str) -> str | None:
    found = _RANGE.match(text)
    if found is None:
        return None
    pieces = [found["low"], found["high"], *([found["likely"]] if found["likely"] else [])]
    named = next(
        (match["unit"] for piece in reversed(pieces[:2]) if (match := _QUANTITY.fullmatch(piece)) and match["unit"]), ""
    )
    each = [_one(unit, piece if _has_unit(piece) else f"{piece} {named}".strip()) for piece in pieces]
    if any(one is None for one in each):
        return None
    low, high, *likely = (one for one in each if one is not None)
    return f"{low} - {high}" + (f" ({likely[0]})" if likely else "")


def _has_unit(piece: str) -> bool:
    match = _QUANTITY.fullmatch(piece)
    return match is None or bool(match["unit"])


def _one(unit: str, text: str) -> str | None:
    """One number in a unit, from a number with any unit of its kind, or with none."""
    if re.fullmatch(_NUMBER, text):
        return _spelt(_value(text), 6)
    if unit == "m²":
        square = _SQUARE.match(text)
        if square is None or not _IS_SQUARE.search(text[len(square["number"]) :]):
            return None
        side = _MM[_unit_named(square["unit"])] / 1000
        return _spelt(_value(square["number"]) * side * side, _PLACES[unit])
    if unit not in ("mm", "m"):
        return None
    length = _length_mm(text)
    return None if length is None else _spelt(length / _MM[unit], _PLACES[unit])


def _litres(found: re.Match[str]) -> Fraction:
    """A volume in cubic feet, gallons or quarts as litres."""
    name = "cu ft" if found["cu"] else "gal" if found["gal"] else "qt"
    return _value(found["number"]) * _LITRES[name]


def _length_mm(text: str, usual: str = "") -> Fraction | None:
    """A length in mm, of feet and inches together too; None where a piece has no unit, and there is no usual one."""
    at, total, last = 0, Fraction(0), Fraction(0)
    while at < len(text):
        piece = _QUANTITY.match(text, at)
        if piece is None:
            return None
        named = _unit_named(piece["unit"]) if piece["unit"] else usual
        if not named or (last and _MM[named] >= last):
            return None
        total, last, at = total + _value(piece["number"]) * _MM[named], _MM[named], piece.end()
    return total or None


def _unit_named(spelt: str) -> str:
    found = re.fullmatch(_LENGTH, spelt, re.IGNORECASE)
    assert found is not None, "the same spellings as it was found by"
    return next(name for name, value in found.groupdict().items() if value)


def _value(text: str) -> Fraction:
    """A number with a fraction behind it, or one alone."""
    sign = next((char for char in _FRACTIONS if char in text), "")
    whole = text.replace(sign, "").strip() if sign else text
    total = Fraction(*_FRACTIONS[sign]) if sign else Fraction(0)
    for piece in re.split(r"[ -]", whole):
        if piece:
            above, _, below = piece.partition("/")
            total += Fraction(above) / Fraction(below or 1)
    return total


def _spelt(value: Fraction, places: int) -> str:
    """A number to so many places at most, without the zeros at its end."""
    return f"{as_decimal(value, places):f}"


# --- areas by their sides -----------------------------------------------------------------------------------


def face(text: str) -> Face | None:
    """An area by its sides in metres or with their units, less openings; None where it is none.

    `6 x 4.5 - 2 windows 1.1 x 1.6` is a face of 27 m² with two openings of 1.1 by 1.6 m.
    """
    if not _TIMES.search(text):
        return None
    first, *others = _TERMS.split(text)
    sides = _sides(first)
    if sides is None:
        return None
    openings = []
    for term in others:
        found = _TERM.match(term)
        size = _sides(found["sides"]) if found else None
        if found is None or size is None:
            return None
        width, height = (_spelt(side / 1000, 3) for side in size)
        openings.append(Opening(width, height, int(found["count"] or 1)))
    return Face(_spelt(sides[0] * sides[1] / 1_000_000, 2), tuple(openings))


def _sides(text: str) -> tuple[Fraction, Fraction] | None:
    """Two sides in mm; a side without a unit has that of the other, and both are metres where neither has one."""
    pieces = _TIMES.split(text.strip())
    if len(pieces) != 2:
        return None
    units = [match["unit"] for piece in pieces if (match := _QUANTITY.match(piece)) and match["unit"]]
    usual = _unit_named(units[0]) if units else "m"
    found = [_length_mm(piece, usual) for piece in pieces]
    width, height = found
    return None if width is None or height is None else (width, height)


def net_m2(found: Face) -> str:
    """What is left of a face without its openings, m²."""
    off = sum((Fraction(one.width_m) * Fraction(one.height_m) * one.count_nr for one in found.openings), Fraction(0))
    return _spelt(Fraction(found.area_m2) - off, 2)


def openings_raw(openings: Sequence[Opening]) -> list[dict[str, Any]]:
    """Openings as answers list them."""
    return [
        {"width_m": one.width_m, "height_m": one.height_m, "count_nr": str(one.count_nr)}
        if one.count_nr > 1
        else {"width_m": one.width_m, "height_m": one.height_m}
        for one in openings
    ]
