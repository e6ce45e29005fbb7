"""Quantities, ranges and their units: how values are held, and how a reader sees them."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import Final, Generic, TypeVar

Number = TypeVar("Number", Decimal, float)
Other = TypeVar("Other", Decimal, float)


class NotKnown:
    """The answer of someone who looked and cannot tell; one instance, `NOT_KNOWN`."""

    _only: NotKnown | None = None

    def __new__(cls) -> NotKnown:
        if cls._only is None:
            cls._only = super().__new__(cls)
        return cls._only

    def __repr__(self) -> str:
        return "NOT_KNOWN"

    def __str__(self) -> str:
        return "not known"


NOT_KNOWN: Final = NotKnown()
_LEAP_YEAR: Final = 2000


@dataclass(frozen=True, slots=True)
class Range(Generic[Number]):
    """Low, likely and high of one quantity, in one unit. `low <= likely <= high`."""

    low: Number
    likely: Number
    high: Number

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"a range runs low, likely, high: {self.low}, {self.likely}, {self.high}")

    def times(self, factor: Number) -> Range[Number]:
        """The range scaled by a factor of at least 0."""
        return self.each(lambda value: value * factor)

    def each(self, reckon: Callable[[Number], Other]) -> Range[Other]:
        """The range of what each of its three comes to, by a reckoning that grows with them."""
        return Range(reckon(self.low), reckon(self.likely), reckon(self.high))

    @property
    def single(self) -> bool:
        """Whether low and high are one value."""
        return self.low == self.high


def total(ranges: Iterable[Range[Number]], nothing: Number) -> Range[Number]:
    """The ranges put together, low with low and high with high; `nothing` is the sum of none."""
    found = list(ranges)
    low, likely, high = (sum((getattr(part, end) for part in found), nothing) for end in ("low", "likely", "high"))
    return Range(low, likely, high)


@dataclass(frozen=True, slots=True, order=True)
class MonthDay:
    """A month and day that come back every year."""

    month: int
    day: int

    def __post_init__(self) -> None:
        datetime.date(_LEAP_YEAR, self.month, self.day)  # 29 February is a day; else ValueError

    @staticmethod
    def of(date: datetime.date) -> MonthDay:
        """The month and day of a date, whatever its year."""
        return MonthDay(date.month, date.day)


_One = str | Decimal | bool | datetime.date | MonthDay | Range[Decimal] | NotKnown
Value = _One | tuple["Value", ...] | dict[str, "Value"]

Form = TypeVar("Form", bound=Value)


def as_form(form: type[Form], value: Value, name: str) -> Form:
    """The value of a name, which is of one form of value. Raises `TypeError` where it is of another."""
    if not isinstance(value, form):
        raise TypeError(f"'{name}' is {value!r}, which is no {form.__name__}")
    return value


# The unit is the end of a name; the longest ending that fits is taken.
UNIT_OF_ENDING: Final[dict[str, str]] = {
    "mm": "mm",
    "m": "m",
    "m2": "m²",
    "m3": "m³",
    "nr": "nr",
    "per_cent": "%",
    "kg": "kg",
    "g": "g",
    "l": "l",
    "ml": "ml",
    "kg_per_m3": "kg/m³",
    "kg_per_l": "kg/l",
    "g_per_l": "g/l",
    "l_per_m2": "l/m²",
    "m_per_m2": "m/m²",
    "nr_per_m2": "nr/m²",
    "m2_per_day": "m²/day",
    "kg_per_m2": "kg/m²",
    "days": "days",
    "weeks": "weeks",
    "months": "months",
    "years": "years",
    "hours": "hours",
    "minutes": "minutes",
    "c": "°C",
    "v": "V",
    "ma": "mA",
    "mpa": "N/mm²",
}

DAY_MONTH_YEAR: Final = "day-month-year"
"""How dates are spelt unless somebody asks otherwise: 1 March 2027. Others: `month-day-year`, `iso`."""

MONTHS: Final = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

_SINGULAR: Final = {
    "days": "day", "weeks": "week", "months": "month", "years": "year", "hours": "hour", "minutes": "minute",
}  # fmt: skip


def unit_of(name: str) -> str:
    """The unit that a name ends in, `""` where it has none: `joint_width_mm` -> `mm`."""
    parts = name.split("_")
    for start in range(1, len(parts)):
        unit = UNIT_OF_ENDING.get("_".join(parts[start:]))
        if unit is not None:
            return unit
    return ""


_FRACTIONS: Final = {Decimal("0.25"): "¼", Decimal("0.5"): "½", Decimal("0.75"): "¾"}


def rounded(value: Decimal | float, digits: int = 0) -> Decimal:
    """A number to so many decimal places, halves away from zero, as the trade rounds."""
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    return exact.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_UP)


def rounded_up(value: Decimal | float, step: Decimal = Decimal(1)) -> Decimal:
    """The least multiple of `step` that is not less than the value; orders are never understated.

    A hair above a multiple (a millionth of a step, the dust of binary fractions) counts as the multiple.
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    count = (exact / step - Decimal("0.000001")).to_integral_value(rounding=ROUND_CEILING)
    return max(count, Decimal(0)) * step


def plain(number: Decimal) -> str:
    """A number as a reader sees it: no exponent, digits as typed, thousands parted by a comma."""
    text = f"{number:,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def fraction_told(count: Decimal) -> str:
    """A count in quarters as it is said: `½`, `1¼`, `2`; others as plain numbers."""
    whole, rest = divmod(count, 1)
    if rest not in _FRACTIONS:
        return plain(count)
    return f"{plain(whole) if whole else ''}{_FRACTIONS[rest]}"


def spoken(value: Value, unit: str = "", dates: str = DAY_MONTH_YEAR) -> str:
    """Any value as text with its unit: `8–12 mm`, `1 day`, `not known`, `oak and chestnut`; dates in a form."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Range):
        if value.single:
            return spoken(value.low, unit)
        return _with_unit(f"{plain(value.low)}–{plain(value.high)}", unit)
    if isinstance(value, Decimal):
        return _with_unit(plain(value), _SINGULAR.get(unit, unit) if value == 1 else unit)
    if isinstance(value, datetime.date):
        return date_spoken(value, dates)
    if isinstance(value, MonthDay):
        return month_day_spoken(value, dates)
    if isinstance(value, tuple):
        texts = [spoken(item, unit, dates) for item in value]
        return "; ".join(texts) if any(isinstance(item, dict) for item in value) else joined(texts) or "none"
    if isinstance(value, dict):
        return ", ".join(spoken(item, dates=dates) for item in value.values())
    return str(value)


def told_as(value: Value, form: str, say: Callable[[Value], str]) -> str:
    """A value said as a filter of texts asks: of a range one end (`least`, `greatest`), or both by `to`."""
    if isinstance(value, Range):
        if form == "to" and not value.single:
            return f"{plain(value.low)} to {say(value.high)}"
        if form in ("least", "greatest"):
            value = value.low if form == "least" else value.high
    return say(value)


def date_spoken(day: datetime.date, form: str = DAY_MONTH_YEAR) -> str:
    """A date in one of the forms: `1 March 2027`, `March 1, 2027`, `2027-03-01`."""
    if form == "iso":
        return f"{day:%Y-%m-%d}"
    month = MONTHS[day.month - 1]
    if form == "month-day-year":
        return f"{month} {day.day}, {day.year}"
    return f"{day.day} {month} {day.year}"


def month_day_spoken(day: MonthDay, form: str = DAY_MONTH_YEAR) -> str:
    """A month and day in the form of a date without its year: `20 October`, `October 20`, `10-20`."""
    if form == "iso":
        return f"{day.month:02}-{day.day:02}"
    month = MONTHS[day.month - 1]
    return f"{month} {day.day}" if form == "month-day-year" else f"{day.day} {month}"


def _with_unit(text: str, unit: str) -> str:
    if not unit:
        return text
    return f"{text}{unit}" if unit == "%" else f"{text} {unit}"


# begun by the digit, as a text has few of them and many blanks
_PARTING: Final = re.compile(
    r"[\d½¼¾⅓⅔](?: (?=(?:mm|cm|m[²³]?|l|ml|kg|g|h|min|nr|V|mA|MPa|days?|hours?|minutes?|weeks?|months?|years?"
    r"|lit(?:re|er)s?|per cent|box(?:es)?)\b|[°%])|–(?=\d|$))"
)
_BOUND: Final = {" ": "\u00a0", "–": "\u2060–\u2060"}


def unparted(text: str, before: str = "") -> str:
    """A text as it is printed: no number is parted from its unit, and no range at its dash.

    `before` is the last character of what stands before it on the line; what ends in a dash goes on behind it.
    """
    bound = _PARTING.sub(lambda found: found[0][0] + _BOUND[found[0][1]], before + text)
    return bound[len(before) :] if before else bound


def joined(words: list[str]) -> str:
    """Words as a list in a sentence: `a, b and c`."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))
