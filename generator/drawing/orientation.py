"""Which way walls face: strokes round a compass, across the way each looks, and no plan of their building.

Lengths are to scale where the width of a face is known. A stroke has as many ticks as its exposure counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise, product
from typing import Final

from generator.drawing.annotate import Scale, arc, bar_fields, text_width_mm
from generator.drawing.model import (
    MEDIUM,
    THIN,
    Box,
    Drawing,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    bounds,
    filled,
    moved,
)
from generator.values import METRIC, Spelling, Struct, field, replace

WIDTH_MM: Final = 54.0
"""The narrow column of the page to read first."""

SCALES: Final = tuple(
    Scale(1, real) for real in (100, 125, 150, 200, 250, 300, 400, 500, 600, 750, 1000, 1250, 1500, 2000, 2500, 5000)
)
_LONGEST_MM: Final = 22.0
_READ_MM: Final = 9.0
_UNKNOWN_MM: Final = 8.0
_STROKE: Final = 0.9
_DASH: Final = (1.6, 1.0)
_PT: Final = 8.5
_CAP: Final = 2.2
_NEAREST: Final = 7.0
_RADII: Final = tuple(_NEAREST + place for place in range(19))
_OFFS: Final = (0.0, 4.0, -4.0, 8.0, -8.0, 12.0, -12.0, 16.0, -16.0)
_BETWEEN: Final = (202.5, 157.5, 247.5, 112.5, 292.5, 67.5, 337.5, 22.5)
_ROUND_MM: Final = 9.0
_BEYOND_RING: Final = 5.0
_CLEAR: Final = 1.2
_TICK: Final = (0.9, 2.7)
_TICK_APART: Final = 1.5
_LABEL_OFF: Final = 3.6
_END_IN: Final = 2.4
_ROSE: Final = 4.6
_NORTH_UP: Final = 3.4


class Side(Struct, frozen=True):
    """A face to draw: what it is called by, the way it looks in degrees (None on all sides), its width, its ticks."""

    label: str
    degrees: float | None
    width_m: float | None
    ticks: int


class OrientationWords(Struct, frozen=True):
    """The letter of north, and the scale, told with `{scale}`."""

    north: str
    scale: str


class NoRoom(ValueError):
    """So many faces look one way that no scale keeps them apart."""


class _Placed(Struct):
    """What lies round the centre so far: strokes, the boxes of labels, and how far all of it reaches."""

    strokes: list[tuple[Point, Point]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=lambda: [Box(-1.2, -_ROSE - _NORTH_UP, 1.2, _ROSE)])
    parts: list[Primitive] = field(default_factory=list)

    def put(self, box: Box, *parts: Primitive) -> None:
        """Adds what is drawn of a face, with the box of its label."""
        self.boxes.append(box)
        self.parts += parts

    def takes(self, stroke: Sequence[Point], box: Box) -> bool:
        """Whether a stroke and its label lie on the paper and clear of all others."""
        half = WIDTH_MM / 2 - 0.4
        if not (-half <= box.left and box.right <= half and -half <= box.top and box.bottom <= half):
            return False
        if any(max(abs(x), abs(y)) > half - _TICK[1] for x, y in stroke):
            return False
        labels = (*self.boxes, box)
        strokes = (*self.strokes, *pairwise(stroke))
        return (
            not any(box.meets(other, _CLEAR) for other in self.boxes)
            and not any(_near(end, label) for label in labels for line in strokes for end in _along(*line))
            and all(
                math.dist(here, there) > _CLEAR + _TICK[1]
                for line in self.strokes
                for here in _along(*line)
                for there in _along(stroke[0], stroke[-1])
            )
        )


def orientation(sides: Sequence[Side], words: OrientationWords, alt: str, spelling: Spelling = METRIC) -> Drawing:
    """The faces round a compass, north up, at the largest scale that keeps them apart, with a bar.

    Those on all sides share a ring. `alt` is told with `{scale}`. NoRoom where no scale does.
    """
    longest = 1000.0 * max((side.width_m or 0.0 for side in sides), default=0.0)
    scales = [scale for scale in SCALES if longest * scale.factor <= _LONGEST_MM]
    # each straight out from the compass if any scale does it that leaves lengths to read, else beside one another
    straight = [scale for scale in scales if longest * scale.factor >= _READ_MM or not longest]
    for scale, offs in (*product(straight, (_OFFS[:1],)), *product(scales, (_OFFS,))):
        placed = _placed(sides, scale, offs)
        if placed is not None:
            return _drawn(placed, sides, scale, words, alt, spelling)
    raise NoRoom(f"{len(sides)} faces")


def _placed(sides: Sequence[Side], scale: Scale, offs: Sequence[float]) -> _Placed | None:
    """Every face in its place, rings first; None where one has none."""
    placed = _Placed()
    rings = [side for side in sides if side.degrees is None]
    if not all(_on_ring(placed, side) for side in rings):
        return None
    placed.parts += [Polyline(arc((0.0, 0.0), _ROUND_MM, 0, 360, 48), _STROKE)] if rings else []
    nearest = _ROUND_MM + _BEYOND_RING if rings else _NEAREST
    longest = sorted((side for side in sides if side.degrees is not None), key=lambda side: -(side.width_m or 0.0))
    return placed if all(_stroke(placed, side, scale, nearest, offs) for side in longest) else None


def _stroke(placed: _Placed, side: Side, scale: Scale, nearest: float, offs: Sequence[float]) -> bool:
    """Puts a face as near to the centre as it goes, beside the way it looks where others have that."""
    u, along = _ways(side.degrees or 0.0)
    half = (side.width_m * 1000.0 * scale.factor if side.width_m else _UNKNOWN_MM) / 2
    for radius, off, beside in product(_RADII, offs, (0, 1, -1)):
        ends = (_at(u, radius, along, off - half), _at(u, radius, along, off + half))
        middle, way = (_at(u, radius, along, off), u) if not beside else _end(ends, along, beside)
        box = _label_box(middle, way, side.label)
        if radius >= nearest and placed.takes(ends, box):
            placed.strokes.append(ends)
            stroke = Polyline(ends, _STROKE, () if side.width_m else _DASH)
            placed.put(box, stroke, *_ticks(u, radius, along, off, side.ticks), _label(box, side.label))
            return True
    return False


def _end(ends: tuple[Point, Point], along: Point, beside: int) -> tuple[Point, Point]:
    """One end of a stroke, short by as much as a label beyond the middle stands off, and the way out of it."""
    end, way = ends[beside > 0], (along[0] * beside, along[1] * beside)
    return (end[0] - way[0] * _END_IN, end[1] - way[1] * _END_IN), way


def _on_ring(placed: _Placed, side: Side) -> bool:
    """Puts the label of what stands free where there is room outside the ring, with its ticks."""
    for bearing in _BETWEEN:
        u, along = _ways(bearing)
        spot = _at(u, _ROUND_MM, along, 0.0)
        box = _label_box(spot, u, side.label)
        if placed.takes((spot,), box):
            placed.put(box, *_ticks(u, _ROUND_MM, along, 0.0, side.ticks), _label(box, side.label))
            return True
    return False


def _ticks(u: Point, radius: float, along: Point, middle: float, count: int) -> Iterator[Line]:
    """Short lines outside a stroke, in its middle."""
    for place in range(count):
        off = middle + (place - (count - 1) / 2) * _TICK_APART
        inner, outer = (_at(u, radius + reach, along, off) for reach in _TICK)
        yield Line(*inner, *outer, MEDIUM)


def _label_box(middle: Point, u: Point, text: str) -> Box:
    """Where a label stands outside the middle of a stroke, the way the face looks."""
    wide, high = text_width_mm(text, _PT) + 0.6, _CAP + 0.6
    reach = _LABEL_OFF + (abs(u[0]) * wide + abs(u[1]) * high) / 2
    x, y = middle[0] + u[0] * reach, middle[1] + u[1] * reach
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _label(box: Box, text: str) -> Label:
    return Label((box.left + box.right) / 2, (box.top + box.bottom + _CAP) / 2, text, _PT, "middle")


# --- on paper -----------------------------------------------------------------------------------------------


def _drawn(
    placed: _Placed, sides: Sequence[Side], scale: Scale, words: OrientationWords, alt: str, spelling: Spelling
) -> Drawing:
    """All of it moved onto the paper, with the compass in the middle and the bar below."""
    lying = [*_rose(words.north), *placed.parts]
    reaches = [bounds(part) for part in lying]
    middle = WIDTH_MM / 2, 1.2 - min(box.top for box in reaches)
    foot = middle[1] + max(box.bottom for box in reaches) + 1.2
    parts = [_set_off(part, *middle) for part in lying]
    told = [side for side in sides if side.width_m]
    bar = list(_bar(scale, foot + 2.0, words, spelling)) if told else []
    height = foot + (7.8 if told else 0.0)
    return Drawing(WIDTH_MM, round(height, 2), filled(alt, scale=str(scale)), (*parts, *bar))


def _rose(north: str) -> Iterator[Primitive]:
    """The compass: a line north and one across it."""
    yield Line(0.0, _ROSE, 0.0, -_ROSE + 2.0, MEDIUM)
    yield Line(-_ROSE + 1.6, 0.0, _ROSE - 1.6, 0.0, THIN)
    yield Polygon(((0.0, -_ROSE), (-1.0, -_ROSE + 2.6), (1.0, -_ROSE + 2.6)), 0.0, 0.0)
    yield Label(0.0, -_ROSE - 0.7, north, _PT, "middle", True)


def _bar(scale: Scale, top: float, words: OrientationWords, spelling: Spelling) -> Iterator[Primitive]:
    unit, real_mm, steps = spelling.scale_bar
    lengths = [step for step in (*steps, *(10 * step for step in steps)) if 2 * step * real_mm * scale.factor <= 24.0]
    step = max(lengths, default=steps[0])
    wide = step * real_mm * scale.factor
    yield from bar_fields(1.0, top, wide, 2, 1.3, THIN)
    yield Label(1.0, top + 4.3, "0", _PT)
    last = f"{2 * step:g} {unit}"
    yield Label(1.0 + 2 * wide, top + 4.3, last, _PT, "middle" if wide > 4.0 else "start")
    yield Label(WIDTH_MM - 0.6, top + 4.3, filled(words.scale, scale=str(scale)), _PT, "end")


def _set_off(part: Primitive, right: float, down: float) -> Primitive:
    if isinstance(part, Label):
        return replace(part, x=part.x + right, y=part.y + down)
    return moved(part, right, down)


# --- shapes -------------------------------------------------------------------------------------------------


def _ways(degrees: float) -> tuple[Point, Point]:
    """The way a face looks on paper, and the way along it."""
    out = math.radians(degrees)
    return (math.sin(out), -math.cos(out)), (math.cos(out), math.sin(out))


def _at(u: Point, radius: float, along: Point, off: float) -> Point:
    return u[0] * radius + along[0] * off, u[1] * radius + along[1] * off


def _along(start: Point, end: Point) -> list[Point]:
    """Spots on a line, half a millimetre apart."""
    count = max(1, math.ceil(math.dist(start, end) / 0.5))
    shares = [place / count for place in range(count + 1)]
    return [(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])) for share in shares]


def _near(spot: Point, box: Box) -> bool:
    reach = 0.7
    return box.left - reach < spot[0] < box.right + reach and box.top - reach < spot[1] < box.bottom + reach
