"""Assembling: from everything decided, measured and timed to the papers as neutral documents."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.document.model import Block, Contents, Document, Figure, Heading, MixSheet, PricingBook, Section, Table
from generator.job.job import Job, words
from generator.papers import front, parts, schedule, sheets
from generator.papers.index import wall_index
from generator.papers.mix_schedule import mix_schedule

_NARROW_COLUMNS: Final = 3
_WIDE_MM: Final = 120  # drawings wider than this would lose their lettering in a column


@dataclass(frozen=True, slots=True)
class Papers:
    """The three papers of a set, before they are files."""

    specification: Document
    sheet: MixSheet
    book: PricingBook


def assemble(job: Job) -> Papers:
    """The papers of a job."""
    return Papers(_specification(job), mix_schedule(job), schedule.pricing_book(job))


def _across(item: Block) -> bool:
    """Whether a table or figure of a part is too wide for a column of text; these stand together after the parts."""
    if isinstance(item, Table):
        return len(item.columns) > _NARROW_COLUMNS
    return isinstance(item, Figure) and item.drawing.width_mm > _WIDE_MM


def _specification(job: Job) -> Document:
    cover = (*front.cover(job), Contents(job.word("contents"), depth=1))
    opening = (*front.read_first(job), *sheets.element_sheets(job))
    if front.is_brief(job):
        cover, opening = (), (*cover, *opening)
    body, last = _parts(job)
    return Document(
        job.identity("paper-specification"),
        (
            Section(opening, header=job.word("header-front")),
            Section(tuple(item for item in body if not _across(item)), header=job.word("header-parts"), columns=2),
            *_tables(job, (*(item for item in body if _across(item)), *wall_index(job), *last)),
            Section(tuple(schedule.schedule_blocks(job)), landscape=True, header=job.word("schedule"), flush=True),
        ),
        cover=cover,
    )


def _parts(job: Job) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """The blocks of the parts, and those of a last part that lists the references, which needs a whole line.

    It closes the pages of the tables, where there are any, and does not spill from the columns onto one more page.
    """
    shows = {part.id: part.shows for part in job.library.parts}
    told = [tuple(parts.part_blocks(job, part)) for part in job.parts]
    listed = told.pop() if told and shows.get(job.parts[-1].part_id) == "references" else ()
    body = tuple(block for part in told for block in part)
    return (body, listed) if any(map(_across, body)) else ((*body, *listed), ())


def _tables(job: Job, across: tuple[Block, ...]) -> tuple[Section, ...]:
    """The section of what stands across the page; none where nothing does."""
    if not across:
        return ()
    title = job.word("header-tables")
    return (Section((Heading(1, words(title), anchor="front:tables"), *across), header=title, flush=True),)
