"""Compares two records: what was added, changed and removed. Nothing is decided or reckoned again.

A clause whose words are the same and whose values differ is told under the value, with its number; so one change is
told once.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from generator.files.errors import InputInvalid, Mark, Problem
from generator.job.numbers import order
from generator.record.revisions.change import Change, Record, in_papers, kind_of, title, wording, words_of
from generator.record.revisions.issued import Issued
from generator.record.revisions.places import Path, places, told
from generator.record.revisions.records import COPY
from generator.record.revisions.value_changes import values
from generator.values import Struct, replace

SECTIONS: Final = ("values", "mixes", "quantities", "items", "clauses")
_MIX_FIELDS: Final = (
    "name", "ratio", "sand", "max_grain_mm", "pozzolan", "hair_kg_per_m3", "parts", "used_for", "ref",
)  # fmt: skip
_ITEM_FIELDS: Final = ("description", "unit", "kind", "mix", "amount", "ref")
_NONE: Final[Record] = {}
_FIRST_WORDS: Final = re.compile(r"[.;:] ")


class Comparison(Struct, frozen=True):
    """Two issues and every difference between them, by section in the order of `SECTIONS`."""

    old: Issued
    new: Issued
    changes: tuple[Change, ...]

    def of(self, *sections: str) -> list[Change]:
        """The changes of some sections."""
        return [change for change in self.changes if change.about in sections]


def compare(old: Issued, new: Issued) -> Comparison:
    """Every difference between two issues. Raises `InputInvalid` where a record is not as it was written."""
    with _as_written(old, new):
        names = {**places(old.record), **places(new.record)}
        changes = tuple(_changes(old.record, new.record, names))
        return Comparison(old, new, tuple(replace(item, place=told(item.where, names)) for item in changes))


def clauses_changed(old: Issued, new: Record) -> list[Change]:
    """The clauses that are not as they were when last issued. Raises `InputInvalid` as `compare`."""
    with _as_written(old):
        return list(_clauses(old.record, new))


@contextlib.contextmanager
def _as_written(*issues: Issued) -> Iterator[None]:
    """Tells of a record that lacks what every record has."""
    try:
        yield
    except (KeyError, TypeError, AttributeError, ValueError):
        what = "is not a record as it was written" if len(issues) == 1 else "one of the two is not as it was written"
        mark = Mark(", ".join(str(issue.path) for issue in issues))
        raise InputInvalid([Problem(mark, what, COPY)]) from None


def _changes(old: Record, new: Record, names: Mapping[Path, str]) -> Iterator[Change]:
    found = list(_mixes(old, new, names))
    items = sorted(_items(old, new), key=lambda change: order(change.number))
    yield from values(old, new, {change.number for change in found}, names)
    yield from found
    yield from (change for change in items if change.about == "quantities")
    yield from (change for change in items if change.about == "items")
    yield from _clauses(old, new)


# --- mixes and items ------------------------------------------------------------------------------------------


def _paired(
    old: list[dict[str, Any]], new: list[dict[str, Any]], *keys: Callable[[dict[str, Any]], object]
) -> Iterator[tuple[Record, Record]]:
    """Entries of two lists that are the same thing, by the first key that finds them; the others with nothing."""
    left, right = list(old), list(new)
    pairs: list[tuple[Record, Record]] = []
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


def _mixes(old: Record, new: Record, names: Mapping[Path, str]) -> Iterator[Change]:
    def same(mix: dict[str, Any]) -> object:
        return (mix["recipe"], mix["max_grain_mm"], mix["hair_kg_per_m3"], mix.get("colour", ""))

    for before, after in _paired(old["mixes"], new["mixes"], same, lambda mix: mix["ref"]):
        ref = str((after or before)["ref"])
        if not before or not after:
            sides = _mix(before, names), _mix(after, names)
            yield Change("mixes", kind_of(before, after), ref, "mix", *sides, number=ref)
            continue
        for name in _MIX_FIELDS:
            one, two = (_part(mix.get(name), names) for mix in (before, after))
            if one != two:
                yield Change("mixes", "changed", f"{ref}/{name}", name, one, two, number=ref)


def _mix(mix: Record, names: Mapping[Path, str]) -> str:
    """A mix in one line: what it is, its ratio, the grains of its sand, and where it goes."""
    figures = f"{mix['name']}, 1 : {mix['ratio']}, 0–{mix['max_grain_mm']} mm" if mix else ""
    return f"{figures}; {_part(mix['used_for'], names)}" if mix else ""


def _part(value: Any, names: Mapping[Path, str]) -> str:
    """A field of a mix in words."""
    if isinstance(value, list):
        return "; ".join(told(_place(place), names) for place in value)
    if isinstance(value, dict):
        boxes = [
            (name, value[name])
            for name in ("lime_boxes", "sand_boxes", "lime_l", "sand_l", "lime_qt", "sand_qt")
            if name in value
        ]
        return ", ".join(
            f"{name.removesuffix('_boxes').replace('_l', ' l').replace('_qt', ' qt')} {count}" for name, count in boxes
        )
    return "" if value is None else str(value)


def _items(old: Record, new: Record) -> Iterator[Change]:
    def same(item: dict[str, Any]) -> object:
        return (item["rule"], item.get("element"), item.get("work"), item.get("coat"))

    for before, after in _paired(old["items"], new["items"], lambda item: (same(item), item["mix"]), same):
        item = after or before
        whole = Change(
            "items", kind_of(before, after), item["ref"], "line", _line(before), _line(after),
            where=_place(item), number=item["ref"], unit=item["unit"],
        )  # fmt: skip
        if not before or not after:
            yield whole
        for name in _ITEM_FIELDS if before and after else ():
            one, two = (_part(entry[name], {}) for entry in (before, after))
            if one != two:
                yield replace(whole, name=name, old=one, new=two)
        one, two = (_part(entry.get("quantity"), {}) for entry in (before, after))
        if one != two:
            yield replace(whole, about="quantities", name=_title(item), old=one, new=two)


def _place(item: Record) -> Path:
    return tuple(item[name] for name in ("element", "work", "coat") if name in item)


def _line(item: Record) -> str:
    return str(item["description"]) if item else ""


def _title(item: Record) -> str:
    """What a line is about: its description up to the first stop."""
    return _FIRST_WORDS.split(str(item["description"]), maxsplit=1)[0].rstrip(".")


# --- clauses --------------------------------------------------------------------------------------------------


def _clauses(old: Record, new: Record) -> Iterator[Change]:
    before, after = in_papers(old), in_papers(new)
    for key in dict.fromkeys((*after, *before)):
        one, two = before.get(key, _NONE), after.get(key, _NONE)
        words = words_of(one) if one else "", words_of(two) if two else ""
        number = str((two or one)["number"])
        change = Change("clauses", kind_of(one, two), key, title(words[1] or words[0]), *words, number=number)
        if not one or not two or wording(one) != wording(two):
            yield change
        elif one["number"] != two["number"]:
            yield replace(change, old=str(one["number"]), new=str(two["number"]))
