"""What the papers of a set print, walked once: values, references and numbers, each with the place where it stands."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Final

from generator.document.card import MixPage
from generator.document.model import (
    Block,
    ClauseBlock,
    Document,
    Figure,
    Heading,
    Inlines,
    PricedRow,
    PricingBook,
    Ref,
    Table,
    Text,
    Value,
    plain_text,
)
from generator.document.outline import contents, flat, within
from generator.files.errors import Mark, Problem
from generator.job.job import Job
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct, field, replace

SPECIFICATION: Final = "specification"
MIX_SCHEDULE: Final = "mix-schedule"
PRICING_SCHEDULE: Final = "pricing-schedule"
RECORD: Final = "record.json"
SHEET: Final = "element:"
"""What the anchor of a wall's sheet begins with."""

WALL: Final = "element_name"
"""The name of the values by which walls are called."""

_BETWEEN: Final = re.compile(", |–")


class Place(Struct, frozen=True):
    """Where something stands: in which paper, under which heading, in which clause or at which step's line."""

    paper: str
    part: str = ""
    clause: str = ""
    number: str = ""

    def __str__(self) -> str:
        if self.clause:
            return f"{self.paper}, clause {self.number} ({self.clause})"
        return f"{self.paper}, '{self.part}'" if self.part else self.paper


class Anchor(Struct, frozen=True):
    """What others can refer to: its number, the block that it is, and whether it is still in use."""

    number: str
    block: Block
    place: Place
    used: bool = True


class Printed(Struct, frozen=True):
    """A set of papers as neutral documents, and all that they print.

    `documents` are by the name of their template; `sheet` and `book` are the mix schedule and the workbook. `unsettled`
    is where words stand for what is still to be settled, with the name of that value. `on_sheets` are the scopes whose
    value of a name stands on a wall's sheet, `walls` the walls that each sheet names, by its heading.
    """

    job: Job
    documents: Mapping[str, Document]
    sheet: MixPage
    book: PricingBook
    values: list[tuple[Place, Value]] = field(default_factory=list)
    refs: list[tuple[Place, Ref]] = field(default_factory=list)
    unsettled: list[tuple[Place, str]] = field(default_factory=list)
    anchors: dict[str, dict[str, Anchor]] = field(default_factory=dict)
    twice: list[tuple[str, Place, Place]] = field(default_factory=list)
    clauses: dict[str, tuple[Place, ClauseBlock]] = field(default_factory=dict)
    on_sheets: dict[str, set[ScopePath]] = field(default_factory=dict)
    walls: dict[str, list[ScopePath]] = field(default_factory=dict)

    @property
    def with_sheet(self) -> set[ScopePath]:
        """The walls that stand on a sheet."""
        return {path for paths in self.walls.values() for path in paths}

    @property
    def rows(self) -> dict[str, PricedRow]:
        """The lines of the workbook by their numbers."""
        return {row.ref: row for section in self.book.sections for row in section.rows}

    def without_papers(self) -> Printed:
        """What a record is held against: lines, cards, clauses, and what each paper says of itself."""
        bare = {name: replace(paper, cover=(), sections=()) for name, paper in self.documents.items()}
        return Printed(self.job, bare, self.sheet, self.book, clauses=self.clauses)

    def problem(self, place: Place, what: str, to_do: str) -> Problem:
        """A disagreement, told at the file of the library that the place is made from."""
        marks = self.job.library.marks
        mark = marks.get(("clause", place.clause)) or marks.get(("paper", place.paper)) or Mark(place.paper)
        return Problem(mark, what, to_do)


def numbers_told(text: str) -> list[str]:
    """The numbers that a text like `7.4–7.6, 8.1` names, of a run both ends."""
    return [number for number in _BETWEEN.split(text) if number]


def printed(job: Job, documents: Mapping[str, Document], sheet: MixPage, book: PricingBook) -> Printed:
    """Everything that a set prints."""
    found = Printed(job, documents, sheet, book)
    for name, document in documents.items():
        _walk(name, document, found)
    for place, content in _of_mix_page(sheet):
        _keep(place, content, found)
    return found


# --- documents ----------------------------------------------------------------------------------------------


def _walk(name: str, document: Document, found: Printed) -> None:
    here, on_sheet = Place(name), False
    anchors = found.anchors.setdefault(name, {})
    for block in document.blocks():
        if isinstance(block, Heading) and block.level == 1:
            here, on_sheet = Place(name, plain_text(block.content)), block.anchor.startswith(SHEET)
        at = Place(name, here.part, block.clause_id, block.number) if isinstance(block, ClauseBlock) else here
        if isinstance(block, ClauseBlock) and name == SPECIFICATION:
            found.clauses[block.clause_id] = (at, block)
        for inner in within([block]):
            _anchored(inner, at, anchors, found)
            before = len(found.values)
            for content in contents(inner):
                _keep(at, content, found)
            for _, value in found.values[before:] if on_sheet else ():
                found.on_sheets.setdefault(value.name, set()).add(value.scope)
                if value.name == WALL and value.scope not in found.walls.setdefault(here.part, []):
                    found.walls[here.part].append(value.scope)
    if name == SPECIFICATION:
        _told_of_all(found)


def _told_of_all(found: Printed) -> None:
    """What a sheet tells of its first wall stands there for each other that it names, where it is true of it."""
    facts = found.job.facts
    others = {paths[0][0]: paths[1:] for paths in found.walls.values() if len(paths) > 1}
    for name, scopes in found.on_sheets.items() if others else ():
        told = [(path, (*other, *path[1:])) for path in scopes for other in others.get("".join(path[:1]), ())]
        scopes.update(there for path, there in told if facts.spoken(path, name) == facts.spoken(there, name))


def _anchored(block: Block, at: Place, anchors: dict[str, Anchor], found: Printed) -> None:
    if not isinstance(block, ClauseBlock | Heading | Table | Figure) or not block.anchor:
        return
    if block.anchor in anchors:
        found.twice.append((block.anchor, anchors[block.anchor].place, at))
    anchors[block.anchor] = Anchor(block.number, block, at, not isinstance(block, ClauseBlock) or block.used)


def _keep(place: Place, content: Inlines, found: Printed) -> None:
    open_ = found.job.library.words.get("to-be-settled")
    for item in flat(content):
        if open_ and isinstance(item, Value | Text) and open_ in item.text:
            found.unsettled.append((place, item.name if isinstance(item, Value) else ""))
        if isinstance(item, Value):
            found.values.append((place, item))
        elif isinstance(item, Ref):
            found.refs.append((place, item))


# --- the mix schedule ---------------------------------------------------------------------------------------


def _of_mix_page(sheet: MixPage) -> Iterator[tuple[Place, Inlines]]:
    head = Place(MIX_SCHEDULE, sheet.title)
    for content in (
        sheet.issue,
        sheet.hints,
        sheet.set_up,
        sheet.panels,
        sheet.first_aid.eye_told,
        sheet.first_aid.skin_told,
        *sheet.box,
        *sheet.notices,
    ):
        yield head, content
    for card in sheet.cards:
        place = Place(MIX_SCHEDULE, card.ref)
        counted = (count.told for count in card.counts)
        steps = (step.text for step in card.steps)
        for content in (
            *counted,
            card.water,
            card.makes,
            card.panel,
            *steps,
            card.use_told,
            *card.facts,
            *card.notes,
            *card.added,
        ):
            yield place, content
