"""Sheet, front page, schedule and workbook give one quantity for one line, and one count for one batch."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import Final

from generator.document.card import Card
from generator.document.model import LINE_NUMBERS, Inlines, PricedRow, Row, Table, Value, plain_text
from generator.files.errors import Problem
from generator.measure.model import Item
from generator.papers.agreement.printed import (
    MIX_SCHEDULE,
    PRICING_SCHEDULE,
    SPECIFICATION,
    Place,
    Printed,
    numbers_told,
)
from generator.questionnaire.scopes import ScopePath
from generator.values import Spelling, plain, rounded, spoken

_TO_DO: Final = "take both from the one line that was measured"
_COLUMNS: Final = ("item", "description", "mix", "clauses", "unit")
_BEGINS: Final = 12
_NUMBER: Final = re.compile(r"\d[\d,]*-\d+/\d+|\d+/\d+|\d[\d,]*(?:\.\d+)?[¼½¾]?|[¼½¾]")


def unequal(found: Printed) -> Iterator[Problem]:
    """Each line or batch that two papers tell differently."""
    rows = found.rows
    items = {item.ref: item for item in found.job.measured.items()}
    yield from _measured(found, rows, items)
    yield from _scheduled(found, rows)
    yield from _told(found, items)
    yield from _cited(found, items)
    yield from _batches(found)


def _measured(found: Printed, rows: dict[str, PricedRow], items: dict[str, Item]) -> Iterator[Problem]:
    for ref in {**items, **rows}:
        item, row = items.get(ref), rows.get(ref)
        place = Place(PRICING_SCHEDULE, f"line {ref}")
        if item is None or row is None:
            where = "is measured and not" if row is None else "is not measured and stands"
            yield found.problem(place, f"line {ref} {where} in {place}", _TO_DO)
        elif (was := _standing(row)) != (measured := _standing(item)):
            yield found.problem(place, f"line {ref} is {was} in {place} and was measured as {measured}", _TO_DO)


def _standing(line: PricedRow | Item) -> str:
    """How much a line is of what, and how it counts."""
    much = line.quantity if line.amount is None else line.amount
    notional = "" if line.notional is None else f", {line.notional} for comparing"
    return f"{much} {line.unit} ({line.kind}{notional})"


def _scheduled(found: Printed, rows: dict[str, PricedRow]) -> Iterator[Problem]:
    """The schedule of the specification against the workbook, line by line."""
    if found.job.paper(SPECIFICATION).find("schedule") is None:
        return
    part = found.job.paper(SPECIFICATION).part("lines")
    shown = [column.shows for column in part.columns]
    listed: dict[str, tuple[Place, Row]] = {}
    anchor = found.anchors[SPECIFICATION].get("table:lines")
    if anchor is not None and isinstance(anchor.block, Table):
        lines = [row for row in anchor.block.rows if row.kind != "group"]
        listed = {plain_text(row.cells[shown.index("item")]): (anchor.place, row) for row in lines}
    for ref in {**listed, **rows}:
        if ref not in listed or ref not in rows:
            here, there = (PRICING_SCHEDULE, SPECIFICATION) if ref in rows else (SPECIFICATION, PRICING_SCHEDULE)
            yield found.problem(Place(here, f"line {ref}"), f"line {ref} stands in {here} and not in {there}", _TO_DO)
            continue
        place, row = listed[ref]
        cells = dict(zip(shown, row.cells, strict=True))
        told = {name: plain_text(cell) for name, cell in cells.items()}
        if "description" in cells:
            told["description"] = _in_full(cells["description"], rows[ref], rows, found.job.word("rate-includes"))
        if named := _named(cells.get("clauses", ()), rows):
            told["clauses"] = named.clauses
        yield from _same(found, place, told, rows[ref])


def _same(found: Printed, place: Place, told: dict[str, str], row: PricedRow) -> Iterator[Problem]:
    other = Place(PRICING_SCHEDULE, f"line {row.ref}")
    written = {
        "item": row.ref, "description": row.description, "mix": row.mix, "clauses": row.clauses,
        "unit": row.unit, "quantity": _written(row, found.book.currency),
    }  # fmt: skip
    for name, text in written.items():
        here = told.get(name, text)
        alike = here.endswith(text) if name == "description" else here == text
        if not alike:
            what = f"line {row.ref} has the {name} '{here}' in {place} and '{text}' in {other}"
            yield found.problem(place, what, _TO_DO)


def _named(cell: Inlines, rows: dict[str, PricedRow]) -> PricedRow | None:
    """The line that a cell of another names instead of saying the same."""
    refs = (item.text for item in cell if isinstance(item, Value) and item.name == LINE_NUMBERS)
    return next((rows[ref] for ref in refs if ref in rows), None)


def _in_full(cell: Inlines, row: PricedRow, rows: dict[str, PricedRow], includes: str) -> str:
    """The words of a line of the schedule; those for which it names a line, from that one.

    Such a line says how its words begin, or all of them but what its rate includes, before it names the other.
    """
    text, named = plain_text(cell), _named(cell, rows)
    if named is None:
        return text
    if named.description == row.description:
        return row.description if row.description[:_BEGINS] in text else text
    own, _, _ = row.description.partition(includes)
    return own + includes + named.description.partition(includes)[2] if own.strip() in text else text


def _written(row: PricedRow, currency: str) -> str:
    """The quantity of a line as the schedule prints it: of a sum its amount, of a rate alone what is notional."""
    if row.amount is not None:
        return f"{currency}\u00a0{spoken(row.amount)}"
    if row.notional is not None:
        return f"({plain(row.notional)})"
    return "" if row.quantity is None else plain(row.quantity)


def _told(found: Printed, items: dict[str, Item]) -> Iterator[Problem]:
    """Quantities that front page, sheets and companions tell against the line that is priced."""
    priced: dict[tuple[str, ScopePath], Item] = {}
    for item in items.values():
        if item.quantity is not None and item.amount is None:
            priced.setdefault((item.entry.quantity, item.path), item)
    seen: set[tuple[str, ScopePath, str]] = set()
    for place, value in found.values:
        line = priced.get((value.name, value.scope))
        key = (value.name, value.scope, value.text)
        if line is None or key in seen:
            continue
        seen.add(key)
        amount = _amount(value.text)
        if amount is not None and line.quantity is not None and rounded(amount, 1) != rounded(line.quantity, 1):
            there = Place(PRICING_SCHEDULE, f"line {line.ref}")
            what = f"'{value.name}' is {value.text} in {place} and {plain(line.quantity)} {line.unit} in {there}"
            yield found.problem(place, what, _TO_DO)


def _amount(text: str) -> Decimal | None:
    """The number that a text begins with; None for one that tells a range, or none."""
    match = _NUMBER.match(text)
    if match is None or "–" in text or " to " in text:
        return None
    whole, _, fraction = match[0].replace(",", "").rpartition("-")
    above, _, below = fraction.partition("/")
    try:
        return Decimal(whole or 0) + Decimal(above) / Decimal(below or 1)
    except InvalidOperation:
        return None


def _cited(found: Printed, items: dict[str, Item]) -> Iterator[Problem]:
    """The lines that a sheet or index gives to a scope, a mix with its panels say, are of it or serve it."""
    for place, value in found.values:
        if value.name == LINE_NUMBERS:
            for ref in numbers_told(value.text):
                item = items.get(ref)
                depth = len(value.scope)
                if item is not None and all(at[:depth] != value.scope for at in item.serves):
                    wall = found.job.facts.title(value.scope)
                    there = Place(PRICING_SCHEDULE, f"line {ref}")
                    own = found.job.facts.title(item.path)
                    what = f"{place} gives line {ref} to {wall}, and it is of {own} in {there}"
                    yield found.problem(place, what, _TO_DO)


# --- batches ------------------------------------------------------------------------------------------------


def _batches(found: Printed) -> Iterator[Problem]:
    """The counts of each card against the boxes that the specification tables."""
    for card in found.sheet.cards:
        told = found.job.facts.spoken((card.ref,), "mix_boxes")
        wanted = _counts(card, found.job.facts.spelling)
        if told and not _holds(_numbers(told), wanted):
            here, counts = Place(MIX_SCHEDULE, card.ref), ", ".join(wanted)
            what = f"a batch of {card.ref} counts {counts} in {here} and '{told}' in {SPECIFICATION}"
            yield found.problem(here, what, "take both from the one batch that was reckoned")


def _counts(card: Card, spelling: Spelling) -> list[str]:
    return [spelling.count(count.amount) for count in card.counts]


def _numbers(text: str) -> list[str]:
    return _NUMBER.findall(text)


def _holds(numbers: list[str], wanted: list[str]) -> bool:
    """Whether numbers hold those wanted, in their order."""
    rest = iter(numbers)
    return all(number in rest for number in wanted)
