"""The index of walls: for each work the clauses that speak to it and not to the whole job, its lines and its mixes."""

from __future__ import annotations

from collections.abc import Iterator

from generator.document.model import Block, Column, Paragraph, Row, Table, Value
from generator.job.job import Job, words
from generator.questionnaire.facts import Scope, ScopePath

_COLUMNS = (("column-where", 0.3), ("column-clauses", 0.4), ("column-lines", 0.16), ("column-mix", 0.14))


def wall_index(job: Job) -> Iterator[Block]:
    """The index as a table; nothing where one work takes all the clauses."""
    works = job.facts.at("work")
    if len(works) < 2:
        return
    caption = job.word("caption-index")
    columns = tuple(Column(job.word(key), share) for key, share in _COLUMNS)
    own = _clauses_by_work(job)
    rows = tuple(_row(job, scope, own.get(scope.path, set())) for scope in works)
    yield Table(columns, rows, caption, "table:index", description=caption, small=True)
    yield Paragraph(words(job.word("index-rest")), "small")


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


def _row(job: Job, scope: Scope, own: set[str]) -> Row:
    path, nothing = scope.path, job.word("nothing")
    return Row(
        (
            (Value("work_name", path, job.filling.place(path)),),
            words(job.number_runs(own) or nothing),
            words(job.line_refs(path) or nothing),
            (Value("mix_used", path, ", ".join(job.mix_refs(path)) or nothing),),
        )
    )
