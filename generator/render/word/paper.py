"""The state of one paper while its body is written: anchors, counters, lists, comments, the line's width."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Final

from generator.document.model import (
    Block,
    ClauseBlock,
    Document,
    Figure,
    Heading,
    Mark,
    Picture,
    Table,
    plain_text,
)
from generator.document.outline import within
from generator.drawing.model import Drawing
from generator.render.word.geometry import Geometry
from generator.render.word.numbering import Numbering
from generator.render.word.xml import COLUMN_BREAK, COLUMN_GAP, TWIPS_PER_MM, bookmark_name, paragraph
from generator.values import Struct, field

_AFTER_TABLE: Final = 100
_AFTER_SMALL: Final = 60
OVER_TABLE: Final = 70
"""Space in twips below a table, below one of clauses, and between text and a table without a caption below it."""

# Styles with space of their own above them, which need none after a table.
_SPACED: Final = frozenset(
    (
        "Heading1",
        "Heading2",
        "Heading3",
        "FrontHeading1",
        "FrontHeading2",
        "PaperHeading",
        "TOCHeading",
        "Caption",
        "NoticeTitle",
    )
)


# Text of columns has styles of its own: a house style's text, and a paragraph put in by hand, fall right in both.
_IN_COLUMNS: Final = {"BodyText": "ClauseText", "ListBullet": "ClauseBullet", "ListNumber": "ClauseNumber"}

# So has text across the page, whose line would be too long to read.
ACROSS: Final = {"BodyText": "TextAcross", "SmallText": "SmallAcross", "ListBullet": "BulletAcross"}


WidthsOf = Callable[[Table, int], tuple[int, ...]]
"""What gives the widths of a table on a line, in twips."""


class Target(Struct, frozen=True):
    """What an anchor leads to: its bookmark, and its number with the field that shows it, where it has one.

    The number of a caption has a bookmark of its own, `number_bookmark`.
    """

    bookmark: str
    number: str
    field: str


class Entry(Struct, frozen=True):
    """A line of the contents list."""

    level: int
    number: str
    title: str
    anchor: str
    bookmark: str


class Paper(Struct):
    """One paper in the making.

    `leads` says that the paragraph being written leads to the list or table after it, or the table to the figure after
    it; `over_table` that it stands right over a table without a caption, `tops_column` that it begins one of two
    columns that stand side by side, whose heads are to stand on one line.
    `columns` says in how many columns the section runs, `room` how wide the column is where they are not equal.
    """

    targets: Mapping[str, Target]
    entries: tuple[Entry, ...]
    draft: bool
    relation_of: Callable[[Drawing | Picture], str]
    widths_of: WidthsOf
    caption_words: tuple[str, str]
    geometry: Geometry
    landscape: bool = False
    numbering: Numbering = field(default_factory=Numbering)
    comments: list[str] = field(default_factory=list)
    breaks_page: bool = False
    after_table: bool = False
    notices: int = 0
    leads: bool = False
    columns: int = 1
    room: int = 0
    breaks_column: bool = False
    tops_column: bool = False
    over_table: bool = False
    _last_id: int = 0

    @property
    def line_mm(self) -> float:
        """Width of the line between the margins, or of a column."""
        return self.line / TWIPS_PER_MM

    @property
    def line(self) -> int:
        """Width of the line between the margins, or of a column, in twips."""
        if self.room:
            return self.room
        whole = self.geometry.page(self.landscape).line
        return (whole - (self.columns - 1) * COLUMN_GAP) // self.columns

    def new_id(self) -> int:
        """A number no other bookmark, control or picture of this paper has."""
        self._last_id += 1
        return self._last_id

    def target(self, anchor: str) -> Target:
        """What the anchor leads to. Raises ValueError for an anchor that is not in this paper."""
        try:
            return self.targets[anchor]
        except KeyError:
            raise ValueError(f"reference to '{anchor}', which is not in this paper") from None

    def paragraph(
        self, style: str, content: str, *,
        keep_next: bool = False, numbering: str = "", borders: str = "", tabs: str = "",
        space: str = "", indents: str = "", align: str = "",
    ) -> str:  # fmt: skip
        """A paragraph with further properties, which takes a pending page break and space after a table."""
        style = self._style(style)
        # said for the office programs that would part a paragraph which keeps to the next
        before_numbering = "<w:keepNext/><w:keepLines/>" if keep_next else ""
        if self.breaks_page:
            before_numbering += "<w:pageBreakBefore/>"
        space = space or self._space(style)
        if self.breaks_column:
            content = COLUMN_BREAK + content
        self.breaks_page = self.after_table = self.breaks_column = self.tops_column = False
        return paragraph(style, content, f"{before_numbering}{numbering}{borders}{tabs}{space}{indents}{align}")

    def _space(self, style: str) -> str:
        """The space that a paragraph has by where it stands, where that is not what its style says."""
        told = ""
        if self.breaks_page or self.tops_column:
            told += ' w:before="0"'
        elif self.after_table and style not in _SPACED:
            told += f' w:before="{_AFTER_SMALL if self.columns > 1 else _AFTER_TABLE}"'
        if self.over_table:
            told += f' w:after="{OVER_TABLE}"'
        return f"<w:spacing{told}/>" if told else ""

    def _style(self, style: str) -> str:
        """The style that text has here: in columns, across the page, or as it is called."""
        if self.columns > 1:
            return _IN_COLUMNS.get(style, style)
        return style if self.room or self.landscape else ACROSS.get(style, style)


def heading_bookmark(anchor: str, number: str) -> str:
    """The bookmark of a heading, `""` for one that has neither anchor nor number."""
    if anchor:
        return bookmark_name(anchor)
    return "_Toc_" + bookmark_name(number).removeprefix("_Ref_") if number else ""


def targets_of(document: Document) -> dict[str, Target]:
    """Every anchor of the document. Raises ValueError where two things claim one anchor."""
    targets: dict[str, Target] = {}
    for block in within(document.blocks()):
        if isinstance(block, ClauseBlock | Heading | Table | Figure) and block.anchor:
            if block.anchor in targets:
                raise ValueError(f"two things are called '{block.anchor}'")
            targets[block.anchor] = _target(block)
        if isinstance(block, Table):
            targets |= {mark.anchor: _mark_target(mark) for mark in _marks(block)}
    return targets


def _marks(block: Table) -> Iterator[Mark]:
    """The numbers in the first column of a table that others refer to."""
    return (item for row in block.rows for item in row.cells[0] if isinstance(item, Mark))


def _mark_target(mark: Mark) -> Target:
    name = bookmark_name(mark.anchor)
    return Target(name, mark.text, f"REF {name} \\h")


def number_bookmark(anchor: str) -> str:
    """The bookmark round the bare number of a caption."""
    return bookmark_name(f"{anchor}-nr")


def parted_number(number: str) -> tuple[str, str]:
    """The label and the digits of a caption's number: `Table 3` -> `Table `, `3`."""
    digits = number[len(number.rstrip("0123456789")) :]
    return number.removesuffix(digits), digits


def _target(block: ClauseBlock | Heading | Table | Figure) -> Target:
    name = bookmark_name(block.anchor)
    if isinstance(block, ClauseBlock | Heading):
        return Target(name, block.number, f"REF {name} \\r \\h")
    return Target(name, parted_number(block.number)[1], f"REF {number_bookmark(block.anchor)} \\h")


def entries_of(blocks: Iterable[Block]) -> tuple[Entry, ...]:
    """The lines a full contents list has: headings of the first level, numbered headings, clauses, in order."""
    return tuple(entry for block in within(blocks) if (entry := _entry(block)) is not None)


def _entry(block: Block) -> Entry | None:
    if isinstance(block, ClauseBlock):
        level, content = 2, block.title
    elif isinstance(block, Heading) and (block.number or (block.anchor and block.level == 1)):
        level, content = block.level, block.content
    else:
        return None
    name = heading_bookmark(block.anchor, block.number)
    return Entry(level, block.number, plain_text(content), block.anchor, name)
