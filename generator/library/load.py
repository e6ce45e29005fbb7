"""Reads a clauses folder into a `Library`, telling every mistake of every file at once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from generator.errors import InputInvalid, Mark, Problem, did_you_mean
from generator.library.model import (
    Clause,
    Conditioned,
    FindingEntry,
    ItemEntry,
    Library,
    Material,
    OperationEntry,
    Part,
    Recipe,
    ReckonedName,
    SourceEntry,
    Table,
)
from generator.questionnaire.condition import Condition, ConditionError, parse
from generator.questionnaire.names import Name, Names
from generator.questionnaire.questions import Question, Questionnaire
from generator.shapes import AnyShape, Shape, shaped
from generator.source import Source, read_bytes

MARKER: Final = "library.yaml"


class _Header(Shape):
    name: str
    edition: str
    language: str


@dataclass(frozen=True, slots=True)
class _Kind:
    """A kind of file: where it lies, the key of its list, the shape of an entry and its own key."""

    pattern: str
    key: str
    shape: type[Any]
    own: str = "id"


_KINDS: Final = {
    "source": _Kind("sources.yaml", "sources", SourceEntry),
    "question": _Kind("questions/*.yaml", "questions", Question, "name"),
    "name": _Kind("names.yaml", "names", ReckonedName, "name"),
    "recipe": _Kind("recipes/*.yaml", "recipes", Recipe),
    "material": _Kind("materials.yaml", "materials", Material),
    "finding": _Kind("findings/*.yaml", "findings", FindingEntry, "code"),
    "item": _Kind("items/*.yaml", "items", ItemEntry),
    "operation": _Kind("operations/*.yaml", "operations", OperationEntry),
}


@dataclass(slots=True)
class _Reading:
    """What has been read so far."""

    problems: list[Problem] = field(default_factory=list)
    marks: dict[tuple[str, str], Mark] = field(default_factory=dict)
    entries: dict[str, dict[str, Any]] = field(default_factory=dict)
    digest: Any = field(default_factory=hashlib.sha256)


def load(folder: Path, label: str = "clauses") -> Library:
    """The library in a folder. Raises `InputInvalid` with every mistake; `label` stands for the folder in it."""
    reading = _Reading()
    files = _files(folder, label, reading)
    header = _header(files, label, reading)
    for kind, form in _KINDS.items():
        reading.entries[kind] = _entries(kind, form, files, label, reading)
    parts, clauses, part_of = _parts(files, label, reading)
    reading.entries["clause"] = clauses
    tables = _tables(files, label, reading)
    words = _words(files, label, reading)
    names = _names(reading)
    conditions = _conditions(reading, names)
    if reading.problems or header is None:
        raise InputInvalid(reading.problems)
    entries = reading.entries
    return Library(
        header.name, header.edition, header.language, names,
        Questionnaire(entries["question"], {k: c.when for (kind, k), c in conditions.items() if kind == "question" and c.when}),
        parts, clauses, part_of, entries["recipe"], entries["material"], tables, entries["finding"], entries["item"],
        entries["operation"], words, entries["source"], conditions, reading.marks, reading.digest.hexdigest(),
    )  # fmt: skip


def _files(folder: Path, label: str, reading: _Reading) -> dict[str, Source]:
    found: dict[str, Source] = {}
    if not (folder / MARKER).is_file():
        reading.problems.append(Problem(Mark(label), f"holds no {MARKER}", "name a folder that is a clause library"))
    for path in sorted(folder.rglob("*.yaml")):
        name = path.relative_to(folder).as_posix()
        try:
            raw = path.read_bytes()
        except OSError as error:
            reading.problems.append(Problem(Mark(f"{label}/{name}"), f"cannot be read ({error.strerror})", "mend its permissions"))
            continue
        reading.digest.update(name.encode() + b"\0" + raw + b"\0")
        found[name] = read_bytes(raw, f"{label}/{name}")
        reading.problems += found[name].problems
    return found


def _matching(files: Mapping[str, Source], pattern: str) -> Iterable[tuple[str, Source]]:
    folder, star, _ = pattern.partition("*")
    for name, source in files.items():
        if (name.startswith(folder) and "/" not in name[len(folder) :]) if star else name == pattern:
            yield name, source


def _header(files: Mapping[str, Source], label: str, reading: _Reading) -> _Header | None:
    source = files.get(MARKER)
    return _shape(_Header, source.data, source, (), reading) if source else None


def _shape(kind: type[AnyShape], data: Any, source: Source, path: tuple[str | int, ...], reading: _Reading) -> AnyShape | None:
    before = len(source.problems)
    found = shaped(kind, data, source, path)
    reading.problems += source.problems[before:]
    return found


def _entries(kind: str, form: _Kind, files: Mapping[str, Source], label: str, reading: _Reading) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for _, source in _matching(files, form.pattern):
        for index, data in enumerate(_listed(source, form.key, reading)):
            entry = _shape(form.shape, data, source, (form.key, index), reading)
            if entry is not None:
                _keep(kind, getattr(entry, form.own), entry, source.mark((form.key, index)), found, reading)
    return found


def _listed(source: Source, key: str, reading: _Reading) -> list[Any]:
    if source.problems:
        return []
    data = source.data
    if isinstance(data, dict) and isinstance(data.get(key), list):
        for other in data:
            if other not in (key, "part"):
                mark = source.mark((other,))
                reading.problems.append(Problem(mark, f"has an unknown key '{other}'", f"only '{key}:' is read here"))
        return list(data[key])
    reading.problems.append(Problem(source.mark(()), f"has no list '{key}:'", f"start the file with '{key}:' and list its entries below"))
    return []


def _keep(kind: str, key: str, entry: Any, mark: Mark, found: dict[str, Any], reading: _Reading) -> None:
    if key in found:
        first = reading.marks[kind, key]
        reading.problems.append(Problem(mark, f"declares the {kind} '{key}' again (first at {first})", "rename one of the two"))
        return
    found[key] = entry
    reading.marks[kind, key] = mark


def _parts(files: Mapping[str, Source], label: str, reading: _Reading) -> tuple[tuple[Part, ...], dict[str, Clause], dict[str, str]]:
    parts: dict[str, Part] = {}
    clauses: dict[str, Clause] = {}
    part_of: dict[str, str] = {}
    for _, source in _matching(files, "parts/*.yaml"):
        listed = _listed(source, "clauses", reading)
        head = source.data.get("part") if isinstance(source.data, dict) else None
        part = _shape(Part, head, source, ("part",), reading)
        if part is None:
            continue
        _keep("part", part.id, part, source.mark(("part",)), parts, reading)
        for index, data in enumerate(listed):
            clause = _shape(Clause, data, source, ("clauses", index), reading)
            if clause is not None:
                _keep("clause", clause.id, clause, source.mark(("clauses", index)), clauses, reading)
                part_of[clause.id] = part.id
    return tuple(parts.values()), clauses, part_of


def _tables(files: Mapping[str, Source], label: str, reading: _Reading) -> dict[str, Table]:
    found: dict[str, Table] = {}
    for _, source in _matching(files, "tables/*.yaml"):
        if source.problems:
            continue
        table = _shape(Table, source.data, source, (), reading)
        if table is not None:
            _keep("table", table.id, table, source.mark(()), found, reading)
            _rows(table, source, reading)
    return found


def _rows(table: Table, source: Source, reading: _Reading) -> None:
    for index, row in enumerate(table.rows):
        place = source.mark(("rows", index))
        for kind, given, declared in (("key", row.keys, table.keys), ("value", row.values, table.values)):
            for name in given:
                if name not in declared:
                    reading.problems.append(Problem(place, f"has a {kind} '{name}' that {table.id} does not declare", did_you_mean(name, declared)))
        for name in table.values:
            if name not in row.values:
                reading.problems.append(Problem(place, f"lacks the value '{name}'", "add it"))


def _words(files: Mapping[str, Source], label: str, reading: _Reading) -> dict[str, str]:
    found: dict[str, str] = {}
    for _, source in _matching(files, "words.yaml"):
        data = source.data.get("words") if isinstance(source.data, dict) else None
        if not isinstance(data, dict):
            if not source.problems:
                reading.problems.append(Problem(source.mark(()), "has no mapping 'words:'", "list key: text below 'words:'"))
            continue
        for key, text in data.items():
            if not isinstance(text, str):
                reading.problems.append(Problem(source.mark(("words", key)), f"word '{key}' is not a text", "quote it"))
            else:
                _keep("word", key, text, source.mark(("words", key)), found, reading)
    return found


def _names(reading: _Reading) -> Names:
    names: dict[str, Name] = {}
    for key, question in reading.entries["question"].items():
        names[key] = question.as_name()
    for key, reckoned in reading.entries["name"].items():
        mark = reading.marks["name", key]
        if key in names:
            reading.problems.append(Problem(mark, f"declares '{key}', which is a question already", "rename it"))
            continue
        said = {str(c["is"]): str(c["says"]) for c in reckoned.choices if isinstance(c, dict)}
        names[key] = Name(key, reckoned.scope, reckoned.kind, reckoned.label, reckoned.phrase, said, True, mark)
    return Names(names)


_WITH_CONDITIONS: Final = {"clause": "per", "finding": "per", "item": "per", "operation": "per", "question": "scope"}


def _conditions(reading: _Reading, names: Names) -> dict[tuple[str, str], Conditioned]:
    found: dict[tuple[str, str], Conditioned] = {}
    for kind, scope_field in _WITH_CONDITIONS.items():
        for key, entry in reading.entries[kind].items():
            scope = getattr(entry, scope_field)
            when = _condition(kind, key, "when", entry.when, scope, names, reading)
            later = getattr(entry, "provisional_when", "")
            found[kind, key] = Conditioned(when, _condition(kind, key, "provisional_when", later, scope, names, reading))
    return found


def _condition(kind: str, key: str, part: str, text: str, scope: str, names: Names, reading: _Reading) -> Condition | None:
    if not text:
        return None
    try:
        return parse(text, scope, names)
    except ConditionError as error:
        mark = reading.marks[kind, key]
        reading.problems.append(Problem(mark, f"{kind} '{key}': {part} {error.what} (in: {text.strip()})", error.to_do))
        return None


