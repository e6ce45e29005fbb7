"""Conditions of the library: a small checked language in three-valued logic.

    masonry == 'brick' and joint_width_mm >= 8
    work in ['repoint', 'rebuild'] and not lived_in
    'gutter' in decay_causes or any(work == 'remove')

A condition is parsed once and checked against the register of names, so a mistyped name or choice is an
error when the library loads. Evaluated, it is true, false or unknown (None): a value that is absent, not
known, or a range that straddles the limit gives unknown. Each comparison comes back as a fact.
"""

from __future__ import annotations

import ast
import datetime
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from generator.errors import did_you_mean
from generator.questionnaire.facts import Facts, ScopePath
from generator.questionnaire.names import Name, Names, below, visible_from
from generator.values import NOT_KNOWN, Range, Value

Truth = bool | None
Literal_ = str | Decimal | datetime.date | tuple[str | Decimal, ...]


class ConditionError(ValueError):
    """A condition that cannot be meant: carries the place in it and what to do."""

    def __init__(self, what: str, to_do: str, column: int = 0) -> None:
        self.what, self.to_do, self.column = what, to_do, column
        super().__init__(f"{what}: {to_do}")


@dataclass(frozen=True, slots=True)
class Fact:
    """One comparison as it came out."""

    text: str
    holds: Truth

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
    return str(literal) if isinstance(literal, Decimal) else f"'{literal}'"


# --- parsing ----------------------------------------------------------------------------------------------

_ORDER: dict[type[ast.cmpop], str] = {
    ast.Eq: "==",
    ast.NotEq: "!=",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.In: "in",
    ast.NotIn: "not in",
}


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

    def names(self) -> frozenset[str]:
        """Every name it reads."""
        return frozenset(_names(self.node))

    def __str__(self) -> str:
        return str(self.node)


def parse(text: str, scope: str, names: Names) -> Condition:
    """The condition in `text`, checked for use at `scope`. Raises `ConditionError`."""
    try:
        tree = ast.parse(text.strip(), mode="eval")
    except (SyntaxError, ValueError, RecursionError, MemoryError) as error:
        hint = "write == to compare" if "=" in text and "==" not in text else "write it like: masonry == 'brick'"
        raise ConditionError("is not a condition", hint, getattr(error, "offset", 0) or 0) from None
    return Condition(text, scope, _Parser(names).node(tree.body, scope))


class _Parser:
    """Turns the parsed expression into nodes, refusing all that is not in the language."""

    def __init__(self, names: Names) -> None:
        self.names = names

    def node(self, tree: ast.expr, scope: str) -> Node:
        if isinstance(tree, ast.BoolOp):
            word = "and" if isinstance(tree.op, ast.And) else "or"
            return Both(word, tuple(self.node(part, scope) for part in tree.values))
        if isinstance(tree, ast.UnaryOp) and isinstance(tree.op, ast.Not):
            return Not(self.node(tree.operand, scope))
        if isinstance(tree, ast.Name):
            return self._yes_no(tree, scope)
        if isinstance(tree, ast.Call):
            return self._call(tree, scope)
        if isinstance(tree, ast.Compare):
            return self._compare(tree, scope)
        raise _refuse(tree, "has something that is not part of the language", "use comparisons with and, or, not")

    def _name(self, tree: ast.Name, scope: str) -> Name:
        name = self.names.get(tree.id)
        if name is None:
            raise _refuse(tree, f"names '{tree.id}', which is not a question or reckoned value", did_you_mean(tree.id, self.names))
        if name.scope not in visible_from(scope):
            inside = name.scope in below(scope)
            hint = f"wrap it: any({tree.id} …) or none({tree.id} …)" if inside else f"use it per {name.scope}"
            raise _refuse(tree, f"reads '{name.name}' of a {name.scope} from a {scope}", hint)
        return name

    def _yes_no(self, tree: ast.Name, scope: str) -> Node:
        name = self._name(tree, scope)
        if name.kind != "yes_no":
            raise _refuse(tree, f"uses '{name.name}' alone, but it is a {name.kind}", "compare it with a value")
        return IsTrue(name.name)

    def _call(self, tree: ast.Call, scope: str) -> Node:
        word = tree.func.id if isinstance(tree.func, ast.Name) else ""
        if word not in ("any", "none", "known") or len(tree.args) != 1 or tree.keywords:
            raise _refuse(tree, "calls something", "only any(…), none(…) and known(name) can be called")
        inner = tree.args[0]
        if word == "known":
            if not isinstance(inner, ast.Name):
                raise _refuse(inner, "asks known(…) of more than a name", "write known(name)")
            return Known(self._name(inner, scope).name)
        level = self._deepest(inner, scope)
        return Within(word, level, self.node(inner, level))

    def _deepest(self, tree: ast.expr, scope: str) -> str:
        levels = below(scope)
        used = [self.names[n.id].scope for n in ast.walk(tree) if isinstance(n, ast.Name) and n.id in self.names]
        inner = [level for level in levels if level in used]
        if not inner:
            raise _refuse(tree, f"looks inside a {scope} for nothing that lies inside it", "drop any(…) or none(…)")
        return inner[-1]

    def _compare(self, tree: ast.Compare, scope: str) -> Node:
        if len(tree.ops) != 1:
            raise _refuse(tree, "chains comparisons", "join two comparisons with and")
        operator, left, right = _ORDER.get(type(tree.ops[0]), ""), tree.left, tree.comparators[0]
        if isinstance(right, ast.Name) and operator in ("in", "not in") and isinstance(left, ast.Constant):
            return self._membership(tree, left, right, operator, scope)
        if not isinstance(left, ast.Name) or not operator:
            raise _refuse(tree, "does not start with a name", "write name, comparison, value")
        name = self._name(left, scope)
        literal = self._literal(right, name)
        self._fits(tree, name, operator, literal)
        return Compare(name.name, operator, literal)

    def _membership(self, tree: ast.expr, left: ast.Constant, right: ast.Name, operator: str, scope: str) -> Node:
        name = self._name(right, scope)
        if name.kind not in ("choices", "texts"):
            raise _refuse(tree, f"looks inside '{name.name}', which is a {name.kind}", f"write {name.name} == …")
        found = Compare(name.name, "has", self._literal(left, name))
        return Not(found) if operator == "not in" else found

    def _literal(self, tree: ast.expr, name: Name) -> Literal_:
        if isinstance(tree, ast.List | ast.Tuple):
            return tuple(self._single(item, name) for item in tree.elts)  # type: ignore[misc]
        return self._single(tree, name)

    def _single(self, tree: ast.expr, name: Name) -> str | Decimal | datetime.date:
        if not isinstance(tree, ast.Constant) or isinstance(tree.value, bool | bytes | complex):
            raise _refuse(tree, f"compares '{name.name}' with something that is not a plain value", "write a number or a 'word'")
        if name.kind in ("number", "range"):
            return _number(tree, name)
        if not isinstance(tree.value, str):
            raise _refuse(tree, f"compares '{name.name}' with a number, but it is a {name.kind}", "write a 'word'")
        if name.kind == "date":
            return _date(tree, name)
        if name.kind in ("choice", "choices") and tree.value not in name.choices:
            raise _refuse(tree, f"'{tree.value}' is not a choice of {name.name}", did_you_mean(tree.value, name.choices))
        return tree.value

    def _fits(self, tree: ast.expr, name: Name, operator: str, literal: Literal_) -> None:
        listed = isinstance(literal, tuple)
        if listed != (operator in ("in", "not in")):
            raise _refuse(tree, "mixes a list and a single value", "use in with a list, == with a single value")
        if operator in ("<", "<=", ">", ">=") and name.kind not in ("number", "range", "date"):
            raise _refuse(tree, f"orders '{name.name}', which is a {name.kind}", "use == or in")
        if name.kind in ("choices", "texts", "records", "yes_no", "file"):
            raise _refuse(tree, f"compares '{name.name}', which is a {name.kind}", f"write 'word' in {name.name}, or the name alone")


def _refuse(tree: ast.AST, what: str, to_do: str) -> ConditionError:
    return ConditionError(what, to_do, getattr(tree, "col_offset", 0) + 1)


def _number(tree: ast.Constant, name: Name) -> Decimal:
    if isinstance(tree.value, str):
        raise _refuse(tree, f"compares the number '{name.name}' with a word", "write the number without quotes")
    try:
        return Decimal(str(tree.value))
    except InvalidOperation:
        raise _refuse(tree, f"compares '{name.name}' with something that is not a number", "write a number") from None


def _date(tree: ast.Constant, name: Name) -> datetime.date:
    try:
        return datetime.date.fromisoformat(str(tree.value))
    except ValueError:
        raise _refuse(tree, f"compares '{name.name}' with something that is not a date", "write '2027-03-01'") from None


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
    holds = _leaf(node, facts, path)
    found.append(Fact(_told(node, facts, path), holds))
    return holds


def _combined(word: str, truths: list[Truth]) -> Truth:
    deciding = word == "or"
    if deciding in truths:
        return deciding
    return None if None in truths else not deciding


def _leaf(node: Compare | IsTrue | Known, facts: Facts, path: ScopePath) -> Truth:
    held = facts.held(path, node.name)
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
    if isinstance(value, Range):
        ends = {test(value.low, literal), test(value.high, literal)}
        straddles = operator in ("==", "in") and not value.single
        return None if len(ends) > 1 or (straddles and _touches(value, literal)) else ends.pop()
    return test(value, literal)


def _touches(value: Range[Decimal], literal: Literal_) -> bool:
    items = literal if isinstance(literal, tuple) else (literal,)
    return any(isinstance(item, Decimal) and value.low <= item <= value.high for item in items)


def _told(node: Compare | IsTrue | Known, facts: Facts, path: ScopePath) -> str:
    held = facts.held(path, node.name)
    value = "not answered" if held is None else facts.say(node.name, held.value)
    return f"{node} [{facts.names[node.name].label.lower()}: {value}]"


def _names(node: Node) -> list[str]:
    if isinstance(node, Both):
        return [name for part in node.parts for name in _names(part)]
    if isinstance(node, Not | Within):
        return _names(node.part)
    return [node.name]
