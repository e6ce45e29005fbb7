"""The cards of a mix page as rows of cells: in one column, in two, alone on a page, or told in pictures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Final

from generator.document.card import Card, Count, Step
from generator.document.model import Inlines, Strong, plain_text
from generator.drawing.boxes import count_text
from generator.drawing.measures import GAP_MM, LEAST_BOX_MM, boxes, jug, mark
from generator.drawing.model import Drawing
from generator.drawing.steps import step_picture
from generator.render.word.mix_measure import ABOVE_BASELINE, SIDE, TWIPS, Cell, Line, Span, TooWide, held, spans, width_of
from generator.render.word.xml import TWIPS_PER_MM, twips

LEAST: Final = 12
"""The least type of anything on the page, in points: read at arm's length."""

PICTURES_ACROSS: Final = 4
DECORATION: Final = "·"  # a drawing wants words for it, and what repeats a count beside it has none

_BOX_MM: Final = 7.5
_PICTURE_MM: Final = 33.0
_HANG: Final = 6.0
_HEAVY, _FINE = 12, 6
_SLACK: Final = twips(0.4)
_LOW: Final = 8 / 54
_COUNT_PITCH: Final = 43 / 54

Row = tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Type:
    """The sizes of type on a card, in points, from that of its text."""

    body: int

    @property
    def name(self) -> int:
        """Walls and materials."""
        return round(self.body * 5 / 4)

    @property
    def ref(self) -> int:
        """The number of a mix."""
        return round(self.body * 13 / 6)

    @property
    def use(self) -> int:
        """How long a batch may be used."""
        return round(self.body * 5 / 2)

    @property
    def count(self) -> int:
        """Counts of boxes: 54 at the least, 15 minutes of arc at 3 m."""
        return round(self.body * 9 / 2)

    @property
    def count_pitch(self) -> int:
        """The exact line of a count."""
        return math.ceil(self.count * _COUNT_PITCH * TWIPS)


@dataclass(frozen=True, slots=True)
class CardRows:
    """A card laid out: its columns and its rows of cells, framed."""

    widths: tuple[int, ...]
    rows: tuple[Row, ...]


def column(card: Card, width: int, type_: Type) -> CardRows:
    """A card in one column: head, counts, water and steps, use and what it makes, facts."""
    rows = (
        Cell((*_head(card, type_), *_walls(card, type_))),
        Cell((*_counted(card.counts, width, type_), *_texts(card.added, type_))),
        Cell((*_texts((card.water,), type_), *_listed(card.steps, type_, 0, ruled=True))),
        Cell((*_use(card, type_), *_texts((card.makes,), type_))),
        Cell(_texts(card.facts, type_)),
    )
    return _framed((width,), tuple((cell,) for cell in rows), card)


def paired(card: Card, width: int, type_: Type) -> CardRows:
    """A card in two columns: counts and water beside steps, use and what it makes beside facts."""
    half = width // 2
    rows = (
        (Cell((*_head(card, type_), *_walls(card, type_))), Cell(_texts(card.notes, type_))),
        (
            Cell((*_counted(card.counts, half, type_), *_texts((*card.added, card.water), type_))),
            Cell(_listed(card.steps, type_, 0)),
        ),
        (Cell((*_use(card, type_), *_texts((card.makes,), type_))), Cell(_texts(card.facts, type_))),
    )
    return _framed((half, width - half), rows, card)


def alone(card: Card, width: int, type_: Type) -> CardRows:
    """A card with a page of its own: counts side by side, and the pictures of its steps."""
    widths = _quarters(width)
    parts = (card.counts[:1], card.counts[1:])
    left, right = (_counted(part, each, type_) for part, each in zip(parts, widths, strict=False))
    head: Row = (Cell(_head(card, type_)), Cell(_walls(card, type_)), *_notes(card, type_))
    told = (Cell((*left, *_texts((card.water,), type_))), Cell((*right, *_texts(card.added, type_))))
    used = (Cell(_use(card, type_)), Cell(_texts((card.makes, *card.facts), type_)))
    pictures = [_pictured(step, number, widths[2], type_) for number, step in enumerate(card.steps, 1)]
    pairs = [*zip_longest(pictures[::2], pictures[1::2], fillvalue=Cell())]
    rows = [(*texts, *pair) for texts, pair in zip_longest((told, used), pairs, fillvalue=(Cell(), Cell()))]
    return _framed(widths, (head, *rows), card)


def pictured(card: Card, width: int, type_: Type) -> CardRows:
    """A card told in pictures, four to a row: counts, names and water above them, facts below.

    Steps without a picture, and those after the eighth, follow the facts.
    """
    widths = _quarters(width)
    shown = card.steps[: 2 * PICTURES_ACROSS]
    cells = [_pictured(step, number, widths[0], type_) for number, step in enumerate(shown, 1)]
    rest = _listed(card.steps[len(shown) :], type_, len(shown))
    told = (*_texts((card.makes, *card.facts), type_), *rest)
    each = math.ceil(len(told) / PICTURES_ACROSS)
    rows = (
        (Cell(_head(card, type_)), Cell(_walls(card, type_)), *_notes(card, type_)),
        _measured(card, widths, type_),
        _filled(cells[:PICTURES_ACROSS]),
        _filled(cells[PICTURES_ACROSS:]),
        _filled([Cell(told[first : first + each]) for first in range(0, len(told), each)]),
    )
    return _framed(widths, rows, card, seams=(2, 3))


# --- the head ---------------------------------------------------------------------------------------------


def _black(card: Card) -> bool:
    return card.ground == "putty"


def _head(card: Card, type_: Type) -> tuple[Line, ...]:
    """Mark and number, and what the wall is of."""
    high = type_.ref * 7 / 6 * ABOVE_BASELINE / 72 * 25.4
    shape = mark(card.mark, card.ground, round(high, 1), card.mark_told)
    about = (Span(f"  {card.about}", type_.body),) if card.about else ()
    return (Line((shape, Span("  ", type_.body), Span(card.ref, type_.ref, True), *about)),)


def _walls(card: Card, type_: Type) -> tuple[Line, ...]:
    return (Line((Span(card.walls, type_.name, True),)),)


def _notes(card: Card, type_: Type) -> tuple[Cell, Cell]:
    half = math.ceil(len(card.notes) / 2)
    return Cell(_texts(card.notes[:half], type_)), Cell(_texts(card.notes[half:], type_))


# --- counts -----------------------------------------------------------------------------------------------


def _counted(counts: Sequence[Count], width: int, type_: Type) -> tuple[Line, ...]:
    """Each count under its name, its boxes after it on the same line."""
    lines: list[Line] = []
    for count in counts:
        number = _number(count, type_)
        room = width - 2 * SIDE - width_of((*number, Span(" ", type_.name))) - _SLACK
        picture = _measure(count, room / TWIPS_PER_MM, type_)
        pitch = max(type_.count_pitch, math.ceil(twips(picture.height_mm) / ABOVE_BASELINE))
        lines += [
            *_named(count, width - 2 * SIDE - _SLACK, type_),
            Line((*number, Span(" ", type_.name), picture), pitch=pitch, after=TWIPS),
        ]
    return tuple(lines)


def _named(count: Count, room: int, type_: Type) -> tuple[Line, ...]:
    """The name and what is told of it, on one line where that holds them."""
    name, told = (Span(count.name, type_.name, True),), spans(count.told, type_.body)
    one = (*name, Span(" ", type_.body), *told)
    return (Line(one),) if told and width_of(one) <= room else (Line(name), *((Line(told),) if told else ()))


def _number(count: Count, type_: Type) -> tuple[Span, ...]:
    """The count in the largest type, set low so that an exact line holds the whole of it."""
    low = round(type_.count * _LOW * 2) / 2
    if count.boxes is not None:
        return (Span(count_text(count.boxes), type_.count, True, low),)
    assert count.litres is not None
    return Span(count_text(count.litres), type_.count, True, low), Span("\u00a0l", type_.use, True, low)


def _measure(count: Count, room_mm: float, type_: Type) -> Drawing:
    """The boxes of a count, in a row as large as the room allows, or the jug."""
    if count.boxes is None:
        return jug(1.0, 0.8 * type_.count_pitch * ABOVE_BASELINE / TWIPS_PER_MM, DECORATION)
    across = math.ceil(count.boxes)
    size = min(_BOX_MM * type_.body / LEAST, (room_mm + GAP_MM) / across - GAP_MM)
    if room_mm < LEAST_BOX_MM:
        raise TooWide
    return boxes(count.fill, count.boxes, max(round(size - 0.05, 1), LEAST_BOX_MM), room_mm, DECORATION)


def _measured(card: Card, widths: tuple[int, ...], type_: Type) -> Row:
    """Counts, boxes, names and water in columns of their own, each count on one level."""
    numbers: list[Line] = []
    drawn: list[Line] = []
    names: list[Line] = []
    for count in card.counts:
        picture = _measure(count, widths[1] / TWIPS_PER_MM - 0.2, type_)
        name = Line((Span(count.name, type_.name, True),)), Line(spans(count.told, type_.body))
        text = Cell(name).height(widths[2]) - Cell().height(0)
        level = max(type_.count_pitch, twips(picture.height_mm) + 2 * TWIPS, text)
        numbers.append(Line(_number(count, type_), pitch=type_.count_pitch, before=level - type_.count_pitch))
        spare = level - twips(picture.height_mm) - TWIPS
        drawn.append(Line((picture,), before=spare * 2 // 3, after=spare - spare * 2 // 3))
        names += [replace(name[0], before=(level - text) // 2), replace(name[1], after=level - text - (level - text) // 2)]
    return (
        Cell(tuple(numbers)), Cell(tuple(drawn), flush=True),
        Cell((*names, *_texts(card.added, type_))), Cell(_beside(card, widths[3], type_)),
    )  # fmt: skip


# --- texts ------------------------------------------------------------------------------------------------


def _texts(told: Sequence[Inlines], type_: Type) -> tuple[Line, ...]:
    return tuple(Line(spans(content, type_.body)) for content in told if content)


def _use(card: Card, type_: Type) -> tuple[Line, ...]:
    return Line((Span(held(card.use_by), type_.use, True),)), *_texts((card.use_told,), type_)


def _beside(card: Card, width: int, type_: Type) -> tuple[Line, ...]:
    """Water and use-by under each other in a narrow column, as large as it allows."""
    room = width - 2 * SIDE - _SLACK
    water = card.water
    large = plain_text(water[:1]) if water and isinstance(water[0], Strong) else ""
    size = next((size for size in range(type_.use, type_.ref - 1, -1) if _fits((large, card.use_by), size, room)), 0)
    if not size:
        raise TooWide
    first = (Line((Span(held(large), size, True),)),) if large else ()
    return (
        *first,
        *_texts((water[1:] if large else water,), type_),
        Line((Span(held(card.use_by), size, True),), rule=True),
        *_texts((card.use_told,), type_),
    )


def _fits(texts: Sequence[str], size: int, room: int) -> bool:
    return all(width_of((Span(held(text), size, True),)) <= room for text in texts)


def _listed(steps: Sequence[Step], type_: Type, after: int, *, ruled: bool = False) -> tuple[Line, ...]:
    """Numbered steps, their text hanging beside the number."""
    hang = twips(_HANG * type_.body / LEAST)
    return tuple(
        Line((Span(f"{number}\t", type_.body, True), *spans(step.text, type_.body)), hang=hang, rule=ruled and not index)
        for index, (number, step) in enumerate(enumerate(steps, after + 1))
    )


def _pictured(step: Step, number: int, width: int, type_: Type) -> Cell:
    if not step.picture:
        return Cell(_listed((step,), type_, number - 1))
    across = min((width - 2 * SIDE) / TWIPS_PER_MM, _PICTURE_MM * type_.body / LEAST)
    picture = step_picture(step.picture, number, step.shows, round(across, 1))
    return Cell((Line((picture,)), Line(spans(step.text, type_.body))))


# --- the frame --------------------------------------------------------------------------------------------


def _quarters(width: int) -> tuple[int, ...]:
    each = width // PICTURES_ACROSS
    return (*(each,) * (PICTURES_ACROSS - 1), width - each * (PICTURES_ACROSS - 1))


def _filled(cells: Sequence[Cell]) -> Row:
    return (*cells, *(Cell(),) * (PICTURES_ACROSS - len(cells)))


def _framed(widths: tuple[int, ...], rows: Sequence[Row], card: Card, seams: Sequence[int] = ()) -> CardRows:
    """The rows in a heavy frame, ruled off from one another but where `seams` join a row to the one above."""
    last, across = len(rows) - 1, len(widths) - 1
    framed: list[Row] = []
    for down, row in enumerate(rows):
        cells: list[Cell] = []
        for along, cell in enumerate(row):
            rules = [("top", _HEAVY if down < 2 else _FINE)] if down not in seams or down == seams[0] else []
            rules += [("left", _HEAVY)] if along == 0 else []
            rules += [("bottom", _HEAVY)] if down == last else []
            rules += [("right", _HEAVY)] if along == across else []
            cells.append(replace(cell, rules=tuple(rules), black=_black(card) and down == 0))
        framed.append(tuple(cells))
    return CardRows(widths, tuple(framed))

