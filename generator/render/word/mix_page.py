"""Mix pages as bytes of a .docx file: a table for each part of a page, rows of exact height, pictures in line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import count
from typing import Final

from generator.document.card import MixPage
from generator.drawing.model import Drawing, Sketch
from generator.render.word import xml
from generator.render.word.base import base_document, pictures, saved, set_numbering
from generator.render.word.geometry import Margins, turned
from generator.render.word.look import plain_look
from generator.render.word.mix_layout import (
    MARGIN_BOTTOM_MM,
    MARGIN_SIDE_MM,
    MARGIN_TOP_MM,
    Layout,
    PageTooFull,
    fitted,
    parted,
)
from generator.render.word.mix_measure import PADDING, Cell, Grid, Line, Span
from generator.render.word.numbering import Numbering
from generator.render.word.styles import BOLD, colour, edge, indent, size

__all__ = ("PageTooFull", "mix_pages", "parted")

_MARGINS: Final = Margins.mm(MARGIN_TOP_MM, MARGIN_SIDE_MM, MARGIN_BOTTOM_MM, MARGIN_SIDE_MM, header=4, footer=4)
_BLACK, _WHITE = "000000", "FFFFFF"

PictureOf = Callable[[Drawing | Sketch], str]


def mix_pages(pages: Sequence[MixPage]) -> bytes:
    """Pages of one job as bytes of a .docx file, the same for the same pages: each a page of paper, complete.

    Raises `PageTooFull` for one that does not fit (`parted` shares its cards out) and ValueError for none.
    """
    if not pages:
        raise ValueError("a mix schedule without a page")
    layouts = tuple(map(fitted, pages))
    identity = pages[0].identity
    word = base_document(identity, plain_look(identity.paper))
    picture_of = _shown(pictures(word))
    body = "".join(_body(layout, picture_of, number == len(layouts)) for number, layout in enumerate(layouts, 1))
    set_numbering(word, Numbering())
    return saved(word, [f"{body}<w:sectPr>{turned(identity.paper, _MARGINS).setup()}</w:sectPr>".encode()])


def _shown(relation_of: Callable[[Drawing], str]) -> PictureOf:
    """A function giving a drawing as a run of its own number."""
    numbers: Iterator[int] = count(1)

    def picture_of(shown: Drawing | Sketch) -> str:
        drawing = shown.drawing if isinstance(shown, Sketch) else shown
        return xml.picture(next(numbers), relation_of(drawing), drawing.alt, drawing.width_mm, drawing.height_mm)

    return picture_of


def _body(layout: Layout, picture_of: PictureOf, last: bool) -> str:
    """The tables of a page, a blank after each; the blank after the last one starts the next page."""
    ends = [""] * (len(layout.grids) - 1) + ["" if last else "<w:pageBreakBefore/>"]
    return "".join(
        _table(grid, picture_of)
        + xml.paragraph("SectionEnd", "", end + (xml.shading(_BLACK) if grid.joined else "") + _exact(grid.below))
        for grid, end in zip(layout.grids, ends, strict=True)
    )


def _table(grid: Grid, picture_of: PictureOf) -> str:
    rows = "".join(
        xml.row(
            "".join(_cell(cell, width, picture_of) for cell, width in zip(row, grid.widths, strict=True)),
            header=index == 0, height=height, exact=True,
        )
        for index, (row, height) in enumerate(zip(grid.rows, grid.heights, strict=True))
    )  # fmt: skip
    return xml.table(grid.widths, rows, indent=0, caption=grid.told, description=grid.told, style="CardTable")


def _cell(cell: Cell, width: int, picture_of: PictureOf) -> str:
    rules = "".join(edge(side, weight, ink=_BLACK) for side, weight in cell.rules)
    borders = f"<w:tcBorders>{rules}</w:tcBorders>" if rules else ""
    ground = xml.shading(_BLACK) if cell.black else ""
    sides = {"top": PADDING, "left": cell.margin, "bottom": 0, "right": cell.margin + cell.clear}
    inside = "".join(f'<w:{side} w:w="{room}" w:type="dxa"/>' for side, room in sides.items())
    margins = f"<w:tcMar>{inside}</w:tcMar>"
    lines = cell.lines or (Line(()),)
    content = "".join(_paragraph(line, cell.black, picture_of) for line in lines)
    return xml.cell(width, content, borders + ground + margins)


def _paragraph(line: Line, black: bool, picture_of: PictureOf) -> str:
    ink = colour(_WHITE) if black else ""
    content = "".join(
        xml.run(item.text, _look(item, ink)) if isinstance(item, Span) else picture_of(item) for item in line.items
    )
    rule = f"<w:pBdr>{edge('top', 4, 1, ink=_BLACK)}</w:pBdr>" if line.rule else ""
    rule += xml.shading(_WHITE) if line.blank else ""
    tab = f'<w:tabs><w:tab w:val="left" w:pos="{line.hang}"/></w:tabs>' if line.hang else ""
    space = _spaced(line) if line.grows else _exact(line.high, line.before)
    hang = indent(line.hang, line.hang) if line.hang else ""
    # the paragraph's mark is no larger than what stands in it
    end = f"<w:rPr>{size(line.size)}</w:rPr>"
    return xml.paragraph("SheetTitle" if line.title else "SheetText", content, rule + tab + space + hang + end)


def _look(span: Span, ink: str) -> str:
    low = f'<w:position w:val="{-round(span.low_pt * 2)}"/>' if span.low_pt else ""
    return (BOLD if span.bold else "") + ink + low + size(span.size)


def _spaced(line: Line) -> str:
    return f'<w:spacing w:before="{line.before}" w:after="0" w:line="240" w:lineRule="auto"/>'


def _exact(pitch: int, before: int = 0) -> str:
    return f'<w:spacing w:before="{before}" w:after="0" w:line="{pitch}" w:lineRule="exact"/>'
