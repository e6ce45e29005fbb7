"""Where the cost of what a clause asks for lies: told by the clause alone, once, and read from both sides here."""

from __future__ import annotations

from collections.abc import Mapping

from generator.library.cost_places import ALL_RATES, MIXED_WORK, RATE
from generator.library.entries import Clause, ItemEntry


def place_of(clause: Clause) -> str:
    """Where the cost of a clause lies: one of `PLACES`, `information` or `open`."""
    return clause.cost if isinstance(clause.cost, str) else next(iter(clause.cost))


def named_lines(clause: Clause) -> tuple[str, ...]:
    """The ids of the lines that a clause names as its payers; none where nobody pays, or all measured work does."""
    if isinstance(clause.cost, str):
        return ()
    return tuple(name for names in clause.cost.values() for name in names if name not in ALL_RATES)


def in_all_rates(clause: Clause) -> bool:
    """Whether its cost is in the rates of all measured work, or of all that takes a mix."""
    return not isinstance(clause.cost, str) and any(map(ALL_RATES.intersection, clause.cost.values()))


def of_mortar(clause: Clause) -> bool:
    """Whether only lines that take a mix have its cost in their rates."""
    return not isinstance(clause.cost, str) and any(MIXED_WORK in names for names in clause.cost.values())


def duties_of_lines(clauses: Mapping[str, Clause], items: Mapping[str, ItemEntry]) -> dict[str, tuple[str, ...]]:
    """The clauses that each line pays for, in the order of the clauses.

    A line beside others pays too for what they are the line of, not for the ways of working in their rates.
    """
    named: dict[str, set[str]] = {key: set() for key in items}
    for key, clause in clauses.items():
        for item in named_lines(clause):
            named.setdefault(item, set()).add(key)
    in_rates = {key for key, clause in clauses.items() if place_of(clause) == RATE}
    order = {key: place for place, key in enumerate(clauses)}
    return {
        key: tuple(sorted(named[key] | _beside(key, items, named) - in_rates, key=order.__getitem__)) for key in items
    }


def _beside(key: str, items: Mapping[str, ItemEntry], named: Mapping[str, set[str]]) -> set[str]:
    """The clauses of the lines that a line stands beside, and of those that they do."""
    seen = {key}
    waiting = list(items[key].besides)
    found: set[str] = set()
    while waiting:
        line = waiting.pop()
        if line in items and line not in seen:
            seen.add(line)
            found |= named[line]
            waiting += items[line].besides
    return found
