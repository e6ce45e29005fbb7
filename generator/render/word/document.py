"""The specification: document model to the bytes of a .docx file."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain

from generator.document.model import Contents, Document, Heading, Picture, Section, Table
from generator.drawing.model import Drawing
from generator.render.word import xml
from generator.render.word.awaited import awaits, told
from generator.render.word.base import add_comments, base_document, pictures, saved, set_numbering
from generator.render.word.blocks import blocks
from generator.render.word.contents import listed
from generator.render.word.floating import OVER_PICTURE, floated, floats_picture
from generator.render.word.flow import Unsure
from generator.render.word.geometry import beside
from generator.render.word.heights import OVER_HEADS, Heights, heads_abreast, placed
from generator.render.word.look import Look, plain_look
from generator.render.word.pages import PageFurniture
from generator.render.word.paging import is_measured, reckoned
from generator.render.word.paper import Paper, entries_of, targets_of
from generator.render.word.tables import fitting
from generator.values import replace

Relations = Callable[[Drawing | Picture], str]


def specification(document: Document, pages: Mapping[str, int] | None = None, house: Look | None = None) -> bytes:
    """The paper as bytes of a .docx file, the same for the same document.

    `pages` gives page numbers by anchor for the contents list; without them they are reckoned where that is sure
    (`paging`), else the list has none. `house` is a practice's own look. Raises ValueError where the document
    contradicts itself (a reference to nothing, one anchor twice, a row that does not fit its table) and TypeError
    for blocks that are not of the model.
    """
    look = house or plain_look(document.identity.paper)
    word = base_document(document.identity, look)
    body = _Body(document, look, PageFurniture(word, document.identity, look), pictures(word))
    paper, texts = body.written(pages)
    set_numbering(word, paper.numbering)
    add_comments(word, paper.comments, document.identity)
    return saved(word, texts)


class _Body:
    """The body of a paper, written once: what its contents tell of pages is put in afterwards."""

    def __init__(self, document: Document, look: Look, furniture: PageFurniture, relation_of: Relations) -> None:
        self._document = document
        self._look = look
        self._furniture = furniture
        self._relation_of = relation_of
        cover = [Section(document.cover)] if document.cover else []
        self._widths_of = fitting()
        upright = look.geometry.upright
        heights = Heights(look.styles, upright.line, self._widths_of, listed(entries_of(document.blocks())))
        laid = list(placed(document.sections, look.geometry, heights))
        self._sections = (*cover, *floated(laid, upright, heights))
        if not self._sections:
            raise ValueError("a paper without pages")
        # listed where they come to stand
        self._entries = entries_of(replace(document, cover=(), sections=self._sections).blocks())

    def written(self, pages: Mapping[str, int] | None) -> tuple[Paper, list[bytes]]:
        """With these pages by anchor in its contents, or with those that are reckoned."""
        paper, texts = self._texts()
        known = self._reckoned(texts) if pages is None else _by_bookmark(pages, paper)
        for at, text in enumerate(texts):
            if awaits(text):
                texts[at] = told(text.decode(), known).encode()
        return paper, self._joined(texts, paper)

    def _reckoned(self, texts: Sequence[bytes]) -> dict[str, int] | None:
        """The pages of the contents by bookmark; None where none are wanted or they are not sure."""
        document, look = self._document, self._look
        depth = max((block.depth for block in document.blocks() if isinstance(block, Contents)), default=0)
        wanted = {entry.bookmark for entry in self._entries if entry.level <= depth}
        if not wanted or not is_measured(look, document.identity.paper):
            return None
        spelt = (text.decode() for text in texts)
        try:
            return reckoned(zip(self._sections, spelt, strict=True), look, wanted)
        except Unsure:
            return None

    def _texts(self) -> tuple[Paper, list[bytes]]:
        """The blocks of each section, as bytes: a long paper takes half the room so, or less."""
        paper = Paper(
            targets=targets_of(self._document),
            entries=self._entries,
            draft=bool(self._document.identity.draft),
            relation_of=self._relation_of,
            widths_of=self._widths_of,
            caption_words=self._document.identity.caption_words,
            geometry=self._look.geometry,
        )
        texts = []
        for section, following in zip(self._sections, (*self._sections[1:], None), strict=True):
            paper.landscape = section.landscape
            paper.breaks_page = False
            paper.columns = section.columns
            texts.append(_encoded(chain(_columns(section, paper), _over(following))))
        return paper, texts

    def _joined(self, texts: Iterable[bytes], paper: Paper) -> list[bytes]:
        """Every section's blocks, each closed by its page set-up; the last one's stands at the body's end."""
        furniture = self._furniture
        first, *others = self._sections
        setups = [furniture.cover() if self._document.cover else furniture.section(first)]
        setups += [furniture.section(section) for section in others]
        ends = [*(xml.section_end(setup) for setup in setups[:-1]), _last_end(setups[-1], paper)]
        return [piece for text, end in zip(texts, ends, strict=True) for piece in (text, end.encode())]


def _by_bookmark(pages: Mapping[str, int], paper: Paper) -> dict[str, int]:
    return {entry.bookmark: pages[entry.anchor] for entry in paper.entries if entry.anchor in pages}


def _encoded(pieces: Iterable[str]) -> bytes:
    held = io.BytesIO()  # grows in its place, where a join would hold all pieces and the whole at once
    held.writelines(piece.encode() for piece in pieces)
    return held.getvalue()


def _columns(section: Section, paper: Paper) -> Iterator[str]:
    """The blocks of a section, and those that stand beside them, after a break of the column."""
    if not section.side:
        # LibreOffice starts a page with a table that only its caption parts from columns
        lead = xml.section_end("") if section.floats and isinstance(section.blocks[0], Table) else ""
        yield lead
        yield from blocks(section.blocks, paper)
        return
    paper.room, side = beside(paper.line, is_even=section.is_even)
    # where all of a wall's part begins, its heading keeps off what stands above it
    paper.tops_column = not (isinstance(section.blocks[0], Heading) and section.blocks[0].level == 1)
    yield from blocks(section.blocks, paper)
    paper.room, paper.breaks_column, paper.tops_column, paper.after_table = side, True, True, False
    yield from blocks(section.side, paper)
    paper.room = 0


def _over(following: Section | None) -> Iterator[str]:
    """The room over two columns that both begin with a head, and over a picture that floats."""
    if following and following.continues and (heads_abreast(following) or floats_picture(following)):
        room = OVER_HEADS if heads_abreast(following) else OVER_PICTURE
        yield xml.paragraph("SectionEnd", "", f'<w:spacing w:line="{room}" w:lineRule="exact"/>')


def _last_end(setup: str, paper: Paper) -> str:
    # Word wants a paragraph after a table that ends the body
    return (xml.section_end("") if paper.after_table else "") + setup
