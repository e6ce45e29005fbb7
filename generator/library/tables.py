"""Tables of the trade: what the values of each may be, and how rows are found and read.

A value of the wrong kind, or one that the reckoning cannot take, is a mistake in the file, never a fault met while
papers are written.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from decimal import Decimal
from functools import cache, cached_property
from typing import Annotated, Any, Final, Literal, NoReturn, cast

from generator.files.errors import InputInvalid, Mark, Problem, did_you_mean, shown
from generator.files.shapes import (
    FILLED,
    After,
    Before,
    Confidence,
    InJson,
    InOrder,
    Number,
    Shape,
    Whole,
    like,
    mistake,
    one_of,
    within,
)
from generator.files.source import Path_
from generator.lime.coats import LATH_GAP_LIMITS_MM, THICKNESS_LIMITS_MM
from generator.lime.hair import DOSE_LIMITS_KG_PER_M3
from generator.lime.hardening import CARBONATION_LIMITS
from generator.lime.labour import TASKS
from generator.lime.mortar import YIELD_LIMITS
from generator.lime.putty import PUTTY_LIMITS_KG_PER_L
from generator.lime.sand import BULKING_SHARE_LIMITS, MOISTURE_SHARE_LIMITS, VOID_SHARE_LIMITS
from generator.lime.slaking import START_C_LIMITS
from generator.questionnaire.facts import View
from generator.questionnaire.names import Names
from generator.values import Range, defstruct, replace

ID: Final = r"^[a-z][a-z0-9]*([.-][a-z0-9]+)*$"
Id = Annotated[str, like(ID)]


def _spread(name: str, limits: tuple[float, float]) -> dict[str, tuple[float, float]]:
    return {f"{name}_{end}": limits for end in ("low", "likely", "high")}


# What the reckoning takes, whatever a table says of its values.
_RECKONED: Final[Mapping[str, tuple[float, float]]] = {
    "coat_mm": THICKNESS_LIMITS_MM,
    "hair_kg_per_m3": DOSE_LIMITS_KG_PER_M3,
    "start_c": START_C_LIMITS,
    **dict.fromkeys(("gap_mm", "gap_least_mm", "gap_most_mm"), LATH_GAP_LIMITS_MM),
    **dict.fromkeys(("weight_low", "weight_high"), PUTTY_LIMITS_KG_PER_L),
    **_spread("bulking", BULKING_SHARE_LIMITS),
    **_spread("moisture", MOISTURE_SHARE_LIMITS),
    **_spread("root_day_mm", CARBONATION_LIMITS),
    **_spread("void", VOID_SHARE_LIMITS),
    **_spread("yield", YIELD_LIMITS),
}
_PerCent = Annotated[Number, within(0, 100)]


def _least_first(row: tuple[Decimal, Decimal, Decimal]) -> tuple[Decimal, Decimal, Decimal]:
    sieve, least, most = row
    if least <= most:
        return row
    raise mistake("order", told=f"{sieve} mm: {least}, {most}")


class TableValue(Shape, frozen=True):
    """What a value is: numbers with their limits, texts with the name (`of`) whose choices they are.

    `quantity` is a name whose value is read, `passing` a list of sieves in mm with the least and most per cent passing.
    """

    kind: Literal["number", "whole", "numbers", "text", "texts", "quantity", "passing"]
    least: Number | None = None
    most: Number | None = None
    of: str = ""

    def form(self, name: str) -> Any:
        """The type that checks a value so called."""
        if self.kind == "whole":
            return Whole
        if self.kind in ("text", "texts", "quantity"):
            word: Any = Annotated[str, one_of(TASKS)] if name == "tasks" else str
            return tuple[word, ...] if self.kind == "texts" else word
        item: Any = Annotated[Number, within(*self._limits(name))]
        if self.kind == "passing":
            item = Annotated[tuple[item, _PerCent, _PerCent], After(_least_first)]
        return item if self.kind == "number" else Annotated[tuple[item, ...], FILLED]

    def _limits(self, name: str) -> tuple[float | Decimal, float | Decimal]:
        """The narrower of its own limits and those of the reckoning."""
        low, high = _RECKONED.get(name, (-1e12, 1e12))
        least, most = low if self.least is None else self.least, high if self.most is None else self.most
        return max(low, least), min(high, most)


def _cell(value: Any) -> str | tuple[str, ...]:
    if isinstance(value, str):
        return value
    if isinstance(value, list) and value and all(isinstance(item, str) for item in value):
        return tuple(value)
    raise mistake("cell")


_WORD_OR_WORDS: Final = {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}]}
Cell = Annotated[str | tuple[str, ...], Before(_cell), InJson(_WORD_OR_WORDS)]


class TableRow(Shape, frozen=True):
    """A row: keys, values, and why. `range` keeps what sources say where they differ.

    A value that is read and that the row lacks raises `InputInvalid`.
    """

    keys: dict[str, Cell]
    values: dict[str, Any]
    sources: tuple[str, ...]
    confidence: Confidence
    range: str = ""
    because: str = ""
    _mark: Mark = Mark("")

    def number(self, name: str) -> Decimal:
        """A number, in the unit that its name ends in."""
        return self._number(self.values.get(name), name)

    def numbers(self, name: str) -> tuple[Decimal, ...]:
        """A list of numbers."""
        return tuple(self._number(item, name) for item in self._list(name))

    def text(self, name: str) -> str:
        """A word or text."""
        return self._text(self.values.get(name), name)

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of words or texts."""
        return tuple(self._text(item, name) for item in self._list(name))

    def passing(self, name: str) -> tuple[tuple[float, float, float], ...]:
        """Sieves in mm, with the least and most per cent passing."""
        return tuple((float(sieve), float(least), float(most)) for sieve, least, most in self._list(name))

    def spread(self, name: str = "") -> Range[float]:
        """The low, likely and high of a value, which stand as `name_low`, `name_likely` and `name_high`."""
        start = f"{name}_" if name else ""
        low, likely, high = (float(self.number(f"{start}{end}")) for end in ("low", "likely", "high"))
        return Range(low, likely, high)

    def _number(self, value: Any, name: str) -> Decimal:
        return Decimal(str(value)) if isinstance(value, int | Decimal) else self._lack("number", name)

    def _text(self, value: Any, name: str) -> str:
        return value if isinstance(value, str) else self._lack("text", name)

    def _list(self, name: str) -> list[Any]:
        value = self.values.get(name)
        return value if isinstance(value, list) else self._lack("list", name)

    def _lack(self, wanted: str, name: str) -> NoReturn:
        what = f"has no {wanted} '{name}', which the program asks for"
        raise InputInvalid([Problem(self._mark, what, "write it, or take it over from the shipped library")])


class Table(Shape, frozen=True, dict=True):
    """Values of the trade by key; the first row that fits serves.

    A key cell is a choice, a list of choices, or `any`; a row without one of the keys takes any.
    """

    id: Id
    title: str
    keys: tuple[str, ...]
    values: dict[str, TableValue]
    rows: tuple[TableRow, ...]
    about: str = ""

    @cached_property
    def kept(self) -> dict[tuple[str, ...], TableRow | None]:
        """What was found by keys: a job asks for the same few rows over and over, and rows never change."""
        return {}

    def placed(self, marks: Iterable[Mark]) -> Table:
        """The table with its rows knowing where they stand."""
        rows = (replace(row, _mark=mark) for row, mark in zip(self.rows, marks, strict=True))
        return replace(self, rows=tuple(rows))

    def find(self, **keys: str) -> TableRow | None:
        """The first row whose keys all fit; None where no row does. An empty text is a key that is not known."""
        return self._first(tuple(keys.get(name, "") for name in self.keys))

    def _first(self, asked: tuple[str, ...]) -> TableRow | None:
        if asked not in self.kept:
            self.kept[asked] = next((row for row in self.rows if self._fits(row, asked)), None)
        return self.kept[asked]

    def _fits(self, row: TableRow, asked: tuple[str, ...]) -> bool:
        return all(fits(row.keys.get(name, "any"), value) for name, value in zip(self.keys, asked, strict=True))

    def row_for(self, here: View, unknown: Collection[str] = ()) -> TableRow | None:
        """The row for a scope; `unknown` are keys that need not be known."""
        asked = tuple(map(here.text, self.keys))
        if not all(asked) and not all(value or name in unknown for name, value in zip(self.keys, asked, strict=True)):
            return None
        return self._first(asked)

    def found(self, here: View, unknown: Collection[str] = ()) -> tuple[TableRow | None, tuple[str, ...]]:
        """The row for a scope, as `row_for`, and the answers it was found by."""
        asked = {name: here.text(name) for name in self.keys}
        if not all(value or name in unknown for name, value in asked.items()):
            return None, ()
        labels = here.facts.names
        told = tuple(f"{labels[name].label.lower()}: {here.spoken(name)}" for name, known in asked.items() if known)
        return self._first(tuple(asked.values())), told

    def shape(self) -> type[Shape]:
        """The shape of the values in a row."""
        return _shape(tuple(self.values.items()))


@cache
def _shape(values: tuple[tuple[str, TableValue], ...]) -> type[Shape]:
    fields = [(name, value.form(name)) for name, value in values]
    return cast("type[Shape]", defstruct("Values", fields, bases=(InOrder,), frozen=True))


def fits(cell: str | tuple[str, ...], value: str) -> bool:
    """Whether a key cell takes a value: it is the value, lists it, or is `any`."""
    if cell == "any":
        return True
    return value in cell if isinstance(cell, tuple) else value == cell


def strange_words(table: Table, names: Names) -> Iterator[tuple[Path_, str, str]]:
    """Each word of a table that is not known: its place in the file, what is wrong, and a hint."""
    for name, value in table.values.items():
        if value.of and (value.of not in names or not names[value.of].choices):
            what = f"has the choices of '{shown(value.of)}', which is no name with choices"
            yield ("values", name, "of"), what, did_you_mean(value.of, (key for key in names if names[key].choices))
    for index, row in enumerate(table.rows):
        for kind, cells in (("keys", row.keys), ("values", row.values)):
            for column, cell in cells.items():
                declared = table.values.get(column) if kind == "values" else None
                for word in cell if isinstance(cell, list | tuple) else (cell,):
                    wrong = _strange(column, word, declared, names) if isinstance(word, str) else None
                    if wrong is not None:
                        yield ("rows", index, kind, column), *wrong


def _strange(column: str, word: str, declared: TableValue | None, names: Names) -> tuple[str, str] | None:
    """What is wrong with a word that is no choice of its name, or with a quantity that is no name."""
    if declared is not None and declared.kind == "quantity" and word not in names:
        return f"takes its quantity from '{shown(word)}', which is not known", did_you_mean(word, names)
    name = names.get((declared.of if declared is not None else "") or column)
    if name is None or name.kind != "choice" or word in name.choices or (declared is None and word == "any"):
        return None
    what = f"has '{shown(word)}' as '{column}', which is no choice of '{name.name}'"
    return what, did_you_mean(word, name.choices)
