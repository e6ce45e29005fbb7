"""Findings in words: sorted, each once, with the lines they rest on; the status hangs on them alone."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall
from jobs import shipped
from small_library import job

from generator.job.findings import findings, of, status
from generator.library.findings import Finding, Raised

MANY = answers(
    wall(id_="a", name="A", wall_wet="soaked", leaning="not known", hardness="not known"),
    wall(id_="b", name="B", salts="heavy", decay_causes="[gutter]", causes_cured="nobody"),
    tender_return_date="2027-01-05",
)


def test_the_gravest_stand_first_then_those_of_the_first_wall() -> None:
    made = job(MANY)
    order = list(made.facts.scopes)
    keys = [(-item.rank, order.index(item.scope), item.code) for item in made.findings]
    assert keys == sorted(keys)
    assert made.findings[0].level == "block"
    assert made.findings[-1].level == "note"


def test_no_finding_stands_twice() -> None:
    made = job(MANY)
    assert len(made.findings) == len(set(made.findings))
    raised = [Raised("asked-cement-refused", ("a",), (("binder", "putty"),))] * 2
    assert len([item for item in findings(raised, made.filling) if item.code == "asked-cement-refused"]) == 1


def test_every_finding_says_what_what_to_do_and_who_must_answer() -> None:
    for item in job(MANY).findings:
        assert item.message
        assert item.action
        assert item.answer_by
        assert "{{" not in item.message + item.action + item.instruction
        assert set(item.sources) <= set(shipped().sources)


def test_one_raised_by_a_condition_has_the_facts_and_the_lines_of_its_answers() -> None:
    text = one_wall(decay_causes="[gutter]", causes_cured="nobody")
    found = next(item for item in job(text).findings if item.code == "gutter-first")
    lines = text.splitlines()
    named = {lines[mark.line - 1].split(":")[0].strip() for mark in found.marks}
    assert named == {"decay_causes", "causes_cured"}
    assert any("gutter" in fact for fact in found.facts)


def test_a_contradiction_has_the_lines_of_both_answers() -> None:
    text = one_wall(start_date="2027-08-30")
    found = next(item for item in job(text).findings if item.code == "dates-contradict")
    lines = text.splitlines()
    assert [lines[mark.line - 1].split(":")[0].strip() for mark in found.marks] == ["start_date", "finish_date"]


def test_what_a_rule_fills_in_goes_before_an_answer_of_the_same_name() -> None:
    made = job(one_wall())
    (raised,) = [item for item in findings([Raised("no-recipe", ("front",))], made.filling) if item.code == "no-recipe"]
    assert raised.scope == ("front",)
    fills = (("question", "Q"), ("why", "W"), ("name", "n"), ("answer_by", "owner"))
    (asked,) = [
        item for item in findings([Raised("not-answered", (), fills)], made.filling) if item.code == "not-answered"
    ]
    assert asked.message == "not-answered message Q W"
    assert asked.answer_by == "owner"


@pytest.mark.parametrize(
    ("levels", "wanted"),
    [([], "tender"), (["note", "warning", "refusal"], "tender"), (["note", "block"], "draft")],
)
def test_a_set_is_a_draft_while_a_block_is_open_and_for_tender_otherwise(levels: list[str], wanted: str) -> None:
    assert status(Finding(level, "code", (), "m", "a", "owner") for level in levels) == wanted


def test_those_of_a_wall_are_its_own_and_those_of_its_works() -> None:
    made = job(MANY)
    own = of(made.findings, ("b",))
    assert own
    assert {item.scope[0] for item in own} == {"b"}
