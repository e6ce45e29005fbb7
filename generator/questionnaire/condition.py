"""Conditions of the library: a small language in three-valued logic, over names that are all known.

    masonry == 'brick' and joint_width_mm >= 8
    work in ['repoint', 'rebuild'] and not lived_in
    'gutter' in decay_causes or any(work == 'remove')

Evaluated, a condition is true, false or unknown (None): a value that is absent, not known, or a range that
straddles the limit gives unknown. Each comparison comes back as a fact. `parsing` makes conditions from text.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from generator.questionnaire.facts import Facts, Held, ScopePath
from generator.values import NOT_KNOWN, Range, Value

Truth = bool | None
Single = str | Decimal | datetime.date
Literal_ = Single | tuple[Single, ...]


@dataclass(frozen=True, slots=True)
class Fact:
    """One comparison as it came out: what was compared, the value it met, and the register that spells it.

    Thousands are made in a run and few are read, so its text is put together when somebody asks.
    """

    node: Compare | IsTrue | Known
    held: Held | None
    facts: Facts = field(repr=False, compare=False)
    holds: Truth

    @property
    def text(self) -> str:
        """The comparison, and the value as a reader sees it."""
        return f"{self.node} [{self.told}]"

    @property
    def told(self) -> str:
        """The value that it met, under its label."""
        value = "not answered" if self.held is None else self.facts.say(self.node.name, self.held.value)
        return f"{self.facts.names[self.node.name].label.lower()}: {value}"

    def __str__(self) -> str:
        return f"{self.text}: {'unknown' if self.holds is None else 'yes' if self.holds else 'no'}"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a condition came to, and the facts it rests on."""

    holds: Truth
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True)
class Compare:
    """A name against a literal."""

    name: str
    operator: str
    literal: Literal_

    def __str__(self) -> str:
        if self.operator == "has":
            return f"{_written(self.literal)} in {self.name}"
        return f"{self.name} {self.operator} {_written(self.literal)}"


@dataclass(frozen=True, slots=True)
class IsTrue:
    """A yes/no name standing alone."""

    name: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Known:
    """`known(name)`: somebody gave a value, and it is not `not known`. Never unknown itself."""

    name: str

    def __str__(self) -> str:
        return f"known({self.name})"


@dataclass(frozen=True, slots=True)
class Not:
    """The contrary."""

    part: Node

    def __str__(self) -> str:
        return f"not {_bracketed(self.part)}"


@dataclass(frozen=True, slots=True)
class Both:
    """`and` or `or` of several parts."""

    word: str
    parts: tuple[Node, ...]

    def __str__(self) -> str:
        return f" {self.word} ".join(_bracketed(part) for part in self.parts)


@dataclass(frozen=True, slots=True)
class Within:
    """`any(...)` or `none(...)` over the scopes of a level inside this one."""

    word: str
    level: str
    part: Node

    def __str__(self) -> str:
        return f"{self.word}({self.part})"


Node = Compare | IsTrue | Known | Not | Both | Within


def _bracketed(node: Node) -> str:
    return f"({node})" if isinstance(node, Both) else str(node)


def _written(literal: Literal_) -> str:
    if isinstance(literal, tuple):
        return "[" + ", ".join(_written(item) for item in literal) + "]"
    return f"{literal:f}" if isinstance(literal, Decimal) else repr(str(literal))


@dataclass(frozen=True, slots=True)
class Condition:
    """A checked condition, seen from one scope."""

    text: str
    scope: str
    node: Node

    def evaluate(self, facts: Facts, path: ScopePath) -> Verdict:
        """What it comes to at a scope of the job."""
        found: list[Fact] = []
        return Verdict(_truth(self.node, facts, path, found), tuple(found))

    def holds(self, facts: Facts, path: ScopePath) -> Truth:
        """What it comes to alone: nothing is noted, and no more is looked at than decides it."""
        return _holds(self.node, facts, path)

    def names(self) -> frozenset[str]:
        """Every name it reads."""
        return frozenset(_names(self.node))

    def names_inside(self) -> frozenset[str]:
        """The names it reads in scopes inside its own, by `any` or `none`."""
        return frozenset(_names_inside(self.node))

    def __str__(self) -> str:
        return str(self.node)


# --- evaluating -------------------------------------------------------------------------------------------


def _truth(node: Node, facts: Facts, path: ScopePath, found: list[Fact]) -> Truth:
    if isinstance(node, Both):
        return _combined(node.word, [_truth(part, facts, path, found) for part in node.parts])
    if isinstance(node, Not):
        inner = _truth(node.part, facts, path, found)
        return None if inner is None else not inner
    if isinstance(node, Within):
        inner = _combined("or", [_truth(node.part, facts, s.path, found) for s in facts.inside(path, node.level)])
        return inner if node.word == "any" or inner is None else not inner
    held = facts.held(path, node.name)
    holds = _leaf(node, held)
    found.append(Fact(node, held, facts, holds))
    return holds


def _holds(node: Node, facts: Facts, path: ScopePath) -> Truth:
    if isinstance(node, Compare | IsTrue | Known):
        return _leaf(node, facts.held(path, node.name))
    if isinstance(node, Both):
        return _decided(node.word, (_holds(part, facts, path) for part in node.parts))
    inner = (
        _holds(node.part, facts, path)
        if isinstance(node, Not)
        else _decided("or", (_holds(node.part, facts, scope.path) for scope in facts.inside(path, node.level)))
    )
    contrary = isinstance(node, Not) or node.word != "any"
    return not inner if contrary and inner is not None else inner


def _decided(word: str, truths: Iterable[Truth]) -> Truth:
    deciding, open_ = word == "or", False
    for truth in truths:
        if truth is deciding:
            return deciding
        open_ = open_ or truth is None
    return None if open_ else not deciding


def _combined(word: str, truths: list[Truth]) -> Truth:
    deciding = word == "or"
    if deciding in truths:
        return deciding
    return None if None in truths else not deciding


def _leaf(node: Compare | IsTrue | Known, held: Held | None) -> Truth:
    if isinstance(node, Known):
        return held is not None and held.known
    if held is None or held.value is NOT_KNOWN:
        return None
    if isinstance(node, IsTrue):
        return bool(held.value)
    return _compared(held.value, node.operator, node.literal)


_TEST: dict[str, Callable[[object, object], bool]] = {
    "==": lambda a, b: a == b,
    "<": lambda a, b: a < b,  # type: ignore[operator]
    "<=": lambda a, b: a <= b,  # type: ignore[operator]
    ">": lambda a, b: a > b,  # type: ignore[operator]
    ">=": lambda a, b: a >= b,  # type: ignore[operator]
    "in": lambda a, b: a in b,  # type: ignore[operator]
    "has": lambda a, b: b in a,  # type: ignore[operator]
}
_CONTRARY = {"!=": "==", "not in": "in"}


def _compared(value: Value, operator: str, literal: Literal_) -> Truth:
    if operator in _CONTRARY:
        inner = _compared(value, _CONTRARY[operator], literal)
        return None if inner is None else not inner
    test = _TEST[operator]
    if isinstance(value, tuple) and isinstance(literal, tuple):
        return {str(item) for item in value} == {str(item) for item in literal}
    if isinstance(value, Range):
        ends = {test(value.low, literal), test(value.high, literal)}
        straddles = operator in ("==", "in") and not value.single
        return None if len(ends) > 1 or (straddles and _touches(value, literal)) else ends.pop()
    return test(value, literal)


def _touches(value: Range[Decimal], literal: Literal_) -> bool:
    items = literal if isinstance(literal, tuple) else (literal,)
    return any(isinstance(item, Decimal) and value.low <= item <= value.high for item in items)


def _names(node: Node) -> list[str]:
    if isinstance(node, Both):
        return [name for part in node.parts for name in _names(part)]
    if isinstance(node, Not | Within):
        return _names(node.part)
    return [node.name]


def _names_inside(node: Node) -> list[str]:
    if isinstance(node, Both):
        return [name for part in node.parts for name in _names_inside(part)]
    if isinstance(node, Not):
        return _names_inside(node.part)
    return _names(node.part) if isinstance(node, Within) else []
