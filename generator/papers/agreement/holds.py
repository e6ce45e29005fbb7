"""Where work stops: on each sheet with a step of a hold point's clause, wherever the programme holds a wall, and last
of all at the last look from its access."""

from __future__ import annotations

from collections.abc import Iterator

from generator.files.errors import Mark, Problem
from generator.library.entries import HoldPoint
from generator.papers.agreement.printed import SPECIFICATION, Printed
from generator.papers.parts import holding
from generator.papers.steps import Told, all_steps
from generator.programme.model import Task
from generator.questionnaire.scopes import ScopePath

_TO_DO = "name the hold point among the `holds` of the step that it stops, and begin its text with '**Hold:**'"

_LAST = "place the step that ends access after all others of its wall, `once: last`"


def unheld(found: Printed) -> Iterator[Problem]:
    """Each clause of a hold point that a wall's steps remind of, none of which stops."""
    tabled = list(holding(found.job))
    for wall in found.job.facts.views("element"):
        points = _of_wall(found, tabled, wall.path)
        steps = all_steps(found.job, wall.path)
        stops = {point for told in steps for point in told.entry.holds}
        for key, of in points.items():
            citing = [told for told in steps if key in told.entry.clauses]
            if citing and not of & stops and _speaks(found, key, wall.path):
                yield _told(found, key, sorted(of), citing[0])


def unpassed(found: Printed) -> Iterator[Problem]:
    """Each hold point that a clause demands of a wall, and its programme waits for, without a step that stops there.

    What is held of a work stops among the steps of that work, or in one that the wall needs once.
    """
    job, tabled = found.job, list(holding(found.job))
    for wall in job.programme.walls:
        demanded = set[str]()
        for key, points in _of_wall(found, tabled, wall.path).items():
            demanded |= points if _speaks(found, key, wall.path) else set()
        stops = [told for told in all_steps(job, wall.path) if told.entry.holds]
        for task in wall.tasks:
            if task.hold in demanded and not any(_stops(told, task) for told in stops):
                mark = job.library.marks.get(("task", task.entry), Mark(task.entry))
                what = f"the programme holds {task.key} at the hold point {task.hold}, and no step on the sheet of"
                yield Problem(mark, f"{what} {job.facts.title(wall.path)} stops there", _TO_DO)


def _stops(told: Told, task: Task) -> bool:
    own = len(task.path) == 1 or told.path[:2] == task.path[:2] or bool(told.entry.once)
    return own and task.hold in told.entry.holds


def left_behind(found: Printed) -> Iterator[Problem]:
    """Each wall whose access goes on its sheet before the last step that is done from it, or that says nowhere when."""
    tabled = list(holding(found.job))
    goes = {point.id for point in tabled if point.access == "goes"}
    gone = {point.id for point in tabled if point.access == "gone"}
    for wall in found.job.facts.views("element") if goes else ():
        steps = all_steps(found.job, wall.path)
        last = next((nr for nr, told in enumerate(steps) if goes & set(told.entry.holds)), None)
        later = steps if last is None else steps[last + 1 :]
        after = next((told for told in later if not gone & set(told.entry.holds)), None)
        if after is not None:
            yield _too_late(found, sorted(goes), None if last is None else steps[last], after)


def _too_late(found: Printed, points: list[str], look: Told | None, after: Told) -> Problem:
    of = after if look is None else look
    mark = found.job.library.marks.get(("operation", of.entry.id), Mark(of.entry.id))
    what = f"on the sheet of {found.job.facts.title(after.path[:1])} access goes at hold point {' or '.join(points)}"
    if look is None:
        return Problem(mark, f"{what}, and no step stops there", _TO_DO)
    return Problem(mark, f"{what}, before step '{after.entry.id}' is done from it", _LAST)


def _of_wall(found: Printed, tabled: list[HoldPoint], wall: ScopePath) -> dict[str, set[str]]:
    """The hold points of the table that hold on a wall, by their clauses."""
    points: dict[str, set[str]] = {}
    for point in tabled:
        if found.job.library.condition("hold", point.id).stands(found.job.facts, wall):
            for key in point.clauses:
                points.setdefault(key, set()).add(point.id)
    return points


def _speaks(found: Printed, key: str, wall: ScopePath) -> bool:
    """Whether a clause in the papers speaks to a wall."""
    if not found.job.in_papers(key):
        return False
    return any(path[:1] in ((), wall) for path in found.job.selections[key].paths)


def _told(found: Printed, key: str, points: list[str], step: Told) -> Problem:
    mark = found.job.library.marks.get(("operation", step.entry.id), Mark(step.entry.id))
    sheet = found.job.facts.title(step.path[:1])
    what = f"hold point {' or '.join(points)} rests on clause '{key}' in {SPECIFICATION}"
    return Problem(mark, f"{what}, and no step on the sheet of {sheet} stops there, '{step.entry.id}' neither", _TO_DO)
