"""Coats of plaster or render on their background, in section and to scale."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, Literal

from generator.drawing.annotate import (
    LINE_MM,
    RING_MM,
    SCALES,
    Scale,
    arc,
    dimension_across,
    leader,
    length_told,
    lettering,
    lines_in,
    ringed,
    scale_for,
    ticks,
)
from generator.drawing.model import (
    LETTER_PT,
    MEDIUM,
    THICK,
    THIN,
    Drawing,
    Line,
    Polygon,
    Polyline,
    Primitives,
    filled,
    one_line,
    rectangle,
)
from generator.values import METRIC, Spelling, Struct

Background = Literal["masonry", "laths"]
Coat = tuple[str, float, bool]

WIDTH_MM: Final = 54.0
"""The narrow column of a sheet: the coats stand beside their steps."""

LATH_MM: Final = (30.0, 6.0)
"""Face and thickness of a riven lath: about 30 x 6 mm by two suppliers (trade pages); illustration only."""

LATH_GAP_MM: Final = 8.0
"""Gap between laths: 6 to 10 mm by the sources, 8 drawn; illustration only."""

# no greys: a copy in black and white keeps none
_MARGIN: Final = 1.5
_BETWEEN_MM: Final = 0.35
_LEFT: Final = 24.0
_THICKNESS_ROOM: Final = 28.0
_WALL_DEPTH: Final = 11.0
_NUMBER_ROW: Final = 2 * RING_MM + 3.0
_RING_PITCH: Final = 2 * RING_MM + 0.6
_LEAST_HEIGHT: Final = 22.0
_LATH_HEIGHT_REAL: Final = 55.0
_DIMENSION_ROOM: Final = 7.5
_NAME_MM: Final = 4.0
_HAIR_MM: Final = 2.4
_HAIR_AREA: Final = 9.0
_GOLDEN: Final = (math.sqrt(5) - 1) / 2


class CoatWords(Struct, frozen=True):
    """What stands on the section and in the alternative text.

    In braces: `{coat}`, `{thickness}` of a coat; else `{scale}`, `{coats}`, `{background}`, `{total}`.
    """

    plain: str
    haired: str
    masonry: str
    laths: str
    nib: str
    note: str
    overhead: str
    alt: str


class _Placed(Struct, frozen=True):
    """A coat on paper."""

    left: float
    right: float
    haired: bool


class _Section(Struct, frozen=True):
    scale: Scale
    top: float
    bottom: float
    wall: float
    coats: tuple[_Placed, ...]


def coats_section(
    background: Background,
    coats: Sequence[Coat],
    words: CoatWords,
    spelling: Spelling = METRIC,
    *,
    is_overhead: bool = False,
) -> Drawing:
    """The section through coats on their background.

    A coat is its name, thickness in mm and whether it is haired, in the order they are laid. On laths the
    first coat goes through the gaps and hangs behind as nibs; its thickness is the cover on the laths. What is
    overhead is drawn on its side as a wall is, and says so.
    ValueError for no coats, thicknesses not above 0, or coats too thick for any scale.
    """
    coats = [(one_line(name), thickness, haired) for name, thickness, haired in coats]
    _check(background, coats)
    total = sum(thickness for _, thickness, _ in coats)
    names = [_name(coat, words, spelling) for coat in coats]
    blocks = [lines_in(name, WIDTH_MM - 2 * RING_MM - 2.5) for name in names]
    section = _section(background, coats)
    values = {
        "scale": str(section.scale), "coats": "; ".join(names), "total": length_told(total, spelling),
        "background": {"masonry": words.masonry, "laths": words.laths}[background].lower(),
    }  # fmt: skip
    note = lines_in(filled(words.note, **values), WIDTH_MM - 1.0)
    if is_overhead:
        note = (*note, *lines_in(words.overhead, WIDTH_MM - 1.0))
    below = section.bottom + _DIMENSION_ROOM
    legend = sum(max(len(lines) * LINE_MM, _RING_PITCH) for lines in blocks)
    foot = below + legend + LINE_MM * (len(note) + 0.8)
    primitives = (
        *(_laths(section, words) if background == "laths" else _masonry(section, words)),
        *_bodies(section),
        *_edges(section, background),
        *dimension_across(_LEFT, section.coats[-1].right, section.bottom + 5.0, total, section.bottom, spelling),
        *ticks([(coat.right, section.bottom + 5.0) for coat in section.coats[:-1]]),
        *_numbers(section),
        *_legend(blocks, below),
        *lettering(note, 0.5, below + legend + LINE_MM),
    )
    return Drawing(WIDTH_MM, round(foot, 2), _alt(words, values, is_overhead), primitives)


def _alt(words: CoatWords, values: dict[str, str], is_overhead: bool) -> str:
    told = filled(words.alt, **values)
    return f"{told} {words.overhead}" if is_overhead else told


def _check(background: str, coats: Sequence[Coat]) -> None:
    if background not in ("masonry", "laths"):
        raise ValueError(f"background is {background}: valid masonry, laths")
    if not coats or not all(math.isfinite(thickness) and thickness > 0 for _, thickness, _ in coats):
        raise ValueError(f"coats are {coats}: valid one or more, thicker than 0 mm")


def _name(coat: Coat, words: CoatWords, spelling: Spelling) -> str:
    name, thickness, haired = coat
    told = length_told(thickness, spelling)
    return filled(words.haired if haired else words.plain, coat=name, thickness=told)


def _scale(background: str, total_mm: float) -> Scale:
    # at more than full size hardly more than one lath would show
    largest = SCALES[1] if background == "laths" else SCALES[0]
    return scale_for(total_mm, 0.0, (_THICKNESS_ROOM, 1.0), largest)


def _section(background: str, coats: Sequence[Coat]) -> _Section:
    scale = _scale(background, sum(thickness for _, thickness, _ in coats))
    height = max(_LEAST_HEIGHT, _LATH_HEIGHT_REAL * scale.factor if background == "laths" else 0.0)
    placed: list[_Placed] = []
    left = _LEFT
    for _, thickness, haired in coats:
        placed.append(_Placed(left, left + thickness * scale.factor, haired))
        left = placed[-1].right
    return _Section(scale, _MARGIN + _NUMBER_ROW, _MARGIN + _NUMBER_ROW + height, _LEFT, tuple(placed))


def _masonry(section: _Section, words: CoatWords) -> Primitives:
    wall = rectangle(section.wall - _WALL_DEPTH, section.top, section.wall, section.bottom)
    middle = (section.top + section.bottom) / 2
    return (
        Polygon(wall, 0.0, hatch="diagonal"),
        *_named(words.masonry, section.wall - _WALL_DEPTH + 2.0, middle),
    )


def _named(name: str, x: float, y: float) -> Primitives:
    """A name on the left of the section, with its leader."""
    end = _LEFT - _WALL_DEPTH - 1.0
    lines = lines_in(name, end - 2.5, 7.0)
    first = y + 1.0 - (len(lines) - 1) * LINE_MM * 7.0 / LETTER_PT / 2
    return (*leader((x, y), (end, y)), *lettering(lines, end - 1.0, first, 7.0, "end"))


def _laths(section: _Section, words: CoatWords) -> Primitives:
    face, thickness = (length * section.scale.factor for length in LATH_MM)
    gaps = list(_gaps(section))
    tops = [section.top, *(bottom for _, bottom in gaps)]
    bottoms = [*(top for top, _ in gaps), section.bottom]
    back = section.wall - thickness
    laths = [
        Polygon(rectangle(back, top, section.wall, bottom), MEDIUM, hatch="diagonal")
        for top, bottom in zip(tops, bottoms, strict=True)
    ]
    nibs = [part for top, bottom in gaps for part in _nib(section.wall, back, top, bottom)]
    nib_at = sum(gaps[0]) / 2
    # at small scales the next lath stands too near for its own line of lettering
    lath_at = next(bottom + face / 2 for _, bottom in gaps if bottom + face / 2 >= nib_at + _NAME_MM)
    return (
        *laths,
        *nibs,
        *_named(words.laths, back + thickness / 2, lath_at),
        *_named(words.nib, back - thickness / 3, nib_at),
    )


def _gaps(section: _Section) -> Iterator[tuple[float, float]]:
    face, gap = LATH_MM[0] * section.scale.factor, LATH_GAP_MM * section.scale.factor
    top = section.top + face * 0.15
    while top + gap < section.bottom:
        yield top, top + gap
        top += gap + face


def _nib(wall: float, back: float, top: float, bottom: float) -> Primitives:
    """Plaster that went through a gap and slumped over the lath below it."""
    gap = bottom - top
    sag = gap * 0.55
    behind = back - gap * 0.6
    curl = (
        (back, top), *arc((back - gap * 0.3, top + gap * 0.15), gap * 0.3, 300, 180, 5),
        (behind, bottom), *arc((back - gap * 0.3, bottom + sag * 0.4), gap * 0.3, 180, 0, 6), (back, bottom),
    )  # fmt: skip
    body = ((wall, top), *curl, (wall, bottom))
    return Polygon(body, 0.0, hatch="dots"), Polyline(curl, MEDIUM)


def _bodies(section: _Section) -> Primitives:
    parts: list[Polygon | Polyline] = []
    for coat in section.coats:
        # dots are new mortar in every section; what parts the coats is the line between them
        parts.append(Polygon(rectangle(coat.left, section.top, coat.right, section.bottom), 0.0, hatch="dots"))
        if coat.haired:
            parts += _hairs(coat, section.top, section.bottom)
    return tuple(parts)


def _hairs(coat: _Placed, top: float, bottom: float) -> Iterator[Polyline]:
    """Short bent lines spread evenly over the coat, in directions that do not repeat."""
    width, height = coat.right - coat.left, bottom - top
    count = max(3, int(width * height / _HAIR_AREA))
    length = min(_HAIR_MM, width * 0.8)
    for index in range(count):
        x = coat.left + length / 2 + (index * _GOLDEN % 1) * max(0.0, width - length)
        y = top + length + (index + 0.5) / count * (height - 2 * length)
        turn = math.pi * (index * _GOLDEN * 1.7 % 1)
        dx, dy = math.cos(turn) * length / 2, math.sin(turn) * length / 2
        bend = (x - dy * 0.3, y + dx * 0.3)
        points = ((x - dx, y - dy), bend, (x + dx, y + dy))
        yield Polyline(tuple((min(max(px, coat.left), coat.right), py) for px, py in points), THIN)


def _edges(section: _Section, background: str) -> Primitives:
    top, bottom = section.top, section.bottom
    # laths have edges of their own, and none across the gaps where the plaster goes through
    wall = (Line(section.wall, top, section.wall, bottom, MEDIUM),) if background == "masonry" else ()
    inner = [Line(coat.right, top, coat.right, bottom, _BETWEEN_MM) for coat in section.coats[:-1]]
    outer = section.coats[-1].right
    return (
        *wall,
        *inner,
        Line(outer, top, outer, bottom, THICK),
        *(Line(section.wall - _WALL_DEPTH, y, outer, y, THIN, (1.0, 1.0)) for y in (top, bottom)),
    )


def _numbers(section: _Section) -> Primitives:
    """The number of each coat in a row over the section, joined to it; spread where coats are thinner than a ring."""
    middles = [(coat.left + coat.right) / 2 for coat in section.coats]
    reach = _RING_PITCH * (len(middles) - 1)
    wide = all(b - a >= _RING_PITCH for a, b in pairwise(middles))
    first = min(max((middles[0] + middles[-1] - reach) / 2, RING_MM + 0.5), WIDTH_MM - reach - RING_MM - 0.5)
    row, parts = _MARGIN + RING_MM, list[Primitives]()
    for place, middle in enumerate(middles):
        x = middle if wide else first + place * _RING_PITCH
        parts += [leader((middle, section.top + 3.0), (x, row + RING_MM)), ringed(place + 1, x, row)]
    return tuple(primitive for part in parts for primitive in part)


def _legend(blocks: Sequence[Sequence[str]], top: float) -> Primitives:
    """The coats' names below the section, each behind its number."""
    parts: list[Primitives] = []
    for number, lines in enumerate(blocks, 1):
        parts += [ringed(number, RING_MM + 0.5, top + RING_MM), lettering(lines, 2 * RING_MM + 2.0, top + 3.1)]
        top += max(len(lines) * LINE_MM, _RING_PITCH)
    return tuple(primitive for part in parts for primitive in part)
