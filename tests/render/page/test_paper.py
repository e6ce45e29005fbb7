"""The neutral document as HTML: all of its words, escaped, with anchors that lead somewhere."""

from __future__ import annotations

import re
from typing import Any

import pytest
from answers_text import one_wall
from jobs import example, job
from lxml import html

from generator.document.files import COMPANIONS
from generator.document.model import Block
from generator.document.outline import outline
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.render.page.paper import _EMITTERS, contents_of, html_paper


def words(text: str) -> str:
    return " ".join(re.findall(r"\w+", text))


@pytest.mark.parametrize("name", ["toll-house", "garden-front"])
def test_a_paper_says_the_words_that_it_says_in_word_and_no_reference_leads_nowhere(name: str) -> None:
    document = assemble(example(name)).specification
    made = html_paper(document, lambda at: f"/figure/{at}")
    tree: Any = html.fromstring(f"<div>{made.html}</div>")
    told = words(" ".join(tree.itertext()))
    for line in outline(document).splitlines():
        for piece in re.split(r" \| |\(\d+\) |^[-#]+ |^\[[^]]*\] ", line):
            if not line.startswith("[figure"):
                assert words(piece) in told, piece
    ids = set(tree.xpath("//@id"))
    assert {one.removeprefix("#") for one in tree.xpath("//a/@href")} <= ids
    assert {anchor for anchor, _ in contents_of(made)} <= ids
    assert len(tree.xpath("//img")) == len(made.figures) > 0
    assert all(one.get("alt") for one in tree.xpath("//img"))


def test_every_kind_of_block_has_its_html() -> None:
    assert set(_EMITTERS) == set(Block.__args__)


def test_what_is_answered_is_never_run() -> None:
    spelt = "<script>alert(1)</script><b>x</b>"
    text = one_wall(condition=f"'{spelt}'", title=f"'{spelt}'")
    made = html_paper(assemble(job(text)).specification, str)
    assert "<script>" not in made.html
    assert "<b>" not in made.html
    assert "&lt;script&gt;" in made.html


def test_companions_are_pages_too() -> None:
    for name, document in companions(job(one_wall()), list(COMPANIONS)).items():
        assert html_paper(document, str).html, name


def test_a_hatch_in_a_key_is_told_in_words() -> None:
    made = html_paper(assemble(example("toll-house")).specification, str)
    assert '<td class="left">(hatched with rising lines)\u00a0A</td>' in made.html
