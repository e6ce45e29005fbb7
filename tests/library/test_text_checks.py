"""Every text of a library parsed, and its names checked, before any is filled."""

from __future__ import annotations

import pytest
from jobs import shipped
from small_library import clause, library_of

from generator.library.entries import Clause
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


@pytest.mark.parametrize("part", ["title", "text", "check", "because", "advice"])
@pytest.mark.parametrize("link", ["[our site](https://example.org)", "[](mailto:a@example.org)", "![](x.png)", "[](x)"])
def test_a_link_to_anything_but_a_clause_is_refused(link: str, part: str) -> None:
    (found,) = told(clause("first.a", **{part: f"See {link}."}))
    assert found.startswith(f"clause 'first.a': its {part} links to '")
    assert found.endswith(": papers link to their own clauses alone; write the address as words")


@pytest.mark.parametrize("part", ["title", "advice"])
def test_a_part_that_cannot_refer_is_told(part: str) -> None:
    assert told(clause("first.a", **{part: "As [](clause:first.a)."})) == [
        f"clause 'first.a': its {part} refers to 'clause:first.a': "
        "only the text, check and because of a clause refer; say it there"
    ]


@pytest.mark.parametrize("link", ["[see](clause:first.a)", "[](<clause:first.a>)", "[ ](clause:first.a 'x')"])
def test_a_reference_with_words_of_its_own_is_told_as_it_is_to_be_spelt(link: str) -> None:
    assert told(clause("first.a", text=f"As {link}.")) == [
        "clause 'first.a': its text gives its reference to 'clause:first.a' words of its own: "
        "write [](clause:first.a): the number stands there with its word"
    ]


def test_what_looks_like_a_link_and_is_none_is_words() -> None:
    assert told(clause("first.a", text="As [1] (see below) or \\[x](clause:y), and <https://example.org>.")) == []


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("Rake {# for ourselves #} it.", "{#"),
        ("{% raw %}{{ title }}{% endraw %}", "{% raw"),
        ("the {{- title }}", "{{-"),
        ("the {{ title -}} wall", "-}}"),
    ],
)
def test_what_would_vanish_from_the_words_is_refused(text: str, word: str) -> None:
    (found,) = told(clause("first.a", text=text))
    assert found.startswith(
        f"clause 'first.a': its text holds '{word}', which takes words or spaces out of what is read"
    )


@pytest.mark.parametrize("inside", ["9" * 5_000, "(" * 2_000 + "x" + ")" * 2_000, "[" * 90_000, "not " * 5_000 + "x"])
def test_what_breaks_a_parser_is_refused_like_any_other(inside: str) -> None:
    (found,) = told(clause("first.a", text=f"{{{{ {inside} }}}}"))
    assert found.startswith("clause 'first.a': its text ")
