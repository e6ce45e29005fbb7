"""On which page each heading stands, reckoned without an office program, for the contents list.

Held against LibreOffice 7.4 on every example in tests/test_office.py. What was never measured (another face, another
look than ours, a word or group of lines higher or wider than its column) is `Unsure`, and then no page is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from generator.document.model import Section
from generator.render.word.awaited import as_measured
from generator.render.word.flow import Line, Reader, Unsure
from generator.render.word.geometry import beside, geometry
from generator.render.word.look import LANGUAGE, Look
from generator.render.word.styles import FONT, styles_part
from generator.render.word.type_styles import type_styles
from generator.render.word.xml import COLUMN_GAP
from generator.values import Struct, field

_COLUMNS_END: Final = 40
"""What columns that go on below others want to spare at the end of their page, in twips: 0.7 mm. With less they take
another page, as drawn sections showed."""

_OUT: Final = 8
"""How far what is reckoned may be out on a page, in twips: 0.14 mm. On the examples it was 0.11 at the most."""

_END_OF_TABLE, _END_OF_PARAGRAPH = "</w:tbl>", "</w:p>"
_PICTURED_HEADER: Final = "r:embed"


def is_measured(look: Look, paper: str) -> bool:
    """Whether a look is one whose pages were held against an office program: ours, with headers of one line."""
    simple = all(
        story.content.count("<w:p>") <= 1 and _PICTURED_HEADER not in story.content for story in look.stories.values()
    )
    ours = look.faces == (FONT,) and look.styles == styles_part(LANGUAGE) and look.geometry == geometry(paper)
    return ours and simple


def reckoned(sections: Iterable[tuple[Section, str]], look: Look, wanted: Iterable[str]) -> dict[str, int]:
    """The page of each wanted bookmark, 1 the first, of sections with their text; raises `Unsure`.

    Sure are pages that are the same however lines break that just fit, and on pages a little higher and lower.
    """
    reader, missing = Reader(type_styles(look.styles)), set(wanted)
    ways = [_Pages(look, more) for more in (0, -_OUT, _OUT)]
    for section, text in sections:
        if not missing - ways[0].found.keys():
            break
        line = look.geometry.page(section.landscape).line
        widths = beside(line, is_even=section.is_even) if section.side else _equal(line, section.columns)
        ends_in_table = text.rfind(_END_OF_TABLE) > text.rfind(_END_OF_PARAGRAPH)
        if len(widths) > 1 and ends_in_table:
            raise Unsure("columns that end in a table")
        for way, lines in zip(ways, reader.lines_of(as_measured(text), widths), strict=True):
            way.put(section, lines, len(widths))
    if missing - ways[0].found.keys():
        raise Unsure("a heading that stands nowhere")
    told = [{name: way.found.get(name) for name in missing} for way in ways]
    if told[1:] != told[:-1]:
        raise Unsure("a heading that a hair's breadth puts on another page")
    return {name: ways[0].found[name] for name in missing}


class _Pages(Struct):
    """The pages of a paper as its sections fill them, each a little higher or lower than it is."""

    look: Look
    more: int
    page: int = 0
    used: float = 0.0
    ran_over: bool = False
    found: dict[str, int] = field(default_factory=dict)

    def put(self, section: Section, lines: list[Line], count: int) -> None:
        """The next section, of so many columns."""
        sheet = self.look.geometry.page(section.landscape)
        room = sheet.room + self.more
        starts = self.page == 0 or not section.continues
        turns = starts or self.ran_over
        top = 0.0 if turns else self.used
        columns = _Columns(room, count, self.page + turns, top, not turns, is_first=starts or not self.ran_over)
        columns.fill(lines)
        if count > 1 and section.continues and columns.lowest + _COLUMNS_END > room:
            raise Unsure("columns below others that all but fill their page")
        # what follows columns that ran over their page begins on one of its own
        self.ran_over = count > 1 and columns.page > columns.first_page
        self.page, self.used = columns.page, columns.lowest
        self.found |= columns.found


def _equal(line: int, count: int) -> tuple[int, ...]:
    return ((line - (count - 1) * COLUMN_GAP) // count,) * count


class _Columns(Struct):
    """The columns of a section as they fill, from a height on its first page on."""

    room: int
    count: int
    page: int
    top: float
    continues: bool = False
    column: int = 0
    place: float = 0.0
    after: int = 0
    lowest: float = 0.0
    is_first: bool = True
    first_page: int = 0
    found: dict[str, int] = field(default_factory=dict)

    def fill(self, lines: list[Line]) -> None:
        """Places lines one below the other, groups of them that keep together whole."""
        if self.count > 1 and lines:
            self.top += lines[0].before  # what keeps the first from the top keeps all columns of its page from it
        self.place = self.lowest = self.top
        self.first_page = self.page
        for group in _groups(lines):
            if self.count > 1 and self.continues and self.is_first and self._foot(group) > self.room:
                self._turn()
            self._start(group[0].breaks)
            foot = self._foot(group)
            if foot > self.room and not self.at_top:
                self._next()
                foot = self._foot(group)
            if foot > self.room:
                raise Unsure("lines that keep together higher than their column")
            self._put(group, foot)

    @property
    def at_top(self) -> bool:
        """Whether the column is at its top and nothing stands above it."""
        return self.place == self.top and (not self.continues or not self.is_first)

    def _start(self, breaks: str) -> None:
        if breaks == "column":
            self._next()
        elif breaks == "page" and not (self.at_top and self.column == 0):
            self.column = self.count - 1
            self._next()

    def _next(self) -> None:
        """The next column, or the first of the next page."""
        self.column += 1
        if self.column == self.count:
            self.column, self.page, self.top, self.lowest = 0, self.page + 1, 0.0, 0.0
        self.place, self.after, self.is_first = self.top, 0, False

    def _turn(self) -> None:
        """The next page, where the room left on this one holds nothing of the section."""
        self.column, self.first_page = self.count - 1, self.page + 1
        self._next()

    def _foot(self, group: list[Line]) -> float:
        """Where lines that keep together would end."""
        place, after, at_top, is_first = self.place, self.after, self.at_top, self.is_first
        for line in group:
            place += self._gap(line, after, at_top, is_first) + self._head(line, at_top) + line.height
            after, at_top, is_first = line.after, False, False
        return place

    def _gap(self, line: Line, after: int, at_top: bool, is_first: bool) -> int:
        """The space above a line: the greater of two that meet; none at the top of all pages but the first."""
        if at_top or (is_first and self.count > 1):
            return line.before if is_first and self.count == 1 else 0
        return max(line.before, after)

    def _head(self, line: Line, at_top: bool) -> float:
        return line.head if line.leads or at_top else 0.0

    def _put(self, group: list[Line], foot: float) -> None:
        self.place, self.after, self.is_first = foot, group[-1].after, False
        self.lowest = max(self.lowest, foot)
        for line in group:
            for name in line.names:
                self.found.setdefault(name, self.page)


def _groups(lines: list[Line]) -> Iterator[list[Line]]:
    """Lines that keep together, in order."""
    group: list[Line] = []
    for line in lines:
        group.append(line)
        if not line.keeps:
            yield group
            group = []
    if group:
        yield group
