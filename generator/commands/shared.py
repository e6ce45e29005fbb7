"""What every command shares: the exit codes, reading what is named, and ending a run in plain words."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NoReturn, TypeVar

from generator.commands.progress import PROGRESS

if TYPE_CHECKING:
    from generator.job.job import Job
    from generator.library.model import Library
    from generator.questionnaire.facts import Facts
    from generator.record.revisions.issued import Issued

Made = TypeVar("Made")

_END: Final = 1_000
_WIDTH: Final = 96
_HANGING: Final = 2
TENDER, UNREADABLE, WRONG_USE, DRAFT = 0, 1, 2, 3


def job_of(
    answers: Path, library: Path | None, layers: Sequence[Path] | None = None, last: Path | None = None
) -> tuple[Job, bytes]:
    """The job of an answers file, and the file's bytes; ends the run with every mistake in it."""
    return settled_job(answers, library, layers, issued_of(last) if last else None)


def settled_job(
    answers: Path, library: Path | None, layers: Sequence[Path] | None, last: Issued | None
) -> tuple[Job, bytes]:
    """The job of an answers file, holding to the numbers of the last issue, and the file's bytes."""
    from generator import pipeline
    from generator.files.source import read_file

    PROGRESS.at(f"Reading {answers.name}")
    source = read_file(answers, typed=False)
    PROGRESS.at("Reading the library")
    ready = ready_library(library, pipeline.layers_of(source, answers, layers or ()))
    facts = or_stop(lambda: pipeline.read(source, ready))
    return or_stop(lambda: settled_after(facts, ready, last, answers.parent)), source.raw


def settled_after(facts: Facts, library: Library, last: Issued | None, folder: Path) -> Job:
    """The job of some answers, holding to the numbers of the last issue; its photographs lie below a folder."""
    from generator.pipeline import settled

    PROGRESS.at(f"Deciding, measuring and timing {len(facts.at('element')):,} walls")
    numbers, revision = (last.register, last.revision) if last else (None, "")
    return settled(facts, library, numbers, revision, folder)


def issued_of(path: Path) -> Issued:
    """An issue's folder or a record, read; ends the run where it is not as it was issued."""
    from generator.record.revisions.issued import read_issued

    return or_stop(lambda: read_issued(path))


def ready_library(library: Path | None, layers: Sequence[Path] | None = None) -> Library:
    """A library with its layers, ready for a job: its texts and references checked."""
    from generator.library.prepared import shipped_library

    if library is None and not layers:
        return or_stop(shipped_library)
    from generator.library.load import read_library

    return or_stop(lambda: read_library(folder_of(library), layers or ()))


def library_beside(answers: Path, library: Path | None, layers: Sequence[Path] | None = None) -> Library:
    """The library that an answers file is filled in by: with the layers that it lists, and its own."""
    from generator.files.source import read_file
    from generator.pipeline import layers_of

    return ready_library(library, layers_of(read_file(answers, typed=False), answers, layers or ()))


def library_of(library: Path | None, layers: Sequence[Path] | None = None) -> Library:
    """A library with its layers, and with templates where they lie beside it: to be looked into."""
    from generator.library.load import load

    return or_stop(lambda: load(folder_of(library), layers=layers or ()))


def worded_library(library: Path | None, layers: Sequence[Path] | None = None) -> Library:
    """A library with its layers, and with the shipped templates where it has none of its own: to tell things by."""
    from generator.library.load import load
    from generator.library.locate import templates_of

    folder = folder_of(library)
    return or_stop(lambda: load(folder, layers=layers or (), templates=templates_of(folder)))


def options_again(library: Path | None, layers: Sequence[Path] | None) -> str:
    """The options that name a library and its layers, as they are typed behind a file to be read by the same again."""
    import shlex

    more = f" --library {shlex.quote(str(library))}" if library else ""
    return more + "".join(f" --layer {shlex.quote(str(folder))}" for folder in layers or ())


def folder_of(library: Path | None) -> Path:
    """The folder named, or that of the shipped library."""
    from generator.library.locate import shipped

    return library or shipped("clauses", "library.yaml")


def or_stop(step: Callable[[], Made]) -> Made:
    """What a step returns; a mistake of the user's ends the run with its words."""
    from generator.files.errors import GaugeboxError, InputInvalid
    from generator.files.limits import MOST_TOLD

    try:
        return step()
    except InputInvalid as error:
        stop(error.lines(MOST_TOLD), UNREADABLE)
    except GaugeboxError as error:
        stop([str(error)], UNREADABLE)


def say(text: str = "", end: str = "\n", *, error: bool = False) -> None:
    """Prints a text; what a terminal would obey in it, such as an escape in a file's name, is spelt out."""
    from generator.files.errors import harmless

    PROGRESS.clear()
    print(harmless(text), end=end, file=sys.stderr if error else sys.stdout)


def say_wrapped(lines: Iterable[tuple[str, int]]) -> None:
    """Prints texts, each with its indent, as lines that a terminal shows whole; what goes on hangs a little deeper."""
    import textwrap

    for text, indent in lines:
        begin, on = " " * indent, " " * (indent + _HANGING)
        say(textwrap.fill(text, _WIDTH, initial_indent=begin, subsequent_indent=on, break_on_hyphens=False))


def stop(lines: list[str], code: int) -> NoReturn:
    """Ends the run with lines on the error stream."""
    for line in lines:
        say(line if len(line) < 2 * _END else f"{line[:_END]} … {line[-_END:]}", error=True)
    raise SystemExit(code)


def file_of(path: Path, what: str = "a Word file") -> bytes:
    """The bytes of a file that is a package; ends the run where it cannot be read, with `what` is to be named."""
    from generator.files.limits import MOST_PACKAGE_BYTES

    try:
        with path.open("rb") as stream:
            return stream.read(MOST_PACKAGE_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        stop([f"{path}: cannot be read ({reason}): name {what}"], UNREADABLE)


def print_json(data: Any) -> None:
    """Prints data as JSON with its keys sorted."""
    import json

    say(json.dumps(data, indent=1, sort_keys=True, ensure_ascii=False))


def holds(path: Path, data: bytes) -> bool:
    """Whether a file is there, with these bytes."""
    return path.is_file() and path.read_bytes() == data
