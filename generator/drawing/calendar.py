"""A strip of months: the season in which lime is safe, the last placing, and the works as bars."""

from __future__ import annotations

import calendar
import datetime
from collections.abc import Sequence
from typing import Final

from generator.drawing.annotate import LINE_MM, lettering, lines_in, text_width_mm
from generator.drawing.model import (
    DASHED,
    FINE,
    LETTER_PT,
    MEDIUM,
    THICK,
    THIN,
    Drawing,
    Label,
    Line,
    Polygon,
    Primitives,
    Rect,
    filled,
    one_line,
)
from generator.values import DAY_MONTH_YEAR, MONTHS, Struct, date_spoken

WIDTH_MM: Final = 145.0
MOST_MONTHS: Final = 36
_MARGIN: Final = 3.0
_LEFT: Final = 40.0
_RIGHT: Final = WIDTH_MM - _MARGIN
_HEAD: Final = 8.6
_SEASON: Final = 5.0
_BAR: Final = 2.8
_ROW_GAP: Final = 2.4
_SEASON_FILL: Final = 0.86
_SMALL_PT: Final = 7.0


class Bar(Struct, frozen=True):
    """A work on the strip, from its first to its last day."""

    label: str
    first: datetime.date
    last: datetime.date


class CalendarWords(Struct, frozen=True):
    """What stands on the strip and in the alternative text.

    In braces: `{first}`, `{last}`, `{date}`; in the alternative text `{season}`, `{placing}`, `{works}` too.
    """

    season: str
    last_placing: str
    span: str
    outside: str
    alt: str
    none: str


class _Strip(Struct, frozen=True):
    """The months on paper."""

    months: tuple[datetime.date, ...]

    @property
    def month_mm(self) -> float:
        return (_RIGHT - _LEFT) / len(self.months)

    @property
    def first(self) -> datetime.date:
        return self.months[0]

    @property
    def last(self) -> datetime.date:
        end = self.months[-1]
        return end.replace(day=calendar.monthrange(end.year, end.month)[1])

    def place(self, day: datetime.date, after: bool = False) -> float:
        """Where a day begins, or where it ends; days beyond the strip stand at its ends."""
        if day < self.first:
            return _LEFT
        if day > self.last:
            return _RIGHT
        index = (day.year - self.first.year) * 12 + day.month - self.first.month
        length = calendar.monthrange(day.year, day.month)[1]
        return _LEFT + (index + (day.day - 1 + after) / length) * self.month_mm

    def shows(self, first: datetime.date, last: datetime.date) -> bool:
        return first <= self.last and last >= self.first


def season_calendar(
    start: datetime.date,
    seasons: Sequence[tuple[datetime.date, datetime.date]],
    last_placing: datetime.date | None,
    bars: Sequence[Bar],
    words: CalendarWords,
    months: int = 12,
    dates: str = DAY_MONTH_YEAR,
) -> Drawing:
    """The strip of so many months from the month of `start`, seasons and bars by their first and last days.

    `dates` is how days are spelt.
    ValueError for 0 or more than 36 months and for a season or bar that ends before it begins.
    """
    _check(seasons, bars, months)
    strip = _Strip(tuple(_month(start, step) for step in range(months)))
    marked = last_placing if last_placing and strip.shows(last_placing, last_placing) else None
    top = _MARGIN + (LINE_MM + 1.4 if marked else 0.0)
    rows: list[Primitives] = []
    y = top + _HEAD + _SEASON + _ROW_GAP
    for bar in bars:
        lines = lines_in(one_line(bar.label), _LEFT - _MARGIN - 2.0)
        rows.append(_bar(strip, bar, lines, y, words))
        y += max(LINE_MM * len(lines), _BAR) + _ROW_GAP
    primitives = (
        *_season_row(strip, seasons, top + _HEAD, words),
        *_grid(strip, top, y),
        *(primitive for row in rows for primitive in row),
        *(_placing(strip, marked, top, y, words, dates) if marked else ()),
    )
    return Drawing(WIDTH_MM, round(y + _MARGIN, 2), _alt(strip, seasons, last_placing, bars, words, dates), primitives)


def _check(seasons: Sequence[tuple[datetime.date, datetime.date]], bars: Sequence[Bar], months: int) -> None:
    if not 1 <= months <= MOST_MONTHS:
        raise ValueError(f"months is {months}: valid 1 to {MOST_MONTHS}")
    for first, last in (*seasons, *((bar.first, bar.last) for bar in bars)):
        if last < first:
            raise ValueError(f"a stretch ends on {last}, before it begins on {first}")


def _month(start: datetime.date, step: int) -> datetime.date:
    count = start.month - 1 + step
    return datetime.date(start.year + count // 12, count % 12 + 1, 1)


def _grid(strip: _Strip, top: float, bottom: float) -> Primitives:
    """Months with their names, years above the first month and each January."""
    width = strip.month_mm
    longest = max(text_width_mm(name[:3], _SMALL_PT) for name in MONTHS)
    letters = 3 if longest < width - 0.6 else 1
    parts: list[Line | Label] = []
    for index, month in enumerate(strip.months):
        x = _LEFT + index * width
        begins = index == 0 or month.month == 1
        parts.append(Line(x, top if begins else top + 4.2, x, bottom, THIN if begins else FINE))
        if width > text_width_mm("M", _SMALL_PT):
            parts.append(Label(x + width / 2, top + 7.4, MONTHS[month.month - 1][:letters], _SMALL_PT, "middle"))
        # a year needs the room of its months: a lone December says none
        if begins and (12 - month.month + 1) * width > 8.0 and (len(strip.months) - index) * width > 8.0:
            parts.append(Label(x + 0.8, top + 3.2, str(month.year), _SMALL_PT, bold=True))
    rules = [Line(_LEFT, y, _RIGHT, y, THIN) for y in (top + 4.2, top + _HEAD, bottom)]
    return (*parts, Line(_RIGHT, top + 4.2, _RIGHT, bottom, THIN), *rules)


def _season_row(
    strip: _Strip, seasons: Sequence[tuple[datetime.date, datetime.date]], y: float, words: CalendarWords
) -> Primitives:
    filled_in = [
        Rect(
            strip.place(first),
            y,
            strip.place(last, after=True) - strip.place(first),
            _SEASON,
            0.0,
            _SEASON_FILL,
        )
        for first, last in seasons
        if strip.shows(first, last)
    ]
    baseline = y + _SEASON / 2 + 1.0
    return (
        *filled_in,
        *lettering((words.season,), _MARGIN, baseline),
        Line(_LEFT, y + _SEASON, _RIGHT, y + _SEASON, FINE),
    )


def _bar(strip: _Strip, bar: Bar, lines: Sequence[str], y: float, words: CalendarWords) -> Primitives:
    label = lettering(lines, _MARGIN, y + LINE_MM * 0.75)
    if not strip.shows(bar.first, bar.last):
        # on a white ground, clear of the lines of the months
        ground = Rect(_LEFT + 0.6, y, text_width_mm(words.outside, _SMALL_PT) + 1.2, LINE_MM, 0.0, 1.0)
        return (*label, ground, Label(_LEFT + 1.2, y + LINE_MM * 0.72, words.outside, _SMALL_PT))
    left, right = strip.place(bar.first), strip.place(bar.last, after=True)
    top = y + (LINE_MM - _BAR) / 2
    # a point shows that the work goes on beyond the strip
    tip = _BAR / 2
    before = ((left + tip, top + _BAR), (left, top + tip), (left + tip, top))
    after = ((right - tip, top), (right, top + tip), (right - tip, top + _BAR))
    corners = (
        *(before if bar.first < strip.first else ((left, top + _BAR), (left, top))),
        *(after if bar.last > strip.last else ((right, top), (right, top + _BAR))),
    )
    return (*label, Polygon(corners, MEDIUM, 0.35))


def _placing(
    strip: _Strip, day: datetime.date, top: float, bottom: float, words: CalendarWords, dates: str
) -> Primitives:
    x = strip.place(day, after=True)
    text = filled(words.last_placing, date=date_spoken(day, dates))
    half = text_width_mm(text, LETTER_PT, bold=True) / 2
    middle = min(max(x, _MARGIN + half), _RIGHT - half)
    return (
        # the names of the months stay clear
        Line(x, top - 0.6, x, top + 4.2, THICK),
        Line(x, top + _HEAD, x, bottom, THICK, DASHED),
        Label(middle, top - 1.6, text, LETTER_PT, "middle", True),
    )


def _alt(
    strip: _Strip,
    seasons: Sequence[tuple[datetime.date, datetime.date]],
    last_placing: datetime.date | None,
    bars: Sequence[Bar],
    words: CalendarWords,
    dates: str,
) -> str:
    def span(first: datetime.date, last: datetime.date) -> str:
        return filled(words.span, first=date_spoken(first, dates), last=date_spoken(last, dates))

    safe = ", ".join(span(first, last) for first, last in seasons) or words.none
    works = "; ".join(f"{one_line(bar.label)}: {span(bar.first, bar.last)}" for bar in bars)
    date = date_spoken(last_placing, dates) if last_placing else words.none
    return filled(
        words.alt, first=date_spoken(strip.first, dates), last=date_spoken(strip.last, dates),
        season=f"{words.season}: {safe}",
        placing=filled(words.last_placing, date=date), works=works or words.none,
    )  # fmt: skip
