"""The papers of every example as an office program shows them, and as strict readers of the format see them.

One start of the office program for all papers, and one for all workbooks, once as issued and once priced.
"""

from __future__ import annotations

import functools
import hashlib
import html
import json
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from typing import Any, TypeVar

import docx
import openpyxl
import pytest
from helpers import slow_but
from jobs import EXAMPLES, job, shipped
from ooxml_integrity import check
from openpyxl.workbook import Workbook
from openxml_audit.validator import OpenXmlValidator

from generator import pipeline
from generator.files.writing import write_set
from generator.record import record

NAMES = [path.parent.name for path in EXAMPLES]
Folders = Callable[[str], Path]
PAPERS = ("specification.docx", "mix-schedule.docx", "pricing-schedule.xlsx")
BROKEN = re.compile(
    r"Error!|Err:\d|#REF!|#NAME\?|#VALUE!|#DIV/0!|\{\{|\}\}|\{\w+\}|\bNone\b|\bnan\b|\bNaN\b|____|\[\]\(|\]\(clause:"
)
RATE = Decimal("7.25")
ALWAYS_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry"><item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item></oor:items>
"""

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
Test = TypeVar("Test", bound=Callable[..., None])

each = pytest.mark.parametrize("name", slow_but(1, NAMES))
each_paper = pytest.mark.parametrize("paper", PAPERS)
each_word_paper = pytest.mark.parametrize("paper", PAPERS[:2])


def shown(test: Test) -> Test:
    """The test for every example, run only where an office program can show its papers."""
    missing = shutil.which("soffice") is None or shutil.which("pdftotext") is None
    skipping = pytest.mark.skipif(missing, reason="LibreOffice (soffice) or pdftotext is not on the path")
    shown_for_each: Test = each(pytest.mark.office(skipping(test)))
    return shown_for_each


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> Folders:
    """The folder of an example with its papers as a run writes them."""

    @functools.cache
    def folder(name: str) -> Path:
        path = EXAMPLES[NAMES.index(name)]
        raw, root = path.read_bytes(), tmp_path_factory.mktemp("papers")
        found = job(raw.decode())
        files = pipeline.papers(found)
        write_set(root, files, record.dumped(record.record(found, path.name, raw, files)))
        return root

    return folder


@pytest.fixture(scope="module")
def office(papers: Folders, tmp_path_factory: pytest.TempPathFactory) -> Folders:
    """The folder of an example with every paper as PDF, and every workbook recalculated, as issued and priced."""

    @functools.cache
    def folder(name: str) -> Path:
        root = tmp_path_factory.mktemp("office")
        (root / "profile" / "user").mkdir(parents=True)
        (root / "profile" / "user" / "registrymodifications.xcu").write_text(ALWAYS_RECALCULATE, encoding="utf-8")
        book = root / "sources" / "priced.xlsx"
        book.parent.mkdir()
        priced(papers(name) / "pricing-schedule.xlsx").save(book)
        convert(root, "pdf", [papers(name) / paper for paper in PAPERS])
        convert(root, "xlsx:Calc MS Excel 2007 XML", [papers(name) / "pricing-schedule.xlsx", book])
        return root

    return folder


def convert(root: Path, form: str, files: list[Path]) -> None:
    """Has the office program write files in another form into the folder."""
    profile = f"-env:UserInstallation={(root / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", form, "--outdir", str(root), *map(str, files)]
    subprocess.run(command, check=True, capture_output=True, timeout=300, stdin=subprocess.DEVNULL)
    ending = form.partition(":")[0]
    assert [file.name for file in files if not (root / file.with_suffix(f".{ending}").name).exists()] == []


def pages(office: Folders, name: str, paper: str, *, as_read: bool = False) -> list[str]:
    """The text of each page of a paper as printed, or in the order in which it is read."""
    order = ["-raw"] if as_read else ["-layout"]
    command = ["pdftotext", *order, str(office(name) / f"{paper}.pdf"), "-"]
    done = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60)
    return done.stdout.split("\f")[:-1]


def data_of(papers: Folders, name: str) -> dict[str, Any]:
    """The record of an example."""
    found: dict[str, Any] = json.loads((papers(name) / "record.json").read_text(encoding="utf-8"))
    return found


# --- as printed -------------------------------------------------------------------------------------------


@shown
def test_the_mix_schedule_of_a_small_job_is_one_page_and_of_a_big_one_a_page_for_each_mix(
    papers: Folders, office: Folders, name: str
) -> None:
    mixes = len(data_of(papers, name)["mixes"])
    printed = pages(office, name, "mix-schedule")
    assert len(printed) == (1 if mixes <= 3 else mixes)
    for number, page in enumerate(printed, 1):
        assert len(printed) == 1 or f"Page {number} of {len(printed)}." in page.replace("\u00a0", " ")
        assert "Lime in the eye" in page  # what to do for lime in the eye stands on every page


@shown
def test_no_section_of_the_workbook_begins_at_the_foot_of_a_page(office: Folders, name: str) -> None:
    began = 0
    for page in pages(office, name, "pricing-schedule"):
        for number in re.findall(r"^ *(\d+) +(?!Section total)[A-Z]", page, re.M) if "Rate (GBP)" in page else ():
            began += 1
            assert re.search(rf"^ *{number}\.1 ", page, re.M), page[-400:]
    assert began > 3


@pytest.mark.parametrize("paper", ["specification", "mix-schedule", "pricing-schedule"])
@shown
def test_no_paper_shows_what_a_program_left_behind(office: Folders, name: str, paper: str) -> None:
    text = "\n".join(pages(office, name, paper))
    assert len(text) > 500
    assert BROKEN.findall(text) == []


@shown
def test_every_part_stands_in_the_contents_and_every_clause_in_its_place_with_the_number_of_the_record(
    papers: Folders, office: Folders, name: str
) -> None:
    printed, read = (
        " ".join(" ".join(pages(office, name, "specification", as_read=as_read)).split()) for as_read in (False, True)
    )
    opening, body = printed.partition("Sheet 1: ")[2].partition("Sheet 1: ")[0], read  # the contents name it first
    titles = {f"clause:{key}": clause.title for key, clause in shipped().clauses.items()}
    expected = {
        f"{number} {titles[key]}"
        for key, number in data_of(papers, name)["numbers"].items()
        if "{" not in titles.get(key, "{")
    }
    assert len(expected) > 50
    parts = {part.id: part.title for part in shipped().parts}
    numbers = data_of(papers, name)["numbers"].items()
    named = {f"{number} {parts[key[5:]]}" for key, number in numbers if key.startswith("part:")}
    assert len(named) > 8
    assert {line for line in named if line not in opening} == set()
    assert {line for line in expected if line not in body} == set()


@dataclass(frozen=True, slots=True)
class Word:
    """A word on a page: where it begins, and its top and foot as shares of the page's height."""

    text: str
    left: float
    top: float
    foot: float


def placed(office: Folders, name: str) -> list[tuple[str, list[Word]]]:
    """Each page of the specification: what its header says on the right, and its words between header and footer."""
    command = ["pdftotext", "-bbox", str(office(name) / "specification.pdf"), "-"]
    told = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
    found = []
    for page in told.split("<page ")[1:]:
        wide, high = (float(size) for size in re.findall(r'(?:width|height)="([0-9.]+)"', page)[:2])
        words = [
            Word(html.unescape(text), float(left) / wide, float(top) / high, float(foot) / high)
            for left, top, foot, text in re.findall(
                r'<word xMin="([0-9.]+)" yMin="([0-9.]+)" xMax="[0-9.]+" yMax="([0-9.]+)">(.*?)</word>', page
            )
        ]
        header = " ".join(word.text for word in words if word.foot < _BODY[0] and word.left > 0.4)
        found.append((header, [word for word in words if word.top > _BODY[0] and word.foot < _BODY[1]]))
    return found


_BODY = (0.058, 0.955)
_LINE = 0.02


@shown
def test_no_check_stands_parted_from_its_clause_at_the_head_of_a_column(office: Folders, name: str) -> None:
    columns = [
        min((word for word in words if (word.left < 0.5) == is_left), key=lambda word: (round(word.top, 3), word.left))
        for header, words in placed(office, name)
        if header == "Specification"
        for is_left in (True, False)
        if any((word.left < 0.5) == is_left for word in words)
    ]
    # a picture may head a column, with the check of its clause below it
    heads = [word.text for word in columns if word.top < _BODY[0] + _LINE]
    assert len(heads) > 8
    assert [text for text in heads if text in ("Check:", "Because:")] == []


@shown
def test_no_page_is_under_a_third_full_but_the_last_of_its_part(office: Folders, name: str) -> None:
    pages_ = placed(office, name)
    empty = [
        number
        for number, ((header, words), (following, _)) in enumerate(pairwise(pages_), 1)
        if header == following and max(word.foot for word in words) < _BODY[0] + (_BODY[1] - _BODY[0]) / 3
    ]
    assert len(pages_) > 8
    assert empty == []


@shown
def test_the_header_of_a_sheet_names_its_wall(papers: Folders, office: Folders, name: str) -> None:
    found = job((EXAMPLES[NAMES.index(name)]).read_text(encoding="utf-8"))
    headers = [header for header, _ in placed(office, name)]
    assert [scope.title for scope in found.facts.at("element") if scope.title not in headers] == []


@shown
def test_pages_are_no_more_than_they_were(office: Folders, name: str) -> None:
    most = {"garden-front": 9, "winter-plaster": 9, "toll-house": 18, "mill-house": 32}
    assert len(placed(office, name)) <= most[name]


# --- as calculated ----------------------------------------------------------------------------------------


def priced(path: Path) -> Workbook:
    """A workbook with the same figure in every cell that is there to be filled with a rate or an amount."""
    book = openpyxl.load_workbook(path)
    for _, rate in open_lines(book):
        rate.value = float(RATE)
    return book


def open_lines(book: Workbook) -> Iterator[tuple[dict[str, Any], Any]]:
    """Each line of the schedule by its headings, and the cell in it that a contractor fills."""
    sheet = book.worksheets[2]
    heads: dict[str, int] = {}
    for row in sheet.iter_rows():
        if row[0].value == "Item":
            heads = {str(cell.value).partition(" (")[0]: index for index, cell in enumerate(row)}
        elif heads and row[heads["Kind"]].value:
            free = [cell for cell in row if not cell.protection.locked]
            if free:
                yield {head: row[index].value for head, index in heads.items()}, free[0]


def total(office: Folders, name: str, kind: str) -> Any:
    """The total that stands at the head of the recalculated schedule."""
    sheet = openpyxl.load_workbook(office(name) / f"{kind}.xlsx", data_only=True).worksheets[2]
    (found,) = [row[9].value for row in sheet.iter_rows(max_row=1)]
    return found


@shown
def test_a_workbook_that_nobody_has_priced_comes_to_the_sums_that_the_client_has_fixed(
    papers: Folders, office: Folders, name: str
) -> None:
    fixed = sum(Decimal(item["amount"]) for item in data_of(papers, name)["items"] if item["amount"] is not None)
    assert Decimal(str(total(office, name, "pricing-schedule") or 0)) == fixed


@shown
def test_a_priced_workbook_comes_to_the_sum_of_its_lines(papers: Folders, office: Folders, name: str) -> None:
    items = data_of(papers, name)["items"]
    counted = [item for item in items if item["kind"] in ("firm", "provisional", "sum")]
    expected = sum(
        Decimal(item["amount"])
        if item["amount"] is not None
        else (Decimal(item["quantity"] or 1) * RATE).quantize(Decimal("0.01"), rounding="ROUND_HALF_UP")
        for item in counted
    )
    assert len(counted) > 5
    assert Decimal(str(total(office, name, "priced"))).quantize(Decimal("0.01")) == expected


# --- as strict readers of the format see them -------------------------------------------------------------


@each_paper
@each
def test_a_checker_of_the_format_finds_nothing(papers: Folders, name: str, paper: str) -> None:
    assert [str(error) for error in OpenXmlValidator().validate(papers(name) / paper).errors] == []


@each_word_paper
@each
def test_a_checker_of_the_package_finds_it_whole(papers: Folders, name: str, paper: str) -> None:
    assert [str(issue) for issue in check(papers(name) / paper)] == []


@each_word_paper
@each
def test_python_docx_reads_the_walls_and_mixes_and_nothing_left_behind(papers: Folders, name: str, paper: str) -> None:
    read = docx.Document(str(papers(name) / paper))
    text = " ".join("".join(node.itertext()) for node in read.element.body.iter(f"{W}p"))
    margins = [part for section in read.sections for part in (section.header, section.footer)]
    text += " ".join(paragraph.text for part in margins for paragraph in part.paragraphs)
    assert BROKEN.findall(text) == []
    found = job((EXAMPLES[NAMES.index(name)]).read_text(encoding="utf-8"))
    assert [mix.ref for mix in found.decisions.mixes if mix.ref not in text] == []
    if paper == "specification.docx":
        assert [scope.title for scope in found.facts.at("element") if scope.title not in text] == []


@each_paper
@each
def test_the_record_vouches_for_each_paper(papers: Folders, name: str, paper: str) -> None:
    told = {item["name"]: item["sha256"] for item in data_of(papers, name)["files"]}
    assert hashlib.sha256((papers(name) / paper).read_bytes()).hexdigest() == told[paper]
