"""What the sheets of the workbook share: text that stays text, cell formats, page set-up, protection."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Sequence, Set
from decimal import Decimal
from typing import TYPE_CHECKING, Any, Final

from generator.document.model import Identity, PricingBook
from generator.drawing.text import wrap
from generator.render.workbook.breaks import MARGINS_IN, breaks_before, room_pt
from generator.values import rounded, unparted

if TYPE_CHECKING:
    from xlsxwriter.format import Format  # type: ignore[import-untyped]
    from xlsxwriter.workbook import Workbook  # type: ignore[import-untyped]
    from xlsxwriter.worksheet import Worksheet  # type: ignore[import-untyped]

PAPERS: Final = {"letter": 1, "a4": 9}
CELL_LIMIT: Final = 32_767
SHEET_NAME_LIMIT: Final = 31
ROW_HEIGHT_LIMIT: Final = 409
LINE_POINTS: Final = 12.75
FONT_POINTS: Final = 10
FONT: Final = {"font_name": "Arial", "font_size": FONT_POINTS, "font_scheme": False}

# A column's width is counted in figures of 7 pixels; 2 of the 5 pixels for its edges are left to text: common-practice.
_FIGURE_PIXELS: Final = 7
_EDGE_PIXELS: Final = 2
_CELL_PIXELS: Final = 5
_DASHED: Final = re.compile("[^-–]*[-–](?=.)")
_KEPT_WHOLE: Final = str.maketrans({dash: f"\u2060{dash}\u2060" for dash in "-–"})
_SPARE_FIGURES: Final = 0.7
"""What a line that we break wants to spare: programs set letters a little wider on one screen than on another."""

_POINTS_PER_PIXEL: Final = 72 / 96

# A control character has no place in XML, and an unseen one hides a change: each is shown as its picture.
_SHOWN: Final[dict[int, int]] = {
    **{code: 0x2400 + code for code in range(0x20) if code not in (0x09, 0x0A)},
    0x09: 0x20,
    0x7F: 0x2421,
    **dict.fromkeys((*range(0x80, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF), 0xFFFD),
}
_NOT_IN_SHEET_NAMES: Final = str.maketrans(dict.fromkeys("[]:*?/\\\n", " "))

_TABLE: Final = {"text_wrap": True, "valign": "top", "border": 1, "border_color": "#A6A6A6"}
_OPEN: Final = {**_TABLE, "locked": False, "bg_color": "#F4EFE1", "border": 2, "border_color": "#404040"}
_HEAD: Final = {**_TABLE, "bold": True, "bg_color": "#E8E8E8"}
_SECTION: Final = {"bold": True, "bg_color": "#E8E8E8", "top": 1, "bottom": 1, "valign": "vcenter"}
_TOTAL: Final = {"bold": True, "top": 1, "bottom": 1, "valign": "vcenter"}
_MONEY: Final = {"num_format": "#,##0.00", "align": "right"}
_RATE: Final = {"num_format": "#,##0.00##", "align": "right"}
_COUNT: Final = {"num_format": "0", "align": "right"}

_STYLES: Final[dict[str, dict[str, Any]]] = {
    "title": {"bold": True, "font_size": 14},
    "heading": {"bold": True, "font_size": 11, "valign": "bottom"},
    "plain": {"valign": "vcenter"},
    "low": {"valign": "bottom"},
    "wrapped": {"text_wrap": True, "valign": "top"},
    "notice": {"bold": True, "text_wrap": True, "valign": "vcenter", "border": 5},
    "head": _HEAD,
    "head right": {**_HEAD, "align": "right"},
    "head unit": {**_HEAD, "align": "left", "indent": 1},
    "cell": _TABLE,
    "cell number": {**_TABLE, **_COUNT, "align": "left"},
    "cell unit": {**_TABLE, "align": "left", "indent": 1},
    "cell money": {**_TABLE, **_MONEY},
    "cell count": {**_TABLE, **_COUNT},
    "cell void": {**_TABLE, "pattern": 17, "fg_color": "#B0B0B0", "bg_color": "#FFFFFF"},
    "section": _SECTION,
    "total": _TOTAL,
    "total money": {**_TOTAL, **_MONEY},
    "total count": {**_TOTAL, **_COUNT},
    "grand": {**_TOTAL, "bottom": 6},
    "grand money": {**_TOTAL, **_MONEY, "bottom": 6},
    "grand count": {**_TOTAL, **_COUNT, "bottom": 6},
    "label right": {"bold": True, "align": "right", "valign": "vcenter", "indent": 1},
    "top money": {"bold": True, **_MONEY, "border": 1, "valign": "vcenter"},
    "top count": {"bold": True, **_COUNT, "border": 1, "valign": "vcenter"},
    "field": {**_TABLE, "valign": "vcenter"},
    "open field": {**_OPEN, "valign": "vcenter"},
    "open text": {**_OPEN, "valign": "vcenter", "num_format": "@"},
    "open rate": {**_OPEN, **_RATE},
    "signature": {"locked": False, "bottom": 1, "valign": "bottom"},
    "hidden": {},
}  # fmt: skip


def cell_text(text: str, limit: int = CELL_LIMIT) -> str:
    """Text as a cell can hold it: control characters shown, clipped with `…` at `limit` UTF-16 units."""
    if 2 * len(text) <= limit and text.isprintable():
        return text
    shown = text.replace("\r\n", "\n").translate(_SHOWN)
    units = shown.encode("utf-16-le")
    if len(units) <= 2 * limit:
        return shown
    return units[: 2 * (limit - 1)].decode("utf-16-le", "ignore") + "…"


def sheet_name(text: str) -> str:
    """Words as a sheet may be called: at most 31 characters, none of those that formulas use."""
    return cell_text(text.translate(_NOT_IN_SHEET_NAMES), SHEET_NAME_LIMIT).strip(" '")


def lines_of(text: str, width: float, bold: bool = False) -> tuple[str, ...]:
    """The lines of a text in a column `width` figures wide."""
    room = (width * _FIGURE_PIXELS + _EDGE_PIXELS) * _POINTS_PER_PIXEL
    return wrap(text, room, FONT_POINTS, bold)


def lines_needed(text: str, width: float, bold: bool = False) -> int:
    """Lines that text takes in a column `width` figures wide."""
    return len(lines_of(text, width, bold))


def whole_values(text: str) -> str:
    """A text whose numbers keep to their units on a line; at a dash no mark is put, which would be copied with it."""
    return unparted(text).replace("\u2060", "")


def words_whole(text: str, width: float) -> str:
    """A text, each word of which that would break at its dash or hyphen in a column so many figures wide is kept whole.

    Office programs break behind them. No line end is put: it would stay where the column is widened. The mark against
    that stands in what is looked for and copied, so it is put nowhere else.
    """
    words = text.split(" ")
    # programs differ by a figure or so in where a line ends, and each end moves those after it
    broken = frozenset[int]().union(*(_broken(words, width - spare) for spare in (_SPARE_FIGURES, 0, -_SPARE_FIGURES)))
    return " ".join(word.translate(_KEPT_WHOLE) if at in broken else word for at, word in enumerate(words))


def _broken(words: Sequence[str], width: float) -> Iterator[int]:
    """The places of the words that a line so many figures wide would break at their dash or hyphen."""
    line = ""
    for at, word in enumerate(words):
        longer = f"{line} {word}" if line else word
        if not line or lines_needed(longer, width) == 1:
            line = longer
            continue
        begins = _DASHED.match(word)
        if begins is not None and lines_needed(f"{line} {begins[0]}", width + 2 * _SPARE_FIGURES) == 1:
            yield at
        line = word


def lines_kept(text: str, width: float) -> int:
    """Lines that text takes in a column, which has no more room than is sure in every program."""
    return lines_needed(text, width - _SPARE_FIGURES)


def row_height(lines: int) -> float:
    """Height in points of a row of so many lines, as high as a row may be."""
    return min(ROW_HEIGHT_LIMIT, LINE_POINTS * lines + 2)


def quantity_format(quantity: Decimal) -> str:
    """The number format with as many decimals as the quantity has; closing zeros fall, as in the papers."""
    exponent = quantity.normalize().as_tuple().exponent
    decimals = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return "#,##0" + ("." + "0" * decimals if decimals else "")


def money(amount: Decimal) -> float:
    """An amount to two decimals, as a cell holds numbers."""
    return float(rounded(amount, 2))


class Book:
    """The workbook being written: its formats by name, its words, and names for ranges of cells."""

    def __init__(self, workbook: Workbook, source: PricingBook) -> None:
        self.workbook = workbook
        self.source = source
        self.words = source.words
        self._formats: dict[str, Format] = {}

    def style(self, name: str) -> Format:
        """The cell format called `name` in the table of this module."""
        if name not in self._formats:
            self._formats[name] = self.workbook.add_format(_STYLES[name])
        return self._formats[name]

    def quantity_style(self, quantity: Decimal, *, notional: bool = False) -> Format:
        """The cell format that shows the decimals of the quantity, in brackets where it is notional."""
        number_format = f"({quantity_format(quantity)})" if notional else quantity_format(quantity)
        if number_format not in self._formats:
            properties = {**_TABLE, "num_format": number_format, "align": "right"}
            self._formats[number_format] = self.workbook.add_format(properties)
        return self._formats[number_format]

    def with_currency(self, key: str) -> str:
        """A fixed word followed by the currency in brackets."""
        return f"{self.words[key]} ({self.source.currency})"

    def identity_line(self) -> str:
        """The work, its reference and its revision in one line."""
        identity, words = self.source.identity, self.words
        parts = (
            identity.subject,
            f"{words['reference']} {identity.reference}",
            f"{words['revision']} {identity.revision}",
        )
        return " · ".join(part for part in parts if part.strip())

    def notices(self) -> list[str]:
        """What must be seen on every sheet: the draft mark, and that the total is not complete."""
        incomplete = "" if self.source.complete else self.words["incomplete"]
        return [notice for notice in (self.source.identity.draft, incomplete) if notice]


class Sheet:
    """One sheet: text goes in as text, numbers as numbers, and a formula only where we write one.

    Rows and columns count from 0.
    """

    def __init__(self, book: Book, word: str, widths: tuple[float, ...], *, landscape: bool = False) -> None:
        from generator.render.workbook.cells import Cells

        self.book = book
        self.name = sheet_name(book.words[word])
        self.cells: Worksheet = book.workbook.add_worksheet(self.name, Cells)
        self.chars = sum(widths)
        self._wide_pt = sum(width * _FIGURE_PIXELS + _CELL_PIXELS for width in widths) * _POINTS_PER_PIXEL
        self._landscape = landscape
        self._heights: dict[int, float] = {}
        for column, width in enumerate(widths):
            self.cells.set_column(column, column, width)
        self._set_page(landscape)

    def text(self, row: int, column: int, text: str, style: str = "cell") -> None:
        """Writes text, whatever it looks like."""
        self.cells.write_string(row, column, cell_text(text), self.book.style(style))

    def number(self, row: int, column: int, number: float, style: str) -> None:
        """Writes a number."""
        self.cells.write_number(row, column, number, self.book.style(style))

    def formula(self, row: int, column: int, formula: str, style: str, cached: float | str) -> None:
        """Writes a formula of ours with the value it has while no rate is filled in."""
        self.cells.write_formula(row, column, formula, self.book.style(style), cached)

    def blank(self, row: int, columns: range, style: str) -> None:
        """Formats empty cells of a row."""
        for column in columns:
            self.cells.write_blank(row, column, None, self.book.style(style))

    def band(self, row: int, first: int, last: int, text: str, style: str = "wrapped") -> None:
        """Writes text over several columns."""
        self.cells.merge_range(row, first, row, last, "", self.book.style(style))
        self.text(row, first, text, style)

    def full_band(self, row: int, last: int, text: str, style: str = "wrapped") -> None:
        """Writes text over the sheet's width in a row high enough for it."""
        self.band(row, 0, last, text, style)
        self.fit_row(row, lines_needed(text, self.chars, bool(_STYLES[style].get("bold"))))

    def fit_row(self, row: int, lines: int) -> None:
        """Makes a row high enough for its lines: merged cells never grow, others not everywhere."""
        self.set_height(row, row_height(lines))

    def set_height(self, row: int, points: float) -> None:
        """Makes a row so high."""
        self.cells.set_row(row, points)
        self._heights[row] = points

    def keep_titles(self, titles: Set[int], first: int, last: int) -> None:
        """Prints each title of the rows from `first` on with rows of its own on its page."""
        room = room_pt(self.book.source.identity.paper, self._wide_pt, landscape=self._landscape)
        self.cells.set_h_pagebreaks(list(breaks_before(titles, first, last, self._heights, room)))

    def top(self, last: int, word: str, *, identified: bool = True) -> int:
        """Writes the sheet's title, what it belongs to and the notices; the next free row."""
        self.text(0, 0, self.book.words[word], "title")
        self.set_height(0, 22)
        row = 1
        if identified:
            self.text(1, 0, self.book.identity_line(), "plain")
            row = 2
        for notice in self.book.notices():
            self.full_band(row, last, notice, "notice")
            row += 1
        return row

    def protect(self) -> None:
        """Locks what is not open to the tenderer; columns and rows may still be widened, hidden, filtered."""
        self.cells.protect("", {"format_columns": True, "format_rows": True, "autofilter": True, "sort": True})

    def address(self, row: int, first: int, last_row: int, last: int) -> str:
        """An absolute range with the sheet's name: `'Form of tender'!$A$1:$B$2`."""
        from xlsxwriter.utility import xl_range_abs  # type: ignore[import-untyped]

        quoted = self.name.replace("'", "''")
        return f"'{quoted}'!{xl_range_abs(row, first, last_row, last)}"

    def define(self, name: str, row: int, first: int, last_row: int, last: int) -> None:
        """Gives a range of this sheet a name that formulas and readers of returns use."""
        self.book.workbook.define_name(name, "=" + self.address(row, first, last_row, last))

    def _set_page(self, landscape: bool) -> None:
        identity, cells = self.book.source.identity, self.cells
        if landscape:
            cells.set_landscape()
        else:
            cells.set_portrait()
        cells.set_paper(PAPERS[identity.paper])
        cells.set_margins(**MARGINS_IN)
        cells.fit_to_pages(1, 0)
        cells.center_horizontally()
        cells.hide_gridlines(2)
        cells.set_header(_page_header(identity, self.book.words["revision"]))
        cells.set_footer(_page_footer(identity, self.name))


def _page_header(identity: Identity, revision: str) -> str:
    """The draft mark and the work at the left, reference and revision at the right."""
    marked = " · ".join(filter(None, (identity.draft, identity.subject)))
    left = _for_margin(marked, 90)
    return f"&L{left}&R" + _for_margin(f"{identity.reference} · {revision} {identity.revision}", 70)


def _page_footer(identity: Identity, name: str) -> str:
    page, of = (_for_margin(word, 30) for word in identity.page_words)
    titles = dict.fromkeys((identity.title, name))
    return "&L" + _for_margin(" · ".join(titles), 120) + f"&R{page} &P {of} &N"


def _for_margin(text: str, limit: int) -> str:
    """Text for a page's header or footer, whose codes begin with `&` and which holds 255 units in all."""
    line = cell_text(text.replace("\n", " "))
    units = limit
    while True:
        escaped = cell_text(line, units).replace("&", "&&")
        if len(escaped.encode("utf-16-le")) <= 2 * limit:
            return escaped
        units -= 1


def issue_date(identity: Identity) -> datetime.datetime:
    """Midnight of the issue date, which stands for every date inside the file."""
    return datetime.datetime.fromisoformat(identity.date)
