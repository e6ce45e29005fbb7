"""The written sheets of the workbook: the form of tender, and the notes on how to price."""

from __future__ import annotations

from typing import Final

from generator.document.model import PricingBook
from generator.render.workbook.schedule import KINDS, fixed_total, keyed, kind_word, unpriced_count
from generator.render.workbook.sheet import Book, Sheet, lines_needed

FORM_WIDTHS: Final = (27.0, 21.0, 21.0, 21.0)
LAST: Final = len(FORM_WIDTHS) - 1
TENDERER: Final = ("firm", "address", "contact", "telephone", "email")
PERIODS: Final = ("start", "weeks", "open_until")
SIGNATURE: Final = ("signed", "name", "position", "signed_on")
ADDENDA_ROWS: Final = 6
NOTE_ROWS: Final = 4
NOTE_WORDS: Final = ("note_rate", "note_nil", "note_totals", "note_return")


def write_form(book: Book) -> None:
    """Writes the form of tender: what it is for, who tenders, the total, addenda, notes, signature."""
    sheet = Sheet(book, "sheet_form", FORM_WIDTHS)
    row = sheet.top(LAST, "sheet_form", identified=False)
    row = _write_identity(sheet, row)
    row = _write_fields(sheet, row + 1, "tenderer", TENDERER, "Tenderer")
    row = _write_offer(sheet, row + 1)
    row = _write_fields(sheet, row, "", PERIODS, "Periods")
    if book.source.contract_open:
        row = _write_fields(sheet, row, "", ("contract",), "Contract")
    row = _write_addenda(sheet, row + 1)
    row = _write_tender_notes(sheet, row + 1)
    last = _write_signature(sheet, row + 1)
    sheet.cells.fit_to_pages(1, 1)
    # Telephone numbers and item references are text: as numbers they would lose their zeros.
    sheet.cells.ignore_errors({"number_stored_as_text": f"A1:D{last}"})
    sheet.protect()


def _write_identity(sheet: Sheet, row: int) -> int:
    identity, words = sheet.book.source.identity, sheet.book.words
    told = (
        ("project", identity.subject or identity.title),
        ("reference", identity.reference),
        ("revision", identity.revision),
        ("issued", identity.issued),
    )
    for word, text in told:
        sheet.text(row, 0, words[word])
        sheet.band(row, 1, LAST, text, "cell")
        row += 1
    return row


def _write_fields(sheet: Sheet, row: int, heading: str, fields: tuple[str, ...], name: str) -> int:
    """Writes labelled open cells under a heading and names their range; the next free row."""
    if heading:
        sheet.text(row, 0, sheet.book.words[heading], "heading")
        row += 1
    sheet.define(name, row, 1, row + len(fields) - 1, 1)
    for field in fields:
        sheet.text(row, 0, sheet.book.words[field], "field")
        sheet.band(row, 1, LAST, "", "open text" if fields == TENDERER else "open field")
        sheet.cells.set_row(row, 32 if field == "address" else 18)
        row += 1
    return row


def _write_offer(sheet: Sheet, row: int) -> int:
    words = sheet.book.words
    sections = keyed(sheet.book.source.sections)
    sheet.text(row, 0, words["offer_heading"], "heading")
    sheet.full_band(row + 1, LAST, words["offer"])
    row += 2
    sheet.band(row, 0, LAST - 1, sheet.book.with_currency("total"), "total")
    sheet.formula(row, LAST, "=Total", "total money", fixed_total(sections))
    sheet.band(row + 1, 0, LAST - 1, words["not_priced"], "cell")
    sheet.formula(row + 1, LAST, "=SUM(Unpriced)", "cell count", unpriced_count(sections))
    sheet.full_band(row + 2, LAST, words["tax_note"])
    return row + 3


def _write_addenda(sheet: Sheet, row: int) -> int:
    """Writes numbered rows for addenda to be acknowledged in; the next free row."""
    words = sheet.book.words
    sheet.text(row, 0, words["addenda"], "heading")
    sheet.text(row + 1, 0, words["addendum_number"], "head")
    sheet.text(row + 1, 1, words["addendum_date"], "head")
    sheet.band(row + 1, 2, LAST, words["addendum_received"], "head")
    first = row = row + 2
    for number in range(1, ADDENDA_ROWS + 1):
        sheet.number(row, 0, number, "cell number")
        sheet.blank(row, range(1, 2), "open field")
        sheet.band(row, 2, LAST, "", "open field")
        row += 1
    sheet.define("Addenda", first, 0, row - 1, 2)
    return row


def _write_tender_notes(sheet: Sheet, row: int) -> int:
    words = sheet.book.words
    sheet.text(row, 0, words["tender_notes"], "heading")
    sheet.text(row + 1, 0, words["column_item"], "head")
    sheet.band(row + 1, 1, LAST, words["tender_note"], "head")
    first = row = row + 2
    for _ in range(NOTE_ROWS):
        sheet.blank(row, range(1), "open text")
        sheet.band(row, 1, LAST, "", "open text")
        row += 1
    sheet.define("TenderNotes", first, 0, row - 1, 1)
    return row


def _write_signature(sheet: Sheet, row: int) -> int:
    words = sheet.book.words
    sheet.text(row, 0, words["signature"], "heading")
    first = row = row + 1
    for field in SIGNATURE:
        sheet.text(row, 0, words[field], "low")
        sheet.band(row, 1, LAST - 1, "", "signature")
        sheet.cells.set_row(row, 27 if field == "signed" else 20)
        row += 1
    sheet.define("Signature", first, 1, row - 1, 1)
    return row


# --- the notes --------------------------------------------------------------------------------------------

NOTES_WIDTHS: Final = (12.0, 88.0)


def write_notes(book: Book) -> None:
    """Writes how to fill in the schedule, what each kind of line means, and the rules of measurement."""
    sheet = Sheet(book, "sheet_notes", NOTES_WIDTHS)
    words = book.words
    row = sheet.top(1, "sheet_notes")
    row = _write_numbered(sheet, row + 1, words["notes_heading"], tuple(words[key] for key in NOTE_WORDS))
    sheet.text(row + 1, 0, words["kinds_heading"], "heading")
    row += 2
    for kind in kinds_present(book.source):
        sheet.text(row, 0, words[kind_word(kind)])
        _write_note(sheet, row, words[kind_word(kind).replace("kind", "meaning", 1)])
        row += 1
    if book.source.rules:
        _write_numbered(sheet, row + 1, words["rules_heading"], book.source.rules)
    sheet.protect()


def kinds_present(source: PricingBook) -> tuple[str, ...]:
    """The kinds of line that the book has, in the order of the model."""
    present = {row.kind for section in source.sections for row in section.rows}
    return tuple(kind for kind in KINDS if kind in present)


def _write_numbered(sheet: Sheet, row: int, heading: str, lines: tuple[str, ...]) -> int:
    sheet.text(row, 0, heading, "heading")
    for number, line in enumerate(lines, 1):
        row += 1
        sheet.number(row, 0, number, "cell number")
        _write_note(sheet, row, line)
    return row + 1


def _write_note(sheet: Sheet, row: int, text: str) -> None:
    sheet.text(row, 1, text)
    sheet.fit_row(row, lines_needed(text, NOTES_WIDTHS[1]))
