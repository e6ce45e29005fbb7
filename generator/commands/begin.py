"""The command `begin`: a new answers file from an old job's, without what was that job's alone."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator.commands.options import LayerFolders, LibraryFolder
from generator.commands.shared import (
    UNREADABLE,
    issued_of,
    options_again,
    or_stop,
    ready_library,
    say,
    say_wrapped,
    stop,
    worded_library,
)

if TYPE_CHECKING:
    from generator.files.source import Source

New = Annotated[Path, typer.Argument(metavar="NEW", help="The answers file to write (YAML).")]
_OLD = "The old job's answers file, the folder of an issue of it, or a record.json."
Old = Annotated[Path, typer.Option("--from", metavar="OLD", help=_OLD)]


def register(app: typer.Typer) -> None:
    """Adds the command."""
    app.command("begin")(begin)


def begin(new: New, old: Old, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Begin a new job from an old one: what is the building's and yours stays, what was the job's is asked again."""
    from generator import pipeline
    from generator.asking.answering import Answering
    from generator.asking.old_job import begun_from
    from generator.files.source import require
    from generator.files.writing import write_whole
    from generator.library.locate import own_layer

    answers, source = _answers_of(old)
    or_stop(lambda: require(source))
    ready = ready_library(library, pipeline.layers_of(source, answers, layer or ()))
    held = or_stop(lambda: Answering(answers, ready, source))
    begun = or_stop(lambda: begun_from(held, new))
    or_stop(lambda: write_whole(new, begun.text.encode(), ready.phrase("begin-there")))
    lines = [(ready.phrase("begin-wrote", file=str(new)), 0)]
    for path, labels in begun.left.items():
        place = held.facts.title(path) if path else ready.phrase("whole-job")
        lines.append((ready.phrase("begin-left", place=place, labels="; ".join(labels)), 2))
    lines.append((ready.phrase("begin-works"), 0))
    if own_layer(answers) is not None and answers.parent.resolve() != new.parent.resolve():
        lines.append((ready.phrase("begin-own-layer", folder=str(own_layer(answers))), 0))
    say_wrapped(lines)
    say(ready.phrase("begin-next", file=shlex.quote(str(new)), more=options_again(library, layer)))


def _answers_of(old: Path) -> tuple[Path, Source]:
    """The answers that are meant, read, and where they lie: a file, that of an issue, or those in a record."""
    from generator.files.place import ISSUE_FILE
    from generator.files.source import read_file
    from generator.files.walk import is_folder
    from generator.record.revisions.issued import ANSWERS, described

    if not is_folder(old) and old.suffix != ".json":
        return old, read_file(old, typed=False)
    issued = issued_of(old)
    if (old / ISSUE_FILE).is_file():
        inside = old / ANSWERS / or_stop(lambda: described(old)).answers
        return inside, read_file(inside, typed=False)
    return _answers_in(issued.record["answers"], old if is_folder(old) else old.parent)


def _answers_in(told: Mapping[str, object], folder: Path) -> tuple[Path, Source]:
    """The answers of a record in a folder: as the record holds them, or the file beside it that it was made of."""
    from generator.files.archive import sha256
    from generator.files.source import read_bytes, read_file

    name, text, digest = str(told.get("name", "")), told.get("text"), told.get("sha256")
    raw = text.encode(errors="replace") if isinstance(text, str) else b""
    named = bool(name) and "/" not in name and "\\" not in name
    beside = folder / (name if named else "answers.yaml")
    if raw and sha256(raw) == digest:
        return beside, read_bytes(raw, str(beside), typed=False)
    source = read_file(beside, typed=False)
    if not named or sha256(source.raw) != digest:
        key = "begin-record-changed" if raw else "begin-record-alone"
        stop([worded_library(None).phrase(key, folder=str(folder), name=name)], UNREADABLE)
    return beside, source
