"""Every text of the library parsed and its names checked, before any is filled."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from generator.errors import Problem, did_you_mean
from generator.library.text import Template, TextError, parse
from generator.questionnaire.names import a_scope, visible_from

if TYPE_CHECKING:
    from generator.library.model import Library

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
        "mix",
        "litres",
        "recipe",
        "grain",
        "reason",
        "because",
        "sand",
        "envelope",
        "where",
        "parts",
        "most",
        "photograph",
        "letters",
        "number",
        "file",
        "figure",
        "limit",
        "answered",
    }
)
_FIELDS: Final[Mapping[str, tuple[str, ...]]] = {
    "clause": ("title", "text", "check", "because", "advice"),
    "finding": ("message", "action", "instruction"),
    "item": ("description", "includes"),
    "operation": ("text",),
}


@dataclass(slots=True)
class Texts:
    """Templates by kind, id and field, each parsed when first asked for."""

    entries: Mapping[str, Mapping[str, Any]]
    _parsed: dict[tuple[str, str, str], Template] = field(default_factory=dict)

    def template(self, kind: str, key: str, part: str) -> Template:
        """The template of one field of an entry. Raises `TextError` for one that is more than words and names."""
        place = (kind, key, part)
        if place not in self._parsed:
            self._parsed[place] = parse(str(getattr(self.entries[kind][key], part)))
        return self._parsed[place]


def text_problems(library: Library) -> Iterator[Problem]:
    """Every text that cannot be parsed, or names what cannot be read from its scope."""
    for kind, parts in _FIELDS.items():
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
    scope = library.texts.entries[kind][key].per
    for name in template.names():
        known = library.names.get(name)
        by_rule = kind == "finding" and name in RULE_FILLS
        if known is None and not by_rule:
            what = f"{kind} '{key}': its {part} names '{name}', which is not known"
            yield Problem(mark, what, did_you_mean(name, library.names))
        elif known is not None and known.scope not in visible_from(scope) and not by_rule:
            what = f"{kind} '{key}': its {part} reads '{name}' of {a_scope(known.scope)} from {a_scope(scope)}"
            yield Problem(mark, what, f"write it per {known.scope}, or take the name out")
