"""The days that an operation takes, by the output answered for its work or else the table's; and a day of laying."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.library.tasks import OR, TaskEntry
from generator.measure.outputs import TREATED, Labour, Outputs, answered_output
from generator.questionnaire.facts import View
from generator.values import Range, total

JOINTED: Final = ("repoint", "rebuild")
LAY: Final = "lay"
# What an answered output of jointed work is shared out over.
_SHARED: Final = ("rake", "take-down", LAY)


def operation_days(here: View, operation: str, found: Labour, people_nr: int, outputs: Outputs) -> Range[float]:
    """The days of an operation: by the output answered for the work, if there is one, else by the table's."""
    output = answered_output(here)
    if output is None or not is_answered(here, operation, found):
        return found.days(people_nr)
    share = _share(here, operation, outputs) if here.text("work") in JOINTED else 1.0
    return found.amount.times(share / float(output))


def is_answered(here: View, operation: str, found: Labour) -> bool:
    """Whether the output answered for a work is that of an operation: a square metre is what both are told for."""
    regular = _SHARED if here.text("work") in JOINTED else (LAY,)
    answered = answered_output(here) is not None
    return answered and not found.timed and operation in regular and found.quantity == TREATED


def _share(here: View, operation: str, outputs: Outputs) -> float:
    """The share of the time of a jointed work that one of its two operations takes."""
    work = here.around("work")
    coats = work.inside("coat") or [work]
    first = "rake" if work.text("work") == "repoint" else "take-down"
    held = {each: outputs.labour(coats[0] if each == LAY else work, each) for each in (first, LAY)}
    times = {each: labour.amount.likely / labour.output.likely for each, labour in held.items() if labour is not None}
    return times[operation] / sum(times.values())


def laying_days(here: View, people_nr: int, outputs: Outputs) -> Range[float] | None:
    """The days in which a coat is laid, with all that is counted in its laying; None where no quantity tells.

    Not yet whole. What stands as a task of its own, as raking does on a wall of sound units, is done on other days.
    """
    found = [_part(here, LAY, people_nr, outputs)]
    if found[0] is None:
        return None
    work = here.around("work")
    found += [_part(work, entry.output, people_nr, outputs) for entry in _counted_in_laying(work, outputs)]
    return total([part for part in found if part is not None], 0.0)


def _part(here: View, operation: str, people_nr: int, outputs: Outputs) -> Range[float] | None:
    labour = outputs.labour(here, operation)
    return None if labour is None else operation_days(here, operation, labour, people_nr, outputs)


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
