"""`papers check`: a paper as large as an estate's is read where its record vouches for it, and nobody else's is."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from answers_text import one_wall
from command_line import run

from generator.render.check import papers
from generator.render.check.opened import ANYBODYS
from generator.values import replace

NAME = "specification.docx"
REFUSED = "holds more elements than a paper can"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("set")
    answers = folder / "answers.yaml"
    answers.write_text(one_wall(), encoding="utf-8")
    assert run("write", answers, "--out", folder / "papers")[0] == 0
    return folder / "papers"


@pytest.fixture(autouse=True)
def _few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(papers, "ANYBODYS", replace(ANYBODYS, xml_tags=1_000))


def test_a_paper_that_its_record_vouches_for_may_be_large(written: Path) -> None:
    assert run("papers", "check", written / NAME)[:2] == (0, f"{written / NAME}: no faults\n")


def test_the_same_without_its_record_or_under_another_name_may_not(written: Path, tmp_path: Path) -> None:
    code, out, _ = run("papers", "check", shutil.copy(written / NAME, tmp_path / NAME))
    assert (code, REFUSED in out) == (1, True)
    code, out, _ = run("papers", "check", shutil.copy(written / NAME, written / "other.docx"))
    assert (code, REFUSED in out) == (1, True)


def test_one_that_was_changed_since_may_not(written: Path, tmp_path: Path) -> None:
    copied = Path(shutil.copytree(written, tmp_path / "papers"))
    (copied / NAME).write_bytes((copied / NAME).read_bytes() + b"\n")
    code, out, _ = run("papers", "check", copied / NAME)
    assert (code, REFUSED in out) == (1, True)
