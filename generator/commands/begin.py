"""The command `begin`: a new answers file from an old job's, without what was that job's alone."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from generator.commands.shared import (
    UNREADABLE,
    LayerFolders,
    LibraryFolder,
    library_beside,
    options_again,
    or_stop,
    say,
    say_wrapped,
    stop,
)

if TYPE_CHECKING:
    from generator.library.model import Library

New = Annotated[Path, typer.Argument(metavar="NEW", help="The answers file to write (YAML).")]
_OLD = "The old job's answers file, or the folder of an issue of it."
Old = Annotated[Path, typer.Option("--from", metavar="OLD", help=_OLD)]


def register(app: typer.Typer) -> None:
    """Adds the command."""
    app.command("begin")(begin)


def begin(new: New, old: Old, library: LibraryFolder = None, layer: LayerFolders = None) -> None:
    """Begin a new job from an old one: what is the building's and yours stays, what was the job's is asked again."""
    from generator.asking.answering import Answering
    from generator.asking.old_job import begun_from
    from generator.files.source import read_file, require
    from generator.files.writing import write_whole
    from generator.library.locate import own_layer

    answers = _answers_of(old)
    ready = library_beside(answers, library, layer)
    or_stop(lambda: require(read_file(answers, typed=False)))
    held = or_stop(lambda: Answering(answers, ready))
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


def _answers_of(old: Path) -> Path:
    """The answers file that is meant: itself, or the one that lies in the folder of an issue."""
    from generator.commands.shared import issued_of, worded_library
    from generator.files.place import ISSUE_FILE
    from generator.files.walk import is_folder
    from generator.record.revisions.issued import ANSWERS, described

    if not is_folder(old) and old.suffix != ".json":
        return old
    issued = issued_of(old)
    if (old / ISSUE_FILE).is_file():
        return old / ANSWERS / or_stop(lambda: described(old)).answers
    name = str(issued.record["answers"].get("name", ""))
    words: Library = worded_library(None)
    beside = (old if is_folder(old) else old.parent) / name
    if not name or "/" in name or not beside.is_file():
        stop([words.phrase("begin-record-alone", folder=str(old), name=name)], UNREADABLE)
    return beside
