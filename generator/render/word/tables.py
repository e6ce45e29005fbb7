"""Tables: numbered captions, fixed columns, a heading row that repeats, group and total rows."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import pairwise
from math import ceil
from typing import Final

from generator.document.model import Column, Inlines, Row, Swatch, Table, Text, plain_text
from generator.drawing.text import SLACK_PT, text_width_pt, widest_part_pt
from generator.render.word import xml
from generator.render.word.inline import last_kept, printed, runs
from generator.render.word.paper import Paper, WidthsOf, number_bookmark, parted_number
from generator.render.word.styles import BOLD, CELL_MARGIN, cell_margin, edge, spacing

KEPT_WHOLE: Final = 6
"""Tables of at most so many rows stay on one page, or in one column."""

KEPT_WHOLE_ACROSS: Final = 14
"""The same of tables across the page: a page holds more of them than a column does."""

_MEASURED_ROWS: Final = 60
"""Tables of more rows are not measured cell by cell: theirs are whole sentences, which no column holds."""

# What Word counts by; the words that are printed come with the paper.
_COUNTED: Final = {"table": "Table", "figure": "Figure"}
_ALIGN: Final = {"left": "", "right": '<w:jc w:val="right"/>', "center": '<w:jc w:val="center"/>'}
_KEEP: Final = "<w:keepNext/>"
_UNIT_AT_END: Final = re.compile(r"(?<=,) (?=(?:°[CF]|kg|lb|g|oz)$)|(?<=\bper) (?=cent$)")


def table(block: Table, paper: Paper) -> Iterator[str]:
    """The table with its caption above it, row by row. Raises ValueError for a row that does not fit the columns."""
    widths = paper.widths_of(block, paper.line)
    yield _above(block, paper)
    told = block.description or block.caption
    margin = cell_margin(paper.line, len(widths))
    own = 0 if margin == CELL_MARGIN else margin
    yield xml.table_start(
        widths, indent=0, caption=block.caption, description=told, header=_has_header(block), margin=own
    )
    yield from _rows(block, widths, "TableSmall" if block.small else "TableText", paper)
    yield xml.TABLE_END


def column_widths(columns: tuple[Column, ...], line: int) -> tuple[int, ...]:
    """Widths in twips that fill the line, by the columns' shares."""
    whole = sum(column.share for column in columns)
    edges = [0]
    passed = 0.0
    for column in columns:
        passed += column.share
        edges.append(round(line * passed / whole))
    return tuple(end - start for start, end in pairwise(edges))


def fitting() -> WidthsOf:
    """A function giving the fitted widths of a table on a line, found once: tables are placed, then written."""
    known: dict[tuple[int, int], tuple[Table, tuple[int, ...]]] = {}

    def widths_of(block: Table, line: int) -> tuple[int, ...]:
        key = id(block), line  # no other's while the block is kept beside it
        if key not in known:
            known[key] = block, fitted_widths(block, line)
        return known[key][1]

    return widths_of


def head_of(column: Column) -> str:
    """The heading of a column as it is printed: the unit at its end keeps to the word before it."""
    return _UNIT_AT_END.sub("\u00a0", column.title)


def fitted_widths(block: Table, line: int) -> tuple[int, ...]:
    """Widths by the columns' shares, or others at which the table is lower and no word is broken.

    Tried are widths at which each column holds its cells on one line, any two words of a cell, and its widest word.
    Where the line does not hold the widest words of all columns side by side, the shares stand.
    """
    widths = column_widths(block.columns, line)
    texts = _printed(block)
    if len(block.rows) <= _MEASURED_ROWS:
        return _lowest(block, texts, widths, line)
    if all(need <= width for need, width in zip(_needs(block, texts, _widest_word_pt, line), widths, strict=True)):
        return widths  # mostly: then no word is looked at for places to break it
    needs = _needs(block, texts, widest_part_pt, line)
    return widths if sum(needs) > line else _widened(widths, needs, line)


def _lowest(block: Table, texts: list[list[str]], shares: tuple[int, ...], line: int) -> tuple[int, ...]:
    """The widths of those tried at which a table of few rows is lowest; of several, the nearest to its shares."""
    least = tuple(map(max, _needs(block, texts, widest_part_pt, line), _pictured(block, shares), _blank(texts, shares)))
    if sum(least) > line:
        return shares
    tried = [_widened(shares, least, line)]
    for widest_pt in (_widest_pair_pt, _widest_cell_pt):
        needs = tuple(map(max, least, _needs(block, texts, widest_pt, line)))
        if sum(needs) <= line:
            tried.append(_widened(shares, needs, line))
            tried.append(_widened(needs, least, line))
    size, margin = _small_or_not(block.small), cell_margin(line, len(shares))
    heads = [(head_of(column), text_width_pt(head_of(column), size, True)) for column in block.columns]
    rows = [[(text, text_width_pt(text, size)) for text in cells] for cells in zip(*texts, strict=True)]

    def lines(widths: tuple[int, ...]) -> int:
        room = [(width - 2 * margin) / xml.TWIPS_PER_PT - SLACK_PT for width in widths]
        return _highest(heads, room, size, True) + sum(_highest(row, room, size) for row in rows)

    return min(dict.fromkeys(tried), key=lines)


def _highest(row: list[tuple[str, float]], room_pt: list[float], size_pt: float, bold: bool = False) -> int:
    """How many lines the cell of a row takes that takes most, of texts with their widths on one line."""
    held = zip(row, room_pt, strict=True)
    return max(1 if whole <= wide else _lines(text, wide, size_pt, bold) for (text, whole), wide in held)


def _lines(text: str, wide_pt: float, size_pt: float, bold: bool = False) -> int:
    """How many lines a text takes that does not fit one, broken at its blanks."""
    lines, used, blank = 1, 0.0, text_width_pt(" ", size_pt, bold)
    for word in text.split(" "):
        wide = text_width_pt(word, size_pt, bold)
        if used and used + blank + wide > wide_pt:
            lines, used = lines + 1, wide
        else:
            used += wide + (blank if used else 0.0)
    return lines


def _widened(widths: tuple[int, ...], needs: tuple[int, ...], line: int) -> tuple[int, ...]:
    """Widths that fill a line, none below its needs: what is over or wanting is shared by what each can spare."""
    over = line - sum(max(width, need) for width, need in zip(widths, needs, strict=True))
    spare = [max(0, width - need) for width, need in zip(widths, needs, strict=True)]
    whole = sum(spare)
    shares = spare if over < 0 else list(widths)
    fitted = [
        max(width, need) + round(over * share / (whole if over < 0 else sum(widths)))
        for width, need, share in zip(widths, needs, shares, strict=True)
    ]
    roomiest = max(range(len(fitted)), key=lambda index: fitted[index] - needs[index])
    fitted[roomiest] += line - sum(fitted)
    return tuple(fitted)


def _blank(texts: list[list[str]], widths: tuple[int, ...]) -> tuple[int, ...]:
    """The widths of columns without a word in any row, which are left to a pen; 0 of all others."""
    return tuple(0 if any(map(str.strip, cells)) else width for cells, width in zip(texts, widths, strict=True))


def _pictured(block: Table, widths: tuple[int, ...]) -> tuple[int, ...]:
    """The widths of columns with drawings among their words, which are not measured; 0 of all others."""
    held = zip(widths, *(row.cells for row in block.rows if len(row.cells) == len(widths)), strict=True)
    return tuple(
        width if any(isinstance(item, Swatch) for cell in cells for item in cell) else 0 for width, *cells in held
    )


def _printed(block: Table) -> list[list[str]]:
    """What stands in each column below its title."""
    rows = [row.cells for row in block.rows if row.kind != "group"]
    return [[printed(cells[at]) for cells in rows if at < len(cells)] for at in range(len(block.columns))]


def _needs(block: Table, texts: list[list[str]], widest_pt: Callable[..., float], line: int) -> tuple[int, ...]:
    """The least width of each column, in twips, at which no word of its title and the widest part of it hold."""
    size = _small_or_not(block.small)
    titled = widest_part_pt if widest_pt is widest_part_pt else _widest_word_pt
    needs, margin = [], cell_margin(line, len(block.columns))
    for column, cells in zip(block.columns, texts, strict=True):
        widest = max(titled([head_of(column)], size, True), widest_pt(cells, size))
        needs.append(ceil((widest + SLACK_PT) * xml.TWIPS_PER_PT) + 2 * margin)
    return tuple(needs)


def _widest_cell_pt(texts: list[str], size_pt: float, bold: bool = False) -> float:
    return max((text_width_pt(text, size_pt, bold) for text in texts), default=0.0)


def _widest_pair_pt(texts: list[str], size_pt: float, bold: bool = False) -> float:
    words = [text.split(" ") for text in texts]
    pairs = {" ".join(told[at : at + 2]) for told in words for at in range(max(1, len(told) - 1))}
    return max((text_width_pt(pair, size_pt, bold) for pair in pairs), default=0.0)


def _widest_word_pt(texts: list[str], size_pt: float, bold: bool = False) -> float:
    words = {word for text in texts for word in text.split(" ")}
    return max((text_width_pt(word, size_pt, bold) for word in words), default=0.0)


def _small_or_not(small: bool) -> float:
    return 8 if small else 8.5


def caption(
    kind: str,
    number: str,
    anchor: str,
    words: str,
    paper: Paper,
    *,
    keep_next: bool,
    space: str = "",
) -> str:
    """A caption numbered by a field, with the bookmarks that references to it lead to."""
    numbered = _caption_number(kind, number, anchor, paper)
    # the title of a table is read as a heading, what a figure shows as a sentence
    weight = BOLD if kind == "table" else ""
    parted = xml.run(": ", BOLD) if numbered and words else ""
    content = numbered + parted + runs(last_kept((Text(words),)), paper, weight)
    return paper.paragraph("Caption", content, keep_next=keep_next, space=space)


def _caption_number(kind: str, number: str, anchor: str, paper: Paper) -> str:
    label, digits = parted_number(number)
    word = paper.caption_words[kind == "figure"]
    shown = xml.field(f"SEQ {_COUNTED[kind]} \\* ARABIC", digits, BOLD) if digits else ""
    # a bare number, or one with words after it as `14, continued`, is not yet called what it is
    label = label if label[:1].isalpha() or not number else f"{word} {label}"
    if not anchor or not (label or digits):
        return xml.run(label, BOLD) + shown
    bare = xml.bookmark(paper.new_id(), number_bookmark(anchor), shown)
    return xml.bookmark(paper.new_id(), paper.target(anchor).bookmark, xml.run(label, BOLD) + bare)


def _above(block: Table, paper: Paper) -> str:
    if block.caption or block.number:
        text = caption("table", block.number, block.anchor, block.caption, paper, keep_next=True)
    elif paper.after_table or paper.breaks_page:
        # two tables that touch become one, and a page break needs a paragraph to stand on
        text = paper.paragraph("SectionEnd", "", space=spacing(160))
    else:
        text = ""
    paper.after_table, paper.tops_column = True, False
    return text


def _has_header(block: Table) -> bool:
    return any(column.title for column in block.columns)


def _rows(block: Table, widths: tuple[int, ...], style: str, paper: Paper) -> Iterator[str]:
    whole = len(block.rows) <= (KEPT_WHOLE if paper.columns > 1 else KEPT_WHOLE_ACROSS)
    last = len(block.rows) - 1
    if _has_header(block):
        yield _header(block.columns, widths, style)
    for index, row in enumerate(block.rows):
        if len(row.cells) != len(widths):
            raise ValueError(f"a row of {len(row.cells)} cells in a table of {len(widths)} columns: {block.caption}")
        # no row alone under the caption or over the end
        keep = (whole and paper.leads) or (index < last and (whole or row.kind == "group" or index in (0, last - 1)))
        yield _row(row, block.columns, widths, style, keep, paper)


def _header(columns: tuple[Column, ...], widths: tuple[int, ...], style: str) -> str:
    head = "TableHead" if style == "TableText" else "TableSmallHead"
    cells = (
        xml.cell(width, xml.paragraph(head, xml.run(head_of(column)), _ALIGN[column.align]), sides + _BOTTOM)
        for column, width, sides in zip(columns, widths, _sides(columns, ""), strict=True)
    )
    return xml.row("".join(cells), header=True)


_BOTTOM: Final = '<w:vAlign w:val="bottom"/>'
_CELL_LOOK: Final = {"body": "", "group": edge("top", 6), "total": edge("top", 8)}


def _sides(columns: tuple[Column, ...], above: str) -> Iterator[str]:
    """The borders of each cell of a row: that above it, and upright ones in a form, which a pen writes in."""
    last = len(columns) - 1
    is_form = any(column.for_pen for column in columns)
    for at in range(len(columns)):
        left = edge("left", 4) if is_form and at else ""
        right = edge("right", 4) if is_form and at < last else ""
        borders = above + left + right
        yield f"<w:tcBorders>{borders}</w:tcBorders>" if borders else ""


def _row(row: Row, columns: tuple[Column, ...], widths: tuple[int, ...], style: str, keep: bool, paper: Paper) -> str:
    if row.kind not in _CELL_LOOK:
        raise ValueError(f"no such kind of row: {row.kind}")
    looks = _sides(columns, _CELL_LOOK[row.kind])
    bold = "" if row.kind == "body" else BOLD
    kept = _KEEP if keep else ""
    contents = _group_cells(row.cells, widths, style) if row.kind == "group" else row.cells
    return xml.row(
        "".join(
            xml.cell(width, xml.paragraph(style, runs(content, paper, bold), kept + _ALIGN[column.align]), look)
            for content, column, width, look in zip(contents, columns, widths, looks, strict=True)
        )
    )


def _group_cells(cells: tuple[Inlines, ...], widths: tuple[int, ...], style: str) -> tuple[Inlines, ...]:
    """The cells of a group row, its words moved to the first column that holds them on one line.

    Merged cells would lose readers who hear the table; a narrow first column would break every word.
    """
    if any(plain_text(content) for content in cells[1:]):
        return cells
    needed = text_width_pt(plain_text(cells[0]), 9 if style == "TableText" else 8, True)
    margin = cell_margin(sum(widths), len(widths))
    room = [(width - 2 * margin) / xml.TWIPS_PER_PT for width in widths]
    place = next((index for index, width in enumerate(room) if width >= needed), room.index(max(room)))
    moved: list[Inlines] = [()] * len(cells)
    moved[place] = cells[0]
    return tuple(moved)
