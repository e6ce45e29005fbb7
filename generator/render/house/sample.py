"""The shipped look as a Word file to edit: a line in every style that says what the style is for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.document.model import Identity
from generator.render.word import xml
from generator.render.word.base import base_document, saved, set_numbering
from generator.render.word.geometry import Page
from generator.render.word.look import COVER, FOOTER, HEADER, TURNED, UPRIGHT, plain_look
from generator.render.word.numbering import Numbering, list_properties
from generator.render.word.package import EARLIEST_DATE
from generator.render.word.pages import Stories, page_field
from generator.render.word.styles import BOLD, edge

WORDS: Final = "style-"
"""How the keys of the words begin that say what each style is for."""

_DATE: Final = "-".join(f"{number:02d}" for number in EARLIEST_DATE[:3])
_COVER: Final = ("Title", "Subtitle")
_TEXT: Final = (
    "FrontHeading1", "FrontHeading2", "PaperHeading", "Lead", "TOCHeading", "TOC1", "TOC2",
    "TextAcross", "BulletAcross", "SmallAcross", "Facts", "Step", "RestsOn", "PairTitle", "Pair", "Asked",
    "Heading1", "Heading2", "Heading3", "BodyText", "ClauseText", "Value", "Label", "LabelRunOn", "SmallText",
    "ListBullet", "ClauseBullet", "SmallBullet", "ListNumber", "ClauseNumber",
    "NoticeTitle", "Notice", "Figure", "Caption", "Normal", "DraftMark",
)  # fmt: skip
_TABLES: Final = (("TableHead", "TableText"), ("TableSmallHead", "TableSmall"))


def style_sample(words: Mapping[str, str], language: str, paper: str = "a4") -> bytes:
    """The file as bytes of a .docx, the same for the same words, which are by the key `style-` and a style's id."""
    look = plain_look(paper)
    identity = Identity(
        title=words["style-file-title"], subject="", reference="", revision="", date=_DATE, author="",
        language=language, page_words=(words["page"], words["of"]),
    )  # fmt: skip
    word = base_document(identity, look)
    upright, turned = look.geometry.upright, look.geometry.turned
    numbering = Numbering()
    cover = "".join(_line(style, words, numbering) for style in _COVER) + _note("cover", words)
    body = "".join(_line(style, words, numbering) for style in _TEXT)
    body += "".join(_table(head, text, words, upright.line) for head, text in _TABLES)
    body += _note("upright", words) + _note("fields", words)
    pages = ((COVER, upright), (UPRIGHT, upright), (TURNED, turned))
    stories = Stories(word)
    ends = [_setup(stories, where, page, identity) for where, page in pages]
    texts = (cover + xml.section_end(ends[0]), body + xml.section_end(ends[1]), _note("lying", words) + ends[2])
    set_numbering(word, numbering)
    return saved(word, [text.encode() for text in texts])


def _note(key: str, words: Mapping[str, str]) -> str:
    return xml.paragraph("BodyText", xml.run(words[WORDS + key]))


def _told(style: str, words: Mapping[str, str]) -> str:
    return words[WORDS + style.lower()]


def _line(style: str, words: Mapping[str, str], numbering: Numbering) -> str:
    content = xml.run(_told(style, words))
    if style in ("Value", "RestsOn", "LabelRunOn"):
        return xml.paragraph("BodyText", xml.run(_told(style, words), f'<w:rStyle w:val="{style}"/>'))
    if style in ("ListNumber", "ClauseNumber"):
        return xml.paragraph(style, content, list_properties(numbering.counted_list()))
    if style == "Step":
        return xml.paragraph(style, content, list_properties(numbering.steps(1)))
    return xml.paragraph(style, content)


def _table(head: str, text: str, words: Mapping[str, str], line: int) -> str:
    widths = (line // 2, line - line // 2)
    cells = [
        "".join(xml.cell(width, xml.paragraph(style, xml.run(told))) for width, told in zip(widths, said, strict=True))
        for style, said in (
            (head, (_told(head, words), words["style-ruled"])), (text, (_told(text, words), words["style-rules"])),
        )
    ]  # fmt: skip
    rows = xml.row(cells[0], header=True) + xml.row(cells[1])
    told = words["style-ruled"]
    return xml.table(widths, rows, indent=0, caption=told, description=told) + xml.section_end("")


def _setup(stories: Stories, where: str, page: Page, identity: Identity) -> str:
    """The page set-up of a section, with the header and footer of the pages that take after it."""
    references = "".join(
        f'<w:{name}Reference w:type="default" r:id="{stories.added(kind, _furniture(kind, where, identity, page))}"/>'
        for kind, name in ((HEADER, "header"), (FOOTER, "footer"))
    )
    return f'<w:sectPr>{references}<w:type w:val="nextPage"/>{page.setup()}</w:sectPr>'


def _furniture(kind: str, where: str, identity: Identity, page: Page) -> str:
    """A header or footer with a mark for each thing that papers fill in."""
    tab = xml.right_tab(page.line)
    if kind == FOOTER:
        line = xml.run("[title]") + xml.TAB + page_field(identity)
        return xml.paragraph("Footer", line, f"<w:pBdr>{edge('top', 4, 4)}</w:pBdr>{tab}")
    if where == COVER:
        return xml.paragraph("Header", "")
    line = xml.run("[reference] · [revision]", BOLD) + xml.TAB + xml.run("[section]")
    return xml.paragraph("Header", line, f"<w:pBdr>{edge('bottom', 4, 4)}</w:pBdr>{tab}")
