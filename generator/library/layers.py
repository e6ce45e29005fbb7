"""Lays a practice's and a project's own clauses, words and questions over a library that has been read.

A layer adds, replaces and drops by id, never a table or a rule. What it replaces is remembered with the hash it
was written on, so that a change beneath it is told. The order of its files says nothing.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Final

from pydantic import Field

from generator.errors import Mark, Raised, did_you_mean
from generator.library.model import SHIPPED, Clause, Dropped, Layer, Library, Origin
from generator.library.reading import Reading, listed
from generator.questionnaire.questions import Question
from generator.shapes import Shape
from generator.source import Path_, Source, read_file

LAYER_MARKER: Final = "layer.yaml"
OWN_FOLDER: Final = "project-clauses"
_ID: Final = r"^[a-z][a-z0-9]*([.-][a-z0-9]+)*$"
_PLACE: Final = re.compile(r"\{([a-z_]+)\}")
_NUMBERED: Final = re.compile(r"(.+-)\d+\Z")


class LayerHeader(Shape):
    """What a layer is called, and which edition of it this is."""

    name: str = Field(pattern=_ID)
    edition: str


class LayerClause(Clause):
    """A clause of a layer. `based_on` is the hash of the clause that it replaces; empty for a new one."""

    part: str = ""
    after: str = ""
    based_on: str = ""


class Drop(Shape):
    """A clause that the layer leaves out, and why."""

    id: str = Field(pattern=_ID)
    because: str = Field(min_length=1)


def clause_hash(clause: Clause) -> str:
    """Twelve hex digits that stand for every word and condition of a clause, whatever layer it is of."""
    fields = {name: getattr(clause, name) for name in Clause.model_fields}
    text = json.dumps(fields, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:12]


@dataclass(slots=True)
class _Entry:
    """A clause or a drop of a layer with its place."""

    entry: Any
    source: Source
    path: Path_
    file: Path

    @property
    def mark(self) -> Mark:
        return self.source.mark(self.path)


@dataclass(slots=True)
class Layered:
    """What the layers made of the library so far."""

    layers: list[Layer] = field(default_factory=list)
    origins: dict[str, Origin] = field(default_factory=dict)
    dropped: dict[str, Dropped] = field(default_factory=dict)
    versions: dict[str, list[Clause]] = field(default_factory=dict)
    raised: list[Raised] = field(default_factory=list)

    def over(self, library: Library) -> Library:
        """The library with what the layers say of themselves; items and steps no longer name what is dropped."""
        return replace(
            library,
            layers=tuple(self.layers),
            origins=self.origins,
            dropped=self.dropped,
            raised=tuple(sorted(self.raised, key=lambda item: (item.code, item.fills))),
            items={key: self._without(entry) for key, entry in library.items.items()},
            operations={key: self._without(entry) for key, entry in library.operations.items()},
        )

    def _without(self, entry: Any) -> Any:
        kept = tuple(key for key in entry.clauses if key not in self.dropped)
        return entry if kept == entry.clauses else entry.model_copy(update={"clauses": kept})

    def raise_(self, code: str, clause: Clause, origin: Origin, mark: Mark, **fills: str) -> None:
        """Notes a finding of the layers about a clause."""
        told = {"name": clause.id, "first": origin.layer, **fills}
        self.raised.append(Raised(code, (), tuple(sorted(told.items())), (), (mark,)))


def lay(reading: Reading, part_of: dict[str, str], folders: Sequence[tuple[Path, str]]) -> Layered:
    """Lays each folder over what was read, in order; `part_of` and the entries are changed. Mistakes are noted."""
    made = Layered()
    seen: dict[Path, str] = {}
    for folder, label in folders:
        real = folder.resolve()
        if real in seen:
            reading.note(Mark(label), f"is named a second time as a layer (first as {seen[real]})", "name it once")
            continue
        seen[real] = label
        _Laying(reading, part_of, made, folder, label).run()
    missing = {item.code for item in made.raised} - set(reading.entries.get("finding", {}))
    for code in sorted(missing):
        mark = next(item.marks[0] for item in made.raised if item.code == code)
        reading.note(mark, f"raises the finding '{code}', which the library lacks", "add it to its findings")
    return made


class _Laying:
    """One layer being read and laid."""

    def __init__(self, reading: Reading, part_of: dict[str, str], made: Layered, folder: Path, label: str) -> None:
        self.reading, self.part_of, self.made = reading, part_of, made
        self.folder, self.label = folder, label
        self.files: dict[str, Source] = {}
        self.clauses: dict[str, _Entry] = {}
        self.drops: dict[str, _Entry] = {}
        self.name = self.edition = ""

    def run(self) -> None:
        """Reads the files, then replaces, adds and drops."""
        if not self._read():
            return
        self._words()
        self._questions()
        self._clauses()
        known = self.reading.entries.setdefault("clause", {})
        replaced = sorted(key for key in self.clauses if key in known or self.clauses[key].entry.based_on)
        for key in replaced:
            self._replace(self.clauses.pop(key))
        self._place_new()
        for key in sorted(self.drops):
            self._drop(self.drops[key])

    # --- files ------------------------------------------------------------------------------------------

    def _read(self) -> bool:
        if not (self.folder / LAYER_MARKER).is_file():
            what = f"holds no {LAYER_MARKER}" if self.folder.is_dir() else "is no folder"
            self.reading.note(Mark(self.label), what, "name the folder of a layer; 'clauses new --in DIR' starts one")
            return False
        digest = hashlib.sha256()
        for path in sorted(self.folder.rglob("*.y*ml"), key=lambda path: path.relative_to(self.folder).as_posix()):
            name = path.relative_to(self.folder).as_posix()
            if not _belongs(name):
                to_do = f"a layer holds {LAYER_MARKER}, words.yaml, clauses/*.yaml and questions/*.yaml; move it out"
                self.reading.note(Mark(f"{self.label}/{name}"), "is not a file of a layer", to_do)
                continue
            source = read_file(path, f"{self.label}/{name}")
            self.reading.problems += source.problems
            self.files[name] = source
            digest.update(name.encode() + b"\0" + source.raw + b"\0")
        return self._header(digest.hexdigest())

    def _header(self, digest: str) -> bool:
        source = self.files[LAYER_MARKER]
        header = None if source.broken else self.reading.shape(LayerHeader, source.data, source, ())
        if header is None:
            return False
        if header.name == SHIPPED or header.name in {layer.name for layer in self.made.layers}:
            what = f"takes the name '{header.name}', which another layer has"
            self.reading.note(source.mark(("name",)), what, "give each layer a name of its own")
        self.name, self.edition = header.name, header.edition
        self.made.layers.append(Layer(header.name, header.edition, digest, self.folder))
        return True

    def _sources(self, folder: str) -> Iterable[tuple[str, Source]]:
        return [(name, source) for name, source in self.files.items() if name.startswith(folder) and not source.broken]

    def _words(self) -> None:
        known = self.reading.entries.setdefault("word", {})
        families = {match[1] for key in known if (match := _NUMBERED.match(key))}
        for _, source in self._sources("words.yaml"):
            words = source.data.get("words") if isinstance(source.data, dict) else None
            if not isinstance(words, dict):
                self.reading.note(
                    source.mark(()), "has no mapping 'words:'", "write 'key: text' on lines below 'words:'"
                )
                continue
            for key, text in words.items():
                self._word(key, text, source, known, families)

    def _word(self, key: str, text: Any, source: Source, known: dict[str, Any], families: set[str]) -> None:
        family = _NUMBERED.match(key)
        path = ("words", key)
        if key not in known and not (family and family[1] in families):
            what = f"sets the word '{key}', which no paper uses"
            self.reading.note(source.key_mark(path), what, did_you_mean(key, known))
        elif not isinstance(text, str) or not text.strip():
            self.reading.note(source.mark(path), f"the word '{key}' is not a text", "put it in quotes")
        else:
            strange = sorted(set(_PLACE.findall(text)) - set(_PLACE.findall(known.get(key, ""))))
            if strange:
                what = f"the word '{key}' has the place '{{{strange[0]}}}', which is not filled"
                self.reading.note(source.mark(path), what, did_you_mean(strange[0], _PLACE.findall(known.get(key, ""))))
            known[key] = text
            self.reading.places["word", key] = (source, path)

    def _questions(self) -> None:
        for _, source in self._sources("questions/"):
            for index, data in enumerate(listed(source, "questions", self.reading)):
                entry = self.reading.shape(Question, data, source, ("questions", index))
                if entry is not None:
                    self.reading.keep("question", entry.name, entry, source, ("questions", index))
                elif isinstance(data, dict):
                    self.reading.unread.add(str(data.get("name")))

    def _clauses(self) -> None:
        for name, source in self._sources("clauses/"):
            data = source.data if isinstance(source.data, dict) else {}
            file = self.folder / name
            for key, beside, kind, kept in (
                ("clauses", "drops", LayerClause, self.clauses),
                ("drops", "clauses", Drop, self.drops),
            ):
                if key not in data and beside in data:
                    continue
                for index, item in enumerate(listed(source, key, self.reading, (beside,) if key in data else ())):
                    entry = self.reading.shape(kind, item, source, (key, index))
                    if entry is not None:
                        self._once(_Entry(entry, source, (key, index), file), kept)
                if key not in data:
                    break  # told once that the file holds neither list
        for key in sorted(self.drops.keys() & self.clauses.keys()):
            what = f"drops the clause '{key}', which the same layer writes (at {self.clauses[key].mark})"
            self.reading.note(self.drops[key].mark, what, "keep one of the two")
            del self.drops[key]

    def _once(self, item: _Entry, kept: dict[str, _Entry]) -> None:
        key = item.entry.id
        if key in kept:
            first, second = sorted((kept[key].mark, item.mark))
            what = f"has the clause '{key}' a second time in one layer (first at {first})"
            self.reading.note(second, what, "keep one of the two")
        else:
            kept[key] = item

    # --- replacing, adding, dropping --------------------------------------------------------------------

    def _replace(self, item: _Entry) -> None:
        known, entry = self.reading.entries["clause"], item.entry
        base = known.get(entry.id)
        if base is None:
            gone = entry.id in self.made.dropped
            what = f"replaces the clause '{entry.id}', which " + ("an earlier layer drops" if gone else "is not there")
            hint = f"{did_you_mean(entry.id, known)} or take 'based_on' out to add it"
            return self.reading.note(item.source.mark((*item.path, "id")), what, hint)
        if not entry.based_on:
            what = f"has the id of a clause that is there (at {self.reading.mark('clause', entry.id)})"
            to_do = f"take another id, or replace that clause: 'based_on: {clause_hash(base)}'"
            return self.reading.note(item.source.mark((*item.path, "id")), what, to_do)
        for name, value in (("part", self.part_of[entry.id]), ("after", "")):
            if getattr(entry, name) not in ("", value):
                mark = item.source.mark((*item.path, name))
                self.reading.note(mark, f"moves the clause '{entry.id}' that it replaces", f"take '{name}' out")
        self._take_place(item, base)
        return None

    def _take_place(self, item: _Entry, base: Clause) -> None:
        """Puts a replacement where its base stood, and says what is to be known of it."""
        entry, made = item.entry, self.made
        before = made.origins.get(entry.id)
        versions = made.versions.setdefault(entry.id, [base])
        beneath = [clause_hash(version) for version in versions]
        stale = entry.based_on not in beneath
        origin = Origin(self.name, self.edition, entry.based_on, base, stale, item.file)
        if stale:
            made.raise_("clause-base-changed", entry, origin, item.source.mark((*item.path, "based_on")))
        if before is not None and entry.based_on != beneath[-1]:
            made.raise_("clause-replaced-twice", entry, origin, item.mark, second=before.layer)
        kept = [version for version in versions if version.keep]
        if kept and not _protects_as(entry, kept[-1]):
            made.raise_("keep-clause-narrowed", entry, origin, item.mark)
        versions.append(entry)
        self.reading.entries["clause"][entry.id] = entry
        self.reading.places["clause", entry.id] = (item.source, item.path)
        made.origins[entry.id] = origin

    def _place_new(self) -> None:
        """Adds the new clauses: each behind the clause it names, else at the end of its part, by id."""
        known = self.reading.entries["clause"]
        parts = self.reading.entries.get("part", {})
        behind: dict[str, list[str]] = {}
        for key in sorted(self.clauses):
            if self._has_place(self.clauses[key], known, parts):
                entry = self.clauses[key].entry
                behind.setdefault(entry.after or f"part:{entry.part}", []).append(key)
        order: dict[str, Any] = {}
        for key, clause in known.items():
            order[key] = clause
            self._follow(key, behind, order)
        for part in parts:
            for key in behind.pop(f"part:{part}", ()):
                self._add(key, order)
                self._follow(key, behind, order)
        for after in sorted(behind):
            for key in behind[after]:
                mark = self.clauses[key].source.mark((*self.clauses[key].path, "after"))
                self.reading.note(mark, f"the clause '{key}' comes after itself in a ring", "name a clause of the part")
        self.reading.entries["clause"] = order

    def _has_place(self, item: _Entry, known: dict[str, Any], parts: dict[str, Any]) -> bool:
        entry, before = item.entry, len(self.reading.problems)
        if entry.part not in parts:
            path = (*item.path, "part")
            what = f"names the part '{entry.part}', which is not there" if entry.part else "lacks 'part'"
            self.reading.note(item.source.mark(path), what, did_you_mean(entry.part, parts))
        elif entry.after and entry.after not in known and entry.after not in self.clauses:
            what = f"comes after the clause '{entry.after}', which is not there"
            mark = item.source.mark((*item.path, "after"))
            self.reading.note(mark, what, did_you_mean(entry.after, [*known, *self.clauses]))
        elif entry.after:
            new = self.clauses.get(entry.after)
            part = new.entry.part if new else self.part_of[entry.after]
            if part != entry.part:
                what = f"comes after the clause '{entry.after}', which is of the part '{part}'"
                self.reading.note(item.source.mark((*item.path, "after")), what, f"name a clause of '{entry.part}'")
        return len(self.reading.problems) == before

    def _follow(self, key: str, behind: dict[str, list[str]], order: dict[str, Any]) -> None:
        """Adds what stands behind a clause, and behind that, and so on; without recursion, chains may be long."""
        waiting = list(reversed(behind.pop(key, ())))
        while waiting:
            following = waiting.pop()
            self._add(following, order)
            waiting += reversed(behind.pop(following, ()))

    def _add(self, key: str, order: dict[str, Any]) -> None:
        item = self.clauses[key]
        order[key] = item.entry
        self.part_of[key] = item.entry.part
        self.reading.places["clause", key] = (item.source, item.path)
        self.made.origins[key] = Origin(self.name, self.edition, file=item.file)
        self.made.dropped.pop(key, None)

    def _drop(self, item: _Entry) -> None:
        known, key = self.reading.entries["clause"], item.entry.id
        clause = known.get(key)
        if clause is None:
            gone = self.made.dropped.get(key)
            what = f"drops the clause '{key}', which " + (f"'{gone.layer}' drops already" if gone else "is not there")
            self.reading.note(item.source.mark((*item.path, "id")), what, did_you_mean(key, known))
            return
        origin = Origin(self.name, self.edition)
        if any(version.keep for version in self.made.versions.get(key, [clause])):
            self.made.raise_("keep-clause-dropped", clause, origin, item.mark, reason=item.entry.because)
        self.made.dropped[key] = Dropped(clause, self.name, item.entry.because)
        self.made.origins.pop(key, None)
        del known[key]


def _protects_as(entry: Clause, kept: Clause) -> bool:
    """Whether a replacement of a clause to keep is in wherever that was."""
    same = (entry.per, entry.when.split(), entry.keep) == (kept.per, kept.when.split(), kept.keep)
    return same and (entry.if_unknown == kept.if_unknown or entry.if_unknown == "include")


def _belongs(name: str) -> bool:
    folder, _, rest = name.rpartition("/")
    return name in (LAYER_MARKER, "words.yaml") or (folder in ("clauses", "questions") and rest.endswith(".yaml"))


def own_layer(answers: Path) -> Path | None:
    """The folder of clauses of a project alone, which lies beside its answers; None where there is none."""
    folder = answers.parent / OWN_FOLDER
    return folder if (folder / LAYER_MARKER).is_file() else None
