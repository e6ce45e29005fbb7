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
from decimal import Decimal
from functools import cached_property

from generator.questionnaire.columns import Bits, Met, Truth
from generator.questionnaire.facts import Facts
from generator.questionnaire.recall import Reach
from generator.questionnaire.scopes import Held, ScopePath, Seen
from generator.values import NOT_KNOWN, Range, Struct, Value

Single = str | Decimal | datetime.date
Literal_ = Single | tuple[Single, ...]


class Fact(Struct, frozen=True, eq=False):
    """One comparison as it came out: what was compared, the value it met, and the register that spells it.

    Thousands are made in a run and few are read, so its text is put together when somebody asks. Two are equal whatever
    the register.
    """

    node: Compare | IsTrue | Known
    held: Held | None
    facts: Facts
    holds: Truth

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Fact) and self._compared == other._compared

    def __hash__(self) -> int:
        return hash(self._compared)

    def __repr__(self) -> str:
        return f"Fact{self._compared}"

    @property
    def _compared(self) -> tuple[object, ...]:
        return self.node, self.held, self.holds

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


class Verdict(Struct, frozen=True):
    """What a condition came to, and the facts it rests on."""

    holds: Truth
    facts: tuple[Fact, ...] = ()


class Compare(Struct, frozen=True):
    """A name against a literal."""

    name: str
    operator: str
    literal: Literal_

    def __str__(self) -> str:
        if self.operator == "has":
            return f"{_written(self.literal)} in {self.name}"
        return f"{self.name} {self.operator} {_written(self.literal)}"


class IsTrue(Struct, frozen=True):
    """A yes/no name standing alone."""

    name: str

    def __str__(self) -> str:
        return self.name


class Known(Struct, frozen=True):
    """`known(name)`: somebody gave a value, and it is not `not known`. Never unknown itself."""

    name: str

    def __str__(self) -> str:
        return f"known({self.name})"


class Not(Struct, frozen=True):
    """The contrary."""

    part: Node

    def __str__(self) -> str:
        return f"not {_bracketed(self.part)}"


class Both(Struct, frozen=True):
    """`and` or `or` of several parts."""

    word: str
    parts: tuple[Node, ...]

    def __str__(self) -> str:
        return f" {self.word} ".join(_bracketed(part) for part in self.parts)


class Within(Struct, frozen=True):
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


class Condition(Struct, frozen=True, dict=True):
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
        return self._test(facts.outward(path), facts, path)

    def where(self, facts: Facts, level: str, *, unknown: bool) -> tuple[ScopePath, ...]:
        """The scopes of a level at which it holds; with `unknown`, those too at which the answers do not say."""
        recall = facts.recall
        if recall is None:
            return self.of_level(facts, level, unknown=unknown)
        # kept with the condition, so that no other comes to lie at its place
        key, reach = (id(self), level, unknown), recall.moved(self.names())
        return recall.after(key, self, lambda last: self._again(facts, level, unknown, last, reach))

    def _again(
        self, facts: Facts, level: str, unknown: bool, last: tuple[ScopePath, ...] | None, reach: Reach | None
    ) -> tuple[ScopePath, ...]:
        """As `where`, asked anew only where a name that it reads has changed since the last time."""
        if last is None:
            return self.of_level(facts, level, unknown=unknown)
        if reach is None:
            return last
        again = [one for one in facts.seen_at(level) if reach.meets(one[0])]
        was, holding = frozenset(last), frozenset(self.holding(facts, again, unknown=unknown))
        tried = frozenset(path for path, _ in again)
        return tuple(path for path, _ in facts.seen_at(level) if path in (holding if path in tried else was))

    def of_level(self, facts: Facts, level: str, *, unknown: bool) -> tuple[ScopePath, ...]:
        """As `where`, asked of all the scopes, whatever was found before."""
        true, open_ = _met(self.node, facts, level)
        return facts.columns(level).paths(true | open_ if unknown else true)

    def holding(self, facts: Facts, at: Iterable[tuple[ScopePath, Seen]], *, unknown: bool) -> tuple[ScopePath, ...]:
        """Those of some scopes, each with what it sees, at which it holds."""
        test, found = self._test, []
        for path, seen in at:
            truth = test(seen, facts, path)
            if truth or (unknown and truth is None):
                found.append(path)
        return tuple(found)

    @cached_property
    def _test(self) -> Test:
        # a job asks it at every scope: the tree is walked once, and what is walked each time are its tests
        return _tested(self.node)

    def names(self) -> frozenset[str]:
        """Every name it reads."""
        return self._reads

    @cached_property
    def _reads(self) -> frozenset[str]:
        return frozenset(_names(self.node))

    def names_inside(self) -> frozenset[str]:
        """The names it reads in scopes inside its own, by `any` or `none`."""
        return frozenset(name for _, name in self.inside())

    def inside(self) -> frozenset[tuple[str, str]]:
        """The same, each with the level of the scopes that it is read in."""
        return frozenset(_inside(self.node))

    def __str__(self) -> str:
        return str(self.node)


# --- evaluating, with the facts -----------------------------------------------------------------------------


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
    holds = _absent(node) if held is None else _judge(node)(held.value)
    found.append(Fact(node, held, facts, holds))
    return holds


def _combined(word: str, truths: list[Truth]) -> Truth:
    deciding = word == "or"
    if deciding in truths:
        return deciding
    return None if None in truths else not deciding


# --- evaluating alone ---------------------------------------------------------------------------------------

Test = Callable[[Seen, Facts, ScopePath], Truth]


def _tested(node: Node) -> Test:
    """What a node comes to at a scope, which is given by what it sees, with the facts and its path."""
    if isinstance(node, Both):
        return _both(node.word == "or", [_tested(part) for part in node.parts])
    if isinstance(node, Not):
        return _contrary(_tested(node.part))
    if isinstance(node, Within):
        inside = _within(node.level, _tested(node.part))
        return inside if node.word == "any" else _contrary(inside)
    if isinstance(node, Compare) and node.operator == "==" and isinstance(node.literal, str):
        return _is(node.name, node.literal)
    return _named(node.name, _absent(node), _judge(node))


def _is(name: str, literal: str) -> Test:
    """As `_named`, for what is asked most by far: whether a choice is one word."""

    def test(seen: Seen, facts: Facts, path: ScopePath) -> Truth:
        for values in seen:
            held = values.get(name)
            if held is not None:
                value = held.value
                if type(value) is str:
                    return value == literal
                return None if value is NOT_KNOWN else _compared(value, "==", literal)
        return None

    return test


def _named(name: str, absent: Truth, judge: Callable[[Value], Truth]) -> Test:
    def test(seen: Seen, facts: Facts, path: ScopePath) -> Truth:
        for values in seen:
            held = values.get(name)
            if held is not None:
                return judge(held.value)
        return absent

    return test


def _both(deciding: bool, tests: list[Test]) -> Test:
    def test(seen: Seen, facts: Facts, path: ScopePath) -> Truth:
        open_ = False
        for part in tests:
            truth = part(seen, facts, path)
            if truth is deciding:
                return deciding
            open_ = open_ or truth is None
        return None if open_ else not deciding

    return test


def _contrary(part: Test) -> Test:
    def test(seen: Seen, facts: Facts, path: ScopePath) -> Truth:
        inner = part(seen, facts, path)
        return None if inner is None else not inner

    return test


def _within(level: str, part: Test) -> Test:
    def test(seen: Seen, facts: Facts, path: ScopePath) -> Truth:
        open_ = False
        for scope in facts.inside(path, level):
            truth = part(facts.outward(scope.path), facts, scope.path)
            if truth:
                return True
            open_ = open_ or truth is None
        return None if open_ else False

    return test


# --- evaluating at all scopes of a level ---------------------------------------------------------------------


def _met(node: Node, facts: Facts, level: str) -> Met:
    """The scopes of a level at which a node is true, and those at which the answers do not say."""
    columns = facts.columns(level)
    if isinstance(node, Both):
        return _together(node.word, [_met(part, facts, level) for part in node.parts], columns.all)
    if isinstance(node, Not):
        return _reversed(_met(node.part, facts, level), columns.all)
    if isinstance(node, Within):
        inside = facts.columns(node.level)
        true, open_ = (columns.around(inside.paths(bits)) for bits in _met(node.part, facts, node.level))
        return (true, open_ & ~true) if node.word == "any" else _reversed((true, open_ & ~true), columns.all)
    judge, absent = _judge(node), _absent(node)
    return columns.met(node.name, lambda value: absent if value is None else judge(value))


def _together(word: str, parts: list[Met], all_: Bits) -> Met:
    """`and` or `or` of what parts come to."""
    if word == "and":
        return _reversed(_together("or", [_reversed(part, all_) for part in parts], all_), all_)
    true, open_ = 0, 0
    for part_true, part_open in parts:
        true, open_ = true | part_true, open_ | part_open
    return true, open_ & ~true


def _reversed(met: Met, all_: Bits) -> Met:
    true, open_ = met
    return all_ & ~(true | open_), open_


# --- comparing ----------------------------------------------------------------------------------------------


def _absent(node: Compare | IsTrue | Known) -> Truth:
    """What comes of a name that nobody gave a value."""
    return False if isinstance(node, Known) else None


def _judge(node: Compare | IsTrue | Known) -> Callable[[Value], Truth]:
    """What comes of the value of a name."""
    if isinstance(node, Known):
        return lambda value: value is not NOT_KNOWN
    if isinstance(node, IsTrue):
        return lambda value: None if value is NOT_KNOWN else bool(value)
    operator, literal, test = node.operator, node.literal, _TEST[node.operator]

    def judge(value: Value) -> Truth:
        if value is NOT_KNOWN:
            return None
        return _compared(value, operator, literal) if isinstance(value, _MANIFOLD) else test(value, literal)

    return judge


_TEST: dict[str, Callable[[object, object], bool]] = {
    "==": lambda a, b: a == b,
    "!=": lambda a, b: a != b,
    "<": lambda a, b: a < b,  # type: ignore[operator]
    "<=": lambda a, b: a <= b,  # type: ignore[operator]
    ">": lambda a, b: a > b,  # type: ignore[operator]
    ">=": lambda a, b: a >= b,  # type: ignore[operator]
    "in": lambda a, b: a in b,  # type: ignore[operator]
    "not in": lambda a, b: a not in b,  # type: ignore[operator]
    "has": lambda a, b: b in a,  # type: ignore[operator]
}
_CONTRARY = {"!=": "==", "not in": "in"}
_MANIFOLD = (tuple, Range)


def _compared(value: Value, operator: str, literal: Literal_) -> Truth:
    """What comes of a value that may be several, or one of many."""
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


def _inside(node: Node) -> list[tuple[str, str]]:
    if isinstance(node, Both):
        return [read for part in node.parts for read in _inside(part)]
    if isinstance(node, Not):
        return _inside(node.part)
    return [(node.level, name) for name in _names(node.part)] if isinstance(node, Within) else []
