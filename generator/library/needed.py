"""What the program asks of a library by name: a lack is told as a mistake in the library, wherever it is met."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath
from typing import Any, NoReturn, TypeVar

from generator.files.errors import InputInvalid, Mark, Problem
from generator.library.model import Library
from generator.questionnaire.names import Name, Names, misread
from generator.values import replace

Entry = TypeVar("Entry")


class Needed(dict[str, Entry]):
    """Entries of one kind by key. One that is asked for by name and not there raises `InputInvalid`."""

    def __init__(self, kind: str, where: Mark, entries: Mapping[str, Entry]) -> None:
        super().__init__(entries)
        self.kind, self.where = kind, where

    def __missing__(self, key: str) -> Entry:
        raise InputInvalid([_lack(self.kind, key, self.where)])


class NeededNames(Names):
    """The register of names. One that is asked for and not declared, or not as it is read, raises `InputInvalid`."""

    def __init__(self, where: Mark, names: Names) -> None:
        super().__init__(dict(names))
        self.where = where

    def __getitem__(self, name: str) -> Name:
        found = self._names.get(name)
        if found is None:
            raise InputInvalid([_lack("name", name, self.where)])
        return found

    def _misread(self, entry: Name, kinds: tuple[str, ...]) -> NoReturn:
        mark = entry.mark if entry.mark.line else self.where
        raise InputInvalid([Problem(mark, misread(entry, kinds), "declare it as the shipped library does")])

    def get(self, name: str, default: Any = None) -> Any:
        """The name, or the default where it is not declared."""
        return super().__getitem__(name) if name in self else default


def _lack(kind: str, key: str, where: Mark) -> Problem:
    what = f"lacks the {kind} '{key}', which the program asks for"
    return Problem(where, what, "write it, or take it over from the shipped library")


def needing(library: Library) -> Library:
    """The library, telling what it lacks of what the program asks of it by name."""
    return replace(
        library,
        names=NeededNames(_where(library, "name"), library.names),
        tables=Needed("table", _where(library, "table"), library.tables),
        materials=Needed("material", _where(library, "material"), library.materials),
        findings=Needed("finding", _where(library, "finding"), library.findings),
        words=Needed("word", _where(library, "word"), library.words),
        templates=Needed("paper", _where(library, "word"), library.templates),
    )


def _where(library: Library, kind: str) -> Mark:
    """The folder in which the entries of a kind lie; the library's name where it has none."""
    files = (mark.file for (held, _), mark in library.marks.items() if held == kind)
    file = next(files, None)
    return Mark(library.name if file is None else str(PurePath(file).parent))
