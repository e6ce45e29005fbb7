"""The front of the specification: cover, document control, and the page to read first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import (
    Block,
    Column,
    Heading,
    Inlines,
    ListBlock,
    Notice,
    Paragraph,
    Row,
    Strong,
    Table,
    Text,
    Value,
)
from generator.errors import Finding
from generator.job.job import Job, words
from generator.questionnaire.facts import Scope

_CONTROL = ("reference", "revision", "issue_date", "client", "specifier", "specifier_contact")
_IF_SAID = ("revision_about", "distribution")
_BRIEF_WORKS: Final = 2
_BRIEF_LINES: Final = 20  # parts, and two lines for each work and instruction: what one page holds with the rest
_DATES = ("tender_return_date", "query_date", "start_date", "finish_date", "early_frost_date")


def cover(job: Job) -> tuple[Block, ...]:
    """Title, place and what the paper is, with the table of document control."""
    return (
        Paragraph(job.answer("title"), "title"),
        Paragraph(job.answer("place"), "subtitle"),
        Paragraph(words(job.word("paper-specification")), "subtitle"),
        Paragraph(words(job.word(f"status-{job.status}")), "lead"),
        _control(job),
        Paragraph(words(job.word("cover-companions")), "small"),
    )


def _control(job: Job) -> Table:
    columns = (Column(job.word("control-what"), 0.3), Column(job.word("control-value"), 0.7))
    rows = [Row((words(job.facts.names[name].label), job.answer(name))) for name in _CONTROL]
    if job.replaces:
        replaced = job.word("control-revision", revision=job.replaces)
        rows.append(Row((words(job.word("control-replaces")), words(replaced))))
    rows += [Row((words(job.facts.names[name].label), job.answer(name))) for name in _IF_SAID if job.said(name)]
    rows.append(Row((words(job.word("control-status")), words(job.word(f"status-{job.status}")))))
    rows.append(Row((words(job.word("control-library")), words(f"{job.library.name}, {job.library.edition}"))))
    return Table(columns, tuple(rows), description=job.word("control-description"))


def is_brief(job: Job) -> bool:
    """Whether cover, contents and the page to read first go on one page: a set for tender of little to tell."""
    works = len(job.facts.at("work"))
    lines = len(job.parts) + 2 * (works + len(_instructions(job)))
    return job.status == "tender" and works <= _BRIEF_WORKS and lines <= _BRIEF_LINES


def read_first(job: Job) -> Iterator[Block]:
    """The page to read first: what is open, the scope, what matters most, and the dates."""
    yield Heading(1, words(job.word("read-first")), anchor="front:read-first", starts_page=not is_brief(job))
    if job.status == "draft":
        yield from _open_questions(job)
    yield Heading(2, words(job.word("scope")))
    yield _scope(job)
    yield from _warnings(job)
    yield Heading(2, words(job.word("dates")))
    yield _dates(job)


def _open_questions(job: Job) -> Iterator[Block]:
    blocks = [item for item in job.findings if item.level == "block"]
    yield Notice("block", job.word("draft-title"), (Paragraph(words(job.word("draft-text", count=str(len(blocks))))),))
    columns = (
        Column(job.word("column-where"), 0.2),
        Column(job.word("column-open"), 0.42),
        Column(job.word("column-action"), 0.24),
        Column(job.word("column-answer-by"), 0.14),
    )
    rows = tuple(
        Row((_place(job, item), words(item.message), words(item.action), words(item.answer_by))) for item in blocks
    )
    yield Table(
        columns,
        rows,
        caption=job.word("open-questions"),
        anchor="table:open",
        description=job.word("open-questions"),
    )


def _place(job: Job, item: Finding) -> Inlines:
    if not item.scope:
        return words(job.word("whole-job"))
    return (Value("element_name", item.scope, job.filling.place(item.scope)),)


def _scope(job: Job) -> Table:
    columns = (
        Column(job.word("column-element"), 0.26),
        Column(job.word("column-work"), 0.4),
        Column(job.word("column-mix"), 0.12),
        Column(job.word("column-quantity"), 0.22, "right"),
    )
    return Table(
        columns,
        tuple(_scope_row(job, scope) for scope in job.facts.at("work")),
        caption=job.word("scope-caption"),
        anchor="table:scope",
        description=job.word("scope-caption"),
    )


def _scope_row(job: Job, scope: Scope) -> Row:
    path = scope.path
    extent = job.facts.spoken(path, "extent")
    work: Inlines = (Value("work_name", path, scope.title),)
    if extent:
        work = (*work, Text(": "), Value("extent", path, extent))
    no_mix = "to-be-settled" if job.facts.inside(path, "coat") else "nothing"
    return Row(
        (
            (Value("element_name", path, job.facts.scopes[path[:1]].title),),
            work,
            words(", ".join(job.mix_refs(path)) or job.word(no_mix)),
            (Value("treated_area_m2", path, job.work_quantity(path)),),
        )
    )


def _warnings(job: Job) -> Iterator[Block]:
    grouped = _instructions(job)
    if not grouped:
        return
    yield Heading(2, words(job.word("warnings")))
    lines: list[Inlines] = []
    for instruction, items in grouped.items():
        places = "; ".join(dict.fromkeys(job.filling.place(item.scope) for item in items if item.scope))
        lead: Inlines = (Strong((Value("element_name", items[0].scope, places), Text(": "))),) if places else ()
        lines.append((*lead, Text(instruction)))
    yield ListBlock(tuple(lines))


def _instructions(job: Job) -> dict[str, list[Finding]]:
    """What matters most, by the words that tell it, with the findings that say so."""
    grouped: dict[str, list[Finding]] = {}
    for item in job.findings:
        if item.level in ("refusal", "warning") and item.instruction:
            grouped.setdefault(item.instruction, []).append(item)
    return grouped


def _dates(job: Job) -> Table:
    columns = (Column(job.word("column-date-of"), 0.5), Column(job.word("column-date"), 0.5))
    rows = [Row((words(job.facts.names[name].label), job.answer(name))) for name in _DATES]
    return Table(columns, tuple(rows), description=job.word("dates"))
