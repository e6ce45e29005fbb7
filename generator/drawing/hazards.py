"""The hazard pictograms that lime needs, after the UN's GHS: black on white in a red square on its point.

Symbols and frame: UN, Globally Harmonized System, annex 1 (from memory); the drawing is our own.
"""

from __future__ import annotations

from typing import Final

from generator.drawing.annotate import arc
from generator.drawing.model import Circle, Drawing, Point, Polygon, Primitive, moved

RED: Final = (204, 0, 0)
LEAST_MM: Final = 10.0
"""The least size from point to point: smaller ones cannot be made out (common practice)."""

_FULL: Final = 100.0
_APART_MM: Final = 2.0


def corrosion(size_mm: float, alt: str) -> Drawing:
    """Pictogram GHS05: two vessels that pour on a bar and on a hand, both eaten away. mm from point to point.

    ValueError below 10 mm.
    """
    vessels = (*_vessel(back=(46.0, 24.5), tip=(32.5, 36.5)), *_vessel(back=(54.0, 24.5), tip=(67.5, 36.5)))
    drops = (_drop(32.0, 44.5), _drop(33.0, 51.5), _drop(68.0, 44.5), _drop(67.0, 51.5))
    return _pictogram((*vessels, *drops, _bar(), _hand()), size_mm, alt)


def exclamation(size_mm: float, alt: str) -> Drawing:
    """Pictogram GHS07: an exclamation mark. mm from point to point. ValueError below 10 mm."""
    stem = (
        *arc((50.0, 29.0), 7.0, 180, 360, 12), (53.6, 59.0),
        *arc((50.0, 59.0), 3.6, 0, 180, 8), (43.0, 29.0),
    )  # fmt: skip
    return _pictogram((_solid(stem), Circle(50.0, 72.0, 5.6, 0.0, 0.0)), size_mm, alt)


def beside(left: Drawing, right: Drawing, alt: str) -> Drawing:
    """Two pictograms of one height in one picture, a little apart."""
    across = left.width_mm + _APART_MM
    parts = (*left.primitives, *(moved(part, across, 0.0) for part in right.primitives))
    return Drawing(across + right.width_mm, left.height_mm, alt, parts)


def _solid(points: tuple[Point, ...]) -> Polygon:
    return Polygon(points, 0.0, 0.0)


def _pictogram(symbol: tuple[Primitive, ...], size_mm: float, alt: str) -> Drawing:
    """The symbol, given on a square of 100, in its frame at its size."""
    if size_mm < LEAST_MM:
        raise ValueError(f"size_mm is {size_mm}: valid from {LEAST_MM} up")
    frame = Polygon(((50.0, 4.5), (95.5, 50.0), (50.0, 95.5), (4.5, 50.0)), 5.0, 1.0, rgb=RED)
    share = size_mm / _FULL
    return Drawing(size_mm, size_mm, alt, tuple(moved(part, share=share) for part in (frame, *symbol)))


def _vessel(back: Point, tip: Point) -> tuple[Primitive, ...]:
    """A vessel lying on its side, mouth down at the tip, as an outline with its liquid in it."""
    (x1, y1), (x2, y2) = back, tip
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    ux, uy = (x2 - x1) / length, (y2 - y1) / length

    def at(along: float, across: float) -> Point:
        return x1 + ux * along - uy * across, y1 + uy * along + ux * across

    def tube(inset: float) -> tuple[Point, ...]:
        half = 5.2 - inset
        return at(inset, -half), at(length, -half), at(length, half), at(inset, half)

    rim = (at(length - 1.4, -6.4), at(length, -6.4), at(length, 6.4), at(length - 1.4, 6.4))
    hollow = Polygon(tube(1.4), 0.0, 1.0)
    lower = 1.0 if ux < 0 else -1.0
    liquid = (at(5.0, 0.0), at(length, -3.8 * lower), at(length, -0.6 * lower))
    return _solid(tube(0.0)), hollow, _solid(rim), _solid(liquid)


def _drop(x: float, y: float) -> Polygon:
    return _solid(((x, y - 2.4), *arc((x, y + 0.6), 1.5, -20, 200, 8)))


def _bar() -> Polygon:
    """The bar on the left, with a hollow where the drops fall."""
    return _solid((
        (20.5, 59.0), (26.5, 59.0), (28.5, 62.6), (31.0, 61.2), (32.5, 64.2), (35.0, 61.6), (36.5, 63.0),
        (38.0, 59.0), (47.0, 59.0), (47.0, 67.5), (29.0, 67.5),
    ))  # fmt: skip


def _hand() -> Polygon:
    """The hand on the right, palm down and fingers to the left, its back eaten away."""
    return _solid((
        (51.0, 62.5), (53.5, 59.6), (58.5, 57.8), (62.0, 57.6), (63.6, 61.0), (66.0, 59.4), (67.6, 62.4),
        (70.0, 59.8), (72.0, 58.6), (79.5, 59.0), (71.5, 67.0), (69.0, 67.4), (66.0, 69.6), (57.0, 72.4),
        (55.2, 71.0), (60.6, 68.2), (54.4, 69.4), (53.2, 67.6), (59.4, 65.6), (52.6, 65.4),
    ))  # fmt: skip
