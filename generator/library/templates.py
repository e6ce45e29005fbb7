"""Reads the templates: the papers, as drafts that layers may change before they are made, and the fixed words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from pathlib import Path
from typing import Annotated, Any, Final, Generic, Literal, TypeVar

from generator.files.errors import Mark, shown
from generator.files.shapes import FILLED, Before, Number, Shape, names_of, within
from generator.files.source import Path_, Source, read_file
from generator.library.paper_kinds import PAPERS
from generator.library.reading import Reading
from generator.values import Struct, field

MARKER: Final = "words.yaml"
WORD_FILES: Final = (MARKER, "terminal.yaml", "explain.yaml", "survey.yaml", "drawings.yaml", "house-style.yaml")
FILES: Final = (*WORD_FILES, *(f"{name}.yaml" for name in PAPERS))

# --- shapes -------------------------------------------------------------------------------------------------


def alone(key: str, value: Any) -> Any:
    """An entry that has nothing else to say may be a word alone: `masonry` for `{shows: masonry}`."""
    return {key: value} if isinstance(value, str) else value


class RowShape(Shape, frozen=True):
    """A row: the fact it shows, or what its part makes; blank where it shows nothing."""

    shows: str = ""
    label: str = ""
    if_answered: bool = False


class ColumnShape(Shape, frozen=True):
    """A column, with its share of the line; `by_work` names the fact that it shows for each kind of work.

    `asked_by` are clauses: where none of them stands, the column is left out.
    """

    share: Annotated[Number, within(0.01, 1)]
    shows: str = ""
    by_work: dict[str, str] = field(default_factory=dict)
    asked_by: tuple[str, ...] = ()
    label: str = ""
    align: Literal["left", "right"] = "left"


Row = Annotated[RowShape, Before(partial(alone, "shows"))]


class PartOptions(Shape, frozen=True):
    """What a part says of itself, whatever its kind; which of it a part takes is checked when it is made."""

    part: str
    heading: str = ""
    label: str = ""
    header: str = ""
    caption: str = ""
    about: str = ""
    text: str = ""
    if_none: str = ""
    style: Literal["body", "lead", "small"] = "body"
    lines: dict[str, str] = field(default_factory=dict)
    rows: Annotated[tuple[Row, ...], FILLED] = ()
    columns: Annotated[tuple[ColumnShape, ...], FILLED] = ()
    _given: frozenset[str] = frozenset()


class PartShape(PartOptions, frozen=True):
    """A part of a paper. A part of words alone has a name of its own, by which a layer finds it."""

    name: str = ""
    parts: Annotated[tuple[Part, ...], FILLED] = ()


Part = Annotated[PartShape, Before(partial(alone, "part"))]


class PaperShape(Shape, frozen=True):
    """A paper: its title, its parts in order, and the words that the program chooses between."""

    title: str
    parts: tuple[Part, ...]
    words: dict[str, Any] = field(default_factory=dict)


# --- drafts -------------------------------------------------------------------------------------------------

Written = TypeVar("Written")


class Placed(Struct, Generic[Written], frozen=True):
    """Something that was written, with its place."""

    value: Written
    source: Source
    path: Path_

    @property
    def mark(self) -> Mark:
        """Where it stands."""
        return self.source.mark(self.path)


class Draft(Struct):
    """A part of a paper, or a whole one, as it was read: each of its options with its place.

    `parts`, `rows` and `lines` are lists of its own; `options` holds the others, `columns` among them.
    """

    part: Placed[str]
    name: str
    options: dict[str, Placed[Any]] = field(default_factory=dict)
    lines: dict[str, Placed[str]] = field(default_factory=dict)
    rows: list[Placed[RowShape]] = field(default_factory=list)
    parts: list[Draft] = field(default_factory=list)

    def given(self) -> Iterator[str]:
        """The options that it has."""
        yield from self.options
        yield from (name for name in ("lines", "rows", "parts") if getattr(self, name))

    def mark(self, option: str = "") -> Mark:
        """Where an option of it stands; where it begins if it has none of that name."""
        if option in self.options:
            return self.options[option].mark
        parts = (inner.part for inner in self.parts)
        listed: dict[str, Iterable[Placed[Any]]] = {"lines": self.lines.values(), "rows": self.rows, "parts": parts}
        return next((entry.mark for entry in listed.get(option, ())), self.part.mark)

    def within(self) -> Iterator[Draft]:
        """Itself and every part inside it."""
        yield self
        for part in self.parts:
            yield from part.within()


_LISTS: Final = ("part", "name", "lines", "rows", "parts")


def draft(shape: PartShape, source: Source, path: Path_) -> Draft:
    """A part as a draft; `path` is its place in the source."""
    found = Draft(Placed(shape.part, source, path), shape.name or shape.part)
    change_options(found, shape, source, path)
    change_lines(found, shape, source, path)
    found.rows = [Placed(row, source, (*path, "rows", index)) for index, row in enumerate(shape.rows)]
    found.parts = [draft(part, source, (*path, "parts", index)) for index, part in enumerate(shape.parts)]
    return found


def change_options(found: Draft, shape: PartOptions, source: Source, path: Path_) -> None:
    """Gives a draft the options that were written, but its lists."""
    for name in names_of(PartOptions):
        if name in shape._given and name not in _LISTS:
            found.options[name] = Placed(getattr(shape, name), source, (*path, name))


def change_lines(found: Draft, shape: PartOptions, source: Source, path: Path_) -> None:
    """Gives a draft the lines that were written, those of a key it has in their place."""
    for key, line in shape.lines.items():
        found.lines[key] = Placed(line, source, (*path, "lines", key))


# --- files --------------------------------------------------------------------------------------------------


def read_templates(folder: Path, label: str, reading: Reading) -> None:
    """Keeps the drafts of the papers (`paper`) and the words (`word`) of a folder. Mistakes are noted."""
    if not (folder / MARKER).is_file():
        what = f"holds no {MARKER}" if folder.is_dir() else "is no folder"
        reading.note(Mark(label), what, "name the folder of the templates")
        return
    for path in sorted(folder.glob("*.y*ml")):
        if path.name not in FILES:
            reading.note(
                Mark(f"{label}/{path.name}"), "is not a file of the templates", reading.problems.near(path.name, FILES)
            )
            continue
        source = read_file(path, f"{label}/{path.name}")
        reading.problems += source.problems
        reading.digest.update(f"templates/{path.name}".encode() + b"\0" + source.raw + b"\0")
        if not source.broken:
            _read_one(path.stem, source, reading)


def _read_one(name: str, source: Source, reading: Reading) -> None:
    if name not in PAPERS:
        for key, text in words_of(source, reading):
            _keep_word(key, text, source, reading)
        return
    shape = reading.shape(PaperShape, source.data, source, ())
    if shape is not None:
        reading.keep("paper", name, paper_draft(name, shape, source), source, ())
        for key, text in shape.words.items():
            _keep_word(key, text, source, reading)


def paper_draft(name: str, shape: PaperShape, source: Source) -> Draft:
    """A whole paper as a draft."""
    found = Draft(Placed(name, source, ()), name, {"title": Placed(shape.title, source, ("title",))})
    found.parts = [draft(part, source, ("parts", index)) for index, part in enumerate(shape.parts)]
    return found


def words_of(source: Source, reading: Reading) -> Iterator[tuple[str, Any]]:
    """The words of a file that holds nothing else, by key."""
    data = source.data if isinstance(source.data, dict) else {}
    if not isinstance(data.get("words"), dict):
        what, to_do = "has no mapping 'words:'", "write 'key: text' on lines below 'words:'"
        reading.note(source.mark(("words",)), what, to_do)
        return
    for key in data.keys() - {"words"}:
        reading.note(
            source.key_mark((key,)), f"has an unknown key '{shown(key)}'", reading.problems.near(key, ["words"])
        )
    yield from data["words"].items()


def _keep_word(key: str, text: Any, source: Source, reading: Reading) -> None:
    if isinstance(text, str):
        reading.keep("word", key, text, source, ("words", key))
    else:
        reading.note(source.mark(("words", key)), f"the word '{shown(key)}' is not a text", "put it in quotes")
