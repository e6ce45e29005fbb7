"""An addendum as a neutral document: what changes, numbered, with old and new, and a slip to sign for it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import (
    Block,
    Column,
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
from generator.record.revisions.change import Change
from generator.record.revisions.compare import Comparison
from generator.record.revisions.telling import Telling
from generator.record.revisions.value_changes import WHOLES
from generator.record.revisions.wording import Marked, marked, paragraphs

_WISH: Final = "asked_"
_FIELDS: Final = ("slip-received", "slip-firm", "slip-signed", "slip-date")
# Room for a pen.
_TO_FILL: Final = "\u00a0\n\u00a0"


def addendum(comparison: Comparison, words: Telling, number: int) -> Document:
    """The addendum from one issue to the next; `number` is its own, from one."""
    new = comparison.new
    identity = Identity(
        title=words.word("addendum-title", number=str(number)),
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
    blocks = (
        *_opening(comparison, words, number),
        *_changes(comparison, words),
        *_quantities(comparison, words),
        *_items(comparison, words),
        *_slip(comparison, words, number),
    )
    return Document(identity, (Section(blocks, header=identity.title),))


def _words(text: str) -> Inlines:
    return (Text(text),)


def _opening(comparison: Comparison, words: Telling, number: int) -> Iterator[Block]:
    old, new = comparison.old, comparison.new
    revisions = {"old": old.revision, "new": new.revision}
    yield Heading(1, _words(words.word("addendum-title", number=str(number))), anchor="addendum:title")
    yield Paragraph(_words(", ".join(filter(None, (new.said("title"), new.said("place"))))), "lead")
    dated = {"old_date": old.said("issue_date") or old.said("date"), "new_date": new.said("issue_date")}
    until = ", ".join(filter(None, (new.said("tender_return_date"), new.said("tender_return_to"))))
    same = old.said("tender_return_date") == new.said("tender_return_date")
    told = (
        ("reference", new.said("reference")),
        ("issue", words.word("addendum-papers", **revisions, **dated)),
        ("about", new.said("revision_about")),
        ("by", _sender(comparison)),
        ("returned", f"{until} ({words.word('addendum-return-same' if same else 'addendum-return-moved')})"),
    )
    columns = (Column(words.word("control-what"), 0.25), Column(words.word("control-value"), 0.75))
    rows = tuple(Row((_words(words.word(f"addendum-{key}")), _words(text))) for key, text in told if text)
    yield Table(columns, rows, description=words.word("addendum-title", number=str(number)))
    yield Paragraph(_words(words.word("addendum-part")))
    yield Paragraph((Strong(_words(words.word("addendum-sheet", **revisions))),))
    yield Paragraph(_words(words.word("addendum-price", **revisions)))


def _sender(comparison: Comparison) -> str:
    return ", ".join(filter(None, (comparison.new.said("specifier"), comparison.new.said("specifier_contact"))))


# --- what changes ---------------------------------------------------------------------------------------------


def _changes(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-changes")), anchor="addendum:changes")
    values = [change for change in comparison.of("values") if _for_tender(change)]
    found = [*values, *comparison.of("mixes"), *comparison.of("clauses")]
    if not found:
        yield Paragraph(_words(words.word("addendum-none")))
    for number, change in enumerate(found, start=1):
        yield from _change(change, number, words)


def _for_tender(change: Change) -> bool:
    """Whether the papers show a value: not a wish that was turned down, nor what only the specifier reckons with."""
    return bool(change.clauses) or not (change.worked_out or change.name.startswith(_WISH))


def _change(change: Change, number: int, words: Telling) -> Iterator[Block]:
    what = words.what(change)
    told = words.word("addendum-change", number=str(number), what=f"{what[:1].upper()}{what[1:]}")
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


def _quantities(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-quantities")), anchor="addendum:quantities")
    found = comparison.of("quantities")
    if not found:
        yield Paragraph(_words(words.word("addendum-quantities-none")))
        return
    columns = (
        Column(words.word("addendum-column-line"), 0.09),
        Column(words.word("addendum-column-what"), 0.49),
        Column(words.word("addendum-column-was"), 0.13, "right"),
        Column(words.word("addendum-column-now"), 0.13, "right"),
        Column(words.word("addendum-column-difference"), 0.16, "right"),
    )
    rows = tuple(
        Row(tuple(map(_words, (change.number, _about(change), *words.sides(change), words.difference(change)))))
        for change in found
    )
    yield Table(columns, rows, description=words.word("addendum-quantities"))


def _about(change: Change) -> str:
    return change.name if change.place in change.name else f"{change.place}: {change.name}"


def _items(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-items")), anchor="addendum:items")
    found = comparison.of("items")
    if not found:
        yield Paragraph(_words(words.word("addendum-items-none")))
        return
    columns = (
        Column(words.word("addendum-column-line"), 0.09),
        Column(words.word("addendum-column-change"), 0.15),
        Column(words.word("addendum-column-was"), 0.38),
        Column(words.word("addendum-column-now"), 0.38),
    )
    rows = tuple(_item(change, words) for change in found)
    yield Table(columns, rows, description=words.word("addendum-items"))


def _item(change: Change, words: Telling) -> Row:
    how = words.word(f"addendum-kind-{change.kind}")
    told = how if change.name == "line" else words.field(change)
    one, two = marked(*words.sides(change))
    return Row((_words(change.number), _words(told), _strong(one), _strong(two)))


# --- the slip -------------------------------------------------------------------------------------------------


def _slip(comparison: Comparison, words: Telling, number: int) -> Iterator[Block]:
    new = comparison.new
    title = words.word("addendum-slip", number=str(number))
    yield Heading(1, _words(title), anchor="addendum:slip", starts_page=True)
    yield Paragraph(_words(words.word("addendum-slip-text")))
    lines = [
        ("slip-of", f"{new.said('title')}, {new.said('reference')}"),
        ("slip-papers", words.word("addendum-slip-now", new=new.revision)),
        ("slip-to", _sender(comparison)),
        *((name, _TO_FILL) for name in _FIELDS),
    ]
    rows = tuple(Row((_words(words.word(f"addendum-{name}")), _words(text))) for name, text in lines)
    columns = (Column(words.word("control-what"), 0.4), Column(words.word("addendum-slip-entry"), 0.6))
    yield Table(columns, rows, description=title)
