"""What is there or was asked for and is another trade's stands in the papers with whose it is, and in no line."""

from __future__ import annotations

import re

import pytest
from answers_text import one_wall
from jobs import job, shipped

from generator.document.outline import outline
from generator.papers.assemble import assemble

PART = "not-in-this-work"
TRADES = list(shipped().questionnaire.questions["other_trades"].choices)


def told(**answers: str) -> str:
    return outline(assemble(job(one_wall(**answers))).specification)


@pytest.mark.parametrize("trade", [choice.is_ for choice in TRADES])
def test_each_thing_named_stands_in_a_clause_of_its_own_that_says_whose_it_is(trade: str) -> None:
    clause = shipped().clauses[f"beyond.{trade}"]
    assert job(one_wall(other_trades=f"[{trade}]")).in_papers(clause.id)
    assert re.search(r"\w's\b|\bby (?:an? |somebody )", clause.text)


def test_a_job_of_this_trade_alone_has_no_such_part() -> None:
    assert "Not in this work" not in told()
    assert "Not in this work, and whose it is" in told(other_trades="[drains, floors]")


def test_what_no_list_holds_is_told_in_the_words_it_was_given() -> None:
    text = told(other_trades_also='["the sundial: a clockmaker, ordered by the owner"]')
    assert "Not in this work, and whose it is" in text
    assert "the sundial: a clockmaker, ordered by the owner" in text


def test_nothing_of_another_trade_is_priced() -> None:
    library = shipped()
    own = {key for key, part in library.part_of.items() if part == PART}
    assert own
    assert [key for key in library.items if own & set(library.duties[key])] == []


def test_circuits_that_a_line_of_these_papers_switches_off_are_not_said_to_be_the_clients_to_order() -> None:
    """Who read that the client isolates circuits, beside a line that pays for it, began on live ones."""
    electrics = shipped().clauses["beyond.electrics"].text
    assert "Circuits are isolated" not in electrics
    assert re.search(r"switched off, freed, tested and put back is priced in lines of its own", electrics)
    assert "prelims.circuits" in shipped().items
