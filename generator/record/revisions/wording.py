"""Which words differ between two texts: marked for a paper, or cut out with a few words around them for one line."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from typing import Final

from generator.values import Struct

_TOKEN: Final = re.compile(r"\n|[^\S\n]+|[^\s]+")
# Texts that share less than this are told whole: nothing in them is a change of the other.
_ALIKE: Final = 0.4
_AROUND: Final = 4
_SHORT: Final = 90
_GAP: Final = "…"


class Piece(Struct, frozen=True):
    """A stretch of a text, and whether the other text has other words there."""

    text: str
    changed: bool


Marked = tuple[Piece, ...]


def marked(old: str, new: str) -> tuple[Marked, Marked]:
    """Both texts in pieces, those that differ marked; nothing is where they have little in common."""
    one, two = _TOKEN.findall(old), _TOKEN.findall(new)
    matcher = difflib.SequenceMatcher(None, one, two, autojunk=False)
    if difflib.SequenceMatcher(None, old.split(), new.split(), autojunk=False).ratio() < _ALIKE:
        return ((Piece(old, False),) if old else ()), ((Piece(new, False),) if new else ())
    left: list[Piece] = []
    right: list[Piece] = []
    for tag, a, b, c, d in matcher.get_opcodes():
        for pieces, tokens in ((left, one[a:b]), (right, two[c:d])):
            if tokens:
                pieces.append(Piece("".join(tokens), tag != "equal"))
    return tuple(left), tuple(right)


def paragraphs(pieces: Marked) -> list[Marked]:
    """The pieces parted at the ends of lines, without blank lines."""
    lines: list[list[Piece]] = [[]]
    for piece in pieces:
        for index, text in enumerate(piece.text.split("\n")):
            if index:
                lines.append([])
            if text:
                lines[-1].append(Piece(text, piece.changed))
    return [tuple(line) for line in lines if any(piece.text.strip() for piece in line)]


def excerpts(old: str, new: str) -> tuple[str, str]:
    """Both texts for one line: long ones that are alike cut to what differs and a few words around it."""
    if max(len(old), len(new)) <= _SHORT:
        return _flat(old), _flat(new)
    one, two = marked(old, new)
    if not any(piece.changed for piece in (*one, *two)):
        return _flat(old), _flat(new)
    return _cut(one), _cut(two)


def _cut(pieces: Sequence[Piece]) -> str:
    last = len(pieces) - 1
    return _flat("".join(_shown(piece, index == 0, index == last) for index, piece in enumerate(pieces)))


def _shown(piece: Piece, first: bool, last: bool) -> str:
    """A piece whole where it differs; where it does not, only its words next to those that do."""
    words = piece.text.split()
    if piece.changed or len(words) <= 2 * _AROUND:
        return piece.text
    head = "" if first else " ".join(words[:_AROUND])
    tail = "" if last else " ".join(words[-_AROUND:])
    return f" {head} {_GAP} {tail} "


def _flat(text: str) -> str:
    return " ".join(text.split())
