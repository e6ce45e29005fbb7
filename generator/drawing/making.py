"""The pictures of making putty stuff, hydraulic mortar and limewash."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from generator.drawing.annotate import arc, arrow
from generator.drawing.model import Circle, Line, Polygon, Polyline, rectangle
from generator.drawing.scene import (
    BOLD,
    GROUND,
    OUTLINE,
    Picture,
    can,
    drops,
    ground,
    lump,
    mound,
    paddle,
    sand,
    sheet,
    tub,
    turning,
)


def _turned_dry() -> Picture:
    heap = mound(7.0, 22.0, 6.6)
    yield from sand(heap)
    yield Polygon((*heap[:9], (heap[8][0] - 1.8, GROUND)), 0.0, 0.0)
    yield from arrow(arc((14.5, 9.4), 7.0, 205, 335, 14))
    yield ground()


def _wetted() -> Picture:
    yield from tub(7.5, 21.0, 6.0, 8.6)
    yield from paddle(11.6, 1.6, 11.6)
    yield from can(17.6, 3.4)
    yield from drops(16.6, 4.2, 8.2)
    yield ground()


def _stood() -> Picture:
    yield from tub(7.5, 21.0, 6.0, 8.2)
    yield Polyline(((6.4, 7.6), (7.2, 5.4), (14.2, 4.2), (21.3, 5.4), (22.1, 7.6)), 1.2)
    yield ground()


def _stirred() -> Picture:
    yield from tub(8.5, 23.5, 5.6, 8.2)
    yield from paddle(16.0, 1.4, 11.6)
    yield from turning(16.0, 3.8)
    yield ground()


def _milled() -> Picture:
    yield from sand(rectangle(6.5, 9.4, 25.5, GROUND))
    yield Polyline(((5.6, 7.2), (5.6, GROUND), (26.4, GROUND), (26.4, 7.2)), BOLD)
    yield Line(16.0, 1.6, 16.0, GROUND, BOLD)
    yield Line(9.6, 8.4, 22.4, 8.4, BOLD)
    for x in (10.4, 21.6):
        yield Circle(x, 8.4, 3.4, BOLD, 1.0)
        yield Circle(x, 8.4, 0.7, 0.0, 0.0)
    yield from turning(16.0, 4.2)


def _banked() -> Picture:
    yield from sand(mound(6.5, 25.5, 7.4))
    yield from sheet(4.5, 27.5, 9.6)
    yield ground()


def _knocked_up() -> Picture:
    yield from sand(mound(6.0, 22.0, 5.4))
    # a beater: it falls on the heap, again and again
    yield Line(28.4, 3.4, 16.0, 6.6, BOLD)
    yield Polygon(((13.2, 6.2), (16.6, 5.0), (17.6, 7.8), (14.2, 9.0)), OUTLINE, 0.0)
    yield from arrow(((12.0, 1.6), (11.2, 5.6)))
    yield ground()


def _strained() -> Picture:
    yield from tub(8.5, 23.5, 7.4, 10.4)
    yield Polyline(((10.2, 2.6), (10.2, 6.4), (21.8, 6.4), (21.8, 2.6)), BOLD)
    for x in (12.0, 14.0, 16.0, 18.0, 20.0):
        yield Line(x, 6.0, x, 6.8, BOLD)
    for x, size in ((13.4, 0.7), (15.6, 0.8), (17.9, 0.65)):
        yield Polygon(lump(x, 5.2, size).points, OUTLINE, 1.0)
    yield from drops(16.0, 7.4, 10.2)
    yield ground()


MAKING: Final[Mapping[str, Callable[[], Picture]]] = {
    "turn-dry": _turned_dry,
    "wet": _wetted,
    "stand": _stood,
    "stir": _stirred,
    "mill": _milled,
    "bank-stuff": _banked,
    "knock-up": _knocked_up,
    "strain": _strained,
}
