"""Blank records for this job: batches, curing, and what was done as built, with what is known filled in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.document.model import Block, Document, Heading, Inlines, Paragraph, Row, Section, Value
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.papers.making import BLANK, Makers, made, row
from generator.papers.parts import mix_rows
from generator.questionnaire.facts import Scope

_PAGE_ROWS: Final = 17
_LEAST_ROWS: Final = 6


def records(job: Job) -> Document:
    """The blank records, on landscape pages, ready for this job."""
    paper = job.paper("site-records")
    blocks = tuple(_off_the_first_page(made(job, paper.parts, _RECORDS)))
    return Document(job.identity(paper.title), (Section(blocks, landscape=True, header=paper.title, flush=True),))


def _off_the_first_page(blocks: Iterator[Block]) -> Iterator[Block]:
    """The blocks, the first of which starts no page: it stands on one already."""
    for index, block in enumerate(blocks):
        yield replace(block, starts_page=False) if index == 0 and isinstance(block, Heading) else block


def _titled(part: PaperPart, anchor: str) -> Iterator[Block]:
    yield Heading(1, words(part.heading), anchor=f"front:{anchor}", starts_page=True)
    yield Paragraph(words(part.text), "small")


def _blank(part: PaperPart, rows: int) -> Iterator[Row]:
    return (Row((BLANK,) * len(part.columns)) for _ in range(rows))


def _batches(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for batches, with the boxes of every mix above it: more mixes leave fewer lines."""
    yield from _titled(part, part.part)
    yield from made(job, part.parts, _BATCHES)


def _batch_boxes(job: Job, part: PaperPart) -> Iterator[Block]:
    rows = tuple(mix_rows(job, part))
    if rows:
        yield part.table(rows)


def _batch_lines(job: Job, part: PaperPart) -> Iterator[Block]:
    yield part.table(_blank(part, max(_LEAST_ROWS, _PAGE_ROWS - len(job.measured.batches) // 2)))


def _curing(job: Job, part: PaperPart) -> Iterator[Block]:
    """A page for each work that is kept damp, its lines filling the page."""
    for index, scope in enumerate(job.facts.at("work")):
        days = max((_days(job, coat) for coat in job.facts.inside(scope.path, "coat")), default=0)
        if days:
            title = f"{part.heading}: {job.filling.place(scope.path)}"
            own = replace(part.filled(days=str(days)), heading=title)
            yield from _titled(own, f"curing-{index}")
            yield own.table(_blank(own, _PAGE_ROWS))


def _days(job: Job, coat: Scope) -> int:
    held = job.facts.get(coat.path, "damp_days")
    return int(str(held).partition(".")[0]) if held is not None and str(held)[:1].isdigit() else 0


def _built(job: Job, part: PaperPart) -> Iterator[Block]:
    """What each work was to be, and room for what it became."""
    yield from _titled(part, part.part)
    yield part.table(_built_row(job, part, scope) for scope in job.facts.at("work"))


def _built_row(job: Job, part: PaperPart, scope: Scope) -> Row:
    own = {"where": _said(scope, job.filling.place(scope.path)), "as-specified": _said(scope, _specified(job, scope))}
    return row(job, part, scope.path, own, job.word("nothing"))


def _said(scope: Scope, text: str) -> Inlines:
    return (Value("work_name", scope.path, text),)


def _specified(job: Job, scope: Scope) -> str:
    told = job.mix_names(scope.path)
    depth = job.facts.spoken(scope.path, "rake_depth_mm")
    if depth:
        told.append(job.word("raked", depth=depth))
    return "; ".join(dict.fromkeys([*told, job.work_quantity(scope.path)]))


_BATCHES: Final[Makers] = {"batch-boxes": _batch_boxes, "batch-lines": _batch_lines}
_RECORDS: Final[Makers] = {"batch-record": _batches, "curing-record": _curing, "built-record": _built}
