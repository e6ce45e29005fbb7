"""On which walls each cause of decay is put right in this work under a sum: whoever prices it has to know where."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.library.model import Library
from generator.questionnaire.facts import Facts, View
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


def cause_walls(facts: Facts, library: Library) -> Mapping[str, Value]:
    """The names of the walls of each cause; of walls that are cured on others where these alone have it."""
    return {name: _told(walls, library) for name, walls in walls_of_causes(facts).items()}


def walls_of_causes(facts: Facts) -> dict[str, list[View]]:
    """The walls of each cause, by the name that tells them."""
    found: dict[str, list[View]] = {}
    here = [wall for wall in facts.views("element") if wall.text("causes_cured") == "in-this-work"]
    for cause, name in _WALLS.items():
        walls = [wall for wall in here if cause in wall.texts("decay_causes")]
        own = [wall for wall in walls if not wall.texts("cured_on")] or walls
        if own:
            found[name] = own
    return found


def _told(walls: list[View], library: Library) -> str:
    if len(walls) > MOST_NAMED:
        return library.phrase("walls-many", count=str(len(walls)))
    return joined([wall.facts.title(wall.path) for wall in walls])
