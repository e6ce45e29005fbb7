"""Names set on lines above a row of bars so that none touches another: shortened, staggered with leaders, or joined."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import product
from typing import Final

from generator.drawing.annotate import lines_in, text_width_mm
from generator.drawing.model import THIN, Label, Line, Primitives, Rect
from generator.drawing.programme_model import Names
from generator.drawing.text import POINTS_PER_MM
from generator.values import Struct, replace

LETTER_PT: Final = 9.0
LINE_MM: Final = 3.5
RISE_MM: Final = 0.74 * LETTER_PT / POINTS_PER_MM
FALL_MM: Final = 0.22 * LETTER_PT / POINTS_PER_MM
CLEAR_MM: Final = 1.2
APART_MM: Final = 2.4
"""Least between two names on one line: with less they read as one."""

PLATE_MM: Final = 0.4
LONGEST_MM: Final = 46.0
_NARROW_MM: Final = 0.6 * LONGEST_MM
_MOST_LINES: Final = 2
_MOST_JOINED: Final = 9
_NEAR_MM: Final = 0.4
_NARROWER: Final = (1.0, 0.6, 0.45, 0.3)
_PAST_MM: Final = 4.0
"""How far a joined name may run on past the last of its bars before a nearer place is looked for."""

_LEAD_MM: Final = 0.5
_DUST_MM: Final = 1e-6

# what each way out costs: a shorter name before a joined one, that before a second line, that before crossing a line
_SHORTER: Final = 1.0
_JOINED: Final = 1.5
_LEVEL: Final = 3.0
_SLID_PER_MM: Final = 0.4
_OVER_PER_MM: Final = 0.3
_JOINED_APART: Final = 8.0
_HIDES: Final = 4.0
_NO_LEADER: Final = 40.0

Span = tuple[float, float]
_BROKEN: Final = re.compile(r"[^\S\u00a0\u202f]+")


class Written(Struct, frozen=True, dict=True):
    """A name in its place: its lines, where they begin, the level of the lowest (0 next to the bars), its leader.

    `before` and `after` is room kept free at its ends for a sign, `deeper` how far its leader goes on below the tops
    of the bars; `costs` tells how far it is from the best place.
    """

    lines: tuple[str, ...]
    left: float
    level: int = 0
    lead: float | None = None
    bold: bool = False
    before: float = 0.0
    after: float = 0.0
    deeper: float = 0.0
    costs: float = 0.0

    @cached_property
    def width(self) -> float:
        """The width of its longest line."""
        return width_of(self.lines, self.bold)

    @property
    def span(self) -> Span:
        """From where to where it keeps others off."""
        return self.left - self.before, self.left + self.width + self.after

    def drawn(self, base: float, foot: float) -> Primitives:
        """Its lines on white, the baseline of level 0 at `base`; its leader ends at `foot`."""
        parts: list[Line | Rect | Label] = []
        if self.lead is not None:
            parts.append(Line(self.lead, base - self.level * LINE_MM + FALL_MM, self.lead, foot + self.deeper, THIN))
        top = base - (self.level + len(self.lines) - 1) * LINE_MM
        for number, line in enumerate(self.lines):
            if line:
                parts += plated(Label(self.left, top + number * LINE_MM, line, LETTER_PT, bold=self.bold))
        return tuple(parts)


class Shelves:
    """The levels of lettering above a row of bars, between two edges.

    `avoided` are stretches (of lines that run through all levels) that names keep off where they can, each with what
    it costs to break it.
    """

    def __init__(self, left: float, right: float, avoided: Sequence[tuple[Span, float]] = ()) -> None:
        self.left, self.right = left, right
        self.avoided = tuple(avoided)
        self.written: list[Written] = []
        self.joined: list[tuple[Written, Named]] = []
        self.kept: list[tuple[int, Span]] = []

    @property
    def height(self) -> int:
        """How many levels are in use."""
        return max((written.level + len(written.lines) for written in self.written), default=0)

    def free(self, level: int, span: Span, clear: float = CLEAR_MM) -> bool:
        """Whether a stretch of a level is free of names, of leaders and of what is kept free there."""
        apart = APART_MM if clear == CLEAR_MM else clear
        names = (w.span for w in self.written if w.level <= level < w.level + len(w.lines))
        others = (
            *(kept for at, kept in self.kept if at == level),
            *((w.lead, w.lead) for w in self.written if w.lead is not None and level < w.level),
        )
        return not any(_touch(span, name, apart) for name in names) and not any(
            _touch(span, other, clear) for other in others
        )

    def fits(self, written: Written) -> bool:
        """Whether a name may stand where it says."""
        span = written.span
        return (
            span[0] >= self.left - _DUST_MM
            and span[1] <= self.right + _DUST_MM
            and all(self.free(written.level + up, span) for up in range(len(written.lines)))
        )

    def crossed(self, span: Span) -> float:
        """What the lines cost that a stretch would break."""
        return sum((cost for other, cost in self.avoided if _touch(span, other, 0.0)), 0.0)

    def way(
        self,
        names: Names,
        bar: Span,
        levels: range,
        joined: bool = False,
        slides: bool = True,
        before: float = -math.inf,
        after: float = math.inf,
    ) -> Written | None:
        """The best place for a name over its bar, None where there is none; at the bar's left unless it slides.

        The names of joined things take many lines and are never cut. `before` is where the name of the bar to its
        left may end, which it should leave free, and `after` where the next bar begins, which is not its own.
        """
        found: Written | None = None
        room_mm = self.right - self.left
        told = blocks(names, room_mm)
        if joined:
            narrow_mm = min(_NARROW_MM, room_mm)
            told = [lines for most in (room_mm, narrow_mm) for lines in _uncut(names, most, _MOST_JOINED)]
        for shorter, lines in enumerate(told):
            width = width_of(lines)
            lefts = self._lefts(bar, width) if slides else [bar[0], *self._past_lines(bar[0])]
            for level, left in product(levels, lefts):
                costs = (level + len(lines) - 1) * _LEVEL + shorter * _SHORTER + abs(left - bar[0]) * _SLID_PER_MM
                if found is not None and costs >= found.costs:
                    continue
                costs += self.crossed((left, left + width)) + min(_HIDES, max(0.0, before - left) * _SLID_PER_MM)
                costs += 0.0 if level else max(0.0, left + width - after) * _OVER_PER_MM
                if found is None or costs < found.costs:
                    way = Written(lines, left, level, costs=costs)
                    found = (self._led(way, bar) if self.fits(way) else None) or found
        return found

    def places(self, lines: tuple[str, ...], bar: Span, height: int) -> Iterator[Written]:
        """Where lines of a name may stand over its bars within so many levels, each with its leader."""
        for level, left in product(range(height - len(lines) + 1), self._lefts(bar, width_of(lines))):
            if led := self._led(Written(lines, left, level), bar):
                yield led

    def above_all(self, names: Names, bar: Span, bold: bool = False) -> Written:
        """A name on new levels above all others, where nothing is in its way, without a leader."""
        *_, lines = blocks(names, self.right - self.left)
        left = max(self.left, min(bar[0], self.right - width_of(lines, bold)))
        return Written(lines, left, self.height, bold=bold, costs=_NO_LEADER)

    def _past_lines(self, left: float) -> list[float]:
        """Where a name begins that would else begin on a line that cuts through."""
        return [end + PLATE_MM for (start, end), _ in self.avoided if start - PLATE_MM < left < end]

    def _lefts(self, bar: Span, width: float) -> list[float]:
        """Where a name may begin so that it still stands over its bar, the best first."""
        beside = [place for (a, b), _ in self.avoided for place in (b + PLATE_MM, a - PLATE_MM - width)]
        beside += [place for w in self.written for place in (w.span[1] + APART_MM, w.span[0] - APART_MM - width)]
        beside.sort(key=lambda place: abs(place - bar[0]))
        tried = [bar[0], bar[1] - width, (bar[0] + bar[1] - width) / 2, *beside]
        held = [max(self.left, min(place, self.right - width)) for place in tried]
        return [place for place in dict.fromkeys(held) if _touch((place, place + width), bar, _NEAR_MM)]

    def _led(self, way: Written, bar: Span) -> Written | None:
        """A place with its leader down to the bar if it needs one; None where there is no way through for it."""
        if way.level == 0:
            return way
        first, last = sorted((max(bar[0], way.span[0]), min(bar[1], way.span[1])))
        for lead in (first + 0.2, (first + last) / 2, last - 0.2):
            if first - _NEAR_MM <= lead <= last + _NEAR_MM and all(
                self.free(level, (lead, lead), _LEAD_MM) for level in range(way.level)
            ):
                return replace(way, lead=lead)
        return None


class Named(Struct, frozen=True):
    """Something to name: its names, its bar, and whether the next to its right is joined to it without a gap."""

    names: Names
    bar: Span
    joined: bool = False


def name_all(shelves: Shelves, things: Sequence[Named]) -> list[Span]:
    """Every thing named on the shelves, from the right so that a name on a second line has its leader left of the next.

    A name without room is shortened, joined to its neighbour's with a comma, or set a level higher. Told are the
    stretches of names joined over gaps: what lies in one is not named apart.
    """
    groups: list[tuple[Written, Named]] = []
    apart: list[Span] = []
    ends = [-math.inf, *(thing.bar[0] + _least_width(thing.names) + APART_MM for thing in things)]
    for before, thing in reversed([*zip(ends, things, strict=False)]):
        alone = shelves.way(thing.names, thing.bar, range(shelves.height + 2), before=before)
        alone = alone or shelves.above_all(thing.names, thing.bar)
        both = _both(shelves, thing, *groups[-1]) if groups else None
        # what the group costs as it stands is no reason for or against
        if both and both[0].costs - groups[-1][0].costs + (_JOINED if thing.joined else _JOINED_APART) < alone.costs:
            shelves.written.remove(groups.pop()[0])
            groups.append(both)
            apart += [] if thing.joined else [both[1].bar]
        else:
            groups.append((alone, thing))
        shelves.written.append(groups[-1][0])
    shelves.joined = [(written, group) for written, group in groups if ", " in " ".join(written.lines)]
    return apart


def draw_nearer(shelves: Shelves) -> None:
    """Sets joined names that run on far past the last of their bars nearer, where what else is named leaves room."""
    for written, group in shelves.joined:
        if group.bar[1] + _PAST_MM < written.left + written.width:
            height = shelves.height
            shelves.written.remove(written)
            shelves.written.append(_nearer(shelves, written, group, height))


def _nearer(shelves: Shelves, written: Written, group: Named, height: int) -> Written:
    """A joined name that runs on past the last of its bars in a place where it does so far less, if there is one.

    It crosses no more lines there and takes none but the `height` levels.
    """
    best, least = written, _astray(written, group.bar) - _PAST_MM
    for share in _NARROWER:
        for lines in _between_things(_uncut(group.names, share * LONGEST_MM, _MOST_JOINED), group.names):
            for way in shelves.places(lines, group.bar, height):
                stray = _astray(way, group.bar)
                if stray < least and shelves.crossed(way.span) <= shelves.crossed(written.span) and shelves.fits(way):
                    best, least = way, stray
    return best


def _between_things(found: Sequence[tuple[str, ...]], names: Names) -> list[tuple[str, ...]]:
    """The lines that break no thing in itself."""
    whole = named(names)
    return [lines for lines in found if " ".join(lines) in whole]


def _astray(written: Written, bar: Span) -> float:
    """How far a name reaches beyond its bars, at both ends."""
    return max(0.0, bar[0] - written.left) + max(0.0, written.left + written.width - bar[1])


def _least_width(names: Names) -> float:
    return min((width_of([name]) for name in names), default=0.0)


def _both(shelves: Shelves, thing: Named, written: Written, group: Named) -> tuple[Written, Named] | None:
    """A thing and the group to its right under one name, where there is a place for it."""
    joined = Named(_joined(thing.names, group.names), (thing.bar[0], group.bar[1]), group.joined)
    shelves.written.remove(written)
    way = shelves.way(joined.names, thing.bar, range(max(written.level, 1) + 2), joined=True)
    shelves.written.append(written)
    return None if way is None else (way, joined)


def _joined(names: Names, others: Names) -> Names:
    """Two things in one name, the long ones first; lines are broken between things, not within."""
    return tuple(dict.fromkeys(f"{_whole(names[end])}, {_whole(others[end])}" for end in (0, -1)))


def _whole(name: str) -> str:
    """A name that lines do not break, unless it is as long as a line."""
    return name if ", " in name or width_of([name]) > LONGEST_MM / 2 else name.replace(" ", "\u00a0")


def inside(names: Names, rooms: Sequence[Span], room_mm: float = 0.5) -> Written | None:
    """A name on one line in the widest of some rooms, a margin at both its ends; None where it has no room."""
    if not rooms:
        return None
    left, right = max(rooms, key=lambda room: room[1] - room[0])
    for name in named(names):
        width = text_width_mm(name, LETTER_PT)
        if width + 2 * room_mm <= right - left:
            return Written((name,), (left + right - width) / 2)
    return None


def blocks(names: Names, room_mm: float) -> list[tuple[str, ...]]:
    """The lines that a thing's names may take: each on one line, long ones on two, the last one cut if it must be."""
    found = _uncut(names, room_mm, _MOST_LINES)
    if found or not (told := named(names)):
        return found
    most = min(LONGEST_MM, room_mm)
    *kept, end = lines_in(told[-1], most, LETTER_PT, True)[:_MOST_LINES]
    return [(*kept, cut(f"{end} …", most))]


def _uncut(names: Names, room_mm: float, most_lines: int) -> list[tuple[str, ...]]:
    """The names that take so many lines at the most, those on the fewest first."""
    # broken as bold, which is the wider: so it fits either way
    found = [lines_in(name, min(LONGEST_MM, room_mm), LETTER_PT, True) for name in named(names)]
    return sorted((lines for lines in found if len(lines) <= most_lines), key=len)


def cut(text: str, width_mm: float) -> str:
    """A text shortened to a width, with the sign that it is; whole where it fits."""
    kept = text
    while kept and text_width_mm(text, LETTER_PT, True) > width_mm:
        kept = kept[:-1].rstrip(" …")
        text = f"{kept}…"
    return text


def named(names: Names) -> tuple[str, ...]:
    """The names that say something, each on one line."""
    return tuple(dict.fromkeys(told for name in names if (told := one_line(name))))


def one_line(text: str) -> str:
    """A text with every run of white space as one space; spaces that keep a number by its unit stay as they are."""
    return _BROKEN.sub(" ", text).strip(" ")


def rooms(whole: Span, taken: Sequence[Span]) -> list[Span]:
    """What is left of a stretch between those that are taken."""
    found, start = [], whole[0]
    for left, right in sorted(taken):
        if right <= start or left >= whole[1]:
            continue
        found.append((start, left))
        start = right
    found.append((start, whole[1]))
    return [(left, right) for left, right in found if right > left]


def plated(label: Label) -> list[Rect | Label]:
    """A label on white, so that no line runs through it."""
    width = label.width_mm
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    em = label.size_pt / POINTS_PER_MM
    return [Rect(left - PLATE_MM, label.y - 0.74 * em, width + 2 * PLATE_MM, 0.96 * em, 0.0, 1.0), label]


def width_of(lines: Sequence[str], bold: bool = False) -> float:
    """The width of the longest of some lines."""
    return max((text_width_mm(line, LETTER_PT, bold) for line in lines), default=0.0)


def _touch(span: Span, other: Span, clear: float) -> bool:
    return span[0] < other[1] + clear - _DUST_MM and other[0] < span[1] + clear - _DUST_MM
