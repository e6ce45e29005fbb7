"""Which recipe of a binder serves a place most closely."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.library.entries import Recipe

Place = tuple[str, ...]
PLACE: Final = ("work", "masonry", "position", "coat")
"""The names that what a recipe serves is told by, in their order."""


class Serving:
    """The recipes by binder; a job asks for the same few places over and over, so what was found is kept."""

    def __init__(self, recipes: Mapping[str, Recipe]) -> None:
        self._by_binder: dict[str, list[tuple[Recipe, list[list[str]]]]] = {}
        for recipe in recipes.values():
            serves = [words.split(":") for words in recipe.serves]
            self._by_binder.setdefault(recipe.binder, []).append((recipe, serves))
        self._found: dict[tuple[str, Place], Recipe | None] = {}

    def recipe(self, binder: str, place: Place) -> Recipe | None:
        """The recipe of a binder that serves a place most closely, the first of several; None where none does."""
        key = binder, place
        if key not in self._found:
            self._found[key] = self._closest(binder, place)
        return self._found[key]

    def _closest(self, binder: str, place: Place) -> Recipe | None:
        best, found = -1, None
        for recipe, serves in self._by_binder.get(binder, ()):
            score = max((_fit(words, place) for words in serves), default=-1)
            if score > best:
                best, found = score, recipe
        return found


def _fit(serves: list[str], place: Place) -> int:
    """How closely `work:masonry:position`, with `:coat` where it matters, fits; -1 where it does not."""
    score = 0
    for weight, wanted, is_ in zip((1, 2, 4, 8), serves, place, strict=False):
        if wanted == is_:
            score += weight
        elif wanted != "any":
            return -1
    return score
