"""The order of a hot mix in five small pictures."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from generator.drawing.annotate import LINE_MM, arc, lettering, lines_in, ringed
from generator.drawing.model import (
    FINE,
    MEDIUM,
    THICK,
    THIN,
    Drawing,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    filled,
    moved,
)

WIDTH_MM: Final = 145.0
_MARGIN: Final = 1.5
_GAP: Final = 2.5
_FRAME: Final = ((WIDTH_MM - 2 * _MARGIN - 4 * _GAP) / 5, 24.0)
_GROUND: Final = 21.0
_TEXT_PT: Final = 7.5
_PITCH: Final = LINE_MM * _TEXT_PT / 8


@dataclass(frozen=True, slots=True)
class HotMixWords:
    """Captions of the five pictures in order, the caution under them. In braces: `{steps}`, `{caution}`."""

    steps: tuple[str, str, str, str, str]
    caution: str
    alt: str


def hot_mix_order(words: HotMixWords) -> Drawing:
    """Five pictures of a hot mix: ring of sand, quicklime in, water, covered, turned and screened."""
    width, height = _FRAME
    captions = [lines_in(step, width - 6.0, _TEXT_PT) for step in words.steps]
    parts: list[Primitive] = []
    for index, (picture, lines) in enumerate(zip(_PICTURES, captions, strict=True)):
        left = _MARGIN + index * (width + _GAP)
        parts += [moved(part, left, _MARGIN) for part in picture()]
        parts.append(Rect(left, _MARGIN, width, height, THIN))
        parts += ringed(index + 1, left + 2.4, _MARGIN + height + 4.4)
        parts += lettering(lines, left + 5.6, _MARGIN + height + 5.4, _TEXT_PT)
    foot = _MARGIN + height + 5.4 + max(map(len, captions)) * _PITCH
    caution = lines_in(words.caution, WIDTH_MM - 2 * _MARGIN, bold=True)
    parts += lettering(caution, _MARGIN, foot + 1.5, bold=True)
    steps = "; ".join(f"{number} {step}" for number, step in enumerate(words.steps, 1))
    alt = filled(words.alt, steps=steps, caution=words.caution)
    return Drawing(WIDTH_MM, round(foot + 1.5 + LINE_MM * len(caution), 2), alt, tuple(parts))


def _ground() -> Line:
    return Line(1.2, _GROUND, _FRAME[0] - 1.2, _GROUND, MEDIUM)


def _mound(left: float, right: float, height: float) -> tuple[Point, ...]:
    """A heap with a rounded top on the ground."""
    rises = (math.sin(math.pi * step / 20) ** 1.2 for step in range(21))
    return tuple((left + (right - left) * step / 20, _GROUND - height * rise) for step, rise in enumerate(rises))


def _ring() -> Iterator[Primitive]:
    """The ring of sand cut through: a heap on either side of a hollow."""
    middle = _FRAME[0] / 2
    yield Polygon(_mound(2.2, middle - 2.8, 7.2), MEDIUM, 1.0, "dots")
    yield Polygon(_mound(middle + 2.8, _FRAME[0] - 2.2, 7.2), MEDIUM, 1.0, "dots")
    yield _ground()


def _lump(x: float, y: float, size: float) -> Polygon:
    corners = ((-1.0, 0.2), (-0.6, -0.8), (0.3, -1.0), (1.0, -0.3), (0.8, 0.7), (-0.3, 1.0))
    return Polygon(tuple((x + size * a, y + size * b) for a, b in corners), THIN, 1.0)


def _lumps() -> Iterator[Primitive]:
    middle = _FRAME[0] / 2
    base = _GROUND - 0.9
    for x, y, size in (
        (-2.0, 0.0, 0.9), (0.1, 0.0, 0.9), (2.1, 0.0, 0.85),
        (-1.1, -1.6, 0.85), (1.0, -1.6, 0.9), (0.0, -3.1, 0.8),
    ):  # fmt: skip
        yield _lump(middle + x, base + y, size)


def _quicklime() -> Iterator[Primitive]:
    yield from _ring()
    yield from _lumps()
    # a metal bucket being emptied, and what falls from it
    yield Polygon(((16.5, 3.4), (21.4, 5.6), (18.6, 10.4), (15.0, 8.8)), MEDIUM, 1.0)
    for x, y in ((13.9, 9.6), (13.3, 12.3), (14.4, 14.0)):
        yield _lump(x, y, 0.55)


def _water() -> Iterator[Primitive]:
    yield from _ring()
    yield from _lumps()
    # a watering can tipped over the ring
    yield Polygon(((17.6, 3.2), (23.0, 4.6), (21.6, 9.8), (16.2, 8.4)), MEDIUM, 1.0)
    yield Polygon(((16.9, 6.0), (12.6, 5.9), (12.4, 7.0), (16.4, 7.9)), MEDIUM, 1.0)
    yield Line(12.9, 4.9, 12.0, 8.0, THICK)
    yield Polyline(arc((23.2, 5.8), 2.4, -60, 100), MEDIUM)
    for index in range(4):
        x, y = 11.9 + 0.45 * index, 8.6 + 0.25 * (index % 2)
        yield Line(x, y, x - 0.6 + 0.5 * index, y + 5.4, FINE, (1.0, 0.7))


def _covered() -> Iterator[Primitive]:
    yield Polygon(_mound(2.6, _FRAME[0] - 2.6, 9.0), MEDIUM, 1.0, "dots")
    yield _ground()
    for x in (9.4, 13.2, 17.0):
        wisp = (
            *arc((x, 8.7), 1.0, 90, -90, 6),
            *arc((x, 6.7), 1.0, 90, 270, 6),
            *arc((x, 4.7), 1.0, 90, -60, 6),
        )
        yield Polyline(wisp, THIN)


def _turned() -> Iterator[Primitive]:
    # a screen leant on a prop: what passes lies behind it, what does not in front
    foot, head = (8.6, _GROUND), (16.2, 6.2)
    yield Polygon(_mound(11.4, _FRAME[0] - 1.8, 4.8), MEDIUM, 1.0, "dots")
    yield Line(head[0], head[1], 21.6, _GROUND, THIN)
    yield Line(foot[0], foot[1], head[0], head[1], THICK)
    for step in range(1, 12):
        share = step / 12
        x, y = foot[0] + share * (head[0] - foot[0]), foot[1] + share * (head[1] - foot[1])
        yield Line(x, y, x + 1.0, y + 0.5, THIN)
    for x, size in ((6.6, 0.6), (5.0, 0.5)):
        yield _lump(x, _GROUND - 0.6, size)
    # a shovel, and what it throws
    yield Line(2.0, 5.0, 6.4, 10.6, MEDIUM)
    yield Polygon(((5.4, 10.9), (6.9, 9.7), (9.1, 12.0), (8.6, 13.2), (7.4, 13.4)), MEDIUM, 1.0)
    yield _ground()


_PICTURES: Final[tuple[Callable[[], Iterator[Primitive]], ...]] = (
    _ring,
    _quicklime,
    _water,
    _covered,
    _turned,
)
