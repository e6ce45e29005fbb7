"""The survey sheet before there is a job, as an office program shows it: two sides for each kind of wall."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from command_line import run
from jobs import shipped

pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdftotext")), reason="LibreOffice is missing"),
]
KINDS = [one.is_ for one in shipped().questionnaire.questions["position"].choices]
HEADER_PT = 36.0
OF_LATHS = ("indoors", "--built-of", "laths", "--work", "plaster", "--work", "remove", "--work", "limewash")


def test_each_kind_of_wall_takes_two_sides_and_each_side_has_room_for_whose_it_is(tmp_path: Path) -> None:
    wanted = {
        "any": KINDS,
        "american": [*KINDS, "--language", "en-us", "--units", "customary", "--paper", "letter"],
        "pointing": [*KINDS, "--work", "repoint"],
        "laths": OF_LATHS,
    }
    for name, words in wanted.items():
        code, _, err = run("papers", "survey-sheet", *words, "--out", tmp_path / f"{name}.docx")
        assert code == 0, err
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path)]
    papers = [str(tmp_path / f"{name}.docx") for name in wanted]
    subprocess.run([*command, *papers], check=True, capture_output=True, timeout=300, stdin=subprocess.DEVNULL)
    for name, words in wanted.items():
        walls = sum(word in KINDS for word in words)
        pages = printed(tmp_path / f"{name}.pdf")
        starts = [number for number, page in enumerate(pages) if "Tick what you found" in page]
        assert starts == list(range(0, 2 * walls, 2)), name
        assert "Survey: the whole job" in pages[2 * walls], name
        assert all("Reference and wall: ...." in page and "No job yet" in page for page in pages), name
        assert min(gaps_below_header(tmp_path / f"{name}.pdf")) >= 4.5, name


def printed(path: Path) -> list[str]:
    """The text of each page."""
    return told(path, "-enc", "UTF-8").split("\f")[:-1]


def gaps_below_header(path: Path) -> list[float]:
    """How far the first words of each page stand below those of its header, whose rule is between them, in points."""
    gaps = []
    for page in told(path, "-bbox").split("<page ")[1:]:
        words = [(float(top), float(foot)) for top, foot in re.findall(r'yMin="([0-9.]+)".*?yMax="([0-9.]+)"', page)]
        feet = [foot for top, foot in words if top < HEADER_PT]
        gaps.append(min(top for top, _ in words if top >= HEADER_PT) - max(feet))
    return gaps


def told(path: Path, *form: str) -> str:
    """What a reader of PDF files tells of a paper."""
    command = ["pdftotext", *form, str(path), "-"]
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
