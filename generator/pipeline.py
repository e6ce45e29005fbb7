"""The way from answers to papers: the table of contents of the program.

    answers.yaml - read - check - survey - decide - measure - programme - price - settle - assemble - agree - render
        -> .docx .xlsx record.json

Each step takes values and returns values, with the problems and findings it met; no step reaches back.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from generator.decide import mixes
from generator.decide.decide import decide
from generator.files.errors import InputInvalid
from generator.files.source import Source
from generator.job.filling import Filling
from generator.job.findings import worded
from generator.job.held import held
from generator.job.job import Job
from generator.job.numbers import Register
from generator.job.settle import settle, unmet
from generator.library.findings import Finding
from generator.library.locate import own_layer
from generator.library.model import Library
from generator.library.wording import for_readers
from generator.measure.measure import measure, priced
from generator.measure.photographs.survey import survey
from generator.papers.agreement.agree import agreed
from generator.papers.agreement.printed import MIX_SCHEDULE, PRICING_SCHEDULE, Printed
from generator.papers.agreement.whole import whole
from generator.papers.figures import numbered_figures
from generator.programme.plan import programme
from generator.questionnaire.answers import layers_named, read_answers
from generator.questionnaire.changes import recalling
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import PROJECT, Scope, Scopes
from generator.values import replace

if TYPE_CHECKING:
    from generator.render.word.look import Look


def layer_findings(library: Library) -> tuple[Finding, ...]:
    """What layers raise whatever the job: protecting clauses dropped, bases changed, clauses begun and not written."""
    nothing = Filling(Facts(library.names, Scopes({PROJECT: Scope(PROJECT, "project", "")}), {}), library)
    return tuple(worded(raised, nothing) for raised in library.raised)


def layers_of(source: Source, answers: Path, named: Sequence[Path] = ()) -> list[Path]:
    """The layers of a job in order: those named, those its answers list, and its own beside its answers.

    A list that cannot be read is noted in the source.
    """
    own = own_layer(answers)
    listed = [answers.parent / folder for folder in layers_named(source)]
    return [*named, *listed, *([own] if own else [])]


def read(source: Source, library: Library) -> Facts:
    """The facts of an answers file. Raises `InputInvalid` with every mistake in it."""
    facts = read_answers(source, library.questionnaire, library.names)
    if source.problems:
        raise InputInvalid(source.problems, source.problems.more)
    return facts


def settled(
    answers: Facts,
    library: Library,
    last: Register | None = None,
    replaces: str = "",
    folder: Path | None = None,
    kept: Kept = AFRESH,
) -> Job:
    """The job surveyed, decided, measured, timed and numbered: all that the papers and `check` tell.

    `last` are the numbers of the last issue, `replaces` its revision; photographs lie below `folder`.
    What did not change since the last job settled with `kept` is taken from there.
    Raises `InputInvalid` where the library lacks what a step asks of it.
    """
    library, answers = for_readers(library, answers.native(), kept)
    seen = survey(answers, library, folder)
    decisions = decide(seen.facts, library, last, kept)
    raised = (*library.raised, *seen.raised, *decisions.raised)
    decisions = replace(decisions, raised=raised, reasons={**decisions.reasons, **seen.reasons})
    measured = measure(decisions, library, kept)
    planned = programme(measured, library, kept)
    planned = replace(planned, facts=recalling(planned.facts, "dated", kept))
    measured, lines = held(priced(measured, planned.facts, library), last)
    job = settle(library, decisions, measured, planned, last, kept)
    if problems := list(unmet(job)):
        raise InputInvalid(problems)
    marks = mixes.register(decisions.mixes, last or {})
    job = replace(job, replaces=replaces, numbers={**job.numbers, **lines, **marks}, survey=seen)
    return job.with_figures(numbered_figures)


def assembled(job: Job, wanted: Sequence[str] = ()) -> Printed:
    """The papers of a job as neutral documents, with the companions wanted, once they agree.

    Raises `InputInvalid` with everything in which they disagree.
    """
    return agreed(whole(job, wanted))


def rendered(
    made: Printed, house: Look | None = None, tell: Callable[[str], object] = lambda name: None
) -> dict[str, bytes]:
    """The files of papers by name; the mix schedule keeps its own look, whose one page is measured.

    `tell` is told the name of each before it is made.
    """
    from generator.render.word.document import specification
    from generator.render.word.mix_page import mix_pages, parted
    from generator.render.workbook.book import pricing_workbook

    first, *others = (
        (f"{name}.docx", partial(specification, paper, house=house)) for name, paper in made.documents.items()
    )
    makers: tuple[tuple[str, Callable[[], bytes]], ...] = (
        first,
        (f"{MIX_SCHEDULE}.docx", lambda: mix_pages(parted([made.sheet]))),
        (f"{PRICING_SCHEDULE}.xlsx", lambda: pricing_workbook(made.book)),
        *others,
    )
    files: dict[str, bytes] = {}
    for name, make in makers:
        tell(name)
        files[name] = make()
    return files


def papers(job: Job, house: Look | None = None, wanted: Sequence[str] = ()) -> dict[str, bytes]:
    """The papers of a job that agree, by file name."""
    return rendered(assembled(job, wanted), house)
