"""Customary units of the United States: here alone a metric value is turned, once, into what a reader there has.

Factors are exact (international yard and pound of 1959; gallon of 231 cubic inches). How far each is rounded is common
practice, so that nothing is printed that nobody there measures by.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Final

from generator.values import METRIC, NO_CUSTOMS, Customs, Range, Spelling, Value, plain, rounded

UNITS: Final = "customary"
"""How the answers name these units."""

MM_PER_INCH: Final = Fraction("25.4")
M2_PER_SQ_FT: Final = Fraction("0.09290304")
L_PER_CU_FT: Final = Fraction("28.316846592")
L_PER_GAL: Final = Fraction("3.785411784")
KG_PER_LB: Final = Fraction("0.45359237")
INCHES_PER_FT: Final = 12
_CU_FT_PER_CU_YD: Final = 27
_OZ_PER_LB: Final = 16
QT_PER_GAL, _CUPS_PER_GAL = 4, 16
_PSI_PER_MPA: Final = Fraction(1_000_000) * (MM_PER_INCH / 1000) ** 2 / (KG_PER_LB * Fraction("9.80665"))

_RULE_STEPS: Final = tuple(map(Fraction, ("12", "6", "1", "1/2", "1/4", "1/8", "1/16")))
_RULE_WITHIN, _LIMIT_WITHIN, _METRIC_BESIDE_OVER = Fraction("0.06"), Fraction("0.08"), Fraction("0.10")
_DECIMALS_BELOW_MM: Final = Fraction("1.5")
_IN_FEET_OVER_INCHES: Final = 24
_GRAMS_BELOW_G: Final = 10
_FINE_BELOW: Final = 10

_SIEVE_WITHIN: Final = Decimal("0.07")
_SIEVES: Final = {
    Decimal(opening): number
    for opening, number in {
        "4.75": 4, "4": 5, "3.35": 6, "2.8": 7, "2.36": 8, "2": 10, "1.18": 16, "1": 18, "0.6": 30, "0.5": 35,
        "0.3": 50, "0.25": 60, "0.15": 100, "0.125": 120, "0.075": 200, "0.063": 230,
    }.items()
}  # fmt: skip
"""Openings in mm of the sieves of ASTM E11 (from memory) by which sands are told, with their numbers."""

_SIDES: Final = ("up", "down")

Said = tuple[str, str]
"""A number and its unit."""


class Customary(Spelling, frozen=True):
    """Values in inches, feet, pounds, gallons and degrees Fahrenheit; a range by both its ends, its unit once."""

    def amount(self, value: Decimal | Range[Decimal], unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number or range of a metric unit as it is said there: `3/8 inch`, `646 sq ft`, `1/4 to 3/8 inch`."""
        metric = METRIC.amount(value, unit, customs)
        if customs.kind == "sieve":
            return with_sieve(value, metric)
        said = customs.said(value) or self._published_ends(value, customs)
        if not said and (unit not in _SAYING or customs.kind == "metric"):
            return metric
        said = said or self._converted(value, unit, customs, metric)
        return f"{said} ({metric})" if customs.kind == "both" and metric not in said else said

    def _converted(self, value: Decimal | Range[Decimal], unit: str, customs: Customs, metric: str) -> str:
        ends = list(dict.fromkeys([value.low, value.high])) if isinstance(value, Range) else [value]
        exact = [Fraction(end) for end in ends]
        say = _SAYING[unit]
        told = list(dict.fromkeys(_alike([say(end, customs.kind) for end in exact], exact, say, customs.kind)))
        number = " to ".join(number for number, _ in told)
        text = f"{number} {told[-1][1]}".strip()
        return f"{text} ({metric})" if unit == "mm" and any(_errs(end, customs.kind) for end in exact) else text

    @staticmethod
    def _published_ends(value: Decimal | Range[Decimal], customs: Customs) -> str:
        """A range whose ends are both published: `40 to 95 °F`."""
        if not isinstance(value, Range):
            return ""
        low, high = customs.said(value.low), customs.said(value.high)
        return f"{low.partition(' ')[0]} to {high}" if low and high else ""

    def text(self, value: str, customs: Customs = NO_CUSTOMS) -> str:
        """A figure that is told in words: as it is published there, where it is."""
        return next((text for of, text in customs.published if of is None), value)

    def before(self, told: str) -> str:
        """A length as it stands before what it is the length of: `12-inch`."""
        return re.sub(r" inch(?:es)?\b", "-inch", told)

    def run(self, value: Range[Decimal], say: Callable[[Value], str]) -> str:
        """A range told by both its ends, as every range is here."""
        return say(value)

    @property
    def jug_l(self) -> float:
        """The jug that is measured by where a box is too coarse: a quart."""
        return float(L_PER_GAL / QT_PER_GAL)

    @property
    def jug(self) -> str:
        """The unit of the jug."""
        return "qt"

    def ordered(self, value: float, unit: str, *, up: bool = False) -> Decimal:
        """An amount to order, which is rounded in the unit that it is told in: with `up`, to no less than it is."""
        exact = rounded(value, 6)
        return as_decimal(_to_buy(Fraction(exact), unit), 9) if up and unit in _TO_BUY else exact

    def count(self, count: Decimal) -> str:
        """A count in quarters, in figures that no copy turns into others: `2-1/2`."""
        return mixed(Fraction(count))

    def parts(self, count: Decimal) -> str:
        """The parts of a gauge to one: `2-1/2`; what no quarter tells, as it is."""
        return self.count(count) if count * 4 % 1 == 0 else plain(count)

    def size(self, sides_mm: Sequence[Decimal]) -> str:
        """The sides of a thing that was measured, in inches however long: `9 x 4-1/4 x 2-1/2 inches`."""
        return f"{' x '.join(mixed(measured_inches(Fraction(side))) for side in sides_mm)} inches"

    def drawn(self, length_mm: Decimal) -> str:
        """A length as it stands in a drawing, where room is short: `3/8 in.`"""
        return re.sub(r" inch(?:es)?\b", " in.", self.amount(length_mm, "mm"))

    @property
    def scale_bar(self) -> tuple[str, float, tuple[float, ...]]:
        """What a scale bar counts in: feet."""
        return "ft", float(MM_PER_INCH * INCHES_PER_FT), (1.0, 2.0, 5.0, 10.0, 20.0)

    @property
    def dash(self) -> str:
        """What stands between the ends of a range, whose fractions have dashes of their own."""
        return " to "

    def alone(self, value: Decimal | Range[Decimal], unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number or range without its unit, which stands elsewhere on the line."""
        said = self.amount(value, unit, customs)
        return said.removesuffix(_SAYING[unit](Fraction(1), customs.kind)[1]).strip() if unit in _PLAIN else said

    def in_an_area(self, m_per_m2: Decimal) -> str:
        """A length in a square foot."""
        return self.amount(m_per_m2, "m/m²").removesuffix(" per sq ft")

    def unit(self, unit: str) -> str:
        """The unit in which a quantity that is given in a metric one is priced."""
        return _PRICED.get(unit, unit)

    def quantity(self, value: Decimal, unit: str) -> Decimal:
        """A quantity to price: whole feet and square feet, halves of one under ten, tenths of a cubic foot."""
        priced = _QUANTITIES.get(unit)
        return METRIC.quantity(value, unit) if priced is None else as_decimal(priced(Fraction(value)))

    def priced(self, quantity: Decimal, unit: str) -> str:
        """A quantity that is priced with the unit in which it is; halves as they are said."""
        exact = Fraction(quantity)
        return f"{mixed(exact) if (exact * 2).denominator == 1 else plain(quantity)} {unit}"

    def kept(self, value: Decimal | float, digits: int) -> Decimal:
        """A value as it is kept: here two more places, since it is turned into other units before it is told."""
        return rounded(value, digits + 2)

    @property
    def chooses(self) -> bool:
        """Whether sizes are made otherwise here than the answers, in metric units, have them."""
        return True

    def native(self, value: Decimal, customs: Customs) -> Decimal:
        """A size that is chosen: the nearest one that is made there, one at least."""
        if customs.step is None:
            return value
        return max(rounded(value / customs.step), Decimal(1)) * customs.step

    def heading(self, unit: str) -> str:
        """The unit as it stands over what is to be written: lengths are taped in inches, runs and faces in feet."""
        return _HEADINGS.get(unit, unit)

    def keeps(self, unit: str) -> bool:
        """Whether a number of a unit stands as it is reckoned: days, counts and shares do."""
        return unit == "nr" or unit not in _SAYING

    def in_full(self, value: Decimal, unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number with its unit in words: `8 gallons`."""
        if unit not in ("l", "ml"):
            return self.amount(value, unit, customs)
        number, _, short = (customs.said(value) or self.amount(value, unit)).partition(" ")
        name = _IN_FULL.get(short, short)
        full = f"{number} {name}" if number in ("1", "1/2", "1/4", "3/4") else f"{number} {name}s"
        return f"{full} ({METRIC.amount(value, unit)})" if customs.kind == "both" else full


@cache
def spelling_of(units: str, dates: str) -> Spelling:
    """How values are spelt in units, `customary` or metric, with dates in a form."""
    return Customary(dates) if units == UNITS else Spelling(dates)


# --- rounding -----------------------------------------------------------------------------------------------


def nearest(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step, halves up."""
    return math.floor(value / step + Fraction(1, 2)) * step


def stepped(value: Fraction, step: Fraction, kind: str) -> Fraction:
    """A value to a step: `down` where it is the most, `up` where it is the least, so that no limit slackens."""
    if kind == "down":
        return math.floor(value / step) * step
    return math.ceil(value / step) * step if kind == "up" else nearest(value, step)


def mixed(value: Fraction) -> str:
    """A number in whole ones and a fraction as a rule has it: `3/8`, `1-1/2`, `24`."""
    whole, rest = divmod(value, 1)
    if not rest:
        return plain(Decimal(whole))
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{plain(Decimal(whole))}-{fraction}" if whole else fraction


def rule_inches(mm: Fraction, kind: str = "") -> Fraction:
    """A length that is asked for, on the coarsest mark of a rule that lies within 6 % of it, else to a sixteenth.

    A limit is on the coarsest mark on its safe side within 8 %. mm; inches. Common practice. Worked: 20 mm are 3/4, 15
    are 5/8 and at most 9/16, 600 are 24.

    >>> [str(rule_inches(Fraction(mm))) for mm in (20, 15, 600)]
    ['3/4', '5/8', '24']
    >>> str(rule_inches(Fraction(15), "down")), str(rule_inches(Fraction(2000), "up"))
    ('9/16', '84')
    """
    inches = mm / MM_PER_INCH
    within = _LIMIT_WITHIN if kind in _SIDES else _RULE_WITHIN
    for step in _RULE_STEPS:
        near = stepped(inches, step, kind)
        if near and abs(near / inches - 1) <= within:
            return near
    return stepped(inches, _RULE_STEPS[-1], kind) or nearest(inches, _RULE_STEPS[-1])


def measured_inches(mm: Fraction) -> Fraction:
    """A length that was measured: to a sixteenth under an inch, an eighth under two feet, half an inch from there.

    mm; inches. Common practice.
    """
    inches = mm / MM_PER_INCH
    if inches >= _IN_FEET_OVER_INCHES:
        return nearest(inches, Fraction(1, 2))
    return nearest(inches, Fraction(1, 16) if inches < 1 else Fraction(1, 8))


def _errs(mm: Fraction, kind: str) -> bool:
    """Whether the sixteenth that a length asked for was put on lies too far off to stand alone."""
    if kind == "measured" or mm < _DECIMALS_BELOW_MM:
        return False
    return abs(rule_inches(mm, kind) * MM_PER_INCH / mm - 1) > _METRIC_BESIDE_OVER


def as_decimal(value: Fraction, places: int = 3) -> Decimal:
    """A number to so many decimal places at most, without the zeros at its end."""
    return rounded(Decimal(value.numerator) / Decimal(value.denominator), places).normalize() + 0


def _figures(value: Fraction, figures: int) -> Decimal:
    """A number to so many figures."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    return rounded(exact, figures - 1 - exact.adjusted()) + 0 if exact else exact


# --- sieves -------------------------------------------------------------------------------------------------


def with_sieve(mm: Decimal | Range[Decimal], metric: str) -> str:
    """A size of grain or of sieve in mm by the sieve of ASTM E11: beside it where they are one, else in its place.

    The widest opening that is no wider than the size and under 7 % narrower: one who sieves by it keeps the size, and
    two limits never stand for one sand. A size with none close under it keeps its millimetres. Numbers and openings
    from memory.

    >>> [with_sieve(Decimal(mm), f"{mm} mm") for mm in ("2", "3", "5", "0.8")]
    ['2 mm (No. 10)', 'No. 7', 'No. 4', '0.8 mm']
    """
    if isinstance(mm, Range):
        return metric
    close = [opening for opening in _SIEVES if mm * (1 - _SIEVE_WITHIN) < opening <= mm]
    if not close:
        return metric
    number = f"No. {_SIEVES[max(close)]}"
    return f"{metric} ({number})" if max(close) == mm else number


# --- each unit ----------------------------------------------------------------------------------------------


def _inches(inches: Fraction) -> Said:
    """Inches as they are said; feet from more than two of them on."""
    if inches <= _IN_FEET_OVER_INCHES:
        return mixed(inches), "inch" if inches <= 1 else "inches"
    feet = inches / INCHES_PER_FT
    return (mixed(feet), "ft") if (feet * 2).denominator == 1 else (mixed(inches), "inches")


def _length_mm(mm: Fraction, kind: str) -> Said:
    if mm < _DECIMALS_BELOW_MM:
        return f"{as_decimal(mm / MM_PER_INCH):.3f}", "inch"
    if kind != "measured":
        return _inches(rule_inches(mm, kind))
    inches = measured_inches(mm)
    if inches < _IN_FEET_OVER_INCHES:
        return mixed(inches), "inch" if inches <= 1 else "inches"
    feet, rest = divmod(inches, INCHES_PER_FT)
    if not rest:
        return plain(Decimal(feet)), "ft"
    return f"{plain(Decimal(feet))} ft {mixed(rest)}", "inch" if rest <= 1 else "inches"


def _length_m(metres: Fraction, kind: str) -> Said:
    if kind == "run":
        return plain(as_decimal(_run_ft(metres))), "ft"
    return _length_mm(metres * 1000, kind)


def _run_ft(metres: Fraction) -> Fraction:
    feet = nearest(metres * 1000 / MM_PER_INCH / INCHES_PER_FT, Fraction(1))
    return max(feet, Fraction(1)) if metres else feet


def _area_sq_ft(m2: Fraction) -> Fraction:
    feet = m2 / M2_PER_SQ_FT
    return nearest(feet, Fraction(1)) if feet >= _FINE_BELOW else max(nearest(feet, Fraction(1, 2)), _least(feet))


def _least(value: Fraction) -> Fraction:
    return Fraction(1, 2) if value else Fraction(0)


def _area(m2: Fraction, kind: str) -> Said:
    return mixed(_area_sq_ft(m2)), "sq ft"


def _volume_cu_ft(litres: Fraction) -> Fraction:
    return nearest(litres / L_PER_CU_FT, Fraction(1, 10))


def _litres(litres: Fraction, kind: str) -> Said:
    """Mortar in tenths of a cubic foot; a box in its quarters; what is poured by quarters of cup, quart or gallon."""
    if kind == "volume":
        cubic = litres / L_PER_CU_FT
        quarters = nearest(cubic, Fraction(1, 4))
        exact = quarters and abs(quarters / cubic - 1) < Fraction(1, 1000)
        return (mixed(quarters) if exact else plain(as_decimal(_volume_cu_ft(litres))), "cu ft")
    gallons = litres / L_PER_GAL
    if nearest(gallons, Fraction(1, 4)) >= 1 or kind == "gallons":
        step = Fraction(1, 4) if gallons < _FINE_BELOW else Fraction(1)
        return mixed(stepped(gallons, step, kind)), "gal"
    if kind != "cups" and gallons * QT_PER_GAL >= Fraction(15, 16):
        return mixed(stepped(gallons * QT_PER_GAL, Fraction(1, 4), kind)), "qt"
    cups = stepped(gallons * _CUPS_PER_GAL, Fraction(1, 4), kind)
    return mixed(cups), "cup" if cups <= 1 else "cups"


def _grams(grams: Fraction, kind: str) -> Said:
    if grams < _GRAMS_BELOW_G:
        return plain(as_decimal(grams)), "g"
    pounds = grams / 1000 / KG_PER_LB
    if pounds < 1:
        return mixed(stepped(pounds * _OZ_PER_LB, Fraction(1, 2), kind)), "oz"
    return mixed(_mass_lb(pounds, kind)), "lb"


def _mass_lb(pounds: Fraction, kind: str = "") -> Fraction:
    return stepped(pounds, Fraction(1, 2) if pounds < _FINE_BELOW else Fraction(1), kind)


def _to_buy(amount: Fraction, unit: str) -> Fraction:
    """An amount in its metric unit, as it is told in pounds, ounces or gallons that are no less than it.

    A hair above a step (a thousandth of it) counts as the step, as nobody weighs it.
    """
    said, step = _TO_BUY[unit](amount)
    per = amount / said if said else Fraction(1)
    return stepped(said - step / 1000, step, "up") * per


def _kg_to_buy(kg: Fraction) -> tuple[Fraction, Fraction]:
    pounds = kg / KG_PER_LB
    if kg * 1000 < _GRAMS_BELOW_G:
        return kg * 1000, Fraction(1, 1000)
    if pounds < 1:
        return pounds * _OZ_PER_LB, Fraction(1, 2)
    return pounds, _fine(pounds, Fraction(1, 2))


def _litres_to_buy(litres: Fraction) -> tuple[Fraction, Fraction]:
    gallons = litres / L_PER_GAL
    return gallons, _fine(gallons, Fraction(1, 4))


def _fine(value: Fraction, fine: Fraction) -> Fraction:
    """The step of an amount: a fraction while it is small, whole from there."""
    return fine if value < _FINE_BELOW else Fraction(1)


def _degrees(celsius: Fraction, kind: str) -> Said:
    """Whole degrees; a difference of temperatures has no 32."""
    above = celsius * Fraction(9, 5)
    return plain(as_decimal(stepped(above if kind == "difference" else above + 32, Fraction(1), kind))), "°F"


def _density(kg_per_m3: Fraction, kind: str) -> Said:
    """Hair in half pounds a cubic yard of mortar, what is heaped in whole pounds a cubic foot."""
    pounds = kg_per_m3 / KG_PER_LB * L_PER_CU_FT / 1000
    if kind == "hair":
        return mixed(nearest(pounds * _CU_FT_PER_CU_YD, Fraction(1, 2))), "lb per cu yd"
    return plain(as_decimal(nearest(pounds, Fraction(1)))), "lb per cu ft"


def _by(factor: Fraction, step: str, unit: str) -> Callable[[Fraction, str], Said]:
    """What is multiplied, and rounded to a step."""
    return lambda value, _: (plain(as_decimal(nearest(value * factor, Fraction(step)))), unit)


def _alike(told: list[Said], exact: list[Fraction], say: Callable[[Fraction, str], Said], kind: str) -> list[Said]:
    """The ends of a range in one unit: inches by the greater, where the lesser is said in another."""
    units = {unit for _, unit in told}
    if units <= {"inch", "inches"} or units <= {"cup", "cups"} or len(units) == 1:
        return told
    if units <= {"inch", "inches", "ft"}:
        millimetres = [end if say is _length_mm else end * 1000 for end in exact]
        inches = [measured_inches(end) if kind == "measured" else rule_inches(end, kind) for end in millimetres]
        return [(mixed(end), "inches") for end in inches]
    small, large = told[0], told[-1]
    return [(f"{small[0]} {small[1]}", large[1]), large]


_L_PER_M2: Final = M2_PER_SQ_FT / L_PER_CU_FT
_SAYING: Final[dict[str, Callable[[Fraction, str], Said]]] = {
    "mm": _length_mm,
    "m": _length_m,
    "m²": _area,
    "m³": _by(1000 / L_PER_CU_FT, "0.1", "cu ft"),
    "l": _litres,
    "ml": lambda ml, _: _litres(ml / 1000, "cups"),
    "kg": lambda kg, kind: _grams(kg * 1000, kind),
    "g": _grams,
    "°C": _degrees,
    "kg/m³": _density,
    "kg/l": lambda kg_per_l, kind: _density(kg_per_l * 1000, kind),
    "g/l": _by(_OZ_PER_LB / KG_PER_LB / 1000 * L_PER_GAL, "0.5", "oz per gal"),
    "l/m²": _by(100 * _L_PER_M2, "0.1", "cu ft per 100 sq ft"),
    "m/m²": _by(M2_PER_SQ_FT * 1000 / MM_PER_INCH / INCHES_PER_FT, "0.01", "ft per sq ft"),
    "nr": lambda number, _: (plain(as_decimal(number)), "ea"),
    "nr/m²": _by(M2_PER_SQ_FT, "0.01", "per sq ft"),
    "m²/day": _by(1 / M2_PER_SQ_FT, "1", "sq ft a day"),
    "kg/m²": _by(M2_PER_SQ_FT / KG_PER_LB, "0.1", "lb per sq ft"),
    "N/mm²": lambda mpa, _: (plain(_figures(mpa * _PSI_PER_MPA, 2)), "psi"),
}
"""How each metric unit is said; others (days, counts, per cent, volts) are the same on both sides."""

_QUANTITIES: Final[dict[str, Callable[[Fraction], Fraction]]] = {
    "m²": _area_sq_ft,
    "m": _run_ft,
    "m³": lambda m3: _volume_cu_ft(m3 * 1000),
    "kg": lambda kg: _mass_lb(kg / KG_PER_LB),
    "l": lambda litres: nearest(litres / L_PER_GAL, Fraction(1, 4)),
}
_TO_BUY: Final[dict[str, Callable[[Fraction], tuple[Fraction, Fraction]]]] = {
    "kg": _kg_to_buy, "l": _litres_to_buy,
}  # fmt: skip
"""What is bought, in the unit that it is told in, with the step that it is told to."""
_PLAIN: Final = ("m²", "°C")
"""Units of which every number is said in the same one."""
_PRICED: Final = {"nr": "ea", "m²": "sq ft", "m": "ft", "m³": "cu ft", "kg": "lb", "l": "gal"}
_HEADINGS: Final = {"mm": "inches", "m": "ft", "m²": "sq ft", "m²/day": "sq ft a day", "l": "cu ft"}
_IN_FULL: Final = {"gal": "gallon", "qt": "quart", "cups": "cup"}
