"""What all papers are made with: the parts of a template each by its maker, tables, and rows that show facts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import zip_longest
from typing import Final

from generator.document.model import (
    Block,
    Inline,
    Inlines,
    Paragraph,
    Ref,
    Row,
    Strong,
    Table,
    Text,
    Value,
    joined,
)
from generator.document.template import EVERY_WORK, TEXT, PaperPart, Shown
from generator.job.job import Job, words
from generator.questionnaire.scopes import PROJECT, ScopePath

Maker = Callable[..., Iterable[Block]]
Makers = Mapping[str, Maker]
"""What makes the blocks of each part by its name, of the job, the part, and where it is made (a scope, say)."""

BLANK: Final[Inlines] = (Text("\u00a0\n\u00a0"),)
"""A cell to write in: two lines high, so that a pencil has room."""


def made(job: object, parts: Iterable[PaperPart], makers: Makers, *at: object) -> Iterator[Block]:
    """The blocks of parts, each by its maker, in the order of the template."""
    for part in parts:
        yield from part.said() if part.part == TEXT else makers[part.part](job, part, *at)


def of_works(job: Job, part: PaperPart) -> Iterator[Inlines]:
    """Those lines of a part that the works of the job call for."""
    kinds = {here.text("work") for here in job.facts.views("work")}
    for work, line in part.lines.items():
        if work == EVERY_WORK or work in kinds:
            yield words(line)


def last_coat(job: Job, path: ScopePath) -> ScopePath:
    """The last coat of a work, which is kept damp and covered, and sees the work's values too; the work without one."""
    coats = job.facts.inside(path, "coat")
    return coats[-1].path if coats else path


def clause_refs(job: Job, ids: tuple[str, ...], path: ScopePath = ()) -> Inlines:
    """Live references to those clauses that speak to a scope, in order, runs of them by the first and the last."""
    serving = job.serving(ids, path)
    told: dict[tuple[str, ...], Inlines] = job.kept("references to clauses", dict)
    if serving not in told:
        told[serving] = _referred(job, serving)
    return told[serving]


def _referred(job: Job, ids: tuple[str, ...]) -> Inlines:
    by_number = {job.numbers[f"clause:{key}"]: key for key in ids}
    listed: list[Inline] = []
    for run in filter(None, job.number_runs(by_number.values()).split(", ")):
        ends = [Ref(f"clause:{by_number[number]}", number) for number in run.split("–")]
        listed += [Text(", ")] if listed else []
        listed += [ends[0], Text("–"), ends[1]] if len(ends) > 1 else ends
    return tuple(listed)


# --- columns ----------------------------------------------------------------------------------------------


def row(job: Job, part: PaperPart, path: ScopePath, own: Mapping[str, Inlines], nothing: str = "") -> Row:
    """A row of a scope, a cell a column: what the part makes itself (`own`), a fact, or room to write.

    A fact that nobody gave is told by `nothing`.
    """
    work = job.facts.at_scope(path).text("work")
    return Row(tuple(_cell(job, column.name(work), column, path, own, nothing) for column in part.columns))


def _cell(job: Job, name: str, column: Shown, path: ScopePath, own: Mapping[str, Inlines], nothing: str) -> Inlines:
    if name in own:
        return own[name]
    if name:
        return (Value(name, path, job.facts.spoken(path, name) or nothing),)
    return (Value("work_name", path, nothing),) if column.by_work else BLANK


# --- facts, one below the other ---------------------------------------------------------------------------


def answered(job: Job, rows: Iterable[Shown], path: ScopePath) -> Iterator[tuple[Shown, Inlines]]:
    """Each fact that somebody gave, as seen from a scope."""
    for shown in rows:
        held = job.facts.held(path, shown.shows)
        if held is not None and held.value != ():
            yield shown, (Value(shown.shows, path, job.facts.say(shown.shows, held.value)),)


def project_facts(job: Job, rows: Iterable[Shown], own: Mapping[str, Inlines]) -> Iterator[tuple[Shown, Inlines]]:
    """Each row of the project: what the part makes itself if it has any, or a fact, one still to be settled too."""
    for shown in rows:
        found = own.get(shown.shows, ()) if shown.shows in own else job.answer(shown.shows)
        if found and (shown.shows in own or not shown.if_answered or _is_told(job, shown.shows)):
            yield shown, found


def _is_told(job: Job, name: str) -> bool:
    """Whether anything was answered: none of a list is nothing to print."""
    held = job.facts.held(PROJECT, name)
    return held is not None and held.value != () and bool(job.facts.spoken(PROJECT, name))


def fact_table(part: PaperPart, told: Iterable[tuple[Shown, Inlines]], *, small: bool = True) -> Table:
    """What was told, each under its label: two columns a fact, the facts running down each pair of columns."""
    cells = [(words(shown.label), value) for shown, value in told]
    pairs = len(part.columns) // 2
    height = -(-len(cells) // pairs)
    runs = [cells[height * pair : height * (pair + 1)] for pair in range(pairs)]
    lines = zip_longest(*runs, fillvalue=((), ()))
    return part.table([Row(tuple(cell for pair in line for cell in pair)) for line in lines], small=small)


def mixes_told(refs: Iterable[str]) -> Inlines:
    """Mixes by what they are called on every paper."""
    return joined((Value("mix_ref", (ref,), ref),) for ref in refs)


def place_told(job: Job, path: ScopePath) -> Inlines:
    """A scope as a reader finds it."""
    return (Value("element_name", path, job.filling.place(path)),)


def raked(job: Job, path: ScopePath) -> Inlines:
    """How deep the joints of a work are raked; nothing where it has none."""
    depth = job.facts.spoken(path, "rake_depth_mm")
    return job.told("raked", depth=Value("rake_depth_mm", path, depth)) if depth else ()


def led(label: str, content: Inlines) -> Paragraph:
    """A paragraph led by its label."""
    return Paragraph((Strong(words(label)), Text(" "), *content))
