"""The index of walls: for each work the clauses that speak to it and not to the whole job, its lines and its mixes."""

from __future__ import annotations

from collections.abc import Iterator

from generator.document.model import CLAUSE_NUMBERS, LINE_NUMBERS, Block, Paragraph, Row, Value
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.papers.making import mixes_told, place_told, row
from generator.questionnaire.facts import Scope, ScopePath


def wall_index(job: Job, part: PaperPart) -> Iterator[Block]:
    """The index as a table; nothing where one work takes all the clauses."""
    works = job.facts.at("work")
    if len(works) < 2:
        return
    own = _clauses_by_work(job)
    yield part.table((_row(job, part, scope, own.get(scope.path, set())) for scope in works), "table:index")
    yield Paragraph(words(part.text), "small")


def _clauses_by_work(job: Job) -> dict[ScopePath, set[str]]:
    """The clauses that speak to each work, to its wall, its coats or its mixes."""
    found: dict[ScopePath, set[str]] = {}
    for key, chosen in job.selections.items():
        if not chosen.included or chosen.clause.per == "project":
            continue
        for at in job.spoken_to(key):
            inside = [scope.path for scope in job.facts.inside(at, "work")] if len(at) == 1 else [at[:2]]
            for work in inside:
                found.setdefault(work, set()).add(key)
    return found


def _row(job: Job, part: PaperPart, scope: Scope, clauses: set[str]) -> Row:
    path, nothing = scope.path, job.word("nothing")
    numbers, refs = job.number_runs(clauses), job.line_refs(path)
    own = {
        "where": place_told(job, path),
        "clauses": (Value(CLAUSE_NUMBERS, path, numbers),) if numbers else words(nothing),
        "lines": (Value(LINE_NUMBERS, path, refs),) if refs else words(nothing),
        "mix": mixes_told(job.mix_refs(path)) or words(nothing),
    }
    return row(job, part, path, own, nothing)
