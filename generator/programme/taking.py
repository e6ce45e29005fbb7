"""How long each task takes: quantities over outputs, rows of waits, names and numbers; and why."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

from generator.library.model import Library
from generator.library.tables import TableRow
from generator.library.tasks import OWN, TaskEntry, column
from generator.lime.season import DUST_DAYS
from generator.measure.outputs import Gang, Labour, Outputs, answered_output, gang
from generator.programme.model import Why
from generator.questionnaire.facts import View
from generator.values import Range, total

JOINTED: Final = ("repoint", "rebuild")
# What an answered output of jointed work is shared out over.
_SHARED: Final = ("rake", "take-down", "lay")


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
        if entry.output:
            return self._worked(entry, here, joined)
        row = self._row(entry, here) if entry.table else None
        if row is not None:
            return _tabled(row, entry, self._times(entry, here))
        days = float(entry.number) if entry.number is not None else here.real(entry.days) if entry.days else None
        return Why(one((days or 0.0) * self._times(entry, here)), name=entry.days, lacks="" if days else entry.days)

    def part(self, entry: TaskEntry, here: View, people_nr: int) -> Why | None:
        """The days of an operation that is counted in another task, not yet whole; None where it is not known."""
        found = self.outputs.labour(here, entry.output)
        return None if found is None else _outputs(found, self._days(entry, here, found, people_nr), people_nr)

    def _row(self, entry: TaskEntry, here: View) -> TableRow | None:
        table = self.library.tables[entry.table]
        keys = {name: here.text(name) if name in here.facts.names else entry.row for name in table.keys}
        return table.find(**keys)

    def _times(self, entry: TaskEntry, here: View) -> int:
        times = here.number(entry.times) if entry.times else None
        return int(times) if times else 1

    def _worked(self, entry: TaskEntry, here: View, joined: tuple[Why, ...]) -> Why:
        people = self.gang(entry, here)
        people_nr = people.reckoned_nr if people is not None else 1
        found = self.outputs.labour(here, entry.output)
        if found is None:
            return Why(one(1.0), lacks=self.outputs.lacking(here, entry.output))
        days = total([self._days(entry, here, found, people_nr), *(part.days for part in joined)], 0.0)
        times = self._times(entry, here)
        whole = days.each(lambda each: float(max(found.least_days, math.ceil(each - DUST_DAYS)) * times))
        return replace(_outputs(found, whole, people_nr), joined=joined, answered=_answers(entry, here, found))

    def _days(self, entry: TaskEntry, here: View, found: Labour, people_nr: int) -> Range[float]:
        """The days of an operation: by the output answered for the work, if there is one, else by the table's."""
        output = answered_output(here)
        if output is None or not _answers(entry, here, found):
            return found.days(people_nr)
        share = self._share(entry, here, found) if here.text("work") in JOINTED else 1.0
        return found.amount.times(share / float(output))

    def _share(self, entry: TaskEntry, here: View, found: Labour) -> float:
        """The share of the time of a jointed work that one of its two operations takes."""
        work = here.around("work")
        coats = work.inside("coat") or [work]
        scopes = [(operation, coats[0] if operation == "lay" else work) for operation in _SHARED]
        times = {
            operation: held.amount.likely / held.output.likely
            for operation, scope in scopes
            if operation in self._operations(work) and (held := self.outputs.labour(scope, operation)) is not None
        }
        return times[entry.output] / sum(times.values())

    def _operations(self, work: View) -> tuple[str, ...]:
        return ("rake", "lay") if work.text("work") == "repoint" else ("take-down", "lay")


def _answers(entry: TaskEntry, here: View, found: Labour) -> bool:
    """Whether the output answered for a work is that of an operation: a square metre is what both are told for."""
    regular = _SHARED if here.text("work") in JOINTED else ("lay",)
    answered = answered_output(here) is not None
    return answered and not found.timed and entry.output in regular and found.quantity == "treated_area_m2"


def _outputs(found: Labour, days: Range[float], people_nr: int) -> Why:
    row = found.row
    return Why(
        days, found.quantity, found.amount, found.output, people_nr, timed=found.timed,
        because=row.because, range=row.range, sources=row.sources, confidence=row.confidence,
    )  # fmt: skip


def _tabled(row: TableRow, entry: TaskEntry, times: int) -> Why:
    low, likely, high = (float(row.number(column(entry.value, end))) * times for end in ("low", "likely", "high"))
    return Why(
        Range(low, likely, high), name=entry.table,
        because=row.because, range=row.range, sources=row.sources, confidence=row.confidence,
    )  # fmt: skip
