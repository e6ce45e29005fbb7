"""Pictures of steps by their keys in `clauses/operations/`, numbered and framed."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from typing import Final

from generator.drawing.joint_steps import JOINTS
from generator.drawing.making import MAKING
from generator.drawing.model import Circle, Drawing, Label, Polygon, Primitives, Sketch, moved, rectangle
from generator.drawing.scene import FRAME, clock
from generator.drawing.slaking import SCENES, slaking
from generator.drawing.text import POINTS_PER_MM

NUMBER_PT: Final = 12.0
_RING_MM: Final = 2.7
_EDGE_MM: Final = 0.35
_CLEAR_MM: Final = 0.3  # white round a picture, more than a dot at 100 an inch, which a program may cut
_CLOCKED: Final = frozenset({"turn-dry", "stand", "leave"})
_CLOCK: Final = (27.4, 4.4)
_HOUR, _DAY = 60, 24 * 60


def step_picture(
    key: str, number: int, alt: str, width_mm: float = FRAME[0], minutes: Decimal | None = None
) -> Drawing:
    """The picture of a step so many mm wide, its number in a ring (0 for none). KeyError for what is not drawn.

    `minutes` is how long it lasts: a clock shows less than an hour, or a whole day, where the picture has room for it.
    """
    return Drawing(width_mm, _height(width_mm), alt, _picture(key, number, width_mm / FRAME[0], minutes))


def step_sketched(key: str, number: int, alt: str, width_mm: float, minutes: Decimal | None) -> Sketch:
    """The same, not drawn yet."""
    return Sketch(width_mm, _height(width_mm), step_picture, (key, number, alt, width_mm, minutes))


def _height(width_mm: float) -> float:
    return round(FRAME[1] * (width_mm / FRAME[0]), 2)


def _picture(key: str, number: int, share: float, minutes: Decimal | None) -> Primitives:
    """The parts at a share of their size; the edge and the ringed number keep theirs."""
    inset = _EDGE_MM / 2 + _CLEAR_MM
    frame = rectangle(inset, inset, FRAME[0] * share - inset, FRAME[1] * share - inset)
    told = (*_scene(key), *_timed(key, minutes))
    drawn = (Polygon(frame, 0.0, 1.0), *(moved(part, share=share) for part in told), Polygon(frame, _EDGE_MM))
    return (*drawn, *_ringed(number)) if number else drawn


@cache  # each is shown at several sizes
def _scene(key: str) -> Primitives:
    return tuple(slaking(key) if key in SCENES else {**MAKING, **JOINTS}[key]())


def _timed(key: str, minutes: Decimal | None) -> Primitives:
    """The clock of a step: its round is an hour, and a whole round a day."""
    if key not in _CLOCKED or minutes is None or _HOUR <= minutes != _DAY:
        return ()
    return tuple(clock(*_CLOCK, 1.0 if minutes == _DAY else float(minutes / _HOUR)))


def _ringed(number: int) -> Primitives:
    place = _RING_MM + 1.0
    return (
        Circle(place, place, _RING_MM, _EDGE_MM, 1.0),
        Label(place, place + 0.345 * NUMBER_PT / POINTS_PER_MM, str(number), NUMBER_PT, "middle", True),
    )
