"""The papers of every example as an office program shows them, and as strict readers of the format see them."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from jobs import EXAMPLES, job, shipped

from generator import pipeline, record
from generator.output import write_set

pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not on the path"),
]
NAMES = [path.parent.name for path in EXAMPLES]
PAPERS = ("specification.docx", "mix-schedule.docx", "pricing-schedule.xlsx")
BROKEN = re.compile(r"Error!|\{\{|\bNone\b|\bnan\b|____")


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for every example with its papers, and their PDFs beside them."""
    root = tmp_path_factory.mktemp("papers")
    for path in EXAMPLES:
        raw = path.read_bytes()
        found = job(raw.decode())
        files = pipeline.papers(found)
        write_set(root / path.parent.name, files, record.dumped(record.record(found, path.name, raw, files)))
    for name in NAMES:
        profile = f"-env:UserInstallation=file://{root / 'profile'}"
        made = [str(root / name / file) for file in PAPERS]
        command = ["soffice", "--headless", profile, "--convert-to", "pdf", "--outdir", str(root / name), *made]
        subprocess.run(command, check=True, capture_output=True, timeout=180)
    return root


def text_of(pdf: Path) -> str:
    command = ["pdftotext", "-layout", str(pdf), "-"]
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout


def pages_of(pdf: Path) -> int:
    return text_of(pdf).count("\f")


def data_of(papers: Path, name: str) -> dict[str, object]:
    found: dict[str, object] = json.loads((papers / name / "record.json").read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_mix_schedule_is_one_page_for_every_sheet_it_was_parted_into(papers: Path, name: str) -> None:
    pages = pages_of(papers / name / "mix-schedule.pdf")
    mixes = data_of(papers, name)["mixes"]
    assert isinstance(mixes, list)
    assert pages == 1 if len(mixes) <= 3 else 1 <= pages <= -(-len(mixes) // 3)


@pytest.mark.parametrize("paper", ["specification", "mix-schedule", "pricing-schedule"])
@pytest.mark.parametrize("name", NAMES)
def test_no_paper_shows_what_a_program_left_behind(papers: Path, name: str, paper: str) -> None:
    text = text_of(papers / name / f"{paper}.pdf")
    assert len(text) > 500
    assert BROKEN.findall(text) == []


@pytest.mark.parametrize("name", NAMES)
def test_every_clause_is_printed_with_the_number_that_the_record_gives_it(papers: Path, name: str) -> None:
    text = " ".join(text_of(papers / name / "specification.pdf").split())
    numbers = data_of(papers, name)["numbers"]
    assert isinstance(numbers, dict)
    titles = {f"clause:{key}": clause.title for key, clause in shipped().library.clauses.items()}
    expected = {f"{number} {titles[key]}" for key, number in numbers.items() if "{" not in titles.get(key, "{")}
    assert len(expected) > 50
    assert {line for line in expected if line not in text} == set()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_the_record_vouches_for_each_paper(papers: Path, name: str, paper: str) -> None:
    files = data_of(papers, name)["files"]
    assert isinstance(files, list)
    told = {item["name"]: item["sha256"] for item in files}
    digest = subprocess.run(["sha256sum", papers / name / paper], check=True, capture_output=True, text=True).stdout
    assert digest.split()[0] == told[paper]
