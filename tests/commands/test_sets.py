"""Sets at the command line: what somebody edited stays, older papers go or are told, and each file is in the record."""

from __future__ import annotations

import hashlib
import json
import shutil
from pathlib import Path

import pytest
from command_line import run
from helpers import build_tree
from jobs import ROOT

from generator.commands.sets import names_of_sets
from generator.document.files import COMPANIONS, pdf_name
from generator.files import writing
from generator.files.errors import CannotWrite
from generator.files.swap import replace_together
from generator.render.pdf import making

TOLL_HOUSE = ROOT / "examples" / "toll-house" / "answers.yaml"
ALL = ",".join(COMPANIONS)
WAYS = "nothing was written; to keep it name another folder with --out, to replace it add --replace-edited"


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A set with all companion papers."""
    folder = tmp_path_factory.mktemp("written") / "set"
    assert run("write", TOLL_HOUSE, "--out", folder, "--with", ALL)[0] == 0
    return folder


@pytest.fixture
def papers(written: Path, tmp_path: Path) -> Path:
    """A copy of the set that a test may change."""
    return shutil.copytree(written, tmp_path / "set")


def test_companions_may_be_named_one_by_one(tmp_path: Path) -> None:
    """All but the last were left out, without a word."""
    folder = tmp_path / "papers"
    assert run("write", TOLL_HOUSE, "--out", folder, "--with", "owner", "--with", "officer,records")[0] == 0
    assert {"owner-page.docx", "officer-summary.docx", "site-records.docx"} <= {path.name for path in folder.iterdir()}


def test_the_record_tells_every_file_and_every_name_is_one_that_a_set_can_have(written: Path) -> None:
    told = {item["name"]: item["sha256"] for item in json.loads((written / "record.json").read_bytes())["files"]}
    files = {name: data for name, data in contents(written).items() if name != "record.json"}
    assert told == {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    assert set(told) <= set(names_of_sets())
    assert len(told) == 3 + len(COMPANIONS)


def test_pdf_files_are_told_too_and_replaced_with_their_set(papers: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def printed(files: dict[str, bytes]) -> dict[str, bytes]:
        return {pdf_name(name): data[:100] for name, data in files.items()}

    monkeypatch.setattr(making, "with_pages", lambda document, house: (b"word", b"first"))
    monkeypatch.setattr(making, "pdfs", printed)
    code, out, _ = run("write", TOLL_HOUSE, "--out", papers, "--pdf")
    assert code == 0
    assert sorted(contents(papers)) == [
        "mix-schedule.docx", "mix-schedule.pdf", "pricing-schedule.xlsx", "record.json", "specification.docx",
        "specification.pdf",
    ]  # fmt: skip
    assert [line for line in out.splitlines() if line.startswith("took away")] == [
        f"took away {papers / name}, of the older set" for name in sorted(COMPANIONS.values())
    ]
    assert set(contents(papers)) - {"record.json"} <= set(names_of_sets())
    code, out, _ = run("write", TOLL_HOUSE, "--out", papers)
    assert f"took away {papers / 'specification.pdf'}, of the older set" in out
    assert not list(papers.glob("*.pdf"))


def test_a_paper_edited_since_is_left_and_told_before_anything_is_made(
    papers: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build_tree(papers, {"specification.docx": "edited", "owner-page.docx": "edited"})
    before = contents(papers)
    with monkeypatch.context() as patch:
        patch.setattr("generator.pipeline.assembled", None)
        code, out, err = run("write", TOLL_HOUSE, "--out", papers)
    assert (code, out) == (1, "")
    assert err.splitlines() == [
        f"{papers / name}: was changed since it was written: {WAYS}"
        for name in ("owner-page.docx", "specification.docx")
    ]
    assert contents(papers) == before
    code, out, err = run("write", TOLL_HOUSE, "--out", papers, "--replace-edited")
    assert (code, err) == (0, "")
    assert f"took away {papers / 'owner-page.docx'}, of the older set" in out
    assert (papers / "specification.docx").read_bytes() != b"edited"


def test_an_older_pdf_that_no_record_tells_is_never_left_beside_newer_papers(papers: Path) -> None:
    build_tree(papers, {"specification.pdf": "from Word", "notes.pdf": "mine"})
    code, _, err = run("write", TOLL_HOUSE, "--out", papers)
    assert code == 1
    told = "stands there, and no record.json tells that it was written with a set"
    assert err == f"{papers / 'specification.pdf'}: {told}: {WAYS}\n"
    assert run("write", TOLL_HOUSE, "--out", papers, "--replace-edited")[0] == 0
    assert {"notes.pdf"} == {path.name for path in papers.glob("*.pdf")}


def test_a_paper_edited_while_the_new_ones_are_made_is_left_too(papers: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def edited(folder: Path, *more: object) -> None:
        build_tree(folder, {"specification.docx": "edited"})
        replace_together(folder, *more)  # type: ignore[arg-type]

    monkeypatch.setattr("generator.files.writing.replace_together", edited)
    code, _, err = run("write", TOLL_HOUSE, "--out", papers)
    assert (code, "specification.docx: was changed since it was written" in err) == (1, True)
    assert (papers / "specification.docx").read_bytes() == b"edited"


def test_a_job_whose_record_could_not_be_read_is_neither_written_nor_issued(
    papers: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(writing, "MOST_RECORD_BYTES", 10_000)
    before = contents(papers)
    for words in (
        ("write", TOLL_HOUSE, "--out", papers, "--replace-edited"),
        ("issue", TOLL_HOUSE, "--out", tmp_path / "i"),
    ):
        code, _, err = run(*words)
        assert code == 1
        assert "and no more than 10,000 are read: part the job into several" in err
    assert contents(papers) == before
    assert not (tmp_path / "i").exists()


def test_an_addendum_or_a_style_that_is_there_is_replaced_only_if_asked(written: Path, tmp_path: Path) -> None:
    for words in (
        ("style", "export", "--out", tmp_path / "a.docx"),
        ("compare", written, written, "--addendum", tmp_path / "b.docx"),
    ):
        path = Path(str(words[-1]))
        path.write_text("mine")
        code, _, err = run(*words)
        assert code == 1
        told = "is there already, and is not what would be written"
        assert err == f"{path}: {told}: name another file, or add --replace-edited\n"
        assert path.read_text() == "mine"
        assert run(*words, "--replace-edited")[0] == 0
        assert run(*words)[0] == 0  # the same again


def test_companions_are_frozen_with_an_issue_and_written_again_from_it(tmp_path: Path) -> None:
    assert run("issue", TOLL_HOUSE, "--out", tmp_path, "--with", "owner,officer")[0] == 0
    folder = tmp_path / "EH-014-rev-1"
    assert run("issue", "--verify", folder)[0] == 0
    code, out, _ = run("issue", "--again", folder, "--out", tmp_path / "again")
    assert (code, out.count("(the same as issued)")) == (0, 5)
    (tmp_path / "again" / "owner-page.docx").write_text("edited")
    code, _, err = run("issue", "--again", folder, "--out", tmp_path / "again")
    assert (code, "owner-page.docx: was changed since it was written" in err) == (1, True)
    assert run("issue", "--again", folder, "--out", tmp_path / "again", "--replace-edited")[0] == 0


def test_a_disk_that_is_full_while_pdf_files_are_made_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda name: "soffice")

    def full(*args: object, **more: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(CannotWrite, match="--pdf works in the folder of temporary files, which fails"):
        making.pdfs({"a.docx": b""})
