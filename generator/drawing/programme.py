"""The programme as a picture: months and weeks, frost, a row a wall, the chain that decides, a key; split into pages.

Black and white, and nothing by grey alone, so that a copy keeps it (GAO-16-89G, as read: logic, the deciding chain
and float mark a good schedule; signs, lines and sizes are common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from generator.drawing.annotate import lines_in
from generator.drawing.model import MEDIUM, THICK, Label, Line, Primitive, Primitives, Rect
from generator.drawing.programme_axis import CROSSES_MM, Head, behind, crosses, head, scale_of, uprights_at
from generator.drawing.programme_labels import FALL_MM, LETTER_PT, LINE_MM, RISE_MM, width_of
from generator.drawing.programme_model import Chart, Kind, Page, ProgrammeWords, Scale, Told, WallTold, wall_days
from generator.drawing.programme_rows import Row, head_width, order_row, wall_row
from generator.drawing.programme_signs import (
    ARROW_MM,
    BAR_MM,
    EDGE_MM,
    FRAME_MM,
    FROST_EDGES,
    MARK_MM,
    OUTLINE_MM,
    bar,
    barred,
    bracket,
    cross,
    frame,
    frost,
    hold,
    in_hand,
    order,
    placing,
    whisker,
)

WIDTHS_MM: Final = (120.0, 420.0)
_EDGE_MM: Final = 0.6
_DUST_MM: Final = 1e-6
_COLUMN_GAP_MM: Final = 3.0
_COLUMN_SHARES: Final = (0.1, 0.18)
_KEY_LINE_MM: Final = 6.0
_KEY_GAP_MM: Final = 5.0
_KEY_TEXT_MM: Final = 1.6
_SWATCH_MM: Final = 10.0

Swatch = tuple[float, Callable[[float, float], Primitives], str]
"""A sign of the key: its width, how it is drawn from its left at a middle, what is said of it."""


def programme_pages(
    chart: Chart,
    words: ProgrammeWords,
    width_mm: float,
    height_mm: float,
    first_height_mm: float | None = None,
    *,
    is_spread: bool = True,
) -> tuple[Page, ...]:
    """A programme as pictures of a width, as few as their greatest height asks for; the first may have less height.

    The key stands below the first.
    Rows are spread so that no page is much higher than it must be, or fill each page but the last. A row that is higher
    alone than a page stays whole and makes its page higher. ValueError for a width outside 120 to 420 mm.
    """
    if not WIDTHS_MM[0] <= width_mm <= WIDTHS_MM[1]:
        raise ValueError(f"width_mm is {width_mm}: valid {WIDTHS_MM[0]:g} to {WIDTHS_MM[1]:g}")
    scale = scale_of(chart, _column(chart, words, width_mm), width_mm - _EDGE_MM)
    uprights = uprights_at(chart, scale)
    rows = [order_row(words.orders, chart.orders, scale, uprights)] if chart.orders else []
    rows += [wall_row(wall, scale, uprights) for wall in chart.walls]
    top = head(chart, scale)
    key = _Key(_swatches(chart, words), width_mm)
    around = round(_EDGE_MM + top.height, 2) + (CROSSES_MM if chart.barred else 0.0) + _EDGE_MM
    rooms = (height_mm if first_height_mm is None else first_height_mm) - around - key.height, height_mm - around
    first, *others = _split(rows, *rooms, is_spread=is_spread)
    keyless = _Key((), width_mm)
    return (
        _page(chart, width_mm, scale, top, first, key),
        *(_page(chart, width_mm, scale, top, part, keyless) for part in others),
    )


def _column(chart: Chart, words: ProgrammeWords, width_mm: float) -> float:
    """Where the days begin: after the names of the walls."""
    names = [wall.name for wall in chart.walls] + ([words.orders] if chart.orders else [])
    wanted = head_width(names, [note for wall in chart.walls for note in wall.notes]) + _COLUMN_GAP_MM
    least, most = (share * width_mm for share in _COLUMN_SHARES)
    return round(min(max(wanted, least), most), 2)


def _split(rows: Sequence[Row], first_mm: float, other_mm: float, *, is_spread: bool) -> list[list[Row]]:
    """Rows on as few pages as they need, the highest page as low as it may be if they are spread."""
    heights = [row.height for row in rows]
    least = len(_filled(heights, first_mm, other_mm))
    lower = 0.0
    # the least height of all the pages that gives no more of them, to half a millimetre
    steps = range(int(other_mm * 2) if is_spread else 0)
    for step in steps:
        cap = other_mm - step / 2
        if cap < max(heights, default=0.0) or len(_filled(heights, min(first_mm, cap), cap)) > least:
            break
        lower = step / 2
    cap = other_mm - lower
    counts = _filled(heights, min(first_mm, cap), cap)
    pages, start = [], 0
    for count in counts:
        pages.append(list(rows[start : start + count]))
        start += count
    return pages


def _filled(heights: Sequence[float], first_mm: float, other_mm: float) -> list[int]:
    """How many rows go on each page, each filled as far as it goes; one at the least."""
    counts, used = [0], 0.0
    for height in heights:
        room = first_mm if len(counts) == 1 else other_mm
        if counts[-1] and used + height > room + _DUST_MM:
            counts.append(0)
            used = 0.0
        counts[-1] += 1
        used += height
    return counts


def _page(chart: Chart, width_mm: float, scale: Scale, top: Head, rows: Sequence[Row], key: _Key) -> Page:
    """One picture: what lies behind, bars, lines through all rows, lettering, the key."""
    y = begin = round(_EDGE_MM + top.height, 2)
    under: list[Primitive] = []
    over: list[Primitive] = []
    rules: list[Primitive] = [Line(0.0, begin, width_mm, begin, THICK)]
    for row in rows:
        under += row.under(y)
        over += row.over(y)
        y = round(y + row.height, 2)
        rules.append(Line(0.0, y, width_mm, y, MEDIUM))
    foot = y
    marks: Primitives = ()
    if chart.barred:
        marks = crosses(chart.barred, scale, y + CROSSES_MM / 2 + 0.2)
        y += CROSSES_MM
    shown = (
        *behind(chart, scale, begin, foot), *top.grid(foot), *under, *top.through(foot), *top.drawn(), *rules,
        *over, *marks, *key.drawn(y),
    )  # fmt: skip
    return Page(width_mm, round(y + key.height + _EDGE_MM, 2), scale, _told(chart, scale, rows), shown)


def _told(chart: Chart, scale: Scale, rows: Sequence[Row]) -> Told:
    walls = []
    for row in rows:
        if row.wall is not None:
            days = wall_days(row.wall)
            chains = row.wall.chains
            walls.append(
                WallTold(
                    row.wall.name, min(days, default=None), max(days, default=None),
                    tuple(dated for chain in chains for dated in chain.placings),
                    tuple(day for chain in chains for day in chain.holds),
                    any(task.decides for chain in chains for task in chain.tasks), row.unnamed,
                )
            )  # fmt: skip
    return Told(
        scale.first, scale.last, tuple(walls), chart.uprights,
        tuple(winter for winter in chart.winters if scale.shown(winter.first.ten, winter.last.ten)),
        tuple(days for days in chart.barred if scale.shown(*days)),
        chart.orders if any(row.wall is None for row in rows) else (),
    )  # fmt: skip


class _Key:
    """The key on as few lines as it needs: each sign with what is said of it, broken where it is longer than a line."""

    def __init__(self, swatches: Sequence[Swatch], width_mm: float) -> None:
        self.placed: list[tuple[float, int, Swatch, tuple[str, ...]]] = []
        filled: list[float] = []
        for swatch in swatches:
            before = swatch[0] + _KEY_TEXT_MM
            texts = lines_in(swatch[2], width_mm - before, LETTER_PT)
            wide = before + width_of(texts)
            # what is broken has its lines for itself
            line = next((at for at, x in enumerate(filled) if len(texts) == 1 and x + wide <= width_mm), len(filled))
            if line == len(filled):
                filled += [0.0, *[width_mm] * (len(texts) - 1)]
            self.placed.append((filled[line], line, swatch, texts))
            filled[line] = filled[line] + wide + _KEY_GAP_MM if len(texts) == 1 else width_mm
        self.height = len(filled) * _KEY_LINE_MM + 1.6 if swatches else 0.0

    def drawn(self, top: float) -> Primitives:
        """The key from its top."""
        parts: list[Primitive] = []
        for x, line, (width, draw, _), texts in self.placed:
            middle = top + 1.6 + (line + 0.5) * _KEY_LINE_MM
            parts += draw(x, middle)
            for number, text in enumerate(texts):
                base = middle + (RISE_MM - FALL_MM) / 2 + number * LINE_MM
                parts.append(Label(x + width + _KEY_TEXT_MM, base, text, LETTER_PT))
        return tuple(parts)


def _swatches(chart: Chart, words: ProgrammeWords) -> list[Swatch]:
    """The signs of what the programme shows, in the order of the key."""
    chains = [chain for wall in chart.walls for chain in wall.chains]
    tasks = [task for chain in chains for task in chain.tasks]
    kinds = {task.kind for task in tasks}
    edges = [edge for winter in chart.winters for edge in (winter.first, winter.last)]
    wide, half = _SWATCH_MM, BAR_MM / 2
    bars: dict[Kind, str] = {"work": words.work, "wait": words.wait, "damp": words.damp, "cover": words.cover}
    whole: list[tuple[bool, float, Callable[[float, float], Primitives], str]] = [
        *((kind in kinds, wide, partial(_bar, kind), text) for kind, text in bars.items()),
        (any(c.holds for c in chains), 4.0, lambda x, y: hold(x + 2.0, y), words.hold),
        (any(c.placings for c in chains), 3.0, lambda x, y: placing(x + 1.5, y - half, y + half), words.placing),
        (any(t.decides for t in tasks), wide, _framed, words.decides),
        (any(w.in_hand for w in chart.walls), wide, lambda x, y: in_hand((x, x + wide), y - half), words.in_hand),
        (any(w.ends for w in chart.walls), wide, lambda x, y: whisker(x + 0.2, x + 6, x + wide, y), words.ends),
        (any(w.ends and w.ends.goes_on for w in chart.walls), wide, _going_on, words.goes_on),
        (any(w.access for w in chart.walls), wide, lambda x, y: bracket((x + 0.2, x + wide), y), words.access),
        (bool(chart.winters), wide, _frosty, words.frost),
        (any(e.fifty or e.ninety for e in edges), 4.0, _edged, words.frost_edges),
        (bool(chart.barred), 4.0, _barred, words.barred),
        (bool(chart.orders), 3.4, lambda x, y: order(x + 1.7, y - 0.9 * MARK_MM), words.order),
    ]  # fmt: skip
    return [(width, draw, text) for used, width, draw, text in whole if used]


def _bar(kind: Kind, x: float, y: float) -> Primitives:
    return bar(kind, (x + 0.2, x + _SWATCH_MM), y - BAR_MM / 2)


def _framed(x: float, y: float) -> Primitives:
    """A frame no higher than the other signs of the key."""
    left, right, half = x + 0.4, x + _SWATCH_MM - 0.2, (BAR_MM + OUTLINE_MM) / 2 - FRAME_MM
    black = Rect(left + FRAME_MM, y - half, right - left - 2 * FRAME_MM, 2 * half, 0.0, 0.0)
    return *frame((left, right), y - half, 2 * half), black


def _going_on(x: float, y: float) -> Primitives:
    return whisker(x + 0.2, x + 6, x + _SWATCH_MM - ARROW_MM, y, goes_on=True)


def _frosty(x: float, y: float) -> Primitives:
    left, right, top = x + 0.2, x + _SWATCH_MM, y - BAR_MM / 2
    return *frost(left, top, right, top + BAR_MM), Rect(left, top, right - left, BAR_MM, EDGE_MM)


def _edged(x: float, y: float) -> Primitives:
    _, dashed, dotted = FROST_EDGES
    return tuple(
        Line(place, y - BAR_MM / 2, place, y + BAR_MM / 2, THICK, dash)
        for place, dash in ((x + 1.0, dashed), (x + 3.0, dotted))
    )


def _barred(x: float, y: float) -> Primitives:
    return *barred(x, y - BAR_MM / 2, x + 4.0, y + BAR_MM / 2), *cross(x + 2.0, y)
