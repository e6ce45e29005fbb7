"""Tells a comparison in plain words, with the words of the library, and as data."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from generator.revisions.compare import SECTIONS, Change, Comparison, title
from generator.values import plain

_PLACE = re.compile(r"\{([a-z_]+)\}")


@dataclass(frozen=True, slots=True)
class Telling:
    """The words that a comparison is told in: phrases of the library by key, and the label of each name."""

    words: Mapping[str, str]
    labels: Mapping[str, str]

    def word(self, key: str, **fills: str) -> str:
        """A phrase with its places filled."""
        return _PLACE.sub(lambda match: fills.get(match[1], match[0]), self.words[key])

    def label(self, name: str) -> str:
        """What a name is called, as a person reads it."""
        return self.labels.get(name) or name.replace("_", " ")

    def place(self, change: Change) -> str:
        """Where a change is: ids of the answers, or the whole job."""
        return ", ".join(change.where) or self.word("compare-whole-job")

    def side(self, text: str) -> str:
        """One side of a change; words for nothing."""
        return text or self.word("compare-nothing")

    def what(self, change: Change) -> str:
        """What changed, without old and new."""
        tell: Mapping[str, Callable[[Change], str]] = {
            "values": lambda item: f"{self.label(item.name)} ({self.place(item)})",
            "mixes": self._mix,
            "quantities": lambda item: self.word("compare-line", number=item.number, name=item.name),
            "items": self._item,
            "clauses": lambda item: self.word("compare-clause", number=item.number, name=item.name),
        }
        return tell[change.about](change)

    def _mix(self, change: Change) -> str:
        return self._field("compare-mix", change, "mix")

    def _item(self, change: Change) -> str:
        return self._field("compare-item", change, "line")

    def _field(self, key: str, change: Change, whole: str) -> str:
        told = self.word(key, number=change.number)
        return (
            told if change.name == whole else f"{told}, {self.word(f'compare-field-{change.name}'.replace('_', '-'))}"
        )

    def difference(self, change: Change) -> str:
        """By how much a quantity goes up or down, with its sign and unit; empty where either is no number."""
        found = change.difference
        if found is None:
            return ""
        return f"{'+' if found > 0 else ''}{plain(found)} {change.unit}".replace("-", "−")

    def line(self, change: Change) -> str:
        """One change in one line."""
        what = self.what(change)
        if change.about == "clauses":
            return self._clause_line(change, what)
        old, new = (self.side(text) for text in (change.old, change.new))
        told = self.word(f"compare-{change.kind}", what=what, old=old, new=new)
        if change.about == "quantities" and (by := self.difference(change)):
            told += f" ({by})"
        if change.clauses:
            told += " " + self.word("compare-read", clauses=", ".join(change.clauses))
        return told

    def _clause_line(self, change: Change, what: str) -> str:
        if change.kind != "changed":
            return self.word(f"compare-clause-{change.kind}", what=what)
        if title(change.old) == change.old and title(change.new) == change.new and change.old != change.name:
            return self.word("compare-clause-renumbered", what=what, old=change.old)
        return self.word("compare-clause-changed", what=what)


def told(comparison: Comparison, words: Telling) -> list[str]:
    """The comparison as lines."""
    old, new = comparison.old, comparison.new
    heads = {"reference": new.said("reference"), "old": old.revision, "new": new.revision}
    lines = [words.word("compare-title", **heads)]
    if not comparison.changes:
        return [*lines, words.word("compare-same")]
    for section in SECTIONS:
        if found := comparison.of(section):
            lines += ["", words.word(f"compare-section-{section}")]
            lines += [f"  {words.line(change)}" for change in found]
    return lines


def as_data(comparison: Comparison) -> dict[str, Any]:
    """The comparison as plain data."""
    old, new = comparison.old, comparison.new
    return {
        "reference": new.said("reference"),
        "revisions": [old.revision, new.revision],
        "changes": [
            {
                "about": change.about,
                "kind": change.kind,
                "key": change.key,
                "name": change.name,
                "where": list(change.where),
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
