"""The pricing workbook: the document model's `PricingBook` as a spreadsheet a contractor fills in."""

from __future__ import annotations

import io
from typing import Final

from generator.document.model import PricedRow, PricingBook
from generator.render.workbook.costs import write_costs
from generator.render.workbook.form import write_form, write_notes
from generator.render.workbook.schedule import KINDS, write_schedule, write_summary
from generator.render.workbook.sheet import FONT, Book, cell_text, issue_date

WORD_KEYS: Final = (
    "sheet_form", "sheet_notes", "sheet_schedule", "sheet_summary", "sheet_costs",
    "project", "reference", "revision", "issued",
    "tenderer", "firm", "address", "contact", "telephone", "email",
    "offer_heading", "offer", "total", "not_priced", "tax_note", "incomplete",
    "start", "weeks", "open_until", "contract",
    "addenda", "addendum_number", "addendum_date", "addendum_received",
    "tender_notes", "tender_note",
    "signature", "signed", "name", "position", "signed_on",
    "notes_heading", "note_rate", "note_nil", "note_totals", "note_return",
    "kinds_heading", "kind_firm", "kind_provisional", "kind_rate_only", "kind_optional", "kind_sum", "kind_sum_open",
    "meaning_firm", "meaning_provisional", "meaning_rate_only", "meaning_optional", "meaning_sum",
    "rules_heading",
    "column_item", "column_where", "column_description", "column_mix", "column_clause", "column_kind",
    "column_quantity", "column_unit", "column_rate", "column_amount", "column_section",
    "costs_about", "column_title", "column_place", "column_lines",
    "fill", "rate_error_title", "rate_error",
    "section_total", "section_optional", "optional_heading", "optional_total",
    "compared_heading", "compared_rates", "compared_total",
)  # fmt: skip
"""Keys of `PricingBook.words`, every one of which the workbook prints."""

OPTIONS: Final = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "default_format_properties": FONT,
    "default_row_height": 17,
}
PROPERTY_LIMIT: Final = 255


def pricing_workbook(book: PricingBook) -> bytes:
    """The workbook as bytes of an .xlsx file, the same for the same book.

    Sheets: form of tender, notes, schedule, summary, where costs lie. Amounts are in `book.currency`, each to two
    decimals.
    Raises ValueError for a book that no contractor could price: a word missing, a kind of line that is not
    in the model, a live line without a quantity.
    """
    _require_priceable(book)
    import xlsxwriter  # type: ignore[import-untyped]

    stream = io.BytesIO()
    workbook = xlsxwriter.Workbook(stream, OPTIONS)
    workbook.set_properties(_properties(book))
    workbook.set_size(1500, 900)
    pages = Book(workbook, book)
    for write in (write_form, write_notes, write_schedule, write_summary, write_costs):
        write(pages)
    workbook.close()
    for sheet in workbook.worksheets():
        sheet.table.clear()  # the library's objects hold one another, and a run looks for no garbage
    return stream.getvalue()


def _properties(book: PricingBook) -> dict[str, object]:
    identity = book.identity
    return {
        "title": cell_text(identity.title, PROPERTY_LIMIT),
        "subject": cell_text(identity.subject, PROPERTY_LIMIT),
        "author": cell_text(identity.author, PROPERTY_LIMIT),
        "created": issue_date(identity),
    }


def _require_priceable(book: PricingBook) -> None:
    missing = [key for key in WORD_KEYS if key not in book.words]
    if missing:
        raise ValueError(f"words of the workbook missing: {', '.join(missing)}")
    for section in book.sections:
        for row in section.rows:
            _require_row(row)


def _require_row(row: PricedRow) -> None:
    if row.kind not in KINDS:
        raise ValueError(f"line {row.ref}: no such kind: {row.kind}")
    if row.quantity is None and row.kind not in ("rate only", "sum"):
        raise ValueError(f"line {row.ref}: {row.kind} without a quantity")
