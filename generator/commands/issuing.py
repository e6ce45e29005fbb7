"""Issues and what is made of them: a set frozen, written again from its folder alone, and the addendum between two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator import pipeline
from generator.commands.papers import set_of
from generator.document.files import COMPANIONS
from generator.document.template import Paper
from generator.files.mistakes import Mistakes
from generator.files.place import RECORD_FILE
from generator.files.source import read_file
from generator.files.walk import yaml_files
from generator.job.job import Job
from generator.library.load import read_library
from generator.library.locate import templates_of
from generator.record.revisions.addendum import addendum as addendum_document
from generator.record.revisions.compare import Comparison
from generator.record.revisions.issued import ANSWERS, LIBRARY, TEMPLATES, Issue, Issued, described, freeze
from generator.record.revisions.telling import Telling

if TYPE_CHECKING:
    from generator.render.word.look import Look

HOUSE_FILE: Final = "house-style.docx"


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a set has beside its three papers and their look: companion papers by their words, and PDF files."""

    companions: Sequence[str] = ()
    pdf: bool = False
    house: bytes | None = None


def issue(job: Job, answers: Path, raw: bytes, out: Path, library: Path, last: Issued | None, wanted: Wanted) -> Path:
    """The folder of a frozen set: papers, record, answers, and what it was written with.

    That is the library with its layers, the templates, the photographs, and the house style.

    Raises `CannotWrite`; nothing that was issued is ever rewritten.
    """
    files, data = _set(job, answers.name, raw, wanted)
    read = [(f"{number}-{layer.name}", layer) for number, layer in enumerate(job.library.layers, start=1)]
    folders = [("0-shipped", library), *((name, layer.folder) for name, layer in read)]
    held = [*((f"{LIBRARY}/{name}", folder) for name, folder in folders), (TEMPLATES, templates_of(library))]
    used = {
        f"{name}/{file}": path.read_bytes()
        for name, folder in held
        for file, path in yaml_files(folder, name, Mistakes())
    }
    used |= {f"{ANSWERS}/{file}": data for file, data in job.pictures.items()}
    shipped = {"name": job.library.name, "edition": job.library.edition, "sha256": job.library.digest}
    layers = [{"name": layer.name, "edition": layer.edition, "sha256": layer.digest} for _, layer in read]
    date = job.identity().date
    styled = {HOUSE_FILE: wanted.house} if wanted.house is not None else {}
    papers = {**files, RECORD_FILE: data}
    about = Issue(job.said("reference"), job.said("revision"), date, answers.name, [shipped, *layers], last)
    return freeze(out, about, {**papers, f"{ANSWERS}/{answers.name}": raw, **used, **styled})


def _set(job: Job, answers: str, raw: bytes, wanted: Wanted) -> tuple[dict[str, bytes], bytes]:
    """The papers of a set, companions and PDF files among them, and their record."""
    return set_of(job, answers, raw, wanted.companions, wanted.pdf, _look(wanted.house))


def _look(house: bytes | None) -> Look | None:
    from generator.render.house.style import house_style

    return None if house is None else house_style(house, HOUSE_FILE)


def _house_of(issued: Issued) -> bytes | None:
    """The house style that an issue was written with."""
    file = issued.path / HOUSE_FILE
    return file.read_bytes() if file.is_file() else None


def again(issued: Issued) -> tuple[dict[str, bytes], bytes]:
    """The papers and record of an issue, written again from nothing but its folder.

    Raises `InputInvalid`, and `CannotWrite` where it has PDF files and they cannot be made here.
    """
    folder, about = issued.path, described(issued.path)
    library, *layers = [folder / name for name in about.layers] or [folder / LIBRARY]
    source = read_file(folder / ANSWERS / about.answers, typed=False)
    ready = read_library(library, layers, folder / TEMPLATES)
    job = pipeline.settled(pipeline.read(source, ready), ready, issued.register, about.last, folder / ANSWERS)
    companions = [key for key, name in COMPANIONS.items() if name in about.files]
    wanted = Wanted(companions, any(name.endswith(".pdf") for name in about.files), _house_of(issued))
    return _set(job, about.answers, source.raw, wanted)


def addendum(comparison: Comparison, words: Telling, paper: Paper, number: int) -> bytes:
    """The addendum between two issues as a Word file, in the look of the later one."""
    from generator.render.word.document import specification

    return specification(addendum_document(comparison, words, paper, number), house=_look(_house_of(comparison.new)))
