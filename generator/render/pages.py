"""Page set-up: A4, margins, headers and footers of a Word paper."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Any, Final

from generator.document.model import Identity, Section
from generator.render import xml
from generator.render.paper import MARGIN_LEFT_MM, MARGIN_MM, line_mm
from generator.render.styles import BOLD, edge

if TYPE_CHECKING:
    from docx.document import Document as WordDocument

A4: Final = (11906, 16838)
_LONGEST: Final = 90
_PARTED: Final = " · "


@dataclass(frozen=True, slots=True)
class Margins:
    """Margins of a page in mm; header and footer are how far those stand from the paper's edge."""

    top: float
    right: float
    bottom: float
    left: float
    header: float
    footer: float


_UPRIGHT: Final = Margins(21, MARGIN_MM, MARGIN_MM, MARGIN_LEFT_MM, 10, 9)
_TURNED: Final = Margins(21, MARGIN_MM, MARGIN_MM, MARGIN_MM, 10, 9)


class PageFurniture:
    """Headers and footers of one paper, each made once however many sections use it."""

    def __init__(self, word: WordDocument, identity: Identity) -> None:
        self._word = word
        self._identity = identity
        self._relations: dict[tuple[str, str], str] = {}

    def cover(self) -> str:
        """The page set-up of the cover: no header but a draft's mark."""
        return _setup(False, self._header(self._draft_mark(xml.paragraph("Header", ""))), self._footer(False))

    def section(self, section: Section) -> str:
        """The page set-up of a section, which starts on a page of its own.

        Columns that end within a page are not made: an office program loses lines in them.
        """
        line = _header_line(self._identity, section)
        header = self._header(self._draft_mark("") + line)
        footer = self._footer(section.landscape)
        return _setup(section.landscape, header, footer, section.columns)

    def _draft_mark(self, otherwise: str) -> str:
        draft = self._identity.draft
        return xml.paragraph("DraftMark", xml.run(draft)) if draft else otherwise

    def _header(self, content: str) -> str:
        return self._relation("hdr", content)

    def _footer(self, landscape: bool) -> str:
        return self._relation("ftr", _footer_line(self._identity, landscape))

    def _relation(self, kind: str, content: str) -> str:
        key = (kind, content)
        if key not in self._relations:
            self._relations[key] = add_story(self._word, kind, content)
        return self._relations[key]


def add_story(word: WordDocument, kind: str, content: str) -> str:
    """Adds a header (`hdr`) or a footer (`ftr`) to the package and gives its relation."""
    from docx.oxml import parse_xml

    add: Any = word.part.add_header_part if kind == "hdr" else word.part.add_footer_part
    part, relation = add()
    part.element[:] = list(parse_xml(f"<w:{kind} {xml.NAMESPACES}>{content}</w:{kind}>"))
    return str(relation)


def page(landscape: bool, margins: Margins) -> str:
    """Size, turn and margins of an A4 page, as children of `w:sectPr`."""
    width, height = reversed(A4) if landscape else A4
    turned = ' w:orient="landscape"' if landscape else ""
    sides = "".join(
        f'w:{field.name}="{xml.twips(getattr(margins, field.name))}" ' for field in fields(margins)
    )
    return f'<w:pgSz w:w="{width}" w:h="{height}"{turned}/><w:pgMar {sides}w:gutter="0"/>'


def page_field(identity: Identity) -> str:
    """`Page 2 of 7`, in the paper's own words."""
    word, of = identity.page_words
    return xml.run(f"{word} ") + xml.field("PAGE", "1") + xml.run(f" {of} ") + xml.field("NUMPAGES", "1")


def short(text: str, longest: int = _LONGEST) -> str:
    """A text cut for a header or footer, which has one line."""
    text = " ".join(text.split())
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "…"


def _header_line(identity: Identity, section: Section) -> str:
    left = short(_PARTED.join(filter(None, (identity.reference, identity.revision))), 60)
    content = xml.run(left, BOLD) + xml.TAB + xml.run(short(section.header, 60))
    border = f"<w:pBdr>{edge('bottom', 4, 4)}</w:pBdr>"
    return xml.paragraph("Header", content, border + _right_tab(section.landscape))


def _footer_line(identity: Identity, landscape: bool) -> str:
    content = xml.run(short(identity.title)) + xml.TAB + page_field(identity)
    border = f"<w:pBdr>{edge('top', 4, 4)}</w:pBdr>"
    return xml.paragraph("Footer", content, border + _right_tab(landscape))


def _right_tab(landscape: bool) -> str:
    return xml.right_tab(xml.twips(line_mm(landscape)))


def _setup(landscape: bool, header: str, footer: str, columns: int = 1) -> str:
    parted = f'<w:cols w:num="{columns}" w:space="{xml.COLUMN_GAP}"/>' if columns > 1 else ""
    return (
        f'<w:sectPr><w:headerReference w:type="default" r:id="{header}"/>'
        f'<w:footerReference w:type="default" r:id="{footer}"/><w:type w:val="nextPage"/>'
        f"{page(landscape, _TURNED if landscape else _UPRIGHT)}{parted}</w:sectPr>"
    )
