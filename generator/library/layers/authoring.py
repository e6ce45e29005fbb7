"""Writes a practice's clauses into its layer, one file a clause so that changes of two people merge; looks them up."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from generator.files.errors import CannotWrite, InputInvalid, Mark, Problem, did_you_mean
from generator.files.limits import MOST_YAML_BYTES
from generator.files.shapes import written
from generator.files.swap import replace_together
from generator.files.walk import real_path
from generator.files.writing import add_together, only_writer
from generator.library.cost_places import OPEN
from generator.library.entries import CLAUSE_FIELDS, Clause, clause_hash
from generator.library.layers.files import LAYER_MARKER
from generator.library.layers.overlay import STARTERS
from generator.library.layers.writing import entry_lines, field_lines
from generator.library.model import SHIPPED, Library, Origin
from generator.library.tables import ID
from generator.values import Struct

_ID: Final = re.compile(ID.removesuffix("$") + r"\Z")
_ELSEWHERE: Final = "name another folder with --in"


class NewClause(Struct, frozen=True):
    """What a new clause starts from; without a title, from the library's own words for one."""

    id: str
    part: str
    title: str = ""
    after: str = ""


class Use(Struct, frozen=True):
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
        raise _wrong(new.id, f"is a clause already ({library.marks['clause', new.id]})", "take another, or adopt it")
    if new.part not in parts:
        raise _wrong(new.part or "the part", "is not a part", did_you_mean(new.part, parts))
    if new.after and new.after not in library.clauses:
        raise _wrong(new.after, "is not a clause", did_you_mean(new.after, library.clauses))
    if new.after and library.part_of[new.after] != new.part:
        raise _wrong(new.after, f"is of the part '{library.part_of[new.after]}'", f"name a clause of '{new.part}'")
    words = {name: library.words.get(key, "…") for name, key in STARTERS.items()}
    fields = {
        "id": new.id, "part": new.part, **({"after": new.after} if new.after else {}),
        **words, **({"title": new.title} if new.title else {}), "cost": OPEN, "sources": ["common-practice"],
    }  # fmt: skip
    return _written(folder, f"{new.id}.yaml", "clauses", fields)


def adopt_clause(folder: Path, clause_id: str, library: Library) -> Path:
    """The file of a replacement that starts as its base, hash and all. Raises `InputInvalid` and `CannotWrite`."""
    clause = _clause(clause_id, library)
    _refuse_own(folder, clause_id, library, "is in this layer already", "change it there")
    fields = {"id": clause.id, "based_on": clause_hash(clause), **clause_fields(clause)}
    return _written(folder, f"{clause.id}.yaml", "clauses", fields)


def drop_clause(folder: Path, clause_id: str, because: str, library: Library) -> Path:
    """The file that drops a clause. Raises `InputInvalid` and `CannotWrite`."""
    clause = _clause(clause_id, library)
    if not because.strip():
        raise _wrong(clause_id, "is dropped without a reason", "say why with --because")
    _refuse_own(folder, clause_id, library, "is written by this layer", "take it out there first")
    return _written(folder, f"{clause.id}.drop.yaml", "drops", {"id": clause.id, "because": because})


def clause_fields(clause: Clause) -> dict[str, Any]:
    """The fields of a clause but its id, without those that say what goes without saying."""
    fields = written(clause)
    return {name: fields[name] for name in CLAUSE_FIELDS if name in fields and name != "id"}


class Reader(Struct, frozen=True):
    """Who read a replacement beside its base, and on which day."""

    name: str
    date: str


def record_review(clause_ids: Sequence[str], reader: Reader, library: Library) -> list[Path]:
    """The files that now record that somebody read replacements beside their bases, as these now are.

    Earlier readings stay in them. Raises `InputInvalid`, with nothing written, and `CannotWrite`.
    """
    if not reader.name.strip():
        raise _wrong(reader.name, "is no name", "say who read them with --by")
    if not _is_day(reader.date):
        raise _wrong(reader.date, "is no day", "say when with --on, such as 2027-03-01")
    entries: dict[Path, dict[str, list[str]]] = {}
    for clause_id in clause_ids:
        folder, base = _to_review(clause_id, library)
        fields = {"clause": clause_id, "base": base, "by": reader.name.strip(), "date": reader.date}
        entries.setdefault(folder, {})[f"reviews/{clause_id}.yaml"] = entry_lines(fields)
    for folder, files in entries.items():
        with only_writer(folder, "give yourself the right to write there"):
            replace_together(folder, {name: _longer(folder / name, lines) for name, lines in files.items()})
    return [folder / name for folder, files in entries.items() for name in files]


def _longer(path: Path, lines: Sequence[str]) -> bytes:
    """A file of readings with another at its end. Raises `CannotWrite` where it would be too long to be read."""
    before = path.read_text(encoding="utf-8") if path.exists() else "reviews:\n"
    data = (before.rstrip("\n") + "\n" + "\n".join(lines) + "\n").encode()
    if len(data) > MOST_YAML_BYTES:
        raise CannotWrite(f"{path}: would be larger than any file that is read: take the oldest readings out of it")
    return data


def _to_review(clause_id: str, library: Library) -> tuple[Path, str]:
    """The folder of the layer that replaces a clause, and the hash of the clause beneath."""
    origin = library.origin(clause_id)
    if origin.base is None:
        replaced = [key for key, _ in replacements(library)]
        raise _wrong(clause_id, "is not a replaced clause", did_you_mean(clause_id, replaced))
    if not origin.stale:
        raise _wrong(clause_id, "stands on a clause that has not changed since", "there is nothing to read again")
    layer = next(layer for layer in library.layers if layer.name == origin.layer)
    return layer.folder, clause_hash(origin.base)


def _is_day(text: str) -> bool:
    try:
        return datetime.date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _clause(clause_id: str, library: Library) -> Clause:
    clause, gone = library.clauses.get(clause_id), library.dropped.get(clause_id)
    if clause is None and gone is not None:
        raise _wrong(clause_id, f"is dropped by '{gone.layer}' ({gone.mark})", "take that drop out first")
    if clause is None:
        raise _wrong(clause_id, "is not a clause", did_you_mean(clause_id, library.clauses))
    return clause


def _refuse_own(folder: Path, clause_id: str, library: Library, what: str, to_do: str) -> None:
    """Refuses a clause that the layer itself writes."""
    file = library.origin(clause_id).file
    if file is not None and real_path(file).is_relative_to(real_path(folder)):
        raise _wrong(clause_id, f"{what} ({library.marks['clause', clause_id]})", to_do)


def _wrong(what: str, is_: str, to_do: str) -> InputInvalid:
    return InputInvalid([Problem(Mark(f"'{what}'"), is_, to_do)])


def _written(folder: Path, name: str, key: str, fields: Mapping[str, Any]) -> Path:
    """A new file of a layer with one entry; the layer is begun with it where there is none."""
    lines = [f"{key}:", *entry_lines(fields), ""]
    add_together(folder, {**beginning(folder), f"clauses/{name}": "\n".join(lines).encode()}, _ELSEWHERE)
    return folder / "clauses" / name


def beginning(folder: Path) -> dict[str, bytes]:
    """The file that makes a folder a layer named after itself, by name; none where it is one."""
    if (folder / LAYER_MARKER).exists():
        return {}
    known = re.sub(r"[^a-z0-9]+", "-", real_path(folder).name.lower()).strip("-")
    name = known if _ID.match(known) and known != SHIPPED else "house"
    lines = [*field_lines("name", name), *field_lines("edition", "1"), ""]
    return {LAYER_MARKER: "\n".join(lines).encode()}


# --- looking up -----------------------------------------------------------------------------------------------


def replacements(library: Library) -> Iterator[tuple[str, Origin]]:
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
    steps = {key: entry.clauses for key, entry in library.operations.items()}
    for kind, named in (("item", library.duties), ("operation", steps)):
        found += [Use(kind, key, library.marks[kind, key]) for key, clauses in named.items() if clause_id in clauses]
    return found


def search(words: Sequence[str], library: Library) -> list[str]:
    """The ids of the clauses that hold every word in their id or words, in the library's order."""
    wanted = [word.casefold() for word in words]
    return [key for key, clause in library.clauses.items() if all(word in _all_text(clause) for word in wanted)]


def _all_text(clause: Clause) -> str:
    told = (clause.id, clause.title, clause.text, clause.check, clause.because, clause.advice)
    return "\n".join(told).casefold()
