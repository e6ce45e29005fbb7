"""What a section holds as it runs down its columns: lines of paragraphs and rows of tables with their heights.

Read from the text of the body, so that what is reckoned is what is printed. Lengths are twips. Heights, breaks of
lines and what keeps together are those of LibreOffice 7.4, held line by line against its pages in tests/test_office.py.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, pairwise
from math import ceil
from typing import Final
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

from generator.drawing.text import below_line_pt, composed, is_in_face, parts_of_line, reach, text_width_pt
from generator.render.word.numbering import COUNTED_STEP
from generator.render.word.styles import CELL_MARGIN
from generator.render.word.type_styles import TypeStyle, TypeStyles, W, changed, is_on
from generator.render.word.xml import NAMESPACES, TWIPS_PER_PT, unescaped
from generator.values import Struct, field, replace

_EMU_PER_TWIP: Final = 635
_RULE: Final = 10
"""The rule under a row of a table, in twips; that under its head, and under its last row, is half as high again."""

_HEAVY_RULE: Final = 15
_AT_EDGE: Final = "\t"
_TIGHT_PT: Final = 0.05
"""What a line wants to spare: pieces of it are rounded to whole twips. In drawn lines all but one in fifty broke so."""

_TIE_PT: Final = 0.06
"""How much more or less a line may have wanted to spare: what lies within it may break either way."""

WAYS: Final = (0.0, -_TIE_PT, _TIE_PT)
"""The ways in which a section may be set: as it mostly is, with more lines, with fewer."""

_LONG: Final = 200
"""Letters that no line holds: so long a text is not measured as one before it is broken."""

_SET_OUT: Final = frozenset("\t\n")

# What `xml` writes is found in its text: a tree of a long paper takes a hundred times the room, and twice the time.
_PROPERTIES, _END_OF_PROPERTIES = "<w:pPr>", "</w:pPr>"
_TABLE, _END_OF_TABLE = "<w:tbl>", "</w:tbl>"
_REPEATED: Final = "<w:tblHeader/>"
_OWN_MARGIN: Final = re.compile('<w:tblCellMar><w:left w:w="([0-9]+)"')
_COLUMN: Final = re.compile('<w:gridCol w:w="([0-9]+)"/>')
_INLINE: Final = re.compile(
    '<w:r>(?:<w:rPr>(?P<look>.*?)</w:rPr>)?(?:<w:t xml:space="preserve">(?P<run>[^<]*)</w:t>)?'
    '|<w:t xml:space="preserve">(?P<text>[^<]*)</w:t>'
    "|(?P<tab><w:tab/>)"
    "|(?P<end><w:br/>)"
    '|(?P<column><w:br w:type="column"/>)'
    '|<wp:extent cx="[0-9]+" cy="(?P<picture>[0-9]+)"/>'
    '|<w:bookmarkStart w:id="[0-9]+" w:name="(?P<name>[^"]*)"/>'
)
_Piece = tuple[str, float, bool]
"""Words with the points of their type and whether they are bold."""


class Unsure(Exception):
    """Something stands in the paper of which nobody has measured how office programs lay it out."""


class Line(Struct, frozen=True):
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


def _higher(line: Line, box: int) -> Line:
    """The first or the last line of a box, with the side of that."""
    return replace(line, height=line.height + box)


class _Words(Struct):
    """What a paragraph holds, as pieces of one look each."""

    pieces: list[_Piece] = field(default_factory=list)
    picture: int = 0
    starts_column: bool = False
    names: tuple[str, ...] = ()


class _Parted(Struct, frozen=True):
    """The places in a text between its parts; how far the words before each reach, without and with what hangs."""

    ends: list[int]
    feet: list[float]
    heads: list[float]


class _Set(Struct, frozen=True):
    """A paragraph as it is set: its style, the height of each line in each way, its bookmarks, and what it starts."""

    style: TypeStyle
    heights: tuple[list[int], ...]
    names: tuple[str, ...]
    breaks: str

    def height(self, way: int) -> int:
        """With the space above and below it."""
        return self.style.before + sum(self.heights[way]) + self.style.rule + self.style.after

    def lines(self, way: int) -> Iterator[Line]:
        """Lines that part nowhere where the paragraph keeps whole or to the next, else with two on either side."""
        style, heights = self.style, self.heights[way]
        last = len(heights) - 1
        for at, height in enumerate(heights):
            first = at == 0
            keeps = style.keeps_next if at == last else style.keeps_next or style.keeps_lines or at in (0, last - 1)
            ruled = height + style.rule if at == last else height
            yield Line(
                style.before if first else 0, ruled, style.after if at == last else 0, keeps,
                self.names if first else (), self.breaks if first else "",
            )  # fmt: skip


class Reader:
    """Reads the text of sections in the styles of a look. What is read raises `Unsure`."""

    def __init__(self, styles: TypeStyles) -> None:
        self._styles = styles.paragraphs
        self._sizes = styles.sizes
        self._set: dict[str, tuple[TypeStyle, bool]] = {}
        self._looks: dict[str, tuple[float | None, bool | None]] = {}
        self._letters: set[str] = set()

    def lines_of(self, section: str, widths: Sequence[int]) -> tuple[list[Line], ...]:
        """The lines and rows of a section by the widths of its columns, in each of the ways in which it may be set."""
        column = 0
        told: tuple[list[Line], ...] = tuple([] for _ in WAYS)
        for piece in section.split(_TABLE):
            table, _, behind = piece.rpartition(_END_OF_TABLE)
            for row in self._rows(table):
                for lines, line in zip(told, row, strict=True):
                    lines.append(line)
            box = 0
            for text in _all(behind, "w:p"):
                found = self._paragraph(text, widths[column])
                if found.breaks == "column":
                    column += 1
                    found = self._paragraph(text, widths[column])
                alike = list(found.lines(0))
                for way, lines in enumerate(told):
                    own = alike if found.heights[way] is found.heights[0] else list(found.lines(way))
                    if box and not found.style.box:
                        lines[-1] = _higher(lines[-1], box)
                    lines += own if box or not found.style.box else [_higher(own[0], found.style.box), *own[1:]]
                box = found.style.box
            if box:
                for lines in told:
                    lines[-1] = _higher(lines[-1], box)
        return told

    def _paragraph(self, text: str, width: int) -> _Set:
        """A paragraph set in a column."""
        own, _, content = text.partition(_END_OF_PROPERTIES)
        style, starts_page = self._set_as(own.removeprefix(_PROPERTIES))
        words = self._words(content, style)
        heights = _heights(words, width - style.left - style.right, style)
        breaks = "page" if starts_page else "column" if words.starts_column else ""
        return _Set(style, heights, words.names, breaks)

    def _rows(self, table: str) -> Iterator[tuple[Line, ...]]:
        """The rows of a table in each of the ways, the first with its head."""
        own = _OWN_MARGIN.search(table)
        margin = int(own[1]) if own else CELL_MARGIN
        widths = [int(width) - 2 * margin for width in _COLUMN.findall(table)]
        head, first = 0.0, True
        rows = list(_all(table, "w:tr"))
        for number, row in enumerate(rows, 1):
            cells = [
                [self._paragraph(text, width) for text in _all(cell, "w:p")]
                for width, cell in zip(widths, _all(row, "w:tc"), strict=True)
            ]
            heights = [max(sum(item.height(way) for item in cell) for cell in cells) for way in range(len(WAYS))]
            if _REPEATED in row:
                head += heights[0] + _HEAVY_RULE
                continue
            names = tuple(name for cell in cells for item in cell for name in item.names)
            rule = _RULE if number < len(rows) else _HEAVY_RULE
            keeps = cells[0][0].style.keeps_next
            yield tuple(Line(0, height + rule, 0, keeps, names, head=head, leads=first) for height in heights)
            first = False

    def _set_as(self, properties: str) -> tuple[TypeStyle, bool]:
        """The style of a paragraph with its own properties, of which a paper has few, and whether it starts a page."""
        found = self._set.get(properties)
        if found is None:
            own = _element("pPr", properties)
            named = own.find(f"{W}pStyle")
            if named is None:
                raise Unsure("a paragraph without a style")
            style = changed(self._styles[named.get(f"{W}val", "")], own)
            if own.find(f"{W}numPr") is not None and not style.left:
                style = style.indented(COUNTED_STEP)
            found = self._set[properties] = style, own.find(f"{W}pageBreakBefore") is not None
        return found

    def _look(self, properties: str) -> tuple[float | None, bool | None]:
        """The size and the weight of a run where it has its own."""
        found = self._looks.get(properties)
        if found is None:
            size, bold = None, None
            for child in _element("rPr", properties):
                if child.tag == f"{W}sz":
                    size = int(child.get(f"{W}val", 0)) / 2
                elif child.tag == f"{W}rStyle":
                    size = self._sizes.get(child.get(f"{W}val", ""), size)
                elif child.tag == f"{W}b":
                    bold = is_on(child)
            found = self._looks[properties] = size, bold
        return found

    def _words(self, content: str, style: TypeStyle) -> _Words:
        words, names = _Words(), []
        size, bold = style.size, style.bold
        for found in _INLINE.finditer(content):
            kind, told = found.lastgroup, found[found.lastindex or 0]
            if kind is None or kind == "look" or kind == "run":
                own_size, own_bold = self._look(found["look"] or "")
                size = style.size if own_size is None else own_size
                bold = style.bold if own_bold is None else own_bold
            if kind == "run" or kind == "text":
                words.pieces.append((self._known(unescaped(told)), size, bold))
            elif kind == "tab" or kind == "end":
                words.pieces.append((_AT_EDGE if kind == "tab" else "\n", size, bold))
            elif kind == "column":
                words.starts_column = True
            elif kind == "picture":
                words.picture = round(int(told) / _EMU_PER_TWIP)
            elif kind == "name":
                names.append(told)
        words.names = tuple(names)
        return words

    def _known(self, text: str) -> str:
        """A text as it is set, all of whose letters the face has."""
        text = composed(text)
        if not self._letters.issuperset(text):
            if not is_in_face(text):
                raise Unsure("a character that the face lacks")
            self._letters.update(text)
        return text


def _all(text: str, name: str) -> Iterator[str]:
    """What stands in each element of a name that has no attributes and holds none of its own name."""
    begin, end = f"<{name}>", f"</{name}>"
    at = text.find(begin)
    while at >= 0:
        start = at + len(begin)
        stop = text.index(end, start)
        yield text[start:stop]
        at = text.find(begin, stop)


def _element(name: str, inside: str) -> Element:
    return ElementTree.fromstring(f"<w:{name} {NAMESPACES}>{inside}</w:{name}>")


def _heights(words: _Words, room: int, style: TypeStyle) -> tuple[list[int], ...]:
    """The height of each line of a paragraph, in each of the ways in which it may be set."""
    if words.picture and not words.pieces:
        return ([words.picture],) * len(WAYS)
    set_as = [_pitched(sizes, words, style) for sizes in _broken(words.pieces, room / TWIPS_PER_PT)]
    return tuple(set_as) if len(set_as) > 1 else (set_as[0],) * len(WAYS)


def _pitched(sizes: list[float], words: _Words, style: TypeStyle) -> list[int]:
    """The height of each line by its greatest type."""
    pitches = {size: style.line_height(size or style.size) for size in set(sizes)}
    heights = [pitches[size] for size in sizes]
    if words.picture:
        if len(heights) > 1:
            raise Unsure("a picture among several lines of words")
        # it stands on the line of the letters, whose feet hang below it
        heights[0] = max(heights[0], words.picture + round(below_line_pt(sizes[0]) * TWIPS_PER_PT))
    return heights


def _broken(pieces: list[_Piece], room_pt: float) -> list[list[float]]:
    """The greatest type of each line that the pieces take, broken as they fit; 0 for a line without words.

    Once for each of the ways, or once for them all.
    """
    text = "".join([text for text, _, _ in pieces])
    greatest = max([size for _, size, _ in pieces], default=0.0)
    least_room_pt = room_pt - _TIGHT_PT - _TIE_PT
    if len(text) < _LONG and "\n" not in text and sum([text_width_pt(*piece) for piece in pieces]) <= least_room_pt:
        return [[greatest]]  # as most, which want no place for each letter
    places, unit_pt = reach(pieces)
    room, tie = (room_pt - _TIGHT_PT) / unit_pt, _TIE_PT / unit_pt
    sizes = [size for text, size, _ in pieces for _ in text]  # of each letter
    if not _SET_OUT.isdisjoint(text):
        ways = [_set_out(_parts(text, places, sizes, way), way) for way in (room + more / unit_pt for more in WAYS)]
        return ways if ways[1] != ways[2] else ways[:1]
    parts = _parted(text, places)
    narrow, wide = _edges(parts, room - tie), _edges(parts, room + tie)
    if narrow == wide:
        return [_greatest(text, sizes, wide)]
    return [_greatest(text, sizes, edges) for edges in (_edges(parts, room), narrow, wide)]


def _greatest(text: str, sizes: list[float], edges: list[int]) -> list[float]:
    """The greatest type of each line between edges; a blank that hangs over its end has no height of its own."""
    return [max(sizes[start : start + len(text[start:end].rstrip(" "))], default=0.0) for start, end in pairwise(edges)]


def _parted(text: str, places: list[float]) -> _Parted:
    """Where the parts of a text end, between which its lines may be broken."""
    parts = parts_of_line(text)
    ends = list(accumulate(map(len, parts), initial=0))
    feet = [places[start + len(part.rstrip(" "))] for start, part in zip(ends, parts, strict=False)]
    return _Parted(ends, [0.0, *feet], [places[end] for end in ends])


def _edges(parts: _Parted, room: float) -> list[int]:
    """The places in a text of words where its lines begin and end."""
    ends, feet, heads = parts.ends, parts.feet, parts.heads
    edges, count, last = [0], 0, len(ends) - 1
    while count < last:
        # as many parts as fit, what hangs behind the last of them left out
        fitting = bisect_right(feet, heads[count] + room, count) - 1
        if fitting <= count:
            raise Unsure("a word wider than its column")
        count = fitting
        edges.append(ends[count])
    return edges


def _set_out(parts: Iterable[tuple[float, float, float]], room: float) -> list[float]:
    """The greatest type of each line of a paragraph with lines that are begun or words at their edge."""
    sizes, used = [0.0], 0.0
    for wide, hanging, size in parts:
        if wide - hanging > room:
            raise Unsure("a word wider than its column")
        if not size or used + wide - hanging > room:
            sizes.append(0.0)
            used = 0.0
        used += wide
        if size > sizes[-1]:
            sizes[-1] = size
    return sizes


def _parts(text: str, places: list[float], sizes: list[float], room: float) -> Iterator[tuple[float, float, float]]:
    """What stays on one line: its width, that of the spaces at its end, its greatest type; 0 where a line is begun.

    Words have the spaces behind them; what stands at the edge is one with its tab, if a line holds it.
    """
    start = 0
    for number, line in enumerate(text.split("\n")):
        if number:
            start += 1
            yield 0.0, 0.0, 0.0
        before, tab, behind = line.partition(_AT_EDGE)
        for part in parts_of_line(before):
            end, foot = start + len(part), start + len(part.rstrip(" "))
            yield places[end] - places[start], places[end] - places[foot], max(sizes[start:end])
            start = end
        if tab:
            end = start + len(tab + behind)
            wide, hanging = places[end] - places[start], places[end] - places[start + len((tab + behind).rstrip(" "))]
            # what no line holds is broken like all else
            for _ in range(max(1, ceil(wide / room))):
                yield min(wide, room), hanging, max(sizes[start:end])
            start = end
