"""Page set-up: A4, margins, headers and footers of a Word paper."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from generator.document.model import Identity, Section
from generator.render import xml
from generator.render.paper import MARGIN_LEFT_MM, MARGIN_MM, line_mm
from generator.render.styles import BOLD, edge

if TYPE_CHECKING:
    from docx.document import Document as WordDocument

A4: Final = (11906, 16838)
_TOP_MM: Final = 25
_HEADER_MM: Final = 10
_FOOTER_MM: Final = 9
_LONGEST: Final = 90
_PARTED: Final = " · "


class PageFurniture:
    """Headers and footers of one paper, each made once however many sections use it."""

    def __init__(self, word: WordDocument, identity: Identity) -> None:
        self._word = word
        self._identity = identity
        self._relations: dict[tuple[str, str], str] = {}

    def cover(self) -> str:
        """The page set-up of the cover: no header but a draft's mark."""
        return _setup(False, self._header(self._draft_mark(xml.paragraph("Header", ""))), self._footer(False))

    def section(self, section: Section, columns: int = 1, continued: bool = False) -> str:
        """The page set-up of a section; one that is continued starts on the page of the one before."""
        line = _header_line(self._identity, section)
        header = self._header(self._draft_mark("") + line)
        footer = self._footer(section.landscape)
        return _setup(section.landscape, header, footer, columns=columns, continued=continued)

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

    part, relation = word.part.add_header_part() if kind == "hdr" else word.part.add_footer_part()
    part.element[:] = list(parse_xml(f"<w:{kind} {xml.NAMESPACES}>{content}</w:{kind}>"))
    return str(relation)


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
    content = xml.run(left, BOLD) + _TAB + xml.run(short(section.header, 60))
    border = f"<w:pBdr>{edge('bottom', 4, 4)}</w:pBdr>"
    return xml.paragraph("Header", content, border + _right_tab(section.landscape))


def _footer_line(identity: Identity, landscape: bool) -> str:
    content = xml.run(short(identity.title)) + _TAB + page_field(identity)
    border = f"<w:pBdr>{edge('top', 4, 4)}</w:pBdr>"
    return xml.paragraph("Footer", content, border + _right_tab(landscape))


_TAB: Final = "<w:r><w:tab/></w:r>"


def _right_tab(landscape: bool) -> str:
    return f'<w:tabs><w:tab w:val="right" w:pos="{xml.twips(line_mm(landscape))}"/></w:tabs>'


def _setup(landscape: bool, header: str, footer: str, *, columns: int = 1, continued: bool = False) -> str:
    width, height = reversed(A4) if landscape else A4
    turned = ' w:orient="landscape"' if landscape else ""
    left = MARGIN_MM if landscape else MARGIN_LEFT_MM
    start = "continuous" if continued else "nextPage"
    parted = f'<w:cols w:num="{columns}" w:space="{xml.COLUMN_GAP}"/>' if columns > 1 else ""
    return (
        f'<w:sectPr><w:headerReference w:type="default" r:id="{header}"/>'
        f'<w:footerReference w:type="default" r:id="{footer}"/><w:type w:val="{start}"/>'
        f'<w:pgSz w:w="{width}" w:h="{height}"{turned}/>'
        f'<w:pgMar w:top="{xml.twips(_TOP_MM)}" w:right="{xml.twips(MARGIN_MM)}" '
        f'w:bottom="{xml.twips(MARGIN_MM)}" w:left="{xml.twips(left)}" w:header="{xml.twips(_HEADER_MM)}" '
        f'w:footer="{xml.twips(_FOOTER_MM)}" w:gutter="0"/>{parted}</w:sectPr>'
    )
