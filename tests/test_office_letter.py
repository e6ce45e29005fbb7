"""The mix page of a job in customary units on letter paper, as an office program shows it: each page is one sheet."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from typing import Final

import pytest
from helpers import slow_but
from jobs import american

from generator.papers.mix_schedule import mix_schedule
from generator.render.word.mix_layout import parted
from generator.render.word.mix_page import mix_pages
from generator.values import replace

pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdftotext")), reason="LibreOffice is missing"),
]
COUNTS: Final = (1, 2, 3, 4, 5)


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the mix pages of the first so many mixes as Word and as PDF."""
    folder = tmp_path_factory.mktemp("letter")
    page = mix_schedule(american("mill-house"))
    for count in COUNTS:
        pages = parted([replace(page, cards=page.cards[:count])])
        (folder / f"{count}.docx").write_bytes(mix_pages(pages))
        (folder / f"{count}.txt").write_text(str(len(pages)), encoding="utf-8")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(folder)]
    files = [str(folder / f"{count}.docx") for count in COUNTS]
    subprocess.run([*command, *files], check=True, capture_output=True, timeout=240)
    return folder


@pytest.mark.parametrize("count", slow_but(3, COUNTS))
def test_each_mix_page_is_one_sheet_of_letter_paper(sheets: Path, count: int) -> None:
    told = subprocess.run(["pdfinfo", str(sheets / f"{count}.pdf")], check=True, capture_output=True, text=True).stdout
    found = re.search(r"Pages:\s+(\d+)", told)
    assert found is not None
    assert found[1] == (sheets / f"{count}.txt").read_text(encoding="utf-8")
    assert "792 x 612 pts (letter)" in told
    text = subprocess.run(
        ["pdftotext", "-layout", str(sheets / f"{count}.pdf"), "-"], check=True, capture_output=True, text=True
    ).stdout
    printed = text.split("\f")[: int(found[1])]
    assert all("1/2 cu ft" in page or "jug" in page for page in printed)  # what its counts are measured in


def test_two_mixes_share_a_sheet(sheets: Path) -> None:
    assert (sheets / "2.txt").read_text(encoding="utf-8") == "1"
