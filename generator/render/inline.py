"""Inline content as runs: words, emphasis, values, references."""

from __future__ import annotations

import re
from typing import Final

from generator.document.model import Inline, Inlines, Ref, Strong, Text, Value
from generator.render.paper import Paper
from generator.render.styles import BOLD
from generator.render.xml import bookmark_name, field, link, run

VALUE_STYLE: Final = '<w:rStyle w:val="Value"/>'
_DIGITS: Final = re.compile("[0-9]+")


def runs(content: Inlines, paper: Paper, properties: str = "") -> str:
    """The content as runs; `properties` apply to all of it. Raises TypeError for an unknown kind."""
    return "".join(_run(item, paper, properties) for item in content)


def number_bookmark(anchor: str) -> str:
    """The bookmark round the bare number of a caption."""
    return bookmark_name(f"{anchor}-nr")


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
    target = paper.target(ref.anchor)
    if target.kind == "number":
        return field(f"REF {target.bookmark} \\r \\h", ref.text, properties)
    if target.kind == "text":
        # the field would show the heading's words; what was written stands
        return link(target.bookmark, run(ref.text, properties))
    name = number_bookmark(ref.anchor) if _DIGITS.fullmatch(ref.text) else target.bookmark
    return field(f"REF {name} \\h", ref.text, properties)
