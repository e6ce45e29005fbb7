"""The neutral document: what a paper holds, before it is Word or a workbook.

Assembling makes these; renderers see these and nothing else. Every value that came from an answer or a
reckoning is a `Value` that knows its name and scope, so a later reader can tell it from a word.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from generator.values import DAY_MONTH_YEAR, Struct, date_spoken

if TYPE_CHECKING:
    from generator.drawing.model import Drawing

# --- inline ---------------------------------------------------------------------------------------------


class Text(Struct, frozen=True):
    """Words of the library."""

    text: str


class Strong(Struct, frozen=True):
    """Emphasised words."""

    content: tuple[Inline, ...]


class Value(Struct, frozen=True):
    """A value in a sentence: its name, the scope it was read in, and how it is spelt here."""

    name: str
    scope: tuple[str, ...]
    text: str


class Ref(Struct, frozen=True):
    """A reference to an anchor of this document; `text` is its number as it stands when the paper is made."""

    anchor: str
    text: str


CLAUSE_NUMBERS: Final = "clause_numbers"
LINE_NUMBERS: Final = "line_numbers"
"""The names of values that are references by number alone, runs drawn together: `7.4–7.6, 8.1`."""


LINE_ANCHOR: Final = "line:"
"""What the anchor of a line to price begins with, before its number."""


class Mark(Struct, frozen=True):
    """A number that others refer to where it stands, in the first column of a table: an anchor among words."""

    anchor: str
    text: str


class Swatch(Struct, frozen=True):
    """A small drawing among words, such as a hatch in a key; it has no words of its own but its alternative text."""

    drawing: Drawing
    text: str = ""


Inline = Text | Strong | Value | Ref | Mark | Swatch
Inlines = tuple[Inline, ...]


def plain_text(content: Inlines) -> str:
    """The words of inlines alone."""
    return "".join([words_of(item) for item in content])


def joined(told: Iterable[Inlines], between: str = ", ") -> Inlines:
    """Inlines one after the other, with words between them."""
    found: list[Inline] = []
    for content in told:
        found += [Text(between), *content] if found else content
    return tuple(found)


def words_of(item: Inline) -> str:
    """The words of one inline."""
    return plain_text(item.content) if isinstance(item, Strong) else item.text


# --- blocks ---------------------------------------------------------------------------------------------


class Paragraph(Struct, frozen=True):
    """A paragraph. Styles: `body`, `label` (led by a run-in label), `facts`, `small`, `lead`, `title`, `subtitle`.

    One that is `asked` is a line to write on; what is behind a tab stands at its end, and before that `room_mm` is left
    to a pen, on a line of its own where the words leave less.
    """

    content: Inlines
    style: str = "body"
    room_mm: float = 0.0


class ListBlock(Struct, frozen=True):
    """A list of short items; ordered lists are numbered (1), (2) … from one. What is `small` is looked up, not read."""

    items: tuple[Inlines, ...]
    ordered: bool = False
    small: bool = False


class Step(Struct, frozen=True):
    """A step of work, in a line if it can be, with what it rests on at the line's end."""

    content: Inlines
    rests_on: Inlines = ()


class Steps(Struct, frozen=True):
    """Steps numbered from `first`; those after the first of a sheet count on from the steps before them."""

    steps: tuple[Step, ...]
    first: int = 1


class Pairs(Struct, frozen=True):
    """A short list in a narrow column: on each line what it is on the left, and its figure or date on the right."""

    title: str
    rows: tuple[tuple[Inlines, Inlines], ...]


class Column(Struct, frozen=True):
    """A table column: heading, width as a share of the line (all shares sum to 1), alignment.

    One `for_pen` is left to be written in by hand and makes its table a form, with upright rules between all columns.
    """

    title: str
    share: float
    align: str = "left"
    for_pen: bool = False


class Row(Struct, frozen=True):
    """A table row, one cell a column. Kinds: `body`, `group` (first cell spans by intent), `total`."""

    cells: tuple[Inlines, ...]
    kind: str = "body"


class Table(Struct, frozen=True):
    """A table with a heading row that repeats. With `caption` it is numbered and can be referred to."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    caption: str = ""
    anchor: str = ""
    number: str = ""
    description: str = ""
    small: bool = False


class Notice(Struct, frozen=True):
    """A boxed notice: a warning, a hazard, an open question. Levels as `errors.LEVELS`, and `hazard`."""

    level: str
    title: str
    blocks: tuple[Block, ...]


class Picture(Struct, frozen=True):
    """A picture as a JPEG file, printed so large, with its alternative text."""

    jpeg: bytes
    width_mm: float
    height_mm: float
    alt: str


class Figure(Struct, frozen=True):
    """A drawing or a picture in line with the text, with its caption; it carries its own alternative text."""

    drawing: Drawing | Picture
    caption: str = ""
    anchor: str = ""
    number: str = ""


class Heading(Struct, frozen=True):
    """A heading. Numbered ones carry their number; `anchor` is the bookmark others refer to.

    `level` 1 is a part; an unnumbered level 1 is front matter. `starts_page` puts it on a new page; `apart` sets an
    unnumbered level 2 off from what stands over it, in a paper of a page or two.
    """

    level: int
    content: Inlines
    anchor: str = ""
    number: str = ""
    starts_page: bool = False
    apart: bool = False


class ClauseBlock(Struct, frozen=True):
    """A clause: numbered title and its blocks, kept in a control of its own that names the clause.

    `advice` is for the specifier and shows in drafts only, as a comment on the title. `used` false stands
    for a clause that an earlier issue had: its number stays, marked as not used. `told_above` is what the title of
    its part tells for it and for others, and it does not repeat.
    """

    clause_id: str
    number: str
    title: Inlines
    blocks: tuple[Block, ...]
    anchor: str
    advice: str = ""
    used: bool = True
    told_above: tuple[Block, ...] = ()


class Contents(Struct, frozen=True):
    """The contents list: filled by the renderer from the numbered headings and clauses.

    One that `runs_on` is a paragraph, for a paper of few pages.
    """

    title: str
    depth: int = 2
    runs_on: bool = False


class PageBreak(Struct, frozen=True):
    """Starts a new page."""


Block = Paragraph | ListBlock | Steps | Pairs | Table | Notice | Figure | Heading | ClauseBlock | Contents | PageBreak


class Section(Struct, frozen=True):
    """Pages of one orientation; `header` is the middle text of their header.

    Its text runs in `columns`; with a `side` it has two, of which the second is narrow and holds that, or as wide as
    the first if it `is_even`. One that `continues` begins on the page of the section before it, if it fits there whole.
    One that `floats` stands at the foot of the first page before it that holds it whole, else where it is.
    """

    blocks: tuple[Block, ...]
    landscape: bool = False
    header: str = ""
    columns: int = 1
    side: tuple[Block, ...] = ()
    is_even: bool = False
    continues: bool = False
    floats: bool = False


class Identity(Struct, frozen=True):
    """What every page of a paper says of itself. `date` is the ISO issue date, `""` for none; `draft` the mark or `""`.

    `paper` is `a4` or `letter`; `date_form` is how dates are spelt.
    """

    title: str
    subject: str
    reference: str
    revision: str
    date: str
    author: str
    draft: str = ""
    language: str = "en-GB"
    paper: str = "a4"
    date_form: str = DAY_MONTH_YEAR
    page_words: tuple[str, str] = ("Page", "of")
    caption_words: tuple[str, str] = ("Table", "Figure")
    notes_by: str = "Specifier's notes"

    @property
    def issued(self) -> str:
        """The issue date as a reader sees it."""
        return date_spoken(datetime.date.fromisoformat(self.date), self.date_form) if self.date else ""


class Document(Struct, frozen=True):
    """A whole paper in pages."""

    identity: Identity
    sections: tuple[Section, ...]
    cover: tuple[Block, ...] = ()

    def blocks(self) -> Iterator[Block]:
        """Every top-level block, in order of the pages."""
        yield from self.cover
        for section in self.sections:
            yield from section.blocks
            yield from section.side


# --- the pricing workbook ---------------------------------------------------------------------------------


class PricedRow(Struct, frozen=True):
    """A line of the pricing schedule. Kinds: `firm`, `provisional`, `rate only`, `optional`, `sum`.

    `quantity` is None for rate-only lines, of which `notional` is what tenders are compared by; `sum` lines have a
    fixed `amount`, or none that anybody has set yet, and are never the tenderer's to fill. `key` is the hash by which
    a returned line is matched.
    """

    ref: str
    description: str
    where: str
    mix: str
    clauses: str
    unit: str
    quantity: Decimal | None
    kind: str
    key: str
    amount: Decimal | None = None
    notional: Decimal | None = None


class PricedSection(Struct, frozen=True):
    """A group of lines that is collected to one total (an element, preliminaries, provisional sums)."""

    ref: str
    title: str
    rows: tuple[PricedRow, ...]


class CostRow(Struct, frozen=True):
    """Where the cost of a clause lies, in words, and the numbers of the lines that pay; or the title of a part."""

    number: str
    title: str
    place: str
    lines: str
    is_part: bool = False


class PricingBook(Struct, frozen=True):
    """What the workbook holds: sections of lines, where the cost of each clause lies, every fixed word by key.

    `contract_open` tells that no form of contract is named, so that whoever tenders names the form offered.
    """

    identity: Identity
    currency: str
    sections: tuple[PricedSection, ...]
    words: dict[str, str]
    rules: tuple[str, ...]
    complete: bool = True
    costs: tuple[CostRow, ...] = ()
    contract_open: bool = False
