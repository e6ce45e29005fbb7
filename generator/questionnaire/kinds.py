"""Kinds of walls: which are answered alike in all but what they are called, so that one can be reckoned for all.

An estate has thousands of walls and few kinds. What is decided and measured in a wall hangs on its own answers and on
those of the whole job, never on another wall's; time alone does, as walls wait for one another and for people.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Final

from generator.questionnaire.scopes import PROJECT, Held, ScopePath, Scopes
from generator.values import Value

ID: Final = "id"
TIMED: Final = "<programme>"
"""The origin of what time gives: dates, and what hangs on them."""
CALLED: Final = (ID, "element_name")
"""What a wall is called: no two of a kind are called the same."""

NAMING: Final = ("access_with", "stands_on", "other_side")
"""Answers that name the wall whose access serves a wall, on which it stands, or whose other side it is: one so named
is like no other."""
OF_OTHERS: Final = ("cured_on",)
"""Answers that name other walls, which time alone looks up: told apart by whether there are any."""


Values = Mapping[ScopePath, Mapping[str, Held]]
"""What is held at each scope, by name."""


class Kinds:
    """The walls of a job by their kind; each kind has its first wall for a model."""

    def __init__(self, scopes: Scopes, values: Values, apart: Collection[ScopePath]) -> None:
        """Those of `apart`, and those that another wall names, are each of a kind of their own."""
        named = {held.value for given in values.values() for name, held in given.items() if name in NAMING}
        first: dict[object, str] = {}
        self._models: dict[str, str] = {}
        for wall in scopes.inside(PROJECT, "element"):
            own = wall.path in apart or wall.path[0] in named
            kind = wall.path if own else tuple(_known(scopes, values, wall.path))
            self._models[wall.path[0]] = first.setdefault(kind, wall.path[0])

    def model(self, path: ScopePath) -> ScopePath:
        """The same place on the first wall of the kind; a scope that lies in no wall is its own."""
        return (self._models[path[0]], *path[1:]) if path and path[0] in self._models else path


def _known(scopes: Scopes, values: Values, wall: ScopePath) -> Iterator[object]:
    """All that is known of a wall and of the scopes in it, where in the wall, and what these are called."""
    for level in ("element", "work", "coat"):
        for scope in scopes.inside(wall, level):
            yield scope.path[1:], scope.title if scope.path != wall else ""
            for name, held in values.get(scope.path, {}).items():
                if name != ID:  # of a scope inside it is part of where it is
                    value = bool(held.value) if name in OF_OTHERS else told_apart(held.value)
                    yield name, value, held.origin, held.spelt


def told_apart(value: Value) -> object:
    """What a value is told apart by: one that is no text as it is spelt out, as equal ones may be spelt otherwise."""
    return value if isinstance(value, str) else (repr(value),)


def known_by(held: Held | None) -> object:
    """What is known of a name, to be told apart."""
    return None if held is None else told_apart(held.value)
