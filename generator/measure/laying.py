"""The days in which mortar is laid: those of a coat, and those of tasks that fill what lies deeper before it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.library.tasks import OR, OWN, TaskEntry
from generator.measure.outputs import LAY, Labour, Outputs, gang
from generator.questionnaire.facts import View
from generator.values import Range, Struct, replace, total


def laying_days(here: View, people_nr: int, outputs: Outputs) -> Range[float] | None:
    """The days in which a coat is laid, with all that is counted in its laying; None where no quantity tells.

    Not yet whole, but no fewer than the smallest wall takes where that is more than one. What stands as a task of its
    own, as raking does on a wall of sound units, is done on other days.
    """
    laid = outputs.labour(here, LAY)
    if laid is None:
        return None
    work = here.around("work")
    joined = [entry for entry, into in _joined(work, outputs) if into.output == LAY]
    return _with_joined(laid, joined, work, people_nr, outputs)


class Filling(Struct, frozen=True):
    """A task that lays mortar on days of its own, none of a coat's: the operations done in it, its days.

    Days are not yet whole; None where no quantity tells.
    """

    task: str
    operations: tuple[str, ...]
    days: Range[float] | None


def fillings(work: View, people_nr: int, outputs: Outputs) -> Iterator[Filling]:
    """The tasks of a work that fill what lies deeper than its coats, or bed again what is loose.

    And those of any work of its wall that are done in the mix of the first new coat there.
    """
    for task in outputs.library.tasks.values():
        if not task.fills:
            continue
        among = _in_wall_mix(work.around("element")) if task.in_wall_mix else [work]
        there = [each for each in among if standing(task, each, outputs)]
        found = [_filling(task, each, _people_nr(task, each, outputs) or people_nr, outputs) for each in there]
        if found:
            days = [each.days for each in found if each.days is not None]
            yield replace(found[0], days=total(days, 0.0) if days else None)


def _in_wall_mix(wall: View) -> list[View]:
    """The works of a wall, without copings that are softer than it and have another mortar."""
    return [work for work in wall.inside("work") if not work.yes("copings_softer")]


def _people_nr(task: TaskEntry, work: View, outputs: Outputs) -> int:
    """The people who do a task of another work in the mix of this; 0 where they are those who lay it."""
    trade = "" if not task.in_wall_mix else work.text("trade") if task.trade == OWN else task.trade
    return gang(work, trade, outputs.library).reckoned_nr if trade else 0


def _filling(task: TaskEntry, work: View, people_nr: int, outputs: Outputs) -> Filling:
    joined = [entry for entry, into in _joined(work, outputs) if into.id == task.id]
    own = outputs.labour(work, task.output)
    days = None if own is None else _with_joined(own, joined, work, people_nr, outputs)
    return Filling(task.id, (task.output, *(entry.output for entry in joined)), days)


def _with_joined(
    own: Labour, joined: Sequence[TaskEntry], work: View, people_nr: int, outputs: Outputs
) -> Range[float]:
    """The days of a task with those of the tasks that are counted in it."""
    besides = (outputs.days(work, entry.output, people_nr) for entry in joined)
    days = total([own.days(people_nr), *(each for each in besides if each is not None)], 0.0)
    least = float(own.least_days) if own.least_days > 1 else 0.0
    return days.each(lambda each: max(each, least))


def _joined(work: View, outputs: Outputs) -> Iterator[tuple[TaskEntry, TaskEntry]]:
    """The tasks of a work whose days the library counts in those of another, each with that other."""
    tasks = outputs.library.tasks
    for entry in tasks.values():
        if entry.joins and entry.per == "work" and standing(entry, work, outputs):
            options = (tasks[named] for named in entry.joins.split(OR))
            into = next((each for each in options if each.per == "coat" or standing(each, work, outputs)), None)
            if into is not None:
                yield entry, into


def standing(entry: TaskEntry, work: View, outputs: Outputs) -> bool:
    """Whether a task is there at a work."""
    conditions = outputs.library.condition("task", entry.id)
    return conditions.stands(work.facts, work.path, unknown=entry.if_unknown == "include")
