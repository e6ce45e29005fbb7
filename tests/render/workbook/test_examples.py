"""The workbook of every example, priced at random: LibreOffice comes to the sums that Decimal comes to."""

from __future__ import annotations

import random
import shutil
import subprocess
from decimal import ROUND_HALF_UP, Decimal
from io import BytesIO
from pathlib import Path

import openpyxl
import pytest
from jobs import EXAMPLES, job
from openpyxl.workbook import Workbook

from generator.document.model import PricedRow, PricingBook
from generator.papers.schedule import pricing_book
from generator.render.workbook.book import pricing_workbook

NAMES = [path.parent.name for path in EXAMPLES]
BOOKS = {path.parent.name: pricing_book(job(path.read_text(encoding="utf-8"))) for path in EXAMPLES}
RATE, AMOUNT, KEY = 9, 10, 11
SEED = 27


def entered(book: PricingBook) -> dict[str, Decimal]:
    """A rate or amount in pence for nine lines of ten, some of them nothing."""
    choose = random.Random(SEED)
    waiting = [row for section in book.sections for row in section.rows if row.amount is None]
    return {
        row.key: Decimal(choose.choice([0, choose.randint(1, 90_000)])) / 100
        for row in waiting
        if choose.random() < 0.9
    }


def amount(row: PricedRow, rate: Decimal | None) -> Decimal:
    if row.amount is not None:
        return row.amount
    if rate is None or row.kind == "rate only":
        return Decimal(0)
    exact = rate if row.quantity is None else rate * row.quantity
    return exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


def expected(book: PricingBook, standing: str) -> dict[str, Decimal]:
    """The sum of each section by number, of the lines in the total or of the optional ones."""
    rates = entered(book)
    return {
        section.ref: sum(
            (
                amount(row, rates.get(row.key))
                for row in section.rows
                if (row.kind == "optional") == (standing == "optional")
            ),
            Decimal(0),
        )
        for section in book.sections
    }


def priced(book: PricingBook, file: Path) -> Path:
    """The issued workbook with the rates entered; openpyxl keeps no values, so all are worked out anew."""
    workbook = openpyxl.load_workbook(BytesIO(pricing_workbook(book)))
    kinds = {row.key: row.kind for section in book.sections for row in section.rows}
    rates = entered(book)
    for cells in workbook[book.words["sheet_schedule"]].iter_rows():
        key = str(cells[KEY - 1].value)
        if key in rates:
            cells[(AMOUNT if kinds[key] == "sum" else RATE) - 1].value = float(rates[key])
    workbook.save(file)
    return file


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Workbook]:
    if shutil.which("soffice") is None:
        pytest.skip("LibreOffice is not on the path")
    root = tmp_path_factory.mktemp("priced")
    files = [str(priced(book, root / f"{name}.xlsx")) for name, book in BOOKS.items()]
    profile = f"-env:UserInstallation={(root / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir"]
    subprocess.run([*command, str(root / "out"), *files], check=True, capture_output=True, timeout=180)
    return {name: openpyxl.load_workbook(root / "out" / f"{name}.xlsx", data_only=True) for name in NAMES}


def named(workbook: Workbook, name: str) -> Decimal:
    ((title, address),) = workbook.defined_names[name].destinations
    return pence(workbook[title][address].value)


def pence(value: object) -> Decimal:
    """A cell's number to the penny; what lies beyond is the dust of binary fractions."""
    number = Decimal(repr(value))
    assert abs(number - round(number, 2)) < Decimal("1e-6")
    return round(number, 2)


@pytest.mark.slow
@pytest.mark.office
@pytest.mark.parametrize("name", NAMES)
def test_an_office_program_agrees_with_decimal_sums_to_the_penny(name: str, recalculated: dict[str, Workbook]) -> None:
    book, workbook = BOOKS[name], recalculated[name]
    total = sum(expected(book, "total").values())
    assert total > 0
    assert named(workbook, "Total") == total
    schedule = workbook[book.words["sheet_schedule"]]
    assert pence(schedule["J1"].value) == total
    form = [cell.value for row in workbook[book.words["sheet_form"]].iter_rows() for cell in row]
    assert total in [pence(value) for value in form if isinstance(value, float | int)]


@pytest.mark.slow
@pytest.mark.office
@pytest.mark.parametrize("name", NAMES)
def test_the_summary_collects_every_section_to_the_penny(name: str, recalculated: dict[str, Workbook]) -> None:
    book = BOOKS[name]
    rows = list(recalculated[name][book.words["sheet_summary"]].iter_rows(values_only=True))
    titles = {section.title: section.ref for section in book.sections}
    found: dict[str, list[Decimal]] = {}
    for row in rows:
        if row[1] in titles and str(row[0]) == titles[str(row[1])]:
            found.setdefault(str(row[0]), []).append(pence(row[3]))
    optional = expected(book, "optional")
    assert {ref: sums[0] for ref, sums in found.items()} == expected(book, "total")
    assert {ref: sums[1] for ref, sums in found.items() if len(sums) > 1} == {
        section.ref: optional[section.ref]
        for section in book.sections
        if any(row.kind == "optional" for row in section.rows)
    }


@pytest.mark.slow
@pytest.mark.office
@pytest.mark.parametrize("name", NAMES)
def test_lines_left_out_are_counted_on_the_form_and_the_schedule(name: str, recalculated: dict[str, Workbook]) -> None:
    book = BOOKS[name]
    waiting = [row.key for section in book.sections for row in section.rows if row.amount is None]
    assert recalculated[name][book.words["sheet_schedule"]]["J2"].value == len(waiting) - len(entered(book))


@pytest.mark.parametrize("name", NAMES)
def test_the_form_acknowledges_addenda_and_states_the_tax_basis(name: str) -> None:
    book = BOOKS[name]
    workbook = openpyxl.load_workbook(BytesIO(pricing_workbook(book)))
    told = {cell.value for row in workbook[book.words["sheet_form"]].iter_rows() for cell in row}
    assert {book.words["addenda"], book.words["addendum_received"], book.words["tax_note"]} <= told
    ((title, address),) = workbook.defined_names["Addenda"].destinations
    assert not any(row[-1].protection.locked for row in workbook[title][address])
    summary = {cell.value for row in workbook[book.words["sheet_summary"]].iter_rows() for cell in row}
    assert book.words["tax_note"] in summary
