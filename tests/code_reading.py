"""What the program's code names: the texts in it, and the patterns of those it puts together."""

from __future__ import annotations

import ast
import functools
import re
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "generator"


@functools.cache
def trees() -> dict[str, ast.Module]:
    """Every module of the package by its path, parsed."""
    return {
        path.relative_to(PACKAGE).as_posix(): ast.parse(path.read_text(encoding="utf-8"))
        for path in sorted(PACKAGE.rglob("*.py"))
    }


def nodes(*rooms: str) -> Iterator[ast.AST]:
    """Every node of the modules in some rooms; of the whole package where none is named."""
    for name, tree in trees().items():
        if not rooms or name.startswith(rooms):
            yield from ast.walk(tree)


@functools.cache
def texts(*rooms: str) -> frozenset[str]:
    """Every text that stands in the code as it is."""
    found = (node.value for node in nodes(*rooms) if isinstance(node, ast.Constant))
    return frozenset(text for text in found if isinstance(text, str))


@functools.cache
def patterns(*rooms: str) -> frozenset[re.Pattern[str]]:
    """A pattern for every f-string with a fixed part of letters at an end: `unit_{side}_mm` as `unit_.+_mm`."""
    return frozenset(pattern(node) for node in nodes(*rooms) if isinstance(node, ast.JoinedStr) and _fixed(node))


def pattern(text: ast.JoinedStr) -> re.Pattern[str]:
    """The pattern of one f-string."""
    return re.compile("".join(re.escape(part.value) if _said(part) else ".+" for part in text.values) + r"\Z")  # type: ignore[attr-defined]


def _said(part: ast.expr) -> bool:
    return isinstance(part, ast.Constant)


def _fixed(text: ast.JoinedStr) -> bool:
    """Whether a text that is put together has a fixed part long enough to mean something."""
    ends = (text.values[0], text.values[-1])
    return any(isinstance(end, ast.Constant) and re.match(r"[a-z]+[-_]|[-_][a-z]+", str(end.value)) for end in ends)


def asked_with(name: str, *rooms: str) -> Iterator[ast.expr]:
    """What the code asks for by a method or mapping of a name: `word` gives the keys of `job.word(KEY)`."""
    for node in nodes(*rooms):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == name and node.args:
            yield from _branches(node.args[0])
        elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Attribute) and node.value.attr == name:
            yield from _branches(node.slice)


def rooms_but(*left_out: str) -> tuple[str, ...]:
    """Every room and module of the package but some."""
    return tuple(name for name in trees() if not name.startswith(left_out))


def _branches(key: ast.expr) -> Iterator[ast.expr]:
    if isinstance(key, ast.IfExp):
        yield from (*_branches(key.body), *_branches(key.orelse))
    else:
        yield key
