"""What the template of a paper says: its parts in order, what each shows, and in which words."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Final

from generator.document.model import Block, Column, Heading, ListBlock, Paragraph, Row, Table, Text, plain_text
from generator.values import Struct, field, replace

TEXT: Final = "text"
"""The part that is nothing but words, and may stand wherever parts of any kind may."""

EVERY_WORK: Final = "all"
"""The key of a line that stands whatever works a job has."""

VALUE: Final = "{value}"
"""Stands for a fact in the label of a row that tells it in a sentence."""

_PLACE: Final = re.compile(r"\{([a-z][a-z0-9_]*)\}")


def filled(text: str, **fills: str) -> str:
    """A text with its `{places}` filled; those that nothing fills stay as they are."""
    return filled_by(text, fills)


def filled_by(text: str, fills: Mapping[str, str]) -> str:
    """A text filled likewise by a mapping of many, which is not copied for each text."""
    return _PLACE.sub(lambda match: fills.get(match[1], match[0]), text)


def places(text: str) -> tuple[str, ...]:
    """The `{places}` of a text."""
    return tuple(_PLACE.findall(text))


class Shown(Struct, frozen=True):
    """A row or column: the fact it shows, or what its part makes, under a label; blank, to write in, if nothing.

    `share` is that of the line, for a column; `by_work` the fact for each kind of work; `if_answered` leaves a row out
    while nobody answered; `asked_by` are the clauses without which a column is left out.
    """

    shows: str = ""
    label: str = ""
    share: float = 0.0
    align: str = "left"
    by_work: Mapping[str, str] = field(default_factory=dict)
    if_answered: bool = False
    asked_by: tuple[str, ...] = ()

    def name(self, work: str) -> str:
        """What it shows for a kind of work."""
        return self.by_work.get(work, "") if self.by_work else self.shows


class PaperPart(Struct, frozen=True):
    """A part of a paper. Which options it has is a matter of its kind; those it has not are empty.

    `heading` stands over it, `label` leads its line, `header` heads its pages, `caption` its table or figure; `about`
    tells a reader who cannot see it what it is; `if_none` stands where it has nothing to show.
    """

    part: str
    heading: str = ""
    label: str = ""
    header: str = ""
    caption: str = ""
    about: str = ""
    text: str = ""
    if_none: str = ""
    style: str = "body"
    lines: Mapping[str, str] = field(default_factory=dict)
    rows: tuple[Shown, ...] = ()
    columns: tuple[Shown, ...] = ()
    parts: tuple[PaperPart, ...] = ()

    @property
    def heads(self) -> tuple[Column, ...]:
        """The columns of its table."""
        return tuple(Column(column.label, column.share, column.align) for column in self.columns)

    def without_columns(self, names: Collection[str]) -> PaperPart:
        """It without the columns of those names, which leave their room to the others."""
        return self._sharing(column for column in self.columns if column.shows not in names)

    def asked_for(self, clauses: Collection[str]) -> PaperPart:
        """It without the columns that none of some clauses asks for, which leave their room to the others."""
        asked = set(clauses)
        return self._sharing(it for it in self.columns if not it.asked_by or not asked.isdisjoint(it.asked_by))

    def _sharing(self, columns: Iterable[Shown]) -> PaperPart:
        """It with some of its columns, which fill the line."""
        kept = tuple(columns)
        whole = sum(column.share for column in kept)
        return replace(self, columns=tuple(replace(column, share=column.share / whole) for column in kept))

    def without_rows(self, names: Collection[str]) -> PaperPart:
        """It without the rows of those names."""
        return replace(self, rows=tuple(row for row in self.rows if row.shows not in names))

    def table(self, rows: Iterable[Row], anchor: str = "", *, small: bool = True) -> Table:
        """Its table; with an anchor others can refer to it."""
        told, rows = self.about or self.caption or self.heading, tuple(rows)
        heads = tuple(
            replace(head, for_pen=not column.shows and not any(plain_text(row.cells[at]).strip() for row in rows))
            for at, (head, column) in enumerate(zip(self.heads, self.columns, strict=True))
        )
        return Table(heads, rows, self.caption, anchor, description=told, small=small)

    def said(self) -> Iterator[Block]:
        """Its words alone: heading, text and lines, those that it has."""
        if self.heading:
            yield Heading(2, (Text(self.heading),))
        if self.text:
            yield Paragraph((Text(self.text),), self.style)
        if self.lines:
            yield ListBlock(tuple((Text(line),) for line in self.lines.values()))

    def filled(self, **fills: str) -> PaperPart:
        """It with the `{places}` of its words filled."""
        return replace(
            self,
            heading=filled_by(self.heading, fills),
            caption=filled_by(self.caption, fills),
            about=filled_by(self.about, fills),
            text=filled_by(self.text, fills),
        )

    def inner(self, name: str) -> PaperPart | None:
        """The part of a name inside it; None where there is none."""
        return next((part for part in self.parts if part.part == name), None)

    def texts(self) -> Iterator[str]:
        """Everything that it says in words of its own."""
        yield from (self.heading, self.label, self.header, self.caption, self.about, self.text, self.if_none)
        yield from self.lines.values()
        yield from (shown.label for shown in (*self.rows, *self.columns))

    def within(self) -> Iterator[PaperPart]:
        """Itself and every part inside it, in order."""
        yield self
        for part in self.parts:
            yield from part.within()


class Paper(Struct, frozen=True):
    """A paper: its title, and its parts in order."""

    title: str
    parts: tuple[PaperPart, ...]

    def parts_within(self) -> Iterator[PaperPart]:
        """Every part of it, those inside others too, in order."""
        return (part for each in self.parts for part in each.within())

    def said(self) -> Iterator[str]:
        """Everything that it says in words of its own."""
        yield self.title
        yield from (text for part in self.parts_within() for text in part.texts() if text)

    def find(self, name: str) -> PaperPart | None:
        """The part of a name, wherever it stands; None where the paper does without it."""
        return next((part for part in self.parts_within() if part.part == name), None)

    def part(self, name: str) -> PaperPart:
        """The part of a name that no paper of this kind does without."""
        found = self.find(name)
        if found is None:
            raise KeyError(f"the paper '{self.title}' has no part '{name}'")
        return found
