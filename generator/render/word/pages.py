"""Page set-up: paper, margins, headers and footers of a Word paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Final

from generator.document.model import Identity, Section
from generator.render.word import xml
from generator.render.word.base import IMAGE, WORD, add_related
from generator.render.word.geometry import Page, beside
from generator.render.word.look import COVER, FOOTER, HEADER, TURNED, UPRIGHT, Look
from generator.render.word.package import Package
from generator.render.word.styles import BOLD, MARK_LINE, edge
from generator.values import replace

_LONGEST: Final = 90
_PARTED: Final = " · "
_REACHED: Final = xml.twips(4.5)
_NAMES: Final = {HEADER: "header", FOOTER: "footer"}


class PageFurniture:
    """Headers and footers of one paper, each made once however many sections use it."""

    def __init__(self, word: Package, identity: Identity, look: Look) -> None:
        self._stories = Stories(word)
        self._identity = identity
        self._look = look
        self._relations: dict[tuple[str, str], str] = {}

    def cover(self) -> str:
        """The page set-up of the cover: no header but a draft's mark and what a practice has there."""
        page = self._look.geometry.upright
        header = self._header(COVER, Section(()), xml.paragraph("Header", ""), page)
        return _setup(page, header, self._footer(COVER, Section(()), page))

    def section(self, section: Section) -> str:
        """The page set-up of a section, which starts on a page of its own.

        One that continues begins below the section before it. Equal columns that end within a page are not made: an
        office program loses lines in them.
        """
        page = self._look.geometry.page(section.landscape)
        where = TURNED if section.landscape else UPRIGHT
        header = self._header(where, section, _header_line(self._identity, section, page), page)
        if self._identity.draft:
            page = nearer_to_edge(page)
        footer = self._footer(where, section, page)
        return _setup(page, header, footer, _columns(page, section), continues=section.continues)

    def _header(self, where: str, section: Section, line: str, page: Page) -> str:
        draft = self._identity.draft
        mark = xml.paragraph("DraftMark", xml.run(draft)) if draft else ""
        story = self._look.stories.get((HEADER, where))
        if story is not None:
            return self._relation(HEADER, mark + story.filled(self._told(section)), story.images)
        # a cover whose one line is the mark needs no empty line below it
        return self._relation(HEADER, mark if mark and where == COVER else mark + line)

    def _footer(self, where: str, section: Section, page: Page) -> str:
        story = self._look.stories.get((FOOTER, where))
        if story is not None:
            return self._relation(FOOTER, story.filled(self._told(section)), story.images)
        return self._relation(FOOTER, _footer_line(self._identity, page))

    def _told(self, section: Section) -> dict[str, str]:
        """What headers and footers tell of this paper, by the names of their fields."""
        identity = self._identity
        told = {
            "reference": identity.reference, "revision": identity.revision, "section": section.header,
            "title": identity.title, "subject": identity.subject, "date": identity.issued,
            "practice": identity.author,
        }  # fmt: skip
        return {name: short(value) for name, value in told.items()}

    def _relation(self, kind: str, content: str, images: Sequence[bytes] = ()) -> str:
        key = (kind, content)
        if key not in self._relations:
            self._relations[key] = self._stories.added(kind, content, images)
        return self._relations[key]


class Stories:
    """The headers (`hdr`) and footers (`ftr`) of a package, of which a job has one a wall."""

    def __init__(self, package: Package) -> None:
        self._package = package
        self._counts: Counter[str] = Counter()

    def added(self, kind: str, content: str, images: Sequence[bytes] = ()) -> str:
        """Adds a header or a footer with its pictures and gives its relation."""
        self._counts[kind] += 1
        name = _NAMES[kind]
        file = f"{name}{self._counts[kind]}.xml"
        for number, image in enumerate(images):
            picture = self._package.related(IMAGE, f"word/{file}", self._picture(image))
            content = content.replace(f'r:embed="image-{number}"', f'r:embed="{picture}"')
        text = f"<w:{kind} {xml.NAMESPACES}>{content}</w:{kind}>"
        return add_related(self._package, name, file, f"{WORD}.{name}+xml", text)

    def _picture(self, data: bytes) -> str:
        """A picture of a practice, which may be of any kind that a library of Word files can tell."""
        from docx.image.image import Image

        image = Image.from_blob(data)
        return self._package.add_picture(data, image.ext, image.content_type)


def nearer_to_edge(page: Page) -> Page:
    """A page whose header begins higher by the line of a draft's mark, as near to the edge as printers reach.

    What is below the mark stays where it is, or has air below it still.
    """
    margins = page.margins
    raised = max(_REACHED, margins.header - MARK_LINE)
    return replace(page, margins=replace(margins, header=min(margins.header, raised)))


def page_field(identity: Identity) -> str:
    """`Page 2 of 7`, in the paper's own words."""
    word, of = identity.page_words
    return xml.run(f"{word} ") + xml.field("PAGE", "1") + xml.run(f" {of} ") + xml.field("NUMPAGES", "1")


def short(text: str, longest: int = _LONGEST) -> str:
    """A text cut for a header or footer, which has one line."""
    text = " ".join(text.split())
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "…"


def _header_line(identity: Identity, section: Section, page: Page) -> str:
    left = short(_PARTED.join(filter(None, (identity.reference, identity.revision))), 60)
    content = xml.run(left, BOLD) + xml.TAB + xml.run(short(section.header, 60))
    border = f"<w:pBdr>{edge('bottom', 4, 4)}</w:pBdr>"
    return xml.paragraph("Header", content, border + xml.right_tab(page.line))


def _footer_line(identity: Identity, page: Page) -> str:
    content = xml.run(short(identity.title)) + xml.TAB + page_field(identity)
    border = f"<w:pBdr>{edge('top', 4, 4)}</w:pBdr>"
    return xml.paragraph("Footer", content, border + xml.right_tab(page.line))


def _columns(page: Page, section: Section) -> str:
    if section.side:
        main, side = beside(page.line, is_even=section.is_even)
        return (
            f'<w:cols w:num="2" w:space="{xml.COLUMN_GAP}" w:equalWidth="0">'
            f'<w:col w:w="{main}" w:space="{xml.COLUMN_GAP}"/><w:col w:w="{side}"/></w:cols>'
        )
    return f'<w:cols w:num="{section.columns}" w:space="{xml.COLUMN_GAP}"/>' if section.columns > 1 else ""


def _setup(page: Page, header: str, footer: str, columns: str = "", *, continues: bool = False) -> str:
    kind = "continuous" if continues else "nextPage"
    return (
        f'<w:sectPr><w:headerReference w:type="default" r:id="{header}"/>'
        f'<w:footerReference w:type="default" r:id="{footer}"/><w:type w:val="{kind}"/>'
        f"{page.setup()}{columns}</w:sectPr>"
    )
