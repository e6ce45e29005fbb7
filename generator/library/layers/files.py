"""Reads the files of a layer: its header, clauses, drops, readings, questions and templates, each with its place."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Final, Generic, TypeVar

from generator.files.errors import Mark
from generator.files.shapes import FILLED, Shape, like
from generator.files.source import Path_, Source, read_file
from generator.files.walk import is_file, is_folder, yaml_files
from generator.library.entries import Clause
from generator.library.reading import Reading, listed
from generator.library.tables import Id
from generator.values import Struct, field

LAYER_MARKER: Final = "layer.yaml"
TEMPLATES: Final = "templates"
OWN_FOLDERS: Final = ("questions", "items", "operations", "findings", "tables")
OWN_FILES: Final = ("names.yaml", "hold-points.yaml", "sources.yaml")
"""Where the entries lie that a layer may only add: what the library has of these is not replaced."""
FOLDERS: Final = ("clauses", "reviews", TEMPLATES, *OWN_FOLDERS)


class LayerHeader(Shape, frozen=True):
    """What a layer is called, and which edition of it this is."""

    name: Id
    edition: str


class LayerClause(Clause, frozen=True):
    """A clause of a layer. `based_on` is the hash of the clause that it replaces; empty for a new one."""

    part: str = ""
    after: str = ""
    based_on: str = ""


class Drop(Shape, frozen=True):
    """A clause that the layer leaves out, and why."""

    id: Id
    because: Annotated[str, FILLED]


class Review(Shape, frozen=True):
    """That somebody read a replacement beside its base, known by its hash."""

    clause: Id
    base: Annotated[str, like(r"^[0-9a-f]{12}$")]
    by: Annotated[str, FILLED]
    date: Annotated[str, like(r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]


AnyEntry = TypeVar("AnyEntry", LayerClause, Drop, Review)


class Entry(Struct, Generic[AnyEntry], frozen=True):
    """An entry of a layer with its place."""

    entry: AnyEntry
    source: Source
    path: Path_
    file: Path

    @property
    def mark(self) -> Mark:
        """Where it begins."""
        return self.source.mark(self.path)

    def at(self, name: str) -> Mark:
        """Where one of its fields stands, or where it begins."""
        return self.source.mark((*self.path, name))


class LayerFiles(Struct):
    """A layer as it was read."""

    folder: Path
    label: str
    header: LayerHeader
    digest: str
    sources: dict[str, Source]
    clauses: dict[str, Entry[LayerClause]] = field(default_factory=dict)
    drops: dict[str, Entry[Drop]] = field(default_factory=dict)
    reviews: dict[str, list[Review]] = field(default_factory=dict)

    def of(self, folder: str) -> Iterator[tuple[str, Source]]:
        """The files of a folder, or the one file of that name, that could be read."""
        for name, source in self.sources.items():
            if not source.broken and (name == folder or name.startswith(f"{folder}/")):
                yield name, source


def read_layer(folder: Path, label: str, reading: Reading) -> LayerFiles | None:
    """The layer in a folder, `label` standing for it in marks; None where it has no header. Mistakes are noted."""
    if not is_file(folder / LAYER_MARKER):
        what = f"holds no {LAYER_MARKER}" if is_folder(folder) else "is no folder"
        reading.note(Mark(label), what, "name the folder of a layer; 'clauses new --in DIR' starts one")
        return None
    sources, digest = _read(folder, label, reading)
    source = sources[LAYER_MARKER]
    header = None if source.broken else reading.shape(LayerHeader, source.data, source, ())
    if header is None:
        return None
    layer = LayerFiles(folder, label, header, digest, sources)
    for name, source in layer.of("clauses"):
        _clauses_and_drops(layer, name, source, reading)
    for name, source in layer.of("reviews"):
        for item in _entries(Review, "reviews", (), name, source, layer, reading):
            layer.reviews.setdefault(item.entry.clause, []).append(item.entry)
    _refuse_written_and_dropped(layer, reading)
    return layer


def _read(folder: Path, label: str, reading: Reading) -> tuple[dict[str, Source], str]:
    sources: dict[str, Source] = {}
    digest = hashlib.sha256()
    for name, path in yaml_files(folder, label, reading.problems):
        if not _belongs(name):
            files = ", ".join((LAYER_MARKER, *OWN_FILES, *(f"{folder}/*.yaml" for folder in FOLDERS)))
            to_do = f"a layer holds {files}; move it out"
            reading.note(Mark(f"{label}/{name}"), "is not a file of a layer", to_do)
            continue
        source = read_file(path, f"{label}/{name}")
        reading.problems += source.problems
        sources[name] = source
        digest.update(name.encode() + b"\0" + source.raw + b"\0")
    return sources, digest.hexdigest()


def _belongs(name: str) -> bool:
    folder, _, rest = name.rpartition("/")
    return name in (LAYER_MARKER, *OWN_FILES) or (folder in FOLDERS and rest.endswith(".yaml"))


def _clauses_and_drops(layer: LayerFiles, name: str, source: Source, reading: Reading) -> None:
    """Keeps the entries of a file, which holds the list `clauses`, the list `drops` or both."""
    keys = source.data.keys() if isinstance(source.data, dict) else ()
    if "clauses" in keys or "drops" not in keys:
        for clause in _entries(LayerClause, "clauses", ("drops",), name, source, layer, reading):
            _keep_once(clause, layer.clauses, reading)
    if "drops" in keys:
        for drop in _entries(Drop, "drops", ("clauses",), name, source, layer, reading):
            _keep_once(drop, layer.drops, reading)


def _entries(
    kind: type[AnyEntry], key: str, beside: tuple[str, ...],
    name: str, source: Source, layer: LayerFiles, reading: Reading,
) -> Iterator[Entry[AnyEntry]]:  # fmt: skip
    for index, item in enumerate(listed(source, key, reading, beside)):
        entry = reading.shape(kind, item, source, (key, index))
        if entry is not None:
            yield Entry(entry, source, (key, index), layer.folder / name)


AnyListed = TypeVar("AnyListed", LayerClause, Drop)


def _keep_once(item: Entry[AnyListed], kept: dict[str, Entry[AnyListed]], reading: Reading) -> None:
    key = item.entry.id
    if key in kept:
        first, second = sorted((kept[key].mark, item.mark))
        what = f"has the clause '{key}' a second time in one layer (first at {first})"
        reading.note(second, what, "keep one of the two")
    else:
        kept[key] = item


def _refuse_written_and_dropped(layer: LayerFiles, reading: Reading) -> None:
    for key in sorted(layer.drops.keys() & layer.clauses.keys()):
        what = f"drops the clause '{key}', which the same layer writes (at {layer.clauses[key].mark})"
        reading.note(layer.drops.pop(key).mark, what, "keep one of the two")
