"""What loading a library keeps while it reads: entries by kind, their places, and every mistake."""

from __future__ import annotations

import hashlib
import re
from typing import Any

from generator.files.errors import Mark, Problem, shown
from generator.files.mistakes import Mistakes
from generator.files.shapes import AnyShape
from generator.files.shaping import shaped
from generator.files.source import Path_, Source
from generator.questionnaire.condition import Condition
from generator.questionnaire.names import Names
from generator.questionnaire.parsing import ConditionError, parse
from generator.values import Struct, field


class Reading(Struct):
    """What has been read so far: entries by kind and id, where each stands, and every mistake."""

    label: str
    files: dict[str, Source] = field(default_factory=dict)
    problems: Mistakes = field(default_factory=Mistakes)
    entries: dict[str, dict[str, Any]] = field(default_factory=dict)
    places: dict[tuple[str, str], tuple[Source, Path_]] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)
    digest: Any = field(default_factory=hashlib.sha256)

    def note(self, mark: Mark, what: str, to_do: str, under: str = "") -> None:
        """Notes a mistake."""
        self.problems.append(Problem(mark, what, to_do, under))

    def mark(self, kind: str, key: str) -> Mark:
        """The place of an entry."""
        source, path = self.places[kind, key]
        return source.mark(path)

    def shape(self, kind: type[AnyShape], data: Any, source: Source, path: Path_) -> AnyShape | None:
        """The data as a shape; None with its mistakes noted."""
        before = source.problems.total
        found = shaped(kind, data, source, path)
        self.problems += source.problems.since(before)
        return found

    def keep(self, kind: str, key: str, entry: Any, source: Source, path: Path_) -> bool:
        """Keeps an entry; false, with the mistake noted, where its key is taken."""
        found = self.entries.setdefault(kind, {})
        if key in found:
            what = f"declares the {kind} '{key}' a second time (first at {self.mark(kind, key)})"
            self.note(source.mark(path), what, "rename one of the two, or take it out")
            return False
        found[key] = entry
        self.places[kind, key] = (source, path)
        return True


def listed(source: Source, key: str, reading: Reading, beside: tuple[str, ...] = ()) -> list[Any]:
    """The entries below the one key of a file; keys that are neither it nor `beside` it are noted."""
    data = source.data
    if not isinstance(data, dict) or not isinstance(data.get(key), list):
        to_do = f"start the file with '{key}:' and list its entries below"
        reading.note(source.mark((key,)) if isinstance(data, dict) else source.mark(()), f"has no list '{key}:'", to_do)
        return []
    for other in data:
        if other != key and other not in beside:
            hint = reading.problems.near(other, [key, *beside])
            reading.note(source.key_mark((other,)), f"has an unknown key '{shown(other)}'", hint)
    return list(data[key])


def condition(
    reading: Reading, names: Names, scope: str, text: str, kind: str, key: str, *part: int | str
) -> Condition | None:
    """The checked condition of a part of an entry; None where it has none, or one that is wrong and noted."""
    if not text:
        return None
    try:
        return parse(text, scope, names)
    except ConditionError as error:
        if not reading.unread.isdisjoint(re.findall(r"\w+", text)):
            return None  # it may be right once the question that it names can be read
        source, path = reading.places[kind, key]
        mark = _inside(source.mark((*path, *part)), source, text, error.column)
        reading.note(mark, f"{kind} '{key}': its '{part[-1]}' {error.what}", error.to_do, error.caret())
        return None


def _inside(mark: Mark, source: Source, text: str, column: int) -> Mark:
    """The place in the file of a column of a condition, where it stands there as it was read."""
    lines = source.raw.decode("utf-8-sig").splitlines()
    line = lines[mark.line - 1][mark.column - 1 :] if 0 < mark.line <= len(lines) else ""
    quote = 1 if line[:1] in ("'", '"') else 0
    if column and line[quote:].startswith(text.strip()):
        return Mark(mark.file, mark.line, mark.column + quote + column - 1)
    return mark
