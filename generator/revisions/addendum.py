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
    Inlines,
    Paragraph,
    Row,
    Section,
    Strong,
    Table,
    Text,
)
from generator.revisions.compare import Change, Comparison
from generator.revisions.telling import Telling

_WISH: Final = "asked_"


def addendum(comparison: Comparison, words: Telling, number: int, language: str = "en-GB") -> Document:
    """The addendum from one issue to the next; `number` is its own, from one."""
    new = comparison.new
    identity = Identity(
        title=words.word("addendum-title", number=str(number)),
        subject=new.said("title"),
        reference=new.said("reference"),
        revision=new.revision,
        date=new.said("date"),
        author=new.said("specifier"),
        language=language,
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
    yield Paragraph(_words(new.said("title")), "title")
    yield Paragraph(_words(words.word("addendum-title", number=str(number))), "subtitle")
    yield Paragraph(_words(words.word("addendum-subtitle", **revisions)), "lead")
    yield Paragraph(_words(words.word("addendum-part")))
    yield Paragraph((Strong(_words(words.word("addendum-sheet", **revisions))),))
    yield Paragraph(_words(words.word("addendum-price", **revisions)))


# --- what changes ---------------------------------------------------------------------------------------------


def _changes(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-changes")), anchor="addendum:changes")
    values = [change for change in comparison.of("values") if _for_tender(change)]
    found = [*comparison.of("clauses"), *values, *comparison.of("mixes")]
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
    if change.about == "clauses" and change.kind == "removed":
        yield Paragraph(_words(words.word("addendum-removed")))
        return
    if change.kind != "added":
        yield from _side(words.word("addendum-was"), change.old, words)
    lead = words.word("addendum-added" if change.kind == "added" else "addendum-now")
    yield from _side(lead, change.new, words)
    if change.clauses:
        read = f"{words.word('addendum-clauses-read')} {', '.join(change.clauses)}."
        yield Paragraph(_words(read), "small")


def _side(lead: str, text: str, words: Telling) -> Iterator[Block]:
    lines = [line for line in words.side(text).split("\n") if line.strip()]
    yield Paragraph((Strong(_words(lead)), Text(f" {lines[0]}")))
    for line in lines[1:]:
        yield Paragraph(_words(line))


# --- quantities and lines -------------------------------------------------------------------------------------


def _quantities(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-quantities")), anchor="addendum:quantities")
    found = comparison.of("quantities")
    if not found:
        yield Paragraph(_words(words.word("addendum-quantities-none")))
        return
    columns = (
        Column(words.word("addendum-column-line"), 0.1),
        Column(words.word("addendum-column-what"), 0.42),
        Column(words.word("addendum-column-was"), 0.15, "right"),
        Column(words.word("addendum-column-now"), 0.15, "right"),
        Column(words.word("addendum-column-difference"), 0.18, "right"),
    )
    rows = tuple(
        Row(
            (
                _words(change.number),
                _words(change.name),
                _words(_amount(change.old, change.unit, words)),
                _words(_amount(change.new, change.unit, words)),
                _words(words.difference(change)),
            )
        )
        for change in found
    )
    yield Table(columns, rows, description=words.word("addendum-quantities"))


def _amount(text: str, unit: str, words: Telling) -> str:
    return f"{text} {unit}" if text else words.word("compare-nothing")


def _items(comparison: Comparison, words: Telling) -> Iterator[Block]:
    yield Heading(1, _words(words.word("addendum-items")), anchor="addendum:items")
    found = comparison.of("items")
    if not found:
        yield Paragraph(_words(words.word("addendum-items-none")))
        return
    columns = (
        Column(words.word("addendum-column-line"), 0.22),
        Column(words.word("addendum-column-change"), 0.14),
        Column(words.word("addendum-column-was"), 0.32),
        Column(words.word("addendum-column-now"), 0.32),
    )
    rows = tuple(
        Row(
            (
                _words(words.what(change)),
                _words(words.word(f"addendum-kind-{change.kind}")),
                _words(words.side(change.old)),
                _words(words.side(change.new)),
            )
        )
        for change in found
    )
    yield Table(columns, rows, description=words.word("addendum-items"))


# --- the slip -------------------------------------------------------------------------------------------------


def _slip(comparison: Comparison, words: Telling, number: int) -> Iterator[Block]:
    new = comparison.new
    title = words.word("addendum-slip", number=str(number))
    yield Heading(1, _words(title), anchor="addendum:slip", starts_page=True)
    yield Paragraph(_words(words.word("addendum-slip-text")))
    back = ", ".join(filter(None, (new.said("specifier"), new.said("specifier_contact"))))
    lines = [
        ("slip-reference", f"{new.said('reference')}, {new.revision}"),
        ("slip-to", back),
        *((name, "") for name in ("slip-received", "slip-firm", "slip-signed", "slip-date")),
    ]
    rows = tuple(Row((_words(words.word(f"addendum-{name}")), _words(text))) for name, text in lines)
    columns = (Column(words.word("addendum-slip-what"), 0.4), Column(words.word("addendum-slip-entry"), 0.6))
    yield Table(columns, rows, description=title)
