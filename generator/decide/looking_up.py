"""Values that only look a row of a table up, as the library declares them."""

from __future__ import annotations

from generator.decide.model import Outcome, table_reason
from generator.library.model import Library, LookUp, RowValue
from generator.library.tables import TableRow
from generator.questionnaire.facts import View
from generator.values import Value


def looked_up(wanted: LookUp, here: View, library: Library) -> Outcome:
    """The value of the first row that holds at a scope; nothing where a key that must be known is not."""
    for entry, when in wanted.rows:
        if when is None or when.evaluate(here.facts, here.path).holds:
            table = library.tables[entry.table]
            seen = here.facts.at_scope((*here.path, entry.coat)) if entry.coat else here
            row, told = table.found(seen, entry.unknown)
            value = None if row is None else _value(wanted, entry, row, here)
            if row is None or value is None:
                return Outcome()
            return Outcome({wanted.name.name: value}, table_reason(table.id, row, told))
    return Outcome()


def _value(wanted: LookUp, entry: RowValue, row: TableRow, here: View) -> Value | None:
    column = entry.value or wanted.name.name
    if wanted.name.kind in ("choices", "texts"):
        return row.texts(column)
    if wanted.name.kind != "number":
        return row.text(column)
    number = row.number(column)
    answered = here.number(entry.answered) if entry.answered else None
    if answered is not None and row.number(entry.least) <= answered <= row.number(entry.most):
        return answered
    return None if entry.zero == "none" and not number else number
