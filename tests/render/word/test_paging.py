"""The pages of headings as they are reckoned: what moves to the next page or column, and what nobody may be told."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from docx_reading import parts
from helpers import slow_but
from jobs import EXAMPLES, job, shipped
from render import samples

from generator.document.model import Block, Contents, Document, Heading, ListBlock, Paragraph, Section, Strong, Text
from generator.papers.assemble import assemble
from generator.render.house.sample import style_sample
from generator.render.house.style import house_style
from generator.render.word.document import specification
from generator.render.word.flow import Reader
from generator.render.word.look import plain_look
from generator.render.word.type_styles import W, type_styles
from generator.values import replace

WORDS = "Rake failed joints by hand and show them before any is filled. "
MAIN = "word/document.xml"


def head(number: int) -> Heading:
    return Heading(1, (Text(f"Part {number}"),), anchor=f"part:{number}", number=str(number))


def lines(count: int) -> list[Block]:
    return [Paragraph((Text("Line."),))] * count


def paper(*blocks: Block, columns: int = 1) -> Document:
    section = Section(blocks, columns=columns)
    return Document(samples.IDENTITY, (section,), cover=(Contents("Contents", depth=1),))


def pages(document: Document, given: dict[str, int] | None = None) -> list[int]:
    """The pages that the contents list prints, in its order."""
    body = parts(specification(document, given))[MAIN].decode()
    return [int(page) for page in re.findall(r"PAGEREF \S+ \\h \"><w:r>(?:<w:rPr>.*?</w:rPr>)?<w:t[^>]*>(\d+)<", body)]


def test_a_heading_stands_on_the_page_that_the_lines_before_it_lead_to() -> None:
    assert pages(paper(head(1), *lines(10), head(2), *lines(200), head(3), *lines(2))) == [2, 2, 5]


def test_columns_hold_twice_as_much() -> None:
    assert pages(paper(head(1), *lines(100), head(2), *lines(40), head(3), *lines(1), columns=2)) == [2, 2, 3]


def test_a_heading_moves_on_with_the_line_that_it_leads_to() -> None:
    found = {count: pages(paper(head(1), *lines(count), head(2), *lines(1)))[1] for count in range(45, 65)}
    (turned,) = [count for count in found if found[count] == 3 and found.get(count - 1) == 2]
    kept = (Paragraph((Text(WORDS * 8),), "label"), *lines(1))
    assert pages(paper(head(1), *lines(turned - 4), head(2), *kept))[1] == 2
    assert pages(paper(head(1), *lines(turned - 2), head(2), Paragraph((Text(WORDS * 8),), "body"), *kept))[1] == 3


def test_columns_below_others_start_a_page_where_their_heading_does_not_fit_with_its_line() -> None:
    def found(small: int) -> list[int]:
        above = Section((head(1), *[Paragraph((Text("Line."),), "small")] * small, *lines(52)))
        below = Section((head(2), *lines(150)), columns=2, continues=True)
        return pages(replace(paper(), sections=(above, below)))

    # as LibreOffice 7.4 draws them
    assert [found(small) for small in (2, 3, 4, 5)] == [[2, 2], [2, 2], [2, 3], [2, 3]]


def test_a_part_that_starts_a_page_does_so() -> None:
    assert pages(paper(head(1), *lines(2), replace(head(2), starts_page=True), *lines(1))) == [2, 3]


def test_pages_that_are_given_are_printed_as_they_are_given() -> None:
    assert pages(paper(head(1), *lines(2)), {"part:1": 7}) == [7]


def test_what_nobody_has_measured_has_no_page() -> None:
    foreign = Paragraph((Text("石灰"),))
    unbroken = ListBlock(((Text("x" * 400),),))
    for unsure in (foreign, unbroken):
        assert pages(paper(head(1), unsure, head(2), *lines(1))) == []
    behind = paper(head(1), head(2), *lines(1))
    behind = replace(behind, sections=(*behind.sections, Section((unbroken,))))
    assert pages(behind) == [2, 2]  # what stands behind the last moves none


def test_a_practices_own_look_has_them_while_it_is_ours_and_none_when_it_is_another() -> None:
    document = paper(head(1), *lines(2))
    assert pages(document) == [2]
    ours = house_style(style_sample({**shipped().words}, "en-GB"), "house.docx")
    larger = replace(ours, styles=ours.styles.replace('<w:sz w:val="18"/>', '<w:sz w:val="20"/>'))
    found = [parts(specification(document, house=look))[MAIN] for look in (ours, larger)]
    assert found[0] == parts(specification(document))[MAIN]
    assert b"PAGEREF" not in found[1]


def test_the_words_that_are_laid_out_are_those_that_a_parser_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    laid_out: list[str] = []
    known = Reader._known

    def noted(self: Reader, text: str) -> str:
        laid_out.append(text)
        return known(self, text)

    monkeypatch.setattr(Reader, "_known", noted)
    hostile = Paragraph((Text('5 < 6 & "7" > 3 <w:p>'), Strong((Text("set in bold"),))))
    items = ListBlock(((Text("one"),), (Text("two"),)), ordered=True)
    body = parts(specification(paper(head(1), hostile, samples.JOINTS, samples.NOTICE, items, head(2))))[MAIN]
    found = [item.text or "" for item in ElementTree.fromstring(body).iter(f"{W}t")]
    assert len(found) > 20
    assert not_pages(laid_out) == not_pages(found)


def not_pages(texts: list[str]) -> list[str]:
    return [text for text in texts if not text.isdigit()]


@pytest.mark.parametrize("path", slow_but(1, EXAMPLES))
def test_no_example_holds_anything_that_nobody_has_measured(path: Path) -> None:
    found = job(path.read_text("utf-8"), folder=path.parent)
    assert len(pages(assemble(found).specification)) > 10


def test_a_line_of_a_side_list_is_as_far_from_the_next_as_the_office_program_sets_it() -> None:
    """12.1 pt as LibreOffice 7.4 sets them: the words, the space between two of them, and the rule with its own."""
    pair = type_styles(plain_look("a4").styles).paragraphs["Pair"]
    assert max(pair.before, pair.after) + pair.line_height(pair.size) + pair.rule == 242
