"""Clause text: parsed by others' parsers, run by nobody."""

from __future__ import annotations

import pytest

from generator.document.model import Inline, ListBlock, Paragraph, Ref, Strong, Text, Value, plain_text
from generator.library.text import Filler, Placeholder, TextError, blocks, inlines, parse, references


def said(text: str) -> Filler:
    def fill(hole: Placeholder) -> Inline:
        return Value(hole.name, (), text)

    return fill


def refer(kind: str, key: str) -> Inline:
    return Ref(f"{kind}:{key}", f"{kind} 6.3")


def test_a_paragraph_holds_words_and_values_apart() -> None:
    template = parse("Rake {{ rake_depth_mm }} deep.")
    assert list(blocks(template, said("25 mm"), refer)) == [
        Paragraph((Text("Rake "), Value("rake_depth_mm", (), "25 mm"), Text(" deep.")))
    ]


@pytest.mark.parametrize(
    "hostile",
    ["{{7*7}} # **x** <b>", "- item", "1. one", "[a](clause:b)", "\\", "=1+1", "a\u0301 \U0001f9f1 قلعة"],
)
def test_a_value_that_looks_like_markdown_or_a_placeholder_prints_as_it_is_spelt(hostile: str) -> None:
    found = list(blocks(parse("**{{ title }}**\n\n- {{ title }}"), said(hostile), refer))
    assert found == [
        Paragraph((Strong((Value("title", (), hostile),)),)),
        ListBlock(((Value("title", (), hostile),),)),
    ]


def test_lists_are_bullets_or_numbered() -> None:
    found = list(blocks(parse("- one\n- two\n\n1. first\n2. second"), said(""), refer))
    assert found == [
        ListBlock(((Text("one"),), (Text("two"),))),
        ListBlock(((Text("first"),), (Text("second"),)), ordered=True),
    ]


def test_a_reference_becomes_a_live_one() -> None:
    template = parse("As [](clause:raking-out.depth) says.")
    assert list(blocks(template, said(""), refer)) == [
        Paragraph((Text("As "), Ref("clause:raking-out.depth", "clause 6.3"), Text(" says.")))
    ]
    assert references(template) == ["clause:raking-out.depth"]


def test_a_filter_on_a_name_is_kept_for_the_filling() -> None:
    assert parse("{{ joint_width_mm | least }}").placeholders == (Placeholder("joint_width_mm", "least"),)


def test_one_line_texts_lose_their_line_ends() -> None:
    assert plain_text(inlines(parse("one\ntwo"), said(""))) == "one two"


@pytest.mark.parametrize(
    "text",
    [
        "{% if x %}a{% endif %}", "{{ x + 1 }}", "{{ x | upper }}", "{{ x.y }}", "{{ x[0] }}", "{{ x() }}", "{{ 'x' }}",
        "{{ ''.__class__ }}", "{{ x | least | greatest }}", "{{ x | bare(1) }}", "{{ ",
        "{% set x = 1 %}", "{{ [x for x in y] }}",
        "a \ue000 b",
    ],
)  # fmt: skip
def test_anything_but_names_and_the_listed_filters_is_refused(text: str) -> None:
    with pytest.raises(TextError):
        parse(text)
