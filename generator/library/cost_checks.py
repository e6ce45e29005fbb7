"""Checks that what clauses ask is paid by lines that can pay for it, and that every line pays for something."""

from __future__ import annotations

from collections.abc import Iterator

from generator.errors import Mark, Problem, did_you_mean
from generator.library.costs import (
    LINE,
    OPEN,
    PRELIMINARIES,
    RATE,
    SUM,
    in_all_rates,
    named_lines,
    place_of,
)
from generator.library.model import SHIPPED, Clause, ItemEntry, Library


def misplaced(library: Library) -> Iterator[Problem]:
    """Each clause whose cost lies where nothing pays for it, and each line that pays for no clause."""
    for key, clause in library.clauses.items():
        yield from _clause(library, key, clause)
    for key, item in library.items.items():
        yield from _item(library, key, item)


def _clause(library: Library, key: str, clause: Clause) -> Iterator[Problem]:
    mark, place = library.marks.get(("clause", key), Mark(key)), place_of(clause)
    if place == OPEN and library.origin(key).layer == SHIPPED:
        yield Problem(mark, f"clause '{key}' does not say where its cost lies", "name the line that pays for it")
    if in_all_rates(clause) and place != RATE:
        yield Problem(mark, f"clause '{key}' has measured work as its '{place}'", "write 'cost: {rate: measured-work}'")
    for name in named_lines(clause):
        item = library.items.get(name)
        if item is None:
            what = f"clause '{key}' is paid by the line '{name}', which is not there"
            yield Problem(mark, what, did_you_mean(name, library.items))
        elif not _fits(item, place):
            what = f"clause '{key}' has '{name}' as its '{place}', which is a line of another kind"
            yield Problem(mark, what, f"{_told(item)} in '{place_for(item)}'")


def _fits(item: ItemEntry, place: str) -> bool:
    if place == RATE:
        # what is instructed only if it is found has no work of its own for anything to be part of
        return place_for(item) == LINE and item.kind != "rate only"
    return place == place_for(item)


def place_for(item: ItemEntry) -> str:
    """The place of a cost that a line to price is."""
    if item.kind == "sum":
        return SUM
    return PRELIMINARIES if item.group == "preliminaries" else LINE


def _told(item: ItemEntry) -> str:
    return "a line that has a rate only stands" if item.kind == "rate only" else "it stands"


def _item(library: Library, key: str, item: ItemEntry) -> Iterator[Problem]:
    mark = library.marks.get(("item", key), Mark(key))
    for name in item.besides:
        if name == key or name not in library.items:
            yield Problem(mark, f"item '{key}' stands beside '{name}', which is no other line", did_you_mean(name, library.items))
    if item.kind == "sum" and not item.quantity:
        what = f"item '{key}' is a sum and does not say which answer sets it"
        yield Problem(mark, what, "name it with 'quantity'; a sum that tenderers write is decided by the lowest guess")
    if not library.duties[key]:
        to_do = f"name it in the 'cost' of the clause that asks for it, as '{place_for(item)}: {key}'"
        yield Problem(mark, f"item '{key}' pays for no clause", to_do)
