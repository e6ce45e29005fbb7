"""The days in which a coat is laid, with all that the library counts in its laying."""

from __future__ import annotations

from collections.abc import Iterator

from generator.library.tasks import OR, TaskEntry
from generator.measure.outputs import LAY, Outputs
from generator.questionnaire.facts import View
from generator.values import Range, total


def laying_days(here: View, people_nr: int, outputs: Outputs) -> Range[float] | None:
    """The days in which a coat is laid, with all that is counted in its laying; None where no quantity tells.

    Not yet whole, but no fewer than the smallest wall takes where that is more than one. What stands as a task of its
    own, as raking does on a wall of sound units, is done on other days.
    """
    laid = outputs.labour(here, LAY)
    if laid is None:
        return None
    work = here.around("work")
    besides = (outputs.days(work, entry.output, people_nr) for entry in _counted_in_laying(work, outputs))
    days = total([laid.days(people_nr), *(each for each in besides if each is not None)], 0.0)
    least = float(laid.least_days) if laid.least_days > 1 else 0.0
    return days.each(lambda each: max(each, least))


def _counted_in_laying(work: View, outputs: Outputs) -> Iterator[TaskEntry]:
    """The tasks of a work whose days the library counts in those of its laying."""
    tasks = outputs.library.tasks
    for entry in tasks.values():
        if entry.joins and entry.per == "work" and _stands(entry, work, outputs):
            options = (tasks[named] for named in entry.joins.split(OR))
            into = next((each for each in options if each.per == "coat" or _stands(each, work, outputs)), None)
            if into is not None and into.output == LAY:
                yield entry


def _stands(entry: TaskEntry, work: View, outputs: Outputs) -> bool:
    conditions = outputs.library.condition("task", entry.id)
    return conditions.stands(work.facts, work.path, unknown=entry.if_unknown == "include")
