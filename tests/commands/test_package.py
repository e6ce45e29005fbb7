"""The package: an issue with companions, covering letter and one zip to send; refused as an issue is."""

from __future__ import annotations

import hashlib
import io
import json
import shutil
import zipfile
from pathlib import Path

import pytest
from command_line import run
from jobs import ROOT

from generator.render.pdf.making import can_make

ANSWERS = (ROOT / "examples" / "toll-house" / "answers.yaml").read_text(encoding="utf-8")
NAME = "EH-014-rev-1"
Package = tuple[Path, zipfile.ZipFile]


def answers(folder: Path, text: str = ANSWERS) -> Path:
    path = folder / "answers.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def packed(folder: Path, *more: str) -> Package:
    folder.mkdir(exist_ok=True)
    out = folder / "out"
    code, _, err = run("package", answers(folder), "--out", out, *(more or ("--no-pdf",)))
    assert (code, err) == (0, "")
    zipped = out / NAME / f"{NAME}.zip"
    return zipped, zipfile.ZipFile(zipped)


@pytest.fixture(scope="module")
def packed_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with answers and the issue that was packed of them, without PDF files; each test copies it."""
    folder = tmp_path_factory.mktemp("packed")
    packed(folder)
    return folder


@pytest.fixture
def package(packed_once: Path, tmp_path: Path) -> Package:
    """The package in a folder of the test's own, and what is in it."""
    shutil.copytree(packed_once, tmp_path, dirs_exist_ok=True)
    zipped = tmp_path / "out" / NAME / f"{NAME}.zip"
    return zipped, zipfile.ZipFile(zipped)


def test_it_holds_each_readers_papers_in_a_folder_of_their_own_and_nothing_of_the_client_and_the_specifier(
    package: Package,
) -> None:
    zipped, archive = package
    inside = [name.removeprefix(f"{NAME}/") for name in archive.namelist()]
    assert inside == [
        "contents.txt", "tenderers/contents.txt", "tenderers/covering-letter.docx", "tenderers/mix-schedule.docx",
        "tenderers/pricing-schedule.xlsx", "tenderers/site-records.docx", "tenderers/specification.docx",
        "officer/officer-summary.docx", "owner/owner-page.docx",
    ]  # fmt: skip
    assert (zipped.parent / "record.json").is_file()


def test_its_papers_are_those_of_the_issue_and_the_issue_vouches_for_it(package: Package) -> None:
    zipped, archive = package
    for name in archive.namelist():
        if not name.endswith("contents.txt"):
            assert archive.read(name) == (zipped.parent / Path(name).name).read_bytes()
    about = json.loads((zipped.parent / "issue.json").read_text())
    digests = {entry["name"]: entry["sha256"] for entry in about["files"]}
    assert digests[zipped.name] == hashlib.sha256(zipped.read_bytes()).hexdigest()
    assert run("issue", "--verify", zipped.parent)[0] == 0


def test_the_list_of_contents_tells_what_each_file_is_and_its_digest(package: Package) -> None:
    _, archive = package
    text = archive.read(f"{NAME}/contents.txt").decode()
    assert text.startswith("Toll house, repointing in lime. EH-014, revision 1, of 1 February 2027.\n")
    for name in archive.namelist():
        short = name.removeprefix(f"{NAME}/")
        if not short.endswith("contents.txt"):
            data = archive.read(name)
            assert f"\n  {short}: " in text
            assert f"\n{hashlib.sha256(data).hexdigest()}  {short}\n" in text
    own = archive.read(f"{NAME}/tenderers/contents.txt").decode()
    assert "\n  specification.docx: " in own
    assert "owner-page" not in own


def test_the_same_answers_give_the_same_bytes(tmp_path: Path) -> None:
    first, _ = packed(tmp_path)
    kept = first.read_bytes()
    shutil.rmtree(tmp_path / "out")
    again, _ = packed(tmp_path)
    assert again.read_bytes() == kept


def test_a_draft_is_refused_with_all_that_is_open_and_nothing_is_written(tmp_path: Path) -> None:
    path = answers(tmp_path, ANSWERS.replace("  place: ", "  # place: "))
    code, out, err = run("package", path, "--out", tmp_path / "out", "--no-pdf")
    assert (code, out) == (3, "")
    assert err.startswith("a draft is not issued. What is open, 1:\nblock: Not answered: Where the building stands.")
    assert not (tmp_path / "out").exists()


def test_a_revision_is_packaged_once_and_never_rewritten(package: Package, tmp_path: Path) -> None:
    zipped, _ = package
    before = zipped.read_bytes()
    code, _, err = run("package", answers(tmp_path), "--out", tmp_path / "out", "--no-pdf")
    assert code == 1
    assert "revision 1 is issued already" in err
    assert zipped.read_bytes() == before


def test_without_an_office_program_it_says_so_and_leaves_pdf_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("generator.render.pdf.making.can_make", lambda: False)
    code, out, _ = run("package", answers(tmp_path), "--out", tmp_path / "out")
    assert code == 0
    assert "No PDF files were made: they need LibreOffice" in out
    assert out.endswith(f"packaged {tmp_path}/out/{NAME}/{NAME}.zip\n")


@pytest.mark.slow
@pytest.mark.skipif(not can_make(), reason="LibreOffice is not there")
def test_with_an_office_program_each_word_paper_is_there_as_pdf_too(tmp_path: Path) -> None:
    zipped, archive = packed(tmp_path, "--library", str(ROOT / "clauses"))
    names = [Path(name).name for name in archive.namelist()]
    assert {name.replace(".docx", ".pdf") for name in names if name.endswith(".docx")} <= set(names)
    assert zipfile.ZipFile(io.BytesIO(zipped.read_bytes())).testzip() is None


def test_an_issue_is_explained_by_its_folder_as_it_was_issued(package: Package, tmp_path: Path) -> None:
    zipped, _ = package
    asked = run("explain", zipped.parent, "Front wall")
    assert asked == run("explain", tmp_path / "answers.yaml", "front")
    assert asked[0] == 0


def test_an_issue_with_a_package_is_written_again_with_it(package: Package, tmp_path: Path) -> None:
    zipped, _ = package
    again = tmp_path / "again"
    code, out, err = run("issue", "--again", zipped.parent, "--out", again)
    assert (code, err) == (0, "")
    assert f"wrote {again / zipped.name} (the same as issued)" in out
    assert (again / zipped.name).read_bytes() == zipped.read_bytes()
    assert run("issue", "--again", zipped.parent, "--out", again)[0] == 0


def test_a_package_that_holds_pdf_files_is_told_to_be_packed_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from generator.render.pdf import making

    made = iter(range(99))
    monkeypatch.setattr(making, "can_make", lambda: True)
    monkeypatch.setattr(
        making, "pdfs", lambda papers: {name.replace(".docx", ".pdf"): b"%d" % next(made) for name in papers}
    )
    monkeypatch.setattr(making, "with_pages", lambda *_: (b"PK", b"%d" % next(made)))
    zipped, _ = packed(tmp_path, "--library", str(ROOT / "clauses"))
    again = tmp_path / "again"
    code, out, _ = run("issue", "--again", zipped.parent, "--out", again)
    assert code == 0
    assert f"wrote {again / zipped.name} (packed anew with its PDF files: no office program makes a PDF" in out
    inside = zipfile.ZipFile(again / zipped.name)
    for name in inside.namelist():
        if not name.endswith("contents.txt"):
            assert inside.read(name) == (again / Path(name).name).read_bytes(), "of the papers beside it"


def test_a_package_that_somebody_changed_is_not_written_over(package: Package, tmp_path: Path) -> None:
    zipped, _ = package
    again = tmp_path / "again"
    again.mkdir()
    (again / zipped.name).write_bytes(b"somebody's own")
    code, _, err = run("issue", "--again", zipped.parent, "--out", again)
    assert (code, [path.name for path in again.iterdir()]) == (1, [zipped.name])
    assert "is there already, and is not what would be written" in err
    assert run("issue", "--again", zipped.parent, "--out", again, "--replace-edited")[0] == 0
    assert (again / zipped.name).read_bytes() == zipped.read_bytes()
