"""A text as passages to fill: its markdown is read once, and not again where a library is kept with what came of it.

What is kept is made of plain words and numbers, which are found again in a tenth of the time that reading takes.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, Final, NamedTuple

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

FIRST: Final = 0xE000
"""The private-use character that stands for the first placeholder of a text."""

PRIVATE: Final = re.compile("([\ue000-\uf8ff])")


class Emphasis(NamedTuple):
    """Words that stand out."""

    pieces: tuple[Piece, ...]


class Reference(NamedTuple):
    """A reference to an entry of the library."""

    kind: str
    key: str


Piece = str | int | Emphasis | Reference
"""Words, or the number of a placeholder."""

Pieces = tuple[Piece, ...]


class Listed(NamedTuple):
    """The items of a list."""

    items: tuple[Pieces, ...]
    ordered: bool


Passage = Pieces | Listed


def passages(markdown: str) -> tuple[Passage, ...]:
    """The paragraphs and lists of a text."""
    found: list[Passage] = []
    read = tokens(markdown)
    index = 0
    while index < len(read):
        token = read[index]
        if token.type in ("bullet_list_open", "ordered_list_open"):
            end = _closing(read, index)
            items = [_pieces(one.children or []) for one in read[index + 1 : end] if one.type == "inline"]
            found.append(Listed(tuple(items), token.type.startswith("ordered")))
            index = end
        elif token.type == "inline":
            found.append(_pieces(token.children or []))
        index += 1
    return tuple(found)


def line(markdown: str) -> Pieces:
    """The pieces of a text of one line."""
    return _pieces(_reader().parseInline(" ".join(markdown.split()))[0].children or [])


def tokens(markdown: str) -> list[Token]:
    """The text as the parser of markdown reads it."""
    return _reader().parse(markdown)


@cache
def _reader() -> MarkdownIt:
    from markdown_it import MarkdownIt

    return MarkdownIt("zero").enable(["emphasis", "list", "link", "escape"])


def _closing(found: list[Token], start: int) -> int:
    depth = 0
    for index in range(start, len(found)):
        depth += found[index].nesting
        if depth == 0:
            return index
    return len(found) - 1


def _pieces(found: list[Token]) -> Pieces:
    stack: list[list[Piece]] = [[]]
    for token in found:
        if token.type in ("strong_open", "em_open"):
            stack.append([])
        elif token.type in ("strong_close", "em_close"):
            inside = Emphasis(tuple(stack.pop()))
            stack[-1].append(inside)
        elif token.type == "link_open":
            kind, _, key = str(token.attrGet("href")).partition(":")
            stack[-1].append(Reference(kind, key))
        elif token.type in ("softbreak", "hardbreak"):
            stack[-1].append(" ")
        elif token.content:
            stack[-1] += (
                ord(piece) - FIRST if PRIVATE.fullmatch(piece) else piece
                for piece in PRIVATE.split(token.content)
                if piece
            )
    return tuple(stack[0])
