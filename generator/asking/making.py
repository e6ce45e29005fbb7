"""The changes that make elements, works and zones, and copies of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.asking.answering import Answering
from generator.asking.answers_file import AnyChange, Change, Raw, Zoned
from generator.asking.order import NAME, ZONES, copied, element_at, elements_of, new_id
from generator.files.source import Path_
from generator.questionnaire.scopes import ScopePath


@dataclass(frozen=True, slots=True)
class New:
    """A scope to be made: the changes, its path, and the place of its name in the file."""

    changes: list[AnyChange]
    path: ScopePath
    place: Path_


def new_element(answers: Answering, name: str) -> New:
    """A new element, last of all."""
    key = new_id(name, answers.ids(()))
    return New([Change(("elements",), None, {"id": key, NAME: name})], (key,), _place_of_next(answers))


def copy_of(answers: Answering, source: ScopePath, name: str, without: frozenset[str] = frozenset()) -> New:
    """A copy of an element, last of all, but for those answers of it and of its works that are not to be copied."""
    key = new_id(name, answers.ids(()))
    data = copied(_but(element_at(answers.source.data, answers.where(source)), without), key, name)
    return New([Change(("elements",), None, data)], (key,), _place_of_next(answers))


def new_work(answers: Answering, path: ScopePath, work: str) -> New:
    """A new work of an element, last of its works."""
    key = new_id(work, answers.ids(path))
    place = (*answers.where(path), "works")
    return New([Change(place, None, {"id": key, "work": work})], (*path, key), place)


def first_zone(answers: Answering, path: ScopePath, name: str) -> New:
    """What is answered of a whole wall as its first zone."""
    wall, key = answers.where(path)[:2], new_id(name, set())
    return New([Zoned(wall, key, name)], (f"{path[0]}-{key}",), (*wall, ZONES, 0, NAME))


def further_zone(answers: Answering, beside: ScopePath, name: str, told: Mapping[str, Raw]) -> New:
    """One more zone of the wall that a zone is of."""
    wall = answers.where(beside)[:2]
    item = elements_of(answers.source.data)[int(wall[1])]
    taken = {str(zone.get("id")) for zone in item[ZONES]}
    key = new_id(name, taken)
    changes: list[AnyChange] = [Change((*wall, ZONES), None, {"id": key, NAME: name, **told})]
    return New(changes, (f"{item['id']}-{key}",), (*wall, ZONES, len(taken), NAME))


def _place_of_next(answers: Answering) -> Path_:
    return ("elements", len(elements_of(answers.source.data)), NAME)


def _but(value: object, without: frozenset[str]) -> dict[str, object]:
    """Untyped answers without some, in them and in what lies in them."""
    assert isinstance(value, Mapping)
    return {
        key: [_but(item, without) if isinstance(item, Mapping) else item for item in inner]
        if isinstance(inner, list)
        else inner
        for key, inner in value.items()
        if key not in without
    }
