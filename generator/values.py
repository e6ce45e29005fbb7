"""Quantities, ranges and their units: how values are held, and how a reader sees them."""

from __future__ import annotations

import dataclasses
import datetime
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

import msgspec
from msgspec import NODEFAULT as NODEFAULT
from msgspec import Struct as Struct
from msgspec import defstruct as defstruct
from msgspec import field as field
from msgspec.structs import FieldInfo as FieldInfo
from msgspec.structs import asdict as asdict
from msgspec.structs import fields as fields

Made = TypeVar("Made", bound=Struct)
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


if TYPE_CHECKING:
    from dataclasses import replace as replace  # its check knows which fields a structure has, and of what type
else:

    def replace(value: Any, /, **changes: Any) -> Any:
        """What is the same but for the fields named, of a structure or a dataclass."""
        if isinstance(value, Struct):
            return msgspec.structs.replace(value, **changes)
        return dataclasses.replace(value, **changes)


def from_json(raw: bytes, form: type[Made]) -> Made:
    """A structure as JSON tells it; what else that holds is passed over and takes no room.

    Raises `ValueError` where it tells none, `RecursionError` where it goes too deep.
    """
    return msgspec.json.decode(raw, type=form)


NOT_KNOWN: Final = NotKnown()
_LEAP_YEAR: Final = 2000


class Range(Struct, Generic[Number], frozen=True):
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


class MonthDay(Struct, frozen=True, order=True):
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


@cache
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


class Customs(Struct, frozen=True):
    """How one name or figure goes into customary units, where not as its unit has it.

    `kind` is `measured`, `run`, `volume`, `gallons`, `up` (a least), `down` (a most), `difference`, `hair`, `metric`
    (it stays so), `both` (the metric beside it) or `sieve` (by the sieve of the country); `published` are figures of
    the country itself by the metric ones that they stand for, spelt with their units; `step` is the difference between
    the sizes that are made there, in the metric unit.
    """

    kind: str = ""
    published: tuple[tuple[Decimal | Range[Decimal] | None, str], ...] = ()
    step: Decimal | None = None

    def said(self, value: Decimal | Range[Decimal]) -> str:
        """The figure published for a value; `""` where there is none."""
        return next((text for of, text in self.published if of is None or of == value), "")


NO_CUSTOMS: Final = Customs()


class Spelling(Struct, frozen=True):
    """How values are spelt for a reader: in metric units, with dates in a form; others spell amounts otherwise."""

    dates: str = DAY_MONTH_YEAR

    def amount(self, value: Decimal | Range[Decimal], unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number or range with its unit: `8–12 mm`, `1 day`; a range of one value is that value."""
        if isinstance(value, Range):
            if not value.single:
                return _with_unit(f"{plain(value.low)}–{plain(value.high)}", unit)
            value = value.low
        return _with_unit(plain(value), _SINGULAR.get(unit, unit) if value == 1 else unit)

    def text(self, value: str, customs: Customs = NO_CUSTOMS) -> str:
        """A figure that is told in words."""
        return value

    def before(self, told: str) -> str:
        """A length as it stands before what it is the length of: `300 mm`."""
        return told

    def run(self, value: Range[Decimal], say: Callable[[Value], str]) -> str:
        """A range told by both its ends: `8 to 12 mm`."""
        return f"{plain(value.low)} to {say(value.high)}"

    @property
    def jug_l(self) -> float:
        """The jug that is measured by where a box is too coarse: a litre."""
        return 1.0

    @property
    def jug(self) -> str:
        """The unit of the jug."""
        return "l"

    def ordered(self, value: float, unit: str, *, up: bool = False) -> Decimal:
        """An amount to order, to three figures, as it is thought of: whole from ten up, tenths below.

        `up` tells no less than it is, so that packages made up for it are never one more than what is read asks for.
        """
        exact = Decimal(repr(value))
        step = Decimal(1).scaleb(max(exact.adjusted() - 2, 0 if exact >= 10 else -1))
        if not exact:
            return exact
        return (rounded_up(exact, step) if up else exact.quantize(step)) + 0

    def count(self, count: Decimal) -> str:
        """A count in quarters: `2½`."""
        return fraction_told(count)

    def parts(self, count: Decimal) -> str:
        """The parts of a gauge to one: `2.5`."""
        return plain(count)

    def size(self, sides_mm: Sequence[Decimal]) -> str:
        """The sides of a thing that was measured: `228 x 108 x 63 mm`."""
        return f"{' x '.join(map(plain, sides_mm))} mm"

    def drawn(self, length_mm: Decimal) -> str:
        """A length as it stands in a drawing."""
        return self.amount(length_mm, "mm")

    @property
    def scale_bar(self) -> tuple[str, float, tuple[float, ...]]:
        """What a scale bar counts in: its unit, that in mm, and the steps that it may have."""
        return "m", 1000.0, (0.5, 1.0, 2.0, 5.0)

    @property
    def dash(self) -> str:
        """What stands between the ends of a range."""
        return "–"

    def alone(self, value: Decimal | Range[Decimal], unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number or range without its unit, which stands elsewhere on the line."""
        return self.amount(value, "")

    def in_an_area(self, m_per_m2: Decimal) -> str:
        """A length in a square metre, or in the area that goes with its unit."""
        return self.amount(m_per_m2, "m")

    def unit(self, unit: str) -> str:
        """The unit in which a quantity that is given in one is priced; a lone `l` reads as a stroke."""
        return _IN_FULL.get(unit, unit)

    def quantity(self, value: Decimal, unit: str) -> Decimal:
        """A quantity to price in its unit here, to a tenth as it was measured; counts, weeks and hours as they are."""
        return value if unit in COUNTED else rounded(value, 1)

    def priced(self, quantity: Decimal, unit: str) -> str:
        """A quantity that is priced with the unit in which it is."""
        return f"{plain(quantity)} {unit}"

    def kept(self, value: Decimal | float, digits: int) -> Decimal:
        """A value as it is kept in its metric unit, to so many places."""
        return rounded(value, digits)

    @property
    def chooses(self) -> bool:
        """Whether sizes are made otherwise here than the answers, in metric units, have them."""
        return False

    def native(self, value: Decimal, customs: Customs) -> Decimal:
        """A size that is chosen, as it is made here: the one answered."""
        return value

    def heading(self, unit: str) -> str:
        """The unit as it stands over what is to be written."""
        return unit

    def keeps(self, unit: str) -> bool:
        """Whether a number of a unit stands as it is reckoned, so that it may be told without its unit."""
        return True

    def in_full(self, value: Decimal, unit: str, customs: Customs = NO_CUSTOMS) -> str:
        """A number with its unit in words: `30 litres`."""
        name = _IN_FULL.get(unit)
        if name is None:
            return self.amount(value, unit, customs)
        return f"{plain(value)} {name}" if value == 1 else f"{plain(value)} {name}s"


_SPAN: Final = ("from", "to")
COUNTED: Final = ("nr", "item", "sum", "week", "hour")
_IN_FULL: Final = {"l": "litre"}
METRIC: Final = Spelling()
ISO: Final = Spelling("iso")


def spoken(value: Value, unit: str = "", spelling: Spelling = METRIC, customs: Customs = NO_CUSTOMS) -> str:
    """Any value as text with its unit: `8–12 mm`, `1 day`, `not known`, `oak and chestnut`; spelt for a reader."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal | Range):
        return spelling.amount(value, unit, customs)
    if isinstance(value, datetime.date):
        return date_spoken(value, spelling.dates)
    if isinstance(value, MonthDay):
        return month_day_spoken(value, spelling.dates)
    if isinstance(value, tuple):
        texts = [spoken(item, unit, spelling, customs) for item in value]
        return "; ".join(texts) if any(isinstance(item, dict) for item in value) else joined(texts) or "none"
    if isinstance(value, dict):
        return ", ".join(_fields_spoken(value, spelling))
    return str(value)


def _fields_spoken(record: Mapping[str, Value], spelling: Spelling) -> Iterator[str]:
    """The fields of a record; its days from one to another as a span, both in, or as the one day that it is."""
    first, last = record.get("from"), record.get("to")
    spans = isinstance(first, datetime.date) and isinstance(last, datetime.date)
    if spans:
        days = dict.fromkeys(spoken(day, spelling=spelling) for day in (first, last) if day is not None)
        yield " – ".join(days)
    yield from (spoken(item, spelling=spelling) for name, item in record.items() if not spans or name not in _SPAN)


def told_as(value: Value, form: str, say: Callable[[Value], str], spelling: Spelling = METRIC) -> str:
    """A value said as a filter asks: one end of a range (`least`, `greatest`), both by `to`; `before` a noun."""
    if form == "before":
        return spelling.before(say(value))
    if isinstance(value, Range):
        if form == "to" and not value.single:
            return spelling.run(value, say)
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


def month_day_short(day: datetime.date, form: str = DAY_MONTH_YEAR) -> str:
    """A date without its year, unbroken for a narrow column, its month by 3 letters: `20 Oct`, `Oct 20`, `10-20`."""
    if form == "iso":
        return f"{day.month:02}-{day.day:02}"
    month = MONTHS[day.month - 1][:3]
    return f"{month}\u00a0{day.day}" if form == "month-day-year" else f"{day.day}\u00a0{month}"


def _with_unit(text: str, unit: str) -> str:
    if not unit:
        return text
    return f"{text}{unit}" if unit == "%" else f"{text} {unit}"


# begun by the digit, or by the blank before one, which are found at once: a text has few of them and many blanks
_PARTING: Final = re.compile(
    r"[\d½¼¾⅓⅔](?:"
    # a sieve and what passes it; the sign of a mix and its figure
    r" mm(?: /)? (?=[\d.]+%)|\u00a0[^\w\s]: (?=[\d½¼¾⅓⅔])"
    r"| (?=(?:mm|cm|m[²³]?|l|ml|kg|g|h|min|nr|V|mA|MPa|days?|hours?|minutes?|weeks?|months?|years?"
    r"|lit(?:re|er)s?|per cent|box(?:es)?|(?:bulk )?bags?|tubs?)\b|[°%])|(?<=\d) : (?=\d)| (?=: \d)|–(?=\d|$)"
    # a telephone number, a sieve and what passes it; the sides of a size
    r"|(?<=\d) (?=\d|x \d)"
    # a range typed with a hyphen, the part of a standard; a day and its month
    rf"|(?<=\d)-(?=\d)|(?<=\d) (?=(?:{'|'.join(MONTHS)})\b)"
    # inches, feet, square and cubic feet, pounds; a number with a fraction
    r"|(?<=\d)(?: sq (?=ft\b)| cu (?=(?:ft|yd)\b)| ft (?=\d)|-(?=\d+/\d|(?:gallon|lb)\b)"
    r"| (?=(?:inch(?:es)?|ft|lb|oz|gal(?:lons?)?|qt|quarts?|cups?|psi|ea|percent)\b|in\.)))"
    # both words of a share, its number told in letters too
    r"| (?=cent\b)(?<=\bper )"
    # the class of a lime, the number of a sieve or of a standard, the second side of a size, a month and its day
    r"| (?=\d)(?:(?<=\bNHL )|(?<=\b[CE][LN] )|(?<=\bBS )|(?<=\bNo\. )|(?<=\d x )"
    rf"|(?:(?<={' )|(?<='.join(MONTHS)} ))(?=\d\d?\b))"
    # the number of a drawing or a letter; a name and its initial
    r"|-(?=\d)(?:(?<=\b[A-Z]-)|(?<=\b[A-Z]{2}-)|(?<=\b[A-Z]{3}-))|\. (?=[A-Z][a-z])(?<=\b[A-Z]\. )"
)
_BOUND: Final = str.maketrans({" ": "\u00a0", "–": "\u2060–\u2060", "-": "\u2060-\u2060"})


@lru_cache(maxsize=8192)
def unparted(text: str, before: str = "") -> str:
    """A text as it is printed: no number is parted from its unit, and no range at its dash.

    `before` is the last character of what stands before it on the line; what ends in a dash goes on behind it.
    """
    bound = _PARTING.sub(lambda found: found[0].translate(_BOUND), before + text)
    return bound[len(before) :] if before else bound


def joined(words: list[str]) -> str:
    """Words as a list in a sentence: `a, b and c`."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def capital(text: str) -> str:
    """A text with a capital at its beginning."""
    return text[:1].upper() + text[1:]
