"""Compares two records: what was added, changed and removed. Nothing is decided or reckoned again.

A clause whose words are the same and whose values differ is told under the value, with its number; so one change is
told once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal, InvalidOperation
from typing import Any, Final

from generator.errors import InputInvalid, Mark, Problem
from generator.revisions.issued import Issued

SECTIONS: Final = ("values", "mixes", "quantities", "items", "clauses")
# What an issue says of itself changes with every issue.
_IDENTITY: Final = ("revision", "issue_date")
_MIX_FIELDS: Final = (
    "name", "ratio", "sand", "max_grain_mm", "pozzolan", "hair_kg_per_m3", "parts", "used_for", "ref",
)  # fmt: skip
_ITEM_FIELDS: Final = ("description", "unit", "kind", "mix", "amount", "ref")
_NONE: Final[Mapping[str, Any]] = {}


@dataclass(frozen=True, slots=True)
class Change:
    """One difference. `kind` is added, changed or removed; `name` what changed, `where` the ids of its scope.

    `number` is that of the clause or line; `clauses` are the numbers of those that print a changed value;
    `worked_out` where nobody answered it.
    """

    about: str
    kind: str
    key: str
    name: str
    old: str = ""
    new: str = ""
    where: tuple[str, ...] = ()
    number: str = ""
    unit: str = ""
    clauses: tuple[str, ...] = ()
    worked_out: bool = False

    @property
    def difference(self) -> Decimal | None:
        """New less old, in the change's unit; what is absent counts as 0. None where either is no number."""
        try:
            return Decimal(self.new or "0") - Decimal(self.old or "0")
        except InvalidOperation:
            return None


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two issues and every difference between them, by section in the order of `SECTIONS`."""

    old: Issued
    new: Issued
    changes: tuple[Change, ...]

    def of(self, *sections: str) -> list[Change]:
        """The changes of some sections."""
        return [change for change in self.changes if change.about in sections]


def compare(old: Issued, new: Issued) -> Comparison:
    """Every difference between two issues. Raises `InputInvalid` where a record is not as it was written."""
    try:
        return Comparison(old, new, tuple(_Comparing(old.record, new.record).changes()))
    except (KeyError, TypeError, AttributeError, ValueError):
        what = "one of the two is not a record as it was written"
        mark = Mark(f"{old.path}, {new.path}")
        raise InputInvalid([Problem(mark, what, "take both from copies that nobody has changed")]) from None


@dataclass(slots=True)
class _Comparing:
    """Two records being compared."""

    old: Mapping[str, Any]
    new: Mapping[str, Any]
    values: list[Change] = field(default_factory=list)

    def changes(self) -> Iterator[Change]:
        mixes = list(_mixes(self.old, self.new))
        items = list(_items(self.old, self.new))
        self.values = [*self._answers(), *self._worked_out()]
        self._unexplained({change.number for change in mixes})
        yield from (self._with_clauses(change) for change in self.values)
        yield from mixes
        yield from (change for change in items if change.about == "quantities")
        yield from (change for change in items if change.about == "items")
        yield from _clauses(self.old, self.new)

    def _answers(self) -> Iterator[Change]:
        old, new = (_answers(record) for record in (self.old, self.new))
        yield from _by_key("values", old, new)

    def _worked_out(self) -> Iterator[Change]:
        old, new = (_worked_out(record) for record in (self.old, self.new))
        told = {(change.where[:2], change.name) for change in self._answers()}
        for change in _by_key("values", old, new):
            if (change.where[:2], change.name) not in told:
                yield replace(change, worked_out=True)

    def _unexplained(self, mixes: set[str]) -> None:
        """Adds the values that only a clause shows."""
        known = {change.name for change in self.values}
        for _, before, after in _same_words(self.old, self.new):
            one, two = (_spelt(clause) for clause in (before, after))
            for (name, scope), (old, new) in _differing(one, two):
                if name not in known and not name.startswith("mix_") and not (set(scope) & mixes):
                    known.add(name)
                    self.values.append(Change("values", "changed", name, name, old, new, tuple(scope)))

    def _with_clauses(self, change: Change) -> Change:
        """The change with the numbers of the clauses that print it."""
        numbers = []
        for number, before, after in _same_words(self.old, self.new):
            one, two = (_spelt(clause) for clause in (before, after))
            if any(name == change.name for (name, _), _ in _differing(one, two)):
                numbers.append(number)
        return replace(change, clauses=tuple(numbers))


# --- values ---------------------------------------------------------------------------------------------------

_Keyed = Mapping[tuple[tuple[str, ...], str], str]


def _answers(record: Mapping[str, Any]) -> _Keyed:
    return {
        (tuple(filter(None, path.split("/"))), name): str(value)
        for path, given in record["answers"]["given"].items()
        for name, value in given.items()
        if name not in _IDENTITY
    }


def _worked_out(record: Mapping[str, Any]) -> _Keyed:
    """What was worked out by scope; names a person never sees (the work's own mixes) are told as mixes."""
    found: dict[tuple[tuple[str, ...], str], str] = {}
    for work in record["works"]:
        for key, entry in work["values"].items():
            *coat, name = key.split("/")
            if name != "mix_used":
                found[(work["element"], work["work"], *coat), name] = str(entry["value"])
    return found


def _by_key(about: str, old: _Keyed, new: _Keyed) -> Iterator[Change]:
    for path, name in dict.fromkeys((*old, *new)):
        before, after = old.get((path, name), ""), new.get((path, name), "")
        if before != after:
            kind = "added" if not before else "changed" if after else "removed"
            yield Change(about, kind, "/".join((*path, name)), name, before, after, path)


# --- mixes and items ------------------------------------------------------------------------------------------


def _paired(
    old: list[dict[str, Any]], new: list[dict[str, Any]], *keys: Callable[[dict[str, Any]], object]
) -> Iterator[tuple[Mapping[str, Any], Mapping[str, Any]]]:
    """Entries of two lists that are the same thing, by the first key that finds them; the others with nothing."""
    left, right = list(old), list(new)
    pairs: list[tuple[Mapping[str, Any], Mapping[str, Any]]] = []
    for key in keys:
        for entry in list(left):
            match = next((other for other in right if key(other) == key(entry)), None)
            if match is not None:
                left.remove(entry)
                right.remove(match)
                pairs.append((entry, match))
    order = {id(entry): index for index, entry in enumerate(new)}
    pairs.sort(key=lambda pair: order[id(pair[1])])
    yield from pairs
    yield from ((_NONE, entry) for entry in right)
    yield from ((entry, _NONE) for entry in left)


def _mixes(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Change]:
    def same(mix: dict[str, Any]) -> object:
        return (mix["recipe"], mix["max_grain_mm"], mix["hair_kg_per_m3"])

    for before, after in _paired(old["mixes"], new["mixes"], same, lambda mix: mix["ref"]):
        ref = str((after or before)["ref"])
        if not before or not after:
            kind = "added" if after else "removed"
            yield Change("mixes", kind, ref, "mix", _mix(before), _mix(after), number=ref)
            continue
        for name in _MIX_FIELDS:
            one, two = _part(before.get(name)), _part(after.get(name))
            if one != two:
                yield Change("mixes", "changed", f"{ref}/{name}", name, one, two, number=ref)


def _mix(mix: Mapping[str, Any]) -> str:
    return f"{mix['name']}, 1 : {mix['ratio']}" if mix else ""


def _part(value: Any) -> str:
    """A field of a mix in words."""
    if isinstance(value, list):
        return "; ".join(" ".join(map(str, place.values())) for place in value)
    if isinstance(value, dict):
        boxes = (
            f"{name.removesuffix('_boxes')} {value[name]}" for name in ("lime_boxes", "sand_boxes") if name in value
        )
        return ", ".join(boxes)
    return "" if value is None else str(value)


def _items(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Change]:
    def same(item: dict[str, Any]) -> object:
        return (item["rule"], item.get("element"), item.get("work"), item.get("coat"))

    for before, after in _paired(old["items"], new["items"], lambda item: (same(item), item["mix"]), same):
        item = after or before
        common = {"key": item["ref"], "where": _place(item), "number": item["ref"], "unit": item["unit"]}
        if not before or not after:
            kind = "added" if after else "removed"
            yield Change("items", kind, name="line", old=_line(before), new=_line(after), **common)
        for name in _ITEM_FIELDS if before and after else ():
            if before[name] != after[name]:
                yield Change("items", "changed", name=name, old=_part(before[name]), new=_part(after[name]), **common)
        amounts = [_part(entry.get("quantity")) for entry in (before, after)]
        if amounts[0] != amounts[1]:
            kind = "changed" if before and after else "added" if after else "removed"
            told = item["description"]
            yield Change("quantities", kind, name=told, old=amounts[0], new=amounts[1], **common)


def _place(item: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(item[name] for name in ("element", "work", "coat") if name in item)


def _line(item: Mapping[str, Any]) -> str:
    return str(item["description"]) if item else ""


# --- clauses --------------------------------------------------------------------------------------------------


def _in_papers(record: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    return {clause["id"]: clause for clause in record["clauses"] if clause["included"]}


def _words(clause: Mapping[str, Any]) -> str:
    """The words of a clause below its number."""
    text, number = str(clause["text"]), clause.get("number")
    return text.removeprefix(f"{number} ") if number else text


def title(clause_text: str) -> str:
    """The title of a clause, which is its first line."""
    return clause_text.partition("\n")[0]


def _wording(clause: Mapping[str, Any]) -> object:
    # a record of before wordings were kept is compared by what was printed
    return clause.get("wording") or _words(clause)


def _same_words(
    old: Mapping[str, Any], new: Mapping[str, Any]
) -> Iterator[tuple[str, Mapping[str, Any], Mapping[str, Any]]]:
    before, after = _in_papers(old), _in_papers(new)
    for key, clause in after.items():
        if key in before and _wording(before[key]) == _wording(clause) and before[key]["text"] != clause["text"]:
            yield str(clause["number"]), before[key], clause


def _spelt(clause: Mapping[str, Any]) -> dict[tuple[str, tuple[str, ...]], str]:
    return {(value["name"], tuple(value["scope"])): value["text"] for value in clause["values"]}


def _differing(
    one: Mapping[tuple[str, tuple[str, ...]], str], two: Mapping[tuple[str, tuple[str, ...]], str]
) -> Iterable[tuple[tuple[str, tuple[str, ...]], tuple[str, str]]]:
    for key in dict.fromkeys((*one, *two)):
        if one.get(key) != two.get(key):
            yield key, (one.get(key, ""), two.get(key, ""))


def _clauses(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Change]:
    before, after = _in_papers(old), _in_papers(new)
    for key in dict.fromkeys((*after, *before)):
        one, two = before.get(key, _NONE), after.get(key, _NONE)
        words = _words(one) if one else "", _words(two) if two else ""
        number = str((two or one)["number"])
        if not one or not two:
            yield Change("clauses", "added" if two else "removed", key, title(words[0] or words[1]), *words, (), number)
        elif _wording(one) != _wording(two):
            yield Change("clauses", "changed", key, title(words[1]), *words, (), number)
        elif one["number"] != two["number"]:
            yield Change("clauses", "changed", key, title(words[1]), str(one["number"]), str(two["number"]), (), number)


def clauses_changed(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Change]:
    """The clauses that are not as they were when last issued."""
    return list(_clauses(old, new))
