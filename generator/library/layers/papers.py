"""Lays a layer's templates over the papers and words that have been read, by file and key."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath
from typing import Any

from generator.document.template import places
from generator.files.errors import Mark, did_you_mean, shown
from generator.files.shapes import Shape
from generator.files.source import Path_, Source
from generator.library.layers.files import TEMPLATES, LayerFiles
from generator.library.paper_kinds import PAPERS, PartKind, kind_of
from generator.library.reading import Reading
from generator.library.templates import (
    Draft,
    PartOptions,
    PartShape,
    Placed,
    RowShape,
    alone,
    change_lines,
    change_options,
    draft,
    words_of,
)
from generator.values import Struct, field


class _Change(PartOptions, frozen=True):
    """What a layer changes of one part: an option that it gives takes the place of the one that was there.

    To its list it adds entries, each `after` another or at the end; it drops some, and orders all.
    """

    add: tuple[Any, ...] = ()
    drop: tuple[str, ...] = ()
    order: tuple[str, ...] = ()


class _PaperChanges(Shape, frozen=True):
    """What a layer changes of a paper, and of the list of its parts."""

    title: str = ""
    parts: tuple[_Change, ...] = ()
    words: dict[str, Any] = field(default_factory=dict)
    add: tuple[Any, ...] = ()
    drop: tuple[str, ...] = ()
    order: tuple[str, ...] = ()


class _AddedRow(RowShape, frozen=True):
    after: str = ""


class _AddedPart(PartShape, frozen=True):
    after: str = ""


def lay_papers(layer: LayerFiles, reading: Reading) -> None:
    """Changes the papers and words that were read as a layer says. Mistakes are noted."""
    for path, source in layer.of(TEMPLATES):
        name = PurePath(path).name
        files = {f"{paper}.yaml" for paper in reading.entries.get("paper", {})} | set(_word_files(reading))
        if name not in files:
            what = f"'{name}' is not a file of the templates"
            reading.note(Mark(source.file), what, reading.problems.near(name, files))
        elif PurePath(name).stem in PAPERS:
            _lay_paper(reading.entries["paper"][PurePath(name).stem], source, reading)
        else:
            for key, text in words_of(source, reading):
                _word(key, text, source, reading)


def _word_files(reading: Reading) -> Iterator[str]:
    return (_file_of(key, reading) for key in reading.entries.get("word", {}))


def _file_of(key: str, reading: Reading) -> str:
    return PurePath(reading.places["word", key][0].file).name


def _word(key: str, text: Any, source: Source, reading: Reading) -> None:
    """Takes a layer's word in the place of the one of its key, which stands in a file of the same name."""
    known = reading.entries.setdefault("word", {})
    path = ("words", key)
    holes = places(known.get(key, ""))
    if key not in known:
        what = f"sets the word '{shown(key)}', which no paper uses"
        reading.note(source.key_mark(path), what, reading.problems.near(key, known))
    elif _file_of(key, reading) != PurePath(source.file).name:
        what = f"sets the word '{key}', which is of another file"
        reading.note(source.key_mark(path), what, f"move it to {TEMPLATES}/{_file_of(key, reading)}")
    elif not isinstance(text, str) or not text.strip():
        reading.note(source.mark(path), f"the word '{key}' is not a text", "put it in quotes")
    elif strange := sorted(set(places(text)) - set(holes)):
        what = f"the word '{key}' has the place '{{{strange[0]}}}', which is not filled"
        reading.note(source.mark(path), what, reading.problems.near(strange[0], holes))
    else:
        known[key] = text
        reading.places["word", key] = (source, path)


# --- papers -------------------------------------------------------------------------------------------------


def _lay_paper(paper: Draft, source: Source, reading: Reading) -> None:
    changes = reading.shape(_PaperChanges, source.data, source, ())
    if changes is None:
        return
    for key, text in changes.words.items():
        _word(key, text, source, reading)
    kind = PAPERS[paper.name]
    if changes.title:
        paper.options["title"] = Placed(changes.title, source, ("title",))
    _Laying(reading, source, paper, kind, "parts", ()).run(changes)
    for index, change in enumerate(changes.parts):
        path = ("parts", index)
        found = dict(_every(paper, kind)).get(change.part)
        if found is None:
            what = f"changes the part '{shown(change.part)}', which is not there"
            known = [name for name, _ in _every(paper, kind)]
            reading.note(source.mark((*path, "part")), what, reading.problems.near(change.part, known))
            continue
        part, part_kind = found
        change_options(part, change, source, path)
        change_lines(part, change, source, path)
        if change.rows:
            part.rows = [Placed(row, source, (*path, "rows", place)) for place, row in enumerate(change.rows)]
        _Laying(reading, source, part, part_kind, part_kind.holds, path).run(change)


def _every(around: Draft, kind: PartKind) -> Iterator[tuple[str, tuple[Draft, PartKind]]]:
    """Every part inside another, by name, with its kind."""
    for part in around.parts:
        part_kind = kind_of(part.part.value, kind)
        if part_kind is not None:
            yield part.name, (part, part_kind)
            yield from _every(part, part_kind)


class _Laying(Struct, frozen=True):
    """The one list of a part, named `holds`, being changed; `path` is the place of the change in the source."""

    reading: Reading
    source: Source
    part: Draft
    kind: PartKind
    holds: str
    path: Path_

    def run(self, edits: _Change | _PaperChanges) -> None:
        """Drops, adds and orders."""
        for index, name in enumerate(edits.drop):
            self.drop(name, (*self.path, "drop", index))
        for index, item in enumerate(edits.add):
            self.add(item, (*self.path, "add", index))
        if edits.order:
            self.order(edits.order)

    def note(self, path: Path_, what: str, to_do: str) -> None:
        self.reading.note(self.source.mark(path), what, to_do)

    def entries(self) -> list[tuple[str, Any]]:
        """The entries of the list by what they are known by."""
        if self.holds == "lines":
            return list(self.part.lines.items())
        if self.holds == "rows":
            return [(row.value.shows or row.value.label, row) for row in self.part.rows]
        return [(part.name, part) for part in self.part.parts]

    def keep(self, entries: list[tuple[str, Any]]) -> None:
        """Puts entries in the place of those that were there."""
        if self.holds == "lines":
            self.part.lines = dict(entries)
        elif self.holds == "rows":
            self.part.rows = [row for _, row in entries]
        elif self.holds == "parts":
            self.part.parts = [part for _, part in entries]

    def drop(self, name: str, path: Path_) -> None:
        entries = self.entries() if self.holds else []
        if name not in dict(entries):
            what = f"drops '{shown(name)}', which is not in '{self.part.name}'"
            self.note(path, what, did_you_mean(name, dict(entries)))
        elif why := self.kept(name):
            self.note(path, f"drops '{name}' from '{self.part.name}', which may not do without it", f"keep it: {why}")
        else:
            self.keep([(key, entry) for key, entry in entries if key != name])

    def kept(self, name: str) -> str:
        """Why an entry may not be dropped; empty where it may."""
        if self.holds == "parts":
            inner = self.kind.inner.get(name)
            return inner.kept if inner else ""
        # a caution that loses a line is no longer that caution
        return self.kind.kept if self.holds == "lines" or name in self.kind.keeps.split() else ""

    def add(self, item: Any, path: Path_) -> None:
        entry, after = self.added(item, path)
        if entry is None:
            return
        entries = self.entries()
        names = [key for key, _ in entries]
        if after and after not in names:
            what = f"comes after '{shown(after)}', which is not in '{self.part.name}'"
            self.note((*path, "after"), what, did_you_mean(after, names))
            return
        place = names.index(after) + 1 if after else len(entries)
        self.keep([*entries[:place], ("", entry), *entries[place:]])

    def added(self, item: Any, path: Path_) -> tuple[Placed[RowShape] | Draft | None, str]:
        """A row or part to add, and what it comes after."""
        if self.holds == "rows":
            row = self.reading.shape(_AddedRow, alone("shows", item), self.source, path)
            return (Placed(row, self.source, path), row.after) if row else (None, "")
        if self.holds == "parts":
            part = self.reading.shape(_AddedPart, alone("part", item), self.source, path)
            return (draft(part, self.source, path), part.after) if part else (None, "")
        self.note(path, f"adds to '{self.part.name}', which has no rows or parts", "write its lines under 'lines:'")
        return None, ""

    def order(self, names: tuple[str, ...]) -> None:
        entries = dict(self.entries()) if self.holds else {}
        if sorted(names) != sorted(entries):
            odd = sorted(set(names) ^ set(entries))
            what = f"orders '{self.part.name}' and does not name each of its entries once ({', '.join(odd[:3])})"
            self.note((*self.path, "order"), what, f"name each once: {', '.join(entries)}")
        else:
            self.keep([(name, entries[name]) for name in names])
