"""The top of a chimney in section, to scale: a pot on its course, the flaunching against it, its edge and its fall."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from generator.drawing.annotate import (
    LINE_MM,
    RING_MM,
    Scale,
    arrow,
    dimension_upright,
    leader,
    length_told,
    lettering,
    lines_in,
    ringed,
    scale_for,
)
from generator.drawing.model import (
    MEDIUM,
    THICK,
    THIN,
    Drawing,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Primitives,
    filled,
    rectangle,
)
from generator.values import METRIC, Spelling, Struct

WIDTH_MM: Final = 83.0
"""A column of the clauses: the section stands in that on laying."""

POT_MM: Final = 25.0
COURSE_MM: Final = 65.0
TO_POT_MM: Final = 95.0
SLIP_MM: Final = (40.0, 8.0)
"""Wall of a pot, height of a course, from the face to the pot, a slip: illustration only."""

SCALES: Final = (Scale(1, 5), Scale(1, 10), Scale(1, 20))
_COAT_ROOM: Final = 22.0
_LEFT: Final = 15.0
_TOP: Final = 2.5
_POT_UP: Final = 11.0
_BEDS: Final = 1.6
_FALL_UP: Final = 4.2
_KEY_LEFT: Final = 46.5
_TEXT_LEFT: Final = 2 * RING_MM + 1.6


class FlaunchingWords(Struct, frozen=True):
    """What stands beside the section and in the alternative text.

    In braces: `{coat}` at the pot, `{edge}`, `{short}` of the face, `{foot}` of the pot within, `{layers}`, `{scale}`.
    """

    pot: str
    mortar: str
    slips: str
    units: str
    note: str
    alt: str


class Flaunching(Struct, frozen=True):
    """Its sizes in mm: at the pot, in layers, at its edge, short of the face, and how deep a pot stands in it."""

    coat: float
    layer: float
    edge: float
    short: float
    foot: float


def flaunching_section(sizes: Flaunching, words: FlaunchingWords, spelling: Spelling = METRIC) -> Drawing:
    """The section through the edge of a chimney top and the first pot, the face on the left.

    ValueError for sizes not above 0, an edge no lower than what stands at the pot, or a body beyond any scale.
    """
    _check(sizes)
    return _Section(sizes, words, spelling).drawn()


def _check(sizes: Flaunching) -> None:
    lengths = (sizes.coat, sizes.layer, sizes.edge, sizes.short, sizes.foot)
    if not all(math.isfinite(length) and length > 0 for length in lengths) or not sizes.edge < sizes.coat:
        raise ValueError(f"flaunching of {sizes}: valid above 0, lower at its edge than at the pot")


class _Section:
    """Where its parts lie on paper."""

    def __init__(self, sizes: Flaunching, words: FlaunchingWords, spelling: Spelling) -> None:
        self.sizes, self.words, self.spelling = sizes, words, spelling
        self.scale = scale_for(0.0, max(sizes.coat, sizes.foot), (1.0, _COAT_ROOM), scales=SCALES)
        self.bed = _TOP + _POT_UP + self.mm(max(sizes.coat, sizes.foot))
        self.start = _LEFT + self.mm(sizes.short)
        self.pot = _LEFT + self.mm(TO_POT_MM)
        self.bore = self.pot + self.mm(POT_MM)
        self.foot = self.bed + _BEDS * self.mm(COURSE_MM)

    def mm(self, real: float) -> float:
        return real * self.scale.factor

    def drawn(self) -> Drawing:
        key, height = self._key()
        edge = self._top_at(self.start)
        high = dimension_upright(edge, self.bed, _LEFT - 2.5, self.sizes.edge, self.start, self.spelling)
        parts = (*self._units(), *self._body(), *self._pot(), *self._fall(), *high, *key)
        values = self._values()
        return Drawing(WIDTH_MM, round(max(self.foot + 2.5, height), 2), filled(self.words.alt, **values), parts)

    def _values(self) -> dict[str, str]:
        sizes = {"coat": self.sizes.coat, "edge": self.sizes.edge, "short": self.sizes.short}
        told = {**sizes, "foot": self.sizes.foot, "layers": self.sizes.layer}
        spelt = {name: length_told(mm, self.spelling).replace(" ", "\u00a0") for name, mm in told.items()}
        return spelt | {"scale": str(self.scale)}

    def _units(self) -> Iterator[Primitive]:
        """The top courses, up to the flue beside them."""
        edge = self.bore + self.mm(POT_MM) / 2
        below = self.bed + self.mm(COURSE_MM)
        end = _broken((_LEFT - 1.0, self.foot), (edge + 1.0, self.foot))
        lower = ((edge, self.foot), (edge, below), (_LEFT, below), (_LEFT, self.foot), *end[1:-1])
        for top, course in ((self.bed, rectangle(_LEFT, self.bed, edge, below)), (below, lower)):
            yield Polygon(course, 0.0, hatch="diagonal")
            yield Line(_LEFT, top, edge, top, MEDIUM)
        yield Line(_LEFT, self.bed, _LEFT, self.foot, THICK)
        yield Line(edge, self.bed, edge, self.foot, THICK)
        yield Polyline(end, THIN)

    def _top_at(self, x: float) -> float:
        share = (x - self.start) / (self.pot - self.start)
        return self.bed - self.mm(self.sizes.edge + (self.sizes.coat - self.sizes.edge) * share)

    def _body(self) -> Iterator[Primitive]:
        """The mortar, its layers, and the slips of tile between them."""
        outline = (
            (self.start, self.bed), (self.start, self._top_at(self.start)), (self.pot, self._top_at(self.pot)),
            (self.pot, self.bed),
        )  # fmt: skip
        yield Polygon(outline, 0.0, hatch="dots")
        for level in self._levels():
            left = self._reaches(level)
            yield Line(left, level, self.pot, level, THIN, (1.2, 0.8))
            yield from self._slips(left, level)
        yield Polyline(outline[:3], THICK)

    def _levels(self) -> list[float]:
        """Where one layer ends and the next begins."""
        count = math.ceil(self.sizes.coat / self.sizes.layer)
        return [self.bed - self.mm(self.sizes.coat) * place / count for place in range(1, count)]

    def _reaches(self, level: float) -> float:
        """How far from the face a level is within the body."""
        at_edge, at_pot = self._top_at(self.start), self._top_at(self.pot)
        share = (at_edge - level) / (at_edge - at_pot)
        return self.start + max(0.0, share) * (self.pot - self.start)

    def _slips(self, left: float, level: float) -> Iterator[Primitive]:
        wide, high = (self.mm(length) for length in SLIP_MM)
        end = self.pot - 0.9
        begin = max(left + 2.0, end - wide)
        if end - begin >= 2.0:
            yield Polygon(rectangle(begin, level - high / 2, end, level + high / 2), 0.0, 0.0)

    def _pot(self) -> Iterator[Primitive]:
        top = self.bed - self.mm(self.sizes.foot) - _POT_UP + 1.0
        yield Polygon(rectangle(self.pot, top, self.bore, self.bed), THICK, 1.0)
        yield Polyline(_broken((self.pot - 1.0, top), (self.bore + 1.0, top)), THIN)

    def _fall(self) -> Primitives:
        """An arrow above the slope, down to the edge."""
        begin, end = self.pot - 3.0, self.start + 3.5
        tail, head = ((x, self._top_at(x) - _FALL_UP) for x in (begin, end))
        return arrow((tail, head), MEDIUM, (2.2, 0.8))

    def _key(self) -> tuple[Primitives, float]:
        """The parts by number beside the section, each joined to its own, the note below them; and where they end."""
        values, top = self._values(), _TOP
        parts: list[Primitive] = []
        for number, (name, spot) in enumerate(self._named(), 1):
            lines = lines_in(filled(name, **values), WIDTH_MM - _KEY_LEFT - _TEXT_LEFT - 0.5)
            middle = top + RING_MM
            parts += leader(spot, (_KEY_LEFT, middle))
            parts += ringed(number, _KEY_LEFT + RING_MM, middle)
            parts += lettering(lines, _KEY_LEFT + _TEXT_LEFT, middle + 1.0)
            top += max(len(lines) * LINE_MM + 1.4, 2 * RING_MM + 1.0)
        note = lines_in(filled(self.words.note, **values), WIDTH_MM - _KEY_LEFT - 0.5)
        first = max(top + LINE_MM - 0.6, self.foot - LINE_MM * (len(note) - 1))
        parts += lettering(note, _KEY_LEFT, first)
        return tuple(parts), first + LINE_MM * (len(note) - 1) + 1.5

    def _named(self) -> Iterator[tuple[str, Point]]:
        """What each part is called, and a spot in it."""
        bore, levels = (self.pot + self.bore) / 2, self._levels()
        yield self.words.pot, (bore, self.bed - self.mm(self.sizes.foot) - 3.0)
        yield self.words.mortar, (self.pot - 3.0, (self._top_at(self.pot) + (levels[-1] if levels else self.bed)) / 2)
        if levels:
            yield self.words.slips, (self.pot - 2.0, levels[0])
        yield self.words.units, (bore, self.bed + self.mm(COURSE_MM) / 2)


def _broken(start: Point, end: Point) -> tuple[Point, ...]:
    """A level line with the jog of a break in its middle."""
    middle, y = (start[0] + end[0]) / 2, start[1]
    return start, (middle - 1.4, y), (middle - 0.5, y - 1.1), (middle + 0.5, y + 1.1), (middle + 1.4, y), end
