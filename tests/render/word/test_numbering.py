"""Numbers: what Word counts equals what the paper says, in order or out of it."""

from __future__ import annotations

import pytest
from docx_reading import outline
from hypothesis import given
from hypothesis import strategies as st
from render import samples

from generator.document.model import Block, Document, Heading, ListBlock, Section, Text
from generator.render.word.document import specification


def shown(*blocks: Block) -> list[str]:
    """The headings' numbers as a reader of the file counts them."""
    lines = outline(specification(Document(samples.IDENTITY, (Section(blocks),))))
    return [line.split(" ")[1].strip('"') for line in lines if line.startswith(("Clause", "Heading"))]


def numbered(*numbers: str) -> list[Block]:
    return [
        samples.clause(number, "Title", anchor=f"a-{index}")
        if "." in number
        else Heading(1, (Text("Part"),), "", number)
        for index, number in enumerate(numbers)
    ]


@pytest.mark.parametrize(
    "numbers",
    [
        pytest.param(["1", "1.1", "1.2", "2", "2.1", "3"], id="in order"),
        pytest.param(["1", "1.1", "1.1A", "1.1B", "1.2", "1.2A", "1.3"], id="added clauses take letters"),
        pytest.param(["2", "2.1", "3", "3.1"], id="the first part is not 1"),
        pytest.param(["1", "3", "3.1", "4", "4.1"], id="a part is missing"),
        pytest.param(["1", "1.2", "1.3", "1.7", "1.8", "2", "2.1"], id="clauses are missing"),
        pytest.param(["1", "1.1", "1.1C", "1.1D", "1.2"], id="a letter is missing"),
        pytest.param(["7", "7.1", "7A", "7A.1", "7A.1A", "7A.2", "7B", "7B.1", "8", "8.1"], id="added parts"),
        pytest.param(["1", "1.1", "A", "A.1", "A.2"], id="a part named by a letter"),
        pytest.param(["1.1", "1.2", "4.2"], id="clauses without their part"),
        pytest.param(["3", "3.2", "1", "1.1", "2"], id="going back"),
        pytest.param(["1", "1.1", "1.2.3", "1.2"], id="a number of another shape"),
    ],
)
def test_automatic_numbers_equal_the_numbers_given(numbers: list[str]) -> None:
    assert shown(*numbered(*numbers)) == numbers


@given(st.lists(st.tuples(st.integers(1, 4), st.lists(st.integers(1, 6), max_size=4)), max_size=5))
def test_any_jumps_of_parts_and_clauses_are_counted_as_given(parts: list[tuple[int, list[int]]]) -> None:
    numbers = [text for part, clauses in parts for text in (str(part), *(f"{part}.{clause}" for clause in clauses))]
    contents = [Heading(2 if "." in text else 1, (Text("T"),), "", text) for text in numbers]
    unique = list({heading.number: heading for heading in contents}.values())
    assert shown(*unique) == [heading.number for heading in unique]


def test_headings_in_order_leave_their_numbers_to_the_style() -> None:
    data = specification(Document(samples.IDENTITY, (Section(tuple(numbered("1", "1.1", "1.2", "2"))),)))
    assert b"w:numPr" not in samples.body_of(data)


def test_every_numbered_list_counts_from_one() -> None:
    items = ListBlock((samples.words("a"), samples.words("b")), ordered=True)
    lines = outline(specification(Document(samples.IDENTITY, (Section((items, items)),))))
    assert lines == ['Item "(1) a"', 'Item "(2) b"'] * 2


def test_a_lower_heading_keeps_a_number_its_style_does_not_give() -> None:
    assert shown(*numbered("1", "1.1"), Heading(3, (Text("T"),), "", "1.1A")) == ["1", "1.1", "1.1A"]
