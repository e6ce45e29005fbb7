"""Values that only look a row of a table up, as the library declares them."""

from __future__ import annotations

from generator.decide.model import Outcome, table_reason
from generator.library.entries import RowValue
from generator.library.model import Library, LookUp
from generator.library.tables import TableRow
from generator.questionnaire.facts import View
from generator.values import Value


def looked_up(wanted: LookUp, here: View, library: Library) -> Outcome:
    """The value of the first row that holds at a scope; nothing where a key that must be known is not."""
    for entry, when in wanted.rows:
        if when is None or when.holds(here.facts, here.path):
            table, path = library.tables[entry.table], (*here.path, entry.coat) if entry.coat else here.path
            row, told = table.found(here.facts.at_scope(path), entry.unknown)
            if row is None:
                return Outcome()
            value = _value(wanted.name.kind, entry.value or wanted.name.name, entry, row, here)
            return Outcome({wanted.name.name: value}, table_reason(table.id, row, told))
    return Outcome()


def _value(kind: str, name: str, entry: RowValue, row: TableRow, here: View) -> Value:
    if kind in ("choices", "texts"):
        return row.texts(name)
    if kind != "number":
        return row.text(name)
    answered = here.number(entry.answered) if entry.answered else None
    if answered is not None and row.number(entry.least) <= answered <= row.number(entry.most):
        return answered
    return row.number(name)
