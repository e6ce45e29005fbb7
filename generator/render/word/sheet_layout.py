"""The one-page site sheet laid out by measured widths, so that it can promise one page.

First a table with a labelled line for every field and a column for every mix; where that is too high, a card
for every mix, its fields run on. What is not known to fit is refused.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from generator.document.model import MixSheet, SheetBlock, SheetMix
from generator.errors import GaugeboxError
from generator.render.word.geometry import PAPERS
from generator.render.word.sheet_measure import (
    GAP,
    SIDE,
    Grid,
    GridRow,
    Piece,
    Span,
    TooWide,
    least_width,
    piece,
    piece_height,
    run_width,
    stack_height,
)
from generator.render.word.xml import TWIPS_PER_MM, twips

MARGIN_SIDE_MM: Final = 10
MARGIN_TOP_MM: Final = 7
MARGIN_BOTTOM_MM: Final = 11

_SAFE_SHARE: Final = 0.97

LEAST: Final = 12
"""The least type size of anything a mixer reads, in points: read at arm's length."""

LARGEST: Final = 17
FIRST_AID: Final = 13
RATIO: Final = 9.5
_TITLE: Final = 16
_FEW: Final = 3
_LEAST_BIG_FEW: Final = 28
_LEAST_BIG_MANY: Final = 18
_BIG_TIMES_BODY: Final = 2.4
_BOX_WORDS_OVER: Final = 2  # words beside the counts of boxes, larger than the rest by so many points

_TALLY: Final = twips(11)
_WIDEST_LABEL: Final = twips(36)
_PADDINGS: Final = (100, 80, 60, 40, 25)
_EASY_PADDING: Final = 50  # rows closer than this only where the type is the least already
_LIST_PADDING: Final = 40
_LIST_COLUMNS: Final = (3, 2, 4)
_EVENINGS: Final = 5

FIELDS: Final = (
    "where", "boxes", "lime", "sand", "hair", "method", "batch", "use", "layer", "damp", "ratio",
)  # fmt: skip
_CARD: Final = (
    ("where",),
    ("boxes",),
    ("lime", "sand", "hair"),
    ("method", "batch", "use"),
    ("layer", "damp"),
    ("ratio",),
)
# `2 boxes NHL 3.5 + 4 boxes sand`: 2 and 4 count boxes, 3.5 does not.
_IN_LARGE: Final = ("ref", "boxes")
# no number is parted from its unit, and no ratio broken
_HELD: Final = re.compile(r"(?<=\d) (?=[^\W\d])|(?<=\d) (?=: \d)|(?<=\d :) (?=\d)")
_COUNT: Final = re.compile(r"((?:^|(?<=\+ ))[0-9½¼¾⅓⅔][0-9½¼¾⅓⅔.,/–]*(?= ))")

Cell = tuple[Piece, ...]
Grids = tuple[Grid, ...]
MixGrid = Callable[[MixSheet, int, int], Grid]


class SheetTooFull(GaugeboxError):
    """The sheet cannot be read at arm's length on one page; split it by workplace."""

    def __init__(self, workplace: str, why: str) -> None:
        self.workplace = workplace
        super().__init__(f"the mix schedule for '{workplace}' does not fit one page: {why}")


@dataclass(frozen=True, slots=True)
class Layout:
    """The whole page: heading lines, the mix table, tables of short lists, the line of who signs."""

    top: tuple[Piece, ...]
    mixes: Grid
    lists: Grids
    end: Piece
    line: int

    @property
    def height(self) -> int:
        """Height of the page's content in twips. Raises `TooWide` where a word would be broken."""
        stacked = sum(piece_height(item, self.line) for item in (*self.top, self.end))
        return stacked + sum(grid.height + GAP for grid in (self.mixes, *self.lists)) + GAP


def line_of(sheet: MixSheet) -> int:
    """Width between the margins of the sheet's paper, lying on its side, in twips."""
    return PAPERS[sheet.identity.paper][1] - 2 * twips(MARGIN_SIDE_MM)


def _room(sheet: MixSheet) -> int:
    """Height that may be filled: what is laid out to the last line spills where programs differ by hairs."""
    return round((PAPERS[sheet.identity.paper][0] - twips(MARGIN_TOP_MM + MARGIN_BOTTOM_MM)) * _SAFE_SHARE)


def fitted(sheet: MixSheet) -> Layout:
    """The layout with the largest type that fits the page. Raises `SheetTooFull`."""
    room = _room(sheet)
    blocks = _with_nevers(sheet)
    lists = {body: _list_grids(blocks, body, line_of(sheet)) for body in range(LEAST, LARGEST + 1)}
    needs: list[float] = []
    for mix_grid in (_labelled, _cards):
        # larger type never takes less room, so the smallest says whether to try the others
        needs.append(_needed(_layout(sheet, mix_grid, LEAST, _least_big(sheet), lists[LEAST])))
        if needs[-1] <= room:
            return next(_aired(layout, room) for layout in _ladder(sheet, mix_grid, lists) if _needed(layout) <= room)
    if math.isinf(min(needs)):
        raise SheetTooFull(sheet.workplace, f"its columns are too narrow for the words at {LEAST} pt")
    over = math.ceil((min(needs) - room) / TWIPS_PER_MM)
    raise SheetTooFull(sheet.workplace, f"at {LEAST} pt it is {over} mm too high")


def _with_nevers(sheet: MixSheet) -> tuple[SheetBlock, ...]:
    """The lists of a page, with what its own mixes forbid."""
    own = tuple(dict.fromkeys(never for mix in sheet.mixes for never in mix.nevers))
    return tuple(replace(block, lines=block.lines + own) if block.of_mixes else block for block in sheet.blocks)


def parted(sheet: MixSheet) -> tuple[MixSheet, ...]:
    """The sheet as the fewest sheets of one page each, the mixes shared out in order, all else on each.

    For one workplace whose mixes do not fit one page. Raises `SheetTooFull` where one mix alone does not.
    """
    count = len(sheet.mixes)
    for pages in range(1, count):
        edges = [round(count * page / pages) for page in range(pages + 1)]
        sheets = tuple(replace(sheet, mixes=sheet.mixes[start:end]) for start, end in pairwise(edges))
        if all(map(_fits, sheets)):
            return sheets
    alone = tuple(replace(sheet, mixes=(mix,)) for mix in sheet.mixes)
    for single in alone:
        fitted(single)
    return alone


def _fits(sheet: MixSheet) -> bool:
    """Whether the least type that can be read fits the page in one of the ways."""
    lists, big = _list_grids(_with_nevers(sheet), LEAST, line_of(sheet)), _least_big(sheet)
    return any(_needed(_layout(sheet, grid, LEAST, big, lists)) <= _room(sheet) for grid in (_labelled, _cards))


def _ladder(sheet: MixSheet, mix_grid: MixGrid, lists: dict[int, Grids]) -> Iterator[Layout]:
    """Layouts from the largest type to the smallest that can be read."""
    least = _least_big(sheet)
    for body in range(LARGEST, LEAST - 1, -1):
        for big in range(max(round(_BIG_TIMES_BODY * body), least), least - 1, -2):
            yield _layout(sheet, mix_grid, body, big, lists[body])
    yield _layout(sheet, mix_grid, LEAST, least, lists[LEAST])


def _layout(sheet: MixSheet, mix_grid: MixGrid, body: int, big: int, lists: Grids) -> Layout:
    end = piece(sheet.signs, min(body, FIRST_AID), bold=True)
    return Layout(_top(sheet), mix_grid(sheet, body, big), lists, end, line_of(sheet))


def _least_big(sheet: MixSheet) -> int:
    return _LEAST_BIG_FEW if len(sheet.mixes) <= _FEW else _LEAST_BIG_MANY


def _needed(layout: Layout) -> float:
    try:
        return layout.height
    except TooWide:
        return math.inf


def _aired(layout: Layout, room: int) -> Layout:
    """The layout with as much space in the cells of the mix table as the page has left."""
    for padding in _PADDINGS:
        aired = replace(layout, mixes=replace(layout.mixes, padding=padding))
        if aired.height <= room:
            return aired
    return layout


def _top(sheet: MixSheet) -> tuple[Piece, ...]:
    identity = sheet.identity
    issue = " · ".join(filter(None, (identity.reference, identity.revision, identity.issued, sheet.replaces)))
    draft = (piece(identity.draft, LEAST, bold=True),) if identity.draft else ()
    return (*draft, piece(_told(sheet), _TITLE, bold=True), piece(issue, LEAST))


def _told(sheet: MixSheet) -> str:
    return " · ".join(filter(None, (sheet.identity.title, sheet.workplace)))


# --- the mix table ----------------------------------------------------------------------------------------


def _labelled(sheet: MixSheet, body: int, big: int) -> Grid:
    """A line for every field that some mix has something to say on, its label before it."""
    head: list[Cell] = [_label(sheet, "ref", body), *_names(sheet, body, big, len(sheet.mixes) + 1)]
    rows = [GridRow(tuple(head), header=True, middle=True)]
    for name in _said(sheet, FIELDS):
        cells = (_label(sheet, name, body), *((_field(mix, name, body, big),) for mix in sheet.mixes))
        rows.append(GridRow(cells, middle=True))
    strokes: Cell = (piece("", body),)
    tally = (piece(sheet.tally, LEAST, bold=True),)
    rows.append(GridRow((tally, *(strokes for _ in sheet.mixes)), least=_TALLY, middle=True))
    return Grid(_label_and_equal(rows, line_of(sheet)), tuple(rows), _padding(body), _told(sheet))


def _cards(sheet: MixSheet, body: int, big: int) -> Grid:
    """A column for every mix, related fields run on in one cell with their labels in the text."""
    rows = [GridRow(_names(sheet, body, big, len(sheet.mixes)), header=True)]
    for names in _CARD:
        said = _said(sheet, names)
        if said:
            rows.append(GridRow(tuple((_run_on(sheet, mix, said, body, big),) for mix in sheet.mixes)))
    tally: Cell = (piece(sheet.tally, LEAST, bold=True),)
    rows.append(GridRow(tuple(tally for _ in sheet.mixes), least=_TALLY + twips(5)))
    return Grid(_equal(len(sheet.mixes), line_of(sheet)), tuple(rows), _padding(body), _told(sheet))


def _padding(body: int) -> int:
    return _PADDINGS[-1] if body == LEAST else _EASY_PADDING


def _label(sheet: MixSheet, name: str, body: float) -> Cell:
    return (piece(sheet.labels.get(name, ""), RATIO if name == "ratio" else body, bold=True),)


def _names(sheet: MixSheet, body: int, big: int, columns: int) -> tuple[Cell, ...]:
    """References and names, on one line where all have room for it."""
    pairs = [(Span(f"{mix.ref} ", big, True), Span(mix.name, body, True)) for mix in sheet.mixes]
    cells = [(Piece(pair),) for pair in pairs]
    if max(map(run_width, cells)) < line_of(sheet) // columns - 2 * SIDE:
        return tuple(cells)
    return tuple((Piece((ref,)), Piece((name,))) for ref, name in pairs)


def _field(mix: SheetMix, name: str, body: int, big: int) -> Piece:
    text = _text_of(mix, name)
    if name != "boxes":
        return piece(text, RATIO if name == "ratio" else body)
    return _counted(text, body, big)


def _counted(text: str, body: int, big: int) -> Piece:
    """The boxes of a batch with their counts in the largest type; all of it, where no count is found."""
    parts = _COUNT.split(text)
    if len(parts) == 1:
        return piece(text, big, bold=True)
    # split on a group gives texts and counts in turn
    sizes = (body + _BOX_WORDS_OVER, big)
    return Piece(tuple(Span(part, sizes[index % 2], True) for index, part in enumerate(parts) if part))


def _run_on(sheet: MixSheet, mix: SheetMix, names: Sequence[str], body: int, big: int) -> Piece:
    if names == ["boxes"]:
        return _field(mix, "boxes", body, big)
    size = RATIO if "ratio" in names else body
    spans: list[Span] = []
    for name in names:
        text = _text_of(mix, name)
        if text:
            spans += (Span(f"{sheet.labels.get(name, '')} ", size, True), Span(f"{_closed(text)} ", size))
    return Piece(tuple(spans)) if spans else piece("", size)


def _closed(text: str) -> str:
    return text if text.endswith((".", "!", "?", ";")) else f"{text}."


def _said(sheet: MixSheet, names: Sequence[str]) -> list[str]:
    return [name for name in names if any(_text_of(mix, name) for mix in sheet.mixes)]


def _text_of(mix: SheetMix, name: str) -> str:
    text = str(getattr(mix, name))
    return text if name in _IN_LARGE else _HELD.sub("\u00a0", text)


def _label_and_equal(rows: Sequence[GridRow], line: int) -> tuple[int, ...]:
    """A column that holds most labels on one line, and equal columns for the mixes."""
    labels = [row.cells[0] for row in rows]
    most = sorted(map(run_width, labels))[-3:][0]
    label = max(max(map(least_width, labels)), min(most, _WIDEST_LABEL)) + 2 * SIDE
    mixes = len(rows[0].cells) - 1
    each = (line - label) // mixes
    return (line - each * mixes, *[each] * mixes)


def _equal(count: int, line: int) -> tuple[int, ...]:
    return (line // count,) * count


# --- the short lists below --------------------------------------------------------------------------------


def _list_grids(blocks: tuple[SheetBlock, ...], body: int, line: int) -> Grids:
    """The lists in two to four columns, whichever is lowest."""
    choices = [_in_columns(blocks, body, columns, line) for columns in _LIST_COLUMNS if columns <= max(2, len(blocks))]
    return min(choices, key=_lists_height, default=())


def _lists_height(grids: Grids) -> float:
    try:
        return sum(grid.height + GAP for grid in grids)
    except TooWide:
        return math.inf


def _in_columns(blocks: tuple[SheetBlock, ...], body: int, columns: int, line: int) -> Grids:
    return tuple(_list_grid(blocks[start : start + columns], body, line) for start in range(0, len(blocks), columns))


def _list_grid(blocks: tuple[SheetBlock, ...], body: int, line: int) -> Grid:
    sizes = [FIRST_AID if block.never_shrunk else min(body, FIRST_AID) for block in blocks]
    titles = tuple((piece(block.title, size, bold=True),) for block, size in zip(blocks, sizes, strict=True))
    lists = tuple(
        tuple(piece(line, size, bullet=True) for line in block.lines) or (piece("", size),)
        for block, size in zip(blocks, sizes, strict=True)
    )
    rows = (GridRow(titles, header=True), GridRow(lists))
    told = ", ".join(block.title for block in blocks)
    grids = (Grid(widths, rows, _LIST_PADDING, told) for widths in _list_widths(lists, line))
    return min(grids, key=lambda grid: _lists_height((grid,)))


def _list_widths(lists: tuple[Cell, ...], line: int) -> Iterator[tuple[int, ...]]:
    """Equal widths, and widths evened out step by step towards columns of one height."""
    widths = _equal(len(lists), line)
    for _ in range(_EVENINGS):
        yield widths
        try:
            heights = list(map(stack_height, lists, widths))
        except TooWide:
            return
        wish = [width * math.sqrt(height) for width, height in zip(widths, heights, strict=True)]
        widths = tuple(int(line * share / sum(wish)) for share in wish)
