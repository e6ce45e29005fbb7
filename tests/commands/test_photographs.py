"""`gaugebox photographs`: what each gives, exit codes, and pictures written where they do no harm."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest
from command_line import run
from photographed import jpeg, photograph, text
from PIL import Image


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "front.jpg").write_bytes(jpeg())
    return tmp_path


def written(folder: Path, *photographs: dict[str, Any], **changes: str | None) -> Path:
    path = folder / "answers.yaml"
    path.write_text(text(*photographs, **changes), encoding="utf-8")
    return path


def test_each_photograph_is_told_and_written_marked_and_square_on(folder: Path) -> None:
    code, out, err = run("photographs", written(folder, photograph()))
    marked = folder / "photographs-marked"
    assert (code, err) == (0, "")
    assert out.startswith("F1, Front wall: Front from the south-west (front.jpg, 4032 x 3024 px)\n")
    assert out.endswith(f"wrote {marked / 'F1.jpg'}\nwrote {marked / 'F1-elevation.jpg'}\n")
    for name in ("F1.jpg", "F1-elevation.jpg"):
        data = (marked / name).read_bytes()
        assert len(data) < 250 * 1024
        assert b"Exif" not in data
        with Image.open(io.BytesIO(data)) as picture:
            assert picture.mode == "L"


def test_the_same_run_writes_the_same_bytes(folder: Path) -> None:
    answers = written(folder, photograph())
    run("photographs", answers, "--out", folder / "one")
    run("photographs", answers, "--out", folder / "two")
    for name in ("F1.jpg", "F1-elevation.jpg"):
        assert (folder / "one" / name).read_bytes() == (folder / "two" / name).read_bytes()


def test_it_is_told_to_programs_too(folder: Path) -> None:
    code, out, _ = run("photographs", written(folder, photograph()), "--out", folder / "out", "--json")
    data = json.loads(out)
    assert code == 0
    assert data["photographs"][0]["areas"][0]["area_m2"] == "3.688"
    assert data["works"][0]["on"] == {"F1": ["A"]}
    assert data["written"] == [str(folder / "out" / "F1.jpg"), str(folder / "out" / "F1-elevation.jpg")]


def test_a_photograph_without_marks_is_written_as_it_is(folder: Path) -> None:
    code, out, _ = run("photographs", written(folder, photograph(marks=None, reference=None, checks=None)))
    assert code == 0
    assert "F1-elevation" not in out
    with Image.open(folder / "photographs-marked" / "F1.jpg") as picture:
        assert picture.mode == "RGB"


@pytest.mark.parametrize(
    "changes",
    [
        {"file": "not-there.jpg"},
        {"sha256": "0" * 64},
        {
            "reference": {
                "corners": [[0.1, 0.1], [0.2, 0.1], [0.2, 0.9], [0.1, 0.9]],
                "width_mm": 3000,
                "height_mm": 300,
            }
        },
        {"marks": [{"work": "repoint", "outline": [[0.05, 0.7], [0.42, 0.93], [0.42, 0.7], [0.05, 0.93]]}]},
    ],
)
def test_what_gives_no_figure_ends_with_three_and_is_told(folder: Path, changes: dict[str, Any]) -> None:
    code, out, _ = run("photographs", written(folder, photograph(**changes)))
    assert code == 3
    assert "warning: " in out or "block: " in out


def test_answers_that_cannot_be_read_end_with_one_and_write_nothing(folder: Path) -> None:
    code, _, err = run("photographs", written(folder, photograph(file="../front.jpg")))
    assert code == 1
    assert "'file' cannot be '../front.jpg'" in err
    assert not (folder / "photographs-marked").exists()


def test_no_photograph_of_the_answers_is_written_over(folder: Path) -> None:
    (folder / "F1.jpg").write_bytes(jpeg())
    code, _, err = run("photographs", written(folder, photograph(file="F1.jpg")), "--out", folder)
    assert code == 2
    assert "is a photograph of the answers" in err
    assert (folder / "F1.jpg").read_bytes() == jpeg()


def test_a_folder_that_cannot_be_written_in_is_told(folder: Path) -> None:
    code, _, err = run("photographs", written(folder, photograph()), "--out", folder / "front.jpg")
    assert code == 1
    assert "name another folder with --out" in err


def test_an_issue_holds_its_photographs_and_is_written_again_from_them(folder: Path) -> None:
    answers = written(folder, photograph(), treated_area_from="photographs", quantity_sure="estimated")
    code, out, err = run("issue", answers, "--out", folder / "issues")
    assert (code, err) == (0, "")
    issued = Path(out.splitlines()[-1].removeprefix("issued "))
    assert (issued / "answers" / "front.jpg").read_bytes() == jpeg()
    (folder / "front.jpg").unlink()
    code, out, _ = run("issue", "--again", issued, "--out", folder / "again")
    assert code == 0
    assert (folder / "again" / "specification.docx").read_bytes() == (issued / "specification.docx").read_bytes()
    (issued / "answers" / "front.jpg").write_bytes(jpeg(2016, 1512))
    code, out, err = run("issue", "--verify", issued)
    assert code == 1
    assert "front.jpg: was changed since it was issued" in out + err


def test_write_puts_photographs_into_the_papers(folder: Path) -> None:
    answers = written(folder, photograph(), treated_area_from="photographs", quantity_sure="estimated")
    code, _, _ = run("write", answers, "--out", folder / "papers", "--with", "officer,records")
    assert code == 0
    for name in ("specification.docx", "officer-summary.docx", "site-records.docx"):
        code, out, _ = run("papers", "check", folder / "papers" / name)
        assert (code, out) == (0, f"{folder / 'papers' / name}: no faults\n")


def test_a_file_that_is_no_picture_leaves_a_draft_with_all_else_whole(folder: Path) -> None:
    (folder / "front.jpg").write_bytes(b"\xff\xd8 cut")
    code, out, _ = run("write", written(folder, photograph()), "--out", folder / "papers")
    assert code == 3
    assert "F1" in out
    assert {path.name for path in (folder / "papers").iterdir()} >= {"specification.docx", "record.json"}
