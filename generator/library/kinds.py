"""The kinds of entries that files list, and how they are kept as they are read, in the library or in a layer."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from generator.files.errors import shown
from generator.files.source import Source
from generator.library.entries import (
    Elsewhere,
    FindingEntry,
    HoldPoint,
    ItemEntry,
    OperationEntry,
    Recipe,
    ReckonedName,
    SourceEntry,
    SwapEntry,
)
from generator.library.figures import FigureEntry
from generator.library.properties import Material
from generator.library.reading import Reading, listed
from generator.library.tables import Table
from generator.library.tasks import TaskEntry
from generator.questionnaire.questions import Question
from generator.values import Struct


class Kind(Struct, frozen=True):
    """A kind of file: where it lies, the key of its list, the shape of an entry and its own key."""

    pattern: str
    key: str
    shape: type[Any]
    own: str = "id"


KINDS: Final = {
    "source": Kind("sources.yaml", "sources", SourceEntry),
    "question": Kind("questions/*.yaml", "questions", Question, "name"),
    "name": Kind("names.yaml", "names", ReckonedName, "name"),
    "recipe": Kind("recipes/*.yaml", "recipes", Recipe),
    "material": Kind("materials.yaml", "materials", Material),
    "finding": Kind("findings/*.yaml", "findings", FindingEntry, "code"),
    "item": Kind("items/*.yaml", "items", ItemEntry),
    "operation": Kind("operations/*.yaml", "operations", OperationEntry),
    "elsewhere": Kind("elsewhere.yaml", "elsewhere", Elsewhere),
    "figure": Kind("figures/*.yaml", "figures", FigureEntry, "name"),
    "task": Kind("tasks/*.yaml", "tasks", TaskEntry),
    "hold": Kind("hold-points.yaml", "hold_points", HoldPoint),
    "swap": Kind("american.yaml", "swaps", SwapEntry, "says"),
}


def keep_listed(kind: str, form: Kind, sources: Iterable[Source], reading: Reading) -> None:
    """Keeps the entries of a kind that files list; mistakes are noted."""
    for source in sources:
        for index, data in enumerate(listed(source, form.key, reading)):
            entry = reading.shape(form.shape, data, source, (form.key, index))
            if entry is not None:
                reading.keep(kind, getattr(entry, form.own), entry, source, (form.key, index))
            elif isinstance(data, dict) and form.own == "name":
                reading.unread.add(str(data.get("name")))


def keep_tables(sources: Iterable[Source], reading: Reading) -> None:
    """Keeps tables, one a file; mistakes are noted."""
    for source in sources:
        table = reading.shape(Table, source.data, source, ())
        if table is None:
            continue
        placed = table.placed([source.mark(("rows", index)) for index, _ in enumerate(table.rows)])
        if reading.keep("table", table.id, placed, source, ()):
            _rows(table, source, reading)


def _rows(table: Table, source: Source, reading: Reading) -> None:
    shape = table.shape()
    for index, row in enumerate(table.rows):
        for kind, given, declared in (("keys", row.keys, table.keys), ("values", row.values, table.values)):
            for name in given:
                if name not in declared:
                    what = f"has '{shown(name)}', which is not among the {kind} of the table '{table.id}'"
                    mark = source.key_mark(("rows", index, kind, name))
                    reading.note(mark, what, reading.problems.near(name, declared))
        lacking = [name for name in table.values if row.values.get(name) is None]
        for name in lacking:
            mark = source.key_mark(("rows", index, "values", name))
            reading.note(mark, f"lacks the value '{name}'", f"add '{name}: …'")
        if not lacking:
            known = {name: value for name, value in row.values.items() if name in table.values}
            reading.shape(shape, known, source, ("rows", index, "values"))
