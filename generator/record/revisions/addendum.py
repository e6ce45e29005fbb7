"""An addendum as a neutral document: what changes, numbered, with old and new, and a slip to sign for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Final

from generator.document.model import (
    Block,
    Document,
    Heading,
    Identity,
    Inline,
    Inlines,
    Paragraph,
    Row,
    Section,
    Strong,
    Table,
    Text,
)
from generator.document.template import TEXT, Paper, PaperPart, filled
from generator.record.revisions.change import Change
from generator.record.revisions.compare import Comparison
from generator.record.revisions.telling import Telling
from generator.record.revisions.value_changes import WHOLES
from generator.record.revisions.wording import Marked, marked, paragraphs
from generator.values import Struct, capital

_WISH: Final = "asked_"
# Room for a pen.
_TO_FILL: Final = "\u00a0\n\u00a0"


class _Telling(Struct, frozen=True):
    """What an addendum is told from: the comparison, the words for it, and its own title."""

    found: Comparison
    words: Telling
    title: str


def addendum(comparison: Comparison, words: Telling, paper: Paper, number: int) -> Document:
    """The addendum from one issue to the next, as its template says; `number` is its own, from one."""
    new = comparison.new
    fills = {"number": str(number), "old": comparison.old.revision, "new": new.revision}
    title = filled(paper.title, **fills)
    identity = Identity(
        title=title,
        subject=new.said("title"),
        reference=new.said("reference"),
        revision=new.revision,
        date=new.said("date"),
        author=new.said("specifier"),
        language=new.said("language"),
        paper="letter" if new.said("paper") == "letter" else "a4",
        date_form=new.said("date_form"),
        page_words=(words.word("page"), words.word("of")),
    )
    told = _Telling(comparison, words, title)
    blocks = [block for part in paper.parts for block in _MAKERS[part.part](told, part.filled(**fills))]
    return Document(identity, (Section(tuple(blocks), header=title),))


def _words(text: str) -> Inlines:
    return (Text(text),)


def _title(told: _Telling, _: PaperPart) -> Iterator[Block]:
    yield Heading(1, _words(told.title), anchor="addendum:title")


def _job(told: _Telling, _: PaperPart) -> Iterator[Block]:
    new = told.found.new
    yield Paragraph(_words(", ".join(filter(None, (new.said("title"), new.said("place"))))), "lead")


def _about_it(told: _Telling, part: PaperPart) -> Iterator[Block]:
    """Which issues it stands between, who sends it and until when tenders are returned; what is blank is left out."""
    old, new, words = told.found.old, told.found.new, told.words
    dated = {"old_date": old.said("issue_date") or old.said("date"), "new_date": new.said("issue_date")}
    until = ", ".join(filter(None, (new.said("tender_return_date"), new.said("tender_return_to"))))
    same = old.said("tender_return_date") == new.said("tender_return_date")
    own = {
        "": _TO_FILL,
        "reference": new.said("reference"),
        "papers": words.word("addendum-papers", old=old.revision, new=new.revision, **dated),
        "what-for": new.said("revision_about"),
        "by": _sender(told.found),
        "returned": f"{until} ({words.word('addendum-return-same' if same else 'addendum-return-moved')})",
    }
    yield _rows(part, [(shown.label, own[shown.shows]) for shown in part.rows if own[shown.shows]])


def _rows(part: PaperPart, rows: Iterable[tuple[str, str]]) -> Table:
    return part.table((Row(tuple(map(_words, row))) for row in rows), small=False)


def _said(_: _Telling, part: PaperPart) -> Iterator[Block]:
    return part.said()


def _in_strong_print(_: _Telling, part: PaperPart) -> Iterator[Block]:
    yield Paragraph((Strong(_words(part.text)),))


def _sender(comparison: Comparison) -> str:
    return ", ".join(filter(None, (comparison.new.said("specifier"), comparison.new.said("specifier_contact"))))


# --- what changes ---------------------------------------------------------------------------------------------


def _changes(told: _Telling, part: PaperPart) -> Iterator[Block]:
    yield Heading(1, _words(part.heading), anchor="addendum:changes")
    values = [change for change in told.found.of("values") if _for_tender(change)]
    found = [*values, *told.found.of("mixes"), *told.found.of("clauses")]
    if not found:
        yield Paragraph(_words(part.if_none))
    for number, change in enumerate(found, start=1):
        yield from _change(change, number, told.words)


def _for_tender(change: Change) -> bool:
    """Whether the papers show a value: not a wish that was turned down, nor what only the specifier reckons with."""
    return bool(change.clauses) or not (change.worked_out or change.name.startswith(_WISH))


def _change(change: Change, number: int, words: Telling) -> Iterator[Block]:
    what = words.what(change)
    told = words.word("addendum-change", number=str(number), what=capital(what))
    yield Heading(2, _words(told), anchor=f"addendum:{number}")
    if change.name in WHOLES and change.about == "values":
        yield Paragraph(_words(words.word(f"addendum-{change.name}-{change.kind}")))
        return
    gone = change.kind == "removed" and change.about != "values"
    if gone:
        yield Paragraph(_words(words.word(f"addendum-removed-{change.about}")))
    old, new = _both(change, words)
    if change.kind != "added":
        yield from _side(words.word("addendum-was"), old)
    if not gone:
        yield from _side(words.word("addendum-added" if change.kind == "added" else "addendum-now"), new)
    if read := words.read_in(change):
        yield Paragraph(_words(f"{read.capitalize()}."), "small")


def _both(change: Change, words: Telling) -> tuple[list[Inlines], list[Inlines]]:
    """Old and new in paragraphs, what differs in strong print; without the title of a clause, which stands above."""
    old, new = words.sides(change)
    if change.about == "clauses" and not change.is_renumbering:
        old, new = (text.removeprefix(f"{change.name}\n") for text in (old, new))
    one, two = marked(old, new) if change.kind == "changed" else (marked(old, old)[0], marked(new, new)[0])
    return [_strong(line) for line in paragraphs(one)], [_strong(line) for line in paragraphs(two)]


def _strong(pieces: Marked) -> Inlines:
    found: list[Inline] = []
    for piece in pieces:
        found.append(Strong((Text(piece.text),)) if piece.changed else Text(piece.text))
    return tuple(found)


def _side(lead: str, lines: list[Inlines]) -> Iterator[Block]:
    for index, line in enumerate(lines):
        yield Paragraph((Strong(_words(lead)), Text(" "), *line) if index == 0 else line)


# --- quantities and lines -------------------------------------------------------------------------------------


def _quantities(told: _Telling, part: PaperPart) -> Iterator[Block]:
    yield Heading(1, _words(part.heading), anchor="addendum:quantities")
    yield _changed(part, [_quantity(change, part, told.words) for change in told.found.of("quantities")])


def _changed(part: PaperPart, rows: Sequence[Row]) -> Block:
    """What changed as a table, or that nothing did."""
    return part.table(rows, small=False) if rows else Paragraph(_words(part.if_none))


def _quantity(change: Change, part: PaperPart, words: Telling) -> Row:
    was, now = words.sides(change)
    own = {
        "": _TO_FILL,
        "line": change.number,
        "what": _about(change),
        "was": was,
        "now": now,
        "difference": words.difference(change),
    }
    return Row(tuple(_words(own[column.shows]) for column in part.columns))


def _about(change: Change) -> str:
    return change.name if change.place in change.name else f"{change.place}: {change.name}"


def _items(told: _Telling, part: PaperPart) -> Iterator[Block]:
    yield Heading(1, _words(part.heading), anchor="addendum:items")
    yield _changed(part, [_item(change, part, told.words) for change in told.found.of("items")])


def _item(change: Change, part: PaperPart, words: Telling) -> Row:
    how = words.word(f"addendum-kind-{change.kind}")
    was, now = marked(*words.sides(change))
    own = {
        "": _words(_TO_FILL),
        "line": _words(change.number),
        "change": _words(how if change.name == "line" else words.field(change)),
        "was": _strong(was),
        "now": _strong(now),
    }
    return Row(tuple(own[column.shows] for column in part.columns))


# --- the slip -------------------------------------------------------------------------------------------------


def _slip(told: _Telling, part: PaperPart) -> Iterator[Block]:
    """A page to sign and return; what shows nothing is left blank."""
    new = told.found.new
    yield Heading(1, _words(part.heading), anchor="addendum:slip", starts_page=True)
    yield Paragraph(_words(part.text))
    own = {
        "": _TO_FILL,
        "job": f"{new.said('title')}, {new.said('reference')}",
        "papers": told.words.word("addendum-slip-now", new=new.revision),
        "to": _sender(told.found),
    }
    yield _rows(part, [(shown.label, own[shown.shows]) for shown in part.rows])


_MAKERS: Final[Mapping[str, Callable[[_Telling, PaperPart], Iterator[Block]]]] = {
    TEXT: _said, "title": _title, "job": _job, "about": _about_it, "standing": _said, "take-down": _in_strong_print,
    "price": _said, "changes": _changes, "changed-quantities": _quantities, "changed-lines": _items, "slip": _slip,
}  # fmt: skip
