"""A house style at the command line: exported, edited, written and issued with; refused before anything is written."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import docx
import pytest
from command_line import run
from docx_reading import outline, parts, tables
from helpers import slow_but
from jobs import EXAMPLES, ROOT

from generator.render.check.papers import faults, lines

PAGE = re.compile(r'(?: \(\d+\)| \d+)(?= ·|"$)')
TOLL_HOUSE = ROOT / "examples" / "toll-house" / "answers.yaml"


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The exported file with another face, as somebody has saved it."""
    path = tmp_path_factory.mktemp("house") / "house.docx"
    assert run("style", "export", "--out", path) == (0, f"wrote {path}\n", "")
    document = docx.Document(str(path))
    document.styles["Normal"].font.name = "Caladea"
    document.save(str(path))
    return path


@pytest.mark.parametrize("path", slow_but(1, EXAMPLES), ids=lambda path: path.parent.name)
def test_every_paper_of_every_example_takes_it_and_says_the_same(path: Path, house: Path, tmp_path: Path) -> None:
    with_all = ("--with", "survey,officer,records,owner")
    code = run("write", path, "--out", tmp_path / "plain", *with_all)[0]
    assert run("write", path, "--out", tmp_path / "house", "--house-style", house, *with_all)[0] == code
    found = sorted(item.name for item in (tmp_path / "house").glob("*.docx"))
    assert len(found) == 6
    for name in found:
        styled, plain = ((tmp_path / folder / name).read_bytes() for folder in ("house", "plain"))
        assert unpaged(outline(styled)) == unpaged(outline(plain))
        assert tables(styled) == tables(plain)
        assert lines(name, faults(styled)) == []
        assert (b"Caladea" in parts(styled)["word/styles.xml"]) == (name != "mix-schedule.docx")


def unpaged(said: list[str]) -> list[str]:
    """An outline without the pages of its contents, which are reckoned in our own look alone."""
    return [PAGE.sub("", line) if line.startswith("TOC") else line for line in said]


def test_pages_are_taken_from_contents_alone() -> None:
    assert unpaged(['TOC2 "Sheet 1: Wall (3) · Sheet 2: Stack (14)"']) == ['TOC2 "Sheet 1: Wall · Sheet 2: Stack"']
    assert unpaged(['TOC1 "2 Site and the building in use 11"']) == ['TOC1 "2 Site and the building in use"']
    assert unpaged(['SheetText "Sheet 1: Wall (3)"']) == ['SheetText "Sheet 1: Wall (3)"']


def test_the_mix_schedule_keeps_its_own_look_whose_one_page_is_measured(house: Path, tmp_path: Path) -> None:
    run("write", TOLL_HOUSE, "--out", tmp_path / "plain")
    run("write", TOLL_HOUSE, "--out", tmp_path / "house", "--house-style", house)
    one, other = ((tmp_path / folder / "mix-schedule.docx").read_bytes() for folder in ("house", "plain"))
    assert one == other


def test_one_that_lacks_styles_ends_with_1_names_them_all_and_writes_nothing(house: Path, tmp_path: Path) -> None:
    document = docx.Document(str(house))
    for name in ("Lead", "Notice"):
        document.styles[name].delete()
    stream = io.BytesIO()
    document.save(stream)
    bad = tmp_path / "bad.docx"
    bad.write_bytes(stream.getvalue())
    code, out, err = run("write", TOLL_HOUSE, "--out", tmp_path / "out", "--house-style", bad)
    assert (code, out) == (1, "")
    assert [line.split(": copy it")[0] for line in err.splitlines()] == [
        f"{bad}: has no paragraph style 'Lead'",
        f"{bad}: has no paragraph style 'Notice'",
    ]
    assert not (tmp_path / "out").exists()


def test_one_that_is_not_there_is_told(tmp_path: Path) -> None:
    code, out, err = run("write", TOLL_HOUSE, "--out", tmp_path / "out", "--house-style", tmp_path / "none.docx")
    assert (code, out) == (1, "")
    assert err == f"{tmp_path}/none.docx: cannot be read (No such file or directory): name a Word file\n"


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file is no folder", encoding="utf-8")
    code, _, err = run("style", "export", "--out", tmp_path / "file" / "house.docx")
    assert code == 1
    assert "is a file, or lies below one: name another file" in err


def test_an_issue_holds_it_and_is_written_again_with_it_and_so_is_its_addendum(house: Path, tmp_path: Path) -> None:
    text = TOLL_HOUSE.read_text(encoding="utf-8")
    answers, issues = tmp_path / "answers.yaml", tmp_path / "issues"
    for number in (1, 2):
        answers.write_text(text.replace('revision: "1"', f'revision: "{number}"'), encoding="utf-8")
        assert run("issue", answers, "--out", issues, "--house-style", house)[0] == 0
    second = issues / "EH-014-rev-2"
    assert (second / "house-style.docx").read_bytes() == house.read_bytes()
    held = {item["name"] for item in json.loads((second / "issue.json").read_text("utf-8"))["files"]}
    assert "house-style.docx" in held
    assert run("issue", "--verify", second)[0] == 0
    code, out, _ = run("issue", "--again", second, "--out", tmp_path / "again")
    assert code == 0
    assert "not the same" not in out
    assert run("compare", issues / "EH-014-rev-1", second, "--addendum", tmp_path / "a.docx")[0] == 0
    assert b"Caladea" in parts((tmp_path / "a.docx").read_bytes())["word/styles.xml"]
