"""Every text of a library parsed, and its names checked, before any is filled."""

from __future__ import annotations

import pytest
from jobs import shipped
from small_library import clause, library_of

from generator.library.model import Clause
from generator.library.text_checks import text_problems


def told(*clauses: Clause) -> list[str]:
    return [f"{problem.what}: {problem.to_do}" for problem in text_problems(library_of(*clauses))]


def test_the_shipped_texts_have_no_mistakes() -> None:
    assert list(text_problems(shipped())) == []


@pytest.mark.parametrize("part", ["title", "text", "check", "because", "advice"])
def test_every_part_of_a_clause_is_checked(part: str) -> None:
    (found,) = told(clause("first.a", **{part: "{{ masonary }}", "per": "element"}))
    assert found == (f"clause 'first.a': its {part} names 'masonary', which is not known: did you mean 'masonry'?")


def test_a_name_of_an_inner_scope_cannot_be_read_from_a_wider_one() -> None:
    (found,) = told(clause("first.a", text="{{ masonry }}"))
    assert found == (
        "clause 'first.a': its text reads 'masonry' of an element from a project: "
        "write it per element, or take the name out"
    )


def test_a_name_of_a_wider_scope_can_be_read_from_an_inner_one() -> None:
    assert told(clause("first.a", per="coat", text="{{ title }} {{ masonry }} {{ rake_depth_mm }} {{ binder }}")) == []


def test_a_mix_reads_its_own_names_and_those_of_the_project_alone() -> None:
    assert told(clause("first.a", per="mix", text="{{ mix_ref }} {{ title }}")) == []
    assert len(told(clause("first.a", per="mix", text="{{ masonry }}"))) == 1


def test_what_rules_fill_in_is_for_findings_alone() -> None:
    assert len(told(clause("first.a", text="{{ asked }}"))) == 1


@pytest.mark.parametrize("text", ["{% if x %}{% endif %}", "{{ title | upper }}", "{{ 1 + 1 }}", "{{ "])
def test_a_text_that_would_run_something_is_refused(text: str) -> None:
    (found,) = told(clause("first.a", text=text))
    assert found.startswith("clause 'first.a': its text ")


def test_every_mistake_is_told_in_one_go() -> None:
    assert len(told(clause("first.a", text="{{ x }} {{ y }}"), clause("first.b", check="{{ z }}"))) == 3


def test_a_template_is_parsed_once() -> None:
    texts = library_of(clause("first.a")).texts
    assert texts.template("clause", "first.a", "text") is texts.template("clause", "first.a", "text")
