"""How a value came about: the reason its rule gave, or how it was reckoned, from which values and table rows."""

from __future__ import annotations

from collections.abc import Iterator

from generator.decide.model import Reason
from generator.job.job import Job
from generator.library.tables import Table, TableRow
from generator.questionnaire.scopes import ScopePath
from generator.values import Value, spoken


def reason_of(job: Job, path: ScopePath, name: str, origin: str) -> Reason:
    """Why a value of a scope is what it is; `origin` is the step that made it."""
    reason = job.decisions.reasons.get((path, name))
    return reason or _reckoned(job, path, name, origin)


def _reckoned(job: Job, path: ScopePath, name: str, origin: str) -> Reason:
    """How a value was reckoned, with every value and table row that it rests on."""
    entry = job.library.reckoned.get(name)
    if entry is None:
        return Reason(origin, "")
    rows = [(job.library.tables[key], row) for key in entry.tables if (row := _row(job, path, key)) is not None]
    facts = [told for of in entry.of for told in _values(job, path, of)]
    facts += [f"{table.id}: {_spelt(table, row)}" for table, row in rows]
    sources = tuple(dict.fromkeys(source for _, row in rows for source in row.sources))
    ranges = " ".join(row.range for _, row in rows if row.range)
    return Reason(origin, entry.how, sources, "", ranges, tuple(facts))


def _values(job: Job, path: ScopePath, name: str) -> Iterator[str]:
    """The value of a name as seen from a scope; from the coats inside where it is theirs."""
    label, held = job.facts.names[name].label.lower(), job.facts.held(path, name)
    if held is not None:
        said = [job.facts.say(name, held.value)]
    else:
        said = list(dict.fromkeys(job.facts.spoken(coat.path, name) for coat in job.facts.inside(path, "coat")))
    yield from (f"{label}: {text}" for text in said if text)


def _row(job: Job, path: ScopePath, key: str) -> TableRow | None:
    """The row of a table for a scope, its keys read as the scope sees them, or as the mix does."""
    table = job.library.tables[key]
    keys = {name: job.facts.get(path, name) or job.facts.get(path, f"mix_{name}") for name in table.keys}
    return table.find(**{name: value for name, value in keys.items() if isinstance(value, str)})


def _spelt(table: Table, row: TableRow) -> str:
    values: dict[str, Value] = {name: row.values[name] for name in table.values}
    return ", ".join(f"{name} {spoken(value)}" for name, value in values.items())
