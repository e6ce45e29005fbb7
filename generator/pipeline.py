"""The way from answers to papers: the table of contents of the program.

    answers.yaml - read - check - decide - measure - programme - assemble - render -> .docx .xlsx record.json

Each step takes values and returns values, with the problems and findings it met; no step reaches back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from generator.decide import mixes
from generator.decide.decide import decide
from generator.document.assemble import assemble, settle
from generator.document.filling import Filling
from generator.document.findings import worded
from generator.document.held import held
from generator.document.job import Job
from generator.document.lint import misfits
from generator.document.needed import needing
from generator.document.numbers import Register
from generator.document.referring import dangling, unmet
from generator.document.texts import Texts
from generator.errors import Finding, InputInvalid
from generator.files import RECORD_FILE
from generator.library.layer_files import layer_paths
from generator.library.layers import own_layer
from generator.library.load import load
from generator.library.model import Library
from generator.measure.measure import measure
from generator.programme.plan import programme
from generator.questionnaire.answers import layers_named, read_answers
from generator.questionnaire.facts import PROJECT, Facts, Scope, Scopes
from generator.record import dumped, record
from generator.revisions.addendum import addendum
from generator.revisions.compare import Comparison
from generator.revisions.issued import ANSWERS, LIBRARY, Issue, Issued, described, freeze
from generator.revisions.telling import Telling
from generator.source import Source, read_file

if TYPE_CHECKING:
    from generator.render.look import Look


@dataclass(frozen=True, slots=True)
class Words:
    """A library and its parsed texts, checked together."""

    library: Library
    texts: Texts


def read_library(folder: Path, layers: Sequence[Path] = ()) -> Words:
    """The library of a folder with layers laid over it. Raises `InputInvalid` with every mistake in it."""
    library = needing(load(folder, layers=layers))
    texts = Texts(library)
    if problems := [*texts.problems(), *misfits(library), *(dangling(library) if library.layers else ())]:
        raise InputInvalid(problems)
    return Words(library, texts)


def layer_findings(words: Words) -> tuple[Finding, ...]:
    """What layers raise whatever the job: protecting clauses dropped, bases changed, clauses begun and not written."""
    library = words.library
    nothing = Filling(Facts(library.names, Scopes({PROJECT: Scope(PROJECT, "project", "")}), {}), library, words.texts)
    return tuple(worded(raised, nothing) for raised in library.raised)


def layers_of(source: Source, answers: Path, named: Sequence[Path] = ()) -> list[Path]:
    """The layers of a job in order: those named, those its answers list, and its own beside its answers.

    A list that cannot be read is noted in the source.
    """
    own = own_layer(answers)
    listed = [answers.parent / folder for folder in layers_named(source)]
    return [*named, *listed, *([own] if own else [])]


def read(source: Source, words: Words) -> Facts:
    """The facts of an answers file. Raises `InputInvalid` with every mistake in it."""
    facts = read_answers(source, words.library.questionnaire, words.library.names)
    if source.problems:
        raise InputInvalid(source.problems)
    return facts


def settled(answers: Facts, words: Words, last: Register | None = None, replaces: str = "") -> Job:
    """The job decided, measured, timed and numbered: all that the papers and `check` tell.

    `last` are the numbers of the last issue, `replaces` its revision.
    Raises `InputInvalid` where the library lacks what a step asks of it.
    """
    decisions = decide(answers, words.library, last)
    decisions = replace(decisions, raised=(*words.library.raised, *decisions.raised))
    measured, lines = held(measure(decisions, words.library), last)
    planned = programme(measured, words.library)
    job = settle(words.library, words.texts, decisions, measured, planned, last)
    if words.library.layers and (problems := list(unmet(job))):
        raise InputInvalid(problems)
    kept = mixes.register(decisions.mixes, last or {})
    return replace(job, replaces=replaces, numbers={**job.numbers, **lines, **kept})


def papers(job: Job, house: Look | None = None) -> dict[str, bytes]:
    """The papers of a job by file name; the mix schedule keeps its own look, whose one page is measured."""
    from generator.render.mix_sheet import mix_sheets, parted
    from generator.render.word import specification
    from generator.render.workbook import pricing_workbook

    made = assemble(job)
    return {
        "specification.docx": specification(made.specification, house=house),
        "mix-schedule.docx": mix_sheets(parted(made.sheet)),
        "pricing-schedule.xlsx": pricing_workbook(made.book),
    }


# --- issues and revisions ---------------------------------------------------------------------------------------

HOUSE_FILE: Final = "house-style.docx"


def issue(
    job: Job, answers: Path, raw: bytes, out: Path, library: Path, last: Issued | None, house: bytes | None = None
) -> Path:
    """The folder of a frozen set: papers, record, answers, and the library, layers and house style it was written with.

    Raises `CannotWrite`; nothing that was issued is ever rewritten.
    """
    files = papers(job, _look(house))
    data = dumped(record(job, answers.name, raw, files))
    read = [(f"{number}-{layer.name}", layer) for number, layer in enumerate(job.library.layers, start=1)]
    folders = [("0-shipped", library), *((name, layer.folder) for name, layer in read)]
    used = {
        f"{LIBRARY}/{name}/{file}": path.read_bytes() for name, folder in folders for file, path in layer_paths(folder)
    }
    shipped = {"name": job.library.name, "edition": job.library.edition, "sha256": job.library.digest}
    layers = [{"name": layer.name, "edition": layer.edition, "sha256": layer.digest} for _, layer in read]
    date = job.identity("paper-specification").date
    styled = {HOUSE_FILE: house} if house is not None else {}
    about = Issue(job.said("reference"), job.said("revision"), date, answers.name, [shipped, *layers], last)
    return freeze(out, about, {**files, RECORD_FILE: data, f"{ANSWERS}/{answers.name}": raw, **used, **styled})


def _look(house: bytes | None) -> Look | None:
    from generator.render.house_style import house_style

    return None if house is None else house_style(house, HOUSE_FILE)


def _house_of(issued: Issued) -> bytes | None:
    """The house style that an issue was written with."""
    file = issued.path / HOUSE_FILE
    return file.read_bytes() if file.is_file() else None


def issued_again(issued: Issued) -> tuple[dict[str, bytes], bytes]:
    """The papers and record of an issue, written again from nothing but its folder. Raises `InputInvalid`."""
    folder, about = issued.path, described(issued.path)
    library, *layers = [folder / name for name in about.layers] or [folder / LIBRARY]
    source = read_file(folder / ANSWERS / about.answers, typed=False)
    words = read_library(library, layers)
    job = settled(read(source, words), words, issued.register, about.last)
    files = papers(job, _look(_house_of(issued)))
    return files, dumped(record(job, about.answers, source.raw, files))


def addendum_paper(comparison: Comparison, words: Telling, number: int) -> bytes:
    """The addendum between two issues as a Word file, in the look of the later one."""
    from generator.render.word import specification

    return specification(addendum(comparison, words, number), house=_look(_house_of(comparison.new)))
