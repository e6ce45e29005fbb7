"""A document as plain text, block by block; a kind it does not know is refused."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import pytest

from generator.document.model import (
    Block,
    ClauseBlock,
    Column,
    Contents,
    Document,
    Heading,
    Identity,
    ListBlock,
    Notice,
    PageBreak,
    Paragraph,
    Row,
    Section,
    Strong,
    Table,
    Text,
    Value,
)
from generator.document.outline import block_text, outline, values_of

WALL = Value("element_name", ("a",), "Wall A")
DEPTH = Value("rake_depth_mm", ("a",), "25 mm")
TABLE = Table((Column("Where", 0.5), Column("Depth", 0.5)), (Row(((WALL,), (DEPTH,))),), "Depths")


@pytest.mark.parametrize(
    ("block", "text"),
    [
        (Heading(2, (Text("Pointing"),), number="9"), "## 9 Pointing"),
        (Heading(1, (Text("Read first"),)), "# Read first"),
        (Paragraph((Text("Rake "), Strong((WALL,)), Text("."))), "Rake Wall A."),
        (ListBlock(((Text("one"),), (Text("two"),))), "- one\n- two"),
        (ListBlock(((Text("one"),), (Text("two"),)), ordered=True), "(1) one\n(2) two"),
        (TABLE, "[table] Depths\nWhere | Depth\nWall A | 25 mm"),
        (Notice("block", "Draft", (Paragraph((Text("Open."),)),)), "[block] Draft\nOpen."),
        (ClauseBlock("a.b", "1.2", (Text("Depth"),), (Paragraph((Text("Rake."),)),), "clause:a.b"), "1.2 Depth\nRake."),
        (Contents("Contents"), ""),
        (PageBreak(), ""),
    ],
)
def test_each_block_is_told_in_plain_lines(block: Block, text: str) -> None:
    assert block_text(block) == text


def test_a_document_is_its_blocks_in_the_order_of_its_pages() -> None:
    identity = Identity("S", "T", "R", "1", "2027-01-01", "A")
    document = Document(
        identity, (Section((Paragraph((Text("second"),)),)), Section((Paragraph((Text("third"),)),))),
        cover=(Paragraph((Text("first"),)),),
    )  # fmt: skip
    assert outline(document) == "first\nsecond\nthird\n"


def test_a_kind_of_block_it_does_not_know_is_refused() -> None:
    @dataclass
    class Unknown:
        pass

    with pytest.raises(TypeError, match="Unknown"):
        block_text(cast(Block, Unknown()))


def test_values_are_found_in_titles_paragraphs_lists_tables_and_emphasis() -> None:
    inner = (Paragraph((Strong((WALL,)),)), ListBlock(((WALL,),)), TABLE)
    block = ClauseBlock("a.b", "1.2", (WALL,), inner, "clause:a.b")
    assert [value.text for value in values_of(block)] == ["Wall A", "Wall A", "Wall A", "Wall A", "25 mm"]


def test_values_in_a_notice_are_found_too() -> None:
    assert values_of(Notice("block", "Draft", (Paragraph((WALL,)),))) == [WALL]
