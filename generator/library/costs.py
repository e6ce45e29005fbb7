"""Where the cost of what a clause asks for lies: told by the clause alone, once, and read from both sides here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated, Any, Final

from generator.files.errors import did_you_mean, shown
from generator.files.shapes import Before, InJson, amiss

if TYPE_CHECKING:
    from generator.library.model import Clause, ItemEntry

LINE, RATE, PRELIMINARIES, SUM = "line", "rate", "preliminaries", "sum"
PLACES: Final = (LINE, RATE, PRELIMINARIES, SUM)
"""Where a cost can lie: in a line of its own, inside the rate of a line, in the preliminaries, in a provisional sum."""

INFORMATION: Final = "information"
"""What costs nobody anything: it tells, or it says when something may begin."""

OPEN: Final = "open"
"""What nobody has said yet of a clause that was begun: papers with it are drafts."""

MEASURED_WORK: Final = "measured-work"
"""In the place of a line: every line of measured work, in whose rates it is."""

MIXED_WORK: Final = "mixed-work"
"""In the place of a line: every line of measured work that takes a mix."""

TOLD: Final = "'cost: {line: ITEM}', '{rate: ITEM}', '{preliminaries: ITEM}', '{sum: ITEM}' or 'cost: information'"
_WORDS: Final = (INFORMATION, OPEN)
_ALL_RATES: Final = frozenset({MEASURED_WORK, MIXED_WORK})


def _cost(value: Any) -> str | dict[str, tuple[str, ...]]:
    if isinstance(value, str):
        if value not in _WORDS:
            raise amiss("cannot be {it}", f"say which line pays for it: {TOLD}")
        return value
    if not isinstance(value, dict) or not value:
        raise amiss("is {it}, where the place of a cost is wanted", f"write {TOLD}")
    if len(value) > 1:
        told = " and ".join(f"'{shown(str(key))}'" for key in value)
        raise amiss(f"lies in {len(value)} places, {told}", "leave one; what another line pays is a clause of its own")
    (place, lines), *_ = value.items()
    if place not in PLACES:
        raise amiss(f"lies in '{shown(str(place))}', which is no place", did_you_mean(str(place), PLACES))
    named = [lines] if isinstance(lines, str) else lines
    if not isinstance(named, list | tuple) or not named or not all(isinstance(name, str) for name in named):
        raise amiss(f"names no line under '{place}'", "name one line by its id, or several as [a, b]")
    return {place: tuple(named)}


_ITEMS: Final = {"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 1}]}
Cost = Annotated[
    str | dict[str, tuple[str, ...]],
    Before(_cost),
    InJson(
        {
            "anyOf": [
                {"enum": list(_WORDS)},
                {
                    "type": "object",
                    "properties": dict.fromkeys(PLACES, _ITEMS),
                    "additionalProperties": False,
                    "minProperties": 1,
                    "maxProperties": 1,
                },
            ]
        }
    ),
]
"""The place of a cost: `information`, `open`, or one of `PLACES` with the ids of the lines that pay."""


def place_of(clause: Clause) -> str:
    """Where the cost of a clause lies: one of `PLACES`, `information` or `open`."""
    return clause.cost if isinstance(clause.cost, str) else next(iter(clause.cost))


def named_lines(clause: Clause) -> tuple[str, ...]:
    """The ids of the lines that a clause names as its payers; none where nobody pays, or all measured work does."""
    if isinstance(clause.cost, str):
        return ()
    return tuple(name for names in clause.cost.values() for name in names if name not in _ALL_RATES)


def in_all_rates(clause: Clause) -> bool:
    """Whether its cost is in the rates of all measured work, or of all that takes a mix."""
    return not isinstance(clause.cost, str) and any(map(_ALL_RATES.intersection, clause.cost.values()))


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
