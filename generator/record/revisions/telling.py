"""Tells a comparison in plain words, with the words of the library, and as data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from generator.document.template import filled
from generator.record.revisions.change import Change
from generator.record.revisions.compare import SECTIONS, Comparison
from generator.record.revisions.issued import Issued
from generator.record.revisions.value_changes import PLACES, WHOLES
from generator.record.revisions.wording import excerpts
from generator.values import Struct, plain

# Fields whose values are ids of the library's materials.
_MATERIALS: Final = ("sand", "pozzolan")
# The whole of a mix or a line, as the name of a change.
_WHOLE: Final[Mapping[str, str]] = {"mixes": "mix", "items": "line"}


class Telling(Struct, frozen=True):
    """The words that a comparison is told in: phrases of the library by key, what names and materials are called."""

    words: Mapping[str, str]
    labels: Mapping[str, str]
    materials: Mapping[str, str]

    def word(self, key: str, **fills: str) -> str:
        """A phrase with its places filled."""
        return filled(self.words[key], **fills)

    def label(self, name: str) -> str:
        """What a name is called, as a person reads it."""
        return self.labels.get(name) or name.replace("_", " ")

    def sides(self, change: Change) -> tuple[str, str]:
        """Old and new as a person reads them, with their unit; words for nothing."""
        return self._side(change.old, change), self._side(change.new, change)

    def _side(self, text: str, change: Change) -> str:
        if not text:
            return self.word("compare-nothing")
        if change.about == "mixes" and change.name in _MATERIALS:
            return self.materials.get(text, text)
        return f"{text} {change.unit}" if change.about == "quantities" else text

    def what(self, change: Change) -> str:
        """What changed and where, without old and new."""
        if change.about == "values":
            return self._value(change)
        if change.about == "clauses":
            return self.word("compare-clause", number=change.number, name=change.name)
        if change.about == "quantities":
            return self._placed(self.word("compare-line", number=change.number, name=change.name), change)
        told = self.word("compare-mix" if change.about == "mixes" else "compare-item", number=change.number)
        return told if change.name == _WHOLE[change.about] else f"{told}, {self.field(change)}"

    def _value(self, change: Change) -> str:
        if change.name in WHOLES:
            return change.old or change.new
        if change.name in PLACES and change.clauses:
            return self.word("compare-applies", clauses=", ".join(change.clauses))
        return self._placed(self.label(change.name), change)

    def field(self, change: Change) -> str:
        """What a field of a mix or of a line is called."""
        return self.word(f"compare-field-{change.name.replace('_', '-')}")

    def _placed(self, told: str, change: Change) -> str:
        return told if change.place in told else f"{told} ({change.place})"

    def difference(self, change: Change) -> str:
        """By how much a quantity goes up or down, with its sign and unit; empty where either is no number."""
        found = change.difference
        if found is None:
            return ""
        return f"{'+' if found > 0 else ''}{plain(found)} {change.unit}".replace("-", "−")

    def line(self, change: Change) -> str:
        """One change in one line."""
        what = self.what(change)
        if change.name in WHOLES and change.about == "values":
            return self.word(f"compare-whole-{change.kind}", what=what)
        if change.about == "clauses" and change.kind != "changed":
            return self.word(f"compare-clause-{change.kind}", what=what)
        if change.is_renumbering:
            return self.word("compare-clause-renumbered", what=what, old=change.old)
        old, new = excerpts(*self.sides(change))
        told = self.word(f"compare-{change.kind}", what=what, old=old, new=new)
        if change.about == "quantities" and change.kind == "changed" and (by := self.difference(change)):
            told += f" ({by})"
        return f"{told} ({read})" if (read := self.read_in(change)) else told

    def read_in(self, change: Change) -> str:
        """Where a changed value is read; empty where no clause prints it, or where that is what is told."""
        if not change.clauses or change.name in PLACES:
            return ""
        key = "compare-read-one" if len(change.clauses) == 1 else "compare-read"
        return self.word(key, clauses=", ".join(change.clauses))


def told(comparison: Comparison, words: Telling) -> list[str]:
    """The comparison as lines."""
    old, new = comparison.old, comparison.new
    heads = {"reference": new.said("reference"), "old": old.revision, "new": new.revision}
    lines = [words.word("compare-title", **heads)]
    if _library(old) != _library(new):
        lines.append(words.word("compare-library", old=_library(old), new=_library(new)))
    if not comparison.changes:
        return [*lines, words.word("compare-same")]
    for section, changes in _sections(comparison):
        if changes:
            lines += ["", words.word(f"compare-section-{section}"), *(f"  {words.line(change)}" for change in changes)]
    return lines


def _sections(comparison: Comparison) -> list[tuple[str, list[Change]]]:
    """The changes by the heading that they stand under: answers apart from what follows from them."""
    values = comparison.of("values")
    return [
        ("values", [change for change in values if not change.worked_out]),
        ("worked-out", [change for change in values if change.worked_out]),
        *((section, comparison.of(section)) for section in SECTIONS if section != "values"),
    ]


def _library(issue: Issued) -> str:
    """The library and the layers that an issue was written with, each with its edition."""
    library = issue.record["library"]
    layers = library.get("layers", ())
    return ", ".join(f"{item.get('name')} {item.get('edition')}" for item in (library, *layers))


def as_data(comparison: Comparison) -> dict[str, Any]:
    """The comparison as plain data."""
    old, new = comparison.old, comparison.new
    return {
        "reference": new.said("reference"),
        "revisions": [old.revision, new.revision],
        "libraries": [_library(old), _library(new)],
        "changes": [
            {
                "about": change.about,
                "kind": change.kind,
                "key": change.key,
                "name": change.name,
                "where": list(change.where),
                "place": change.place,
                "worked_out": change.worked_out,
                "number": change.number,
                "old": change.old,
                "new": change.new,
                "unit": change.unit,
                "difference": _difference(change),
                "clauses": list(change.clauses),
            }
            for change in comparison.changes
        ],
    }


def _difference(change: Change) -> str | None:
    found = change.difference if change.about == "quantities" else None
    return None if found is None else plain(found)
