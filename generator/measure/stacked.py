"""Walls that stand on one another: which lies below which, and where ground is dug below."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Final

from generator.library.findings import Raised
from generator.measure.shared_access import host_of
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Value, joined

_GROUND: Final = "ground"
_DIGS: Final = frozenset(("ground", "drain"))
_MOST_NAMED: Final = 6


def stacked(facts: Facts) -> dict[ScopePath, Mapping[str, Value]]:
    """What is known of walls that stand on one another: of each, what is below it or above, and whether that is dug."""
    found: dict[ScopePath, dict[str, Value]] = {}
    above: dict[ScopePath, list[ScopePath]] = {}
    beside: dict[ScopePath, list[ScopePath]] = {}
    for wall in facts.views("element"):
        below = below_of(wall)
        if below is not None:
            above.setdefault(below, []).append(wall.path)
            beside.setdefault(wall.path, []).append(below)
            beside.setdefault(below, []).append(wall.path)
            found.setdefault(wall.path, {})["wall_below"] = facts.title(below)
            if _digs(facts.at_scope(below)):
                found[wall.path]["dug_below"] = facts.title(below)
    for name, walls in (("walls_above", above), ("worked_by_turns", beside)):
        for path, others in walls.items():
            found.setdefault(path, {})[name] = joined([facts.title(other) for other in others])
    return dict(found)


def stacks(facts: Facts) -> dict[str, tuple[str, int]]:
    """The lowest wall of each that stands on another, and of that itself, with how many walls are below.

    Walls of one are worked on by turns, from the top down.
    """
    found: dict[str, tuple[str, int]] = {}
    for wall in facts.views("element"):
        storey, lowest, below = 0, wall.path, below_of(wall)
        while below is not None:
            storey, lowest, below = storey + 1, below, below_of(facts.at_scope(below))
        if storey:
            found |= {wall.path[0]: (lowest[0], storey), lowest[0]: (lowest[0], 0)}
    return found


def below_of(wall: View) -> ScopePath | None:
    """The wall on which this one stands; None where none is named, or itself, or what cannot be."""
    below = (wall.text("stands_on"),)
    return below if below[0] and below != wall.path[:1] and not _fault(wall, below) else None


def misplaced(facts: Facts) -> Iterator[Raised]:
    """Findings of walls said to stand on what is no wall, and of ground dug beneath what may stand there."""
    walls = list(facts.views("element"))
    for wall in walls:
        asked = wall.text("stands_on")
        if asked and (asked,) != wall.path[:1] and _fault(wall, (asked,)):
            yield Raised("stands-on-no-wall", wall.path, (("asked", asked),), (), wall.marks("stands_on"))
    yield from _unsaid(walls)
    reached: dict[str, list[View]] = {}
    for wall in walls:
        if wall.text("faces") and wall.text("position") != "indoors" and wall.text("access") not in ("", _GROUND):
            reached.setdefault(wall.text("faces"), []).append(wall)
    for wall in walls:
        if wall.text("access") == _GROUND and wall.text("faces") in reached and _digs(wall):
            may = (other for other in reached[wall.text("faces")] if _may_stand_on(other, wall))
            over = list(islice(may, _MOST_NAMED))
            if over:
                named = joined([other.facts.title(other.path) for other in over])
                marks = (*wall.marks("faces"), *(mark for other in over for mark in other.marks("access", "faces")))
                yield Raised("dug-below-access", wall.path, (("first", named),), (), marks)


def _unsaid(walls: list[View]) -> Iterator[Raised]:
    """Walls of one side on one access of which nobody has said whether one stands on the other."""
    for wall in walls:
        host = host_of(wall)
        there = None if host is None else wall.facts.at_scope(host)
        if there is None or not wall.text("faces") or wall.text("faces") != there.text("faces"):
            continue
        if not (wall.text("stands_on") or there.text("stands_on")):
            marks = (*wall.marks("access_with", "faces"), *there.marks("faces"))
            yield Raised("one-above-another-unsaid", wall.path, (("first", wall.facts.title(there.path)),), (), marks)


def _fault(wall: View, below: ScopePath) -> bool:
    """Whether what is named is no wall, or stands itself on this one."""
    seen = {wall.path[:1]}
    while below[0]:
        scope = wall.facts.scopes.get(below)
        if scope is None or scope.level != "element" or below in seen:
            return True
        seen.add(below)
        further = (wall.facts.at_scope(below).text("stands_on"),)
        if further == below:
            return False
        below = further
    return False


def _digs(wall: View) -> bool:
    """Whether ground is dug along the foot of a wall, in its works or under a sum."""
    tasks = {
        task for work in wall.inside("work") if work.text("work") == "enabling" for task in work.texts("enabling_tasks")
    }
    return bool(tasks & _DIGS) or "high-ground" in wall.texts("causes_under_sum")


def _may_stand_on(wall: View, dug: View) -> bool:
    """Whether a wall on the side of one that is dug along may stand on it: nobody has said, and it goes higher."""
    heights = wall.number("height_m"), dug.number("height_m")
    higher = heights[0] is None or heights[1] is None or heights[0] > heights[1]
    return higher and not wall.text("stands_on")
