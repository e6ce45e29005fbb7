"""Every clause, part, figure, table, sheet, line and mix referred to is there, under the number that is told."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping
from typing import Final

from generator.document.model import CLAUSE_NUMBERS, LINE_NUMBERS, Figure, Ref
from generator.files.errors import Problem
from generator.papers.agreement.printed import (
    MIX_SCHEDULE,
    PRICING_SCHEDULE,
    SPECIFICATION,
    Anchor,
    Place,
    Printed,
    numbers_told,
)

_TO_DO: Final = "refer to what is in these papers, or keep it in them"


def dangling(found: Printed) -> Iterator[Problem]:
    """Each reference that leads nowhere, or tells another number than what it leads to."""
    for place, ref in found.refs:
        yield from _ref(found, place, ref)
    for anchor, first, second in found.twice:
        yield found.problem(second, f"'{anchor}' stands in {first} and again in {second}", "let it stand once")
    yield from _numbers(found)
    yield from _mixes(found)
    yield from _workbook(found)
    yield from _figures(found)
    yield from _sheets(found)


def _ref(found: Printed, place: Place, ref: Ref) -> Iterator[Problem]:
    anchor = found.anchors[place.paper].get(ref.anchor) if place.paper in found.anchors else None
    if anchor is None:
        yield found.problem(place, f"{place} refers to '{ref.anchor}', which is not in that paper", _TO_DO)
    elif not anchor.used:
        what = f"{place} refers to '{ref.anchor}', which {anchor.place} says is not used"
        yield found.problem(place, what, _TO_DO)
    elif _told(ref.text) not in ("", anchor.number):
        what = f"{place} says '{ref.text}' of '{ref.anchor}', which is {anchor.number} in {anchor.place}"
        yield found.problem(place, what, "number it once, where it stands")


def _told(text: str) -> str:
    """The number that a reference ends in; "" where it has none."""
    last = text.split()[-1] if text.split() else ""
    return last if any(map(str.isdigit, last)) else ""


# --- by number alone ----------------------------------------------------------------------------------------


def _numbers(found: Printed) -> Iterator[Problem]:
    clauses, lines = _clause_numbers(found), found.rows
    for place, value in found.values:
        if value.name == CLAUSE_NUMBERS:
            yield from _absent(found, place, "clause", value.text, clauses)
        elif value.name == LINE_NUMBERS:
            yield from _absent(found, place, "line", value.text, lines)


def _clause_numbers(found: Printed) -> set[str]:
    anchors = found.anchors[SPECIFICATION]
    return {it.number for key, it in anchors.items() if key.startswith("clause:") and it.used}


def _absent(found: Printed, place: Place, kind: str, text: str, known: Container[str]) -> Iterator[Problem]:
    for number in numbers_told(text):
        if number not in known:
            yield found.problem(place, f"{place} names {kind} {number}, which is not in these papers", _TO_DO)


def _mixes(found: Printed) -> Iterator[Problem]:
    cards = {card.ref for card in found.sheet.cards}
    for place, value in found.values:
        if value.name in ("mix_ref", "mix_used", "coarse_mix", "fine_mix", "coping_mix") and value.scope and value.text:
            for ref in re.split(" / |, ", value.text):
                if _is_mix(ref) and ref not in cards:
                    what = f"{place} names the mix {ref}, which has no card in {MIX_SCHEDULE}"
                    yield found.problem(place, what, _TO_DO)
    for card in found.sheet.cards:
        if not any(value.name == "mix_ref" and value.text == card.ref for _, value in found.values):
            yield found.problem(
                Place(MIX_SCHEDULE, card.ref), f"{MIX_SCHEDULE} has a card for {card.ref}, which {SPECIFICATION} names "
                "nowhere", "put the mix to a work, or take its card away",
            )  # fmt: skip


def _is_mix(ref: str) -> bool:
    return ref[:1] == "M" and ref[1:].isdigit()


def _workbook(found: Printed) -> Iterator[Problem]:
    clauses = _clause_numbers(found)
    cards = {card.ref for card in found.sheet.cards}
    for section in found.book.sections:
        for row in section.rows:
            place = Place(PRICING_SCHEDULE, f"line {row.ref}")
            yield from _absent(found, place, "clause", row.clauses, clauses)
            yield from _absent(found, place, "mix", row.mix, cards)


# --- figures and sheets -------------------------------------------------------------------------------------


def _figures(found: Printed) -> Iterator[Problem]:
    """The figures stand in the order of their numbers, each one that was counted."""
    anchors = found.anchors[SPECIFICATION]
    drawn = {key: it for key, it in anchors.items() if isinstance(it.block, Figure) and it.number}
    for key, number in found.job.figures.items():
        anchor = drawn.get(key)
        if anchor is None:
            place = Place(SPECIFICATION)
            yield found.problem(place, f"{SPECIFICATION} counts figure {number}, '{key}', and does not show it", _TO_DO)
        elif anchor.number != str(number):
            what = f"'{key}' is figure {anchor.number} in {anchor.place} and is counted as {number}"
            yield found.problem(anchor.place, what, "number it once, where it stands")
    yield from _counted(found, drawn)


def _counted(found: Printed, drawn: Mapping[str, Anchor]) -> Iterator[Problem]:
    for key, anchor in drawn.items():
        if key not in found.job.figures:
            what = f"{anchor.place} has figure {anchor.number}, '{key}', which is not counted among the figures"
            yield found.problem(anchor.place, what, "count it, or give it no number")


def _sheets(found: Printed) -> Iterator[Problem]:
    """Each wall that the papers name has its sheet."""
    if found.job.paper(SPECIFICATION).find("sheets") is None:
        return
    with_sheet = found.with_sheet
    for scope in found.job.facts.at("element"):
        if scope.path not in with_sheet:
            what = f"{SPECIFICATION} names the wall '{scope.title}' and has no sheet of it"
            yield found.problem(Place(SPECIFICATION), what, _TO_DO)
