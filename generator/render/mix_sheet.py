"""The site sheet for the mixing place: one A4 page, as bytes of a .docx file."""

from __future__ import annotations

from typing import Final

from generator.document.model import Identity, MixSheet
from generator.render import xml
from generator.render.base import base_document, saved, set_body, set_numbering
from generator.render.numbering import CELL_BULLET_LIST, Numbering, list_properties
from generator.render.pages import Margins, add_story, page, page_field, short
from generator.render.sheet_layout import (
    BULLET,
    GAP,
    LINE,
    MARGIN_BOTTOM_MM,
    MARGIN_SIDE_MM,
    MARGIN_TOP_MM,
    Grid,
    GridRow,
    Layout,
    Piece,
    SheetTooFull,
    fitted,
    line_height,
)
from generator.render.styles import BOLD, indent, size

__all__ = ("SheetTooFull", "mix_sheet")

_MARGINS: Final = Margins(MARGIN_TOP_MM, MARGIN_SIDE_MM, MARGIN_BOTTOM_MM, MARGIN_SIDE_MM, header=6, footer=6)
_MIDDLE: Final = '<w:vAlign w:val="center"/>'


def mix_sheet(sheet: MixSheet) -> bytes:
    """The sheet as bytes of a .docx file of one page, the same for the same sheet.

    Raises `SheetTooFull` where it could not be read at 12 pt or more on one page: split it by workplace.
    Raises ValueError for a sheet without mixes.
    """
    if not sheet.mixes:
        raise ValueError("a mix schedule without mixes")
    layout = fitted(sheet)
    word = base_document(sheet.identity)
    footer = add_story(word, "ftr", _footer(sheet.identity))
    set_body(word, _body(layout) + _setup(footer))
    set_numbering(word, Numbering())
    return saved(word)


def _body(layout: Layout) -> str:
    first = len(layout.top) - 2
    top = "".join(
        _paragraph(piece, "SheetTitle" if index == first else "SheetText")
        for index, piece in enumerate(layout.top)
    )
    grids = "".join(_gap() + _grid(grid) for grid in (layout.mixes, *layout.lists))
    return top + grids + _gap() + _paragraph(layout.end, "SheetText")


def _grid(grid: Grid) -> str:
    rows = "".join(_row(row, grid) for row in grid.rows)
    return xml.table(
        grid.widths, rows, indent=0, caption=grid.told, description=grid.told, style="SheetTable"
    )


def _row(row: GridRow, grid: Grid) -> str:
    cells = (
        xml.cell(width, _stack(pieces, grid.padding), _MIDDLE if row.middle else "")
        for pieces, width in zip(row.cells, grid.widths, strict=True)
    )
    return xml.row("".join(cells), header=row.header, height=row.least)


def _stack(pieces: tuple[Piece, ...], padding: int) -> str:
    last = len(pieces) - 1
    return "".join(
        _paragraph(piece, "SheetText", padding if index == 0 else 0, padding if index == last else 0)
        for index, piece in enumerate(pieces)
    )


def _paragraph(piece: Piece, style: str, before: int = 0, after: int = 0) -> str:
    numbering = list_properties(CELL_BULLET_LIST) if piece.bullet else ""
    indents = indent(BULLET, BULLET) if piece.bullet else ""
    look = (BOLD if piece.bold else "") + size(piece.size)
    space = _exact(line_height(piece.size), before, after)
    # the paragraph's mark is as high as its words, or an empty cell would be higher than measured
    return xml.paragraph(
        style, xml.run(piece.text, look), f"{numbering}{space}{indents}<w:rPr>{look}</w:rPr>"
    )


def _gap() -> str:
    return xml.paragraph("SectionEnd", "", _exact(GAP))


def _exact(line: int, before: int = 0, after: int = 0) -> str:
    return f'<w:spacing w:before="{before}" w:after="{after}" w:line="{line}" w:lineRule="exact"/>'


def _footer(identity: Identity) -> str:
    told = " · ".join(filter(None, (identity.draft, identity.reference, identity.revision, identity.title)))
    return xml.paragraph(
        "Footer", xml.run(short(told, 130)) + xml.TAB + page_field(identity), xml.right_tab(LINE)
    )


def _setup(footer: str) -> str:
    return f'<w:sectPr><w:footerReference w:type="default" r:id="{footer}"/>{page(True, _MARGINS)}</w:sectPr>'
