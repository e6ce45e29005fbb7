"""What the program asks of a library by name: a lack is told as a mistake in the library, wherever it is met."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import PurePath
from typing import TypeVar

from generator.errors import InputInvalid, Mark, Problem
from generator.library.model import Library

Entry = TypeVar("Entry")


class Needed(dict[str, Entry]):
    """Entries of one kind by key. One that is asked for by name and not there raises `InputInvalid`."""

    def __init__(self, kind: str, where: Mark, entries: Mapping[str, Entry]) -> None:
        super().__init__(entries)
        self.kind, self.where = kind, where

    def __missing__(self, key: str) -> Entry:
        what = f"lacks the {self.kind} '{key}', which the program asks for"
        raise InputInvalid([Problem(self.where, what, "write it, or take it over from the shipped library")])


def needing(library: Library) -> Library:
    """The library, telling what it lacks of what the program asks of it by name."""
    return replace(
        library,
        tables=Needed("table", _where(library, "table"), library.tables),
        materials=Needed("material", _where(library, "material"), library.materials),
        findings=Needed("finding", _where(library, "finding"), library.findings),
        words=Needed("word", _where(library, "word"), library.words),
    )


def _where(library: Library, kind: str) -> Mark:
    """The folder in which the entries of a kind lie; the library's name where it has none."""
    files = (mark.file for (held, _), mark in library.marks.items() if held == kind)
    file = next(files, None)
    return Mark(library.name if file is None else str(PurePath(file).parent))
