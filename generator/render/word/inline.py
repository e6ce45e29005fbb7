"""Inline content as runs: words, emphasis, values, references."""

from __future__ import annotations

from typing import Final

from generator.document.model import Inline, Inlines, Ref, Strong, Text, Value, bound
from generator.render.word.paper import Paper
from generator.render.word.styles import BOLD
from generator.render.word.xml import field, link, run

VALUE_STYLE: Final = '<w:rStyle w:val="Value"/>'


def runs(content: Inlines, paper: Paper, properties: str = "") -> str:
    """The content as runs; `properties` apply to all of it. Raises TypeError for an unknown kind."""
    return "".join(_run(item, paper, properties) for item in bound(content))


def _run(item: Inline, paper: Paper, properties: str) -> str:
    if isinstance(item, Text):
        return run(item.text, properties)
    if isinstance(item, Value):
        return run(item.text, VALUE_STYLE + properties)
    if isinstance(item, Strong):
        return runs(item.content, paper, properties if BOLD in properties else BOLD + properties)
    if isinstance(item, Ref):
        return _reference(item, paper, properties)
    raise TypeError(f"no such inline content: {type(item).__name__}")


def _reference(ref: Ref, paper: Paper, properties: str) -> str:
    """A live number after the words before it: `clause 2.1`; without a number, a link of all its words."""
    target = paper.target(ref.anchor)
    last_word = ref.text.split()[-1] if ref.text.split() else ""
    if target.number and last_word == target.number:
        before = run(ref.text.removesuffix(target.number), properties)
        return before + field(target.field, target.number, properties)
    if target.number and any(map(str.isdigit, last_word)):
        raise ValueError(f"a reference says '{ref.text}' of '{ref.anchor}', which is {target.number}")
    return link(target.bookmark, run(ref.text, properties))
