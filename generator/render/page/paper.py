"""A paper as HTML: the same blocks as in Word, in one column, with anchors, contents and its figures apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from html import escape
from typing import Any, Final

from generator.document.model import (
    Block,
    ClauseBlock,
    Contents,
    Document,
    Figure,
    Heading,
    Inlines,
    ListBlock,
    Notice,
    PageBreak,
    Pairs,
    Paragraph,
    Picture,
    Ref,
    Row,
    Steps,
    Strong,
    Swatch,
    Table,
    plain_text,
)
from generator.drawing.svg import svg
from generator.values import Struct, field

_LEAST_LEVEL: Final = 2
"""Of headings: the page that a paper stands on has the first for its own title."""

_DEEPEST: Final = 6


class HtmlPaper(Struct, frozen=True):
    """A paper as a fragment of HTML, its contents as (level, anchor, number, words), its figures as (type, bytes)."""

    html: str
    contents: tuple[tuple[int, str, str, str], ...]
    figures: tuple[tuple[str, bytes], ...]


class _Paper(Struct):
    """What is made while a paper is written out."""

    source: Callable[[int], str]
    words: tuple[str, str]
    contents: list[tuple[int, str, str, str]] = field(default_factory=list)
    figures: list[tuple[str, bytes]] = field(default_factory=list)


def html_paper(document: Document, source: Callable[[int], str]) -> HtmlPaper:
    """A document as HTML; `source` gives the address of a figure by its place among them."""
    paper = _Paper(source, document.identity.caption_words)
    html = "\n".join(_block(block, paper) for block in document.blocks())
    return HtmlPaper(html, tuple(paper.contents), tuple(paper.figures))


def _block(block: Block, paper: _Paper) -> str:
    made: Callable[[Any, _Paper], str] = _EMITTERS[type(block)]
    return made(block, paper)


def _inline(content: Inlines) -> str:
    return "".join(_pieces(content))


def _pieces(content: Inlines) -> Iterator[str]:
    for item in content:
        if isinstance(item, Strong):
            yield f"<strong>{_inline(item.content)}</strong>"
        elif isinstance(item, Ref):
            yield f'<a href="#{escape(item.anchor)}">{escape(item.text)}</a>'
        elif isinstance(item, Swatch):
            yield f"({escape(item.drawing.alt)})"
        else:
            yield escape(item.text).replace("\n", "<br>")


def _heading(block: Heading, paper: _Paper) -> str:
    anchor = block.anchor or f"heading-{len(paper.contents)}"
    paper.contents.append((block.level, anchor, block.number, plain_text(block.content)))
    level = min(block.level + _LEAST_LEVEL - 1, _DEEPEST)
    number = f"{escape(block.number)} " if block.number else ""
    return f'<h{level} id="{escape(anchor)}">{number}{_inline(block.content)}</h{level}>'


def _paragraph(block: Paragraph, _: _Paper) -> str:
    return f'<p class="{escape(block.style)}">{_inline(block.content)}</p>'


def _list(block: ListBlock, _: _Paper) -> str:
    kind = "ol" if block.ordered else "ul"
    return f"<{kind}>{''.join(f'<li>{_inline(item)}</li>' for item in block.items)}</{kind}>"


def _steps(block: Steps, _: _Paper) -> str:
    items = (f"<li>{_inline(step.content)}{_rests(step.rests_on)}</li>" for step in block.steps)
    return f'<ol start="{block.first}">{"".join(items)}</ol>'


def _rests(content: Inlines) -> str:
    return f" ({_inline(content)})" if content else ""


def _pairs(block: Pairs, _: _Paper) -> str:
    rows = "".join(f"<div><dt>{_inline(label)}</dt><dd>{_inline(told)}</dd></div>" for label, told in block.rows)
    return f"<h3>{escape(block.title)}</h3><dl>{rows}</dl>"


def _table(block: Table, paper: _Paper) -> str:
    caption = _caption("caption", paper.words[0], block)
    head = "".join(f'<th scope="col">{escape(column.title)}</th>' for column in block.columns)
    heads = f"<thead><tr>{head}</tr></thead>" if any(column.title for column in block.columns) else ""
    rows = "".join(_row(row, block) for row in block.rows)
    table = f"<table{_id(block)}>{caption}{heads}<tbody>{rows}</tbody></table>"
    # a table that is too wide scrolls by itself, by the keyboard too
    return f'<div class="wide" tabindex="0" role="region" aria-label="{escape(_named(block))}">{table}</div>'


def _id(block: Table | Figure) -> str:
    return f' id="{escape(block.anchor)}"' if block.anchor else ""


def _caption(tag: str, word: str, block: Table | Figure) -> str:
    number = f"{escape(word)} {escape(block.number)}: " if block.number else ""
    return f"<{tag}>{number}{escape(block.caption)}</{tag}>" if block.caption else ""


def _named(block: Table) -> str:
    """What a table is called by who cannot see it."""
    return block.caption or block.description or ", ".join(column.title for column in block.columns if column.title)


def _row(row: Row, table: Table) -> str:
    pairs = zip(row.cells, table.columns, strict=True)
    cells = "".join(f'<td class="{column.align}">{_inline(cell)}</td>' for cell, column in pairs)
    return f'<tr class="{row.kind}">{cells}</tr>'


def _notice(block: Notice, paper: _Paper) -> str:
    inner = "".join(_block(one, paper) for one in block.blocks)
    return f'<div class="notice {escape(block.level)}"><p><strong>{escape(block.title)}</strong></p>{inner}</div>'


def _figure(block: Figure, paper: _Paper) -> str:
    drawing = block.drawing
    at = len(paper.figures)
    if isinstance(drawing, Picture):
        kind, made = "picture", ("image/jpeg", drawing.jpeg)
    else:
        kind, made = "drawing", ("image/svg+xml", svg(drawing).encode())
    paper.figures.append(made)
    caption = _caption("figcaption", paper.words[1], block)
    image = f'<img src="{escape(paper.source(at))}" alt="{escape(drawing.alt)}" class="{kind}">'
    return f"<figure{_id(block)}>{image}{caption}</figure>"


def _clause(block: ClauseBlock, paper: _Paper) -> str:
    inner = "".join(_block(one, paper) for one in block.blocks)
    title = f"{escape(block.number)} {_inline(block.title)}"
    return f'<section class="clause"><h3 id="{escape(block.anchor)}">{title}</h3>{inner}</section>'


def _nothing(_: Contents | PageBreak, __: _Paper) -> str:
    return ""


_EMITTERS: Final[dict[type, Callable[[Any, _Paper], str]]] = {
    Heading: _heading, Paragraph: _paragraph, ListBlock: _list, Steps: _steps, Pairs: _pairs, Table: _table,
    Notice: _notice, Figure: _figure, ClauseBlock: _clause, Contents: _nothing, PageBreak: _nothing,
}  # fmt: skip


def contents_of(paper: HtmlPaper, depth: int = 1) -> Iterable[tuple[str, str]]:
    """The headings down to a depth, each by its anchor."""
    return [(anchor, f"{number} {words}".strip()) for level, anchor, number, words in paper.contents if level <= depth]
