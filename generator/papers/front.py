"""The front of the specification: cover, document control, and the page to read first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import (
    LINE_NUMBERS,
    Block,
    Contents,
    Heading,
    Inlines,
    ListBlock,
    Notice,
    Pairs,
    Paragraph,
    Row,
    Section,
    Strong,
    Text,
    Value,
)
from generator.document.template import TEXT, PaperPart, Shown
from generator.job.job import Job, grouped, words
from generator.library.findings import Finding
from generator.papers.drawn import figure_ref
from generator.papers.making import Makers, fact_table, made, mixes_told, project_facts, row
from generator.papers.orientation import ANCHOR as ORIENTATION
from generator.papers.orientation import PART as ORIENTATION_PART
from generator.papers.orientation import orientation_figure
from generator.papers.photograph_parts import first_photograph
from generator.questionnaire.scopes import PROJECT, Scope
from generator.values import joined

_COVER_PICTURE_MM: Final = (110.0, 82.5)
_NAMED_WALLS: Final = 3
_MOST_PLACES: Final = 12
_NAMED_PLACES: Final = 6
_BRIEF_WORKS: Final = 2
_BRIEF_LINES: Final = 20  # parts, and two lines for each work and instruction: what one page holds with the rest


def cover(job: Job) -> tuple[Block, ...]:
    """Title, place and what the paper is, with the table of document control."""
    return tuple(made(job, job.paper("specification").part("cover").parts, _COVER))


def _job(job: Job, _: PaperPart) -> Iterator[Block]:
    yield Paragraph(job.answer("title"), "title")
    yield Paragraph(job.answer("place"), "subtitle")


def _paper(job: Job, _: PaperPart) -> Iterator[Block]:
    yield Paragraph(words(job.paper("specification").title), "subtitle")


def _status(job: Job, _: PaperPart) -> Iterator[Block]:
    yield Paragraph(words(job.word(f"status-{job.status}")), "lead")


def _in_brief(job: Job, part: PaperPart) -> Iterator[Block]:
    """In one sentence what is done, where and when; nothing while that is not known."""
    named = list(dict.fromkeys(scope.title for scope in job.facts.at("work")))
    walls = [scope.title for scope in job.facts.at("element")]
    told = {name: job.facts.spoken(PROJECT, name) for name in ("start_date", "finish_date", "tender_return_date")}
    if named and all(told.values()):
        where = joined(walls) if len(walls) <= _NAMED_WALLS else job.word("in-brief-walls", count=str(len(walls)))
        works = joined(named)
        text = part.filled(
            works=works[:1].upper() + works[1:], walls=where, start=told["start_date"], finish=told["finish_date"],
            tender=told["tender_return_date"],
        ).text  # fmt: skip
        yield Paragraph(words(text), "lead")


def _contents(_: Job, part: PaperPart) -> Iterator[Block]:
    yield Contents(part.heading, depth=1)


def _contents_run_on(_: Job, part: PaperPart) -> Iterator[Block]:
    yield Contents(part.heading, depth=1, runs_on=True)


def _control(job: Job, part: PaperPart) -> Iterator[Block]:
    yield fact_table(part, _controlled(job, part), small=False)


def _control_beside(job: Job, part: PaperPart) -> Iterator[Block]:
    """Document control in a narrow column."""
    rows = tuple((words(shown.label), value) for shown, value in _controlled(job, part))
    yield Pairs(part.about, rows)


def _controlled(job: Job, part: PaperPart) -> Iterator[tuple[Shown, Inlines]]:
    own = {
        "replaces": words(job.word("control-revision", revision=job.replaces)) if job.replaces else (),
        "status": words(job.word(f"status-{job.status}")),
        "library": words(f"{job.library.name}, {job.library.edition}"),
    }
    return project_facts(job, part.rows, own)


def _photograph(job: Job, part: PaperPart) -> Iterator[Block]:
    """The first photograph, where the cover is a page of its own."""
    return iter(()) if is_brief(job) else first_photograph(job, part, _COVER_PICTURE_MM)


_COVER: Final[Makers] = {
    "job": _job, "paper": _paper, "status": _status, "control": _control, "contents": _contents,
    "in-brief": _in_brief,
    "cover-photograph": _photograph,
}  # fmt: skip


def is_brief(job: Job) -> bool:
    """Whether cover, contents and the page to read first go on one page: a set for tender of little to tell."""
    works = len(job.facts.at("work"))
    lines = len(job.parts) + 2 * (works + len(_instructions(job)))
    return job.status == "tender" and works <= _BRIEF_WORKS and lines <= _BRIEF_LINES


# --- the page to read first -------------------------------------------------------------------------------


def first_page(job: Job, part: PaperPart, header: str) -> Iterator[Section]:
    """The page to read first; of a set that tells little with what its cover tells."""
    if not is_brief(job):
        yield from read_first(job, part, header)
        return
    cover_parts = job.paper("specification").part("cover").parts
    head = Heading(1, words(part.heading), anchor="front:read-first")
    told = made(job, [one for one in cover_parts if one.part not in _BRIEF_BELOW], _COVER)
    listed = made(job, [one for one in cover_parts if one.part == "contents"], {"contents": _contents_run_on})
    first = made(job, [one for one in part.parts if one.part in (*_ACROSS, *_MAIN)], _READ_FIRST)
    dates = made(job, [one for one in part.parts if one.part in _SIDE], _READ_FIRST)
    control = made(job, [one for one in cover_parts if one.part == "control"], {"control": _control_beside})
    yield Section((*told, *listed, head, *first), header=header)
    yield Section(tuple(dates), header=header, side=tuple(control), is_even=True, continues=True)


def read_first(job: Job, part: PaperPart, header: str) -> Iterator[Section]:
    """The page to read first: what is open and the scope across it, then what matters most, the dates beside it."""
    head = Heading(1, words(part.heading), anchor="front:read-first")
    across, main, side = (
        tuple(made(job, [one for one in part.parts if one.part in names], _READ_FIRST))
        for names in (_ACROSS, _MAIN, _SIDE)
    )
    if main and side:
        yield Section((head, *across), header=header)
        yield Section(main, header=header, side=side, continues=True)
    else:
        yield Section((head, *across, *main, *side), header=header)


def _open_questions(job: Job, part: PaperPart) -> Iterator[Block]:
    if job.status != "draft":
        return
    found = [item for item in job.findings if item.level == "block"]
    text = part.filled(count=str(len(found))).text
    yield Notice("block", part.heading, (Paragraph(words(text)),))
    yield part.table((_open_question(job, part, items) for items in _often_once(found)), "table:open", small=False)


def _often_once(found: list[Finding]) -> Iterator[list[Finding]]:
    """Findings each by itself, but those that say the same of many places together, where the first of them stands."""
    alike = grouped(found, lambda item: item.words)
    for item in found:
        same = alike[item.words]
        if len(same) <= _MOST_PLACES:
            yield [item]
        elif item is same[0]:
            yield same


def _open_question(job: Job, part: PaperPart, items: list[Finding]) -> Row:
    item = items[0]
    where: Inlines = words(job.word("whole-job"))
    if item.scope:
        where = _places(job, items)
    own = {
        "where": where,
        "open": words(item.message),
        "action": words(item.action),
        "answer-by": words(item.answer_by),
    }
    return row(job, part, item.scope, own)


def _scope(job: Job, part: PaperPart) -> Iterator[Block]:
    yield Heading(2, words(part.heading))
    yield part.table((_scope_row(job, part, scope) for scope in job.facts.at("work")), "table:scope", small=False)
    if ORIENTATION in job.figures:
        yield Paragraph(job.told("orientation-pictured", figure=figure_ref(job, ORIENTATION)), "small")


def _scope_row(job: Job, part: PaperPart, scope: Scope) -> Row:
    path = scope.path
    extent = job.facts.spoken(path, "extent")
    work: Inlines = (Value("work_name", path, scope.title),)
    if extent:
        work = (*work, Text(": "), Value("extent", path, extent))
    no_mix = "to-be-settled" if job.facts.inside(path, "coat") else "nothing"
    own = {
        "wall": (Value("element_name", path, job.facts.scopes[path[:1]].title),),
        "work": work,
        "mix": mixes_told(mix.ref for mix in job.mixes_placed(path)) or words(job.word(no_mix)),
        "quantity": (job.work_quantity(path),),
        "lines": (Value(LINE_NUMBERS, path, refs),) if (refs := job.line_refs(path)) else words(job.word("nothing")),
    }
    return row(job, part, path, own, job.word("nothing"))


def _warnings(job: Job, part: PaperPart) -> Iterator[Block]:
    found = _instructions(job)
    if not found:
        return
    yield Heading(2, words(part.heading))
    lines: list[Inlines] = []
    for instruction, items in found.items():
        places = _places(job, items)
        lead: Inlines = (Strong((*places, Text(": "))),) if places else ()
        lines.append((*lead, Text(instruction)))
    yield ListBlock(tuple(lines))


def _places(job: Job, items: list[Finding]) -> Inlines:
    """Where something matters; of many places the first, as the page of each wall tells it again."""
    named = list(dict.fromkeys(job.filling.place(item.scope) for item in items if item.scope))
    if not named:
        return ()
    is_told = len(named) <= _MOST_PLACES
    first = Value("element_name", items[0].scope, "; ".join(named if is_told else named[:_NAMED_PLACES]))
    rest = Text(f"{len(named) - _NAMED_PLACES:,}")
    return (first,) if is_told else job.told("in-more-places", places=first, count=rest)


def _instructions(job: Job) -> dict[str, list[Finding]]:
    """What matters most, by the words that tell it, with the findings that say so."""
    told = (item for item in job.findings if item.level in ("refusal", "warning") and item.instruction)
    return grouped(told, lambda item: item.instruction)


def _dates(job: Job, part: PaperPart) -> Iterator[Block]:
    """The dates of the job; the figures that are told with them too."""
    yield Pairs(part.heading, tuple((words(shown.label), value) for shown, value in project_facts(job, part.rows, {})))


_BRIEF_BELOW: Final = ("contents", "control", "status")
"""What stands elsewhere where cover and page to read first are one: the status is in title and control."""
_ACROSS: Final = ("open-questions", "scope")
_MAIN: Final = ("warnings", TEXT)
_SIDE: Final = ("dates", ORIENTATION_PART)
_READ_FIRST: Final[Makers] = {
    "open-questions": _open_questions, "scope": _scope, "warnings": _warnings, "dates": _dates,
    ORIENTATION_PART: orientation_figure,
}  # fmt: skip
