"""No text of the library holds a bare number: figures are taken by name, so that each stands once, with its source.

What is no figure and may stand is listed here: designations of standards, classes and grades, and numbers of steps.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from generator.errors import Mark, Problem
from generator.library.model import Library

FIELDS: Final[Mapping[str, tuple[str, ...]]] = {
    "clause": ("title", "text", "check", "because"),
}
"""The texts that are looked through, by the kind of their entry."""

DESIGNATIONS: Final = (
    r"EN \d+(?:-\d+)?", r"CL 90(?:-Q)?", r"NHL (?:2|3\.5|5)", r"FFP3", r"P3", r"A4", r"code \d", r"H-class", r"Enter 0",
)  # fmt: skip
"""Names of standards, classes and grades: numbers in them measure nothing."""

_UNITS: Final = (
    "minutes?|hours?|days?|weeks?|months?|years?|metres?|millimetres?|litres?|kilograms?|grams?|degrees?|boxes"
)
_SPELT: Final = (
    "two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fourteen|fifteen|twenty|thirty|forty|fifty|sixty|ninety"
)
_PLACEHOLDER: Final = re.compile(r"\{\{.*?\}\}|\]\([^)]*\)")
_STEP: Final = re.compile(r"(?m)^[ \t]*\d+\.[ \t]")
_NAMED: Final = re.compile("|".join(rf"\b{pattern}(?!\w)" for pattern in DESIGNATIONS))
_NUMBER: Final = re.compile(rf"(?<![\w.,])\d+(?:[.,:]\d+)*|\b(?:{_SPELT})(?=[ -](?:{_UNITS})\b)", re.IGNORECASE)


def bare_numbers(library: Library) -> Iterator[Problem]:
    """A problem for each bare number, at its line and column: all of them at once."""
    raw: dict[str, str] = {}
    for kind, parts in FIELDS.items():
        for key, entry in library.texts.entries[kind].items():
            for part in parts:
                for number, mark in _found(library, kind, key, part, entry, raw):
                    what = f"{kind} '{key}': its {part} holds the bare number '{number}'"
                    to_do = "declare it under the clause's `figures`, or in figures/, and take it by name"
                    yield Problem(mark, what, to_do)


def _found(
    library: Library, kind: str, key: str, part: str, entry: Any, raw: dict[str, str]
) -> Iterator[tuple[str, Mark]]:
    numbers = numbers_in(str(getattr(entry, part)))
    if not numbers:
        return
    entry_mark = library.marks.get((kind, key), Mark(key))
    text = _raw(entry_mark.file, raw)
    at = _start(text, entry_mark.line, part)
    for number in numbers:
        at, mark = _placed(text, number, at, entry_mark)
        yield number, mark


def numbers_in(text: str) -> list[str]:
    """The bare numbers of a text, in order, those spelt in words before a unit among them."""
    for pattern in (_PLACEHOLDER, _STEP, _NAMED):
        text = pattern.sub(lambda found: " " * len(found[0]), text)
    return [found[0] for found in _NUMBER.finditer(text)]


def _raw(file: str, kept: dict[str, str]) -> str:
    if file not in kept:
        path = Path(file)
        kept[file] = path.read_text(encoding="utf-8") if path.is_file() else ""
    return kept[file]


def _start(text: str, line: int, part: str) -> int:
    """Where a field of an entry begins in its file."""
    begin = sum(len(row) for row in text.splitlines(keepends=True)[: max(line - 1, 0)])
    found = re.compile(rf"\b{part}:").search(text, begin)
    return found.end() if found else begin


def _placed(text: str, number: str, at: int, mark: Mark) -> tuple[int, Mark]:
    """The place of a number that stands at or after another; the place of the entry where it cannot be found."""
    found = re.compile(rf"(?<![\w.,]){re.escape(number)}(?!\w)").search(text, at)
    if found is None:
        return at, mark
    line = text.count("\n", 0, found.start()) + 1
    return found.end(), Mark(mark.file, line, found.start() - text.rfind("\n", 0, found.start()))
