"""Checks of texts: each is parsed and its names are known, before any is filled."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Final

from generator.files.errors import Problem, did_you_mean, shown
from generator.library.model import Library
from generator.library.text import Template, TextError, links
from generator.questionnaire.names import a_scope, visible_from

# What a finding raised by a rule may be filled with beside the names of its scope.
RULE_FILLS: Final = frozenset(
    {
        "question",
        "why",
        "answer_by",
        "name",
        "asked",
        "binder",
        "last",
        "first",
        "second",
        "item",
        "items",
        "mix",
        "mixes",
        "litres",
        "takes",
        "left",
        "off",
        "recipe",
        "grain",
        "reason",
        "because",
        "sand",
        "envelope",
        "where",
        "parts",
        "most",
        "mixers",
        "chain",
        "ways",
        "end",
        "days",
        "photograph",
        "letters",
        "number",
        "file",
        "figure",
        "limit",
        "answered",
    }
)
TEXTS: Final[Mapping[str, tuple[str, ...]]] = {
    "clause": ("title", "text", "check", "because", "advice"),
    "finding": ("message", "action", "instruction"),
    "item": ("description", "includes"),
    "operation": ("text",),
}
"""The fields of entries that are texts."""


_REFERRING: Final = frozenset({("clause", "text"), ("clause", "check"), ("clause", "because")})
_REFERENCE: Final = re.compile(r"(?:clause|part):[a-z0-9.-]+")


def text_problems(library: Library) -> Iterator[Problem]:
    """Every text that cannot be parsed, or names what cannot be read from its scope."""
    for kind, parts in TEXTS.items():
        for key in library.texts.entries[kind]:
            for part in parts:
                yield from _checked(library, kind, key, part)


def _checked(library: Library, kind: str, key: str, part: str) -> Iterator[Problem]:
    mark = library.marks[kind, key]
    try:
        template = library.texts.template(kind, key, part)
    except TextError as error:
        yield Problem(mark, f"{kind} '{key}': its {part} {error.what}", error.to_do)
        return
    for what, to_do in _strange_links(template, (kind, part) in _REFERRING):
        yield Problem(mark, f"{kind} '{key}': its {part} {what}", to_do)
    scope = library.texts.entries[kind][key].per
    for name in template.names():
        if library.figure(name, key) is not None:
            continue
        known = library.names.get(name)
        by_rule = kind == "finding" and name in RULE_FILLS
        if known is None and not by_rule:
            what = f"{kind} '{key}': its {part} names '{name}', which is not known"
            yield Problem(mark, what, did_you_mean(name, library.names))
        elif known is not None and known.scope not in visible_from(scope) and not by_rule:
            what = f"{kind} '{key}': its {part} reads '{name}' of {a_scope(known.scope)} from {a_scope(scope)}"
            yield Problem(mark, what, f"write it per {known.scope}, or take the name out")


def _strange_links(template: Template, refers: bool) -> Iterator[tuple[str, str]]:
    """What is wrong with each link of a text, and what to do."""
    for target, bare in links(template):
        if not _REFERENCE.fullmatch(target):
            yield f"links to '{shown(target)}'", "papers link to their own clauses alone; write the address as words"
        elif not refers:
            yield f"refers to '{target}'", "only the text, check and because of a clause refer; say it there"
        elif not bare:
            what = f"gives its reference to '{target}' words of its own"
            yield what, f"write []({target}): the number stands there with its word"
