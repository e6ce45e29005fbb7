"""The page for the owner, as an office program shows it: one page of the largest example."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from command_line import run
from jobs import ROOT

pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(not (shutil.which("soffice") and shutil.which("pdfinfo")), reason="LibreOffice is missing"),
]


def test_the_page_for_the_owner_of_many_mortars_is_one_page(tmp_path: Path) -> None:
    answers = ROOT / "examples" / "mill-house" / "answers.yaml"
    code, _, err = run("write", answers, "--out", tmp_path, "--with", "owner")
    assert code == 0, err
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path)]
    subprocess.run([*command, str(tmp_path / "owner-page.docx")], check=True, capture_output=True, timeout=240)
    told = subprocess.run(["pdfinfo", str(tmp_path / "owner-page.pdf")], check=True, capture_output=True, text=True)
    (pages,) = re.findall(r"Pages:\s+(\d+)", told.stdout)
    assert pages == "1"
