"""The pictures of photographs for papers: marked, square on to the wall where the reference allows, or as they are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final

from generator.drawing.area_hatch import PATTERNS, Pattern
from generator.drawing.photograph_elevation import (
    METRE,
    BarUnit,
    Elevation,
    ElevationRefused,
    elevation_jpeg,
    elevation_scale,
)
from generator.drawing.photograph_jpeg import DPI, Jpeg, plain_jpeg
from generator.drawing.photograph_marks import Marked, MarkedArea, marked_jpeg
from generator.measure.photographs.reckoning import PhotographFigures

if TYPE_CHECKING:
    from generator.questionnaire.photographed import MarkedArea as AnsweredArea
    from generator.questionnaire.scopes import ScopePath

ROOM_MM: Final = (128.0, 96.0)
"""What a photograph takes of a page at most, wide and high."""
_COARSER: Final = ((80, 110), (40, 150))  # so many pictures at least in a paper, and their dots an inch then


def plain_picture(one: PhotographFigures, room_mm: tuple[float, float] = ROOM_MM, dpi: int = DPI) -> Jpeg | None:
    """The photograph as it is, in colour; None where there is no picture."""
    read = one.picture.read
    return None if read is None else plain_jpeg(read, width_mm(one, room_mm), dpi)


def marked_picture(one: PhotographFigures, dpi: int = DPI) -> Marked | None:
    """The photograph with its areas hatched and its reference shown; None without a picture or marks that hold."""
    read = one.picture.read
    if read is None or not shows_marks(one):
        return None
    return marked_jpeg(read, marked_areas(one), width_mm(one), _targets(one), dpi)


def shows_marks(one: PhotographFigures) -> bool:
    """Whether there is a picture with areas on it that hold."""
    return one.picture.read is not None and one.picture.marks_hold and bool(one.letters)


def has_elevation(one: PhotographFigures) -> bool:
    """Whether the reference allows what is marked to be turned square on."""
    read, view = one.picture.read, one.view
    if read is None or view is None or not one.is_scaled or not one.letters:
        return False
    outlines = [area.outline for area in one.picture.asked.areas]
    try:
        elevation_scale((read.width_px, read.height_px), view.reference, outlines, view.face_factor)
    except ElevationRefused:
        return False
    return True


def elevation_picture(one: PhotographFigures, dpi: int = DPI, unit: BarUnit = METRE) -> Elevation | None:
    """What is marked, square on and to a scale; None where the reference does not allow it."""
    read, view = one.picture.read, one.view
    if read is None or view is None or not has_elevation(one):
        return None
    return elevation_jpeg(read, view.reference, marked_areas(one), view.face_factor, dpi=dpi, unit=unit)


def pictures_by_name(one: PhotographFigures) -> Iterator[tuple[str, bytes]]:
    """A photograph as the papers show it, and square on where its reference allows, each by a file's name."""
    marked = marked_picture(one)
    shown = plain_picture(one) if marked is None else marked.jpeg
    if shown is not None:
        yield f"{one.id}.jpg", shown.data
    elevation = elevation_picture(one)
    if elevation is not None:
        yield f"{one.id}-elevation.jpg", elevation.jpeg.data


def dots_an_inch(pictures: int) -> int:
    """How fine the pictures of a paper are, by how many it holds: a paper of many stays small enough to send."""
    return next((dpi for least, dpi in _COARSER if pictures >= least), DPI)


def width_mm(one: PhotographFigures, room_mm: tuple[float, float] = ROOM_MM) -> float:
    """How wide a photograph is printed: to the room there is, whichever way it is held."""
    read = one.picture.read
    assert read is not None
    return min(room_mm[0], room_mm[1] * read.width_px / read.height_px)


def marked_areas(one: PhotographFigures) -> list[MarkedArea]:
    """The areas of a photograph as they are drawn."""
    areas = one.picture.asked.areas
    hatches = hatches_of(areas)
    return [MarkedArea(area.letter, hatches[area.letter], area.outline, area.without) for area in areas]


def hatches_of(areas: Iterable[AnsweredArea]) -> dict[str, Pattern]:
    """A hatch for each letter while there are enough; else one for each work, and from the first again."""
    works: dict[str, ScopePath] = {area.letter: area.work for area in areas}
    order = {work: place for place, work in enumerate(dict.fromkeys(works.values()))}
    enough = len(works) <= len(PATTERNS)
    places = (place if enough else order[work] for place, work in enumerate(works.values()))
    return {letter: PATTERNS[place % len(PATTERNS)] for letter, place in zip(works, places, strict=True)}


def _targets(one: PhotographFigures) -> list[tuple[float, float]]:
    """What was taped, as shares of the picture, where it gives figures: corners, or points."""
    reference = one.picture.asked.asked.reference
    if reference is None or not one.is_scaled:
        return []
    spots = reference.corners or [point.at for point in reference.points or ()]
    return [(float(x), float(y)) for x, y in spots]
