"""Photographs as answered: each read, tied to its wall, and each area marked on it to its work and its letter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from string import ascii_uppercase
from typing import Any, Final

from generator.files.errors import did_you_mean, shown
from generator.files.source import Path_, Source
from generator.questionnaire.facts import Facts
from generator.questionnaire.photograph_shapes import MOST_PHOTOGRAPHS, MarkShape, PhotographShape
from generator.questionnaire.photographed import MarkedArea, Photographed, Spot
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct

_LETTERS: Final = (*ascii_uppercase, *("".join(pair) for pair in product(ascii_uppercase, repeat=2)))


def read_photographs(raw: Any, place: Path_, source: Source) -> list[PhotographShape] | None:
    """The photographs listed at a place of answers read untyped; None where one is refused, told in the source."""
    if not isinstance(raw, list):
        what = "'photographs' is not a list of photographs"
        source.problem(place, what, "list each on lines that start with '- file: photographs/front.jpg'")
        return None
    if len(raw) > MOST_PHOTOGRAPHS:
        what = f"'photographs' lists {len(raw)}, where {MOST_PHOTOGRAPHS} at most are read"
        source.problem(place, what, "keep those that somebody needs")
        return None
    from generator.files.shaping import shaped

    found = [shaped(PhotographShape, item, source, (*place, index)) for index, item in enumerate(raw)]
    read = [shape for shape in found if shape is not None]
    return read if len(read) == len(found) else None


def named(shapes: Sequence[PhotographShape]) -> list[str]:
    """What each photograph is called: its own id, or F and its number."""
    return [shape.id or f"F{number}" for number, shape in enumerate(shapes, 1)]


def placed(shapes: Sequence[PhotographShape], facts: Facts, place: Path_, source: Source) -> tuple[Photographed, ...]:
    """The photographs tied to their walls and works; what names none of them is noted in the source."""
    placing = _Placing(facts, source)
    found: dict[str, Photographed] = {}
    for index, (name, shape) in enumerate(zip(named(shapes), shapes, strict=True)):
        at = (*place, index)
        if name in found:
            to_do = "give each photograph its own id"
            source.problem((*at, "id"), f"calls a second photograph '{name}'", to_do)
        else:
            element = placing.element(shape.element, (*at, "element"))
            areas = tuple(placing.areas(shape.marks, element, at))
            found[name] = Photographed(name, element or (), shape, areas, source.mark(at))
    return tuple(found.values())


class _Placing(Struct, frozen=True):
    """Finds the walls and works that photographs name."""

    facts: Facts
    source: Source

    def element(self, given: str, place: Path_) -> ScopePath | None:
        known = {scope.path[0]: scope.path for scope in self.facts.at("element")}
        if given in known:
            return known[given]
        if given:
            what = f"'element' is '{shown(given)}', which is no wall of these answers"
            self.source.problem(place, what, did_you_mean(given, known))
        elif len(known) == 1:
            return next(iter(known.values()))
        elif known:
            what = "a photograph lacks 'element', and there are several walls"
            self.source.key_problem(place, what, f"add 'element: {next(iter(known))}', or whichever wall it shows")
        return None

    def areas(self, marks: Sequence[MarkShape], around: ScopePath | None, at: Path_) -> Iterator[MarkedArea]:
        letters = self._letters(marks)
        owners: dict[str, ScopePath] = {}
        for index, (mark, letter) in enumerate(zip(marks, letters, strict=True)):
            place = (*at, "marks", index)
            element = self.element(mark.element, (*place, "element")) if mark.element else around
            work = self._work(mark.work, element, (*place, "work")) if element else None
            if work is None:
                continue
            if owners.setdefault(letter, work) != work:
                what = f"'letter' is '{letter}', which stands for another work on this photograph"
                self.source.problem((*place, "letter"), what, "give each work its own letters")
            without = tuple(map(_ring, mark.without))
            yield MarkedArea(letter, work, _ring(mark.outline), without, mark.counted, self.source.mark(place))

    @staticmethod
    def _letters(marks: Sequence[MarkShape]) -> list[str]:
        """The letters as given, and where none is given the next that none has."""
        taken = {mark.letter for mark in marks}
        free = (letter for letter in _LETTERS if letter not in taken)
        return [mark.letter or next(free) for mark in marks]

    def _work(self, given: str, element: ScopePath, place: Path_) -> ScopePath | None:
        """The work of a wall by its id, or by its kind where the wall has one of it."""
        works = {scope.path[-1]: scope.path for scope in self.facts.inside(element, "work")}
        if given in works:
            return works[given]
        alike = [key for key, path in works.items() if self.facts.get(path, "work") == given]
        if len(alike) == 1:
            return works[alike[0]]
        wall = self.facts.scopes[element].title
        if alike:
            what, to_do = f"{wall} has {len(alike)} works of the kind '{given}'", f"name one: {', '.join(alike)}"
        else:
            what, to_do = f"'work' is '{shown(given)}', which is no work of {wall}", did_you_mean(given, works)
        self.source.problem(place, what, to_do)
        return None


def _ring(points: Sequence[tuple[Any, Any]]) -> tuple[Spot, ...]:
    return tuple((float(x), float(y)) for x, y in points)
