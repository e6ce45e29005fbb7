"""The register of numbers: what is numbered keeps its number from issue to issue, so nothing else moves.

A first issue numbers in order. Later, an added clause takes the number before it and the next free letter (2.2A), or
the next number at the end of its part; a removed one stays as "not used".
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from generator.values import Struct

Register = Mapping[str, str]
# What the keys of the two levels of a register begin with.
Kinds = tuple[str, str]
_CLAUSES: Final[Kinds] = ("part:", "clause:")
_NUMBER: Final = re.compile(r"(\d+)([A-Z]*)")
_LONGEST: Final = 40


class NumberedClause(Struct, frozen=True):
    """A clause with its number; `used` false where an earlier issue had it and this one has not."""

    clause_id: str
    number: str
    used: bool


class NumberedPart(Struct, frozen=True):
    """A part with its number and its clauses in order of number."""

    part_id: str
    number: str
    clauses: tuple[NumberedClause, ...]


def number(
    parts: Sequence[tuple[str, Sequence[str]]], last: Register | None = None, kinds: Kinds = _CLAUSES
) -> tuple[NumberedPart, ...]:
    """The parts and clauses numbered, holding to the last issue's register where there is one."""
    known = last or {}
    wanted = dict(parts)
    all_wanted = {key for _, keys in parts for key in keys}
    numbers = _numbers(list(wanted), _known(known, kinds[0], ""), "")
    return tuple(_part(key, own, wanted.get(key, ()), all_wanted, known, kinds[1]) for key, own in numbers.items())


def register(parts: Sequence[NumberedPart], kinds: Kinds = _CLAUSES) -> dict[str, str]:
    """The register of an issue: every anchor with its number."""
    found: dict[str, str] = {}
    for part in parts:
        found[kinds[0] + part.part_id] = part.number
        found |= {kinds[1] + clause.clause_id: clause.number for clause in part.clauses}
    return found


def runs(numbers: Iterable[str], places: Mapping[str, int]) -> list[list[str]]:
    """Numbers with what follows one another within a part drawn together; `places` tells what follows what."""
    found: list[list[str]] = []
    for one in numbers:
        last = found[-1][-1] if found else ""
        follows = last and places[last] == places[one] - 1 and last.split(".")[0] == one.split(".")[0]
        found[-1].append(one) if follows else found.append([one])
    return found


def runs_told(drawn: Iterable[Sequence[str]]) -> str:
    """Runs of numbers, each by its ends: `7.4–7.6, 8.1`."""
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in drawn)


def is_number(text: str) -> bool:
    """Whether a text is a number such as a register gives."""
    return len(text) <= _LONGEST and all(_NUMBER.fullmatch(piece) for piece in text.split("."))


def _part(key: str, own: str, wanted: Sequence[str], all_wanted: set[str], known: Register, kind: str) -> NumberedPart:
    here, old = set(wanted), _known(known, kind, f"{own}.")
    # the number of a clause that has moved to another part stays behind under a key of its own
    moved = {item: f"{item}.was-{text}" for item, text in old.items() if item in all_wanted - here}
    numbers = _numbers(wanted, {moved.get(item, item): text for item, text in old.items()}, f"{own}.")
    return NumberedPart(key, own, tuple(NumberedClause(item, text, item in here) for item, text in numbers.items()))


def _known(known: Register, kind: str, prefix: str) -> dict[str, str]:
    """What the last issue had of a kind under a number, in order of number."""
    found = {
        key.removeprefix(kind): text for key, text in known.items() if key.startswith(kind) and text.startswith(prefix)
    }
    return dict(sorted(found.items(), key=lambda item: order(item[1])))


def order(text: str) -> list[tuple[int, int]]:
    """What numbers are sorted by: 2, 2.1, 2.1A … 2.1Z, 2.1AA, 2.2, 10."""
    return [(int(digits), _rank(letters)) for digits, letters in _NUMBER.findall(text)]


def _numbers(wanted: Sequence[str], known: Mapping[str, str], prefix: str) -> dict[str, str]:
    """The number of each key, old and wanted, in order of number."""
    split = {key: order(text.removeprefix(prefix))[0] for key, text in known.items()}
    # numbers once given are never given again, so the next letter is told by all that there are
    letters: dict[int, int] = {}
    for base, rank in split.values():
        letters[base] = max(letters.get(base, 0), rank)
    end = max(letters, default=0)
    last_old = max((index for index, key in enumerate(wanted) if key in known), default=-1)
    base = 0
    for index, key in enumerate(wanted):
        if key in known:
            base = split[key][0]
        elif index > last_old:
            end += 1
            split[key] = (end, 0)
        else:
            letters[base] = letters.get(base, 0) + 1
            split[key] = (base, letters[base])
    return {key: f"{prefix}{base}{_letters(rank)}" for key, (base, rank) in sorted(split.items(), key=lambda it: it[1])}


def _letters(rank: int) -> str:
    text = ""
    while rank:
        rank, rest = divmod(rank - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _rank(letters: str) -> int:
    rank = 0
    for letter in letters:
        rank = rank * 26 + ord(letter) - ord("A") + 1
    return rank
