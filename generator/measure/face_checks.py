"""What is told of a face held against itself and against the works on it: a finding where two answers lie apart."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import combinations
from typing import Final

from generator.decide.contradictions import openings_m2
from generator.library.findings import Raised
from generator.library.model import Library
from generator.measure.face import MOST_PARTS, Face, Opening, Rectangle, areas_of, face_of, placed_m2
from generator.questionnaire.facts import Facts, View
from generator.values import Range, rounded, spoken

# How far two tapings of one thing may lie apart before somebody looks again (judgement, no published source).
_APART: Final = Decimal("0.1")
_APART_M2: Final = Decimal("0.5")
_WHOLE: Final = Decimal("0.95")
# Works whose openings are asked for, and come off their area.
_LESS_OPENINGS: Final = ("repoint", "plaster", "render", "limewash", "remove")


def of_faces(facts: Facts, library: Library) -> Iterator[Raised]:
    """A finding for each pair of answers about the faces of walls that do not go together."""
    for wall in facts.views("element"):
        yield from _peak(wall)
        face = face_of(wall)
        if face is None:
            continue
        yield from _too_many(wall, "wall_openings")
        yield from _openings(wall, face, library)
        yield from _zone(wall, face)
        for work in wall.inside("work"):
            yield from _too_many(work, "areas_placed")
            yield from _areas(work, face, library)
            yield from _face_area(work, face)
            yield from _less(work, face)


def covers_face(work: View, face: Face) -> bool:
    """Whether the face that a work lies in is the whole of what is drawn for it, less what tapes differ by."""
    area = work.number("face_area_m2")
    return area is not None and area >= face.zone_m2 * _WHOLE


def is_whole(work: View, face: Face) -> bool:
    """Whether a work treats all of the face that is drawn for it."""
    share = work.span("treated_per_cent") if work.text("work") == "repoint" else None
    whole = work.text("work") != "repoint" or (share is not None and share.low >= 100)
    return whole and not areas_of(work) and covers_face(work, face)


def _peak(wall: View) -> Iterator[Raised]:
    head, peak = wall.number("face_height_m"), wall.number("face_peak_m")
    if wall.text("face_top") not in ("", "level") and head is not None and peak is not None and peak <= head:
        yield _both("peak-below-face", wall, _answer(wall, "face_peak_m"), ("face_height_m",), ("face_peak_m",))


def _too_many(here: View, name: str) -> Iterator[Raised]:
    count = len(here.records(name))
    if count > MOST_PARTS:
        fills = (("first", f"{here.facts.names[name].label} ({count})"), ("second", str(MOST_PARTS)))
        yield Raised("face-parts-too-many", here.path, fills, (), here.marks(name))


def _openings(wall: View, face: Face, library: Library) -> Iterator[Raised]:
    placed = [(opening, opening.place) for opening in face.openings if opening.place is not None]
    sides = ("face_width_m", "face_height_m", "face_peak_m")
    for opening, place in placed:
        if not face.holds(place):
            yield _both("opening-off-face", wall, opening_told(wall, opening, library), sides, ("wall_openings",))
    for (one, at), (other, there) in combinations(placed, 2):
        if at.shared_m2(there) > 0:
            fills = (("first", opening_told(wall, one, library)), ("second", opening_told(wall, other, library)))
            yield Raised("openings-overlap", wall.path, fills, (), wall.marks("wall_openings"))
    total = sum((opening.area_m2 for opening in face.openings), Decimal(0))
    if total > face.area_m2:
        yield _both("openings-over-face", wall, _square(wall, total), sides, ("wall_openings",))


def _zone(wall: View, face: Face) -> Iterator[Raised]:
    low, high = face.zone
    if face.is_zoned and (low >= high or high > face.peak):
        names = ("zone_from_m", "zone_to_m")
        yield _both("zone-off-face", wall, _answer(wall, *names), ("face_height_m", "face_peak_m"), names)


def _areas(work: View, face: Face, library: Library) -> Iterator[Raised]:
    areas = areas_of(work)
    for area in areas:
        if not face.holds(area):
            told = place_told(work, area, library)
            yield _both("placed-off-face", work, told, ("face_width_m", "face_height_m", "face_peak_m"), _AREAS)
    treated = _treated(work)
    if areas and treated is not None:
        placed = placed_m2(work, face)
        scattered = work.text("work") == "repoint"  # failed joints lie within what is placed, and do not fill it
        if _more(treated.low, placed) or (not scattered and _more(placed, treated.high)):
            fills = (("first", _square(work, placed)), ("second", work.spoken("treated_area_m2")))
            yield Raised("placed-area-apart", work.path, fills, (), work.marks("areas_placed", "face_area_m2"))
        elif scattered and work.text("treated_how") == "scattered" and treated.likely > placed * _NEARLY_ALL:
            fills = (("first", _square(work, placed)), ("second", work.spoken("treated_area_m2")))
            yield Raised("scattered-fills-hatch", work.path, fills, (), work.marks("areas_placed", "treated_how"))


_AREAS: Final = ("areas_placed",)
_NEARLY_ALL: Final = Decimal("0.9")


def _treated(work: View) -> Range[Decimal] | None:
    """The area worked on, from the least share to the most of repointing."""
    area = work.number("treated_area_m2")
    share = work.span("treated_per_cent") if work.text("work") == "repoint" else None
    if area is None or share is None or not share.likely:
        return None if area is None else Range(area, area, area)
    return share.each(lambda end: area * end / share.likely)


def _face_area(work: View, face: Face) -> Iterator[Raised]:
    area = work.number("face_area_m2")
    drawn = face.zone_m2
    if area is None and _wants_area(work):
        fills = (("first", _square(work, drawn)), ("second", _square(work, face.zone_openings_m2)))
        yield Raised("face-area-offered", work.path, fills, (), work.marks("face_width_m", "face_height_m"))
    elif area is not None and _more(area, drawn) and work.text("position") != "chimney":  # a stack has four faces
        yield _both("face-area-apart", work, _square(work, drawn), ("face_area_m2",), ("face_width_m", "face_height_m"))


def _wants_area(work: View) -> bool:
    """Whether the area of a face is asked for a work, and taken from nowhere else."""
    elsewhere = work.known("open_joint_m") or work.text("treated_area_from") == "photographs"
    return not elsewhere and work.text("work") not in ("flaunching", "enabling")


def _less(work: View, face: Face) -> Iterator[Raised]:
    """The openings listed for a work against those of the wall that it covers."""
    if work.text("work") not in _LESS_OPENINGS or work.number("face_area_m2") is None:
        return
    listed, drawn = openings_m2(work), face.zone_openings_m2
    if _more(listed, drawn) or (covers_face(work, face) and _more(drawn, listed)):
        fills = (("first", _square(work, drawn)), ("second", _square(work, listed)))
        yield Raised("openings-apart", work.path, fills, (), work.marks("wall_openings", "openings"))


def _more(one: Decimal, other: Decimal) -> bool:
    """Whether an area is more than another, by more than tapes differ."""
    return one > other * (1 + _APART) + _APART_M2


def _both(code: str, here: View, first: str, second: tuple[str, ...], first_names: tuple[str, ...]) -> Raised:
    """A finding of what was told first against answers, each with its label."""
    told = _answer(here, *second)
    return Raised(code, here.path, (("first", first), ("second", told)), (), here.marks(*first_names, *second))


def _answer(here: View, *names: str) -> str:
    """Answers as a reader finds them, those that were given."""
    known = [name for name in names if here.known(name)]
    return "; ".join(f"{here.facts.names[name].label} ({here.spoken(name)})" for name in known)


def opening_told(wall: View, opening: Opening, library: Library) -> str:
    """An opening in words: what it is called or else is, its number in the answers, its sides, and its place."""
    told = {"what": called(wall, opening), "number": str(opening.number)}
    if opening.place is not None:
        return library.phrase("face-opening", place=place_told(wall, opening.place, library), **told)
    width, height = (_metres(wall, side) for side in (opening.width, opening.height))
    return library.phrase("face-opening-unplaced", width=width, height=height, **told)


def called(wall: View, opening: Opening) -> str:
    """What an opening is called, or else is."""
    columns = wall.facts.names["wall_openings"].columns
    return opening.name or (columns["kind"].choices.get(opening.kind, "") if columns else "") or opening.kind


def place_told(here: View, area: Rectangle, library: Library) -> str:
    """Where a rectangle lies on the face, in words."""
    sides = {"width": area.width, "height": area.height, "left": area.left, "foot": area.foot}
    return library.phrase("face-place", **{name: _metres(here, side) for name, side in sides.items()})


def _metres(here: View, length: Decimal) -> str:
    return here.facts.say("face_width_m", length)


def _square(here: View, area: Decimal) -> str:
    return spoken(rounded(area, 1), "m²", here.facts.spelling)
