"""A document as plain text: for snapshots, differences and `explain`; and what stands in its blocks."""

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
    Inlines,
    ListBlock,
    Notice,
    PageBreak,
    Pairs,
    Paragraph,
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
    found = (item for inner in within([block]) for content in contents(inner) for item in flat(content))
    return [item for item in found if isinstance(item, Value)]


def within(blocks: Iterable[Block]) -> Iterator[Block]:
    """Blocks, each with all those inside it."""
    for block in blocks:
        yield block
        if isinstance(block, ClauseBlock | Notice):
            yield from within(block.blocks)


def contents(block: Block) -> Iterator[Inlines]:
    """The inlines of a block itself: not those of the blocks inside it."""
    if isinstance(block, Paragraph | Heading):
        yield block.content
    elif isinstance(block, ListBlock):
        yield from block.items
    elif isinstance(block, Steps):
        for step in block.steps:
            yield from (step.content, step.rests_on)
    elif isinstance(block, Pairs):
        for pair in block.rows:
            yield from pair
    elif isinstance(block, Table):
        for row in block.rows:
            yield from row.cells
    elif isinstance(block, ClauseBlock):
        yield block.title


def flat(content: Inlines) -> Iterator[Inline]:
    """Inlines, those in strong print in the place of it."""
    for item in content:
        if isinstance(item, Strong):
            yield from flat(item.content)
        else:
            yield item
