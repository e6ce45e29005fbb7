"""Sections that float: at the foot of which page they stand, and where they stay."""

from __future__ import annotations

import re

from docx_reading import NAMES, W, own, part, text_of
from render.samples import IDENTITY

from generator.document.model import (
    Block,
    Column,
    Contents,
    Document,
    Figure,
    Heading,
    Pairs,
    Paragraph,
    Row,
    Section,
    Table,
    Text,
)
from generator.drawing.model import Drawing
from generator.render.word.document import specification
from generator.render.word.floating import OVER_PICTURE, floated
from generator.render.word.heights import Heights
from generator.render.word.look import plain_look
from generator.render.word.tables import fitting

LOOK = plain_look("a4")
UPRIGHT = LOOK.geometry.upright
HEIGHTS = Heights(LOOK.styles, UPRIGHT.line, fitting())


def table(rows: int) -> Table:
    return Table((Column("Mix", 0.5), Column("Where", 0.5)), (Row(((Text("M1"),), (Text("here"),))),) * rows, "Mixes")


def lines(count: int) -> tuple[Block, ...]:
    return tuple(Paragraph((Text("A line."),)) for _ in range(count))


def page(count: int, header: str) -> Section:
    return Section(lines(count), header=header)


def floating(rows: int) -> Section:
    return Section((table(rows),), header="Tables", floats=True)


CLAUSES = Section(lines(4), header="Clauses", columns=2)
PRICES = Section((Heading(1, (Text("Prices"),)), *lines(3)), header="Tables", continues=True)


def told(*sections: Section) -> list[tuple[str, int, bool]]:
    """The header of each section, how many blocks it has, and whether it goes on."""
    return [(one.header, len(one.blocks), one.continues) for one in floated(sections, UPRIGHT, HEIGHTS)]


def test_what_floats_stands_at_the_foot_of_the_first_page_that_holds_it_whole_under_the_header_of_that() -> None:
    assert told(page(54, "First"), page(20, "Sheet"), CLAUSES, floating(12), PRICES) == [
        ("First", 54, False), ("Sheet", 20, False), ("Sheet", 1, True), ("Clauses", 4, False), ("Tables", 4, False),
    ]  # fmt: skip


def test_several_at_one_foot_keep_their_order() -> None:
    found = floated([page(10, "First"), CLAUSES, floating(2), floating(9), PRICES], UPRIGHT, HEIGHTS)
    assert [len(block.rows) for section in found for block in section.blocks if isinstance(block, Table)] == [2, 9]
    assert [section.header for section in found] == ["First", "First", "First", "Clauses", "Tables"]


def test_what_no_page_holds_stays_on_a_page_with_what_follows_it() -> None:
    assert told(page(54, "First"), CLAUSES, floating(30), PRICES) == [
        ("First", 54, False), ("Clauses", 4, False), ("Tables", 1, False), ("Tables", 4, True),
    ]  # fmt: skip


def test_several_that_no_page_holds_stay_together() -> None:
    found = floated([page(54, "First"), CLAUSES, floating(30), floating(20), PRICES], UPRIGHT, HEIGHTS)
    assert [section.continues for section in found] == [False, False, False, True, True]


def test_nothing_stands_below_columns_or_on_a_page_after_its_own_place() -> None:
    assert told(CLAUSES, floating(2), page(5, "Later")) == [
        ("Clauses", 4, False), ("Tables", 1, False), ("Later", 5, False),
    ]  # fmt: skip


def test_the_higher_of_two_columns_counts() -> None:
    side = (Pairs("Dates", (((Text("Day"),), (Text("1 May"),)),) * 50),)
    sheet = (page(1, "Sheet"), Section(lines(3), header="Sheet", side=side, continues=True))
    assert told(*sheet, CLAUSES, floating(12))[-1] == ("Tables", 1, False)
    assert told(*sheet[:1], CLAUSES, floating(12))[1] == ("Sheet", 1, True)


def test_papers_without_any_are_as_they_were() -> None:
    sections = [page(3, "First"), CLAUSES, PRICES]
    assert floated(sections, UPRIGHT, HEIGHTS) == sections


def test_each_line_of_a_pair_below_its_word_is_counted() -> None:
    told = ", ".join(f"{at}.10–{at}.11" for at in range(1, 60))
    short, long = (HEIGHTS.of((Pairs("", (((Text("Wall, access"),), (Text(one),)),)),), 3000) for one in ("1.1", told))
    assert long > 5 * short


def test_a_picture_that_floats_stands_off_the_lists_above_it() -> None:
    picture = Section((Figure(Drawing(150.0, 60.0, "The programme.", ())),), header="Tables", floats=True)
    found = part(specification(Document(IDENTITY, (page(5, "First"), CLAUSES, picture, PRICES))))
    lines_of = [one.find("w:pPr/w:spacing[@w:lineRule='exact']", NAMES) for one in found.iter(f"{{{W}}}p")]
    assert [own(one, "line") for one in lines_of if one is not None] == [str(OVER_PICTURE)]


def test_contents_list_what_floats_where_it_comes_to_stand() -> None:
    def headed(title: str, *blocks: Block) -> tuple[Block, ...]:
        return Heading(1, (Text(title),), anchor=f"front:{title}"), *blocks

    first = Section((Contents("Contents", runs_on=True), *headed("First", *lines(2))), header="First")
    clauses = Section(headed("Clauses", *lines(4)), columns=2)
    paper = Document(IDENTITY, (first, clauses, Section(headed("Orders", table(2)), floats=True)))
    told = "".join(map(text_of, part(specification(paper)).iterfind(".//w:sdt//w:p", NAMES)))
    assert re.findall(r"[A-Z][a-z]+", told) == ["First", "Orders", "Clauses"]
