"""On which walls each cause of decay is put right in this work under a sum: whoever prices it has to know where."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.library.model import Library
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Value, joined

MOST_NAMED: Final = 40
"""A list of more walls is read by nobody."""
_WALLS: Final = {
    "gutter": "gutter_walls",
    "leak": "leak_walls",
    "high-ground": "ground_walls",
    "movement": "movement_walls",
    "flue": "flue_walls",
}
_MEASURED_BY: Final = {"gutter": "gutters", "leak": "coping", "high-ground": "ground"}
"""The task of enabling work that cures a cause, and is measured in its stead."""
_FROM_ABOVE: Final = frozenset({"leak", "frost", "age", "cement"})
"""What counts as put right once a top is sheeted; cement comes out of a wall before its lime, by its own works."""


def under_sums(facts: Facts, library: Library) -> Mapping[ScopePath, Mapping[str, Value]]:
    """The causes of each wall that are put right under a sum, the names of the walls of each, and what copings cure.

    A wall that is cured on another is named where such walls alone have the cause.
    """
    found = walls_of_causes(facts)
    told: dict[str, Value] = {}
    own: dict[ScopePath, list[str]] = {}
    for cause, name in _WALLS.items():
        walls = found.get(name, [])
        if walls:
            told[name] = _told(walls, library)
        for wall in walls:
            if not wall.texts("cured_on"):
                own.setdefault(wall.path, []).append(cause)
    values: dict[ScopePath, dict[str, Value]] = {PROJECT: told}
    for wall in facts.views("element"):
        causes = own.get(wall.path, ())
        held_first = "movement" in causes and ("high-ground" in causes or _worked_from_below(wall))
        holds = {"cured_by_copings": _by_copings(wall), "top_rebuilt": _top_rebuilt(wall)}
        holds |= {"held_first": held_first, "dries_drawn": _dries_drawn(wall), "looked_from_access": _looked_from(wall)}
        values[wall.path] = {name: True for name, so in holds.items() if so}
    for path, causes in own.items():
        values[path]["causes_under_sum"] = tuple(causes)
    return {path: given for path, given in values.items() if given or path == PROJECT}


def walls_of_causes(facts: Facts) -> dict[str, list[View]]:
    """The walls of each cause under a sum, by the name that tells them.

    Walls that are cured on another are among them where these alone have the cause.
    """
    here = [wall for wall in facts.views("element") if wall.text("causes_cured") == "in-this-work"]
    found: dict[str, list[View]] = {}
    for cause, name in _WALLS.items():
        walls = [wall for wall in here if cause in wall.texts("decay_causes") and not _measured(wall, cause)]
        if walls:
            found[name] = [wall for wall in walls if not wall.texts("cured_on")] or walls
    return found


def _by_copings(wall: View) -> bool:
    """Whether rain from above, or cement, is all that makes a wall decay, and copings are all that is mended there.

    Plants that were cut already feed on it no more.
    """
    tasks = {work.texts("enabling_tasks") for work in wall.inside("work") if work.text("work") == "enabling"}
    left = set(wall.texts("decay_causes")) - ({"plants"} if wall.yes("plants_cut") else set())
    from_above = _FROM_ABOVE.issuperset(left) and bool(left)
    here = wall.text("causes_cured") == "in-this-work"
    return here and from_above and tasks == {("coping",)} and not wall.texts("cured_on")


def _worked_from_below(wall: View) -> bool:
    """Whether enabling work digs along the foot of a wall, or a panel is made on it from the ground."""
    dug = any({"ground", "drain"} & set(work.texts("enabling_tasks")) for work in wall.inside("work"))
    return dug or _has_panel_from_ground(wall)


def _has_panel_from_ground(wall: View) -> bool:
    return any(work.text("panel_place") == "ground" for work in wall.inside("work"))


def _looked_from(wall: View) -> bool:
    """Whether a conservator looks at a face from its access, since nothing touches it before that stands."""
    touched = wall.text("propped") not in ("", "access") or _has_panel_from_ground(wall)
    looked_for = wall.text("wall_painting") in ("not-looked", "found")
    return looked_for and wall.text("access") in ("scaffold", "roof-scaffold", "tower") and not touched


def _dries_drawn(wall: View) -> bool:
    """Whether a wall is released as dry once its salts are drawn: nothing that comes before waits for a dry face."""
    works = {work.text("work") for work in wall.inside("work")}
    return "desalt" in works and not works & {"enabling", "rebuild", "refix"}


def _top_rebuilt(wall: View) -> bool:
    """Whether what is rebuilt through its thickness, at its height, is as long as the copings that are bedded again."""
    works = [*wall.inside("work")]
    copings = [work.real("coping_m") for work in works if "coping" in work.texts("enabling_tasks")]
    whole = [work for work in works if work.text("rebuild_what") == "whole"]
    sizes = [(work.real("face_area_m2"), work.real("rebuild_height_m")) for work in whole]
    rebuilt_m = sum(area / height for area, height in sizes if area and height)
    known = [length for length in copings if length]
    return bool(known) and len(known) == len(copings) and rebuilt_m >= sum(known)


def _measured(wall: View, cause: str) -> bool:
    """Whether enabling work, or a stack built anew, cures it, there or on a wall on which its causes are put right."""
    curing = (wall.path, *((name,) for name in wall.texts("cured_on") if (name,) in wall.facts.scopes))
    if cause == "flue" and any(wall.facts.at_scope(path).known("stack_rebuilt") for path in curing):
        return True
    works = (work for path in curing for work in wall.facts.at_scope(path).inside("work"))
    return any(_MEASURED_BY.get(cause) in work.texts("enabling_tasks") for work in works)


def _told(walls: list[View], library: Library) -> str:
    if len(walls) > MOST_NAMED:
        return library.phrase("walls-many", count=str(len(walls)))
    return joined([wall.facts.title(wall.path) for wall in walls])
