"""Assembling: from everything decided, measured and timed to the papers as neutral documents."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from generator.document.card import MixPage
from generator.document.model import Block, Document, Figure, Heading, PricingBook, Section, Table
from generator.document.template import PaperPart
from generator.job.job import Job, words
from generator.papers import front, parts, schedule
from generator.papers.figures import PROGRAMME
from generator.papers.making import Makers, made
from generator.papers.mix_schedule import mix_schedule
from generator.papers.sheets import element_sheets
from generator.values import Struct

_NARROW_COLUMNS: Final = 4
_Told = tuple[Block, ...]
_WIDE_MM: Final = 120  # drawings wider than this would lose their lettering in a column


class Papers(Struct, frozen=True):
    """The three papers of a set, before they are files."""

    specification: Document
    sheet: MixPage
    book: PricingBook


def assemble(job: Job) -> Papers:
    """The papers of a job."""
    return Papers(_specification(job), mix_schedule(job), schedule.pricing_book(job))


def _specification(job: Job) -> Document:
    paper, told = job.paper("specification"), _clauses_told(job)
    pages = (part for part in paper.parts if part.part in _PAGES)
    sections = [section for part in pages for section in _PAGES[part.part](job, part, told)]
    cover = () if front.is_brief(job) else front.cover(job)
    return Document(job.identity(paper.title), tuple(sections), cover=cover)


def _clauses_told(job: Job) -> _Told:
    """The blocks of the numbered parts."""
    return tuple(block for part in job.parts for block in parts.part_blocks(job, part))


def _across(item: Block) -> bool:
    """Whether a table or figure of a part is too wide for a column of text; these stand together after the parts."""
    if isinstance(item, Table):
        return len(item.columns) > _NARROW_COLUMNS
    return isinstance(item, Figure) and item.drawing.width_mm > _WIDE_MM


# --- pages ------------------------------------------------------------------------------------------------


def _front(job: Job, part: PaperPart, told: _Told) -> Iterator[Section]:
    for inner in part.parts:
        if inner.part == "sheets":
            yield from element_sheets(job, inner)
        elif inner.part == "read-first":
            yield from front.first_page(job, inner, part.header)
            if front.is_brief(job):
                yield from (_floating(job, (item,)) for item in told if _is_programme(item))
        else:
            yield Section(tuple(inner.said()), header=part.header)


def _clauses(job: Job, part: PaperPart, told: _Told) -> Iterator[Section]:
    text = tuple(item for item in told if not _across(item))
    yield Section((*text, *_rules_among(job)), header=part.header, columns=2)


def _rules_among(job: Job) -> _Told:
    """The rules of measurement after the clauses, of a set that tells little."""
    rules = job.paper("specification").find("rules") if front.is_brief(job) else None
    return schedule.rules_told(job, rules) if rules else ()


def _tables(job: Job, part: PaperPart, told: _Told) -> Iterator[Section]:
    """The section of what stands across the page; none where nothing does.

    In a set that tells little each floats to the first page that has room for it.
    """
    blocks = tuple(made(job, part.parts, _TABLES, told))
    if front.is_brief(job):
        yield from (_floating(job, run) for run in _led(item for item in blocks if not _is_programme(item)))
    elif blocks:
        head = Heading(1, words(part.heading), anchor="front:tables")
        yield Section((head, *blocks), header=job.word("header-tables-and-prices"))


def _floating(job: Job, blocks: _Told) -> Section:
    return Section(blocks, header=job.word("header-tables-and-prices"), floats=True)


def _is_programme(item: Block) -> bool:
    """Whether a block is the picture of the programme, or goes on with it."""
    return isinstance(item, Figure) and _across(item) and item.anchor in (PROGRAMME, "")


def _led(blocks: Iterable[Block]) -> Iterator[_Told]:
    """Tables and figures, each with the heading and the text that lead it."""
    run: list[Block] = []
    for block in blocks:
        run.append(block)
        if isinstance(block, Table | Figure):
            yield tuple(run)
            run = []


def _wide_tables(_: Job, __: PaperPart, told: _Told) -> Iterator[Block]:
    """Figures first: those that need several pages leave room for a table on the last, which can go over pages."""
    return iter(sorted(filter(_across, told), key=lambda item: isinstance(item, Table)))


def _schedule(job: Job, part: PaperPart, told: _Told) -> Iterator[Section]:
    """The rules of measurement in two columns, then the lines."""
    # after the tables on their page, whose header office programs go on with; never after columns, which lose lines so
    follows = any(map(_across, told)) or bool(job.measured.materials)
    header = job.word("header-tables-and-prices") if follows else part.heading
    rules = None if front.is_brief(job) else job.paper("specification").find("rules")
    if rules:
        left, right = schedule.rules_in_columns(job, rules)
        yield Section(left, header=header, side=right, is_even=True, continues=follows)
    yield Section(tuple(schedule.schedule_blocks(job, part)), header=header, continues=follows or rules is not None)


_TABLES: Final[Makers] = {"wide-tables": _wide_tables, "materials": schedule.materials}
_PAGES: Final[Mapping[str, Callable[[Job, PaperPart, _Told], Iterator[Section]]]] = {
    "front": _front, "clauses": _clauses, "tables": _tables, "schedule": _schedule,
}  # fmt: skip
