"""How long each task takes: quantities over outputs, rows of waits, names and numbers; and why."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from generator.library.model import Library
from generator.library.tables import TableRow
from generator.library.tasks import OWN, TaskEntry, column
from generator.lime.season import DUST_DAYS
from generator.measure.outputs import Gang, Labour, Outputs, gang
from generator.measure.volumes import coped_in
from generator.programme.model import Why
from generator.questionnaire.facts import View
from generator.values import Range, replace, total

COVERED: Final = "rain-cover"


def coat_mixed_as(entry: TaskEntry, here: View) -> View | None:
    """The coat of its wall in whose mix something is laid, such as copings; None of what has its own."""
    return coped_in(here.around("element")) if entry.in_wall_mix else None


def one(days: float) -> Range[float]:
    """A number of days that is sure."""
    return Range(days, days, days)


class Taking:
    """The days of tasks, with the gangs that do them."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.outputs = Outputs(library)
        self.gangs: dict[str, Gang] = {}

    def gang(self, entry: TaskEntry, here: View) -> Gang | None:
        """Who does a task; None where nobody is kept by it."""
        trade = here.text("trade") if entry.trade == OWN else entry.trade
        if not trade:
            return None
        if trade not in self.gangs:
            self.gangs[trade] = gang(here, trade, self.library)
        return self.gangs[trade]

    def why(self, entry: TaskEntry, here: View, joined: tuple[Why, ...] = ()) -> Why:
        """The days of a task and why; worked days whole, with all that is counted in it.

        An operation without its quantity takes one day, a wait that nobody can tell none; `lacks` names the quantity.
        """
        key, wall = ("why", entry.id, here.path), [here.path[:1]]
        return here.facts.recalled(key, wall, lambda: self._why(entry, here, joined), joined)

    def _why(self, entry: TaskEntry, here: View, joined: tuple[Why, ...]) -> Why:
        if entry.output:
            return self._worked(entry, here, joined)
        row = self._row(entry, here) if entry.table else None
        if row is not None:
            found = _tabled(row, entry, entry.table, self._times(entry, here))
            return max([found, *self._as_mixed(entry, here)], key=lambda why: (why.days.likely, why.days.high))
        days = float(entry.number) if entry.number is not None else here.real(entry.days) if entry.days else None
        return Why(one((days or 0.0) * self._times(entry, here)), name=entry.days, lacks="" if days else entry.days)

    def part(self, entry: TaskEntry, here: View, people_nr: int) -> Why | None:
        """The days of an operation that is counted in another task, not yet whole; None where it is not known."""

        def made() -> Why | None:
            found = self.outputs.labour(here, entry.output)
            return None if found is None else _outputs(found, found.days(people_nr), people_nr)

        return here.facts.recalled(("part", entry.id, here.path), [here.path[:1]], made, people_nr)

    def _as_mixed(self, entry: TaskEntry, here: View) -> Iterator[Why]:
        """How long what is laid in the mix of a coat of its wall is covered: as that coat is."""
        mixed = coat_mixed_as(entry, here)
        row = self.library.tables[COVERED].row_for(mixed) if mixed is not None else None
        if row is not None:
            yield _tabled(row, entry, COVERED, 1)

    def _row(self, entry: TaskEntry, here: View) -> TableRow | None:
        table = self.library.tables[entry.table]
        keys = {name: here.text(name) if name in here.facts.names else entry.row for name in table.keys}
        return table.find(**keys)

    def _times(self, entry: TaskEntry, here: View) -> int:
        times = here.number(entry.times) if entry.times else None
        return max(int(times) - entry.times_less, 1) if times else 1

    def _worked(self, entry: TaskEntry, here: View, joined: tuple[Why, ...]) -> Why:
        people = self.gang(entry, here)
        people_nr = people.reckoned_nr if people is not None else 1
        found = self.outputs.labour(here, entry.output)
        if found is None:
            return Why(one(1.0), lacks=self.outputs.lacking(here, entry.output))
        people_nr = found.people_nr(people_nr)
        days = total([found.days(people_nr), *(part.days for part in joined)], 0.0)
        times = self._times(entry, here)
        whole = days.each(lambda each: float(max(found.least_days, math.ceil(each - DUST_DAYS)) * times))
        return replace(_outputs(found, whole, people_nr), joined=joined, answered=found.answered is not None)


def _outputs(found: Labour, days: Range[float], people_nr: int) -> Why:
    row, deeper = found.row, found.deeper
    because, sources = row.because, row.sources
    if deeper is not None:
        because, sources = f"{because} {deeper.because}", tuple(dict.fromkeys((*sources, *deeper.sources)))
    return Why(
        days, found.quantity, found.amount, found.output, people_nr, found.least_days, timed=found.timed,
        because=because, range=row.range, sources=sources, confidence=row.confidence,
    )  # fmt: skip


def _tabled(row: TableRow, entry: TaskEntry, table: str, times: int) -> Why:
    """A wait of a table: the papers print the likely one as the least, so none is shorter even at best."""
    likely, high = (float(row.number(column(entry.value, end))) * times for end in ("likely", "high"))
    return Why(
        Range(likely, likely, high), name=table,
        because=row.because, range=row.range, sources=row.sources, confidence=row.confidence,
    )  # fmt: skip
