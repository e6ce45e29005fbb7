"""Parses conditions and checks them against the register of names.

A mistyped name or choice, a name that cannot be seen from the scope, or anything outside the language is an
error when the library loads, with the place of it in the condition. Nothing of a condition is ever run.
"""

from __future__ import annotations

import ast
import datetime
import re
import warnings
from decimal import Decimal
from typing import Final

from generator.files.errors import did_you_mean, shown
from generator.questionnaire.condition import (
    Both,
    Compare,
    Condition,
    IsTrue,
    Known,
    Literal_,
    Node,
    Not,
    Single,
    Within,
)
from generator.questionnaire.names import Name, Names, a_scope, below, visible_from

MAX_LENGTH: Final = 2_000
MAX_DEPTH: Final = 20
_ORDER: Final[dict[type[ast.cmpop], str]] = {
    ast.Eq: "==",
    ast.NotEq: "!=",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.In: "in",
    ast.NotIn: "not in",
}
_ORDERED: Final = ("number", "range", "date")
_SINGLE: Final = ("choice", "number", "range", "text", "date")
_KIND: Final = {
    "choices": "list of choices",
    "texts": "list of texts",
    "records": "list of records",
    "photographs": "list of photographs",
    "yes_no": "yes/no question",
    "range": "number from low to high",
}


class ConditionError(ValueError):
    """A condition that cannot be meant: carries its text, the part that is wrong, and what to do.

    `column` counts from 1 in `text`, which is the condition on one line; 0 means the condition as a whole.
    """

    def __init__(self, what: str, to_do: str, column: int = 0, width: int = 1) -> None:
        self.what, self.to_do, self.column, self.width = what, to_do, column, width
        self.text = ""
        super().__init__(f"{what}: {to_do}")

    def caret(self) -> str:
        """The condition with its wrong part underlined, in two lines; "" where no part is known."""
        if not self.column or not self.text:
            return ""
        return f"    {self.text}\n    {' ' * (self.column - 1)}{'~' * max(self.width, 1)}"


def parse(text: str, scope: str, names: Names) -> Condition:
    """The condition in `text`, checked for use at `scope`. Raises `ConditionError`."""
    line = " ".join(text.split())
    try:
        tree = _tree(line)
        return Condition(text, scope, _Parser(names).node(tree, scope))
    except ConditionError as error:
        before = len(line.encode()[: max(error.column - 1, 0)].decode(errors="ignore"))
        error.column = before + 1 if error.column else 0
        error.text = line
        raise


def _tree(line: str) -> ast.expr:
    if len(line) > MAX_LENGTH:
        to_do = "split it into several entries"
        raise ConditionError(f"is {len(line):,} characters long, over {MAX_LENGTH:,}", to_do)
    try:
        # Python warns of odd spellings such as `8or`; here they are mistakes
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            return ast.parse(line, mode="eval").body
    except SyntaxError as error:
        column = error.offset or 0
        column = len(line[: column - 1].encode()) + 1 if 0 < column <= len(line) else 0
        raise ConditionError("is not a condition", _syntax_hint(line), column) from None
    except (ValueError, RecursionError, MemoryError):
        raise ConditionError("is not a condition", _syntax_hint(line)) from None


def _syntax_hint(line: str) -> str:
    if re.search(r"(?<![=!<>])=(?!=)", line):
        return "write == to compare"
    if re.search(r"&&|\|\||!(?!=)", line):
        return "write and, or, not"
    return "write it like: masonry == 'brick' and joint_width_mm >= 8"


class _Parser:
    """Turns the parsed expression into nodes, refusing all that is not in the language."""

    def __init__(self, names: Names) -> None:
        self.names = names

    def node(self, tree: ast.expr, scope: str, depth: int = 0) -> Node:
        if depth > MAX_DEPTH:
            raise _refuse(tree, "is nested too deeply", "split it into several entries")
        if isinstance(tree, ast.BoolOp):
            word = "and" if isinstance(tree.op, ast.And) else "or"
            return Both(word, tuple(self.node(part, scope, depth + 1) for part in tree.values))
        if isinstance(tree, ast.UnaryOp) and isinstance(tree.op, ast.Not):
            return Not(self.node(tree.operand, scope, depth + 1))
        if isinstance(tree, ast.Name):
            return self._yes_no(tree, scope)
        if isinstance(tree, ast.Call):
            return self._call(tree, scope, depth)
        if isinstance(tree, ast.Compare):
            return self._compare(tree, scope)
        raise _refuse(tree, "has something that is not part of the language", "compare names with values")

    def _name(self, tree: ast.Name, scope: str) -> Name:
        name = self.names.get(tree.id)
        if name is None:
            what = f"names '{shown(tree.id)}', which is no question and no reckoned value"
            raise _refuse(tree, what, did_you_mean(tree.id, self.names))
        if name.scope not in visible_from(scope):
            inside = name.scope in below(scope)
            hint = f"wrap it in any(…) or none(…), or ask it per {name.scope}"
            what = f"reads '{name.name}' of {a_scope(name.scope)} from {a_scope(scope)}"
            raise _refuse(tree, what, hint if inside else f"ask it per {name.scope}")
        return name

    def _yes_no(self, tree: ast.Name, scope: str) -> Node:
        name = self._name(tree, scope)
        if name.kind != "yes_no":
            what = f"has '{name.name}' alone, but it is a {_kind(name)}"
            raise _refuse(tree, what, f"compare it with a value, or write known({name.name})")
        return IsTrue(name.name)

    def _call(self, tree: ast.Call, scope: str, depth: int) -> Node:
        word = tree.func.id if isinstance(tree.func, ast.Name) else ""
        if word not in ("any", "none", "known") or len(tree.args) != 1 or tree.keywords:
            raise _refuse(tree, "calls something", "only any(…), none(…) and known(name) can be called")
        inner = tree.args[0]
        if word == "known":
            if not isinstance(inner, ast.Name):
                raise _refuse(inner, "asks known(…) of more than a name", "write known(name)")
            return Known(self._name(inner, scope).name)
        level = self._deepest(inner, scope)
        return Within(word, level, self.node(inner, level, depth + 1))

    def _deepest(self, tree: ast.expr, scope: str) -> str:
        read = [part for part in ast.walk(tree) if isinstance(part, ast.Name)]
        used = [self.names[part.id].scope for part in read if part.id in self.names]
        inner = [level for level in below(scope) if level in used]
        if not inner:
            for part in read:
                if part.id not in (*self.names, "any", "none", "known"):
                    self._name(part, scope)
            what = f"looks inside {a_scope(scope)} for nothing that lies inside it"
            raise _refuse(tree, what, "take any(…) or none(…) off")
        return inner[-1]

    def _compare(self, tree: ast.Compare, scope: str) -> Node:
        if len(tree.ops) != 1:
            raise _refuse(tree, "chains comparisons", "join two comparisons with and")
        operator, left, right = _ORDER.get(type(tree.ops[0]), ""), tree.left, tree.comparators[0]
        if not operator:
            raise _refuse(tree, "compares with 'is'", "write == or !=")
        if operator in ("in", "not in") and isinstance(right, ast.Name) and isinstance(left, ast.Constant):
            return self._membership(tree, left, right, operator, scope)
        if not isinstance(left, ast.Name):
            raise _refuse(left, "does not start with a name", "write name, comparison, value")
        name = self._name(left, scope)
        self._fits(tree, name, operator, right)
        return Compare(name.name, operator, self._literal(right, name))

    def _membership(self, tree: ast.expr, left: ast.Constant, right: ast.Name, operator: str, scope: str) -> Node:
        name = self._name(right, scope)
        if name.kind not in ("choices", "texts"):
            raise _refuse(tree, f"looks inside '{name.name}', which is a {_kind(name)}", f"write {name.name} == …")
        word = self._single(left, name)
        assert isinstance(word, str)
        found = Compare(name.name, "has", word)
        return Not(found) if operator == "not in" else found

    def _literal(self, tree: ast.expr, name: Name) -> Literal_:
        if isinstance(tree, ast.List | ast.Tuple):
            if not tree.elts and name.kind not in ("choices", "texts"):
                raise _refuse(tree, f"compares '{name.name}' with an empty list", "name at least one value")
            return tuple(self._single(item, name) for item in tree.elts)
        return self._single(tree, name)

    def _single(self, tree: ast.expr, name: Name) -> Single:
        value = _constant(tree, name)
        if name.kind in ("number", "range"):
            return _number(tree, name, value)
        if not isinstance(value, str):
            what = f"compares '{name.name}' with a number, but it is a {_kind(name)}"
            raise _refuse(tree, what, "write a 'word' in quotes")
        if name.kind == "date":
            return _date(tree, name, value)
        if name.kind in ("choice", "choices") and value not in name.choices:
            what = f"has '{shown(value)}', which is no choice of '{name.name}'"
            raise _refuse(tree, what, did_you_mean(value, name.choices))
        return value

    def _fits(self, tree: ast.expr, name: Name, operator: str, right: ast.expr) -> None:
        if name.kind == "yes_no":
            raise _refuse(tree, f"compares the yes/no question '{name.name}'", f"write {name.name}, or not {name.name}")
        listed = right.elts if isinstance(right, ast.List | ast.Tuple) else None
        whole = name.kind == "choices" or (name.kind == "texts" and listed == [])
        if operator in ("==", "!=") and listed is not None and whole:
            return  # just these choices and no other, or nothing at all
        if name.kind in ("choices", "texts"):
            raise _refuse(tree, f"compares the {_kind(name)} '{name.name}'", f"write 'word' in {name.name}")
        if name.kind not in _SINGLE:
            raise _refuse(tree, f"compares the {_kind(name)} '{name.name}'", f"write known({name.name})")
        if isinstance(right, ast.List | ast.Tuple) != (operator in ("in", "not in")):
            raise _refuse(tree, "mixes a list and a single value", "use in with a list, == with a single value")
        if operator in ("<", "<=", ">", ">=") and name.kind not in _ORDERED:
            raise _refuse(tree, f"orders '{name.name}', which is a {_kind(name)}", "use == or in")


def _kind(name: Name) -> str:
    return _KIND.get(name.kind, name.kind)


def _refuse(tree: ast.AST, what: str, to_do: str) -> ConditionError:
    start, end = getattr(tree, "col_offset", 0), getattr(tree, "end_col_offset", 0)
    return ConditionError(what, to_do, start + 1, end - start)


def _constant(tree: ast.expr, name: Name) -> str | int | float:
    """The plain value that stands for itself in a condition, a number with a minus included."""
    if (
        isinstance(tree, ast.Constant)
        and isinstance(tree.value, str | int | float)
        and not isinstance(tree.value, bool)
    ):
        return tree.value
    if isinstance(tree, ast.UnaryOp) and isinstance(tree.op, ast.USub) and isinstance(tree.operand, ast.Constant):
        inner = _constant(tree.operand, name)
        if not isinstance(inner, str):
            return -inner
    if isinstance(tree, ast.Name):
        what = f"compares '{name.name}' with the name '{shown(tree.id)}'"
        raise _refuse(tree, what, f"put it in quotes if it is a word: '{shown(tree.id)}'")
    what = f"compares '{name.name}' with something that is not a plain value"
    raise _refuse(tree, what, "write a number or a 'word'")


def _number(tree: ast.expr, name: Name, value: str | int | float) -> Decimal:
    if isinstance(value, str):
        raise _refuse(tree, f"compares the number '{name.name}' with a word", "write the number without quotes")
    number = Decimal(str(value))
    if not number.is_finite() or abs(number) >= Decimal("1e12"):
        raise _refuse(tree, f"compares '{name.name}' with a number out of all measure", "mend the number")
    return number


def _date(tree: ast.expr, name: Name, value: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(value)
    except ValueError:
        what = f"compares the date '{name.name}' with something that is no date"
        raise _refuse(tree, what, "write it like '2027-03-01'") from None
