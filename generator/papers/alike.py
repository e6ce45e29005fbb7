"""Walls that are alike in all but name, extent and dates: which stand on one sheet, and what differs between them."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

from generator.document.model import Block, Inlines, Steps, Text, Value, plain_text
from generator.document.outline import block_text
from generator.document.template import PaperPart
from generator.job.filling import PANEL_OF
from generator.job.job import Job, grouped
from generator.library.entries import OperationEntry
from generator.papers.making import last_coat
from generator.papers.sheet_parts import first, leads, mix, wall_facts
from generator.papers.sheet_sides import work_facts
from generator.papers.steps import wall_steps
from generator.questionnaire.questions import Question
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct

PART: Final = "alike"
"""The part of a sheet that tables what differs between its walls; without it each wall has a sheet of its own."""

_EXTENTS: Final = ("m", "m²", "nr", "%")
_ByWall = Mapping[ScopePath, list[tuple[str, ScopePath]]]
_NUMBER: Final = re.compile(r"([0-9]+)")


class Sheet(Struct, frozen=True):
    """A sheet: the walls on it in order, of which the first stands for all, and the names of facts that differ."""

    walls: tuple[ScopePath, ...]
    differing: frozenset[str] = frozenset()

    @property
    def path(self) -> ScopePath:
        """The wall that it is told of."""
        return self.walls[0]

    @property
    def is_shared(self) -> bool:
        """Whether more than one wall stands on it."""
        return len(self.walls) > 1


def sheets(job: Job) -> tuple[Sheet, ...]:
    """The sheets of a job, each where its first wall stands in the answers."""
    found: tuple[Sheet, ...] = job.kept("sheets", lambda: tuple(_sheets(job)))
    return found


def sheet_of(job: Job, path: ScopePath) -> Sheet:
    """The sheet that a wall stands on."""
    found: dict[ScopePath, Sheet] = job.kept(
        "sheet of", lambda: {wall: sheet for sheet in sheets(job) for wall in sheet.walls}
    )
    return found[path]


def _sheets(job: Job) -> Iterator[Sheet]:
    walls = [scope.path for scope in job.facts.at("element")]
    part = job.paper("specification").find("sheets")
    table = part.inner(PART) if part is not None else None
    if part is None or table is None:
        yield from (Sheet((path,)) for path in walls)
        return
    free = frozenset(column.shows for column in table.columns)
    held = frozenset(name for name, asked in job.library.questionnaire.questions.items() if not _free(job, asked, free))
    alike: list[list[ScopePath]] = []
    for some in grouped(walls, lambda path: _answered(job, path, held)).values():
        alike += grouped(some, lambda path: _told(job, part, path, free)).values() if len(some) > 1 else [some]
    place = {path: at for at, path in enumerate(walls)}
    for group in sorted(alike, key=lambda group: place[group[0]]):
        yield Sheet(tuple(group), frozenset(_differing(job, part, group)) if len(group) > 1 else frozenset())


# --- what is alike ------------------------------------------------------------------------------------------


def _answered(job: Job, path: ScopePath, held: frozenset[str]) -> Hashable:
    """What was answered of a wall and all in it, of names that may not differ; with photographs it is like none."""
    if job.photographs_of(path):
        return path
    told: list[object] = []
    for level in ("element", "work", "coat"):
        for scope in job.facts.inside(path, level):
            values = job.facts.values.get(scope.path, {})
            told.append(
                (scope.path[1:], tuple((name, repr(values[name].value)) for name in sorted(held & values.keys())))
            )
    return tuple(told)


def _free(job: Job, question: Question, tabled: frozenset[str]) -> bool:
    """Whether walls that differ in an answer may share a sheet: one that the sheet tables, a date, an extent."""
    if question.name in tabled or question.kind == "date":
        return True
    extent = job.facts.names[question.name].unit in _EXTENTS and question.kind in ("number", "range")
    taken_off = {other.less for other in job.library.questionnaire.of("work")}
    return question.scope == "work" and (extent or question.name in taken_off)


def _told(job: Job, part: PaperPart, path: ScopePath, free: frozenset[str]) -> Hashable:
    """What a sheet of the wall alone would say but for what may differ, what is priced there and what is required."""
    makers = {"leads": leads, "first": first, "wall-facts": wall_facts}
    kept = {inner.part: inner.without_rows(free) for inner in part.within()}
    blocks: list[Block] = []
    for name, maker in makers.items():
        blocks += maker(job, kept[name], path) if name in kept else ()
    for work in job.facts.inside(path, "work"):
        blocks += mix(job, kept["mix"], work.path, 1)
        own = (told for told in wall_steps(job, path)[work.path] if not _of_one_panel(job, told.entry))
        blocks.append(Steps(tuple(told.step for told in own), 1))
        blocks += work_facts(job, kept["work-facts"], {work.path: ""}) if "work-facts" in kept else ()
    told = "\n".join(map(block_text, blocks))
    required: _ByWall = job.kept("clauses of walls", lambda: _by_wall(_clauses(job)))
    priced: _ByWall = job.kept("lines of walls", lambda: _by_wall(_lines(job)))
    return told, tuple(sorted(priced.get(path, ()))), tuple(required.get(path, ()))


def _lines(job: Job) -> Iterator[tuple[str, ScopePath]]:
    """The lines with each scope that they serve."""
    return ((item.entry.id, path) for item in job.measured.items() for path in item.serves)


def _clauses(job: Job) -> Iterator[tuple[str, ScopePath]]:
    """The clauses with each scope that they are written for; those of mixes are told by the mixes of a wall."""
    for key, selection in job.selections.items():
        yield from ((key, path) for path in selection.paths if selection.included)


def _of_one_panel(job: Job, step: OperationEntry) -> bool:
    """Whether a step tells of a panel that the first of like walls makes for all: it parts no walls."""
    condition = job.library.condition("operation", step.id).when
    return condition is not None and PANEL_OF in condition.names()


def _by_wall(of: Iterable[tuple[str, ScopePath]]) -> _ByWall:
    """Entries of the library by the wall that they hold at, each with where in it."""
    held = grouped(of, lambda one: one[1][:1])
    return {wall: [(key, path[1:]) for key, path in found] for wall, found in held.items()}


def _differing(job: Job, part: PaperPart, group: Sequence[ScopePath]) -> Iterator[str]:
    """The names of facts on the sheets of walls that are not the same for all of them."""
    names = {row.shows for inner in part.within() for row in (*inner.rows, *inner.columns)}
    for name in sorted(names & job.facts.names.keys()):
        told = {tuple(job.facts.spoken(at, name) for at in _places(job, path)) for path in group}
        if len(told) > 1:
            yield name


def _places(job: Job, path: ScopePath) -> list[ScopePath]:
    """Where the facts of each work of a wall are seen from."""
    return [last_coat(job, work.path) for work in job.facts.inside(path, "work")]


# --- what they are called -----------------------------------------------------------------------------------


def called(job: Job, sheet: Sheet) -> Inlines:
    """What a sheet is of: its wall, from the first to the last where names count on, or the first and how many more."""
    names = [job.facts.scopes[path].title for path in sheet.walls]
    one, last = (Value("element_name", sheet.walls[at], names[at]) for at in (0, -1))
    if not sheet.is_shared:
        return (one,)
    if _counts_on(names):
        return job.told("sheet-alike-run", first=one, last=last)
    return job.told("sheet-alike", first=one, count=Text(str(len(names) - 1)))


def title(job: Job, sheet: Sheet) -> str:
    """The same as a plain text."""
    return plain_text(called(job, sheet))


def _counts_on(names: list[str]) -> bool:
    """Whether names are the same but for one whole number, which counts on from each to the next."""
    split = [_NUMBER.split(name) for name in names]
    if len({len(pieces) for pieces in split}) > 1:
        return False
    differing = [place for place, pieces in enumerate(zip(*split, strict=True)) if len(set(pieces)) > 1]
    if len(differing) != 1 or differing[0] % 2 == 0:
        return False
    counted = [int(pieces[differing[0]]) for pieces in split]
    return all(after == before + 1 for before, after in pairwise(counted))
