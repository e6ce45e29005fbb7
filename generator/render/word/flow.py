"""What a section holds as it runs down its columns: lines of paragraphs and rows of tables with their heights.

Read from the text of the body, so that what is reckoned is what is printed. Lengths are twips. Heights, breaks of
lines and what keeps together are those of LibreOffice 7.4, held line by line against its pages in tests/test_office.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import ceil
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from generator.drawing.text import below_line_pt, parts_of_line, text_width_pt
from generator.render.word.numbering import COUNTED_STEP
from generator.render.word.styles import CELL_MARGIN
from generator.render.word.type_styles import TypeStyle, TypeStyles, W, changed, is_on
from generator.render.word.xml import NAMESPACES, TWIPS_PER_PT

_EXTENT: Final = "{http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing}extent"
_EMU_PER_TWIP: Final = 635
_RULE: Final = 10
"""The rule under a row of a table, in twips; that under its head is half as high again."""

_HEAD_RULE: Final = 15
_AT_EDGE: Final = "\t"
_DUST: Final = 1e-6
_SET_OUT: Final = frozenset("\t\n")
_WITHIN: Final = frozenset({f"{W}hyperlink", f"{W}fldSimple"})
_Piece = tuple[str, float, bool]
"""Words with the points of their type and whether they are bold."""


class Unsure(Exception):
    """Something stands in the paper of which nobody has measured how office programs lay it out."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line or a table's row: space above it, its height, space below it, and whether it stays with the next.

    `names` are the bookmarks on it, `breaks` is `page` or `column` where it starts one. A row has the height of its
    table's `head`, which stands over the first row and is printed again on every page.
    """

    before: int
    height: float
    after: int
    keeps: bool
    names: tuple[str, ...] = ()
    breaks: str = ""
    head: float = 0
    leads: bool = False


def lines_of(section: str, widths: Sequence[int], styles: TypeStyles) -> Iterator[Line]:
    """The lines and rows of a section by the widths of its columns; raises `Unsure`."""
    reader, column = _Reader(styles), 0
    for item in _blocks(ElementTree.fromstring(f"<w:body {NAMESPACES}>{section}</w:body>")):
        if item.tag == f"{W}tbl":
            yield from reader.rows(item)
        elif item.tag == f"{W}p":
            lines = reader.paragraph(item, widths[column])
            if lines[0].breaks == "column":
                column += 1
                lines = reader.paragraph(item, widths[column])
            yield from lines


def _blocks(parent: Element) -> Iterator[Element]:
    """Paragraphs and tables, those in controls too."""
    for child in parent:
        content = child.find(f"{W}sdtContent") if child.tag == f"{W}sdt" else None
        if content is None:
            yield child
        else:
            yield from _blocks(content)


@dataclass(slots=True)
class _Words:
    """What a paragraph holds, as pieces of one look each."""

    pieces: list[_Piece] = field(default_factory=list)
    picture: int = 0
    starts_column: bool = False


class _Reader:
    """Reads paragraphs and tables in the styles of a look."""

    def __init__(self, styles: TypeStyles) -> None:
        self._styles = styles.paragraphs
        self._sizes = styles.sizes

    def paragraph(self, item: Element, width: int) -> list[Line]:
        """The lines of a paragraph in a column."""
        own = item.find(f"{W}pPr")
        named = None if own is None else own.find(f"{W}pStyle")
        if own is None or named is None:
            raise Unsure("a paragraph without a style")
        style = changed(self._styles[named.get(f"{W}val", "")], own)
        if own.find(f"{W}numPr") is not None and not style.left:
            style = style.indented(COUNTED_STEP)
        words = _Words()
        self._gather(item, style, words)
        heights = _heights(words, width - style.left - style.right, style)
        names = tuple(mark.get(f"{W}name", "") for mark in item.iter(f"{W}bookmarkStart"))
        page = own.find(f"{W}pageBreakBefore") is not None
        breaks = "page" if page else "column" if words.starts_column else ""
        return list(_lines(style, heights, names, breaks))

    def rows(self, table: Element) -> Iterator[Line]:
        """The rows of a table, the first with its head."""
        grid = table.find(f"{W}tblGrid")
        widths = [] if grid is None else [int(column.get(f"{W}w", 0)) for column in grid]
        head, first = 0.0, True
        for row in table.iter(f"{W}tr"):
            cells = [
                [self.paragraph(item, width - 2 * CELL_MARGIN) for item in cell.findall(f"{W}p")]
                for width, cell in zip(widths, row.findall(f"{W}tc"), strict=True)
            ]
            height = max(sum(one.before + one.height + one.after for item in cell for one in item) for cell in cells)
            if row.find(f"{W}trPr/{W}tblHeader") is not None:
                head += height + _HEAD_RULE
                continue
            keeps = cells[0][0][-1].keeps
            names = tuple(name for cell in cells for item in cell for name in item[0].names)
            yield Line(0, height + _RULE, 0, keeps, names, head=head, leads=first)
            first = False

    def _gather(self, parent: Element, style: TypeStyle, words: _Words) -> None:
        for child in parent:
            if child.tag == f"{W}r":
                self._run(child, style, words)
            elif child.tag in _WITHIN:
                self._gather(child, style, words)

    def _run(self, run: Element, style: TypeStyle, words: _Words) -> None:
        own = run.find(f"{W}rPr")
        size, bold = style.size, style.bold
        for child in own if own is not None else ():
            if child.tag == f"{W}sz":
                size = int(child.get(f"{W}val", 0)) / 2
            elif child.tag == f"{W}rStyle":
                size = self._sizes.get(child.get(f"{W}val", ""), size)
            elif child.tag == f"{W}b":
                bold = is_on(child)
        for child in run:
            if child.tag == f"{W}t":
                words.pieces.append((child.text or "", size, bold))
            elif child.tag == f"{W}tab":
                words.pieces.append((_AT_EDGE, size, bold))
            elif child.tag == f"{W}br":
                words.starts_column = words.starts_column or child.get(f"{W}type") == "column"
                if child.get(f"{W}type") is None:
                    words.pieces.append(("\n", size, bold))
            elif child.tag == f"{W}drawing":
                extent = next(child.iter(_EXTENT))
                words.picture = round(int(extent.get("cy", 0)) / _EMU_PER_TWIP)


def _lines(style: TypeStyle, heights: list[int], names: tuple[str, ...], breaks: str) -> Iterator[Line]:
    """Lines that part nowhere where the paragraph keeps whole or to the next, else with two on either side."""
    last = len(heights) - 1
    for at, height in enumerate(heights):
        first = at == 0
        keeps = style.keeps_next if at == last else style.keeps_next or style.keeps_lines or at in (0, last - 1)
        yield Line(
            style.before if first else 0, height, style.after if at == last else 0, keeps,
            names if first else (), breaks if first else "",
        )  # fmt: skip


def _heights(words: _Words, room: int, style: TypeStyle) -> list[int]:
    """The height of each line of a paragraph."""
    if words.picture and not words.pieces:
        return [words.picture]
    sizes = _broken(_joined(words.pieces), room / TWIPS_PER_PT)
    heights = [style.line_height(size or style.size) for size in sizes]
    if words.picture:
        if len(heights) > 1:
            raise Unsure("a picture among several lines of words")
        # it stands on the line of the letters, whose feet hang below it
        heights[0] = max(heights[0], words.picture + round(below_line_pt(sizes[0]) * TWIPS_PER_PT))
    return heights


def _joined(pieces: list[_Piece]) -> list[_Piece]:
    """The pieces, those of one look that touch made one."""
    joined: list[_Piece] = []
    for text, size, bold in pieces:
        if joined and joined[-1][1:] == (size, bold):
            joined[-1] = (joined[-1][0] + text, size, bold)
        else:
            joined.append((text, size, bold))
    return joined


def _broken(pieces: list[_Piece], room_pt: float) -> list[float]:
    """The greatest type of each line that the pieces take, broken as they fit; 0 for a line without words."""
    sizes, used = [0.0], 0.0
    for wide, hanging, size in _parts(pieces, room_pt):
        if wide - hanging > room_pt:
            raise Unsure("a word wider than its column")
        if not size or used + wide - hanging > room_pt + _DUST:
            sizes.append(0.0)
            used = 0.0
        used += wide
        if size > sizes[-1]:
            sizes[-1] = size
    return sizes


def _parts(pieces: list[_Piece], room_pt: float) -> Iterator[tuple[float, float, float]]:
    """What stays on one line: its width, that of the spaces at its end, its greatest type; 0 where a line is begun.

    Words have the spaces behind them; what stands at the edge is one with its tab, if a line holds it.
    """
    if len(pieces) == 1 and _SET_OUT.isdisjoint(pieces[0][0]):
        text, size, bold = pieces[0]
        for chunk in parts_of_line(text):
            yield *_width(chunk, size, bold), size
        return
    cutting = _Cutting(pieces)
    for number, line in enumerate("".join(text for text, _, _ in pieces).split("\n")):
        if number:
            cutting.take("\n")
            yield 0.0, 0.0, 0.0
        before, tab, behind = line.partition(_AT_EDGE)
        for chunk in parts_of_line(before):
            yield cutting.take(chunk)
        if tab:
            wide, hanging, size = cutting.take(tab + behind)
            # what no line holds is broken like all else
            count = max(1, ceil(wide / room_pt))
            for _ in range(count):
                yield min(wide, room_pt), hanging, size


class _Cutting:
    """Takes the parts of a line, in order, from pieces of different looks."""

    def __init__(self, pieces: list[_Piece]) -> None:
        self._pieces = pieces
        self._piece = 0
        self._passed = 0

    def take(self, chunk: str) -> tuple[float, float, float]:
        """The width of a part of the text, that of the spaces at its end, and its greatest type."""
        whole, hanging, greatest, start = 0.0, 0.0, 0.0, 0
        while start < len(chunk):
            text, size, bold = self._pieces[self._piece]
            count = min(len(chunk) - start, len(text) - self._passed)
            wide, hanging = _width(chunk[start : start + count], size, bold)
            whole += wide
            greatest = max(greatest, size)
            start += count
            self._passed += count
            if self._passed == len(text):
                self._piece, self._passed = self._piece + 1, 0
        return whole, hanging, greatest


@lru_cache(maxsize=8192)
def _width(text: str, size: float, bold: bool) -> tuple[float, float]:
    """The width of a text, and that of the spaces at its end, which may hang over the end of a line."""
    wide = text_width_pt(text, size, bold)
    return wide, wide - text_width_pt(text.rstrip(" "), size, bold)
