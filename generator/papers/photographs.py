"""The pictures of photographs for papers: marked, square on to the wall where the reference allows, or as they are."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from generator.drawing.area_hatch import PATTERNS, Pattern
from generator.drawing.photograph_elevation import Elevation, ElevationRefused, elevation_jpeg
from generator.drawing.photograph_jpeg import Jpeg, plain_jpeg
from generator.drawing.photograph_marks import Marked, MarkedArea, marked_jpeg
from generator.measure.photographs.reckoning import PhotographFigures

if TYPE_CHECKING:
    from generator.questionnaire.facts import ScopePath
    from generator.questionnaire.photographs import MarkedArea as AnsweredArea

ROOM_MM: Final = (150.0, 115.0)
"""What a photograph takes of a page at most, wide and high."""


def plain_picture(one: PhotographFigures) -> Jpeg | None:
    """The photograph as it is, in colour; None where there is no picture."""
    read = one.picture.read
    return None if read is None else plain_jpeg(read, width_mm(one))


def marked_picture(one: PhotographFigures) -> Marked | None:
    """The photograph with its areas hatched and its reference shown; None without a picture or areas that hold."""
    read = one.picture.read
    if read is None or not one.picture.marks_hold or not one.letters:
        return None
    return marked_jpeg(read, marked_areas(one), width_mm(one), _targets(one))


def elevation_picture(one: PhotographFigures) -> Elevation | None:
    """What is marked, square on and to a scale; None where the reference does not allow it."""
    read, view = one.picture.read, one.view
    if read is None or view is None or not one.letters or any(told.level == "refusal" for told in one.told):
        return None
    try:
        return elevation_jpeg(read, view.reference, marked_areas(one), view.face_factor)
    except ElevationRefused:
        return None


def width_mm(one: PhotographFigures) -> float:
    """How wide a photograph is printed: to the room there is, whichever way it is held."""
    read = one.picture.read
    assert read is not None
    return min(ROOM_MM[0], ROOM_MM[1] * read.width_px / read.height_px)


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
    """What was taped, as shares of the picture: corners, or points."""
    reference = one.picture.asked.asked.reference
    if reference is None:
        return []
    spots = reference.corners or [point.at for point in reference.points or ()]
    return [(float(x), float(y)) for x, y in spots]
