"""Figures that papers print and no answer or table gives: each stands once, its unit in its name, with its source."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Annotated, Any, Final

from generator.files.errors import Mark
from generator.files.shapes import FILLED, Before, Confidence, InJson, Shape, amiss, like
from generator.questionnaire.customs import Customary
from generator.questionnaire.names import Names
from generator.values import METRIC, NO_CUSTOMS, Customs, Range, Spelling, Struct, field, spoken, told_as, unit_of

_RANGE: Final = re.compile(r"(\d+(?:\.\d+)?) - (\d+(?:\.\d+)?)\Z")
NAME: Final = r"^[a-z][a-z0-9_]*$"


def amount(value: Any) -> Decimal | Range[Decimal] | str:
    """A figure as it is declared: a number; `25 - 75` a range; other text as it stands, a time or a fall of `1 in 40`.

    ValueError for what is none of them.
    """
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return Decimal(value)
    if isinstance(value, str) and value.strip():
        ends = _RANGE.match(value)
        if ends is None:
            return value
        low, high = Decimal(ends[1]), Decimal(ends[2])
        if low < high:
            return Range(low, (low + high) / 2, high)
    raise ValueError(value)


def _declared(value: Any) -> Decimal | str:
    try:
        amount(value)
    except ValueError:
        what = "write a number, a range such as '25 - 75', or the words of a time or a fall"
        raise amiss("cannot be {it}", what) from None
    return value if isinstance(value, str) else Decimal(value)


Amount = Annotated[Any, Before(_declared), InJson({"type": ["number", "string"]})]


class FigureEntry(Shape, frozen=True):
    """A figure that several texts take by its name, or one that only a step, a finding or a word takes."""

    name: Annotated[str, like(NAME)]
    is_: Amount = field(name="is")
    sources: Annotated[tuple[str, ...], FILLED]
    confidence: Confidence
    range: str = ""
    because: str = ""
    customary: Customary | None = None


class Figure(Struct, frozen=True):
    """A figure with its source and place, and how it is spelt: here `spelling`, with its own `customs`.

    One that a clause or finding has for itself alone is named `id/name`. `customary_sources` are those of the figure
    that is published in customary units.
    """

    name: str
    value: Decimal | Range[Decimal] | str
    sources: tuple[str, ...]
    confidence: str
    mark: Mark
    range: str = ""
    because: str = ""
    customs: Customs = NO_CUSTOMS
    customary_sources: tuple[str, ...] = ()
    spelling: Spelling = METRIC

    def told_by(self) -> tuple[str, ...]:
        """The sources of the figure as it is spelt."""
        return self.customary_sources if self.spelling.chooses and self.customary_sources else self.sources

    def spelt(self, form: str = "") -> str:
        """The figure with its unit; by a filter without it (`bare`), with it in words (`full`), or a range by `to`."""
        unit = unit_of(self.name.rpartition("/")[2])
        if form == "full" and isinstance(self.value, Decimal):
            return self.spelling.in_full(self.value, unit, self.customs)
        if isinstance(self.value, str):
            return self.spelling.text(self.value, self.customs)
        unit = "" if form == "bare" else unit
        return told_as(self.value, form, lambda value: spoken(value, unit, self.spelling, self.customs), self.spelling)


def own(entry: str, name: str) -> str:
    """What a figure is called that a clause or finding declares for itself."""
    return f"{entry}/{name}"


def figure_mistakes(
    figures: Mapping[str, FigureEntry], declared: Mapping[tuple[str, str], Mapping[str, Any]], names: Names
) -> Iterator[tuple[str, str, str, str]]:
    """What is wrong with the names of figures: kind and key of the entry, what, and what to do."""
    for name in figures:
        if name in names:
            yield "figure", name, f"declares '{name}', which is a name already", "rename one of the two"
    for (kind, key), own_figures in declared.items():
        for name in own_figures:
            if not re.match(NAME, name):
                yield kind, key, f"calls a figure '{name}'", "write small letters, figures and underscores only"
            elif name in names or name in figures:
                what = f"declares the figure '{name}', which stands elsewhere already"
                yield kind, key, what, "take it by its name, or rename it"
