"""Issues and what is made of them: a set frozen, written again from its folder alone, and the addendum between two."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator import pipeline
from generator.document.template import Paper
from generator.files.source import read_file
from generator.files.writing import RECORD_FILE
from generator.job.job import Job
from generator.library.layers.files import layer_paths
from generator.library.load import read_library
from generator.library.locate import templates_of
from generator.record.record import dumped, record
from generator.record.revisions.addendum import addendum as addendum_document
from generator.record.revisions.compare import Comparison
from generator.record.revisions.issued import ANSWERS, LIBRARY, TEMPLATES, Issue, Issued, described, freeze
from generator.record.revisions.telling import Telling

if TYPE_CHECKING:
    from generator.render.word.look import Look

HOUSE_FILE: Final = "house-style.docx"


def issue(
    job: Job, answers: Path, raw: bytes, out: Path, library: Path, last: Issued | None, house: bytes | None = None
) -> Path:
    """The folder of a frozen set: papers, record, answers, and what it was written with.

    That is the library with its layers, the templates, the photographs, and the house style.

    Raises `CannotWrite`; nothing that was issued is ever rewritten.
    """
    files = pipeline.papers(job, _look(house))
    data = dumped(record(job, answers.name, raw, files))
    read = [(f"{number}-{layer.name}", layer) for number, layer in enumerate(job.library.layers, start=1)]
    folders = [("0-shipped", library), *((name, layer.folder) for name, layer in read)]
    held = [*((f"{LIBRARY}/{name}", folder) for name, folder in folders), (TEMPLATES, templates_of(library))]
    used = {f"{name}/{file}": path.read_bytes() for name, folder in held for file, path in layer_paths(folder)}
    used |= {f"{ANSWERS}/{file}": data for file, data in job.pictures.items()}
    shipped = {"name": job.library.name, "edition": job.library.edition, "sha256": job.library.digest}
    layers = [{"name": layer.name, "edition": layer.edition, "sha256": layer.digest} for _, layer in read]
    date = job.identity().date
    styled = {HOUSE_FILE: house} if house is not None else {}
    about = Issue(job.said("reference"), job.said("revision"), date, answers.name, [shipped, *layers], last)
    return freeze(out, about, {**files, RECORD_FILE: data, f"{ANSWERS}/{answers.name}": raw, **used, **styled})


def _look(house: bytes | None) -> Look | None:
    from generator.render.house.style import house_style

    return None if house is None else house_style(house, HOUSE_FILE)


def _house_of(issued: Issued) -> bytes | None:
    """The house style that an issue was written with."""
    file = issued.path / HOUSE_FILE
    return file.read_bytes() if file.is_file() else None


def again(issued: Issued) -> tuple[dict[str, bytes], bytes]:
    """The papers and record of an issue, written again from nothing but its folder. Raises `InputInvalid`."""
    folder, about = issued.path, described(issued.path)
    library, *layers = [folder / name for name in about.layers] or [folder / LIBRARY]
    source = read_file(folder / ANSWERS / about.answers, typed=False)
    ready = read_library(library, layers, folder / TEMPLATES)
    job = pipeline.settled(pipeline.read(source, ready), ready, issued.register, about.last, folder / ANSWERS)
    files = pipeline.papers(job, _look(_house_of(issued)))
    return files, dumped(record(job, about.answers, source.raw, files))


def addendum(comparison: Comparison, words: Telling, paper: Paper, number: int) -> bytes:
    """The addendum between two issues as a Word file, in the look of the later one."""
    from generator.render.word.document import specification

    return specification(addendum_document(comparison, words, paper, number), house=_look(_house_of(comparison.new)))
