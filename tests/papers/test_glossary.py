"""The words of the trade: told once, those that a job's papers use and no others."""

from __future__ import annotations

import pytest
from answers_text import one_wall
from jobs import job, part

from generator.document.model import Inline, Paragraph, Strong, Text, Value
from generator.job.job import Job
from generator.papers.glossary import glossary

TUCK = {"joint_finish": "tuck"}


def told(found: Job) -> dict[str, str]:
    """Each word with what it is said to mean."""
    blocks = list(glossary(found, part(found, "glossary")))
    assert len(blocks) <= 1
    pieces = blocks[0].content if blocks and isinstance(blocks[0], Paragraph) else ()
    words = [plain(piece) for piece in pieces]
    return dict(zip(words[0::3], (meaning.removeprefix(": ") for meaning in words[1::3]), strict=True))


def plain(piece: Inline) -> str:
    if isinstance(piece, Strong):
        return "".join(map(plain, piece.content))
    assert isinstance(piece, Text | Value)
    return piece.text


def test_a_word_stands_with_its_meaning_where_a_clause_or_line_of_the_job_uses_it() -> None:
    found = told(job(one_wall()))
    assert found["arris"] == "the edge where two faces of a unit or coat meet"
    assert "stopping" not in found
    assert "nib" not in found


@pytest.mark.parametrize(("changes", "word"), [(TUCK, "stopping"), ({"loose_units_nr": "3"}, "key")])
def test_words_come_with_the_work_that_uses_them(changes: dict[str, str], word: str) -> None:
    assert word in told(job(one_wall(**changes)))


def test_a_word_of_one_trade_is_not_told_where_others_use_it_plainly() -> None:
    """Cement is taken out until arrises break; `stopping` is the mortar under a ribbon, and no such is here."""
    found = job(one_wall(cement_area_m2="4"))
    assert any("arrises break" in item.entry.description for item in found.measured.items())
    assert "stopping" not in told(found)


def test_every_word_is_told_once_and_begins_small_or_is_a_name() -> None:
    lines = part(job(one_wall()), "glossary").lines
    assert all(meaning and not meaning.endswith(".") for meaning in lines.values())
    assert [word for word in lines if word[0].isupper()] == ["NHL"]


def test_a_part_without_a_word_of_the_job_says_nothing() -> None:
    found = job(one_wall())
    shown = part(found, "glossary")
    only = type(shown)(shown.part, lines={"nib": "plaster that has passed between laths"})
    assert list(glossary(found, only)) == []
