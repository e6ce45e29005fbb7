"""Compares the values of two records: what was answered, what was worked out from it, and which clauses print it.

A wall or work that is new or gone is told once, and not answer by answer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.record.revisions.change import Change, Record, in_papers, kind_of, wording
from generator.record.revisions.places import Path, told
from generator.values import Struct, replace

# The whole of a wall or of a work, as the name of a change.
WHOLES: Final = ("element", "work")
# Names that a clause prints to say where it applies.
PLACES: Final = ("element_name", "work_name")
# What an issue says of itself changes with every issue; names are told with the places they name.
_UNTOLD: Final = frozenset(
    {
        "revision",
        "revision_about",
        "distribution",
        "issue_date",
        "id",
        "mix_used",
        "coarse_mix",
        "fine_mix",
        "coping_mix",
    }
)

_Keyed = Mapping[tuple[Path, str], str]


def values(old: Record, new: Record, mixes: set[str], names: Mapping[Path, str]) -> Iterator[Change]:
    """Walls and works that are new or gone, answers, what was worked out, and what only a clause shows."""
    whole = list(_wholes(old, new, names))
    gone = {change.where for change in whole}
    answered = list(_by_key(_answers(old), _answers(new)))
    known = {(change.where[:2], change.name) for change in answered}
    reckoned = [
        replace(change, worked_out=True)
        for change in _of_elements(_by_key(_worked_out(old), _worked_out(new)), new)
        if (change.where[:2], change.name) not in known
    ]
    found = [change for change in (*answered, *reckoned) if not _inside(change.where, gone)]
    printed = list(_printed(old, new))
    found += _unexplained(printed, {change.name for change in (*answered, *reckoned)}, gone, mixes)
    for change in (*whole, *found):
        yield replace(change, clauses=change.clauses or _printing(change, printed))


def _wholes(old: Record, new: Record, names: Mapping[Path, str]) -> Iterator[Change]:
    """The elements, and the works of elements that stay, that only one of the two records has."""
    before, after = ({path for path, _ in _answers(record) if path} for record in (old, new))
    for path in dict.fromkeys(path for record in (new, old) for path, _ in _answers(record) if path):
        outer = path[:-1]
        if (path in before) != (path in after) and (not outer or (outer in before and outer in after)):
            one, two = (told(path, names) if path in paths else "" for paths in (before, after))
            yield Change("values", kind_of(one, two), "/".join(path), WHOLES[len(path) - 1], one, two, path)


def _inside(where: Path, gone: set[Path]) -> bool:
    return any(where[: len(path)] == path for path in gone)


def _answers(record: Record) -> _Keyed:
    return {
        (tuple(filter(None, path.split("/"))), name): value
        for path, given in record["answers"]["given"].items()
        for name, value in given.items()
        if name not in _UNTOLD
    }


def _worked_out(record: Record) -> _Keyed:
    """What was worked out, by scope; what is worked out of an element with each of its works."""
    # records of the first schema told the values of elements with their works
    elements = {element["element"]: element["values"] for element in record.get("elements", ())}
    found: dict[tuple[Path, str], str] = {}
    for work in record["works"]:
        for key, entry in {**elements.get(work["element"], {}), **work["values"]}.items():
            *coat, name = key.split("/")
            if name not in _UNTOLD:
                found[(work["element"], work["work"], *coat), name] = str(entry["value"])
    return found


def _of_elements(changes: Iterable[Change], new: Record) -> Iterator[Change]:
    """The changes, those that are the same for every work of an element told once, of the element."""
    works = Counter(work["element"] for work in new["works"])
    found = list(changes)
    of_works = [change for change in found if len(change.where) == 2]
    alike = Counter((change.where[0], change.name, change.old, change.new) for change in of_works)
    told_once: set[object] = set()
    for change in found:
        same = (change.where[0], change.name, change.old, change.new)
        if len(change.where) != 2 or alike[same] < max(works[change.where[0]], 2):
            yield change
        elif same not in told_once:
            told_once.add(same)
            yield replace(change, where=change.where[:1], key=f"{change.where[0]}/{change.name}")


def _by_key(old: _Keyed, new: _Keyed) -> Iterator[Change]:
    for path, name in dict.fromkeys((*old, *new)):
        before, after = old.get((path, name), ""), new.get((path, name), "")
        if before != after:
            yield Change("values", kind_of(before, after), "/".join((*path, name)), name, before, after, path)


class _Printed(Struct, frozen=True):
    """A value that a clause of equal words prints otherwise."""

    number: str
    name: str
    scope: Path
    old: str
    new: str


def _printed(old: Record, new: Record) -> Iterator[_Printed]:
    before, after = in_papers(old), in_papers(new)
    for key, clause in after.items():
        if key not in before or wording(before[key]) != wording(clause) or before[key]["text"] == clause["text"]:
            continue
        one, two = _spelt(before[key]), _spelt(clause)
        for name, scope in dict.fromkeys((*one, *two)):
            sides = one.get((name, scope), ""), two.get((name, scope), "")
            if sides[0] != sides[1]:
                yield _Printed(str(clause["number"]), name, scope, *sides)


def _spelt(clause: Record) -> dict[tuple[str, Path], str]:
    return {(value["name"], tuple(value["scope"])): value["text"] for value in clause["values"]}


def _printing(change: Change, printed: Iterable[_Printed]) -> tuple[str, ...]:
    """The numbers of the clauses that print a changed value."""
    found = (
        item.number for item in printed
        if item.name == change.name and item.scope == change.where[: len(item.scope)]
    )  # fmt: skip
    return tuple(dict.fromkeys(found))


def _unexplained(printed: Iterable[_Printed], known: set[str], gone: set[Path], mixes: set[str]) -> Iterator[Change]:
    """Values that only a clause shows, each once, and where each clause applies.

    Not those of a mix, which is told itself, nor of a wall that is new or gone.
    """
    told_already: set[object] = set()
    for item in printed:
        applies = item.name in PLACES
        same = (item.name, item.number) if applies else item.name
        if item.name in known or same in told_already or _explained(item, gone, mixes):
            continue
        told_already.add(same)
        how = kind_of(item.old, item.new)
        change = Change("values", how, item.name, item.name, item.old, item.new, item.scope, worked_out=True)
        if applies:
            change = replace(change, key=f"{item.name}/{item.number}", where=(), clauses=(item.number,))
        yield change


def _explained(item: _Printed, gone: set[Path], mixes: set[str]) -> bool:
    """Whether a value follows from a mix that changed, or from a wall or work that is new or gone."""
    if item.name in PLACES:
        return bool(gone or mixes) or not (item.old and item.new)
    return item.name.startswith("mix_") or not mixes.isdisjoint(item.scope) or _inside(item.scope, gone)
