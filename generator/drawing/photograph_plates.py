"""White plates with the letters of areas: where they stand on a picture, and how they are set there.

Lengths are paper millimetres from the top left of the picture.
"""

from __future__ import annotations

import io
import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from PIL import Image

from generator.drawing.area_hatch import away, sides, stretches
from generator.drawing.model import Box, Drawing, Label, Point, Rect
from generator.drawing.png import DPI_LIMITS, MM_PER_INCH, png
from generator.drawing.text import POINTS_PER_MM
from generator.values import Struct

LETTER_PT: Final = 11.0
BENEATH_PT: Final = 8.0
_CAP_EM: Final = 0.716
_FRAME_MM: Final = 0.3
_MARGIN_MM: Final = 0.35
_PAD_MM: Final = 0.9
_APART_MM: Final = 3.0
_GRID: Final = 36
_ABOUT_AS_GOOD: Final = 0.97
_ROOM_SHARE: Final = 0.8  # the frame's corners may come to the outline, not over it

Rings = Sequence[Sequence[Point]]


class Plate(Struct, frozen=True):
    """A plate: its room on the picture, its words, the heart of its area, and a line to it from outside.

    `heart_share` is the place in the area farthest from its edges, as shares of the picture.
    """

    box: Box
    letter: str
    beneath: str
    heart_share: Point
    leader: tuple[Point, Point] | None


def plates_for(
    areas: Sequence[tuple[str, str, Rings]],
    size_mm: tuple[float, float],
    room_share: float = _ROOM_SHARE,
    openings: Sequence[Rings] = (),
) -> tuple[Plate, ...]:
    """A plate for each letter, words and rings: in the heart of its area, or beside it where it is too small.

    It is too small where what lies free about its heart is less than a share of half the plate's diagonal. None stands
    beside its area on an opening.
    """
    hearts = [heart(rings) for _, _, rings in areas]
    taken: list[Box] = []
    plates = []
    for (letter, beneath, rings), (centre, room_mm) in zip(areas, hearts, strict=True):
        size = _plate_size(letter, beneath)
        leader = None
        box = _held(_about(centre, size), size_mm)
        if room_mm < math.hypot(*size) / 2.0 * room_share:
            others = [other for _, _, other in areas if other is not rings]
            found = _beside(rings, size, size_mm, taken, [*others, *openings])
            if found is not None:
                box, leader = found, (_middle(found), centre)
        taken.append(box)
        share = (centre[0] / size_mm[0], centre[1] / size_mm[1])
        plates.append(Plate(box, letter, beneath, share, leader))
    return tuple(plates)


def plated(picture: Image.Image, plate: Plate, width_mm: float) -> None:
    """Sets a plate on a grey picture of so many millimetres."""
    scale = picture.width / width_mm
    box = plate.box
    dpi = min(max(round(scale * MM_PER_INCH), DPI_LIMITS[0]), DPI_LIMITS[1])
    size = box.right - box.left, box.bottom - box.top
    drawn = Drawing(*size, plate.letter, tuple(_marks(plate, 0.0, 0.0)))
    with Image.open(io.BytesIO(png(drawn, dpi))) as set_plate:
        picture.paste(set_plate.convert("L"), (round(box.left * scale), round(box.top * scale)))


def plate_marks(plate: Plate) -> Iterator[Rect | Label]:
    """A plate as parts of a drawing, where it stands."""
    return _marks(plate, plate.box.left, plate.box.top)


def _marks(plate: Plate, left: float, top: float) -> Iterator[Rect | Label]:
    wide, high = plate.box.right - plate.box.left, plate.box.bottom - plate.box.top
    yield Rect(left, top, wide, high, 0.0, 1.0)
    yield Rect(left + _MARGIN_MM, top + _MARGIN_MM, wide - 2.0 * _MARGIN_MM, high - 2.0 * _MARGIN_MM, _FRAME_MM)
    base = top + _MARGIN_MM + _PAD_MM + _cap_mm(LETTER_PT)
    yield Label(left + wide / 2.0, base, plate.letter, LETTER_PT, "middle", True)
    if plate.beneath:
        base += _PAD_MM + _cap_mm(BENEATH_PT)
        yield Label(left + wide / 2.0, base, plate.beneath, BENEATH_PT, "middle")


def heart(rings: Rings) -> tuple[Point, float]:
    """The place in an area farthest from its edges, and how far; of places about as good the one most central.

    Found on a grid, then on a finer one there; once for areas that are alike, as those of a row of houses are.
    """
    return _heart(tuple(map(tuple, rings)))


@lru_cache(maxsize=1024)
def _heart(rings: tuple[tuple[Point, ...], ...]) -> tuple[Point, float]:
    left, top, right, bottom = _bounds(rings[0])
    middle = ((left + right) / 2.0, (top + bottom) / 2.0)
    step_x, step_y = (right - left) / _GRID, (bottom - top) / _GRID
    (x, y), room = _best(rings, (left, top), (step_x, step_y), _GRID, middle)
    finer = _best(rings, (x - step_x, y - step_y), (step_x / 4.0, step_y / 4.0), 8, middle)
    return finer if finer[1] > room else ((x, y), room)


def _best(rings: Rings, corner: Point, step: Point, count: int, middle: Point) -> tuple[Point, float]:
    found: list[tuple[Point, float]] = []
    edges, most = sides(rings), 0.0
    places = [corner[0] + step[0] * column for column in range(1, count)]
    for row in range(1, count):
        y = corner[1] + step[1] * row
        near, at = math.inf, 0.0
        for start, end in stretches(rings, (1.0, 0.0), y):
            for x in places[bisect_right(places, start) : bisect_left(places, end)]:
                least = _ABOUT_AS_GOOD * most
                if near + x - at < least:  # the edge that was near there is not far enough from here
                    continue
                near, at = _room(edges, (x, y), least), x
                if near >= least:
                    found.append(((x, y), near))
                    most = max(most, near)
    good = [place for place in found if place[1] >= _ABOUT_AS_GOOD * most]
    # distances rounded, so that the last digit of another machine chooses no other place
    return min(good, key=lambda place: round(math.dist(place[0], middle), 6), default=(middle, -math.inf))


def _room(edges: list[tuple[Point, Point]], point: Point, least: float) -> float:
    """How far a point lies from the nearest of some sides; from the first that is nearer than enough, if one is.

    That side is tried first next time: it mostly lies near the next point too.
    """
    room = math.inf
    for place, (start, end) in enumerate(edges):
        room = min(room, away(point, start, end))
        if room < least:
            edges.insert(0, edges.pop(place))
            break
    return room


def _bounds(ring: Sequence[Point]) -> tuple[float, float, float, float]:
    across, down = [x for x, _ in ring], [y for _, y in ring]
    return min(across), min(down), max(across), max(down)


def _cap_mm(size_pt: float) -> float:
    return size_pt / POINTS_PER_MM * _CAP_EM


def _plate_size(letter: str, beneath: str) -> Point:
    around = 2.0 * (_MARGIN_MM + _PAD_MM)
    width = max(Label(0.0, 0.0, letter, LETTER_PT, bold=True).width_mm, Label(0.0, 0.0, beneath, BENEATH_PT).width_mm)
    height = _cap_mm(LETTER_PT) + (_PAD_MM + _cap_mm(BENEATH_PT) if beneath else 0.0)
    return max(width, height if not beneath else 0.0) + around, height + around


def _about(centre: Point, size: Point) -> Box:
    left, top = centre[0] - size[0] / 2.0, centre[1] - size[1] / 2.0
    return Box(left, top, left + size[0], top + size[1])


def _middle(box: Box) -> Point:
    return (box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0


def _held(box: Box, size_mm: tuple[float, float]) -> Box:
    """The box moved onto the picture."""
    right = max(0.0, min(box.left, size_mm[0] - (box.right - box.left)))
    down = max(0.0, min(box.top, size_mm[1] - (box.bottom - box.top)))
    return Box(right, down, right + box.right - box.left, down + box.bottom - box.top)


def _beside(
    rings: Rings, size: Point, size_mm: tuple[float, float], taken: Sequence[Box], others: Sequence[Rings]
) -> Box | None:
    """The first place beside an area that lies on the picture and over no other area or plate."""
    barred = [*taken, *(Box(*_bounds(other[0])) for other in others)]
    for box in _places(_bounds(rings[0]), size):
        on_picture = box.left >= 0.0 and box.top >= 0.0 and box.right <= size_mm[0] and box.bottom <= size_mm[1]
        if on_picture and not any(box.meets(other) for other in barred):
            return box
    return None


def _places(around: tuple[float, float, float, float], size: Point) -> Iterator[Box]:
    left, top, right, bottom = around
    middle_x, middle_y = (left + right) / 2.0, (top + bottom) / 2.0
    beyond_x, beyond_y = size[0] / 2.0 + _APART_MM, size[1] / 2.0 + _APART_MM
    yield _about((right + beyond_x, middle_y), size)
    yield _about((left - beyond_x, middle_y), size)
    yield _about((middle_x, top - beyond_y), size)
    yield _about((middle_x, bottom + beyond_y), size)
    for x in (right + beyond_x, left - beyond_x):
        for y in (top - beyond_y, bottom + beyond_y):
            yield _about((x, y), size)
