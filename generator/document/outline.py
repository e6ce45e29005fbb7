"""A document as plain text: for snapshots, differences and `explain`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.document.model import (
    Block,
    ClauseBlock,
    Contents,
    Document,
    Figure,
    Heading,
    Inline,
    ListBlock,
    Notice,
    PageBreak,
    Pairs,
    Paragraph,
    Row,
    Steps,
    Strong,
    Table,
    Value,
    plain_text,
)


def outline(document: Document) -> str:
    """The whole document, a line a paragraph or row."""
    return "\n".join(line for block in document.blocks() for line in _lines(block)) + "\n"


def block_text(block: Block) -> str:
    """One block's words, a line a paragraph or row."""
    return "\n".join(_lines(block))


def _lines(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield f"{'#' * block.level} {block.number} {plain_text(block.content)}".replace("  ", " ")
    elif isinstance(block, Paragraph):
        yield plain_text(block.content)
    elif isinstance(block, ListBlock):
        for index, item in enumerate(block.items, start=1):
            yield f"{f'({index})' if block.ordered else '-'} {plain_text(item)}"
    elif isinstance(block, Steps):
        for number, step in enumerate(block.steps, start=block.first):
            rests = plain_text(step.rests_on)
            yield f"({number}) {plain_text(step.content)}{f' ({rests})' if rests else ''}"
    elif isinstance(block, Pairs):
        yield f"[beside] {block.title}"
        for label, told in block.rows:
            yield f"{plain_text(label)} | {plain_text(told)}"
    elif isinstance(block, ClauseBlock):
        yield f"{block.number} {plain_text(block.title)}"
        for inner in block.blocks:
            yield from _lines(inner)
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Notice):
        yield f"[{block.level}] {block.title}"
        for inner in block.blocks:
            yield from _lines(inner)
    elif isinstance(block, Figure):
        yield f"[figure {block.number}] {block.caption} ({block.drawing.alt})"
    elif not isinstance(block, Contents | PageBreak):
        raise TypeError(f"no outline for {type(block).__name__}")


def _table(table: Table) -> Iterator[str]:
    if table.caption:
        yield f"[table] {table.caption}"
    yield " | ".join(column.title for column in table.columns)
    for row in table.rows:
        yield " | ".join(plain_text(cell) for cell in row.cells)


def values_of(block: Block) -> list[Value]:
    """Every value in a block, in order."""
    return list(_values(block))


def _values(block: Block) -> Iterator[Value]:
    if isinstance(block, ClauseBlock | Notice):
        yield from _inner(block.title) if isinstance(block, ClauseBlock) else ()
        for inner in block.blocks:
            yield from _values(inner)
    elif isinstance(block, Paragraph | Heading):
        yield from _inner(block.content)
    elif isinstance(block, ListBlock):
        for item in block.items:
            yield from _inner(item)
    elif isinstance(block, Steps):
        for step in block.steps:
            yield from _inner(step.content)
    elif isinstance(block, Table | Pairs):
        for cells in (row.cells if isinstance(row, Row) else row for row in block.rows):
            for cell in cells:
                yield from _inner(cell)


def _inner(content: Iterable[Inline]) -> Iterator[Value]:
    for item in content:
        if isinstance(item, Value):
            yield item
        elif isinstance(item, Strong):
            yield from _inner(item.content)
