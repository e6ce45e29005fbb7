"""Checks that what clauses ask is paid by lines that can pay for it, and that every line pays for something."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from generator.files.errors import Mark, Problem, did_you_mean
from generator.library.cost_places import LINE, OPEN, PRELIMINARIES, RATE, SUM
from generator.library.costs import in_all_rates, named_lines, place_of
from generator.library.entries import Clause, ItemEntry
from generator.library.exclusion import exclude
from generator.library.model import SHIPPED, Library
from generator.questionnaire.condition import Node
from generator.questionnaire.names import LEVELS


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
    if place != RATE:
        yield from _together(library, key, clause, mark)


def _together(library: Library, key: str, clause: Clause, mark: Mark) -> Iterator[Problem]:
    """Each two lines of a clause that can stand at one place, where both would hold the whole of it."""
    named = [library.items[name] for name in named_lines(clause) if name in library.items]
    alone = [item for item in named if not {other.id for other in named} & set(item.besides)]
    for one, other in combinations(alone, 2):
        if "mix" in (one.per, other.per):
            continue  # a mix serves walls, and stands at none of them
        outer, inner = sorted((one, other), key=lambda item: LEVELS.index(item.per))
        first, second = (_node(library, item) for item in (outer, inner))
        if not exclude(first, second, inner.per if outer.per != inner.per else ""):
            what = f"clause '{key}' is paid by '{one.id}' and by '{other.id}', which can stand at one place"
            to_do = (
                "give them conditions that exclude one another, part the clause, or name one in 'besides' of the other"
            )
            yield Problem(mark, what, to_do)


def _node(library: Library, item: ItemEntry) -> Node | None:
    when = library.condition("item", item.id).when
    return when.node if when is not None else None


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
            what = f"item '{key}' stands beside '{name}', which is no other line"
            yield Problem(mark, what, did_you_mean(name, library.items))
    if item.kind == "sum" and not item.quantity:
        what = f"item '{key}' is a sum and does not say which answer sets it"
        yield Problem(mark, what, "name it with 'quantity'; a sum that tenderers write is decided by the lowest guess")
    if not library.duties[key]:
        to_do = f"name it in the 'cost' of the clause that asks for it, as '{place_for(item)}: {key}'"
        yield Problem(mark, f"item '{key}' pays for no clause", to_do)
