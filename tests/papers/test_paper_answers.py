"""Language, paper, currency and form of dates are answers, and every paper of a job follows them."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from pathlib import Path

import openpyxl
import pytest
from answers_text import one_wall
from docx_reading import NAMES, W, attribute, own, part, parts, unbound, words_of
from jobs import EXAMPLES, job
from lxml.etree import _Element
from render.samples import body_of

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.job.job import Job
from generator.papers.companions import companions
from generator.render.word.document import specification

WORD = ("specification.docx", "mix-schedule.docx")
SPELT = re.compile(
    r"\b\d{1,2} (?:January|February|March|April|May|June|July|August|September|October|November|December) \d{4}\b"
)
LETTER = {("12240", "15840"), ("15840", "12240")}


def word_papers(found: Job) -> dict[str, bytes]:
    """Every Word paper of a job, the companions too."""
    files = {name: data for name, data in pipeline.papers(found).items() if name in WORD}
    return files | {name: specification(paper) for name, paper in companions(found, list(COMPANIONS)).items()}


def with_answers(path: Path, **more: str) -> Job:
    """The job of an example with further answers for the project."""
    lines = "".join(f"  {name}: {value}\n" for name, value in more.items())
    return job(path.read_text(encoding="utf-8").replace("project:\n", f"project:\n{lines}", 1))


def line_of(setup: _Element) -> int:
    """The width of the line of a section, or of each of its columns."""
    size, *sides = (
        int(attribute(setup, path, name)) for path, name in (("w:pgSz", "w"), ("w:pgMar", "left"), ("w:pgMar", "right"))
    )
    columns, gap = int(attribute(setup, "w:cols", "num") or 1), int(attribute(setup, "w:cols", "space") or 0)
    return (size - sum(sides) - gap * (columns - 1)) // columns


def sizes(data: bytes) -> set[tuple[str, str]]:
    return {(own(node, "w"), own(node, "h")) for node in part(data).iter(f"{{{W}}}pgSz")}


def test_the_language_is_that_of_every_word_paper_and_of_its_properties() -> None:
    for name, data in word_papers(job(one_wall(language="en-ie"))).items():
        assert attribute(part(data, "word/styles.xml"), "w:docDefaults/w:rPrDefault/w:rPr/w:lang") == "en-IE", name
        assert b"<dc:language>en-IE</dc:language>" in parts(data)["docProps/core.xml"]


def test_papers_go_on_letter_paper_where_it_is_asked_for() -> None:
    found = job(one_wall(paper="letter"))
    for name, data in word_papers(found).items():
        assert sizes(data) <= LETTER, name
    book = openpyxl.load_workbook(io.BytesIO(pipeline.papers(found)["pricing-schedule.xlsx"]))
    assert {sheet.page_setup.paperSize for sheet in book.worksheets} == {1}  # ECMA-376: 1 is Letter


def test_tables_fill_the_line_of_letter_paper() -> None:
    data = pipeline.papers(job(one_wall(paper="letter")))["specification.docx"]
    lines = set(map(line_of, part(data).iter(f"{{{W}}}sectPr")))
    assert any(int(attribute(setup, "w:cols", "num") or 1) > 1 for setup in part(data).iter(f"{{{W}}}sectPr"))
    ends = {
        int(attribute(node, "w:tblPr/w:tblW", "w")) + int(attribute(node, "w:tblPr/w:tblInd", "w"))
        for node in part(data).iter(f"{{{W}}}tbl")
    }
    assert len(ends) > 1
    assert ends <= lines


@pytest.mark.parametrize(("form", "issued"), [("month-day-year", "February 1, 2027"), ("iso", "2027-02-01")])
def test_dates_are_spelt_in_one_form_in_all_papers(form: str, issued: str) -> None:
    found = job(one_wall(date_form=form))
    texts = {name: unbound(words_of(part(data))) for name, data in word_papers(found).items()}
    book = openpyxl.load_workbook(io.BytesIO(pipeline.papers(found)["pricing-schedule.xlsx"]))
    cells = [str(cell.value) for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    texts["pricing-schedule.xlsx"] = "\n".join(cells)
    # the survey sheet offers the forms themselves to be ticked
    (offered,) = re.findall(r"Form of dates.*", texts["survey-sheet.docx"])
    texts["survey-sheet.docx"] = texts["survey-sheet.docx"].replace(offered, "")
    assert {name: SPELT.findall(text) for name, text in texts.items() if SPELT.search(text)} == {}
    assert issued in texts["mix-schedule.docx"]
    assert issued in texts["pricing-schedule.xlsx"]
    assert [finding.message for finding in found.findings if SPELT.search(finding.message)] == []
    pictures = part(pipeline.papers(found)["specification.docx"]).iterfind(".//wp:docPr", NAMES)
    drawn = " ".join(node.get("descr", "") for node in pictures)
    assert "2027" in drawn
    assert not SPELT.search(drawn)


def test_the_currency_stands_at_every_amount_of_the_workbook() -> None:
    data = pipeline.papers(job(one_wall(currency="usd")))["pricing-schedule.xlsx"]
    book = openpyxl.load_workbook(io.BytesIO(data))
    text = "\n".join(str(cell.value) for sheet in book.worksheets for row in sheet.iter_rows() for cell in row)
    assert "(USD)" in text
    assert "GBP" not in text


@pytest.mark.slow
@pytest.mark.office
@pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdfinfo")), reason="LibreOffice is missing")
def test_a_mix_schedule_on_letter_paper_is_a_page_for_each_part(tmp_path: Path) -> None:
    names = []
    for path in EXAMPLES:
        data = pipeline.papers(with_answers(path, paper="letter"))["mix-schedule.docx"]
        names.append((path.parent.name, 1 + body_of(data).count(b"<w:pageBreakBefore/>")))
        (tmp_path / f"{path.parent.name}.docx").write_bytes(data)
    command = ["soffice", f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless", "--convert-to"]
    papers = [str(tmp_path / f"{name}.docx") for name, _ in names]
    subprocess.run([*command, "pdf", "--outdir", str(tmp_path), *papers], check=True, capture_output=True, timeout=180)
    for name, pages in names:
        told = subprocess.run(["pdfinfo", tmp_path / f"{name}.pdf"], check=True, capture_output=True, text=True).stdout
        assert f"Pages:           {pages}\n" in told, name
        assert "792 x 612 pts (letter)" in told
