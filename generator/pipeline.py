"""The way from answers to papers: the table of contents of the program.

    answers.yaml - read - check - decide - measure - programme - assemble - render -> .docx .xlsx record.json

Each step takes values and returns values, with the problems and findings it met; no step reaches back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

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
from generator.library.layers import own_layer
from generator.library.load import load
from generator.library.model import Library
from generator.measure.measure import measure
from generator.programme.plan import programme
from generator.questionnaire.answers import layers_named, read_answers
from generator.questionnaire.facts import PROJECT, Facts, Scope, Scopes
from generator.source import Source

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
