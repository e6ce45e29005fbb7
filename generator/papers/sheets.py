"""Element sheets: a page a wall, or one for walls that are alike, with what is done there in order and beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.document.model import (
    LINE_NUMBERS,
    Block,
    Heading,
    Inlines,
    Pairs,
    Paragraph,
    Row,
    Section,
    Steps,
    Text,
    Value,
    joined,
)
from generator.document.template import PaperPart, Shown
from generator.job.job import Job, words
from generator.job.numbers import runs_told
from generator.papers.alike import PART, Sheet, called, sheets, title
from generator.papers.drawn import going_on, seen
from generator.papers.faces import face_anchor, wall_face
from generator.papers.figures import coats_figure, joint_figure, work_anchor
from generator.papers.making import Makers, last_coat, made, row
from generator.papers.photograph_parts import photograph_anchor, wall_photographs
from generator.papers.sheet_parts import first, leads, mix, steps, wall_facts
from generator.papers.sheet_sides import StepsOf, work_dates, work_facts, work_labels
from generator.papers.steps import all_steps, steps_of_works, works_in_order
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import replace

_ACROSS: Final = ("wall-facts",)
"""The parts of a sheet that stand across the page, over those that have something beside them."""


def element_sheets(job: Job, part: PaperPart) -> Iterator[Section]:
    """The sheets, each on a new page: what stands across it, then each work with what is beside it."""
    for number, sheet in enumerate(sheets(job), start=1):
        lead = Text(f"{part.filled(number=str(number)).heading} ")
        head = Heading(1, (lead, *called(job, sheet)), anchor=f"element:{sheet.path[0]}")
        across = [_shared(inner, sheet) for inner in part.parts if inner.part in _ACROSS]
        table = part.inner(PART)
        differs = tuple(_differing(job, table, sheet)) if table is not None and sheet.is_shared else ()
        header = title(job, sheet)
        facts = going_on(made(job, across, _SHEET, sheet.path), seen(job, _of_wall(job, sheet.path)))
        yield Section((head, *facts, *differs), header=header)
        yield from _beside(job, part, sheet, header)


def _of_wall(job: Job, path: ScopePath) -> Iterator[str]:
    """The anchors of what shows a whole wall: its photographs, or its face."""
    yield from (photograph_anchor(one) for one in job.photographs_of(path))
    yield face_anchor(path)


def _shared(part: PaperPart, sheet: Sheet) -> PaperPart:
    """A part with those inside it, without facts that differ: these are in the table of the sheet, or the programme."""
    if not sheet.is_shared:
        return part
    return replace(part.without_rows(sheet.differing), parts=tuple(_shared(inner, sheet) for inner in part.parts))


def _beside(job: Job, part: PaperPart, sheet: Sheet, header: str) -> Iterator[Section]:
    """What is wrong and comes first, then the works in order; beside them their joints, dates, finds and lines."""
    part = _shared(part, sheet)
    others = [one for one in part.parts if one.part not in (*_ACROSS, PART, "works")]
    blocks = [*made(job, others, _SHEET, sheet.path)]
    works = next(one for one in part.parts if one.part == "works")
    own = [one for one in works.parts if one.part != "beside"]
    count = 1
    for path in works_in_order(job, sheet.path):
        told = (*_work_head(job, sheet, path), *_work(job, own, path, count))
        count += sum(len(block.steps) for block in told if isinstance(block, Steps))
        blocks += told
    side = tuple(_side(job, works, sheet, steps_of_works(job, sheet.path)))
    if blocks or side:
        yield Section(tuple(blocks), header=header, side=side, continues=True)


def _side(job: Job, works: PaperPart, sheet: Sheet, by_steps: StepsOf) -> Iterator[Block]:
    """The figure of each work, then what is told of all works of the sheet together."""
    beside = works.inner("beside")
    inner = [one for one in beside.parts if not (sheet.is_shared and one.part == _LINES)] if beside else []
    for path in by_steps:
        yield from made(job, [one for one in inner if one.part in _DRAWN], _DRAWN, path)
    yield from made(job, [one for one in inner if one.part not in _DRAWN], _SIDE, by_steps)


def _work(job: Job, parts: Sequence[PaperPart], path: ScopePath, count: int) -> Iterator[Block]:
    """What is told of a work in its parts; its mixes go on with the section beside them."""
    for part in parts:
        told = made(job, [part], _WORK, path, count)
        yield from going_on(told, seen(job, [work_anchor(path)])) if part.part == "mix" else told


def _work_head(job: Job, sheet: Sheet, path: ScopePath) -> Iterator[Block]:
    """What is done, how much of it, and where; of walls that are alike, what is the same for all."""
    extent = "" if "extent" in sheet.differing else job.facts.spoken(path, "extent")
    work = _work_name(job, path)
    quantity = (Text(", "), job.work_quantity(path)) if job.line_refs(path) else ()
    told: Inlines = job.told("sheet-alike-work", work=work) if sheet.is_shared else (work, *quantity)
    yield Heading(2, (*told, *((Text(": "), Value("extent", path, extent)) if extent else ())))


def _work_name(job: Job, path: ScopePath) -> Value:
    name = job.facts.scopes[path].title
    return Value("work_name", path, name[:1].upper() + name[1:])


# --- walls that are alike -----------------------------------------------------------------------------------


def _differing(job: Job, part: PaperPart, sheet: Sheet) -> Iterator[Block]:
    """What differs between the walls of a sheet: a row a wall, work by work."""
    yield Paragraph(words(part.filled(count=str(len(sheet.walls))).text))
    shown = part.without_columns({column.shows for column in part.columns} - {*_OWN, *sheet.differing})
    yield shown.table(_rows(job, shown, sheet))


def _rows(job: Job, part: PaperPart, sheet: Sheet) -> Iterator[Row]:
    by_wall = [[scope.path for scope in job.facts.inside(path, "work")] for path in sheet.walls]
    for works in zip(*by_wall, strict=True):
        if len(by_wall[0]) > 1:
            yield Row(((_work_name(job, works[0]),), *[()] * (len(part.columns) - 1)), "group")
        for path in works:
            yield row(job, part, last_coat(job, path), _own(job, path), job.word("nothing"))


def _own(job: Job, path: ScopePath) -> dict[str, Inlines]:
    """What a row makes itself: which wall, how much of the work, and its lines to price."""
    is_first = works_in_order(job, path[:1])[0] == path
    lines, shared = job.line_refs(path), _shared_lines(job, path[:1]) if is_first else ()
    return {
        "wall": (Value("element_name", path[:1], job.facts.scopes[path[:1]].title),),
        "quantity": (job.work_quantity(path),),
        "lines": (Value(LINE_NUMBERS, path, lines),) if lines else words(job.word("nothing")),
        "wall-lines": shared or words(job.word("nothing")),
    }


_OWN: Final = ("wall", "quantity", "lines", "wall-lines")
_LINES: Final = "work-lines"


def _lines(job: Job, part: PaperPart, by_steps: StepsOf) -> Iterator[Block]:
    """The lines to price of each work, those of panels and rates for likely finds, and those that all works share."""
    told = ((words(label), numbers) for shown in part.rows for label, numbers in _lined(job, shown, by_steps))
    rows = tuple((label, numbers) for label, numbers in told if numbers)
    if rows:
        yield Pairs(part.heading, rows)


def _lined(job: Job, shown: Shown, by_steps: StepsOf) -> Iterator[tuple[str, Inlines]]:
    """A row of lines with its label; one for each work, by its name, where there are several."""
    match shown.shows:
        case "work":
            for path, label in work_labels(job, by_steps).items():
                yield shown.label if len(by_steps) == 1 else label, _numbers(path, job.line_refs(path))
        case "beside":
            yield shown.label, joined(filter(None, (_lines_beside(job, path) for path in by_steps)))
        case "wall":
            yield shown.label, _shared_lines(job, next(iter(by_steps))[:1])


def _numbers(scope: ScopePath, told: str) -> Inlines:
    return (Value(LINE_NUMBERS, scope, told),) if told else ()


def _lines_beside(job: Job, path: ScopePath) -> Inlines:
    """The lines of a work that are not measured with it: the panels of its mixes, its rates, its sums."""
    measured = {item.ref for item in job.work_lines(path)}
    scopes = [*(mix.path for mix in job.mixes_of(path)), path, *(coat.path for coat in job.facts.inside(path, "coat"))]
    runs = {at: job.line_runs(item for item in job.lines_at(at) if item.ref not in measured) for at in scopes}
    return joined(_numbers(at, runs_told(found)) for at, found in runs.items() if found)


def _shared_lines(job: Job, wall: ScopePath) -> Inlines:
    """The lines of a wall that no work of it has alone, and the sums of the job under which a step of it is done."""
    steps_told = all_steps(job, wall)
    asked = {clause for told in steps_told for clause in told.entry.clauses if clause in job.duties}
    paid: dict[str, set[str]] = job.kept("clauses by sums", lambda: _clauses_by_sums(job))
    sums = [item for item in job.lines_at(PROJECT) if not asked.isdisjoint(paid.get(item.ref, ()))]
    found = {wall: job.lines_at(wall), PROJECT: sums}
    return joined(_numbers(at, runs_told(job.line_runs(lines))) for at, lines in found.items() if lines)


def _clauses_by_sums(job: Job) -> dict[str, set[str]]:
    """The clauses that each sum of the job pays for, by its number."""
    found: dict[str, set[str]] = {}
    for clause, duty in job.duties.items():
        for item in duty.lines:
            if item.kind == "sum" and item.path == PROJECT:
                found.setdefault(item.ref, set()).add(clause)
    return found


_WORK: Final[Makers] = {"steps": steps, "mix": mix}
_DRAWN: Final[Makers] = {"joint-figure": joint_figure, "coats-figure": coats_figure}
_SIDE: Final[Makers] = {"work-dates": work_dates, "work-facts": work_facts, _LINES: _lines}
_SHEET: Final[Makers] = {
    "leads": leads, "first": first, "wall-facts": wall_facts, "photographs": wall_photographs, "face": wall_face,
}  # fmt: skip
