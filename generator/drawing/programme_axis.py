"""The head of a programme (days that cut through, years, months, weeks) and what lies behind its rows."""

from __future__ import annotations

import calendar
import datetime
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from generator.drawing.annotate import text_width_mm
from generator.drawing.model import MEDIUM, THIN, Label, Line, Primitive, Primitives, Rect
from generator.drawing.programme_labels import (
    CLEAR_MM,
    FALL_MM,
    LETTER_PT,
    LINE_MM,
    PLATE_MM,
    Shelves,
    Span,
    Written,
    cut,
    named,
    plated,
)
from generator.drawing.programme_model import Chart, Days, FrostEdge, Names, Scale, Upright
from generator.drawing.programme_signs import FROST_EDGES, OUTLINE_MM, barred, cross, frost
from generator.values import MONTHS, Struct

AXIS_PT: Final = 8.5
CROSSES_MM: Final = 2.8
_YEARS_MM: Final = 4.4
_MONTHS_MM: Final = 4.6
_WEEKS_MM: Final = 4.2
_BASE_MM: Final = 1.1
_TEXT_MM: Final = 0.6
_NUMBER_MM: Final = 4.7
_DOTTED: Final = (0.25, 2.25)
_PAD_DAYS: Final = 5
_PAD_SHARE: Final = 45  # of the days: room for the triangles of days at the ends
_NEAR_FROST_DAYS: Final = 28
_LEAST_CROSS_GAP_MM: Final = 2.4
_WEEK: Final = datetime.timedelta(days=7)
_DAY: Final = datetime.timedelta(days=1)


class Head(Struct, frozen=True):
    """The head laid out: texts of the days that cut through and of winters, then the rows of the calendar."""

    scale: Scale
    written: tuple[tuple[Written, Upright | None], ...]
    levels: int
    years: bool
    months: tuple[tuple[Days, str], ...]
    weeks: int

    @property
    def height(self) -> float:
        """From the top of the page to the first row."""
        rows = _MONTHS_MM + (_YEARS_MM if self.years else 0.0) + (_WEEKS_MM if self.weeks else 0.0)
        return self._lettering + rows

    @property
    def _cuts(self) -> list[float]:
        return sorted(upright_at(self.scale, upright) for _, upright in self.written if upright is not None)

    @property
    def _lettering(self) -> float:
        return self.levels * LINE_MM + (0.6 if self.levels else 0.0)

    def grid(self, bottom: float) -> Primitives:
        """Dotted lines down through the rows: where weeks are numbered, otherwise at months."""
        scale, top = self.scale, self.height
        cells = _weeks(scale, self.weeks) if self.weeks else [days for days, _ in self.months]
        places = [scale.at(first) for first, _ in cells[1:]]
        return tuple(Line(x, top, x, bottom, THIN, _DOTTED) for x in places)

    def through(self, bottom: float) -> Primitives:
        """The days that cut through all rows, behind the lettering of the calendar."""
        parts: list[Primitive] = []
        for written, upright in self.written:
            if upright is not None:
                x = upright_at(self.scale, upright)
                top = max(0.0, self._lettering - 0.6 - (written.level + 1) * LINE_MM)
                weight = OUTLINE_MM if upright.heavy else MEDIUM
                parts.append(Line(x, top, x, bottom, weight))
        return tuple(parts)

    def drawn(self) -> Primitives:
        """The lettering and the rules of the head."""
        base = self._lettering - 0.6 - FALL_MM
        parts: list[Primitive] = []
        for written, _ in self.written:
            parts += written.drawn(base, base)
        y = self._lettering
        if self.years:
            parts += self._years(y)
            y += _YEARS_MM
        parts += self._month_row(y)
        y += _MONTHS_MM
        if self.weeks:
            parts += self._week_row(y)
        return tuple(parts)

    def _years(self, y: float) -> Iterator[Primitive]:
        yield Line(self.scale.left, y + _YEARS_MM, self.scale.right, y + _YEARS_MM, THIN)
        for first, last in _years(self.scale):
            x = self.scale.at(first)
            yield Line(x, y, x, y + _YEARS_MM, MEDIUM)
            room = _beside(str(first.year), (x, self.scale.after(last)), self._cuts)
            yield from _cell(str(first.year), room, y + _YEARS_MM - _BASE_MM, True)

    def _month_row(self, y: float) -> Iterator[Primitive]:
        yield Line(self.scale.left, y + _MONTHS_MM, self.scale.right, y + _MONTHS_MM, THIN)
        for (first, last), text in self.months:
            x = self.scale.at(first)
            yield Line(x, y, x, y + _MONTHS_MM, MEDIUM)
            room = _beside(text, (x, self.scale.after(last)), self._cuts)
            yield from _cell(_month_in(text, room), room, y + _MONTHS_MM - _BASE_MM, True)

    def _week_row(self, y: float) -> Iterator[Primitive]:
        yield Line(self.scale.left, y + _WEEKS_MM, self.scale.right, y + _WEEKS_MM, THIN)
        for day, _ in _weeks(self.scale, 1):
            x = self.scale.at(day)
            yield Line(x, y + _WEEKS_MM - 1.0, x, y + _WEEKS_MM, THIN)
        for day, last in _weeks(self.scale, self.weeks):
            x = self.scale.at(day)
            yield Line(x, y, x, y + _WEEKS_MM, THIN)
            yield from _cell(str(day.day), (x, self.scale.after(last)), y + _WEEKS_MM - _BASE_MM, False)


def scale_of(chart: Chart, left: float, right: float) -> Scale:
    """The days of a programme on paper, whole weeks, with a few days round them and the frost that comes near."""
    first, last = chart.days()
    pad = _DAY * max(_PAD_DAYS, (last - first).days // _PAD_SHARE)
    first, last = first - pad, last + pad
    near = datetime.timedelta(days=_NEAR_FROST_DAYS)
    edges = [winter.first.ten for winter in chart.winters] + [winter.last.ten for winter in chart.winters]
    starts = [day - _WEEK for day in edges if first - near <= day < first + _WEEK]
    ends = [day + _WEEK for day in edges if last - _WEEK < day <= last + near]
    first, last = min([first, *starts]), max([last, *ends])
    monday = first - _DAY * first.weekday()
    weeks = -(-((last - monday).days + 1) // 7)
    return Scale(monday, 7 * weeks, left, right)


def head(chart: Chart, scale: Scale) -> Head:
    """The head of a programme."""
    shelves = Shelves(PLATE_MM, scale.right)
    # the lines of all stand on the lowest level, whichever level their names find
    shelves.kept += [(0, (x - 0.4, x + 0.4)) for x in uprights_at(chart, scale)]
    written: list[tuple[Written, Upright | None]] = []
    for upright in sorted(chart.uprights, key=lambda upright: (upright.day, upright.ends)):
        way = _upright_name(shelves, upright, upright_at(scale, upright))
        shelves.written.append(way)
        x = upright_at(scale, upright)
        shelves.kept += [(level, (x - 0.4, x + 0.4)) for level in range(1, way.level + 1)]
        written.append((way, upright))
    for edge, x, at_end in _edges(chart, scale):
        frosty = _edge_name(shelves, edge.names, x, at_end)
        if frosty is not None:
            shelves.written.append(frosty)
            written.append((frosty, None))
    years, months = _spelling(scale, uprights_at(chart, scale))
    step = next((step for step in (1, 2) if 7 * step * scale.day_mm >= _NUMBER_MM), 0)
    return Head(scale, tuple(written), shelves.height, years, months, step)


def upright_at(scale: Scale, upright: Upright) -> float:
    """Where a day that cuts through stands."""
    return scale.after(upright.day) if upright.ends else scale.at(upright.day)


def uprights_at(chart: Chart, scale: Scale) -> list[float]:
    """Where the days that cut through stand."""
    return sorted(upright_at(scale, upright) for upright in chart.uprights)


def behind(chart: Chart, scale: Scale, top: float, bottom: float) -> Primitives:
    """Barred days with level lines, winters hatched with their edges."""
    parts: list[Primitive] = []
    for first, last in chart.barred:
        span = scale.shown(first, last)
        if span is not None:
            parts += barred(span[0], top, span[1], bottom)
    for winter in chart.winters:
        span = scale.shown(winter.first.ten, winter.last.ten)
        if span is not None:
            parts += frost(span[0], top, span[1], bottom)
            parts += _edge_lines(winter.first, scale, False, top, bottom)
            parts += _edge_lines(winter.last, scale, True, top, bottom)
    return tuple(parts)


def crosses(barred: Sequence[Days], scale: Scale, y: float) -> Primitives:
    """A cross below each barred span, one for spans that stand too close for two."""
    groups: list[Span] = []
    for span in sorted(shown for days in barred if (shown := scale.shown(*days)) is not None):
        if groups and (span[0] + span[1] - sum(groups[-1])) / 2 < _LEAST_CROSS_GAP_MM:
            groups[-1] = groups[-1][0], max(groups[-1][1], span[1])
        else:
            groups.append(span)
    places = [min(max((a + b) / 2, scale.left + 1.0), scale.right - 1.0) for a, b in groups]
    return tuple(part for x in places for part in cross(x, y))


def _edge_lines(edge: FrostEdge, scale: Scale, ends: bool, top: float, bottom: float) -> Iterator[Primitive]:
    for day, dash in zip((edge.ten, edge.fifty, edge.ninety), FROST_EDGES, strict=True):
        if day is not None and scale.first <= day <= scale.last:
            x = scale.after(day) if ends else scale.at(day)
            yield Rect(x - 0.5, top, 1.0, bottom - top, 0.0, 1.0)
            yield Line(x, top, x, bottom, 0.5 if dash else 0.35, dash)


def _edges(chart: Chart, scale: Scale) -> Iterator[tuple[FrostEdge, float, bool]]:
    """The edges of winters that are shown, with their places and whether they end a winter."""
    for winter in chart.winters:
        for edge, ends in ((winter.first, False), (winter.last, True)):
            if scale.first <= edge.ten <= scale.last:
                yield edge, scale.after(edge.ten) if ends else scale.at(edge.ten), ends


def _upright_name(shelves: Shelves, upright: Upright, x: float) -> Written:
    """The name of a day beside its line: after a beginning, before an end, on the lowest level with room."""
    names, bold = named(upright.names) or ("",), upright.heavy
    for level in range(shelves.height + 1):
        if level and not shelves.free(level, (x, x), 0.4):
            continue
        for name in names:
            width = text_width_mm(name, LETTER_PT, bold)
            right, left = x + CLEAR_MM + 0.45, x - CLEAR_MM - 0.45 - width
            for place in (left, right) if upright.ends else (right, left):
                way = Written((name,), place, level, bold=bold)
                if shelves.fits(way):
                    return way
    name = cut(names[-1], shelves.right - 1.0)
    left = min(x + CLEAR_MM, shelves.right - text_width_mm(name, LETTER_PT, bold))
    return Written((name,), max(shelves.left, left), shelves.height, bold=bold)


def _edge_name(shelves: Shelves, names: Names, x: float, ends: bool) -> Written | None:
    """The name of a winter's edge over its hatch, or as near as there is room; none where there is none."""
    for level in range(max(1, shelves.height)):
        for name in named(names):
            width = text_width_mm(name, LETTER_PT)
            for place in (x - width, x - width / 2, x) if ends else (x, x - width / 2, x - width):
                held = max(shelves.left, min(place, shelves.right - width))
                way = Written((name,), held, level)
                if held - 1.0 <= x <= held + width + 1.0 and shelves.fits(way):
                    return way
    return None


def _spelling(scale: Scale, cuts: Sequence[float]) -> tuple[bool, tuple[tuple[Days, str], ...]]:
    """Whether years have a row of their own, and what each month is called: all in the same spelling.

    Without such a row every January tells its year, and the first whole month through whose name no day cuts with it.
    """
    months = _months(scale)
    whole = [days for days in months if days[0].day == 1 and (days[1] + _DAY).day == 1]
    for letters in (9, 3, 1, 0):
        first = next(
            (days for days in whole if _is_clear(_month_name(days[0], letters, True), scale, days, cuts)), None
        )
        first = first or next(iter(whole), None)
        for years in (False, True) if whole and letters > 1 else (True,):
            told = [
                (days, _month_name(days[0], letters, not years and (days == first or days[0].month == 1)))
                for days in months
            ]
            if all(_fits(text, scale, days) for days, text in told if days in whole):
                return years, tuple(told)
    raise AssertionError("a month without letters fits everywhere")


def _month_name(first: datetime.date, letters: int, year: bool) -> str:
    name = MONTHS[first.month - 1][:letters]
    return f"{name} {first.year}" if year else name


def _month_in(text: str, room: Span) -> str:
    """The name of a month, shortened where only its end or its beginning is shown and it would touch the next."""
    is_whole = text_width_mm(text, AXIS_PT, True) + 2 * _TEXT_MM <= room[1] - room[0]
    return text if is_whole or not text.isalpha() else text[:3]


def _beside(text: str, cell: Span, cuts: Sequence[float]) -> Span:
    """Where in a cell a name stands: behind a day that would cut through it, where there is room behind it."""
    width = text_width_mm(text, AXIS_PT, True) + _TEXT_MM
    left = cell[0]
    for x in cuts:
        behind = x + OUTLINE_MM / 2
        if left < x < left + width + CLEAR_MM and behind + width <= cell[1]:
            left = behind
    return left, cell[1]


def _is_clear(text: str, scale: Scale, days: Days, cuts: Sequence[float]) -> bool:
    """Whether no day cuts through the name of a month."""
    left, _ = _beside(text, (scale.at(days[0]), scale.after(days[1])), cuts)
    return not any(left < x - OUTLINE_MM / 2 < left + text_width_mm(text, AXIS_PT, True) + _TEXT_MM for x in cuts)


def _fits(text: str, scale: Scale, days: Days) -> bool:
    return not text or text_width_mm(text, AXIS_PT, True) + 2 * _TEXT_MM <= scale.after(days[1]) - scale.at(days[0])


def _cell(text: str, span: Span, base: float, bold: bool) -> Iterator[Primitive]:
    """A text at the left of its cell, left out where the cell is too small for it."""
    if text and text_width_mm(text, AXIS_PT, bold) + _TEXT_MM <= span[1] - span[0]:
        yield from plated(Label(span[0] + _TEXT_MM, base, text, AXIS_PT, bold=bold))


def _months(scale: Scale) -> list[Days]:
    """The first and last day of each month, as far as they are shown."""
    return _split(scale, lambda day: day.replace(day=calendar.monthrange(day.year, day.month)[1]))


def _years(scale: Scale) -> list[Days]:
    return _split(scale, lambda day: day.replace(month=12, day=31))


def _weeks(scale: Scale, step: int) -> list[Days]:
    return _split(scale, lambda day: day + _DAY * (7 * step - 1))


def _split(scale: Scale, end_of: Callable[[datetime.date], datetime.date]) -> list[Days]:
    """The days shown, cut after the day in which each piece ends."""
    found: list[Days] = []
    day = scale.first
    while day <= scale.last:
        found.append((day, min(end_of(day), scale.last)))
        day = found[-1][1] + _DAY
    return found
