"""A new answers file from an old one: what is the building's and the practice's stays, what was the job's goes."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from generator.asking.answering import Answering
from generator.asking.answers_file import AnyChange, CannotChange, Change, Dropped, Raw, changed, span_at
from generator.asking.order import paths
from generator.files.errors import InputInvalid
from generator.files.source import MappingSpan, Path_, Span, read_bytes, spans
from generator.files.spelling import remark_of
from generator.questionnaire.scopes import PROJECT, ScopePath

LAYERS: Final = "layers"
_NAMED: Final = ("title", "reference")
SCHEMA_LINE: Final = "# yaml-language-server:"


@dataclass(frozen=True, slots=True)
class Begun:
    """A new file as text, and what was left out of it: the labels of questions by the scope they are of."""

    text: str
    left: Mapping[ScopePath, Sequence[str]]


def begun_from(old: Answering, new: Path) -> Begun:
    """The answers of an old file for a new job; comments and order stay as they stand.

    Raises `InputInvalid` where the old file cannot be gone on with, and `CannotChange` where its layout forbids it.
    """
    left, places = dict[ScopePath, list[str]](), dict[Path_, None]()
    for path in paths(old.facts):
        for label, place in _jobs_own(old, path):
            if place not in places:
                left.setdefault(path, []).append(label)
                places[place] = None
    text = without(old.source.raw.decode("utf-8-sig"), list(places))
    return Begun(_topped(_with_layers(text, old, new), old), left)


def _jobs_own(old: Answering, path: ScopePath) -> Iterator[tuple[str, Path_]]:
    """The answers of a scope that stand in the file, blank or not, and are of one job alone: label and place.

    A zone has answers of its whole wall besides, which stand there once for all its zones.
    """
    own = old.where(path)
    for question in old.questionnaire.of(old.level(path)):
        for place in dict.fromkeys((own, own[:2])) if path and old.level(path) == "element" else (own,):
            found = [key for key in (question.name, *question.was) if (*place, key) in old.source.keys]
            if question.whose == "job":
                yield from ((question.label.rstrip("?"), (*place, key)) for key in found)


def _with_layers(text: str, old: Answering, new: Path) -> str:
    """The text with its layers named from where the new file lies."""
    listed, here = (old.source.data or {}).get(LAYERS), old.file.path.parent
    if not isinstance(listed, list) or not all(isinstance(one, str) for one in listed):
        return text
    moved: list[Raw] = [one if Path(one).is_absolute() else _relative(here / one, new.parent) for one in listed]
    return text if moved == listed else changed(text, [Change((), LAYERS, moved)])


def _relative(folder: Path, start: Path) -> str:
    try:
        return Path(os.path.relpath(folder, start)).as_posix()
    except ValueError:  # another drive
        return folder.absolute().as_posix()


def _topped(text: str, old: Answering) -> str:
    """The text with a remark at its top that tells what it was begun from."""
    project = old.facts.values.get(PROJECT, {})
    said = {name: old.facts.say(name, project[name].value) for name in _NAMED if name in project}
    told = old.library.phrase("begin-top", file=old.file.path.name, **(dict.fromkeys(_NAMED, "?") | said))
    remark = f"# {remark_of(told)}\n"
    first, newline, rest = text.partition("\n")
    return f"{first}{newline}{remark}{rest}" if first.startswith(SCHEMA_LINE) else remark + text


# --- leaving out ------------------------------------------------------------------------------------------


def without(text: str, places: Sequence[Path_]) -> str:
    """An answers text without the answers at some places; all else stays as it stands. Raises `CannotChange`."""
    source = read_bytes(text.encode(), "", typed=False)
    if source.problems:
        raise InputInvalid(source.problems, source.problems.more)
    root, regions, later = spans(source), list[tuple[int, int]](), list[AnyChange]()
    for parent, keys in _by_parent(places).items():
        at = span_at(root, parent)
        if not isinstance(at, MappingSpan):
            raise CannotChange(f"'{parent[-1]}' is not laid out as answers are: bring it into lines, and begin again")
        if at.flow:
            later += [Dropped((*parent, key)) for key in keys]
        else:
            regions += _regions(text, at, keys)
    found = changed(_cut(text, regions), later)
    read = read_bytes(found.encode(), "", typed=False)
    if read.problems or _bare(read.data) != _bare(_pruned(source.data, set(places), ())):
        raise CannotChange("what is the job's cannot be left out of this file without disturbing it: do it by hand")
    return found


def _by_parent(places: Iterable[Path_]) -> dict[Path_, list[str]]:
    found: dict[Path_, list[str]] = {}
    for *parent, key in places:
        found.setdefault(tuple(parent), []).append(str(key))
    return found


def _regions(text: str, at: MappingSpan, keys: Sequence[str]) -> Iterator[tuple[int, int]]:
    """What is cut for some keys of a block: their lines; behind the dash of an item up to the next key that stays."""
    kept = [key.start for name, (key, _) in at.pairs.items() if name not in keys]
    for name in keys:
        key, value = at.pairs[name]
        line = text.rfind("\n", 0, key.start) + 1
        if not text[line : key.start].strip():
            yield line, _line_end(text, value)
        elif following := [start for start in kept if start > key.start]:
            yield key.start, min(following)
        else:
            raise CannotChange(f"'{name}' is all that stands in its item: take it out by hand, and begin again")


def _line_end(text: str, value: Span) -> int:
    after = text.find("\n", value.end)
    return len(text) if after < 0 else after + 1


def _cut(text: str, regions: Iterable[tuple[int, int]]) -> str:
    pieces, at = [], 0
    for start, end in sorted(regions):
        if start > at:
            pieces.append(text[at:start])
        at = max(at, end)
    return "".join([*pieces, text[at:]])


def _pruned(data: Any, places: set[Path_], at: Path_) -> Any:
    if isinstance(data, Mapping):
        return {key: _pruned(one, places, (*at, key)) for key, one in data.items() if (*at, key) not in places}
    if isinstance(data, list):
        return [_pruned(one, places, (*at, index)) for index, one in enumerate(data)]
    return data


def _bare(data: Any) -> Any:
    """Untyped answers in which a mapping with nothing in it is nothing."""
    if isinstance(data, Mapping):
        return {key: _bare(one) for key, one in data.items()} or None
    return [_bare(one) for one in data] if isinstance(data, list) else data
