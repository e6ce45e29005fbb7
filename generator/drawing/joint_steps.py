"""The pictures of a joint raked and filled: wrong on the left under a cross, right beside it under a tick.

Old mortar is ruled level and new mortar dotted, as in the section of a joint.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from generator.drawing.hatch import hatch_marks
from generator.drawing.model import Line, Point, Polygon, Polyline, moved, rectangle
from generator.drawing.scene import BOLD, FRAME, OUTLINE, Picture, sand
from generator.values import replace

_HALF: Final = FRAME[0] / 2
_SHARE: Final = 0.8
_FACE: Final = 3.4
_BACK: Final = 15.0
_BED: Final = (4.6, 8.2)
_TOP, _FOOT = 1.2, 11.6
_RULED: Final = 0.36
"""The weight of rules in old mortar, which a copy in black and white keeps."""


def _units() -> Picture:
    """Two units in section, their face on the left, arrises worn round."""
    (top, foot), worn = _BED, 1.0
    yield Polygon(((_FACE, _TOP), (_BACK, _TOP), (_BACK, top), (_FACE + worn, top), (_FACE, top - worn)), OUTLINE, 1.0)
    lower = ((_FACE, _FOOT), (_BACK, _FOOT), (_BACK, foot), (_FACE + worn, foot), (_FACE, foot + worn))
    yield Polygon(lower, OUTLINE, 1.0)


def _pair(wrong: Callable[[], Picture], right: Callable[[], Picture]) -> Picture:
    """Wrong and right side by side; units lie under what is done to their joint."""
    yield Line(_HALF, 0.2, _HALF, 14.0, OUTLINE)
    inset = (_HALF - _SHARE * (_FACE + _BACK)) / 2
    for left, body in ((inset, wrong), (_HALF + inset, right)):
        for part in (*_units(), *body()):
            yield moved(part, left, 0.3, _SHARE)
    yield Line(6.6, 10.5, 9.4, 12.9, BOLD)
    yield Line(6.6, 12.9, 9.4, 10.5, BOLD)
    yield Polyline(((21.9, 11.8), (23.3, 12.9), (26.1, 10.4)), BOLD)


def _old(points: tuple[Point, ...]) -> Picture:
    """Mortar that stays."""
    yield Polygon(points, OUTLINE, 1.0)
    for mark in hatch_marks(Polygon(points, 0.0, hatch="level")):
        yield replace(mark, weight_mm=_RULED)


def _raked_shallow() -> Picture:
    (top, foot), middle = _BED, sum(_BED) / 2
    yield from _old(((_FACE + 1.0, top), (_BACK, top), (_BACK, foot), (_FACE + 1.0, foot), (_FACE + 4.6, middle)))


def _raked_square() -> Picture:
    yield from _old(rectangle(_FACE + 7.4, _BED[0], _BACK, _BED[1]))


def _smeared() -> Picture:
    (top, foot), old = _BED, _FACE + 7.4
    yield from _old(rectangle(old, top, _BACK, foot))
    smear = (
        (old, top), (old, foot), (_FACE + 1.0, foot), (_FACE, foot + 1.0), (_FACE, foot + 2.4),
        (_FACE - 1.4, foot + 1.2), (_FACE - 1.6, top - 1.2), (_FACE, top - 2.4), (_FACE, top - 1.0), (_FACE + 1.0, top),
    )  # fmt: skip
    yield from sand(smear)


def _held_back() -> Picture:
    (top, foot), old = _BED, _FACE + 7.4
    yield from _old(rectangle(old, top, _BACK, foot))
    yield from sand(rectangle(_FACE + 1.3, top, old, foot))


JOINTS: Final[Mapping[str, Callable[[], Picture]]] = {
    "joint-raked": lambda: _pair(_raked_shallow, _raked_square),
    "joint-filled": lambda: _pair(_smeared, _held_back),
}
