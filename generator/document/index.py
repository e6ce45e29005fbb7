"""The index of walls: for each work the clauses that speak to it and not to the whole job, its lines and its mixes."""

from __future__ import annotations

from collections.abc import Iterator

from generator.document.job import Job, words
from generator.document.model import Block, Column, Paragraph, Row, Table, Value
from generator.questionnaire.facts import Scope

_COLUMNS = (("column-where", 0.3), ("column-clauses", 0.4), ("column-lines", 0.16), ("column-mix", 0.14))


def wall_index(job: Job) -> Iterator[Block]:
    """The index as a table; nothing where one work takes all the clauses."""
    works = job.facts.at("work")
    if len(works) < 2:
        return
    caption = job.word("caption-index")
    columns = tuple(Column(job.word(key), share) for key, share in _COLUMNS)
    rows = tuple(_row(job, scope) for scope in works)
    yield Table(columns, rows, caption, "table:index", description=caption, small=True)
    yield Paragraph(words(job.word("index-rest")), "small")


def _row(job: Job, scope: Scope) -> Row:
    path, nothing = scope.path, job.word("nothing")
    own = tuple(key for key, chosen in job.selections.items() if chosen.clause.per != "project")
    return Row(
        (
            (Value("work_name", path, job.filling.place(path)),),
            words(job.clause_numbers(own, path) or nothing),
            words(job.line_refs(path) or nothing),
            (Value("mix_used", path, ", ".join(job.mix_refs(path)) or nothing),),
        )
    )
