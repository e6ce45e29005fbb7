"""Reads YAML strictly, with the place of every value: no tags, anchors, double keys or guessed types."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Any, Final, Protocol, cast

import yaml

from generator.files.errors import InputInvalid, Mark, Problem, shown
from generator.files.limits import MOST_DIGITS, MOST_YAML_BYTES, MOST_YAML_DEPTH, MOST_YAML_VALUES
from generator.files.mistakes import Mistakes
from generator.values import Struct, field

_LOADER: Final[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
# U+0085, U+2028 and U+2029 break lines for YAML and not for editors: lines would be counted differently.
NO_TEXT: Final = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff\ud800-\udfff"
    "\u00ad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufff9-\ufffb\U000e0000-\U000e007f]"
)
"""What no text of answers or clauses holds: controls, marks that turn words round, and what nobody sees."""

_INTEGER: Final = re.compile(r"[-+]?(0|[1-9][0-9]*)\Z")
_DECIMAL: Final = re.compile(r"[-+]?(0|[1-9][0-9]*)\.[0-9]+\Z")
_CONSTANTS: Final[dict[str, object]] = {"true": True, "false": False, "null": None, "~": None, "": None}
_BLANK: Final = ("", "~", "null")
_ENDS: Final[Any] = (yaml.SequenceEndEvent, yaml.MappingEndEvent)
_TOO_DEEP: Final = "is nested too deeply to be answers or clauses"

Path_ = tuple[str | int, ...]


class _Place(Protocol):
    """A place as the parser tells it, counted from 0; turned into a mark only when one is asked for."""

    line: int
    column: int


class Source(Struct):
    """One file as read: its plain values, the marks of values and keys, and the problems met on the way.

    `data` holds dicts, lists and scalars. With `typed` reading, plain scalars are bool, None, int, Decimal
    or str; otherwise every scalar is the text as spelt, and a blank one is None. `broken` tells that reading
    stopped part of the way, so that what is missing from `data` says nothing. `events` are what the parser told of
    answers, from which it is told where everything stands.
    """

    file: str
    data: Any = None
    marks: dict[Path_, _Place] = field(default_factory=dict)
    keys: dict[Path_, _Place] = field(default_factory=dict)
    problems: Mistakes = field(default_factory=Mistakes)
    raw: bytes = b""
    broken: bool = False
    events: list[Any] = field(default_factory=list)

    def mark(self, path: Path_) -> Mark:
        """The place of the value at a path, of its key if it is blank, or of the nearest thing above."""
        for end in range(len(path), -1, -1):
            found = self.marks.get(path[:end]) or self.keys.get(path[:end])
            if found is not None:
                return self._at(found)
        return Mark(self.file)

    def key_mark(self, path: Path_) -> Mark:
        """The place of the key at a path; of the value where there is no key."""
        found = self.keys.get(path)
        return self.mark(path) if found is None else self._at(found)

    def _at(self, place: _Place) -> Mark:
        return Mark(self.file, place.line + 1, place.column + 1)

    def problem(self, path: Path_, what: str, to_do: str) -> None:
        """Notes a mistake in the value at a path."""
        self.problems.append(Problem(Mark(self.file) if self.problems.is_full else self.mark(path), what, to_do))

    def key_problem(self, path: Path_, what: str, to_do: str) -> None:
        """Notes a mistake in the key at a path."""
        self.problems.append(Problem(self.key_mark(path), what, to_do))


def read_file(path: Path, name: str | None = None, typed: bool = True) -> Source:
    """A YAML file as a `Source`; problems of reading are in it, never raised."""
    label = name if name is not None else str(path)
    try:
        with path.open("rb") as stream:
            raw = stream.read(MOST_YAML_BYTES + 1)
    except IsADirectoryError:
        return _refused(label, "is a folder", f"name a file in it, such as {path / 'answers.yaml'}")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        return _refused(label, f"cannot be read ({reason})", "check the path and its permissions")
    return read_bytes(raw, label, typed)


def read_bytes(raw: bytes, label: str, typed: bool = True) -> Source:
    """YAML text as a `Source`; `label` stands for the file in its marks."""
    if len(raw) > MOST_YAML_BYTES:
        return _refused(label, "is too large to be answers or clauses", f"keep it under {MOST_YAML_BYTES:,} bytes")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        column = error.start - raw.rfind(b"\n", 0, error.start)
        return _refused(label, "is not UTF-8 text", "save it as UTF-8 text", raw, Mark(label, line, column))
    control = NO_TEXT.search(text)
    if control:
        if b"\0" in raw[:4]:
            return _refused(label, "is not UTF-8 text", "save it as UTF-8 text", raw, Mark(label, 1, 1))
        line = text.count("\n", 0, control.start()) + 1
        column = control.start() - text.rfind("\n", 0, control.start())
        return _refused(label, _holds(control[0]), "delete it", raw, Mark(label, line, column))
    source = Source(label, raw=raw)
    _Builder(source, typed).build(text)
    return source


def require(source: Source) -> Source:
    """The source, if it was read without problems; else raises `InputInvalid`."""
    if source.problems:
        raise InputInvalid(source.problems, source.problems.more)
    return source


# --- where things stand in the text -------------------------------------------------------------------------


class Span(Struct, frozen=True):
    """Where a value stands: from its first character to past its last, counted without a byte order mark.

    Comments and blank lines below a value are not its own. `blank` tells that it says nothing.
    """

    start: int
    end: int
    column: int
    blank: bool = False


class ListSpan(Span, frozen=True):
    """Where a list and its items stand; `flow` if it stands in brackets."""

    flow: bool = False
    items: list[Span] = field(default_factory=list)


class MappingSpan(Span, frozen=True):
    """Where a mapping stands, and each of its keys with its value; `flow` if it stands in braces."""

    flow: bool = False
    pairs: dict[str, tuple[Span, Span]] = field(default_factory=dict)


def spans(source: Source) -> Span | None:
    """Where everything in a source stands; None where nothing does. Raises `InputInvalid` if it has problems."""
    text = require(source).raw.decode("utf-8-sig")
    events: Iterator[Any] = iter(source.events or yaml.parse(text, Loader=_LOADER))
    if not any(isinstance(event, yaml.DocumentStartEvent) for event in events):
        return None
    root = next(events)
    return _span(root, events, text, root.start_mark.index)


def _span(event: Any, events: Iterator[Any], text: str, after: int) -> Span:
    """The span of a value whose text begins after a place: past its key, or where it starts itself."""
    start, stop, column = event.start_mark.index, event.end_mark.index, event.start_mark.column
    if isinstance(event, yaml.ScalarEvent):
        # a block of text is marked past the blank lines below it, a value that is not there at what comes next
        end = after + len(text[after:stop].rstrip(" \t\r\n"))
        return Span(min(start, end), end, column, not event.style and event.value in _BLANK)
    flow = bool(event.flow_style)
    if isinstance(event, yaml.SequenceStartEvent):
        items: list[Span] = []
        while not isinstance(inner := next(events), _ENDS):
            items.append(_span(inner, events, text, inner.start_mark.index))
        return ListSpan(start, inner.end_mark.index if flow else items[-1].end, column, not items, flow, items)
    pairs: dict[str, tuple[Span, Span]] = {}
    while not isinstance(inner := next(events), _ENDS):
        name = _span(inner, events, text, inner.start_mark.index)
        pairs[inner.value] = name, _span(next(events), events, text, name.end)
    last = inner.end_mark.index if flow else list(pairs.values())[-1][1].end
    return MappingSpan(start, last, column, False, flow, pairs)


def _refused(label: str, what: str, to_do: str, raw: bytes = b"", mark: Mark | None = None) -> Source:
    return Source(label, problems=Mistakes([Problem(mark or Mark(label), what, to_do)]), raw=raw, broken=True)


def _holds(char: str) -> str:
    if unicodedata.category(char) == "Cf" and char != "\ufeff":
        return f"holds an invisible mark (U+{ord(char):04X}) that makes words read as others than they are"
    return f"holds a control character (U+{ord(char):04X}) that papers cannot show"


class _Stop(Exception):
    """Ends the reading of a file whose rest cannot be understood; the problem is noted already."""


class _Builder:
    """Turns the parser's events into plain values, keeping marks and refusing what is not plain data."""

    def __init__(self, source: Source, typed: bool) -> None:
        self.source = source
        self.typed = typed
        self.left = MOST_YAML_VALUES

    def build(self, text: str) -> None:
        try:
            self._documents(self._events(text))
            return
        except yaml.MarkedYAMLError as error:
            self.source.problems.append(_syntax(error, text, self.source.file))
        except (yaml.YAMLError, RecursionError):
            self.source.problems.append(Problem(Mark(self.source.file), "is not YAML", "mend its layout"))
        except _Stop:
            pass
        self.source.broken = True

    def _events(self, text: str) -> Iterator[Any]:
        for event in yaml.parse(text, Loader=_LOADER):
            if not self.typed:
                self.source.events.append(event)
            yield event

    def _documents(self, events: Iterator[Any]) -> None:
        begun = False
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if begun:
                    self._note(event, "starts a second document", "keep one document in a file; remove the '---'")
                    return
                begun = True
                self.source.data = self._value(next(events), events, ())

    def _note(self, event: Any, what: str, to_do: str) -> None:
        self.source.problems.append(Problem(self._mark(event), what, to_do))

    def _mark(self, event: Any) -> Mark:
        return Mark(self.source.file, event.start_mark.line + 1, event.start_mark.column + 1)

    def _value(self, event: Any, events: Iterator[Any], path: Path_) -> Any:
        if len(path) > MOST_YAML_DEPTH:
            self._note(event, _TOO_DEEP, "flatten it")
            raise _Stop
        self.left -= 1
        if self.left < 0:
            self._note(event, f"is the value after {MOST_YAML_VALUES:,} others, and no more are read", "part the file")
            raise _Stop
        self._refuse_specials(event)
        if isinstance(event, yaml.ScalarEvent):
            if event.value or event.style:
                self.source.marks[path] = cast("_Place", event.start_mark)
            return self._scalar(event)
        self.source.marks[path] = event.start_mark
        if isinstance(event, yaml.SequenceStartEvent):
            return self._list(events, path)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(events, path)
        return None

    def _refuse_specials(self, event: Any) -> None:
        to_do = "write the value out; anchors are not used here"
        if isinstance(event, yaml.AliasEvent):
            self._note(event, f"refers to an anchor (*{shown(str(event.anchor))})", to_do)
        elif event.anchor is not None:
            self._note(event, f"sets an anchor (&{shown(event.anchor)})", to_do)
        tag = getattr(event, "tag", None)
        if tag not in (None, "!"):
            self._note(event, f"has a tag ({shown(tag)})", "remove the tag; only plain values are read")

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
            key = self._key(event, events, path)
            if key is None or key in found:
                self._refuse_key(event, key, path)
                self._value(next(events), events, (*path, key or "", "?"))
                continue
            self.source.keys[(*path, key)] = event.start_mark
            found[key] = self._value(next(events), events, (*path, key))
        return found

    def _key(self, event: Any, events: Iterator[Any], path: Path_) -> str | None:
        if isinstance(event, yaml.ScalarEvent):
            self._refuse_specials(event)
            self._refuse_controls(event)
            return None if event.value == "<<" and not event.style else str(event.value)
        self._value(event, events, (*path, "?"))
        return None

    def _refuse_key(self, event: Any, key: str | None, path: Path_) -> None:
        if key is not None:
            first = self.source.keys[(*path, key)].line + 1
            self._note(event, f"gives '{shown(key)}' a second time (first on line {first})", "keep one of the two")
        elif isinstance(event, yaml.ScalarEvent):
            self._note(event, "merges other keys in with '<<'", "write the keys out")
        else:
            to_do = "use a plain word as the key; quote a text that starts with '{' or '['"
            self._note(event, "has a list or mapping as a key", to_do)

    def _refuse_controls(self, event: Any) -> None:
        control = NO_TEXT.search(event.value)
        if control:
            self._note(event, _holds(control[0]), "delete it")

    def _scalar(self, event: Any) -> Any:
        text = str(event.value)
        plain = event.style in (None, "")
        if not plain:
            self._refuse_controls(event)
        if not self.typed:
            return None if plain and text in _BLANK else text
        if not plain:
            return text
        if text in _CONSTANTS:
            return _CONSTANTS[text]
        if _INTEGER.match(text) or _DECIMAL.match(text):
            if len(text) > MOST_DIGITS:
                self._note(event, f"has a number of {len(text):,} digits", f"write at most {MOST_DIGITS}")
                return 0
            return Decimal(text) if "." in text else int(text)
        return text


# --- syntax errors, in plain English ------------------------------------------------------------------------

_LAYOUT: Final = "line it up with its neighbours, with spaces only, or put the whole text in quotes"
_NEIGHBOURS: Final = "breaks the layout of its neighbours"
_QUOTE: Final = "put the whole text in quotes"
# What the parser says, what that means, what to do, and whether it went wrong where the thing began.
_SAID: Final = (
    ("maximum nesting depth", _TOO_DEEP, "flatten it", False),
    (
        "mapping values are not",
        "has a ': ' where none can stand",
        f"{_QUOTE}, or mend the indentation",
        False,
    ),
    ("unexpected end of stream", "opens a quote that is never closed", "close the quote", True),
    ("document indicator", "opens a quote that is never closed", "close the quote", True),
    ("escape", "has a backslash that means nothing", "double the backslash, or use single quotes", False),
    (
        "expected ':'",
        "is neither 'key: value' nor a list item",
        "add the ': ', or quote the text it is part of",
        True,
    ),
    ("',' or ']'", "opens a [ … ] that is not closed, or lacks a comma", f"close it, or {_QUOTE}", True),
    ("',' or '}'", "opens a { … } that is not closed, or lacks a comma", f"close it, or {_QUOTE}", True),
    ("expected '-' indicator", "breaks a list", "start each item with '-' in the same column", False),
    ("expected key", _NEIGHBOURS, _LAYOUT, False),
    ("block collection", _NEIGHBOURS, _LAYOUT, False),
    ("<block end>", _NEIGHBOURS, _LAYOUT, False),
    ("sequence entries", "starts a list where none can stand", "put the list on lines below its key", False),
    ("indentation", "is indented unevenly", _LAYOUT, False),
    ("directive", "has a line that starts with '%'", "remove the line, or quote the text", True),
)


def _syntax(error: yaml.MarkedYAMLError, text: str, file: str) -> Problem:
    """What a syntax error means to somebody who writes answers, and what to do."""
    mark = _in_text(error.problem_mark or error.context_mark, text, file)
    char = _char_at(text, mark)
    if char == "\t":
        return Problem(mark, "has a tab where only spaces can stand", "indent with spaces")
    words = " ".join(filter(None, [error.problem, error.context]))
    for part, what, to_do, begun in _SAID:
        if part in words:
            return Problem(_in_text(error.context_mark, text, file) if begun else mark, what, to_do)
    if char and char in "@`%*&!|>?":
        return Problem(mark, f"has a text that starts with '{char}'", _QUOTE)
    return Problem(mark, "is not YAML here", f"mend the layout, or {_QUOTE}")


def _in_text(place: Any, text: str, file: str) -> Mark:
    lines = text.splitlines() or [""]
    if place is None:
        return Mark(file)
    if place.line >= len(lines):
        return Mark(file, len(lines), len(lines[-1]) + 1)
    return Mark(file, place.line + 1, place.column + 1)


def _char_at(text: str, mark: Mark) -> str:
    lines = text.splitlines()
    line = lines[mark.line - 1] if 0 < mark.line <= len(lines) else ""
    return line[mark.column - 1 : mark.column]
