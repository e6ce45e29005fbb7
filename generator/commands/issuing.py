"""Issues and what is made of them: a set frozen, written again from its folder alone, and the addendum between two."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from generator import pipeline
from generator.commands.packaging import PACKED, package, package_name, packed_names
from generator.commands.progress import PROGRESS
from generator.commands.sets import set_of
from generator.commands.shared import holds, settled_after
from generator.document.files import COMPANIONS
from generator.document.template import Paper
from generator.files.mistakes import Mistakes
from generator.files.place import RECORD_FILE
from generator.files.source import read_file
from generator.files.walk import yaml_files
from generator.job.job import Job
from generator.library.load import read_library
from generator.library.locate import templates_of
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import PROJECT
from generator.record.revisions.addendum import addendum as addendum_document
from generator.record.revisions.compare import Comparison
from generator.record.revisions.issued import ANSWERS, LIBRARY, TEMPLATES, Issue, Issued, described, freeze, newest
from generator.record.revisions.telling import Telling
from generator.render.pdf.making import can_make
from generator.values import Struct

if TYPE_CHECKING:
    from generator.asking.survey.packing import Packager
    from generator.library.model import Library
    from generator.render.word.look import Look

HOUSE_FILE: Final = "house-style.docx"
ISSUES: Final = "issues"


class Wanted(Struct, frozen=True):
    """What a set has beside its three papers and their look: companion papers by their words, and PDF files.

    `packed` adds the package: the papers as one zip to send.
    """

    companions: Sequence[str] = ()
    pdf: bool = False
    house: bytes | None = None
    packed: bool = False


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
    PROGRESS.at("Freezing the issue")
    styled = {HOUSE_FILE: wanted.house} if wanted.house is not None else {}
    sent = {package_name(job): package(job, files)} if wanted.packed else {}
    papers = {**files, RECORD_FILE: data, **sent}
    about = Issue(job.said("reference"), job.said("revision"), date, answers.name, [shipped, *layers], last)
    return freeze(out, about, {**papers, f"{ANSWERS}/{answers.name}": raw, **used, **styled})


def packager_of(answers: Path, library: Library, folder: Path) -> Packager:
    """What makes packages of an answers file: each is part of an issue in the folder `issues` beside it."""
    from generator.asking.survey.packing import Packager

    out = answers.parent / ISSUES

    def make(facts: Facts, raw: bytes, pdf: bool, tell: Callable[[str], Any]) -> Path:
        last = newest(out, facts.at_scope(PROJECT).text("reference"))
        with PROGRESS.telling_to(tell):
            job = settled_after(facts, library, last, answers.parent)
            return issue(job, answers, raw, out, folder, last, Wanted(PACKED, pdf, packed=True)) / package_name(job)

    def made() -> list[Path]:
        return sorted(path for path in out.glob("*/*.zip") if path.stem == path.parent.name)

    def of(raw: bytes) -> Path | None:
        return next((path for path in made() if holds(path.parent / ANSWERS / answers.name, raw)), None)

    return Packager(out, can_make(), packed_names, make, made, of)


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


def job_of_issue(issued: Issued) -> tuple[Job, bytes]:
    """The job of an issue and its answers, from nothing but its folder: its answers, library, layers and numbers.

    Raises `InputInvalid`.
    """
    folder, about = issued.path, described(issued.path)
    library, *layers = [folder / name for name in about.layers] or [folder / LIBRARY]
    source = read_file(folder / ANSWERS / about.answers, typed=False)
    ready = read_library(library, layers, folder / TEMPLATES)
    facts = pipeline.read(source, ready)
    return pipeline.settled(facts, ready, issued.register, about.last, folder / ANSWERS), source.raw


def again(issued: Issued) -> tuple[dict[str, bytes], bytes, dict[str, bytes]]:
    """The papers and record of an issue, and its package if it has one, written again from nothing but its folder.

    Raises `InputInvalid`, and `CannotWrite` where it has PDF files and they cannot be made here.
    """
    about, (job, raw) = described(issued.path), job_of_issue(issued)
    companions = [key for key, name in COMPANIONS.items() if name in about.files]
    wanted = Wanted(companions, any(name.endswith(".pdf") for name in about.files), _house_of(issued))
    files, record = _set(job, about.answers, raw, wanted)
    name = package_name(job)
    return files, record, {name: package(job, files)} if name in about.files else {}


def addendum(comparison: Comparison, words: Telling, paper: Paper, number: int) -> bytes:
    """The addendum between two issues as a Word file, in the look of the later one."""
    from generator.render.word.document import specification

    return specification(addendum_document(comparison, words, paper, number), house=_look(_house_of(comparison.new)))
