"""Reads YAML strictly, with the place of every value: no tags, anchors, double keys or guessed types."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

import yaml

from generator.errors import InputInvalid, Mark, Problem

MAX_BYTES: Final = 2_000_000
MAX_DEPTH: Final = 40
_LOADER: Final[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_CONTROL: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff\ud800-\udfff]")
_INTEGER: Final = re.compile(r"[-+]?(0|[1-9][0-9]*)\Z")
_DECIMAL: Final = re.compile(r"[-+]?(0|[1-9][0-9]*)\.[0-9]+\Z")
_CONSTANTS: Final[dict[str, object]] = {"true": True, "false": False, "null": None, "~": None, "": None}

Path_ = tuple[str | int, ...]


@dataclass(slots=True)
class Source:
    """One file as read: its plain values, the mark of each, and the problems met on the way.

    `data` holds dicts, lists and scalars. With `typed` reading, plain scalars are bool, None, int, Decimal
    or str; otherwise every scalar is the text as spelt, and a blank one is None.
    """

    file: str
    data: Any = None
    marks: dict[Path_, Mark] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    raw: bytes = b""

    def mark(self, path: Path_) -> Mark:
        """The place of the value at a path, or of the nearest thing above it that has one."""
        for end in range(len(path), -1, -1):
            found = self.marks.get(path[:end])
            if found is not None:
                return found
        return Mark(self.file)

    def problem(self, path: Path_, what: str, to_do: str) -> None:
        """Notes a mistake at a path."""
        self.problems.append(Problem(self.mark(path), what, to_do))


def read_file(path: Path, name: str | None = None, typed: bool = True) -> Source:
    """A YAML file as a `Source`; problems of reading are in it, never raised."""
    label = name if name is not None else str(path)
    try:
        if path.stat().st_size > MAX_BYTES:
            return _refused(label, "the file is too large to be answers or clauses", f"keep it under {MAX_BYTES:,} bytes")
        raw = path.read_bytes()
    except OSError as error:
        return _refused(label, f"cannot be read ({error.strerror or error})", "check the path and its permissions")
    return read_bytes(raw, label, typed)


def read_bytes(raw: bytes, label: str, typed: bool = True) -> Source:
    """YAML text as a `Source`; `label` stands for the file in its marks."""
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        return _refused(label, "is not UTF-8 text", "save it as UTF-8 text, not as a binary or other encoding", line)
    control = _CONTROL.search(text)
    if control:
        line = text.count("\n", 0, control.start()) + 1
        column = control.start() - text.rfind("\n", 0, control.start())
        what = f"holds a control character (U+{ord(control[0]):04X})"
        return _refused(label, what, "delete it; papers cannot show it", line, column)
    source = Source(label, raw=raw)
    _Builder(source, typed).build(text)
    return source


def require(source: Source) -> Source:
    """The source, if it was read without problems; else raises `InputInvalid`."""
    if source.problems:
        raise InputInvalid(source.problems)
    return source


def _refused(label: str, what: str, to_do: str, line: int = 0, column: int = 1) -> Source:
    source = Source(label)
    source.problems.append(Problem(Mark(label, line, column if line else 0), what, to_do))
    return source


class _Builder:
    """Turns the parser's events into plain values, keeping marks and refusing what is not plain data."""

    def __init__(self, source: Source, typed: bool) -> None:
        self.source = source
        self.typed = typed

    def build(self, text: str) -> None:
        events = iter(yaml.parse(text, Loader=_LOADER))
        try:
            for event in events:
                if isinstance(event, yaml.DocumentStartEvent):
                    if self.source.data is not None:
                        self._note(event, "holds a second document", "keep one document in a file")
                        return
                    self.source.data = self._value(next(events), events, ())
        except yaml.MarkedYAMLError as error:
            self._syntax(error)
        except yaml.YAMLError as error:
            self.source.problems.append(Problem(Mark(self.source.file), f"is not YAML ({error})", "mend the syntax"))

    def _syntax(self, error: yaml.MarkedYAMLError) -> None:
        place = error.problem_mark or error.context_mark
        mark = Mark(self.source.file, place.line + 1, place.column + 1) if place else Mark(self.source.file)
        what = " ".join(filter(None, [error.problem, error.context])) or "cannot be parsed"
        to_do = "mend the YAML here; quote texts that hold ': ', '#', '{', '[' or a leading '*', '&', '!', '%', '@'"
        self.source.problems.append(Problem(mark, f"is not YAML: {what}", to_do))

    def _note(self, event: Any, what: str, to_do: str) -> None:
        self.source.problems.append(Problem(self._mark(event), what, to_do))

    def _mark(self, event: Any) -> Mark:
        return Mark(self.source.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _value(self, event: Any, events: Iterator[Any], path: Path_) -> Any:
        if len(path) > MAX_DEPTH:
            self._note(event, "is nested too deeply", "flatten it")
            raise yaml.MarkedYAMLError(problem="nested too deeply", problem_mark=event.start_mark)
        self.source.marks.setdefault(path, self._mark(event))
        self._refuse_specials(event)
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._list(events, path)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(events, path)
        return None

    def _refuse_specials(self, event: Any) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._note(event, f"refers to an anchor (*{event.anchor})", "write the value out; anchors are not used here")
        elif event.anchor is not None:
            self._note(event, f"sets an anchor (&{event.anchor})", "write the value out; anchors are not used here")
        if getattr(event, "tag", None) not in (None, "!"):
            self._note(event, f"has a tag ({event.tag})", "remove the tag; only plain values are read")

    def _list(self, events: Iterator[Any], path: Path_) -> list[Any]:
        items: list[Any] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            items.append(self._value(event, events, (*path, len(items))))
        return items

    def _mapping(self, events: Iterator[Any], path: Path_) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            if not isinstance(event, yaml.ScalarEvent):
                self._note(event, "has a list or mapping as a key", "use a plain word as the key")
                self._value(event, events, (*path, "?"))
                self._value(next(events), events, (*path, "?"))
                continue
            self._refuse_specials(event)
            key = str(event.value)
            if key in found:
                first = self.source.mark((*path, key))
                self._note(event, f"gives '{key}' a second time (first on line {first.line})", "keep one of the two")
                self._value(next(events), events, (*path, key, "?"))
                continue
            self.source.marks[(*path, key)] = self._mark(event)
            found[key] = self._value(next(events), events, (*path, key))
        return found

    def _scalar(self, event: Any) -> Any:
        text = str(event.value)
        plain = event.style in (None, "")
        if not self.typed:
            return None if plain and text in ("", "~", "null") else text
        if not plain:
            return text
        if text in _CONSTANTS:
            return _CONSTANTS[text]
        if _INTEGER.match(text):
            return int(text)
        if _DECIMAL.match(text):
            return Decimal(text)
        return text
