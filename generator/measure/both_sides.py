"""Walls that are two sides of one: who works on one through the other has to reach that too."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.library.findings import Raised
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import ScopePath
from generator.values import Value


def other_side_of(wall: View) -> ScopePath | None:
    """The wall that is the other side of this one; None where none is named, or itself, or what is no wall."""
    named = (wall.text("other_side"),)
    return named if named != wall.path[:1] and wall.facts.is_wall(named) else None


def both_sides(facts: Facts) -> dict[ScopePath, Mapping[str, Value]]:
    """Of each wall, what is called its other side."""
    found = {wall.path: other_side_of(wall) for wall in facts.views("element")}
    return {path: {"other_face": facts.title(other)} for path, other in found.items() if other is not None}


def no_sides(facts: Facts) -> Iterator[Raised]:
    """Findings of walls whose other side is said to be what is no wall."""
    for wall in facts.views("element"):
        asked = wall.text("other_side")
        if asked and not facts.is_wall((asked,)):
            yield Raised("other-side-no-wall", wall.path, (("asked", asked),), (), wall.marks("other_side"))
