"""Where work stops: a clause that a hold point of the table rests on stops it on each sheet with a step of it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from generator.errors import Mark, Problem
from generator.library.model import HoldPoint
from generator.papers.agreement.printed import SPECIFICATION, Printed
from generator.papers.parts import holding
from generator.papers.steps import Told, wall_steps
from generator.questionnaire.facts import ScopePath

_TO_DO = "name the hold point among the `holds` of the step that it stops, and begin its text with '**Hold:**'"


def unheld(found: Printed) -> Iterator[Problem]:
    """Each clause of a hold point that a wall's steps remind of, none of which stops."""
    tabled = list(holding(found.job))
    for wall in found.job.facts.views("element"):
        points = _of_wall(found, tabled, wall.path)
        steps = list(chain.from_iterable(wall_steps(found.job, wall.path).values()))
        stops = {point for told in steps for point in told.entry.holds}
        for key, of in points.items():
            citing = [told for told in steps if key in told.entry.clauses]
            if citing and not of & stops and _speaks(found, key, wall.path):
                yield _told(found, key, sorted(of), citing[0])


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
