"""The specification: document model to the bytes of a .docx file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from generator.document.model import Block, Document, Section
from generator.render.word import xml
from generator.render.word.base import add_comments, base_document, pictures, saved, set_numbering
from generator.render.word.blocks import blocks
from generator.render.word.geometry import beside
from generator.render.word.heights import placed
from generator.render.word.look import Look, plain_look
from generator.render.word.pages import PageFurniture
from generator.render.word.paper import Paper, entries_of, targets_of


def specification(document: Document, pages: Mapping[str, int] | None = None, house: Look | None = None) -> bytes:
    """The paper as bytes of a .docx file, the same for the same document.

    `pages` gives page numbers by anchor for the contents list, which without them has none. `house` is a
    practice's own look. Raises ValueError where the document contradicts itself (a reference to nothing, one
    anchor twice, a row that does not fit its table) and TypeError for blocks that are not of the model.
    """
    look = house or plain_look(document.identity.paper)
    word = base_document(document.identity, look)
    paper = Paper(
        targets=targets_of(document),
        entries=entries_of(document),
        draft=bool(document.identity.draft),
        pages=pages,
        relation_of=pictures(word),
        caption_words=document.identity.caption_words,
        geometry=look.geometry,
    )
    sections = tuple(placed(document.sections, look.geometry, look.styles))
    body = _body(document.cover, sections, paper, PageFurniture(word, document.identity, look))
    set_numbering(word, paper.numbering)
    add_comments(word, paper.comments, document.identity)
    return saved(word, body)


def _body(cover: Sequence[Block], sections: Iterable[Section], paper: Paper, furniture: PageFurniture) -> list[bytes]:
    """Every section's blocks, each closed by its page set-up; the last one's stands at the body's end."""
    texts = []  # as bytes: a long paper takes half the room so
    setups = []
    if cover:
        texts.append(blocks(cover, paper).encode())
        setups.append(furniture.cover())
    for section in sections:
        paper.landscape = section.landscape
        paper.breaks_page = False
        paper.columns = section.columns
        texts.append(_columns(section, paper).encode())
        setups.append(furniture.section(section))
    if not texts:
        raise ValueError("a paper without pages")
    ends = [*(xml.section_end(setup) for setup in setups[:-1]), _last_end(setups[-1], paper)]
    return [piece for text, end in zip(texts, ends, strict=True) for piece in (text, end.encode())]


def _columns(section: Section, paper: Paper) -> str:
    """The blocks of a section, and those that stand beside them, after a break of the column."""
    if not section.side:
        return blocks(section.blocks, paper)
    paper.room, side = beside(paper.line)
    main = blocks(section.blocks, paper)
    paper.room, paper.breaks_column, paper.after_table = side, True, False
    beside_it = blocks(section.side, paper)
    paper.room = 0
    return main + beside_it


def _last_end(setup: str, paper: Paper) -> str:
    # Word wants a paragraph after a table that ends the body
    return (xml.section_end("") if paper.after_table else "") + setup
