"""A row of the drawing of a programme: a wall with its lanes, access and ends, or the things to order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.drawing.annotate import lines_in
from generator.drawing.model import Label, Primitives
from generator.drawing.programme_labels import (
    CLEAR_MM,
    FALL_MM,
    LETTER_PT,
    RISE_MM,
    Span,
    Written,
    cut,
    inside,
    named,
    one_line,
    rooms,
    width_of,
)
from generator.drawing.programme_lanes import Laid, laid, lanes_of
from generator.drawing.programme_model import Dated, Names, Scale, Task, Wall
from generator.drawing.programme_signs import ARROW_MM, MARK_MM, STOP_MM, bracket, cleared, order, whisker
from generator.values import Struct, replace

NAME_PT: Final = 10.0
_NAME_LINE_MM: Final = 4.2
_NOTE_LINE_MM: Final = 3.7
_PAD_MM: Final = 1.0
_LINE_MM: Final = 3.9
_WHISKER_LINE_MM: Final = 2.5
_LINE_LEFT_MM: Final = 3.0
_BESIDE_MM: Final = 1.2
_KEPT_OFF_MM: Final = 0.5
_HEAD_ROOM_MM: Final = 2.0


class Sign(Struct, frozen=True):
    """Something on a line below the bars: its stretch, what is written by it, and all the room it takes."""

    span: Span
    written: Written | None
    room: Span
    kind: str
    likely: float = 0.0
    cuts: tuple[float, ...] = ()

    def drawn(self, y: float) -> Primitives:
        """The sign at the height of its line's middle, then what is written by it."""
        text = self.written.drawn(y + (RISE_MM - FALL_MM) / 2, y) if self.written else ()
        match self.kind:
            case "access":
                return *bracket(self.span, y), *text
            case "ends" | "goes-on":
                apart = tuple(cleared(x, y) for x in self.cuts)
                return *apart, *whisker(self.span[0], self.likely, self.span[1], y, goes_on=self.kind == "goes-on")
            case _:
                return *order(self.span[0], y - 0.9 * MARK_MM), *text


class SignLine(Struct, frozen=True):
    """A line of signs that do not touch."""

    signs: tuple[Sign, ...]

    @property
    def height(self) -> float:
        """Less where nothing is written on it."""
        return _LINE_MM if any(sign.written for sign in self.signs) else _WHISKER_LINE_MM

    def drawn(self, top: float) -> Primitives:
        """Its signs."""
        return tuple(part for sign in self.signs for part in sign.drawn(top + self.height / 2))


class Row(Struct, frozen=True):
    """A row laid out: its head in the column at the left, its lanes, and the lines below them."""

    head: tuple[Label, ...]
    lanes: tuple[Laid, ...]
    lines: tuple[SignLine, ...]
    wall: Wall | None = None

    @property
    def height(self) -> float:
        """The height of what is highest."""
        inside_it = sum(lane.height for lane in self.lanes) + sum(line.height for line in self.lines)
        head = max((label.y for label in self.head), default=0.0) + FALL_MM
        return round(max(2 * _PAD_MM + inside_it, head + _PAD_MM), 2)

    @property
    def unnamed(self) -> tuple[Task, ...]:
        """The tasks for whose names there is no room."""
        return tuple(task for lane in self.lanes for task in lane.unnamed)

    def under(self, y: float) -> Primitives:
        """What lies under the lines that cut through all rows: the bars."""
        return tuple(part for lane, top in self._tops(y) for part in lane.under(top))

    def over(self, y: float) -> Primitives:
        """What lies over them: all that is written, last placings, the lines below."""
        head = tuple(replace(label, y=label.y + y) for label in self.head)
        lanes = tuple(part for lane, top in self._tops(y) for part in lane.over(top))
        top = y + _PAD_MM + sum(lane.height for lane in self.lanes)
        lines: Primitives = ()
        for line in self.lines:
            lines += line.drawn(top)
            top += line.height
        return head + lanes + lines

    def _tops(self, y: float) -> Iterator[tuple[Laid, float]]:
        top = y + _PAD_MM
        for lane in self.lanes:
            yield lane, top
            top += lane.height


def wall_row(wall: Wall, scale: Scale, uprights: Sequence[float]) -> Row:
    """The row of a wall."""
    lanes = tuple(laid(lane, scale, uprights, number == 0) for number, lane in enumerate(lanes_of(wall)))
    signs = [
        _sign("access", stretch.names, (scale.at(stretch.first), scale.after(stretch.last)), scale, uprights)
        for stretch in wall.access
    ]
    lines = _lines(signs)
    if wall.ends is not None:
        early, late = scale.after(wall.ends.early), scale.after(wall.ends.late)
        kind, after = ("goes-on", ARROW_MM) if wall.ends.goes_on else ("ends", STOP_MM)
        room = early - STOP_MM, late + after
        cuts = tuple(x for x in uprights if room[0] < x < room[1])
        whole = Sign((early, late), None, room, kind, scale.after(wall.ends.likely), cuts)
        lines = _with(lines, whole)
    return Row(_head(wall.name, wall.notes, scale), lanes, tuple(lines), wall)


def order_row(name: str, orders: Sequence[Dated], scale: Scale, uprights: Sequence[float]) -> Row:
    """The row of the things to order, each a triangle at its day with its name beside."""
    signs = [
        _sign("order", dated.names, (scale.at(dated.day) + scale.day_mm / 2,) * 2, scale, uprights)
        for dated in sorted(orders, key=lambda dated: dated.day)
    ]
    return Row(_head(name, (), scale), (), tuple(_lines(signs)))


def head_width(names: Sequence[str], notes: Sequence[str]) -> float:
    """The width that the column at the left would have were nothing in it broken."""
    return max(
        [width_of([one_line(name)], True) * NAME_PT / LETTER_PT for name in names]
        + [width_of([one_line(note)]) for note in notes],
        default=0.0,
    )


def _head(name: str, notes: Sequence[str], scale: Scale) -> tuple[Label, ...]:
    """A name in bold and its notes below, broken to the column."""
    room, y = scale.left - _HEAD_ROOM_MM, _PAD_MM - 0.6
    labels: list[Label] = []
    for line in lines_in(one_line(name), room, NAME_PT, True):
        y += _NAME_LINE_MM
        labels.append(Label(0.0, y, line, NAME_PT, bold=True))
    for note in notes:
        for line in lines_in(one_line(note), room, LETTER_PT):
            y += _NOTE_LINE_MM
            labels.append(Label(0.0, y, line, LETTER_PT))
    return tuple(label for label in labels if label.text)


def _sign(kind: str, names: Names, span: Span, scale: Scale, uprights: Sequence[float]) -> Sign:
    """A sign with its name in it, right of it or left of it, clear of what cuts through where that can be."""
    half = MARK_MM if kind == "order" else STOP_MM
    whole = span[0] - half, span[1] + half
    if not named(names):
        return Sign(span, None, whole, kind)
    for kept in ([(x - _KEPT_OFF_MM, x + _KEPT_OFF_MM) for x in uprights], []):
        way = _beside(names, span, whole, scale, kept)
        if way is not None:
            return Sign(span, way, (min(whole[0], way.span[0]), max(whole[1], way.span[1])), kind)
    text = cut(named(names)[-1], max(whole[0] - scale.left, scale.right - whole[1]) - 2 * _BESIDE_MM)
    left = whole[1] + _BESIDE_MM if scale.right - whole[1] >= whole[0] - scale.left else whole[0] - _BESIDE_MM
    way = Written((text,), left if left > whole[0] else left - width_of([text]))
    return Sign(span, way, (min(whole[0], way.left), max(whole[1], way.left + way.width)), kind)


def _beside(names: Names, span: Span, whole: Span, scale: Scale, kept: Sequence[Span]) -> Written | None:
    """A name in a sign, however short, else the longest that has room right of it or left of it."""
    if way := inside(names, rooms(span, kept), _LINE_LEFT_MM):
        return way
    after = [room for room in rooms((whole[1], scale.right), kept) if room[0] < whole[1] + CLEAR_MM]
    before = [room for room in rooms((scale.left, whole[0]), kept) if room[1] > whole[0] - CLEAR_MM]
    for name in named(names):
        if way := inside((name,), after, _BESIDE_MM):
            return replace(way, left=after[0][0] + _BESIDE_MM)
        if way := inside((name,), before, _BESIDE_MM):
            return replace(way, left=before[0][1] - _BESIDE_MM - way.width)
    return None


def _lines(signs: Sequence[Sign]) -> list[SignLine]:
    """The signs on as few lines as they need."""
    lines: list[SignLine] = []
    for sign in signs:
        place = next((number for number, line in enumerate(lines) if _free(line, sign)), None)
        if place is None:
            lines.append(SignLine((sign,)))
        else:
            lines[place] = SignLine((*lines[place].signs, sign))
    return lines


def _with(lines: list[SignLine], sign: Sign) -> list[SignLine]:
    """A sign on a line that has room, or on one of its own above the others."""
    for number, line in enumerate(lines):
        if _free(line, sign):
            return [*lines[:number], SignLine((*line.signs, sign)), *lines[number + 1 :]]
    return [SignLine((sign,)), *lines]


def _free(line: SignLine, sign: Sign) -> bool:
    return all(
        sign.room[1] + CLEAR_MM < other.room[0] or other.room[1] + CLEAR_MM < sign.room[0] for other in line.signs
    )
