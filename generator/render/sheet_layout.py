"""The one-page site sheet laid out by measured widths, so that it can promise one page.

Everything is in twips and set with exact line spacing; what is not known to fit is refused.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from generator import metrics
from generator.document.model import MixSheet, SheetBlock, SheetMix
from generator.errors import GaugeboxError
from generator.render.xml import TWIPS_PER_MM, fit_text, twips
from generator.values import spoken

MARGIN_SIDE_MM: Final = 10
MARGIN_TOP_MM: Final = 7
MARGIN_BOTTOM_MM: Final = 11
LINE: Final = twips(297 - 2 * MARGIN_SIDE_MM)
"""Width between the margins, in twips."""

_BODY_HEIGHT: Final = twips(210 - MARGIN_TOP_MM - MARGIN_BOTTOM_MM)
# Word and LibreOffice differ by hairs; what is laid out to the last line would spill in one of them.
_SAFE_SHARE: Final = 0.96

LEAST: Final = 12
"""The least type size of anything a mixer reads, in points: read at arm's length."""

LARGEST: Final = 15
FIRST_AID: Final = 14
RATIO: Final = 9.5
_LEAST_BIG_FEW: Final = 28
_LEAST_BIG_MANY: Final = 18
_FEW: Final = 3
_TITLE: Final = 16

SIDE: Final = 90
"""Space between a column's edge and its text, in twips."""

BULLET: Final = twips(4)
GAP: Final = 130
_BORDER: Final = 15
_TALLY: Final = twips(11)
_PADDINGS: Final = (100, 80, 60, 40, 25)
_EASY_PADDING: Final = 50  # rows closer than this only where the type is the least already
_BLOCK_COLUMNS: Final = (3, 2, 4)
FIELDS: Final = (
    "where", "boxes", "lime", "sand", "hair", "method", "batch", "use", "layer", "damp", "ratio",
)  # fmt: skip


class SheetTooFull(GaugeboxError):
    """The sheet cannot be read at arm's length on one page; split it by workplace."""

    def __init__(self, workplace: str, why: str) -> None:
        self.workplace = workplace
        super().__init__(f"the mix schedule for '{workplace}' does not fit one page: {why}")


class _TooWide(Exception):
    """A word is wider than its column."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A paragraph of the sheet: its words, type size in points, weight, whether it is a list item."""

    text: str
    size: float
    bold: bool = False
    bullet: bool = False


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of cells, each a stack of paragraphs set from the top or in the middle; least height in twips."""

    cells: tuple[tuple[Piece, ...], ...]
    header: bool = False
    least: int = 0
    middle: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: column widths in twips, rows, the space above and below the text of a cell."""

    widths: tuple[int, ...]
    rows: tuple[GridRow, ...]
    padding: int
    told: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """The whole page: heading lines, the mix table, tables of short lists, the line of who signs."""

    top: tuple[Piece, ...]
    mixes: Grid
    lists: tuple[Grid, ...]
    end: Piece

    @property
    def height(self) -> int:
        """Height of the page's content in twips. Raises `_TooWide` where a word would be broken."""
        stacked = sum(_piece_height(piece, LINE) for piece in (*self.top, self.end))
        grids = (self.mixes, *self.lists)
        return stacked + sum(_grid_height(grid) + GAP for grid in grids) + GAP


def fitted(sheet: MixSheet) -> Layout:
    """The layout with the largest type that fits the page. Raises `SheetTooFull`."""
    room = round(_BODY_HEIGHT * _SAFE_SHARE)
    least_needed: int | None = None
    for layout in _candidates(sheet):
        try:
            needed = layout.height
        except _TooWide:
            continue
        if needed <= room:
            return _aired(layout, room)
        least_needed = min(needed, least_needed or needed)
    if least_needed is None:
        raise SheetTooFull(sheet.workplace, f"its columns are too narrow for the words at {LEAST} pt")
    over = math.ceil((least_needed - room) / TWIPS_PER_MM)
    raise SheetTooFull(sheet.workplace, f"at {LEAST} pt it is {over} mm too high")


def line_height(size: float) -> int:
    """The exact line spacing of a type size, in twips."""
    return math.ceil(metrics.line_height_pt(size) * 20)


def _candidates(sheet: MixSheet) -> Iterator[Layout]:
    """Layouts from the best to the last that can be read: mixes side by side first, large type first."""
    few = len(sheet.mixes) <= _FEW
    least_big = _LEAST_BIG_FEW if few else _LEAST_BIG_MANY
    top = _top(sheet)
    for turned in (False, True):
        for body in range(LARGEST, LEAST - 1, -1):
            lists = _list_grids(sheet.blocks, body)
            end = Piece(sheet.signs, min(body, FIRST_AID), bold=True)
            for big in range(max(round(2.4 * body), least_big), least_big - 1, -2):
                yield Layout(top, _mix_grid(sheet, body, big, turned), lists, end)


def _aired(layout: Layout, room: int) -> Layout:
    """The layout with as much space in the cells of the mix table as the page has left."""
    for padding in _PADDINGS:
        aired = replace(layout, mixes=replace(layout.mixes, padding=padding))
        if aired.height <= room:
            return aired
    return layout


def _top(sheet: MixSheet) -> tuple[Piece, ...]:
    identity = sheet.identity
    issued = spoken(datetime.date.fromisoformat(identity.date))
    title = " · ".join(filter(None, (identity.title, sheet.workplace)))
    issue = " · ".join(filter(None, (identity.reference, identity.revision, issued, sheet.replaces)))
    draft = (Piece(identity.draft, LEAST, bold=True),) if identity.draft else ()
    return (*draft, Piece(title, _TITLE, bold=True), Piece(issue, LEAST))


# --- the mix table ----------------------------------------------------------------------------------------


def _mix_grid(sheet: MixSheet, body: int, big: int, turned: bool) -> Grid:
    """One line of cells a field, or with `turned` one a mix."""
    told = " · ".join(filter(None, (sheet.identity.title, sheet.workplace)))
    padding = _PADDINGS[-1] if body == LEAST else _EASY_PADDING
    lines = [_named(sheet, body, big), *_field_lines(sheet, body, big), _tally_line(sheet, body)]
    if turned:
        rows = [
            GridRow(cells, index == 0, _TALLY if index else 0, True)
            for index, cells in enumerate(zip(*lines, strict=True))
        ]
        return Grid(_shared_widths(rows), tuple(rows), padding, told)
    last = len(lines) - 1
    rows = [
        GridRow(tuple(cells), index == 0, _TALLY if index == last else 0, True)
        for index, cells in enumerate(lines)
    ]
    return Grid(_label_and_equal(rows), tuple(rows), padding, told)


Line = list[tuple[Piece, ...]]


def _named(sheet: MixSheet, body: int, big: int) -> Line:
    label = (Piece(sheet.labels.get("ref", ""), body, bold=True),)
    return [
        label,
        *((Piece(mix.ref, big, bold=True), Piece(mix.name, body, bold=True)) for mix in sheet.mixes),
    ]


def _field_lines(sheet: MixSheet, body: int, big: int) -> Iterator[Line]:
    """A line for every field that some mix has something to say on."""
    for name in FIELDS:
        if any(_text_of(mix, name) for mix in sheet.mixes):
            size, bold = {"boxes": (big, True), "ratio": (RATIO, False)}.get(name, (body, False))
            label = Piece(sheet.labels.get(name, ""), min(size, body), bold=True)
            yield [(label,), *((Piece(_text_of(mix, name), size, bold),) for mix in sheet.mixes)]


def _tally_line(sheet: MixSheet, body: int) -> Line:
    return [(Piece(sheet.tally, body, bold=True),), *((Piece("", body),) for _ in sheet.mixes)]


def _text_of(mix: SheetMix, name: str) -> str:
    return str(getattr(mix, name))


def _label_and_equal(rows: list[GridRow]) -> tuple[int, ...]:
    label = max(_least_width(row.cells[0]) for row in rows) + 2 * SIDE
    mixes = len(rows[0].cells) - 1
    each = (LINE - label) // mixes
    return (LINE - each * mixes, *[each] * mixes)


def _shared_widths(rows: Iterable[GridRow]) -> tuple[int, ...]:
    """Widths that hold the longest word of every column and share the rest by the length of its text."""
    columns = list(zip(*(row.cells for row in rows), strict=True))
    least = [max(map(_least_width, column)) + 2 * SIDE for column in columns]
    wish = [1 + sum(map(_run_width, column)) for column in columns]
    rest = max(0, LINE - sum(least))
    return tuple(low + rest * want // sum(wish) for low, want in zip(least, wish, strict=True))


# --- the short lists below --------------------------------------------------------------------------------


def _list_grids(blocks: tuple[SheetBlock, ...], body: int) -> tuple[Grid, ...]:
    """The lists in two to four columns, whichever is lowest."""
    choices = [
        _in_columns(blocks, body, columns) for columns in _BLOCK_COLUMNS if columns <= max(2, len(blocks))
    ]
    return min(choices, key=_lists_height, default=())


def _lists_height(grids: tuple[Grid, ...]) -> float:
    try:
        return sum(_grid_height(grid) + GAP for grid in grids)
    except _TooWide:
        return math.inf


def _in_columns(blocks: tuple[SheetBlock, ...], body: int, columns: int) -> tuple[Grid, ...]:
    return tuple(
        _list_grid(blocks[start : start + columns], body) for start in range(0, len(blocks), columns)
    )


def _list_grid(blocks: tuple[SheetBlock, ...], body: int) -> Grid:
    sizes = [FIRST_AID if block.never_shrunk else min(body, FIRST_AID) for block in blocks]
    titles = tuple((Piece(block.title, size, bold=True),) for block, size in zip(blocks, sizes, strict=True))
    lists = tuple(
        tuple(Piece(line, size, bullet=True) for line in block.lines) or (Piece("", size),)
        for block, size in zip(blocks, sizes, strict=True)
    )
    rows = (GridRow(titles, header=True), GridRow(lists))
    told = ", ".join(block.title for block in blocks)
    return min(
        (Grid(widths, rows, 40, told) for widths in _list_widths(rows)),
        key=lambda grid: _lists_height((grid,)),
    )


def _list_widths(rows: tuple[GridRow, ...]) -> Iterator[tuple[int, ...]]:
    count = len(rows[0].cells)
    yield (LINE // count,) * count
    yield _shared_widths(rows)


# --- measuring --------------------------------------------------------------------------------------------


def _grid_height(grid: Grid) -> int:
    if sum(grid.widths) > LINE:
        raise _TooWide
    return sum(_row_height(row, grid) for row in grid.rows) + _BORDER


def _row_height(row: GridRow, grid: Grid) -> int:
    cells = (
        sum(_piece_height(piece, width - 2 * SIDE) for piece in cell)
        for cell, width in zip(row.cells, grid.widths, strict=True)
    )
    return max(max(cells) + 2 * grid.padding, row.least) + _BORDER


def _piece_height(piece: Piece, width: int) -> int:
    room = (width - (BULLET if piece.bullet else 0)) / 20
    text = fit_text(piece.text)
    if room <= 0 or metrics.too_wide(text, room, piece.size, piece.bold):
        raise _TooWide
    return len(metrics.wrap(text, room, piece.size, piece.bold)) * line_height(piece.size)


def _least_width(cell: tuple[Piece, ...]) -> int:
    widths = [
        metrics.text_width_pt(word, piece.size, piece.bold) * 20 + (BULLET if piece.bullet else 0)
        for piece in cell
        for word in piece.text.split()
    ]
    return math.ceil(max(widths, default=0)) + 2


def _run_width(cell: tuple[Piece, ...]) -> int:
    return math.ceil(sum(metrics.text_width_pt(piece.text, piece.size, piece.bold) * 20 for piece in cell))
