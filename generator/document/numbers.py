"""The register of numbers: parts and clauses keep theirs from issue to issue, so nothing else moves.

A first issue numbers in order. Later, an added clause takes the number before it and a letter (2.2A), or the
next number at the end of its part; a removed one stays as "not used".
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Register = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class NumberedClause:
    """A clause with its number; `used` false where an earlier issue had it and this one has not."""

    clause_id: str
    number: str
    used: bool


@dataclass(frozen=True, slots=True)
class NumberedPart:
    """A part with its number and its clauses in order of number."""

    part_id: str
    number: str
    clauses: tuple[NumberedClause, ...]


def number(
    parts: Sequence[tuple[str, Sequence[str]]], last: Register | None = None
) -> tuple[NumberedPart, ...]:
    """The parts and clauses numbered, holding to the last issue's register where there is one."""
    known = last or {}
    keys = _merged([part for part, _ in parts], _known(known, "part:", ""))
    numbers = _numbers(keys, known, "part:", "")
    wanted = dict(parts)
    return tuple(_part(key, numbers[key], wanted.get(key, ()), known) for key in keys)


def register(parts: Sequence[NumberedPart]) -> dict[str, str]:
    """The register of an issue: every anchor with its number."""
    found: dict[str, str] = {}
    for part in parts:
        found[f"part:{part.part_id}"] = part.number
        found |= {f"clause:{clause.clause_id}": clause.number for clause in part.clauses}
    return found


def _part(key: str, own: str, wanted: Sequence[str], known: Register) -> NumberedPart:
    old = _known(known, "clause:", f"{own}.")
    keys = _merged(list(wanted), old)
    numbers = _numbers(keys, known, "clause:", f"{own}.")
    return NumberedPart(key, own, tuple(NumberedClause(item, numbers[item], item in wanted) for item in keys))


def _known(known: Register, kind: str, prefix: str) -> list[str]:
    """The keys of a kind that the last issue had under a number, in order of number."""
    found = [
        (key.removeprefix(kind), value)
        for key, value in known.items()
        if key.startswith(kind) and (value.startswith(prefix) if prefix else True)
    ]
    return [key for key, _ in sorted(found, key=lambda item: _order(item[1]))]


def _order(number_: str) -> list[tuple[int, str]]:
    return [(int(digits), letters) for digits, letters in re.findall(r"(\d+)([A-Z]*)", number_)]


def _merged(wanted: list[str], old: list[str]) -> list[str]:
    """Old keys in their old order, each new one after the wanted key before it."""
    keys = list(old)
    for index, key in enumerate(wanted):
        if key in keys:
            continue
        before = next((item for item in reversed(wanted[:index]) if item in keys), None)
        keys.insert(keys.index(before) + 1 if before is not None else 0, key)
    return keys


def _numbers(keys: list[str], known: Register, kind: str, prefix: str) -> dict[str, str]:
    found: dict[str, str] = {}
    base, last_old = "0", max((i for i, key in enumerate(keys) if kind + key in known), default=-1)
    letters = 0
    for index, key in enumerate(keys):
        if kind + key in known and known[kind + key].startswith(prefix):
            found[key] = known[kind + key]
            base, letters = re.sub(r"[A-Z]+$", "", found[key].removeprefix(prefix)), _letter_rank(found[key])
        elif index > last_old:
            base, letters = str(int(base) + 1), 0
            found[key] = prefix + base
        else:
            letters += 1
            found[key] = f"{prefix}{base}{_letters(letters)}"
    return found


def _letters(rank: int) -> str:
    text = ""
    while rank:
        rank, rest = divmod(rank - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _letter_rank(number_: str) -> int:
    match = re.search(r"([A-Z]+)$", number_)
    rank = 0
    for letter in match[1] if match else "":
        rank = rank * 26 + ord(letter) - ord("A") + 1
    return rank
