"""The site sheet for the mixing place: one page, as bytes of a .docx file."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from generator.document.model import Identity, MixSheet
from generator.render.word import xml
from generator.render.word.base import base_document, saved, set_numbering
from generator.render.word.geometry import Margins, turned
from generator.render.word.look import plain_look
from generator.render.word.numbering import CELL_BULLET_LIST, Numbering, list_properties
from generator.render.word.pages import add_story, page_field, short
from generator.render.word.sheet_layout import (
    MARGIN_BOTTOM_MM,
    MARGIN_SIDE_MM,
    MARGIN_TOP_MM,
    Layout,
    SheetTooFull,
    fitted,
    parted,
)
from generator.render.word.sheet_measure import BULLET, GAP, Grid, GridRow, Piece, Span, line_height
from generator.render.word.styles import BOLD, indent, size

__all__ = ("SheetTooFull", "mix_sheet", "mix_sheets", "parted")

_MARGINS: Final = Margins.mm(MARGIN_TOP_MM, MARGIN_SIDE_MM, MARGIN_BOTTOM_MM, MARGIN_SIDE_MM, header=6, footer=6)
_MIDDLE: Final = '<w:vAlign w:val="center"/>'


def mix_sheet(sheet: MixSheet) -> bytes:
    """The sheet as bytes of a .docx file of one page, the same for the same sheet.

    Raises `SheetTooFull` where it could not be read at 12 pt or more on one page: split it by workplace.
    Raises ValueError for a sheet without mixes.
    """
    return mix_sheets((sheet,))


def mix_sheets(sheets: Sequence[MixSheet]) -> bytes:
    """Sheets of one job as bytes of one .docx file, a complete page each; errors as of `mix_sheet`."""
    if not sheets or not all(sheet.mixes for sheet in sheets):
        raise ValueError("a mix schedule without mixes")
    layouts = tuple(map(fitted, sheets))
    identity = sheets[0].identity
    word = base_document(identity, plain_look(identity.paper))
    footer = add_story(word, "ftr", _footer(identity))
    bodies = "".join(_body(layout, index > 0) for index, layout in enumerate(layouts))
    set_numbering(word, Numbering())
    return saved(word, bodies + _setup(footer, identity.paper))


def _body(layout: Layout, new_page: bool) -> str:
    styles = ("DraftMark", "SheetTitle", "SheetText")[-len(layout.top) :]
    top = "".join(
        _paragraph(piece, style, new_page=new_page and index == 0)
        for index, (piece, style) in enumerate(zip(layout.top, styles, strict=True))
    )
    grids = "".join(_gap() + _grid(grid) for grid in (layout.mixes, *layout.lists))
    return top + grids + _gap() + _paragraph(layout.end, "SheetText")


def _grid(grid: Grid) -> str:
    rows = "".join(_row(row, grid) for row in grid.rows)
    return xml.table(grid.widths, rows, indent=0, caption=grid.told, description=grid.told, style="SheetTable")


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


def _paragraph(piece: Piece, style: str, before: int = 0, after: int = 0, *, new_page: bool = False) -> str:
    numbering = list_properties(CELL_BULLET_LIST) if piece.bullet else ""
    indents = indent(BULLET, BULLET) if piece.bullet else ""
    content = "".join(xml.run(span.text, _look(span)) for span in piece.spans)
    starts = "<w:pageBreakBefore/>" if new_page else ""
    space = _exact(line_height(piece.size), before, after)
    # the paragraph's mark is as high as its words, or an empty cell would be higher than measured
    mark = f"<w:rPr>{_look(piece.spans[-1])}</w:rPr>"
    return xml.paragraph(style, content, starts + numbering + space + indents + mark)


def _look(span: Span) -> str:
    return (BOLD if span.bold else "") + size(span.size)


def _gap() -> str:
    return xml.paragraph("SectionEnd", "", _exact(GAP))


def _exact(line: int, before: int = 0, after: int = 0) -> str:
    return f'<w:spacing w:before="{before}" w:after="{after}" w:line="{line}" w:lineRule="exact"/>'


def _footer(identity: Identity) -> str:
    told = " · ".join(filter(None, (identity.draft, identity.reference, identity.revision, identity.title)))
    tab = xml.right_tab(turned(identity.paper, _MARGINS).line)
    return xml.paragraph("Footer", xml.run(short(told, 130)) + xml.TAB + page_field(identity), tab)


def _setup(footer: str, paper: str) -> str:
    setup = turned(paper, _MARGINS).setup()
    return f'<w:sectPr><w:footerReference w:type="default" r:id="{footer}"/>{setup}</w:sectPr>'
