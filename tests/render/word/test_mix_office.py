"""Mix pages of one to five mixes on A4 and letter paper, as an office program shows them."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from render import mix_samples as samples

from generator.render.word.mix_page import mix_pages, parted
from generator.values import replace

PAGES = {
    **{str(count): samples.page_of(count) for count in (1, 2, 3, 4)},
    "two and a hot mix": samples.page(samples.PUTTY, samples.HYDRAULIC, samples.HOT),
    "5": samples.page(*samples.page_of(4).cards, samples.HOT),
}


@pytest.mark.office
@pytest.mark.slow
@pytest.mark.skipif(
    shutil.which("soffice") is None or shutil.which("pdftotext") is None, reason="no LibreOffice or pdftotext"
)
def test_an_office_program_shows_as_many_pages_as_were_measured(tmp_path: Path) -> None:
    expected: dict[str, int] = {}
    for name, page in PAGES.items():
        for paper in ("a4", "letter"):
            laid = parted([replace(page, identity=replace(page.identity, paper=paper))])
            expected[f"{name} {paper}"] = len(laid)
            (tmp_path / f"{name} {paper}.docx").write_bytes(mix_pages(laid))
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path)]
    subprocess.run(
        [*command, *map(str, tmp_path.glob("*.docx"))],
        check=True, capture_output=True, timeout=300, stdin=subprocess.DEVNULL,
    )  # fmt: skip
    assert {name: printed(tmp_path / f"{name}.pdf") for name in expected} == expected
    assert {expected[f"{count} a4"] for count in (1, 2, 3, 4)} == {1}


def printed(paper: Path) -> int:
    """The pages of a PDF."""
    done = subprocess.run(["pdftotext", str(paper), "-"], check=True, capture_output=True, timeout=60)
    return done.stdout.count(b"\f")
