"""The library as a job has it: all that its files say, with the layers laid over it, read and checked."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import Final

from generator.document.template import Paper, filled
from generator.files.errors import InputInvalid, Mark, Problem
from generator.library.costs import duties_of_lines
from generator.library.entries import (
    Clause,
    Elsewhere,
    FindingEntry,
    HoldPoint,
    ItemEntry,
    OperationEntry,
    Part,
    Recipe,
    ReckonedName,
    RowValue,
    SourceEntry,
    SwapEntry,
)
from generator.library.figures import Figure, own
from generator.library.findings import Raised
from generator.library.properties import Material
from generator.library.serving import Serving
from generator.library.tables import Table, TableRow
from generator.library.tasks import TaskEntry
from generator.library.text import Texts
from generator.questionnaire.condition import Condition
from generator.questionnaire.facts import Facts
from generator.questionnaire.names import Name, Names
from generator.questionnaire.questions import Questionnaire
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct


class LookUp(Struct, frozen=True):
    """A name whose value is a row's, the rows it may come from with their checked conditions, and what it rests on."""

    name: Name
    rows: tuple[tuple[RowValue, Condition | None], ...]
    rests_on: frozenset[str]


class Conditioned(Struct, frozen=True):
    """The checked conditions of an entry, by field."""

    when: Condition | None
    provisional_when: Condition | None = None
    needed_when: Condition | None = None

    def stands(self, facts: Facts, path: ScopePath, *, unknown: bool = True) -> bool:
        """Whether an entry is there at a scope; `unknown` where the answers do not say."""
        holds = True if self.when is None else self.when.holds(facts, path)
        return unknown if holds is None else holds

    def where(self, facts: Facts, level: str, *, unknown: bool = True) -> tuple[ScopePath, ...]:
        """The scopes of a level at which an entry is there; `unknown` where the answers do not say."""
        if self.when is None:
            return tuple(path for path, _ in facts.seen_at(level))
        return self.when.where(facts, level, unknown=unknown)


SHIPPED: Final = "shipped"


class Layer(Struct, frozen=True):
    """A folder that was laid over the library: its name, edition, digest, and where it lies."""

    name: str
    edition: str
    digest: str
    folder: Path


class Origin(Struct, frozen=True):
    """Where a clause comes from; `file` holds it. `base` is the clause it replaces, `based_on` the hash it was
    written on.

    `on_base` where it was written on, or read beside, that base; `stale` where on no version beneath it. `read` says
    who last read it beside its base, and when.
    """

    layer: str
    edition: str
    file: Path | None = None
    based_on: str = ""
    base: Clause | None = None
    stale: bool = False
    on_base: bool = False
    read: str = ""


class Dropped(Struct, frozen=True):
    """A clause that a layer leaves out, and why."""

    clause: Clause
    layer: str
    because: str
    mark: Mark


HELD: Final = ("what", "released_by", "notice")
"""The words of a hold point."""


class Unfilled(Struct, frozen=True):
    """Words, papers and hold points as their files have them, without the figures that are put in them."""

    words: Mapping[str, str]
    templates: Mapping[str, Paper]
    hold_points: Mapping[str, HoldPoint]

    def texts(self) -> Mapping[tuple[str, str], tuple[str, ...]]:
        """Their texts by kind and key."""
        written: dict[tuple[str, str], tuple[str, ...]] = {("word", key): (text,) for key, text in self.words.items()}
        written |= {("paper", key): tuple(paper.said()) for key, paper in self.templates.items()}
        held = self.hold_points.items()
        return written | {("hold", key): tuple(getattr(point, name) for name in HELD) for key, point in held}


@dataclass(frozen=True)
class Library:
    """Everything the clauses folder says, and the templates of the papers, read and checked.

    `unfilled` is the same without figures in its words, papers and hold points. `swap` gives its words as the readers
    of a job's papers have them, where they have others.
    """

    name: str
    edition: str
    language: str
    names: Names
    questionnaire: Questionnaire
    reckoned: Mapping[str, ReckonedName]
    parts: tuple[Part, ...]
    clauses: Mapping[str, Clause]
    part_of: Mapping[str, str]
    recipes: Mapping[str, Recipe]
    materials: Mapping[str, Material]
    tables: Mapping[str, Table]
    findings: Mapping[str, FindingEntry]
    items: Mapping[str, ItemEntry]
    operations: Mapping[str, OperationEntry]
    tasks: Mapping[str, TaskEntry]
    hold_points: Mapping[str, HoldPoint]
    elsewhere: Mapping[str, Elsewhere]
    figures: Mapping[str, Figure]
    words: Mapping[str, str]
    templates: Mapping[str, Paper]
    sources: Mapping[str, SourceEntry]
    swaps: Mapping[str, SwapEntry]
    conditions: Mapping[tuple[str, str], Conditioned]
    marks: Mapping[tuple[str, str], Mark]
    digest: str
    unfilled: Unfilled
    swap: Callable[[str], str] | None = None
    look_ups: tuple[LookUp, ...] = ()
    layers: tuple[Layer, ...] = ()
    origins: Mapping[str, Origin] = dataclasses.field(default_factory=dict)
    dropped: Mapping[str, Dropped] = dataclasses.field(default_factory=dict)
    raised: tuple[Raised, ...] = ()

    @cached_property
    def texts(self) -> Texts:
        """The library's texts, each parsed when first asked for."""
        return Texts(
            {"clause": self.clauses, "finding": self.findings, "item": self.items, "operation": self.operations}
        )

    @cached_property
    def serving(self) -> Serving:
        """Which recipes serve what."""
        return Serving(self.recipes)

    @cached_property
    def duties(self) -> Mapping[str, tuple[str, ...]]:
        """The clauses that each line to price pays for, by its id."""
        return duties_of_lines(self.clauses, self.items)

    def row(self, table: str, **keys: str) -> TableRow:
        """The row of a table that the program cannot do without; a table that lacks it is told as a mistake in it."""
        found = self.tables[table].find(**keys)
        if found is not None:
            return found
        asked = ", ".join(f"{name}: {value}" for name, value in keys.items())
        mark = self.marks.get(("table", table), Mark(self.name))
        what = f"has no row for {{{asked}}} in the table '{table}', which the program asks for"
        raise InputInvalid([Problem(mark, what, "write it, or take it over from the shipped library")])

    def figure(self, name: str, entry: str = "") -> Figure | None:
        """The figure of a name, as a clause or finding sees it if one is given; None where there is none."""
        return self.figures.get(own(entry, name)) or self.figures.get(name)

    def number(self, name: str, entry: str = "") -> Decimal | None:
        """The figure of a name where it is one number, as `figure` finds it; None where there is none."""
        found = self.figure(name, entry)
        return found.value if found is not None and isinstance(found.value, Decimal) else None

    def origin(self, clause_id: str) -> Origin:
        """Where a clause comes from: a layer, or the library itself."""
        return self.origins.get(clause_id) or Origin(SHIPPED, self.edition)

    def phrase(self, key: str, **fills: str) -> str:
        """A fixed phrase of the library with its `{places}` filled. Raises `KeyError` for one it lacks."""
        return filled(self.words[key], **fills)

    def condition(self, kind: str, key: str) -> Conditioned:
        """The conditions of a clause, finding or item."""
        return self.conditions[kind, key]
