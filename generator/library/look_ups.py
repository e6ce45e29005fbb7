"""Values that only look a row of a table up: checked as declared, and put in the order in which they hang together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from typing import Final

from generator.files.errors import did_you_mean
from generator.files.source import Path_
from generator.library.entries import ReckonedName, RowValue
from generator.library.model import LookUp
from generator.library.reading import Reading, condition
from generator.library.tables import Table
from generator.questionnaire.names import Names, a_scope, visible_from
from generator.values import joined

# The kinds of a table's values that a name of a kind can take.
_TAKES: Final[Mapping[str, tuple[str, ...]]] = {
    "number": ("number", "whole"), "choice": ("text",), "text": ("text",), "choices": ("texts",), "texts": ("texts",),
}  # fmt: skip
Mistake = tuple[Path_, str, str]


def look_ups(reading: Reading, names: Names) -> tuple[LookUp, ...]:
    """The look-ups of the names file, each after those that it rests on; what is wrong with them is noted."""
    declared = {key: entry for key, entry in reading.entries.get("name", {}).items() if key in names}
    found = {key: _look_up(entry, names, reading) for key, entry in declared.items() if entry.from_}
    tables: Mapping[str, Table] = reading.entries.get("table", {})
    rests_on = {key: _rests_on(entry, found.get(key), tables) & declared.keys() for key, entry in declared.items()}
    try:
        order = tuple(TopologicalSorter({key: sorted(rest) for key, rest in rests_on.items()}).static_order())
    except CycleError as error:
        first, *others = dict.fromkeys(error.args[1])
        way = f", by way of {joined(others)}" if others else ""
        what = f"name '{first}' rests on itself{way}"
        reading.note(reading.mark("name", first), what, "take one of them out of a key or a condition")
        return ()
    return tuple(found[key] for key in order if key in found)


def _rests_on(entry: ReckonedName, found: LookUp | None, tables: Mapping[str, Table]) -> set[str]:
    """What a value must come after: what its rows are found by, and for whatever is of a coat, the coats."""
    own = ("coats",) if entry.name == "coat" else entry.tables
    keys = {name for key in own if key in tables for name in tables[key].keys}
    coats = {"coat"} if entry.scope == "coat" and entry.name != "coat" else set()
    return {*keys, *coats, *entry.of, *(found.rests_on if found is not None else ())}


def _look_up(entry: ReckonedName, names: Names, reading: Reading) -> LookUp:
    """A name with its rows and their conditions; mistakes are noted at their places."""
    source, path = reading.places["name", entry.name]
    rows, rests_on = [], {"coat"} if entry.scope == "coat" else set()
    for index, row in enumerate(entry.from_):
        table = reading.entries.get("table", {}).get(row.table)
        when = condition(reading, names, entry.scope, row.when, "name", entry.name, "from", index, "when")
        for part, what, to_do in _mistakes(entry, row, table, names, reading):
            reading.note(source.mark((*path, "from", index, *part)), f"name '{entry.name}' {what}", to_do)
        read = {*(table.keys if table is not None else ()), *(when.names() if when is not None else ()), row.answered}
        for name in sorted(read & reading.entries["name"].keys()):
            if reading.entries["name"][name].how:
                what = f"name '{entry.name}' rests on '{name}', which is reckoned only after rows are looked up"
                reading.note(source.mark((*path, "from", index)), what, "take another name")
        rows.append((row, when))
        rests_on |= read | ({"coat"} if row.coat else set())
    return LookUp(names[entry.name], tuple(rows), frozenset(rests_on & names.keys()))


def _mistakes(
    entry: ReckonedName, row: RowValue, table: Table | None, names: Names, reading: Reading
) -> Iterator[Mistake]:
    """What is wrong with one row that a name may come from: the part of it, what, and what to do."""
    if table is None:
        if f"tables/{row.table}.yaml" not in reading.files:  # else what is wrong there is told there
            known = reading.entries.get("table", {})
            yield ("table",), f"looks up the table '{row.table}', which is not there", did_you_mean(row.table, known)
        return
    if entry.scope == "mix":
        yield (), "is of a mix, and mixes are known only after rows are looked up", "give it another scope"
    yield from _value(entry, row, table)
    yield from _keys(entry, row, table, names, reading)
    yield from _limits(entry, row, table, names)


def _value(entry: ReckonedName, row: RowValue, table: Table) -> Iterator[Mistake]:
    name = row.value or entry.name
    value = table.values.get(name)
    if value is None:
        what = f"takes '{name}' from the table '{table.id}', which has no such value"
        yield ("value",), what, did_you_mean(name, table.values)
    elif value.kind not in _TAKES.get(entry.kind, ()):
        what = f"is a {entry.kind}, and takes '{name}' from the table '{table.id}', which is a {value.kind}"
        yield ("value",), what, "take a value of its kind"
    elif entry.choices and (value.of or name) != entry.name:
        what = f"takes '{name}' from the table '{table.id}', whose words are not held to its choices"
        yield ("value",), what, f"add 'of: {entry.name}' to the value in the table"


def _keys(entry: ReckonedName, row: RowValue, table: Table, names: Names, reading: Reading) -> Iterator[Mistake]:
    scope = "coat" if row.coat else entry.scope
    for key in table.keys:
        told = f"looks up the table '{table.id}', whose key '{key}'"
        if key not in names:
            if key not in reading.unread:
                yield ("table",), f"{told} is no name", did_you_mean(key, names)
        elif names[key].kind != "choice":
            yield ("table",), f"{told} is a {names[key].kind}", "give the table keys that are choices"
        elif names[key].scope not in visible_from(scope):
            what = f"{told} belongs to {a_scope(names[key].scope)}"
            yield ("table",), what, f"{a_scope(scope)} cannot see it; give the name the scope of its keys"
    for key in row.unknown:
        if key not in table.keys:
            what = f"need not know '{key}', which is no key of the table '{table.id}'"
            yield ("unknown",), what, did_you_mean(key, table.keys)
    coats = names["coat"].choices if "coat" in names else {}
    if row.coat and entry.scope != "work":
        yield ("coat",), f"looks a row up for a coat, and is of {a_scope(entry.scope)}", "take 'coat' out"
    elif row.coat and row.coat not in coats:
        yield ("coat",), f"looks a row up for the coat '{row.coat}', which is not known", did_you_mean(row.coat, coats)


def _limits(entry: ReckonedName, row: RowValue, table: Table, names: Names) -> Iterator[Mistake]:
    """What is wrong with an answer that may stand in place of the row's number."""
    if not (row.answered or row.least or row.most):
        return
    asked = [name for name, entry_ in names.items() if entry_.kind == "number" and not entry_.reckoned]
    if entry.kind != "number":
        yield ("answered",), f"is a {entry.kind}, which has no limits", "take 'answered', 'least' and 'most' out"
    elif row.answered not in asked or names[row.answered].scope not in visible_from(entry.scope):
        what = f"takes the answer '{row.answered}', which is no number that {a_scope(entry.scope)} can see"
        yield ("answered",), what, did_you_mean(row.answered, asked)
    for part in ("least", "most"):
        name = getattr(row, part)
        if name not in table.values or table.values[name].kind != "number":
            what = f"takes the limit '{name}' from the table '{table.id}', which has no such number"
            yield (part,), what, did_you_mean(name, (key for key, v in table.values.items() if v.kind == "number"))
