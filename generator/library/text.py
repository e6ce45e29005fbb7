"""Clause text into inlines: parsed by jinja2's parser and markdown-it, run by neither.

Placeholders are taken out of the text before markdown sees it, each as one private-use character, and come
back as `Value` nodes; so a value that looks like markdown or like a placeholder prints as it is spelt.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import TYPE_CHECKING, Any, Final

from markdown_it import MarkdownIt
from markdown_it.token import Token

from generator.document.model import Block, Inline, Inlines, ListBlock, Paragraph, Strong, Text

if TYPE_CHECKING:
    from jinja2 import Environment, nodes

FILTERS: Final = ("least", "greatest", "to", "bare", "full", "before", "capital")
_FIRST: Final = 0xE000
_PRIVATE: Final = re.compile("([\ue000-\uf8ff])")
# Comments, white space control, and the block whose words are taken as they stand.
_UNSEEN: Final = re.compile(r"\{#|\{%-?\s*raw\b|\{\{[-+]|[-+]\}\}")
_SPELLING: Final = "write {{ name }} or {{ name | filter }}"
_MARKDOWN: Final = MarkdownIt("zero").enable(["emphasis", "list", "link", "escape"])


class TextError(ValueError):
    """A text that uses more than names and the listed filters; carries the line within the text."""

    def __init__(self, what: str, to_do: str, line: int = 1) -> None:
        self.what, self.to_do, self.line = what, to_do, line
        super().__init__(f"{what}: {to_do}")


@dataclass(frozen=True, slots=True)
class Placeholder:
    """A name in a text and the filter on it, `""` for none."""

    name: str
    filter: str = ""


@dataclass(frozen=True, slots=True)
class Template:
    """A parsed text: markdown with placeholders as private-use characters, and what they stand for."""

    markdown: str
    placeholders: tuple[Placeholder, ...]

    def names(self) -> tuple[str, ...]:
        """The names it is filled with, in order, each once."""
        return tuple(dict.fromkeys(hole.name for hole in self.placeholders))


Filler = Callable[[Placeholder], Inline]
Referrer = Callable[[str, str], Inline]


def parse(text: str) -> Template:
    """The parsed text. Raises `TextError` for anything but words, names and the listed filters."""
    if _PRIVATE.search(text):
        raise TextError("holds a private-use character", "remove it")
    if "{" not in text:  # most texts have no placeholder, and parsing is the dearest part of reading a library
        return Template(text, ())
    from jinja2 import nodes

    tree = _parsed(text)
    pieces: list[str] = []
    holes: list[Placeholder] = []
    for node in tree.body:
        if not isinstance(node, nodes.Output):
            raise TextError("runs a statement", "write two clauses with two conditions instead", node.lineno)
        for part in node.nodes:
            if isinstance(part, nodes.TemplateData):
                pieces.append(part.data)
            else:
                pieces.append(chr(_FIRST + len(holes)))
                holes.append(_hole(part))
    return Template("".join(pieces), tuple(holes))


@dataclass(slots=True)
class Texts:
    """Templates by kind, id and field, each parsed when first asked for; their words swapped where others are read."""

    entries: Mapping[str, Mapping[str, Any]]
    _parsed: dict[tuple[str, str, str], Template] = field(default_factory=dict)
    _beneath: Texts | None = None
    _swap: Callable[[str], str] | None = None

    def template(self, kind: str, key: str, part: str) -> Template:
        """The template of one field of an entry. Raises `TextError` for one that is more than words and names."""
        place = (kind, key, part)
        if place not in self._parsed:
            if self._beneath is None or self._swap is None:
                self._parsed[place] = parse(str(getattr(self.entries[kind][key], part)))
            else:
                found = self._beneath.template(kind, key, part)
                self._parsed[place] = replace(found, markdown=self._swap(found.markdown))
        return self._parsed[place]

    def swapped(self, swap: Callable[[str], str]) -> Texts:
        """The same texts with their words swapped, and their placeholders untouched."""
        return Texts(self.entries, _beneath=self, _swap=swap)


# a library that was kept has its texts parsed: those who parse none need no parser
@cache
def _environment() -> Environment:
    from jinja2 import Environment

    return Environment(keep_trailing_newline=True, autoescape=False)


def _parsed(text: str) -> nodes.Template:
    from jinja2 import TemplateSyntaxError

    if found := _UNSEEN.search(text):
        what = f"holds '{found[0]}', which takes words or spaces out of what is read"
        to_do = "write {{ name }} alone; notes to yourself stand behind # in the file"
        raise TextError(what, to_do, text.count("\n", 0, found.start()) + 1)
    try:
        return _environment().parse(text)
    except TemplateSyntaxError as error:
        raise TextError(f"is not a text ({error.message})", _SPELLING, error.lineno) from None
    except (ValueError, RecursionError):  # a number of thousands of digits, brackets in brackets
        raise TextError("has more than a name in {{ }}", _SPELLING) from None


def _hole(node: nodes.Node) -> Placeholder:
    from jinja2 import nodes

    if isinstance(node, nodes.Name):
        return Placeholder(node.name)
    if isinstance(node, nodes.Filter) and isinstance(node.node, nodes.Name) and not node.args and not node.kwargs:
        if node.name in FILTERS:
            return Placeholder(node.node.name, node.name)
        raise TextError(f"uses the filter '{node.name}'", f"use one of {', '.join(FILTERS)}", node.lineno)
    raise TextError("has more than a name in {{ }}", "name one value; sums belong to the program", node.lineno)


def blocks(template: Template, fill: Filler, refer: Referrer) -> tuple[Block, ...]:
    """The text as blocks, each placeholder filled and each reference resolved."""
    return tuple(_Blocks(template, fill, refer).read(_tokens(template.markdown)))


def inlines(template: Template, fill: Filler, refer: Referrer | None = None) -> Inlines:
    """A one-line text as inlines, its markdown read likewise."""
    reader = _Blocks(template, fill, refer or (lambda kind, key: Text(key)))
    return reader.inline(_line_tokens(template.markdown))


# A text is filled for several papers, the record and each issue again: parsing it was a fifth of a run.
@cache
def _tokens(markdown: str) -> list[Token]:
    return _MARKDOWN.parse(markdown)


@cache
def _line_tokens(markdown: str) -> list[Token]:
    return _MARKDOWN.parseInline(" ".join(markdown.split()))[0].children or []


class _Blocks:
    """Reads markdown tokens into blocks."""

    def __init__(self, template: Template, fill: Filler, refer: Referrer) -> None:
        self.template = template
        self.fill = fill
        self.refer = refer

    def read(self, tokens: list[Token]) -> list[Block]:
        found: list[Block] = []
        index = 0
        while index < len(tokens):
            token = tokens[index]
            if token.type in ("bullet_list_open", "ordered_list_open"):
                end = _closing(tokens, index)
                found.append(self._list(tokens[index + 1 : end], token.type.startswith("ordered")))
                index = end
            elif token.type == "inline":
                found.append(Paragraph(self.inline(token.children or [])))
            index += 1
        return found

    def _list(self, tokens: list[Token], ordered: bool) -> ListBlock:
        items = [self.inline(token.children or []) for token in tokens if token.type == "inline"]
        return ListBlock(tuple(items), ordered)

    def inline(self, tokens: list[Token]) -> Inlines:
        stack: list[list[Inline]] = [[]]
        for token in tokens:
            if token.type == "strong_open" or token.type == "em_open":
                stack.append([])
            elif token.type in ("strong_close", "em_close"):
                content = tuple(stack.pop())
                stack[-1].append(Strong(content))
            elif token.type == "link_open":
                stack[-1].append(self._reference(token))
            elif token.type in ("softbreak", "hardbreak"):
                stack[-1].append(Text(" "))
            elif token.content:
                stack[-1].extend(self._filled(token.content))
        return _merged(stack[0])

    def _reference(self, token: Token) -> Inline:
        kind, _, key = str(token.attrGet("href")).partition(":")
        return self.refer(kind, key)

    def _filled(self, text: str) -> list[Inline]:
        holes = self.template.placeholders
        return [
            self.fill(holes[ord(piece) - _FIRST]) if _PRIVATE.fullmatch(piece) else Text(piece)
            for piece in _PRIVATE.split(text)
            if piece
        ]


def _closing(tokens: list[Token], start: int) -> int:
    depth = 0
    for index in range(start, len(tokens)):
        depth += tokens[index].nesting
        if depth == 0:
            return index
    return len(tokens) - 1


def _merged(inlines: list[Inline]) -> Inlines:
    found: list[Inline] = []
    for item in inlines:
        if isinstance(item, Text) and found and isinstance(found[-1], Text):
            found[-1] = Text(found[-1].text + item.text)
        else:
            found.append(item)
    return tuple(found)


def references(template: Template) -> list[str]:
    """The targets of the text's references, as `clause:id`."""
    return [target for target, _ in links(template)]


def links(template: Template) -> Iterator[tuple[str, bool]]:
    """Where each link of a text leads, and whether it is spelt as a reference is: `[](clause:id)`, without words."""
    if "[" not in template.markdown:  # most texts refer to nothing
        return
    for token in _tokens(template.markdown):
        children = token.children or []
        for number, child in enumerate(children):
            if child.type == "link_open":
                target = str(child.attrGet("href"))
                bare = children[number + 1].type == "link_close" and f"[]({target})" in template.markdown
                yield target, bare
