"""A specification edited by hand and opened in an office program: numbers, references and contents follow."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path

import pytest
from docx_reading import text_of
from edited_papers import LINE, PUT_IN, Edited, numbers_by_bookmark, shown_by_references
from jobs import example

from generator import pipeline

BEFORE = "raking-out.tools"
REFERRED = "2.2"
RENUMBERED = "2.20"
PARAGRAPHS = 60
PYTHONS = ("/usr/bin/python3", sys.executable)
UPDATE = textwrap.dedent(
    """
    import sys, time, uno
    from com.sun.star.beans import PropertyValue

    def value(name, value):
        found = PropertyValue()
        found.Name, found.Value = name, value
        return found

    pipe, source, target = sys.argv[1:]
    here = uno.getComponentContext()
    resolver = here.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", here)
    for turn in range(120):
        try:
            there = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            desk = there.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", there)
            break  # it may answer before it can be asked for anything
        except Exception:
            time.sleep(0.5)
    paper = desk.loadComponentFromURL(uno.systemPathToFileUrl(source), "_blank", 0, (value("Hidden", True),))
    for turn in range(2):
        paper.TextFields.refresh()
        for place in range(paper.DocumentIndexes.Count):
            paper.DocumentIndexes.getByIndex(place).update()
    paper.storeToURL(uno.systemPathToFileUrl(target), (value("FilterName", "writer_pdf_Export"),))
    paper.close(True)
    try:
        desk.terminate()
    except Exception:
        pass
    """
)
pytestmark = [
    pytest.mark.slow,
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdftotext")), reason="LibreOffice is missing"),
]


def can_speak() -> str:
    """A Python that speaks to a running office program; "" where there is none."""
    for python in PYTHONS:
        tried = [python, "-c", "import uno"]
        if Path(python).exists() and subprocess.run(tried, check=False, capture_output=True).returncode == 0:
            return python
    return ""


@pytest.fixture(scope="module")
def issued() -> bytes:
    """The specification of the big example."""
    return pipeline.papers(example("mill-house"))["specification.docx"]


@pytest.fixture(scope="module")
def edited(issued: bytes) -> Edited:
    """The same with a clause of a page put in, a step moved, a line added and another renumbered."""
    paper = Edited(issued)
    paper.put_in_clause(BEFORE, PARAGRAPHS)
    _, second, third, *_ = paper.steps
    second.addprevious(third)
    paper.put_in_line(REFERRED)
    paper.renumber(REFERRED, RENUMBERED)
    return paper


@pytest.fixture(scope="module")
def folder(edited: Edited, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The edited paper as an office program saves and prints it."""
    root = tmp_path_factory.mktemp("edited")
    (root / "edited.docx").write_bytes(edited.saved)
    command = ["soffice", f"-env:UserInstallation={(root / 'profile').as_uri()}", "--headless", "--convert-to"]
    for form in ("docx:MS Word 2007 XML", "pdf"):
        told = [*command, form, "--outdir", str(root / "out"), str(root / "edited.docx")]
        subprocess.run(told, check=True, capture_output=True, timeout=180)
    return root


def printed(pdf: Path, *options: str) -> list[str]:
    """The text of each page."""
    command = ["pdftotext", *options, str(pdf), "-"]
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout.split("\f")[:-1]


def lines(pdf: Path) -> list[str]:
    return [" ".join(line.split()) for page in printed(pdf, "-raw") for line in page.splitlines()]


def test_a_clause_put_in_has_its_number_and_those_behind_it_count_on(
    issued: bytes, edited: Edited, folder: Path
) -> None:
    told = lines(folder / "out" / "edited.pdf")
    before = numbers_by_bookmark(issued)
    after = numbers_by_bookmark(edited.saved)
    moved = {name for name in before if before[name] != after[name] and not name.startswith("_Ref_line")}
    number = before["_Ref_clause___raking_out__tools"]
    assert f"{number} {PUT_IN}" in told
    part, _, place = number.partition(".")
    assert after["_Ref_clause___raking_out__tools"] == f"{part}.{int(place) + 1}"
    assert len(moved) > 5
    assert all(after[name].startswith(f"{part}.") for name in moved)


def test_every_reference_shows_the_number_that_now_stands_where_it_leads(edited: Edited, folder: Path) -> None:
    stands = numbers_by_bookmark(edited.saved)
    shown = list(shown_by_references((folder / "out" / "edited.docx").read_bytes()))
    assert len([name for name, _ in shown if name.startswith("_Ref_clause")]) > 150
    assert len([name for name, _ in shown if name.startswith("_Ref_line")]) > 60
    assert {(name, number) for name, number in shown if number != stands[name]} == set()
    assert ("_Ref_clause___raking_out__tools", stands["_Ref_clause___raking_out__tools"]) in shown
    assert (f"_Ref_line___{REFERRED.replace('.', '__')}", RENUMBERED) in shown


def test_steps_are_numbered_in_the_order_in_which_they_now_stand(edited: Edited, folder: Path) -> None:
    told = lines(folder / "out" / "edited.pdf")
    opening = [text_of(step).split(" ", 4)[:4] for step in edited.steps[:4]]
    for number, first_words in enumerate(opening, 1):
        assert any(line.startswith(" ".join([str(number), *first_words])) for line in told), (number, first_words)


def test_a_line_put_in_stands_in_the_schedule_under_its_heads(folder: Path) -> None:
    (page,) = [page for page in printed(folder / "out" / "edited.pdf", "-layout") if LINE in page]
    assert re.search(rf"^ *{REFERRED}A +{LINE}", page, re.MULTILINE)
    assert re.search("Item +Description", page)


@pytest.mark.skipif(not can_speak(), reason="python3-uno is missing, by which LibreOffice is told to update")
def test_contents_that_are_updated_name_each_sheet_and_part_once_with_the_page_on_which_it_now_stands(
    folder: Path,
) -> None:
    target = folder / "updated.pdf"
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    served = subprocess.Popen(["soffice", profile, "--headless", f"--accept=pipe,name={folder.name};urp"])
    try:
        told = [can_speak(), "-c", UPDATE, folder.name, str(folder / "edited.docx"), str(target)]
        subprocess.run(told, check=True, capture_output=True, timeout=180)
    finally:
        served.terminate()
        served.wait(timeout=60)
    pages = printed(target, "-raw")
    entries = re.findall(r"^(.+?) ?\.{3,} ?(\d+)$", "\n".join(pages[:2]), re.MULTILINE)
    titles = [" ".join(title.split()) for title, _ in entries]
    assert len(titles) > 25
    assert [title for title in titles if titles.count(title) > 1] == []
    # a title may take two lines of its column
    stand = [" ".join(page.split()) for page in pages]
    found = zip(titles, entries, strict=True)
    assert [(title, page) for title, (_, page) in found if title not in stand[int(page) - 1]] == []
