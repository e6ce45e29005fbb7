"""No text of the library holds a bare number: figures are taken by name, so that each stands once, with its source.

What is no figure and may stand is listed here: designations of standards, classes and grades, and numbers of steps.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from generator.files.errors import Mark, Problem
from generator.library.model import Library

FIELDS: Final[Mapping[str, tuple[str, ...]]] = {
    "clause": ("title", "text", "check", "because"),
    "finding": ("message", "action", "instruction"),
    "item": ("description", "includes"),
    "operation": ("text", "shows"),
}
"""The texts that are looked through, by the kind of their entry, beside words, papers and hold points."""

NOT_PRINTED: Final = ("terminal.yaml", "explain.yaml", "survey.yaml", "house-style.yaml")
"""The files of words that stand in no paper: examples of what to type, names of styles."""

DESIGNATIONS: Final = (
    r"EN \d+(?:-\d+)?", r"BS \d+", r"ASTM [CE]\d+", r"29 CFR 1926(?:\.\d+)?", r"CL 90(?:-Q)?", r"NHL (?:2|3\.5|5)",
    r"FFP3", r"P3", r"A4", r"code \d", r"H-class",
    r"(?:[Ee]nter|entered at|entered as|of) 0", r"^1 box", r"^0(?=–)",
)  # fmt: skip
"""Numbers that measure nothing: names of standards, classes and grades; a nought that is entered; one box, from 0."""

_UNITS: Final = (
    "minutes?|hours?|days?|weeks?|months?|years?|metres?|millimetres?|litres?|kilograms?|grams?|degrees?|boxes"
)
_SPELT: Final = (
    "two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fourteen|fifteen|twenty|thirty|forty|fifty|sixty|ninety"
)
_PLACEHOLDER: Final = re.compile(r"\{\{.*?\}\}|\{[a-z][a-z0-9_]*\}|\]\([^)]*\)")
_STEP: Final = re.compile(r"(?m)^[ \t]*\d+\.[ \t]")
_NAMED: Final = re.compile("|".join(rf"(?<!\w)(?:{pattern})(?!\w)" for pattern in DESIGNATIONS))
_NUMBER: Final = re.compile(rf"(?<![\w.,])\d+(?:[.,:]\d+)*|\b(?:{_SPELT})(?=[ -](?:{_UNITS})\b)", re.IGNORECASE)


def bare_numbers(library: Library) -> Iterator[Problem]:
    """A problem for each bare number, at its line and column: all of them at once; own clauses of layers are let be."""
    raw: dict[str, str] = {}
    for kind, key, part, text in _texts(library):
        for number, mark in _found(library, kind, key, part, text, raw):
            what = f"{kind} '{key}': its {part or 'text'} holds the bare number '{number}'"
            to_do = "declare it under `figures` there, or in figures/, and take it by name"
            yield Problem(mark, what, to_do)


def _texts(library: Library) -> Iterator[tuple[str, str, str, str]]:
    """Every text that may be printed: kind and key of its entry, its field, and itself."""
    for kind, parts in FIELDS.items():
        for key, entry in library.texts.entries[kind].items():
            if kind != "clause" or key not in library.origins:
                yield from ((kind, key, part, str(getattr(entry, part))) for part in parts)
    for (kind, key), texts in library.unfilled.texts().items():
        if not library.marks.get((kind, key), Mark("")).file.endswith(NOT_PRINTED):
            yield from ((kind, key, "", text) for text in texts)


def _found(
    library: Library, kind: str, key: str, part: str, text: str, raw: dict[str, str]
) -> Iterator[tuple[str, Mark]]:
    numbers = numbers_in(text)
    if not numbers:
        return
    entry_mark = library.marks.get((kind, key), Mark(key))
    whole = _raw(entry_mark.file, raw)
    at = _start(whole, entry_mark.line, part)
    for number in numbers:
        at, mark = _placed(whole, number, at, entry_mark)
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
    found = re.compile(rf"\b{part}:").search(text, begin) if part else None
    return found.end() if found else begin


def _placed(text: str, number: str, at: int, mark: Mark) -> tuple[int, Mark]:
    """The place of a number that stands at or after another; the place of the entry where it cannot be found."""
    found = re.compile(rf"(?<![\w.,]){re.escape(number)}(?!\w)").search(text, at)
    if found is None:
        return at, mark
    line = text.count("\n", 0, found.start()) + 1
    return found.end(), Mark(mark.file, line, found.start() - text.rfind("\n", 0, found.start()))
