"""Writes a practice's clauses into its layer, one file a clause so that changes of two people merge; looks them up."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from generator.errors import CannotWrite, InputInvalid, Mark, Problem, did_you_mean
from generator.library.layers import LAYER_MARKER, clause_hash
from generator.library.model import Clause, Library, Origin

_ID: Final = re.compile(r"[a-z][a-z0-9]*([.-][a-z0-9]+)*\Z")
_MOST: Final = 110
_FIELDS: Final = ("title", "per", "when", "if_unknown", "text", "check", "because", "advice", "sources", "keep")
_DEFAULTS: Final = {"per": "project", "when": "", "if_unknown": "exclude", "check": "", "because": "", "advice": ""}


@dataclass(frozen=True, slots=True)
class NewClause:
    """What a new clause starts from."""

    id: str
    part: str
    title: str
    after: str = ""


@dataclass(frozen=True, slots=True)
class Use:
    """One place where a clause is used: by what kind of thing, its id, and where that stands."""

    kind: str
    key: str
    mark: Mark


# --- writing --------------------------------------------------------------------------------------------------


def new_clause(folder: Path, new: NewClause, library: Library) -> Path:
    """The file of a new clause, written into a layer. Raises `InputInvalid` and `CannotWrite`."""
    parts = [part.id for part in library.parts]
    if not _ID.match(new.id):
        raise _wrong(new.id, "cannot be a clause's id", "write small letters, figures, dots and hyphens only")
    if new.id in library.clauses:
        raise _wrong(new.id, "is a clause already", "take another id, or 'clauses adopt' it")
    if new.part not in parts:
        raise _wrong(new.part or "the part", "is not a part", did_you_mean(new.part, parts))
    if new.after and new.after not in library.clauses:
        raise _wrong(new.after, "is not a clause", did_you_mean(new.after, library.clauses))
    placed = [f"  part: {new.part}", *([f"  after: {new.after}"] if new.after else [])]
    lines = [
        "clauses:",
        f"- id: {new.id}",
        *placed,
        *_told("title", new.title),
        "  text: |",
        "    Say what is to be done, how much, and to which measure. One requirement a sentence.",
        "  check: Who looks, and how.",
        "  because: Why, for whoever must decide on site.",
        "  sources: [common-practice]",
    ]
    return _written(folder, f"{new.id}.yaml", lines)


def adopt_clause(folder: Path, clause_id: str, library: Library) -> Path:
    """The file of a replacement that starts as its base, hash and all. Raises `InputInvalid` and `CannotWrite`."""
    clause = _clause(clause_id, library)
    lines = ["clauses:", f"- id: {clause.id}", *_told("based_on", clause_hash(clause))]
    for name in _FIELDS:
        value = getattr(clause, name)
        if name == "sources":
            lines.append(f"  sources: [{', '.join(value)}]")
        elif name == "keep":
            lines += ["  keep: true"] if value else []
        elif value != _DEFAULTS.get(name):
            lines += _told(name, value)
    return _written(folder, f"{clause.id}.yaml", lines)


def drop_clause(folder: Path, clause_id: str, because: str, library: Library) -> Path:
    """The file that drops a clause. Raises `InputInvalid` and `CannotWrite`."""
    clause = _clause(clause_id, library)
    if not because.strip():
        raise _wrong(clause_id, "is dropped without a reason", "say why with --because")
    return _written(folder, f"{clause.id}.drop.yaml", ["drops:", f"- id: {clause.id}", *_told("because", because)])


def seen(clause_id: str, library: Library) -> Path:
    """The file of a replacement, its hash now that of its base: somebody has read both. Raises `InputInvalid`."""
    origin = library.origin(clause_id)
    if origin.base is None or origin.file is None:
        raise _wrong(
            clause_id, "is not a replaced clause", did_you_mean(clause_id, [key for key, _ in review(library)])
        )
    old = origin.based_on
    lines = origin.file.read_text(encoding="utf-8").splitlines(keepends=True)
    start = library.marks["clause", clause_id].line - 1
    for index in range(start, len(lines)):
        if re.search(r"\bbased_on\b", lines[index]) and old in lines[index]:
            fresh = clause_hash(origin.base)
            lines[index] = re.sub(rf"(\bbased_on\b\s*:\s*)[\"']?{re.escape(old)}[\"']?", rf'\1"{fresh}"', lines[index])
            _store(origin.file, "".join(lines))
            return origin.file
    raise _wrong(clause_id, "has no line 'based_on:'", f"add 'based_on: \"{clause_hash(origin.base)}\"' to it")


def _clause(clause_id: str, library: Library) -> Clause:
    clause = library.clauses.get(clause_id)
    if clause is None:
        raise _wrong(clause_id, "is not a clause", did_you_mean(clause_id, library.clauses))
    return clause


def _wrong(what: str, is_: str, to_do: str) -> InputInvalid:
    return InputInvalid([Problem(Mark(f"'{what}'"), is_, to_do)])


def _told(name: str, value: str) -> list[str]:
    """A field as lines of YAML: in one line where it fits, else as a block."""
    if "\n" not in value and len(value) < _MOST:
        return [f"  {name}: {json.dumps(value, ensure_ascii=False)}"]
    body = value.removesuffix("\n")
    if value != value.strip(" \n") + "\n" * value.endswith("\n") or "\t" in value:
        return [f"  {name}: {json.dumps(value, ensure_ascii=False)}"]
    chomped = "|" if value.endswith("\n") else "|-"
    return [f"  {name}: {chomped}", *(f"    {line}" if line else "" for line in body.split("\n"))]


def _written(folder: Path, name: str, lines: list[str]) -> Path:
    path = folder / "clauses" / name
    if path.exists():
        raise CannotWrite(f"{path}: is there already: edit it, or move it away")
    if not (folder / LAYER_MARKER).exists():
        known = re.sub(r"[^a-z0-9]+", "-", folder.resolve().name.lower()).strip("-")
        _store(folder / LAYER_MARKER, f'name: {known if _ID.match(known) else "house"}\nedition: "1"\n')
    _store(path, "\n".join(lines) + "\n")
    return path


def _store(path: Path, text: str) -> None:
    waiting = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        waiting.write_text(text, encoding="utf-8", newline="\n")
        waiting.replace(path)
    except OSError as error:
        raise CannotWrite(f"{path}: cannot be written ({error.strerror}): name another folder with --in") from None


# --- looking up -----------------------------------------------------------------------------------------------


def review(library: Library) -> Iterator[tuple[str, Origin]]:
    """Every replaced clause, in the library's order, with where it comes from and what it replaces."""
    for key in library.clauses:
        origin = library.origin(key)
        if origin.base is not None:
            yield key, origin


def where_used(clause_id: str, library: Library) -> list[Use]:
    """What names a clause: other clauses, lines to price, steps of the sheets. Raises `InputInvalid`."""
    _clause(clause_id, library)
    found = [
        Use("clause", key, library.marks["clause", key])
        for key, clause in library.clauses.items()
        if any(f"(clause:{clause_id})" in text for text in (clause.text, clause.check, clause.because))
    ]
    for kind, entries in (("item", library.items), ("operation", library.operations)):
        found += [
            Use(kind, key, library.marks[kind, key]) for key, entry in entries.items() if clause_id in entry.clauses
        ]
    return found


def search(words: list[str], library: Library) -> list[str]:
    """The ids of the clauses that hold every word in their id, title or text, in the library's order."""
    wanted = [word.casefold() for word in words]
    return [key for key, clause in library.clauses.items() if all(word in _all_text(clause) for word in wanted)]


def _all_text(clause: Clause) -> str:
    told = (clause.id, clause.title, clause.text, clause.check, clause.because, clause.advice)
    return "\n".join(told).casefold()
