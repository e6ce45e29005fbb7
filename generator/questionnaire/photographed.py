"""A photograph as answered, tied to the wall that it shows and the works that are marked on it."""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.files.errors import Mark
from generator.questionnaire.photograph_shapes import PhotographShape
from generator.questionnaire.scopes import ScopePath

Spot = tuple[float, float]
"""A point as shares of the upright picture's width and height."""


@dataclass(frozen=True, slots=True)
class MarkedArea:
    """An area marked on a photograph, and the work it belongs to."""

    letter: str
    work: ScopePath
    outline: tuple[Spot, ...]
    without: tuple[tuple[Spot, ...], ...]
    counted: bool
    mark: Mark = field(default=Mark(""), compare=False)


@dataclass(frozen=True, slots=True)
class Photographed:
    """A photograph as answered: the wall it shows, its areas, and everything else as it was read."""

    id: str
    element: ScopePath
    asked: PhotographShape
    areas: tuple[MarkedArea, ...]
    mark: Mark = field(default=Mark(""), compare=False)

    def of_work(self, path: ScopePath) -> list[MarkedArea]:
        """The areas of a work that are counted."""
        return [area for area in self.areas if area.work == path and area.counted]

    @property
    def works(self) -> tuple[ScopePath, ...]:
        """The works that areas are marked for, in the order of the marks."""
        return tuple(dict.fromkeys(area.work for area in self.areas))
