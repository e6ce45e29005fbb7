"""Pictures of steps by their keys in `clauses/operations/`, numbered and framed, alone or in their order."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from typing import Final

from generator.drawing.annotate import lettering, lines_in
from generator.drawing.joint_steps import JOINTS
from generator.drawing.making import MAKING
from generator.drawing.model import (
    Circle,
    Drawing,
    Label,
    Polygon,
    Primitive,
    Primitives,
    Sketch,
    filled,
    moved,
    rectangle,
)
from generator.drawing.scene import FRAME, clock
from generator.drawing.slaking import SCENES, slaking
from generator.drawing.text import POINTS_PER_MM

NUMBER_PT: Final = 12.0
_RING_MM: Final = 2.7
_EDGE_MM: Final = 0.35
_CLEAR_MM: Final = 0.15  # white round a picture, so that no program cuts an edge
_WIDTH_MM: Final = 140.0
_ACROSS: Final = 4
_GAP_MM: Final = 4.0
_TEXT_PT: Final = 8.5
_CLOCKED: Final = frozenset({"turn-dry", "stand", "leave"})
_CLOCK: Final = (27.4, 4.4)
_HOUR, _DAY = 60, 24 * 60
_LINE_MM: Final = 3.8


@dataclass(frozen=True, slots=True)
class StepWords:
    """The steps in order, each the key of its picture, its caption and its minutes; the caution; alternative text.

    In braces: `{steps}`, `{caution}`.
    """

    steps: tuple[tuple[str, str, Decimal | None], ...]
    caution: str
    alt: str


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


def steps_in_order(words: StepWords) -> Drawing:
    """Every step with its caption, four to a row, and the caution below."""
    width = (_WIDTH_MM - (_ACROSS - 1) * _GAP_MM) / _ACROSS
    share = width / FRAME[0]
    parts: list[Primitive] = []
    top = 0.5
    for first in range(0, len(words.steps), _ACROSS):
        row = words.steps[first : first + _ACROSS]
        captions = [lines_in(caption, width - 1.0, _TEXT_PT) for _, caption, _ in row]
        foot = top + FRAME[1] * share + _LINE_MM
        for place, ((key, _, minutes), lines) in enumerate(zip(row, captions, strict=True)):
            left = 0.25 + place * (width - 0.15 + _GAP_MM)
            parts += [_set_off(part, left, top) for part in _picture(key, first + place + 1, share, minutes)]
            parts += lettering(lines, left + 0.5, foot, _TEXT_PT)
        top = foot + _LINE_MM * (max(map(len, captions)) - 1) + 3.0
    caution = lines_in(words.caution, _WIDTH_MM, _TEXT_PT, bold=True)
    parts += lettering(caution, 0.0, top + _LINE_MM - 1.0, _TEXT_PT, bold=True)
    told = "; ".join(f"{number} {caption.rstrip('.')}" for number, (_, caption, _) in enumerate(words.steps, 1))
    alt = filled(words.alt, steps=told, caution=words.caution)
    return Drawing(_WIDTH_MM, round(top + _LINE_MM * len(caution), 2), alt, tuple(parts))


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


def _set_off(part: Primitive, right: float, down: float) -> Primitive:
    if isinstance(part, Label):
        return replace(part, x=part.x + right, y=part.y + down)
    return moved(part, right, down)
