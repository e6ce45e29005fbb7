"""The cards of a mix page as rows of cells: in one column, in two, alone on a page, or told in pictures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import zip_longest
from typing import Final

from generator.document.card import Card, Count, Step
from generator.document.model import Inlines, Strong, plain_text
from generator.drawing.measures import GAP_MM, LEAST_BOX_MM, boxes_sketched, jug_sketched, mark
from generator.drawing.model import Drawing, Sketch
from generator.drawing.steps import step_sketched
from generator.render.word.mix_measure import (
    ABOVE_BASELINE,
    SIDE,
    Cell,
    Line,
    Span,
    TooWide,
    held,
    spans,
    width_of,
)
from generator.render.word.xml import TWIPS_PER_MM, TWIPS_PER_PT, twips
from generator.values import Struct, replace

LEAST: Final = 12
"""The least type of anything on the page, in points: read at arm's length."""

PICTURES_ACROSS: Final = 4

_BOX_MM: Final = 7.5
_CLEAR_MM: Final = 0.2
_MARK_MM: Final = 10.0
_HANG: Final = 6.0
FRAME: Final = 12
"""The rule round a card, in eighths of a point."""

_FINE: Final = 6
SEAMS: Final = (("left", 4), ("right", 4))
"""Rules as black as the ground of cells, so that no paper shows between them."""

_SLACK: Final = twips(0.4)
_APART: Final = twips(2)
_LOW: Final = 6 / 54
_COUNT_PITCH: Final = 44 / 54

Row = tuple[Cell, ...]


class Type(Struct, frozen=True):
    """The sizes of type on a card, in points, from that of its text; width of pictures, 0 for a whole cell.

    `apart_mm` stands between great figures one above the other, beyond what their lines leave; with it words keep
    clear of those beside them.
    """

    body: int
    picture_mm: int = 0
    apart_mm: float = 0.0

    @property
    def clear(self) -> int:
        """Between words and what stands beside them, besides the sides of their cells: a line read on would mislead."""
        return _APART if self.apart_mm else 0

    @property
    def name(self) -> int:
        """Walls and materials."""
        return round(self.body * 7 / 6)

    @property
    def ref(self) -> int:
        """The number of a mix."""
        return self.body * 2

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
        return math.ceil(self.count * _COUNT_PITCH * TWIPS_PER_PT)


class CardRows(Struct, frozen=True):
    """A card laid out: its columns and its rows of cells, framed.

    `head` are the columns of its first row where those are its own: a table of its own then, as no cells are merged.
    """

    widths: tuple[int, ...]
    rows: tuple[Row, ...]
    head: tuple[int, ...] = ()


def column(card: Card, width: int, type_: Type) -> CardRows:
    """A card in one column: head, counts, water and steps, use and what it makes, facts."""
    rows = (
        Cell(_head(card, width, type_)),
        Cell((*_counted(card.counts, width, type_), *_texts(card.added, type_))),
        Cell((*_texts((card.water,), type_), *_listed(card.steps, type_, 0, ruled=True))),
        Cell((*_use(card, type_), *_texts((_made(card),), type_))),
        Cell(_texts(card.facts, type_)),
    )
    return _framed((width,), tuple((cell,) for cell in rows), card)


def paired(card: Card, width: int, type_: Type) -> CardRows:
    """A card in two columns: counts and water beside steps, use and what it makes beside facts."""
    half = width // 2
    rows = (
        _head_row(card, type_)[:2]
        if not card.notes
        else (Cell(_head(card, half, type_)), Cell(_texts(card.notes, type_))),
        (
            Cell((*_counted(card.counts, half, type_), *_texts(card.added, type_), *_watered(card, half, type_))),
            Cell(_listed(card.steps, type_, 0)),
        ),
        (Cell((*_use(card, type_), *_texts((_made(card),), type_))), Cell(_texts(card.facts, type_))),
    )
    return _framed((half, width - half), rows, card)


def alone(card: Card, width: int, type_: Type) -> CardRows:
    """A card with a page of its own: counts side by side, and the pictures of its steps."""
    shown = max(twips(type_.picture_mm) + 2 * SIDE + type_.clear + _SLACK, width // 6)
    widths = (width // 2 - shown, width - width // 2 - shown, shown, shown)
    parts, rooms = (card.counts[:1], card.counts[1:]), (widths[0] - type_.clear, widths[1])
    unit = min(_unit(part, room, type_) for part, room in zip(parts, rooms, strict=True))
    left, right = (_counted(part, room, type_, unit) for part, room in zip(parts, rooms, strict=True))
    watered = _watered(card, rooms[0], type_)
    told = Cell((*left, *watered), clear=type_.clear), Cell((*right, *_texts(card.added, type_)))
    used = (
        Cell(_use(card, type_), clear=type_.clear),
        Cell(_texts((_made(card), *card.facts), type_), clear=_APART),
    )
    pictures = [_pictured(step, number, widths[2], type_) for number, step in enumerate(card.steps, 1)]
    pairs = [*zip_longest(pictures[::2], pictures[1::2], fillvalue=Cell())]
    rows = [(*texts, *pair) for texts, pair in zip_longest((told, used), pairs, fillvalue=(Cell(), Cell()))]
    head = _head_row(card, type_)
    if card.notes:
        return _framed(widths, (head, *rows), card)
    return replace(_framed(widths, (head[:2], *rows), card), head=(widths[0], sum(widths[1:])))


def pictured(card: Card, width: int, type_: Type) -> CardRows:
    """A card told in pictures, four to a row: counts, names and water above them, facts below.

    Steps without a picture, and those after the eighth, follow the facts.
    """
    widths = _quarters(width)
    shown = card.steps[: 2 * PICTURES_ACROSS]
    cells = [_pictured(step, number, widths[0], type_) for number, step in enumerate(shown, 1)]
    rest = _listed(card.steps[len(shown) :], type_, len(shown))
    told = (*_texts((_made(card), *card.facts), type_), *rest)
    each = math.ceil(len(told) / PICTURES_ACROSS)
    rows = (
        _head_row(card, type_),
        _measured(card, widths, type_),
        _filled(cells[:PICTURES_ACROSS]),
        _filled(cells[PICTURES_ACROSS:]),
        _filled([Cell(told[first : first + each]) for first in range(0, len(told), each)]),
    )
    return _framed(widths, rows, card, seams=(2, 3))


# --- the head ---------------------------------------------------------------------------------------------


def _black(card: Card) -> bool:
    return card.ground == "putty"


def _head(card: Card, width: int, type_: Type) -> tuple[Line, ...]:
    """Mark, number and walls, on one line where that holds them."""
    number, walls = _numbered(card, type_), Span(held(card.walls), type_.name, True)
    one = (*number, Span("  ", type_.name), walls)
    fits = width_of(one) <= width - 2 * SIDE - _SLACK
    return (Line(one),) if fits else (Line(number), Line((walls,)))


def _numbered(card: Card, type_: Type) -> tuple[Span | Drawing, ...]:
    shape = mark(card.mark, card.ground, _MARK_MM * type_.body / LEAST, card.mark_told)
    return shape, Span(" ", type_.ref), Span(card.ref, type_.ref, True)


def _head_row(card: Card, type_: Type) -> Row:
    """Number, wall and notes beside each other, the wall on the line of the number."""
    head = Line(_numbered(card, type_))
    walls = Line((Span(card.walls, type_.name, True),), before=head.high - round(type_.name * 1.4 * TWIPS_PER_PT))
    half = math.ceil(len(card.notes) / 2)
    notes = (Cell(_texts(part, type_)) for part in (card.notes[:half], card.notes[half:]))
    return (Cell((head,)), Cell((walls,)), *notes)


# --- counts -----------------------------------------------------------------------------------------------


def _made(card: Card) -> Inlines:
    return (*card.makes, *card.panel)


def _counted(counts: Sequence[Count], width: int, type_: Type, unit: int = 0) -> tuple[Line, ...]:
    """Each count under its name, its boxes after it on the same line; units in one size, which may be told."""
    lines: list[Line] = []
    unit = unit or _unit(counts, width, type_)
    for count in counts:
        number = _number(count, type_, unit)
        room = _room_beside(number, width, type_)
        picture = _measure(count, room / TWIPS_PER_MM, type_)
        pitch = max(type_.count_pitch, math.ceil(twips(picture.height_mm) / ABOVE_BASELINE))
        lines += [
            *_named(count, width - 2 * SIDE - _SLACK, type_),
            Line((*number, Span(" ", type_.ref), picture), pitch=pitch),
        ]
    return tuple(lines)


def _named(count: Count, room: int, type_: Type) -> tuple[Line, ...]:
    """The name and what is told of it, on one line where that holds them."""
    name, told = (Span(count.name, type_.name, True),), spans(count.told, type_.body)
    one = (*name, Span(" ", type_.body), *told)
    return (Line(one),) if told and width_of(one) <= room else (Line(name), *((Line(told),) if told else ()))


def _unit(counts: Sequence[Count], width: int, type_: Type) -> int:
    """The size of the units of counts under one another: smaller where a jug would leave the line of its count."""
    poured = [count for count in counts if count.boxes is None]
    rooms = (_room_beside(_number(count, type_, type_.ref), width, type_) for count in poured)
    fits = all(twips(_jug(count, type_).width_mm) <= room for count, room in zip(poured, rooms, strict=True))
    return type_.ref if fits else type_.name


def _room_beside(number: tuple[Span, ...], width: int, type_: Type) -> int:
    """What is left on the line of a number."""
    return width - 2 * SIDE - width_of((*number, Span(" ", type_.ref))) - _SLACK


def _jug(count: Count, type_: Type) -> Sketch:
    return jug_sketched(1.0, 0.8 * type_.count_pitch * ABOVE_BASELINE / TWIPS_PER_MM, _told(count, type_))


def _told(count: Count, type_: Type) -> str:
    return f"{''.join(span.text for span in _number(count, type_))} {count.name}"


def _number(count: Count, type_: Type, unit: int = 0) -> tuple[Span, ...]:
    """The count in the largest type, set low so that an exact line holds the whole of it; its unit's size told."""
    low, size = round(type_.count * _LOW * 2) / 2, unit or type_.ref
    number = Span(count.number, type_.count, True, low)
    return (number,) if count.boxes is not None else (number, Span(f"\u00a0{count.unit}", size, True, low))


def _measure(count: Count, room_mm: float, type_: Type) -> Sketch:
    """The boxes of a count, in a row as large as the room allows, or the jug; told as the count itself."""
    if count.boxes is None:
        return _jug(count, type_)
    across = math.ceil(count.boxes)
    size = min(_BOX_MM * type_.body / LEAST, (room_mm - _CLEAR_MM + GAP_MM) / across - GAP_MM)
    if room_mm < LEAST_BOX_MM:
        raise TooWide
    return boxes_sketched(
        count.fill, count.boxes, max(round(size - 0.05, 1), LEAST_BOX_MM), room_mm, _told(count, type_)
    )


def _measured(card: Card, widths: tuple[int, ...], type_: Type) -> Row:
    """Counts, boxes, names and water in columns of their own, each count on one level."""
    numbers: list[Line] = []
    drawn: list[Line] = []
    names: list[tuple[Line, Line]] = []
    for count in card.counts:
        numbers.append(Line(_number(count, type_), pitch=type_.count_pitch))
        drawn.append(Line((_measure(count, widths[1] / TWIPS_PER_MM - 0.1, type_),)))
        names.append((Line((Span(count.name, type_.name, True),)), Line(spans(count.told, type_.body))))
    texts = [Cell(name).height(widths[2]) - Cell().height(0) for name in names]
    columns = [line.high for line in numbers], [line.high for line in drawn], texts
    levels = [max(heights) + twips(type_.apart_mm) for heights in zip(*columns, strict=True)]
    befores = [_befores(heights, levels) for heights in columns]
    foot = (Line((), pitch=twips(type_.apart_mm)),) if type_.apart_mm else ()
    return (
        Cell((*_set_off(numbers, befores[0]), *foot)),
        Cell(_set_off(drawn, befores[1]), flush=True),
        Cell(
            (
                *(
                    line
                    for pair, before in zip(names, befores[2], strict=True)
                    for line in (replace(pair[0], before=before), pair[1])
                ),
                *_texts(card.added, type_),
            )
        ),
        Cell(_beside(card, widths[3], type_)),
    )


def _befores(heights: Sequence[int], levels: Sequence[int]) -> list[int]:
    """The blank before each item of a column so that it stands in the middle of its level."""
    over = [(level - height) // 2 for height, level in zip(heights, levels, strict=True)]
    return [mine + above for mine, above in zip(over, (0, *over), strict=False)]


def _set_off(lines: Sequence[Line], befores: Sequence[int]) -> tuple[Line, ...]:
    return tuple(replace(line, before=before) for line, before in zip(lines, befores, strict=True))


# --- texts ------------------------------------------------------------------------------------------------


def _texts(told: Sequence[Inlines], type_: Type) -> tuple[Line, ...]:
    return tuple(Line(spans(content, type_.body)) for content in told if content)


def _watered(card: Card, width: int, type_: Type) -> tuple[Line, ...]:
    """What is told of water, larger where that still is one line."""
    large = spans(card.water, type_.name)
    return (Line(large),) if width_of(large) <= width - 2 * SIDE - _SLACK else _texts((card.water,), type_)


def _use(card: Card, type_: Type) -> tuple[Line, ...]:
    return Line((Span(held(card.use_by), type_.use, True),)), *_texts((card.use_told,), type_)


def _beside(card: Card, width: int, type_: Type) -> tuple[Line, ...]:
    """Water and use-by under each other in a narrow column, as large as it allows."""
    room = width - 2 * SIDE - _SLACK
    water = card.water
    large = plain_text(water[:1]) if water and isinstance(water[0], Strong) else ""
    size = _largest((large, card.use_by), type_, room)
    if not size and large:  # a long figure stands among its words
        large, size = "", _largest((card.use_by,), type_, room)
    if not size:
        raise TooWide
    first = (Line((Span(held(large), size, True),)),) if large else ()
    return (
        *first,
        *_texts((water[1:] if large else water,), type_),
        Line((Span(held(card.use_by), size, True),), rule=True),
        *_texts((card.use_told,), type_),
    )


def _largest(texts: Sequence[str], type_: Type, room: int) -> int:
    """The largest size of type in which each text is one line; 0 where none is."""
    return next((size for size in range(type_.use, type_.ref - 1, -1) if _fits(texts, size, room)), 0)


def _fits(texts: Sequence[str], size: int, room: int) -> bool:
    return all(width_of((Span(held(text), size, True),)) <= room for text in texts)


def _listed(steps: Sequence[Step], type_: Type, after: int, *, ruled: bool = False) -> tuple[Line, ...]:
    """Numbered steps, their text hanging beside the number."""
    hang = twips(_HANG * type_.body / LEAST)
    return tuple(
        Line(
            (Span(f"{number}\t", type_.body, True), *spans(step.text, type_.body)), hang=hang, rule=ruled and not index
        )
        for index, (number, step) in enumerate(enumerate(steps, after + 1))
    )


def _pictured(step: Step, number: int, width: int, type_: Type) -> Cell:
    if not step.picture:
        return Cell(_listed((step,), type_, number - 1), clear=type_.clear)
    across = (width - 2 * SIDE) / TWIPS_PER_MM
    if type_.picture_mm > across:
        raise TooWide
    wide = type_.picture_mm or math.floor(across * 10 - 2) / 10
    picture = step_sketched(step.picture, number, step.shows, wide, step.minutes)
    clear = min(type_.clear, width - 2 * SIDE - twips(wide))  # as far as the picture leaves it
    return Cell((Line((picture,)), Line(spans(step.text, type_.body))), clear=clear)


# --- the frame --------------------------------------------------------------------------------------------


def _quarters(width: int) -> tuple[int, ...]:
    each = width // PICTURES_ACROSS
    return (*(each,) * (PICTURES_ACROSS - 1), width - each * (PICTURES_ACROSS - 1))


def _filled(cells: Sequence[Cell]) -> Row:
    return (*cells, *(Cell(),) * (PICTURES_ACROSS - len(cells)))


def _framed(widths: tuple[int, ...], rows: Sequence[Row], card: Card, seams: Sequence[int] = ()) -> CardRows:
    """The rows in a heavy frame, ruled off from one another but where `seams` join a row to the one above."""
    last = len(rows) - 1
    framed: list[Row] = []
    for down, row in enumerate(rows):
        cells: list[Cell] = []
        for along, cell in enumerate(row):
            black = _black(card) and down == 0
            rules = [("top", FRAME if down == 0 else _FINE)] if down not in (1, *seams[1:]) else []
            rules += [("left", FRAME)] if along == 0 else list(SEAMS[:1]) if black else []
            rules += [("bottom", FRAME)] if down == last or (down == 0 and not black) else []
            rules += [("right", FRAME)] if along == len(row) - 1 else list(SEAMS[1:]) if black else []
            cells.append(replace(cell, rules=tuple(rules), black=black))
        framed.append(tuple(cells))
    return CardRows(widths, tuple(framed))
