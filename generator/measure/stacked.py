"""Walls that stand on one another: which lies below which, and where ground is dug below."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Final

from generator.library.findings import Raised
from generator.measure.compass import facing
from generator.measure.shared_access import host_of
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Value, joined

_GROUND: Final = "ground"
_DIGS: Final = frozenset(("ground", "drain"))
_ON_NONE: Final = frozenset(("indoors", "chimney"))  # of these nobody is asked on what they stand
_ALL_ROUND: Final = "all round"
_MOST_NAMED: Final = 6


def stacked(facts: Facts) -> dict[ScopePath, Mapping[str, Value]]:
    """What is known of walls that stand on one another: of each, what is below it or above, and whether that is dug."""
    found: dict[ScopePath, dict[str, Value]] = {}
    above: dict[ScopePath, list[ScopePath]] = {}
    beside: dict[ScopePath, list[ScopePath]] = {}
    for wall in facts.views("element"):
        below = below_of(wall)
        for each in _all_below(wall):
            beside.setdefault(wall.path, []).append(each)
            beside.setdefault(each, []).append(wall.path)
        if below is not None:
            above.setdefault(below, []).append(wall.path)
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
        below = list(_all_below(wall))
        if below:
            lowest = below[-1][0]
            found |= {wall.path[0]: (lowest, len(below)), lowest: (lowest, 0)}
    return found


def _all_below(wall: View) -> Iterator[ScopePath]:
    """The wall on which this one stands, that on which that stands, and so on."""
    below = below_of(wall)
    while below is not None:
        yield below
        below = below_of(wall.facts.at_scope(below))


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
    yield from _dug_below(walls)


def _unsaid(walls: list[View]) -> Iterator[Raised]:
    """Walls of one access that may hang over one another, of which nobody has said whether one stands on the other.

    Told at the later of two: the wall of the access itself, then those that it serves as they are listed.
    """
    sharing: dict[ScopePath, list[View]] = {}
    for wall in walls:
        host = host_of(wall)
        if host is not None:
            sharing.setdefault(host, [wall.facts.at_scope(host)]).append(wall)
    for all_ in sharing.values():
        open_ = [wall for wall in all_ if wall.text("position") not in _ON_NONE and not wall.text("stands_on")]
        for at, wall in enumerate(open_):
            first = [other for other in open_[:at] if _may_hang_over(wall, other)][:_MOST_NAMED]
            if first:
                yield _about("one-above-another-unsaid", wall, first, ("access_with", "faces"), ("faces",))


def _may_hang_over(wall: View, other: View) -> bool:
    """Whether work on one of two walls of one access may hang over the other: a parapet always, as it crowns walls.

    Where one does not say which way it faces, their heights tell that they are not two stretches of one wall.
    """
    if "parapet" in (wall.text("position"), other.text("position")):
        return True
    here, there = _ways(wall), _ways(other)
    if not (here and there):
        return wall.number("height_m") != other.number("height_m")
    return _ALL_ROUND in here | there or bool(here & there)


def _dug_below(walls: list[View]) -> Iterator[Raised]:
    """Ground dug along walls below what has access of its own, and may stand on them."""
    reached: dict[str, list[View]] = {}
    for wall in walls:
        if wall.text("position") != "indoors" and wall.text("access") not in ("", _GROUND):
            for way in _ways(wall):
                reached.setdefault(way, []).append(wall)
    for wall in walls:
        if wall.text("access") == _GROUND and _ways(wall) and _digs(wall):
            ways = reached if _ALL_ROUND in _ways(wall) else {*_ways(wall), _ALL_ROUND}
            may = {other.path: other for way in ways for other in reached.get(way, ()) if _may_stand_on(other, wall)}
            over = list(islice(may.values(), _MOST_NAMED))
            if over:
                yield _about("dug-below-access", wall, over, ("faces",), ("access", "faces"))


def _about(code: str, wall: View, others: list[View], here: tuple[str, ...], there: tuple[str, ...]) -> Raised:
    """A finding of a wall that names others, with the answers of it and of them that it rests on."""
    named = joined([other.facts.title(other.path) for other in others])
    marks = (*wall.marks(*here), *(mark for other in others for mark in other.marks(*there)))
    return Raised(code, wall.path, (("first", named),), (), marks)


def _ways(wall: View) -> frozenset[str]:
    """The ways that a wall faces: the degrees of each, or its words where they tell none; none where it is open."""
    answer = wall.text("faces").strip().lower()
    told = facing(answer)
    if told is None:
        return frozenset([answer] if answer else [])
    return frozenset([_ALL_ROUND] if told.all_round else map(str, told.degrees))


def _fault(wall: View, below: ScopePath) -> bool:
    """Whether what is named is no wall, or stands itself on this one."""
    seen = {wall.path[:1]}
    while below[0]:
        if below in seen or not wall.facts.is_wall(below):
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
