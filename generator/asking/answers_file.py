"""Changes an answers file as text: one answer in, everything else as it stood, comments and order included.

A change is spliced into the text at places that the parser gives, then the whole is read again: a text that does
not come to just the answers meant is refused, and the file stays as it was.
"""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeAlias

from generator.files.errors import CannotWrite, GaugeboxError
from generator.files.limits import MOST_YAML_BYTES
from generator.files.place import blocked
from generator.files.source import ListSpan, MappingSpan, Path_, Source, Span, read_bytes, spans
from generator.files.swap import replace_one
from generator.files.walk import is_file, is_folder, real_path
from generator.files.writing import only_writer

Raw: TypeAlias = "str | list[Raw] | dict[str, Raw]"
# Lists of these are mappings of answers, each on lines of its own; other records stand on one line.
SCOPE_LISTS: Final = ("elements", "zones", "works", "coats", "photographs")
_PLAIN: Final = re.compile(r"[^\W_](?:[\w +().²³–%-]*[\w).²³%])?\Z")
_HEADER: Final = re.compile(r"[|>][-+0-9]*([ \t]+#[^\r\n]*)")
_MEANS_NOTHING: Final = ("null", "Null", "NULL")
_ANOTHER: Final = "free space, or name another file"


class CannotChange(GaugeboxError):
    """The text is laid out in a way in which the change cannot be made safely."""


@dataclass(frozen=True, slots=True)
class Change:
    """One answer to set: in the mapping at a place, under a key, after those keys in `after` that are there.

    A `key` of None adds the value to the list at the place.
    """

    place: Path_
    key: str | None
    value: Raw
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Zoned:
    """What the element at a place holds under `works` becomes the works of its first zone, which it is to have."""

    place: Path_
    id: str
    name: str

    @property
    def key(self) -> str:
        """The key that the element is to have in place of `works`."""
        return "zones"


@dataclass(frozen=True, slots=True)
class Dropped:
    """The answer or the item of a list at a place is taken out; a list that holds no other goes with it."""

    place: Path_

    @property
    def key(self) -> str:
        """What is taken out, as a person would look for it."""
        return str(next(step for step in reversed(self.place) if isinstance(step, str)))


@dataclass(frozen=True, slots=True)
class Moved:
    """The item of a list at a place changes places with the next one of the same list, comments above it with it."""

    place: Path_

    @property
    def key(self) -> str:
        """The list in which it moves."""
        return str(self.place[-2])


AnyChange: TypeAlias = Change | Zoned | Dropped | Moved


def changed(text: str, changes: Sequence[AnyChange]) -> str:
    """An answers text with changes made in order. Raises `CannotChange` where one cannot be made safely."""
    return _changed(text, changes)[0]


def _changed(text: str, changes: Sequence[AnyChange], last: Source | None = None) -> tuple[str, Source]:
    """The text with changes made, and what it reads as: each text is read once, and not if it was read last."""
    newline = "\r\n" if "\r\n" in text else "\n"
    read = _read(text) if last is None else last
    for change in changes:
        if read.problems:
            raise CannotChange(_refusal(change))
        meant = _meant(read.data, change.place, change)
        text = _made(text, change, newline, spans(read))
        read = _read(text)
        if read.problems or read.data != meant:
            raise CannotChange(_refusal(change))
    return text, read


def _read(text: str) -> Source:
    return read_bytes(text.encode("utf-8", "surrogatepass"), "", typed=False)


def _made(text: str, change: AnyChange, newline: str, root: Span | None) -> str:
    if isinstance(change, Zoned):
        return _with_a_zone(text, change, newline, root)
    if isinstance(change, Moved):
        return _swapped(text, change, newline, root)
    return _cut(text, change, root) if isinstance(change, Dropped) else _spliced(text, change, newline, root)


def _refusal(change: AnyChange) -> str:
    what = change.key if change.key is not None else str(change.place[-1])
    return f"'{what}' cannot be written into this file without disturbing its layout: write it there by hand"


def _meant(data: Any, place: Path_, change: AnyChange) -> Any:
    """What the untyped answers at a place are to come to. Raises `CannotChange` where they are of another form."""
    if isinstance(change, Dropped):
        return _without(data, place, change)
    if isinstance(data, Mapping | None):
        known = dict(data or {})
        if place:
            return {**known, place[0]: _meant(known.get(place[0]), place[1:], change)}
        if isinstance(change, Zoned):
            works = {key: known.pop(key) for key in ("works",) if key in known}
            return {**known, change.key: [{"id": change.id, "name": change.name, **works}]}
        if isinstance(change, Change) and change.key is not None:
            return {**known, change.key: change.value}
    if isinstance(data, list | None):
        items = data or []
        if isinstance(change, Moved) and len(place) == 1:
            return _exchanged(items, int(place[0]), change)
        if not place and isinstance(change, Change) and change.key is None:
            return [*items, change.value]
        if place and isinstance(place[0], int) and place[0] < len(items):
            at = place[0]
            return [*items[:at], _meant(items[at], place[1:], change), *items[at + 1 :]]
    raise CannotChange(_refusal(change))


def _exchanged(items: list[Any], at: int, change: Moved) -> list[Any]:
    """Untyped items with one and the next in each other's place."""
    if not 0 <= at < len(items) - 1:
        raise CannotChange(_refusal(change))
    return [*items[:at], items[at + 1], items[at], *items[at + 2 :]]


def _without(data: Any, place: Path_, change: Dropped) -> Any:
    """Untyped answers without what is at a place, and without a list that nothing is left of."""
    step = place[0]
    if isinstance(data, Mapping) and step in data:
        inner = None if len(place) == 1 else _without(data[step], place[1:], change)
        rest = {key: value for key, value in data.items() if key != step}
        return rest if inner is None or inner == [] else {**data, step: inner}
    if isinstance(data, list) and isinstance(step, int) and step < len(data):
        inner = [] if len(place) == 1 else [_without(data[step], place[1:], change)]
        return [*data[:step], *inner, *data[step + 1 :]]
    raise CannotChange(_refusal(change))


# --- splicing -----------------------------------------------------------------------------------------------


def _spliced(text: str, change: Change, newline: str, root: Span | None) -> str:
    place, key, value = change.place, change.key, change.value
    at = span_at(root, place)
    while key is None or not isinstance(at, MappingSpan):
        if key is None and isinstance(at, ListSpan) and (at.items or not at.flow):
            return _appended(text, at, value, place[-1] in SCOPE_LISTS, newline)
        if at is not None and not at.blank:
            raise CannotChange(_refusal(change))
        # nothing stands there yet: the value becomes what the key above it holds
        value = [value] if key is None else {key: value}
        if not place:
            return _ended(text, newline) + _block(value, 0, newline) + newline
        place, key = place[:-1], str(place[-1])
        at = span_at(root, place)
    if key in at.pairs:
        return _replaced(text, at, key, value, newline)
    return _inserted(text, at, key, value, change.after if key == change.key else (), newline)


def span_at(root: Span | None, place: Path_) -> Span | None:
    """Where the value at a place stands; None if nothing stands there."""
    found = root
    for step in place:
        if isinstance(found, MappingSpan) and step in found.pairs:
            found = found.pairs[str(step)][1]
        elif isinstance(found, ListSpan) and isinstance(step, int) and step < len(found.items):
            found = found.items[step]
        else:
            return None
    return found


def _inserted(text: str, at: MappingSpan, key: str, value: Raw, after: tuple[str, ...], newline: str) -> str:
    pairs = list(at.pairs.values())
    if at.flow:
        entry = f"{_scalar(key)}: {_flow(value)}"
        end = pairs[-1][1].end if pairs else at.start + 1
        return text[:end] + (f", {entry}" if pairs else entry) + text[end:]
    first = pairs[0][0]
    entry = _entry(key, value, first.column, newline)
    there = [name for name in after if name in at.pairs]
    if after and not there:
        return text[: first.start] + entry + newline + " " * first.column + text[first.start :]
    previous = at.pairs[there[-1]] if there else pairs[-1]
    return _on_a_new_line(text, previous[1].end, " " * first.column + entry, newline)


def _replaced(text: str, at: MappingSpan, name: str, value: Raw, newline: str) -> str:
    key, standing = at.pairs[name]
    if at.flow:
        return f"{text[: key.start]}{_scalar(name)}: {_flow(value)}{text[standing.end :]}"
    first, *rest = _entry(name, value, key.column, newline).split(newline, 1)
    entry = newline.join([first + _remarks(text, key, standing), *rest])
    return text[: key.start] + entry + text[standing.end :]


def _remarks(text: str, key: Span, value: Span) -> str:
    """The comments between a key and the first word of its value, which stay whatever the value becomes."""
    between = text[key.end : value.start].partition(":")[2].rstrip()
    header = _HEADER.match(text, value.start, value.end)
    return between + (header[1].rstrip() if header else "")


def _appended(text: str, at: ListSpan, value: Raw, scopes: bool, newline: str) -> str:
    end = at.items[-1].end
    if at.flow:
        return f"{text[:end]}, {_flow(value)}{text[end:]}"
    spelt = _block(value, at.column + 2, newline) if scopes else _flow_or_text(value)
    return _on_a_new_line(text, end, f"{' ' * at.column}- {spelt}", newline)


def _with_a_zone(text: str, change: Zoned, newline: str, root: Span | None) -> str:
    """The text with an element's works as they stand, two columns further in, below the id and name of a zone."""
    at = span_at(root, change.place)
    if not isinstance(at, MappingSpan) or "works" not in at.pairs:
        raise CannotChange(_refusal(change))
    key, works = at.pairs["works"]
    start, end = key.start, works.end
    told = f"id: {_scalar(change.id)}"
    name = f"name: {_scalar(change.name)}"
    if at.flow:
        return f"{text[:start]}zones: [{{{told}, {name}, {text[start:end]}}}]{text[end:]}"
    pad = newline + " " * key.column
    lines = text[start:end].split("\n")
    deeper = "\n".join([lines[0], *(f"  {line}" if line.strip() else line for line in lines[1:])])
    return f"{text[:start]}zones:{pad}- {told}{pad}  {name}{pad}  {deeper}{text[end:]}"


def _cut(text: str, change: Dropped, root: Span | None) -> str:
    """The text without the lines of an answer or an item; comments above it stay."""
    place = change.place
    at = span_at(root, place[:-1])
    while isinstance(at, ListSpan) and len(at.items) == 1:
        place = place[:-1]
        at = span_at(root, place[:-1])
    others: dict[str | int, tuple[int, int]]
    if isinstance(at, MappingSpan):
        others = {name: (key.start, value.end) for name, (key, value) in at.pairs.items()}
    elif isinstance(at, ListSpan):
        others = {step: (item.start, item.end) for step, item in enumerate(at.items)}
    else:
        raise CannotChange(_refusal(change))
    start, end = others.pop(place[-1])
    if not at.flow:
        first, after = text.rfind("\n", 0, start) + 1, text.find("\n", end)
        return text[:first] + (text[after + 1 :] if after >= 0 else "")
    following = [other for other, _ in others.values() if other > start]
    if following:
        return text[:start] + text[min(following) :]
    return text[: max((other for _, other in others.values()), default=start)] + text[end:]


def _swapped(text: str, change: Moved, newline: str, root: Span | None) -> str:
    """The text with an item and the next in each other's place; the last line of a text may lack its end."""
    at, index = span_at(root, change.place[:-1]), int(change.place[-1])
    if not isinstance(at, ListSpan):
        raise CannotChange(_refusal(change))
    first, second = at.items[index], at.items[index + 1]
    if at.flow:
        between = text[first.end : second.start]
        return (
            text[: first.start]
            + text[second.start : second.end]
            + between
            + text[first.start : first.end]
            + text[second.end :]
        )
    text = _ended(text, newline)
    cut = text.find("\n", first.end) + 1
    end = text.find("\n", second.end) + 1
    begin = _remarks_above(text, text.rfind("\n", 0, first.start) + 1, at.column)
    return text[:begin] + text[cut:end] + text[begin:cut] + text[end:]


def _remarks_above(text: str, line: int, column: int) -> int:
    """Where the comments begin that stand right above a line, as far in as its list."""
    while line:
        before = text.rfind("\n", 0, line - 1) + 1
        told = text[before:line].rstrip()
        if not told.startswith(" " * column + "#"):
            break
        line = before
    return line


def _on_a_new_line(text: str, at: int, entry: str, newline: str) -> str:
    """The text with an entry on the line below the one that `at` is on; a comment beside stays beside."""
    end = text.find("\n", at)
    if end < 0:
        return f"{text}{newline}{entry}{newline}"
    return f"{text[: end + 1]}{entry}{newline}{text[end + 1 :]}"


def _ended(text: str, newline: str) -> str:
    return text if not text or text.endswith("\n") else text + newline


# --- spelling -----------------------------------------------------------------------------------------------


def _entry(key: str, value: Raw, column: int, newline: str) -> str:
    """`key: value` as it stands in a block whose keys start at a column, without the first indent."""
    if isinstance(value, dict) and value:
        deeper = column + 2
        return f"{key}:{newline}{' ' * deeper}{_block(value, deeper, newline)}"
    if isinstance(value, list) and value and (key in SCOPE_LISTS or not _short(value)):
        spelt = [_block(item, column + 2, newline) if key in SCOPE_LISTS else _flow_or_text(item) for item in value]
        start = f"{newline}{' ' * column}- "
        return f"{key}:{start}{start.join(spelt)}"
    return f"{key}: {_flow_or_text(value)}"


def _short(value: list[Raw]) -> bool:
    """Whether a list stands on one line: of short words, or of points."""
    return all(_short(item) if isinstance(item, list) else _is_short_word(item) for item in value)


def _is_short_word(item: Raw) -> bool:
    return isinstance(item, str) and " " not in item and len(item) < 30


def _flow_or_text(value: Raw) -> str:
    return _scalar(value) if isinstance(value, str) else _flow(value)


def _block(value: Raw, column: int, newline: str) -> str:
    if not isinstance(value, dict):
        return _flow_or_text(value)
    pad = newline + " " * column
    return pad.join(_entry(key, item, column, newline) for key, item in value.items())


def _flow(value: Raw) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_scalar(key)}: {_flow(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return _scalar(value)


def _scalar(text: str) -> str:
    """A text as YAML spells it: plain where it cannot be taken for anything else, else in double quotes."""
    return text if _PLAIN.match(text) and text not in _MEANS_NOTHING else json.dumps(text, ensure_ascii=False)


# --- the file on disk ---------------------------------------------------------------------------------------


class AnswersFile:
    """An answers file on disk: read afresh before each change, and replaced whole."""

    def __init__(self, path: Path, top: str) -> None:
        """`top` is what a new file starts with: lines of comment."""
        self.path = path
        self._top = top

    def read(self) -> Source:
        """The file as it stands, untyped; where there is none yet, as if its top lines alone stood there.

        Raises `CannotWrite` where it cannot be opened.
        """
        return read_bytes(self.raw(), str(self.path), typed=False)

    def change(
        self, changes: Sequence[AnyChange], check: Callable[[bytes], None] | None = None, last: Source | None = None
    ) -> Source:
        """Makes changes and saves them; the file as it then stands. Raises `CannotChange` or `CannotWrite`.

        Nobody else who saves through here comes between the reading and the saving; `check` is asked between the two
        of what was read, and what it raises leaves the file as it stands. Where the file still stands as it was last
        read, that need not be read again.
        """
        with _held(self.path) as real:
            raw = self.raw()
            if check is not None:
                check(raw)
            try:
                text = raw.decode("utf-8")
            except UnicodeDecodeError:
                raise CannotChange(f"{self.path} is not UTF-8 text: save it as UTF-8 text") from None
            mark = "\ufeff" if text.startswith("\ufeff") else ""
            standing = last if last is not None and last.raw == raw and not last.problems else None
            bare, read = _changed(text.removeprefix(mark), changes, standing)
            found = mark + bare
            if found != text or not self.path.exists():
                _save(real, found.encode())
        read.file, read.raw = str(self.path), found.encode()
        return read

    def put_back(self, standing: bytes, before: bytes) -> bool:
        """Puts back what stood in the file, if it stands as it was left; whether it did. Raises `CannotWrite`."""
        with _held(self.path) as real:
            if self.raw() != standing:
                return False
            _save(real, before)
        return True

    def raw(self) -> bytes:
        """The file as it stands; of one that is too large no more than tells that it is."""
        try:
            with self.path.open("rb") as stream:
                return stream.read(MOST_YAML_BYTES + 1)
        except FileNotFoundError:
            return self._top.encode()
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise CannotWrite(f"{self.path}: cannot be opened ({reason}): name a file you may change") from None


@contextlib.contextmanager
def _held(path: Path) -> Iterator[Path]:
    """The file that a path leads to, whose folder nobody else writes in meanwhile."""
    real = real_path(path)
    if not is_folder(real.parent):
        what = "its folder is a file" if is_file(real.parent) else "it has no folder"
        raise CannotWrite(f"{path}: cannot be saved ({what}): make the folder {real.parent} first")
    with only_writer(real.parent, _ANOTHER):
        yield real


def _save(path: Path, data: bytes) -> None:
    """Replaces a file whole or not at all; its permissions stay."""
    if why := blocked(path):
        raise CannotWrite(f"{path}: cannot be saved, it {why}: {_ANOTHER}")
    replace_one(path, data)
