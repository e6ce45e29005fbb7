"""Clause text into inlines: parsed by jinja2's parser and, as passages, by markdown-it, run by neither.

Placeholders are taken out of the text before markdown sees it, each as one private-use character, and come
back as `Value` nodes; so a value that looks like markdown or like a placeholder prints as it is spelt.
"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any, Final

from generator.document.model import Block, Inline, Inlines, ListBlock, Paragraph, Strong, Text
from generator.library import passages
from generator.library.passages import FIRST, PRIVATE, Emphasis, Listed, Passage, Pieces
from generator.values import Struct, field

if TYPE_CHECKING:
    from jinja2 import Environment, nodes

FILTERS: Final = ("least", "greatest", "to", "bare", "full", "before", "capital")
# Comments, white space control, and the block whose words are taken as they stand.
_UNSEEN: Final = re.compile(r"\{#|\{%-?\s*raw\b|\{\{[-+]|[-+]\}\}")
_SPELLING: Final = "write {{ name }} or {{ name | filter }}"


class TextError(ValueError):
    """A text that uses more than names and the listed filters; carries the line within the text."""

    def __init__(self, what: str, to_do: str, line: int = 1) -> None:
        self.what, self.to_do, self.line = what, to_do, line
        super().__init__(f"{what}: {to_do}")


class Placeholder(Struct, frozen=True):
    """A name in a text and the filter on it, `""` for none."""

    name: str
    filter: str = ""


class Template(Struct, frozen=True, eq=False):
    """A parsed text: markdown with placeholders as private-use characters, and what they stand for.

    Two are equal whatever was read of them.
    """

    markdown: str
    placeholders: tuple[Placeholder, ...]
    _read: dict[str, Any] = field(default_factory=dict)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Template) and self._parsed == other._parsed

    def __hash__(self) -> int:
        return hash(self._parsed)

    @property
    def _parsed(self) -> tuple[str, tuple[Placeholder, ...]]:
        return self.markdown, self.placeholders

    @property
    def passages(self) -> tuple[Passage, ...]:
        """Its paragraphs and lists, to be filled."""
        found: tuple[Passage, ...] = self._once("passages", passages.passages)
        return found

    @property
    def line(self) -> Pieces:
        """The whole of it as one line, to be filled."""
        found: Pieces = self._once("line", passages.line)
        return found

    def _once(self, name: str, read: Callable[[str], Any]) -> Any:
        if name not in self._read:
            self._read[name] = read(self.markdown)
        return self._read[name]

    def swapped(self, swap: Callable[[str], str]) -> Template:
        """The same with its words swapped, read anew."""
        return Template(swap(self.markdown), self.placeholders)

    def names(self) -> tuple[str, ...]:
        """The names it is filled with, in order, each once."""
        return tuple(dict.fromkeys(hole.name for hole in self.placeholders))


Filler = Callable[[Placeholder], Inline]
Referrer = Callable[[str, str], Inline]


def parse(text: str) -> Template:
    """The parsed text. Raises `TextError` for anything but words, names and the listed filters."""
    if PRIVATE.search(text):
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
                pieces.append(chr(FIRST + len(holes)))
                holes.append(_hole(part))
    return Template("".join(pieces), tuple(holes))


@dataclasses.dataclass(slots=True)
class Texts:
    """Templates by kind, id and field, each parsed when first asked for; their words swapped where others are read."""

    entries: Mapping[str, Mapping[str, Any]]
    _parsed: dict[tuple[str, str, str], Template] = dataclasses.field(default_factory=dict)
    _beneath: Texts | None = None
    _swap: Callable[[str], str] | None = None

    def template(self, kind: str, key: str, part: str) -> Template:
        """The template of one field of an entry. Raises `TextError` for one that is more than words and names."""
        place = (kind, key, part)
        if place not in self._parsed:
            if self._beneath is None or self._swap is None:
                self._parsed[place] = parse(str(getattr(self.entries[kind][key], part)))
            else:
                self._parsed[place] = self._beneath.template(kind, key, part).swapped(self._swap)
        return self._parsed[place]

    def read(self, parts: Mapping[str, Iterable[str]]) -> None:
        """Reads the parts of each kind as papers tell them, clauses as passages and all else as lines, to be kept."""
        for kind, names in parts.items():
            for key in self.entries[kind]:
                for part in names:
                    template = self.template(kind, key, part)
                    _ = template.passages if kind == "clause" else template.line

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

    def filled(pieces: Pieces) -> Inlines:
        return _merged(_filled(pieces, template, fill, refer))

    return tuple(
        ListBlock(tuple(filled(item) for item in passage.items), passage.ordered)
        if isinstance(passage, Listed)
        else Paragraph(filled(passage))
        for passage in template.passages
    )


def inlines(template: Template, fill: Filler, refer: Referrer | None = None) -> Inlines:
    """A one-line text as inlines, its markdown read likewise."""
    return _merged(_filled(template.line, template, fill, refer or (lambda kind, key: Text(key))))


def _filled(pieces: Pieces, template: Template, fill: Filler, refer: Referrer) -> Iterator[Inline]:
    for piece in pieces:
        if isinstance(piece, str):
            yield Text(piece)
        elif isinstance(piece, int):
            yield fill(template.placeholders[piece])
        elif isinstance(piece, Emphasis):
            yield Strong(tuple(_filled(piece.pieces, template, fill, refer)))
        else:
            yield refer(*piece)


def _merged(inlines: Iterable[Inline]) -> Inlines:
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
    for token in passages.tokens(template.markdown):
        children = token.children or []
        for number, child in enumerate(children):
            if child.type == "link_open":
                target = str(child.attrGet("href"))
                bare = children[number + 1].type == "link_close" and f"[]({target})" in template.markdown
                yield target, bare
