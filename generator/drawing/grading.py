"""Gradings of sands as curves: what passes each sieve, over the logarithm of its size, with a published envelope."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from generator.drawing.model import (
    MEDIUM,
    THICK,
    THIN,
    Circle,
    Drawing,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    filled,
    rectangle,
)
from generator.drawing.text import POINTS_PER_MM, wrap
from generator.values import Struct

WIDTH_MM: Final = 82.0
MOST_CURVES: Final = 5
_SIZE_PT: Final = 8.5
_PLOT: Final = (10.0, 6.0, 79.0, 52.0)
"""Left, top, right and bottom of the field."""

_KEY_TOP: Final = 64.0
_KEY_PITCH: Final = 4.2
_SAMPLE_MM: Final = 12.0
_KEY_GAP_MM: Final = 2.0
_KEY_ROOM_MM: Final = WIDTH_MM - _PLOT[0] - _SAMPLE_MM - _KEY_GAP_MM - 1.0
_TENTH: Final = 20
_DASHES: Final[tuple[tuple[float, ...], ...]] = ((), (2.4, 1.0), (0.9, 0.9), (3.2, 0.8, 0.6, 0.8), (0.3, 0.9))
_LIMIT_DASH: Final = (0.35, 0.75)

Passing = tuple[tuple[float, float], ...]
"""Sieves in mm, ascending, with what passes them in per cent."""

Limits = tuple[tuple[float, float, float], ...]
"""Sieves in mm with the least and most that pass them in per cent."""


class GradingWords(Struct, frozen=True):
    """What stands at the axes and in the alternative text, in which `{curves}` and `{envelope}` have their place."""

    sieve: str
    passing: str
    alt: str
    curve: str


def grading_curves(
    curves: Sequence[tuple[str, Passing]],
    envelope: tuple[str, Limits],
    words: GradingWords,
) -> Drawing:
    """Gradings by their names, the first heavy, in lines of unlike dashes; least and most of an envelope dotted.

    ValueError for none, for more than `MOST_CURVES`, and for a grading of fewer than two sieves.
    """
    if not 1 <= len(curves) <= MOST_CURVES or any(len(points) < 2 for _, points in curves):
        raise ValueError(f"{len(curves)} gradings: valid 1 to {MOST_CURVES}, each of two sieves or more")
    name, limits = envelope
    sieves = sorted({sieve for _, points in curves for sieve, _ in points} | {sieve for sieve, _, _ in limits})
    field = _Field(math.log(sieves[0]), math.log(sieves[-1]))
    parts: list[Primitive] = [*_axes(field, sieves, words)]
    for side in (1, 2):
        parts.append(Polyline(tuple(field.at(limit[0], limit[side]) for limit in sorted(limits)), MEDIUM, _LIMIT_DASH))
    for number, (_, points) in enumerate(curves):
        parts += _curve(field, points, number)
    keys = [*(label for label, _ in curves), name]
    y = _KEY_TOP
    for number, label in enumerate(keys):
        lines = wrap(label, _KEY_ROOM_MM * POINTS_PER_MM, _SIZE_PT)
        parts += _key(number, lines, y, number == len(curves))
        y += len(lines) * _KEY_PITCH
    told = "; ".join(
        filled(words.curve, name=label, passing=", ".join(f"{sieve:g} mm {per_cent:.0f}" for sieve, per_cent in points))
        for label, points in curves
    )
    return Drawing(WIDTH_MM, y, filled(words.alt, curves=told, envelope=name), tuple(parts))


class _Field(Struct, frozen=True):
    """Where a sieve and what passes it stand; `finest` and `coarsest` are logarithms."""

    finest: float
    coarsest: float

    def at(self, sieve_mm: float, per_cent: float) -> Point:
        """The place of a sieve and what passes it."""
        left, top, right, bottom = _PLOT
        share = (math.log(sieve_mm) - self.finest) / (self.coarsest - self.finest)
        return round(left + share * (right - left), 2), round(bottom - per_cent / 100 * (bottom - top), 2)


def _axes(field: _Field, sieves: Sequence[float], words: GradingWords) -> Iterator[Primitive]:
    left, top, right, bottom = _PLOT
    yield Label(0.5, top - 2.2, words.passing, _SIZE_PT)
    for per_cent in range(0, 101, _TENTH):
        _, y = field.at(sieves[0], per_cent)
        yield Line(left, y, right, y, THIN)
        yield Label(left - 2.0, y + 1.0, f"{per_cent}", _SIZE_PT, "end")
    yield Polygon(rectangle(left, top, right, bottom), MEDIUM)
    last = -math.inf
    for sieve in sieves:
        x, _ = field.at(sieve, 0)
        yield Line(x, bottom, x, bottom + 1.0, MEDIUM)
        label = Label(x, bottom + 4.4, f"{sieve:g}", _SIZE_PT, "middle")
        # a sieve whose figure would touch its neighbour's has a stroke alone
        if x - label.width_mm / 2 > last + 0.8:
            last = x + label.width_mm / 2
            yield label
    yield Label((left + right) / 2, bottom + 8.6, words.sieve, _SIZE_PT, "middle")


def _curve(field: _Field, points: Passing, number: int) -> Iterator[Primitive]:
    places = tuple(field.at(sieve, per_cent) for sieve, per_cent in points)
    yield Polyline(places, _weight(number), _DASHES[number])
    yield from (_mark(x, y, number) for x, y in places)


def _weight(number: int) -> float:
    return THICK if number == 0 else MEDIUM * 1.4


def _mark(x: float, y: float, number: int) -> Primitive:
    """Black dots on the first curve, white ones on all others, of which dashes tell which it is."""
    return Circle(x, y, 0.8, MEDIUM, 0.0 if number == 0 else 1.0)


def _key(number: int, lines: Sequence[str], y: float, is_limit: bool) -> Iterator[Primitive]:
    left = _PLOT[0]
    dash, weight = (_LIMIT_DASH, MEDIUM) if is_limit else (_DASHES[number], _weight(number))
    yield Polyline(((left, y), (left + _SAMPLE_MM, y)), weight, dash)
    if not is_limit:
        yield _mark(left + _SAMPLE_MM / 2, y, number)
    for at, line in enumerate(lines):
        yield Label(left + _SAMPLE_MM + _KEY_GAP_MM, y + 1.0 + at * _KEY_PITCH, line, _SIZE_PT)
