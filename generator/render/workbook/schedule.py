"""The priced sheets of the workbook: the schedule with its sections, and the summary that collects them.

Totals are sums by a key in a hidden column, never sums over neighbouring rows, so that rows may be hidden,
filtered or sorted. A helper column holds the amounts that count; section totals stand in the amount column
itself, where an estimator looks, without a circle.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from generator.document.model import PricedRow, PricedSection
from generator.drawing.measures import signed
from generator.render.workbook.sheet import (
    Book,
    Sheet,
    cell_text,
    lines_kept,
    lines_needed,
    money,
    whole_values,
    words_whole,
)
from generator.values import Struct

COLUMNS: Final = (
    ("column_item", 7.5),
    ("column_where", 18.5),
    ("column_description", 46.7),
    ("column_mix", 7.5),
    ("column_clause", 14.3),
    ("column_kind", 11),
    ("column_quantity", 10),
    ("column_unit", 7),
    ("column_rate", 12),
    ("column_amount", 14),
)
HIDDEN_COLUMNS: Final = ("key", "section", "standing", "counted", "unpriced")
ITEM, WHERE, DESCRIPTION, MIX, CLAUSE, KIND, QUANTITY, UNIT, RATE, AMOUNT = range(10)
KEY, SECTION, STANDING, COUNTED, UNPRICED = range(10, 15)

IN_TOTAL: Final = "total"
OPTIONAL: Final = "optional"
COMPARED: Final = "compared"
"""The standing of rates alone: times a notional quantity they count when tenders are compared, and in no total."""

_STANDING: Final = {"optional": OPTIONAL, "rate only": COMPARED}
KINDS: Final = ("firm", "provisional", "rate only", "optional", "sum")
ERROR_TITLE_LIMIT: Final = 32
ERROR_LIMIT: Final = 255


class KeyedSection(Struct, frozen=True):
    """A section with the key its lines carry in the hidden column."""

    key: str
    section: PricedSection

    @property
    def has_optional(self) -> bool:
        """Whether any line is outside the total."""
        return any(row.kind == "optional" for row in self.section.rows)

    @property
    def fixed(self) -> Decimal:
        """Amount of the section before any rate is filled in, in the currency of the book."""
        return sum(map(_fixed_amount, self.section.rows), Decimal(0))

    @property
    def unpriced(self) -> int:
        """Number of lines that wait for a rate."""
        return sum(row.kind != "sum" for row in self.section.rows)


def keyed(sections: tuple[PricedSection, ...]) -> tuple[KeyedSection, ...]:
    """The sections with keys of one length, so that none is part of another."""
    return tuple(KeyedSection(f"s{place:04d}", section) for place, section in enumerate(sections, 1))


def fixed_total(sections: tuple[KeyedSection, ...]) -> float:
    """The total before any rate is filled in, in the currency of the book."""
    return money(sum((section.fixed for section in sections), Decimal(0)))


def unpriced_count(sections: tuple[KeyedSection, ...]) -> int:
    """Number of lines of all sections that wait for a rate."""
    return sum(section.unpriced for section in sections)


def row_word(row: PricedRow) -> str:
    """The key of the fixed word for the kind of a line, a sum that nobody has set told apart."""
    return "kind_sum_open" if row.kind == "sum" and row.amount is None else kind_word(row.kind)


def kind_word(kind: str) -> str:
    """The key of the fixed word for a kind of line: `rate only` -> `kind_rate_only`."""
    return "kind_" + kind.replace(" ", "_")


def write_schedule(book: Book) -> None:
    """Writes the schedule: one row a line, open rate cells, section totals, totals so far in view."""
    sections = keyed(book.source.sections)
    sheet = Sheet(book, "sheet_schedule", tuple(width for _, width in COLUMNS), landscape=True)
    head = _write_top(sheet, sections)
    _write_head(sheet, head)
    row = first = head + 1
    titles = set()
    for section in sections:
        titles.add(row)
        row = _write_section(sheet, row, section)
    last = max(first, row - 1)
    sheet.keep_titles(titles, first, last)
    _define_ranges(sheet, first, last)
    _guard_entries(sheet, first, last)
    _set_view(sheet, head, last)
    sheet.protect()


def _write_top(sheet: Sheet, sections: tuple[KeyedSection, ...]) -> int:
    """The title, the total and count so far, and how to fill in; the row of the column headings."""
    row = sheet.top(AMOUNT, "sheet_schedule")
    sheet.text(0, RATE, sheet.book.with_currency("total"), "label right")
    sheet.formula(0, AMOUNT, "=Total", "top money", fixed_total(sections))
    sheet.text(1, RATE, sheet.book.words["not_priced"], "label right")
    sheet.formula(1, AMOUNT, "=SUM(Unpriced)", "top count", unpriced_count(sections))
    sheet.full_band(row, AMOUNT, sheet.book.words["fill"])
    return row + 1


def _write_head(sheet: Sheet, row: int) -> None:
    for column, (word, _) in enumerate(COLUMNS):
        # a unit stands off the quantity before it, as in the cells below
        style = {QUANTITY: "head right", RATE: "head right", AMOUNT: "head right", UNIT: "head unit"}.get(
            column, "head"
        )
        priced = column in (RATE, AMOUNT)
        sheet.text(row, column, sheet.book.with_currency(word) if priced else sheet.book.words[word], style)
    # Two lines high, so that the arrows of the filter do not cover the words.
    sheet.fit_row(row, 2)
    for column, code in enumerate(HIDDEN_COLUMNS, KEY):
        sheet.text(row, column, code, "hidden")


def _write_section(sheet: Sheet, row: int, section: KeyedSection) -> int:
    """Writes the section from `row` on; the next free row."""
    sheet.blank(row, range(ITEM, AMOUNT + 1), "section")
    sheet.text(row, ITEM, section.section.ref, "section")
    sheet.text(row, WHERE, section.section.title, "section")
    sheet.set_height(row, 20)
    for priced in section.section.rows:
        row += 1
        _write_line(sheet, row, section.key, priced)
    row = _write_closing(sheet, row + 1, section, "section_total", IN_TOTAL)
    if section.has_optional:
        row = _write_closing(sheet, row, section, "section_optional", OPTIONAL)
    return row


def _write_closing(sheet: Sheet, row: int, section: KeyedSection, word: str, standing: str) -> int:
    sheet.blank(row, range(ITEM, AMOUNT), "total")
    sheet.text(row, ITEM, section.section.ref, "total")
    sheet.text(row, WHERE, sheet.book.words[word], "total")
    fixed = money(section.fixed) if standing == IN_TOTAL else 0
    sheet.formula(row, AMOUNT, _sum_of(section.key, standing), "total money", fixed)
    sheet.set_height(row, 20)
    return row + 1


def _sum_of(key: str, standing: str) -> str:
    return f'=ROUND(SUMIFS(Counted,Sections,"{key}",Standing,"{standing}"),2)'


def _fixed_amount(row: PricedRow) -> Decimal:
    return row.amount if row.kind == "sum" and row.amount is not None else Decimal(0)


def _write_line(sheet: Sheet, row: int, section_key: str, priced: PricedRow) -> None:
    """One line. `row` is counted from 0, as formulas are not."""
    kind = sheet.book.words[row_word(priced)]
    where, clauses = (
        words_whole(text, COLUMNS[at][1]) for text, at in ((priced.where, WHERE), (priced.clauses, CLAUSE))
    )
    told = (priced.ref, where, _mixes_signed(priced), signed(priced.mix), clauses, kind)
    for column, text in enumerate(told):
        sheet.text(row, column, text)
    sheet.fit_row(row, max(map(_lines, told, range(len(told)))))
    quantity = priced.quantity if priced.notional is None else priced.notional
    if quantity is None:
        sheet.blank(row, range(QUANTITY, UNIT), "cell")
    else:
        style = sheet.book.quantity_style(quantity, notional=priced.notional is not None)
        sheet.cells.write_number(row, QUANTITY, float(quantity), style)
    sheet.text(row, UNIT, priced.unit, "cell unit")
    sheet.text(row, KEY, priced.key, "hidden")
    sheet.text(row, SECTION, section_key, "hidden")
    _write_price(sheet, row, priced)


def _lines(text: str, column: int) -> int:
    """Lines that a text takes in its column."""
    return (lines_kept if column in (WHERE, CLAUSE) else lines_needed)(text, COLUMNS[column][1])


def _mixes_signed(priced: PricedRow) -> str:
    """What a line says, its mixes with their signs as under their heading."""
    told = whole_values(priced.description)
    mixes = [re.escape(mix) for mix in priced.mix.split(", ") if mix]
    return re.sub(rf"\b(?:{'|'.join(mixes)})\b", lambda found: signed(found[0]), told) if mixes else told


def _write_price(sheet: Sheet, row: int, priced: PricedRow) -> None:
    here = row + 1
    if priced.kind == "sum":
        sheet.blank(row, range(RATE, AMOUNT), "cell void")
        if priced.amount is None:
            sheet.blank(row, range(AMOUNT, KEY), "cell void")
        else:
            sheet.number(row, AMOUNT, money(priced.amount), "cell money")
    else:
        sheet.blank(row, range(RATE, AMOUNT), "open rate")
        if _is_bare_rate(priced):
            sheet.blank(row, range(AMOUNT, KEY), "cell void")
        else:
            amount = f'=IF(ISNUMBER(I{here}),ROUND(G{here}*I{here},2),"")'
            sheet.formula(row, AMOUNT, amount, "cell money", "")
    if not _is_bare_rate(priced):
        standing = _STANDING.get(priced.kind, IN_TOTAL)
        sheet.text(row, STANDING, standing, "hidden")
        sheet.formula(row, COUNTED, f"=N(J{here})", "hidden", money(_fixed_amount(priced)))
    if priced.kind != "sum":
        sheet.formula(row, UNPRICED, f"=IF(ISNUMBER(I{here}),0,1)", "hidden", 1)


def _is_bare_rate(priced: PricedRow) -> bool:
    """Whether a rate stands alone, with no quantity to compare it by."""
    return priced.kind == "rate only" and priced.notional is None


def _define_ranges(sheet: Sheet, first: int, last: int) -> None:
    names = (
        ("Rates", RATE), ("Amounts", AMOUNT), ("Keys", KEY), ("Sections", SECTION),
        ("Standing", STANDING), ("Counted", COUNTED), ("Unpriced", UNPRICED),
    )  # fmt: skip
    for name, column in names:
        sheet.define(name, first, column, last, column)


def _guard_entries(sheet: Sheet, first: int, last: int) -> None:
    """Refuses words and negative numbers as they are typed, and marks those that were pasted in.

    The guard covers the columns whole: sorting moves cells and leaves their guards behind.
    """
    words = sheet.book.words
    guard = {
        "validate": "decimal",
        "criteria": ">=",
        "value": 0,
        "error_title": cell_text(words["rate_error_title"], ERROR_TITLE_LIMIT),
        "error_message": cell_text(words["rate_error"], ERROR_LIMIT),
    }
    sheet.cells.data_validation(first, RATE, last, AMOUNT, guard)
    here = first + 1
    wrong = sheet.book.workbook.add_format({"bold": True, "italic": True, "font_strikeout": True})
    marks = (
        (RATE, f"=OR(ISTEXT($I{here}),N($I{here})<0)"),
        (AMOUNT, f'=OR(AND(ISTEXT($J{here}),$J{here}<>""),N($J{here})<0)'),
    )
    for column, criteria in marks:
        mark = {"type": "formula", "criteria": criteria, "format": wrong}
        sheet.cells.conditional_format(first, column, last, column, mark)


def _set_view(sheet: Sheet, head: int, last: int) -> None:
    cells = sheet.cells
    cells.set_column(KEY, UNPRICED, None, None, {"hidden": True})
    cells.freeze_panes(head + 1, WHERE)
    # Over the hidden columns too: sorting by a filter's arrow moves no column outside it.
    cells.autofilter(head, ITEM, last, UNPRICED)
    cells.repeat_rows(head)
    cells.print_area(0, ITEM, last, AMOUNT)
    cells.set_selection(head + 2, RATE, head + 2, RATE)
    # References such as 1.2 are text by intent, and totals differ from the amounts above them.
    shown = f"A1:J{last + 1}"
    cells.ignore_errors({"number_stored_as_text": shown, "formula_differs": shown})


# --- the summary ------------------------------------------------------------------------------------------

SUMMARY_WIDTHS: Final = (9.0, 52.0, 13.0, 18.0)
PLACE, TITLE, COUNT, SUM = range(4)


def write_summary(book: Book) -> None:
    """Writes the summary: the sections' totals, their total, and the optional lines apart below it."""
    sheet = Sheet(book, "sheet_summary", SUMMARY_WIDTHS)
    sections = keyed(book.source.sections)
    head = sheet.top(SUM, "sheet_summary") + 1
    for column, text in enumerate(_summary_heads(book)):
        sheet.text(head, column, text, "head right" if column >= COUNT else "head")
    sheet.fit_row(head, 2)
    row = _write_collected(sheet, head + 1, sections)
    sheet.full_band(row, SUM, book.words["tax_note"])
    options = tuple(section for section in sections if section.has_optional)
    if options:
        row = _write_options(sheet, row + 2, options)
    if any(priced.notional is not None for section in sections for priced in section.section.rows):
        row = _write_compared(sheet, row + 2)
    sheet.cells.freeze_panes(head + 1, 0)
    sheet.cells.repeat_rows(head)
    sheet.cells.ignore_errors({"number_stored_as_text": f"A1:D{row + 1}"})
    sheet.protect()


def _summary_heads(book: Book) -> Iterator[str]:
    yield book.words["column_item"]
    yield book.words["column_section"]
    yield book.words["not_priced"]
    yield book.with_currency("column_amount")


def _write_collected(sheet: Sheet, first: int, sections: tuple[KeyedSection, ...]) -> int:
    """Writes a row a section and the total below; the next free row."""
    row = first
    for section in sections:
        _write_section_sum(sheet, row, section, IN_TOTAL)
        sheet.formula(row, COUNT, _unpriced_of(section.key), "cell count", section.unpriced)
        row += 1
    if not sections:
        sheet.blank(row, range(PLACE, SUM + 1), "cell")
        row += 1
    sheet.blank(row, range(PLACE, TITLE), "grand")
    sheet.text(row, TITLE, sheet.book.words["total"], "grand")
    sheet.formula(row, COUNT, "=SUM(Unpriced)", "grand count", unpriced_count(sections))
    collected = f"=ROUND(SUM(D{first + 1}:D{row}),2)"
    sheet.formula(row, SUM, collected, "grand money", fixed_total(sections))
    sheet.cells.set_row(row, 22)
    sheet.define("Total", row, SUM, row, SUM)
    return row + 1


def _write_section_sum(sheet: Sheet, row: int, section: KeyedSection, standing: str) -> None:
    sheet.text(row, PLACE, section.section.ref)
    sheet.text(row, TITLE, section.section.title)
    sheet.fit_row(row, lines_needed(section.section.title, SUMMARY_WIDTHS[TITLE]))
    fixed = money(section.fixed) if standing == IN_TOTAL else 0
    sheet.formula(row, SUM, _sum_of(section.key, standing), "cell money", fixed)


def _unpriced_of(key: str) -> str:
    return f'=SUMIFS(Unpriced,Sections,"{key}")'


def _write_options(sheet: Sheet, row: int, sections: tuple[KeyedSection, ...]) -> int:
    """Writes the sums of optional lines by section and together; the next free row."""
    sheet.text(row, PLACE, sheet.book.words["optional_heading"], "heading")
    first = row = row + 1
    for section in sections:
        _write_section_sum(sheet, row, section, OPTIONAL)
        sheet.blank(row, range(COUNT, SUM), "cell")
        row += 1
    sheet.blank(row, range(PLACE, SUM), "total")
    sheet.text(row, TITLE, sheet.book.words["optional_total"], "total")
    sheet.formula(row, SUM, f"=ROUND(SUM(D{first + 1}:D{row}),2)", "total money", 0)
    sheet.define("OptionalTotal", row, SUM, row, SUM)
    return row + 1


def _write_compared(sheet: Sheet, row: int) -> int:
    """Writes the rates alone at their notional quantities, and the price by which tenders are compared."""
    sheet.text(row, PLACE, sheet.book.words["compared_heading"], "heading")
    rates = f'=ROUND(SUMIFS(Counted,Standing,"{COMPARED}"),2)'
    for line, (word, formula) in enumerate(
        (("compared_rates", rates), ("compared_total", "=ROUND(Total+D{above},2)")), row + 1
    ):
        sheet.blank(line, range(PLACE, SUM), "total")
        sheet.text(line, TITLE, sheet.book.words[word], "total")
        start = fixed_total(keyed(sheet.book.source.sections)) if word == "compared_total" else 0
        sheet.formula(line, SUM, formula.format(above=line), "total money", start)
    sheet.define("ComparedTotal", row + 2, SUM, row + 2, SUM)
    return row + 2
