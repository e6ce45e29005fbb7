"""The elevation of a face from its sizes, to scale: outline, openings, zones, and works by hatch and letter.

Sizes are metres from the left edge and the ground, upward. Hatches and lines are such that a copy keeps them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final, Literal

from generator.drawing.annotate import Scale, bar_fields, scale_for, text_width_mm, ticks
from generator.drawing.area_hatch import Pattern, area_hatch
from generator.drawing.model import (
    MEDIUM,
    THICK,
    THIN,
    Box,
    Circle,
    Drawing,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Primitives,
    filled,
    rectangle,
)
from generator.drawing.photograph_plates import Plate, plate_marks, plates_for
from generator.drawing.programme_labels import rooms
from generator.values import METRIC, Customs, Spelling, Struct, replace, rounded, spoken

OpeningKind = Literal["window", "door", "vent", "other"]

ROOM_MM: Final = (99.5, 56.0)
"""What a face takes of the column of a sheet at most, wide and high."""

LOW_ROOM_MM: Final = (99.5, 40.0)
"""What it takes where more than one work stands below it on the page."""

SCALES: Final = tuple(
    Scale(1, real) for real in (10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 1000, 2000, 2500)
)
HATCH_MM: Final = 0.35
PITCH_MM: Final = {"rise": 2.2, "fall": 2.2, "cross": 2.6, "level": 1.6, "upright": 1.6, "dots": 1.5}
_OUTLINE: Final = 0.7
_LETTER_PT: Final = 8.5
_LEFT: Final = 4.0
_TOP: Final = 3.0
_LADDER: Final = 5.0
_GROUND: Final = 3.0
_BAR_DOWN: Final = 3.2
_BAR: Final = 1.3
_LEAST_STEP: Final = 7.0
_LEAST_APART: Final = 3.4
_LEAST_FRAMED: Final = 2.4
_LEAST_PIECE: Final = 3.0
_ALL_OF_IT: Final = 0.99
_DOT_MM: Final = 0.45
_ROOM_SHARE: Final = 0.45  # a plate may hide the edge of a low strip, for its hatch shows to both sides
_STEPS: Final = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_CAP: Final = 2.15  # of figures at the size of the letters, in mm


class Gap(Struct, frozen=True):
    """An opening: its kind, its lower left corner and size in metres, and a name that is written in it if it fits."""

    kind: OpeningKind
    left: float
    foot: float
    width: float
    height: float
    name: str = ""

    @property
    def ring(self) -> tuple[Point, ...]:
        """Its corners."""
        return rectangle(self.left, self.foot, self.left + self.width, self.foot + self.height)


class Worked(Struct, frozen=True):
    """A part of the face that is worked on: its letters, its hatch and its corners."""

    letters: str
    pattern: Pattern
    corners: tuple[Point, ...]


class Elevation(Struct, frozen=True):
    """A face to draw: its corners, the heights told beside it, openings, edges of zones, and parts worked on."""

    corners: tuple[Point, ...]
    heights: tuple[float, ...]
    gaps: tuple[Gap, ...] = ()
    zones: tuple[float, ...] = ()
    parts: tuple[Worked, ...] = ()


class ElevationWords(Struct, frozen=True):
    """What stands on it: its scale, told with `{scale}`."""

    scale: str


def elevation_scale(corners: Sequence[Point], room_mm: Point = ROOM_MM) -> Scale:
    """The largest scale at which a face fits its room. ValueError for a face beyond any."""
    across, up = max(x for x, _ in corners), max(y for _, y in corners)
    return scale_for(1000.0 * across, 1000.0 * up, room_mm, scales=SCALES)


def elevation(face: Elevation, scale: Scale, words: ElevationWords, alt: str, spelling: Spelling = METRIC) -> Drawing:
    """The face to a scale, with a bar."""
    return _Sheet(face, scale, words, spelling).drawn(alt)


class _Sheet:
    """Where things stand on paper."""

    def __init__(self, face: Elevation, scale: Scale, words: ElevationWords, spelling: Spelling) -> None:
        self.face, self.scale, self.words, self.spelling = face, scale, words, spelling
        self.mm = 1000.0 * self.scale.factor
        self.wide, self.high = (self.mm * max(corner[side] for corner in face.corners) for side in (0, 1))
        self.ground = _TOP + self.high
        told = max((text_width_mm(_told(height, spelling), _LETTER_PT) for height in face.heights), default=0.0)
        self.right = _LEFT + self.wide + _LADDER + 1.6 + told + 0.5

    def drawn(self, alt: str) -> Drawing:
        bar, width = self._bar()
        height = self.ground + _BAR_DOWN + _BAR + 1.0 + _CAP + 1.4
        parts = (*self._hatches(), *self._gaps(), *self._edges(), *self._plates(), *self._ladder(), *bar)
        return Drawing(round(max(self.right, width), 2), round(height, 2), alt, parts)

    def at(self, spot: Point) -> Point:
        return _LEFT + spot[0] * self.mm, self.ground - spot[1] * self.mm

    def _on_paper(self, corners: Sequence[Point]) -> tuple[Point, ...]:
        return tuple(map(self.at, corners))

    def _rings(self, part: Worked) -> list[tuple[Point, ...]]:
        """A part and the openings in it, on paper."""
        gaps = (clipped(gap.ring, part.corners) for gap in self.face.gaps)
        return [self._on_paper(ring) for ring in (part.corners, *gaps) if len(ring) > 2]

    def _hatches(self) -> Iterator[Primitive]:
        for part in self.face.parts:
            yield from _hatched(self._rings(part), part.pattern)
        for part in self.face.parts:
            yield Polygon(self._on_paper(part.corners), THICK)

    def _gaps(self) -> Iterator[Primitive]:
        for gap in self.face.gaps:
            (left, foot), (right, top) = (
                self.at((gap.left, gap.foot)),
                self.at((gap.left + gap.width, gap.foot + gap.height)),
            )
            box = Box(left, top, right, foot)
            yield Polygon(rectangle(left, top, right, foot), THICK, 1.0)
            yield from _filling(gap, box)

    def _edges(self) -> Iterator[Primitive]:
        for height in self.face.zones:
            ends = _level_ends(self.face.corners, height)
            yield Line(*self.at((ends[0], height)), *self.at((ends[1], height)), THICK, (2.4, 1.0))
        yield Polygon(self._on_paper(self.face.corners), _OUTLINE)
        yield Line(_LEFT - _GROUND, self.ground, _LEFT + self.wide + _GROUND, self.ground, _OUTLINE)

    def _plates(self) -> Iterator[Primitive]:
        areas = [(piece.letters, "", self._rings(piece)) for part in self.face.parts for piece in self._pieces(part)]
        openings = [[self._on_paper(gap.ring)] for gap in self.face.gaps]
        for plate in plates_for(areas, (_LEFT + self.wide, self.ground), _ROOM_SHARE, openings):
            if plate.leader is not None:
                yield Polyline(plate.leader, MEDIUM)
                yield Circle(*plate.leader[1], 0.4, 0.0, 0.0)
            yield from plate_marks(plate if plate.leader is not None else self._below_top(plate))

    def _below_top(self, plate: Plate) -> Plate:
        """A plate in a strip lower than itself, moved down off the top of the face."""
        down = max(0.0, _TOP + _OUTLINE / 2 - plate.box.top)
        box = plate.box
        return replace(plate, box=Box(box.left, box.top + down, box.right, box.bottom + down))

    def _pieces(self, part: Worked) -> list[Worked]:
        """What openings that cut through a part from top to bottom leave of it, each a piece with its letters."""
        across = [x for x, _ in part.corners]
        cuts = [gap for gap in self.face.gaps if self._cuts(gap, part)]
        free = rooms((min(across), max(across)), [(gap.left, gap.left + gap.width) for gap in cuts])
        high = max(y for _, y in part.corners)
        pieces = [
            clipped(part.corners, rectangle(left, 0.0, right, high))
            for left, right in free
            if (right - left) * self.mm >= _LEAST_PIECE
        ]
        return [replace(part, corners=corners) for corners in pieces if len(corners) > 2] or [part]

    def _cuts(self, gap: Gap, part: Worked) -> bool:
        """Whether an opening leaves nothing of a part above it and below it."""
        high = max(y for _, y in part.corners)
        column = clipped(part.corners, rectangle(gap.left, 0.0, gap.left + gap.width, high))
        inside = clipped(column, gap.ring) if len(column) > 2 else ()
        return len(inside) > 2 and _area(inside) >= _ALL_OF_IT * _area(column)

    def _ladder(self) -> Iterator[Primitive]:
        """The heights beside it, from the ground; one that has no room above the one below it is left out."""
        x = _LEFT + self.wide + _LADDER
        levels = sorted({0.0, *self.face.heights})
        yield Line(x, self.ground, x, self.at((0.0, levels[-1]))[1], THIN)
        yield from ticks([(x, self.at((0.0, level))[1]) for level in levels])
        told: list[float] = []
        # the top and the lowest are told before those between them
        for level in (levels[-1], *levels[1:-1]):
            y = self.at((0.0, level))[1]
            if all(abs(y - other) >= _LEAST_APART for other in told):
                told.append(y)
                yield Label(x + 1.6, y + _CAP / 2, _told(level, self.spelling), _LETTER_PT)
        for level in levels[1:]:
            end = _level_ends(self.face.corners, level)[1]
            start = _LEFT + end * self.mm + 0.8
            if start < x - 1.5:
                y = self.at((0.0, level))[1]
                yield Line(start, y, x + 0.8, y, THIN)

    def _bar(self) -> tuple[Primitives, float]:
        """The scale bar under it and the scale beside it, and how far they reach."""
        unit, unit_mm, others = self.spelling.scale_bar
        steps, each = others if self.spelling.chooses else _STEPS, self.mm * unit_mm / 1000.0
        step = next((step for step in steps if step * each >= _LEAST_STEP), steps[-1])
        count = max(2, min(5, int(self.wide / (step * each))))
        top = self.ground + _BAR_DOWN
        foot = top + _BAR + 1.0 + _CAP
        parts: list[Primitive] = [*bar_fields(_LEFT, top, step * each, count, _BAR, THIN)]
        for place in range(count):
            x = _LEFT + place * step * each
            parts.append(Label(x, foot, spoken(rounded(place * step, 2)), _LETTER_PT, "middle"))
        end = _LEFT + count * step * each
        last = spoken(rounded(count * step, 2), unit)
        shift = text_width_mm(spoken(rounded(count * step, 2)), _LETTER_PT) / 2
        parts.append(Label(end - shift, foot, last, _LETTER_PT))
        reach = end - shift + text_width_mm(last, _LETTER_PT)
        scale = Label(reach + 4.0, foot, filled(self.words.scale, scale=str(self.scale)), _LETTER_PT)
        return (*parts, scale), reach + 4.0 + scale.width_mm + 1.0


@lru_cache(maxsize=32)
def swatch(pattern: Pattern, alt: str, size_mm: Point = (9.0, 2.7)) -> Drawing:
    """A hatch in a frame, to stand in a key."""
    edge = THICK / 2 + 0.05
    corners = rectangle(edge, edge, size_mm[0] - edge, size_mm[1] - edge)
    return Drawing(*size_mm, alt, (*_hatched([corners], pattern), Polygon(corners, THICK)))


def _hatched(rings: Sequence[tuple[Point, ...]], pattern: Pattern) -> Primitives:
    return area_hatch(rings, pattern, PITCH_MM[pattern], _DOT_MM if pattern == "dots" else HATCH_MM)


def _told(length_m: float, spelling: Spelling) -> str:
    return spelling.amount(rounded(length_m, 2), "m", Customs("measured"))


# --- openings ---------------------------------------------------------------------------------------------


def _filling(gap: Gap, box: Box) -> Iterator[Primitive]:
    """What shows which kind an opening is: glazing bars, planks, slats, or its name."""
    wide, high = box.right - box.left, box.bottom - box.top
    if gap.name and text_width_mm(gap.name, _LETTER_PT) + 1.0 <= wide and high >= _CAP + 1.0:
        middle = (box.top + box.bottom) / 2 + _CAP / 2
        yield Label((box.left + box.right) / 2, middle, gap.name, _LETTER_PT, "middle")
        return
    if min(wide, high) < _LEAST_FRAMED:
        return
    across, up = {"window": (1, 2 if high > wide else 1), "door": (3, 0), "vent": (0, 3), "other": (0, 0)}[gap.kind]
    for place in range(1, across + 1):
        x = box.left + wide * place / (across + 1)
        yield Line(x, box.top, x, box.bottom, THIN)
    for place in range(1, up + 1):
        y = box.top + high * place / (up + 1)
        yield Line(box.left, y, box.right, y, THIN)


# --- shapes -----------------------------------------------------------------------------------------------


def clipped(ring: Sequence[Point], within: Sequence[Point]) -> tuple[Point, ...]:
    """What of a ring lies in a convex one that runs counter-clockwise, side by side of it (Sutherland and Hodgman 1974,
    from memory); nothing where they do not meet."""
    found = tuple(ring)
    for place, end in enumerate(within):
        found = tuple(_kept(found, within[place - 1], end))
        if not found:
            return ()
    return found


def _kept(ring: Sequence[Point], start: Point, end: Point) -> Iterator[Point]:
    """The corners of a ring that lie left of a line, and where it crosses that line."""
    sides = [(end[0] - start[0]) * (y - start[1]) - (end[1] - start[1]) * (x - start[0]) for x, y in ring]
    for place, (x, y) in enumerate(ring):
        here, before = sides[place], sides[place - 1]
        if (here < 0) != (before < 0):
            share, (px, py) = before / (before - here), ring[place - 1]
            yield px + share * (x - px), py + share * (y - py)
        if here >= 0:
            yield x, y


def _area(ring: Sequence[Point]) -> float:
    """The area within a ring, by the shoelace rule."""
    return abs(sum(ring[place - 1][0] * y - x * ring[place - 1][1] for place, (x, y) in enumerate(ring))) / 2


def _level_ends(corners: Sequence[Point], height: float) -> Point:
    """How far left and right a face reaches at a height."""
    found = []
    for place, (x, y) in enumerate(corners):
        px, py = corners[place - 1]
        if min(y, py) <= height <= max(y, py):
            found += [x, px] if y == py else [px + (x - px) * (height - py) / (y - py)]
    return (min(found), max(found)) if found else (0.0, max(x for x, _ in corners))
