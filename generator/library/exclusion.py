"""Whether two conditions can hold together, as far as the answers that they read are known.

Each is parted into the ways in which it can hold; the two exclude one another where every way of both at once has two
comparisons of one name that cannot both be true. What cannot be shown counts as possible.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import product
from typing import Final

from generator.questionnaire.condition import Both, Compare, IsTrue, Known, Node, Not, Within

MOST_WAYS: Final = 4_000
"""Conditions that can hold in more ways than these are not looked into."""

Leaf = Compare | IsTrue | Known | Within
Way = frozenset[tuple[Leaf, bool]]


def exclude(one: Node | None, other: Node | None, inner: str = "") -> bool:
    """Whether two conditions exclude one another. What `one` says of none of the scopes `inner`, where `other` is
    asked, it says of that one too. A condition that always holds excludes nothing.
    """
    if one is None or other is None:
        return False
    first, second = list(_ways(_seen_inside(one, inner), True)), list(_ways(other, True))
    if len(first) * len(second) > MOST_WAYS:
        return False
    return all(_contradicts(way | with_) for way, with_ in product(first, second))


def _seen_inside(node: Node, inner: str) -> Node:
    if isinstance(node, Within) and node.word == "none" and node.level == inner:
        return Both("and", (node, Not(node.part)))
    if isinstance(node, Both):
        return Both(node.word, tuple(_seen_inside(part, inner) for part in node.parts))
    return node


def _ways(node: Node, holds: bool) -> Iterator[Way]:
    """The ways in which a condition can come out true, or false: comparisons with what each must come to."""
    if isinstance(node, Not):
        yield from _ways(node.part, not holds)
    elif isinstance(node, Both):
        parts = [list(_ways(part, holds)) for part in node.parts]
        if (node.word == "and") == holds:
            yield from (frozenset().union(*chosen) for chosen in product(*parts))
        else:
            yield from (way for ways in parts for way in ways)
    elif isinstance(node, Within) and node.word == "none":
        yield frozenset({(Within("any", node.level, node.part), not holds)})
    else:
        yield frozenset({(node, holds)})


def _contradicts(way: Way) -> bool:
    by_name: dict[str, list[tuple[Leaf, bool]]] = defaultdict(list)
    for leaf, holds in way:
        by_name[str(leaf) if isinstance(leaf, Within) else leaf.name].append((leaf, holds))
    return any(map(_impossible, by_name.values()))


def _impossible(leaves: Iterable[tuple[Leaf, bool]]) -> bool:
    """Whether what is said of one name cannot all be true."""
    said = set(leaves)
    if any((leaf, not holds) in said for leaf, holds in said):
        return True
    unknown = any(isinstance(leaf, Known) and not holds for leaf, holds in said)
    compared = [(leaf, holds) for leaf, holds in said if isinstance(leaf, Compare)]
    if unknown and (compared or any(isinstance(leaf, IsTrue) for leaf, _ in said)):
        return True  # a comparison comes out only where there is a value
    return _no_word(compared) or _no_number(compared)


_CONTRARY: Final = {"!=": "==", "not in": "in"}


def _no_word(compared: Iterable[tuple[Compare, bool]]) -> bool:
    """Whether no single word is left."""
    allowed: set[object] | None = None
    barred: set[object] = set()
    for leaf, holds in compared:
        positive = holds != (leaf.operator in _CONTRARY)
        operator = _CONTRARY.get(leaf.operator, leaf.operator)
        if operator not in ("==", "in") or (operator == "==" and isinstance(leaf.literal, tuple)):
            continue
        words: set[object] = set(leaf.literal) if isinstance(leaf.literal, tuple) else {leaf.literal}
        if not positive:
            barred |= words
        else:
            allowed = words if allowed is None else allowed & words
    return allowed is not None and not allowed - barred


_TURNED: Final = {"<": ">=", "<=": ">", ">": "<=", ">=": "<"}


def _no_number(compared: Iterable[tuple[Compare, bool]]) -> bool:
    """Whether no number is left between the limits."""
    low: tuple[Decimal, bool] | None = None  # the limit, and whether it is itself left out
    high: tuple[Decimal, bool] | None = None
    for leaf, holds in compared:
        if not isinstance(leaf.literal, Decimal):
            continue
        operator = leaf.operator if holds else _TURNED.get(leaf.operator, "")
        if operator in (">", ">=", "=="):
            found = (leaf.literal, operator == ">")
            low = found if low is None else max(low, found)
        if operator in ("<", "<=", "=="):
            end = (leaf.literal, operator != "<")
            high = end if high is None else min(high, end)
    if low is None or high is None:
        return False
    return low[0] > high[0] or (low[0] == high[0] and (low[1] or not high[1]))
