"""Hands a layer's clauses on in one file, and takes such a file into another layer, a file an entry.

A bundle holds clauses, drops and questions: never templates, readings or answers. It may come from anybody: it is read
as strictly as a library, and a layer that would not read with it stays as it was.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final, NoReturn

from generator.files.errors import CannotWrite, InputInvalid, Mark, Problem, shown
from generator.files.limits import MOST_YAML_BYTES
from generator.files.mistakes import Mistakes
from generator.files.shapes import Shape, written
from generator.files.source import Path_, Source, read_file
from generator.files.swap import store
from generator.files.walk import real_path
from generator.files.writing import add_together, write_whole
from generator.library.layers.authoring import beginning, clause_fields
from generator.library.layers.client_words import ClientWords
from generator.library.layers.files import FOLDERS, OWN_FILES, Drop, LayerClause, LayerFiles, LayerHeader, read_layer
from generator.library.layers.writing import entry_lines, field_lines
from generator.library.reading import Reading
from generator.questionnaire.questions import Question
from generator.values import Struct, asdict

SCHEMA: Final = 1
_ELSEWHERE: Final = "name another file with --out"
_HEADING: Final = ("bundle", "layer")
# The lists of a bundle: what each holds, and the file that an entry has in a layer.
_KINDS: Final[Mapping[str, tuple[type[Shape], str]]] = {
    "clauses": (LayerClause, "clauses/{}.yaml"),
    "drops": (Drop, "clauses/{}.drop.yaml"),
    "questions": (Question, "questions/{}.yaml"),
}


class Piece(Struct, frozen=True):
    """One entry of a layer or a bundle: the list it stands in, its id, its fields, and its place."""

    kind: str
    key: str
    fields: Mapping[str, Any]
    source: Source
    path: Path_

    def at(self, name: str = "") -> Mark:
        """Where one of its fields stands, or where it begins."""
        return self.source.mark((*self.path, name) if name else self.path)

    @property
    def file(self) -> str:
        """The file that it has in a layer."""
        return _KINDS[self.kind][1].format(self.key)

    @property
    def lines(self) -> list[str]:
        """It as an entry of a list."""
        return entry_lines(self.fields)


def _pieces(source: Source, reading: Reading) -> Iterator[Piece]:
    """The entries of the lists in a file. Mistakes are noted."""
    for kind, (shape, _) in _KINDS.items():
        items = source.data.get(kind, []) if isinstance(source.data, dict) else []
        if not isinstance(items, list):
            reading.note(source.mark((kind,)), f"'{kind}' is not a list", f"list its entries below '{kind}:'")
            continue
        for index, item in enumerate(items):
            entry = reading.shape(shape, item, source, (kind, index))
            if entry is not None:
                fields = _fields(entry)
                yield Piece(kind, str(next(iter(fields.values()))), fields, source, (kind, index))


def _fields(entry: Shape) -> dict[str, Any]:
    """The fields of an entry, its id first, without those that say what goes without saying."""
    if isinstance(entry, LayerClause):
        placed = {name: getattr(entry, name) for name in ("part", "after", "based_on") if getattr(entry, name)}
        return {"id": entry.id, **placed, **clause_fields(entry)}
    return written(entry)


def _pieces_of(layer: LayerFiles, reading: Reading) -> list[Piece]:
    sources = [source for folder in ("clauses", "questions") for _, source in layer.of(folder)]
    order = list(_KINDS)
    found = [piece for source in sources for piece in _pieces(source, reading)]
    return sorted(found, key=lambda piece: (order.index(piece.kind), piece.key))


def _read(folder: Path) -> tuple[LayerFiles, list[Piece]]:
    """A layer and its entries. Raises `InputInvalid`."""
    reading = Reading(str(folder))
    layer = read_layer(folder, str(folder), reading)
    pieces = _pieces_of(layer, reading) if layer is not None else []
    if reading.problems or layer is None:
        raise InputInvalid(reading.problems, reading.problems.more)
    return layer, pieces


# --- export ---------------------------------------------------------------------------------------------------


class Exported(Struct, frozen=True):
    """How many entries were written into a bundle, and which folders and files of the layer stay behind."""

    count: int
    left: tuple[str, ...]


def export(folder: Path, out: Path, client: ClientWords | None) -> Exported:
    """Writes the clauses, drops and questions of a layer into one new file.

    Raises `InputInvalid` where the layer cannot be read or holds a client's words, and `CannotWrite`.
    """
    layer, pieces = _read(folder)
    if client is not None and (problems := Mistakes(_client_words_in(pieces, client))):
        raise InputInvalid(problems, problems.more)
    data = "\n".join(_bundle_lines(layer.header, pieces)).encode()
    if len(data) > MOST_YAML_BYTES:
        what = f"would be larger than any file that is read ({MOST_YAML_BYTES:,} bytes)"
        raise CannotWrite(f"{out}: {what}: part the layer")
    write_whole(out, data, _ELSEWHERE)
    left = (name for name in (*FOLDERS, *OWN_FILES) if name not in ("clauses", "questions", "reviews"))
    return Exported(len(pieces), tuple(name for name in left if any(True for _ in layer.of(name))))


def _bundle_lines(header: LayerHeader, pieces: Iterable[Piece]) -> Iterator[str]:
    yield from field_lines("bundle", SCHEMA)
    yield from field_lines("layer", asdict(header))
    kind = ""
    for piece in pieces:
        if piece.kind != kind:
            kind = piece.kind
            yield f"{kind}:"
        yield from piece.lines
    yield ""


def _client_words_in(pieces: Iterable[Piece], client: ClientWords) -> Iterator[Problem]:
    """A problem for each field that holds a client's words, at the line that they stand on."""
    for piece in pieces:
        for name, value in piece.fields.items():
            if name != "sources" and (words := client.found_in(str(value))):
                what = f"'{piece.key}' holds '{shown(words)}', which is of the answers"
                yield Problem(_line_of(words, piece, name), what, "write it so that it fits any job, or --allow it")


def _line_of(words: str, piece: Piece, name: str) -> Mark:
    """The place of words in a field, where they stand on one line; else the place of the field."""
    mark = piece.at(name)
    lines = piece.source.raw.decode("utf-8-sig").splitlines()
    length = str(piece.fields[name]).count("\n") + 1
    for number in range(mark.line, min(mark.line + length, len(lines)) + 1):
        column = lines[number - 1].casefold().find(words.casefold())
        if column >= 0:
            return Mark(mark.file, number, column + 1)
    return mark


# --- import ---------------------------------------------------------------------------------------------------


def read_bundle(path: Path) -> list[Piece]:
    """The entries of a bundle. Raises `InputInvalid` with every mistake in it."""
    source = read_file(path)
    reading = Reading(str(path), problems=Mistakes(source.problems))
    if not source.broken:
        _heading(source, reading)
    pieces = list(_pieces(source, reading)) if not reading.problems else []
    seen: dict[str, Piece] = {}
    for piece in pieces:
        first = seen.setdefault(piece.file, piece)
        if first is not piece:
            what = f"has '{piece.key}' a second time (first at {first.at()})"
            reading.note(piece.at(), what, "keep one of the two")
    if reading.problems:
        raise InputInvalid(reading.problems, reading.problems.more)
    return pieces


def _heading(source: Source, reading: Reading) -> None:
    data = source.data
    if not isinstance(data, dict) or "bundle" not in data:
        reading.note(source.mark(()), "is not a bundle of clauses", "name a file that 'clauses export' wrote")
        return
    if data["bundle"] != SCHEMA or isinstance(data["bundle"], bool):
        what = f"is a bundle of schema {shown(str(data['bundle']), 20)}, and this program reads {SCHEMA}"
        reading.note(source.mark(("bundle",)), what, "use the program that wrote it")
    reading.shape(LayerHeader, data.get("layer"), source, ("layer",))
    for key in data.keys() - {*_HEADING, *_KINDS}:
        reading.note(source.key_mark((key,)), f"has an unknown key '{shown(key)}'", reading.problems.near(key, _KINDS))


def bring_in(pieces: Iterable[Piece], folder: Path, check: Callable[[Path], object]) -> list[Path]:
    """Writes the entries that a layer has not yet, a file each, all or none, and returns the files; begins the layer.

    `check` is given a copy of the layer as it would be, and raises where that cannot be read.
    Raises `InputInvalid`, with nothing written, where an id is there already with other words, and `CannotWrite`.
    """
    fresh = _not_there(pieces, folder)
    files = {piece.file: "\n".join([f"{piece.kind}:", *piece.lines, ""]).encode() for piece in fresh}
    for name in files:
        if (folder / name).exists():
            raise CannotWrite(f"{folder / name}: is there already, with other things in it: move it away")
    added = {**beginning(folder), **files}
    try:
        with tempfile.TemporaryDirectory() as made:
            _try(folder, Path(made) / (real_path(folder).name or "layer"), added, check)
    except OSError as error:
        raise CannotWrite(f"{folder}: cannot be tried ({error.strerror or error}): free space") from None
    if added:
        add_together(folder, added, "name another folder with --in")
    return [folder / name for name in files]


def _try(folder: Path, trial: Path, added: Mapping[str, bytes], check: Callable[[Path], object]) -> None:
    """Checks a copy of a layer with files added. Raises `InputInvalid` with places as they would be in the layer."""
    if folder.is_dir():
        shutil.copytree(folder, trial, ignore=shutil.ignore_patterns(".*"))
    for name, data in added.items():
        store(trial / name, data)
    try:
        check(trial)
    except InputInvalid as error:
        _tell_as_of(folder, trial, error)


def _not_there(pieces: Iterable[Piece], folder: Path) -> list[Piece]:
    """The entries that a layer has not in the same words. Raises `InputInvalid` for those it has in other words."""
    begun = folder.is_dir() and any(folder.iterdir())
    own = {(piece.kind, piece.key): piece for piece in _read(folder)[1]} if begun else {}
    fresh, clashes = [], []
    for piece in pieces:
        there = own.get((piece.kind, piece.key))
        if there is None:
            fresh.append(piece)
        elif there.fields != piece.fields:
            what = f"'{piece.key}' is in the layer with other words (at {there.at()})"
            clashes.append(Problem(piece.at(), what, "rename one of the two, or take it out of the file"))
    if clashes:
        raise InputInvalid(clashes)
    return fresh


def _tell_as_of(folder: Path, trial: Path, error: InputInvalid) -> NoReturn:
    """Raises the problems of a trial with the files named as they would stand in the layer."""

    def moved(text: str) -> str:
        return text.replace(str(trial), str(folder))

    raise InputInvalid(
        Problem(Mark(moved(item.mark.file), item.mark.line, item.mark.column), moved(item.what), item.to_do, item.under)
        for item in error.problems
    )
