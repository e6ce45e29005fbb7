"""What a mix is measured in and known by: boxes filled so far, a jug, the gauge box itself, the mark of a mix.

Black and white alone, for a page that is copied and read from afar. Lime is black, quicklime black with white dots,
sand dotted, grit pebbled, water waved, a pozzolan hatched; greys carry nothing.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import lru_cache
from typing import Final, Literal

from generator.drawing.annotate import arc
from generator.drawing.hatch import dots
from generator.drawing.model import (
    Drawing,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Primitives,
    Sketch,
    moved,
    rectangle,
)

Fill = Literal["lime", "quicklime", "sand", "grit", "water", "pozzolan"]
Ground = Literal["putty", "hydraulic", "quicklime"]

LEAST_BOX_MM: Final = 7.0
GAP_MM: Final = 1.9
"""Between boxes: at 1.2 mm they run together at 25 dots an inch."""

MOST_BOXES: Final = 40
_EDGE: Final = 0.5
_CLEAR: Final = 0.1  # white round a picture, so that no program cuts an edge
_WITHIN: Final = 0.2  # and in each box: with it a dot at 100 an inch, which is lost first
_DASH: Final = (1.2, 0.9)
_WAVE: Final = 1.6


def boxes(fill: Fill, count: Decimal, box_mm: float, room_mm: float, alt: str) -> Drawing:
    """So many boxes of one material, a part box filled to its line and dashed above; mm of a box and of the room.

    ValueError for counts outside 0 to 40, boxes under 7 mm and a room that holds none.
    """
    across, _ = _laid(count, box_mm, room_mm)
    whole, rest = divmod(count, 1)
    shares = [1.0] * int(whole) + ([float(rest)] if rest else [])
    pitch = box_mm + GAP_MM
    parts: list[Primitive] = []
    for index, share in enumerate(shares):
        down, right = divmod(index, across)
        place = right * pitch + _CLEAR, down * pitch + _CLEAR
        parts += [moved(part, *place) for part in _box(fill, share, box_mm)]
    return Drawing(*_size(count, box_mm, room_mm), alt, tuple(parts))


def boxes_sketched(fill: Fill, count: Decimal, box_mm: float, room_mm: float, alt: str) -> Sketch:
    """The same, not drawn yet."""
    return Sketch(*_size(count, box_mm, room_mm), boxes, (fill, count, box_mm, room_mm, alt))


def _laid(count: Decimal, box_mm: float, room_mm: float) -> tuple[int, int]:
    """How many boxes stand beside and below each other."""
    if not 0 < count <= MOST_BOXES or box_mm < LEAST_BOX_MM or room_mm < box_mm:
        raise ValueError(
            f"{count} boxes of {box_mm} mm in {room_mm} mm: valid 0 to {MOST_BOXES}, from {LEAST_BOX_MM} mm"
        )
    shown = math.ceil(count)
    across = max(1, min(shown, int((room_mm - 2 * _CLEAR + GAP_MM) / (box_mm + GAP_MM) + 1e-9)))
    return across, math.ceil(shown / across)


def _size(count: Decimal, box_mm: float, room_mm: float) -> tuple[float, float]:
    wide, high = (round(shown * (box_mm + GAP_MM) - GAP_MM + 2 * _CLEAR, 2) for shown in _laid(count, box_mm, room_mm))
    return wide, high


@lru_cache(maxsize=64)  # whole boxes are all alike
def _box(fill: Fill, share: float, size: float) -> tuple[Primitive, ...]:
    return tuple(_box_drawn(fill, share, size))


def _box_drawn(fill: Fill, share: float, size: float) -> Iterator[Primitive]:
    inset = _EDGE / 2 + _WITHIN
    left, right, foot = inset, size - inset, size - inset
    level = foot - (foot - inset) * share
    yield from _filled(fill, rectangle(left, level, right, foot))
    if share < 1.0:
        yield Polyline(((left, level), (left, inset), (right, inset), (right, level)), _EDGE, _DASH)


def _filled(fill: Fill, points: tuple[Point, ...]) -> Iterator[Primitive]:
    black = fill in ("lime", "quicklime")
    yield Polygon(points, _EDGE, 0.0 if black else 1.0)
    yield from _MARKS[fill](points)


def _grains(points: tuple[Point, ...]) -> Iterator[Primitive]:
    yield from dots(points, 1.5, 0.22)


def _pebbles(points: tuple[Point, ...]) -> Iterator[Primitive]:
    yield from dots(points, 2.6, 0.62)


def _pale(points: tuple[Point, ...]) -> Iterator[Primitive]:
    yield from dots(points, 2.6, 0.5, 1.0)


def _waves(points: tuple[Point, ...]) -> Iterator[Primitive]:
    (left, top), (right, foot) = points[0], points[2]
    y = foot - _WAVE / 2
    while y > top + 0.4:
        steps = int((right - left) / 0.4)
        line = ((left + (right - left) * k / steps, y + 0.35 * math.sin(k * 0.4 * math.pi)) for k in range(steps + 1))
        yield Polyline(tuple(line), 0.35)
        y -= _WAVE


def _slants(points: tuple[Point, ...]) -> Iterator[Primitive]:
    (left, top), (right, foot) = points[0], points[2]
    yield from stripes(left, top, right, foot, 2.2, 0.45)


def _none(_: tuple[Point, ...]) -> Iterator[Primitive]:
    yield from ()


_MARKS: Final[Mapping[Fill, Callable[[tuple[Point, ...]], Iterator[Primitive]]]] = {
    "lime": _none, "quicklime": _pale, "sand": _grains, "grit": _pebbles, "water": _waves, "pozzolan": _slants,
}  # fmt: skip


def stripes(left: float, top: float, right: float, foot: float, pitch: float, weight: float) -> Iterator[Line]:
    """Rising lines clipped to a rectangle."""
    offset = left + top + pitch
    while offset < right + foot:
        start = (max(left, offset - foot), min(foot, offset - left))
        end = (min(right, offset - top), max(top, offset - right))
        yield Line(*start, *end, weight)
        offset += pitch


def jug(share: float, height_mm: float, alt: str) -> Drawing:
    """A one-litre jug with its half line, filled to a share: the measure where boxes are too coarse."""
    size = height_mm / 10.0
    body = ((1.0, 0.4), (1.6, 9.7), (7.0, 9.7), (7.6, 0.4))

    def at(y: float) -> tuple[Point, Point]:
        lean = 0.6 * (y - 0.4) / 9.3
        return (1.0 + lean, y), (7.6 - lean, y)

    (left, right), level = at(9.7 - 8.2 * share), 9.7 - 8.2 * share
    half = at(9.7 - 4.1)
    parts: tuple[Primitive, ...] = (
        Polygon(body, 0.5, 1.0),
        *dots((left, right, body[2], body[1]), 1.5, 0.22),
        Line(*left, *right, 0.35),
        Line(half[0][0] - 0.6, half[0][1], half[0][0] + 1.8, half[0][1], 0.7),
        Polyline(body, 0.7),
        Polyline(arc((7.7, 4.6), 2.0, -70, 80), 0.7),
    )
    assert level > 0
    return Drawing(_jug_width(height_mm), height_mm, alt, tuple(moved(part, share=size) for part in parts))


def jug_sketched(share: float, height_mm: float, alt: str) -> Sketch:
    """The same, not drawn yet."""
    return Sketch(_jug_width(height_mm), height_mm, jug, (share, height_mm, alt))


def _jug_width(height_mm: float) -> float:
    return round(10.0 * (height_mm / 10.0), 2)


def gauge_box(height_mm: float, alt: str) -> Drawing:
    """The box that everything is measured in: handles, lines at a half and a quarter, sand struck level in it."""
    size = height_mm / 14.0
    front = rectangle(4.0, 4.0, 20.0, 13.7)
    top = ((4.0, 4.0), (8.0, 0.5), (24.0, 0.5), (20.0, 4.0))
    side = ((20.0, 4.0), (24.0, 0.5), (24.0, 10.2), (20.0, 13.7))
    parts: Primitives = (
        *(Polygon(shape, _EDGE, 1.0) for shape in (front, top, side)),
        *dots(front, 1.5, 0.22),
        *(Polyline(((4.0, y), (20.0, y)), 0.6, _DASH) for y in (8.85, 11.3)),
        *(Line(x, y, x + 3.4, y, 1.0) for x, y in ((1.0, 5.6), (19.8, 5.6))),
    )
    return Drawing(round(25.0 * size, 2), height_mm, alt, tuple(moved(part, share=size) for part in parts))


# --- the mark of a mix ------------------------------------------------------------------------------------

SIGNS: Final = {
    "disc": "●", "triangle": "▲", "ring": "○", "wedge": "▼", "bar": "▬", "lozenge": "◊", "right": "►", "left": "◄",
    "diamond": "♦", "arch": "∩", "square": "■", "frame": "□",
}  # fmt: skip
"""The marks in the order they are given, each with the character that stands for it in print.

Squares come last: counts of boxes are drawn as squares.
"""


_REFERENCE: Final = re.compile(r"\bM([1-9][0-9]*)\b")


_ALL_MIXES: Final = re.compile(r"M[1-9][0-9]*(?:[;,] M[1-9][0-9]*)*")


def tells_mixes(text: str) -> bool:
    """Whether a text is nothing but references of mixes."""
    return _ALL_MIXES.fullmatch(text) is not None


def mark_of(reference: str) -> str:
    """The name of the mark of a mix by its reference, in turn: that of M1 is the first."""
    return list(SIGNS)[(int(reference[1:]) - 1) % len(SIGNS)]


def signed(text: str) -> str:
    """A text in which the sign of a mix stands behind its reference, unparted: `M1 ■`."""
    return _REFERENCE.sub(lambda found: f"{found[0]}\N{NO-BREAK SPACE}{SIGNS[mark_of(found[0])]}", text)


_PLATE: Final = 0.8
_WIDE: Final = {"putty": 13.0, "hydraulic": 10.0, "quicklime": 14.6}
_SHARE: Final = {"putty": 0.78, "hydraulic": 1.0, "quicklime": 0.84}
"""How wide a ground is, and of what size the sign on it: on a plate or in a casing it is a little smaller."""


@lru_cache(maxsize=256)
def mark(name: str, ground: Ground, size_mm: float, alt: str) -> Drawing:
    """The mark of a mix on the ground of its lime, so many mm high: putty black, hydraulic white, quicklime striped.

    The sign is dark on white on each of them, as in print: white on black a disc reads as a ring. Grounds that show
    beside it are wider than high, so that a square keeps its outline. KeyError for a name that is not in `SIGNS`.
    """
    width, share, size = _WIDE[ground], _SHARE[ground], size_mm / 10.0
    parts: list[Primitive] = [Polygon(rectangle(0.0, 0.0, width, 10.0), 0.0, 0.0 if ground == "putty" else 1.0)]
    if ground == "putty":
        parts.append(Polygon(rectangle(_PLATE, _PLATE, width - _PLATE, 10.0 - _PLATE), 0.0, 1.0))
    elif ground == "quicklime":
        parts += stripes(0.0, 0.0, width, 10.0, 1.9, 0.7)
    middle = width / 2 - 5.0 * share, 5.0 - 5.0 * share
    parts += [moved(part, *middle, share) for part in _MARK[name](ground == "quicklime")]
    return Drawing(width * size, size_mm, alt, tuple(moved(part, share=size) for part in parts))


def _solid(points: tuple[Point, ...]) -> Callable[[bool], Iterator[Primitive]]:
    def drawn(cased: bool) -> Iterator[Primitive]:
        if cased:
            yield Polygon(_swollen(points), 0.0, 1.0)
        yield Polygon(points, 0.0, 0.0)

    return drawn


def _hollow(points: tuple[Point, ...], share: float) -> Callable[[bool], Iterator[Primitive]]:
    inner = tuple((5.0 + (x - 5.0) * share, 5.0 + (y - 5.0) * share) for x, y in points)

    def drawn(cased: bool) -> Iterator[Primitive]:
        yield from _solid(points)(cased)
        yield Polygon(inner, 0.0, 1.0)

    return drawn


def _swollen(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """A shape a little larger: a white casing keeps a black mark clear of stripes."""
    return tuple((5.0 + (x - 5.0) * 1.2, 5.0 + (y - 5.0) * 1.2) for x, y in points)


_SQUARE: Final = rectangle(0.9, 0.9, 9.1, 9.1)
_DISC: Final = arc((5.0, 5.0), 4.5, 0, 360, 40)
_ARCH: Final = (
    (1.0, 9.0), *arc((5.0, 5.0), 4.0, 180, 360, 24), (9.0, 9.0),
    (6.6, 9.0), *arc((5.0, 5.0), 1.6, 360, 180, 16), (3.4, 9.0),
)  # fmt: skip
_LOZENGE: Final = ((5.0, 0.2), (9.8, 5.0), (5.0, 9.8), (0.2, 5.0))
_MARK: Final = {
    "square": _solid(_SQUARE),
    "disc": _solid(_DISC),
    "triangle": _solid(((5.0, 0.5), (9.7, 9.0), (0.3, 9.0))),
    "ring": _hollow(_DISC, 0.52),
    "frame": _hollow(_SQUARE, 0.5),
    "wedge": _solid(((5.0, 9.5), (9.7, 1.0), (0.3, 1.0))),
    "bar": _solid(rectangle(0.4, 3.0, 9.6, 7.0)),
    "right": _solid(((9.5, 5.0), (1.0, 9.7), (1.0, 0.3))),
    "left": _solid(((0.5, 5.0), (9.0, 9.7), (9.0, 0.3))),
    "diamond": _solid(_LOZENGE),
    "arch": _solid(_ARCH),
    "lozenge": _hollow(_LOZENGE, 0.5),
}
