"""Blank records for this job: batches, curing, and what was done as built, with what is known filled in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import Block, Column, Document, Heading, Inlines, Paragraph, Row, Section, Table, Value
from generator.job.job import Job, words
from generator.papers.companion_survey import BLANK
from generator.questionnaire.facts import Scope

_BATCHES: Final = (
    ("date", 0.1), ("mix", 0.07), ("number", 0.08), ("lime", 0.1), ("sand", 0.1), ("bulking", 0.12),
    ("water", 0.1), ("hair", 0.09), ("where", 0.14), ("signed", 0.1),
)  # fmt: skip
_CURING: Final = (
    ("date", 0.12), ("lowest", 0.11), ("highest", 0.11), ("damped-1", 0.1), ("damped-2", 0.1), ("damped-3", 0.1),
    ("damped-4", 0.1), ("covers", 0.14), ("signed", 0.12),
)  # fmt: skip
_BUILT: Final = (("where", 0.24), ("specified", 0.28), ("done", 0.3), ("signed", 0.18))
_PAGE_ROWS: Final = 17


def records(job: Job) -> Document:
    """The blank records, on landscape pages, ready for this job."""
    blocks = (*_batches(job), *_curing(job), *_built(job))
    title = job.word("companion-records")
    return Document(job.identity("companion-records"), (Section(blocks, landscape=True, header=title, flush=True),))


def _titled(job: Job, key: str, *, starts: bool) -> Iterator[Block]:
    yield Heading(1, words(job.word(f"companion-{key}")), anchor=f"front:{key}", starts_page=starts)
    yield Paragraph(words(job.word(f"companion-{key}-intro")), "small")


def _table(job: Job, key: str, shares: tuple[tuple[str, float], ...], rows: tuple[Row, ...], named: str = "") -> Table:
    columns = tuple(Column(job.word(f"companion-column-{name}"), share) for name, share in shares)
    told = job.word(f"companion-{key}")
    return Table(columns, rows, description=f"{told}: {named}" if named else told, small=True)


def _batches(job: Job) -> Iterator[Block]:
    """A page for batches, with the boxes of every mix above it: more mixes leave fewer lines."""
    yield from _titled(job, "batch-record", starts=False)
    mixes = tuple(
        Row(tuple((Value(name, made.mix.path, job.facts.spoken(made.mix.path, name)),)
                  for name in ("mix_ref", "mix_name", "mix_boxes")))
        for made in job.measured.batches
    )  # fmt: skip
    if mixes:
        heads = (("column-mix", 0.1), ("column-name", 0.4), ("column-boxes", 0.5))
        columns = tuple(Column(job.word(key), share) for key, share in heads)
        yield Table(columns, mixes, description=job.word("caption-batches"), small=True)
    yield _table(job, "batch-record", _BATCHES, _blank(max(6, _PAGE_ROWS - len(mixes) // 2), len(_BATCHES)))


def _curing(job: Job) -> Iterator[Block]:
    """A page for each work that is kept damp, its lines filling the page."""
    for index, scope in enumerate(job.facts.at("work")):
        days = max((_days(job, coat) for coat in job.facts.inside(scope.path, "coat")), default=0)
        if days:
            place = job.filling.place(scope.path)
            title = f"{job.word('companion-curing-record')}: {place}"
            yield Heading(1, words(title), anchor=f"front:curing-{index}", starts_page=True)
            yield Paragraph(words(job.word("companion-curing-record-intro", days=str(days))), "small")
            yield _table(job, "curing-record", _CURING, _blank(_PAGE_ROWS, len(_CURING)), place)


def _days(job: Job, coat: Scope) -> int:
    held = job.facts.get(coat.path, "damp_days")
    return int(str(held).partition(".")[0]) if held is not None and str(held)[:1].isdigit() else 0


def _built(job: Job) -> Iterator[Block]:
    """What each work was to be, and room for what it became."""
    yield from _titled(job, "built-record", starts=True)
    rows = tuple(
        Row((_said(scope, job.filling.place(scope.path)), _said(scope, _specified(job, scope)), BLANK, BLANK))
        for scope in job.facts.at("work")
    )
    yield _table(job, "built-record", _BUILT, rows)


def _said(scope: Scope, text: str) -> Inlines:
    return (Value("work_name", scope.path, text),)


def _specified(job: Job, scope: Scope) -> str:
    told = job.mix_names(scope.path)
    depth = job.facts.spoken(scope.path, "rake_depth_mm")
    if depth:
        told.append(job.word("companion-raked", depth=depth))
    return "; ".join(dict.fromkeys([*told, job.work_quantity(scope.path)]))


def _blank(rows: int, columns: int) -> tuple[Row, ...]:
    return tuple(Row((BLANK,) * columns) for _ in range(rows))
