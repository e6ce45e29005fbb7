"""What differs between two texts: marked, or cut out for one line."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.record.revisions.wording import Piece, excerpts, marked, paragraphs

LONG = "Rake out failed joints of brickwork 25 mm deep and point with the mortar named; 35 % of {area} m² of face, all."


def test_only_the_words_that_differ_are_marked() -> None:
    old, new = marked("the yard; two vans; a shed", "the yard; three vans; a shed")
    assert [piece.text for piece in old if piece.changed] == ["two"]
    assert [piece.text for piece in new if piece.changed] == ["three"]


def test_texts_with_little_in_common_are_not_marked_at_all() -> None:
    old, new = "one two three", "four five six"
    assert marked(old, new) == ((Piece(old, False),), (Piece(new, False),))


@given(st.text("ab \n", max_size=30), st.text("ab \n", max_size=30))
def test_marking_loses_no_letter(old: str, new: str) -> None:
    one, two = marked(old, new)
    assert ("".join(piece.text for piece in one), "".join(piece.text for piece in two)) == (old, new)
    assert [line for line in old.split("\n") if line.strip()] == [
        "".join(piece.text for piece in line) for line in paragraphs(one)
    ]


def test_a_long_text_is_cut_to_what_differs_and_a_few_words_around_it() -> None:
    assert excerpts(LONG.format(area="88.62"), LONG.format(area="112.62")) == (
        "… named; 35 % of 88.62 m² of face, all.",
        "… named; 35 % of 112.62 m² of face, all.",
    )


@pytest.mark.parametrize(("old", "new"), [("35", "45"), (LONG, "Other words altogether, of another line. " * 3)])
def test_short_texts_and_those_that_are_not_alike_are_told_whole(old: str, new: str) -> None:
    assert excerpts(old, new) == (old.strip(), new.strip())
