"""Issues made by several people, on disks that fail, and carried by version control: one revision, once, as issued."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from failing import at_once, counted, full_disk, killed_at, steps_of
from helpers import build_tree

from generator.files.errors import CannotWrite, InputInvalid
from generator.files.swap import NOTE, STAGE
from generator.record.revisions import issued
from generator.record.revisions.issued import Issue, Issued, freeze, newest, read_issued, verify

# More rounds on demand: ROUNDS=200 python -m pytest tests/record/revisions/test_freezing.py
ROUNDS = int(os.environ.get("ROUNDS", "8"))
posix = pytest.mark.skipif(sys.platform == "win32", reason="forks")


def files(revision: str = "1", about: str = "") -> dict[str, bytes]:
    given = {"reference": "R/1", "revision": revision, "about": about}
    record: dict[str, Any] = {
        "schema": 1, "mixes": [], "works": [], "items": [], "clauses": [], "findings": [], "library": {},
        "issue": {"date": "2027-02-01"}, "answers": {"given": {"": given}}, "numbers": {},
    }  # fmt: skip
    return {
        "record.json": json.dumps(record).encode(),
        "specification.docx": about.encode() * 1_000,
        "answers/a.yaml": f"project: {{about: {about}}}\r\n".encode(),
        "library/0-shipped/library.yaml": b"{}\n",
    }


def issue(out: Path, revision: str = "1", about: str = "", last: Issued | None = None) -> Path:
    return freeze(out, Issue("R/1", revision, "2027-02-01", "a.yaml", [], last), files(revision, about))


def visible(out: Path) -> list[str]:
    return sorted(path.name for path in out.iterdir() if not path.name.startswith(".gaugebox"))


def is_whole(folder: Path) -> bool:
    return not list(verify(folder)) and read_issued(folder).number > 0


class TestTheSameRevision:
    @posix
    def test_by_several_at_once_is_issued_by_one_and_is_whole(self, tmp_path: Path) -> None:
        for turn in range(ROUNDS):
            out = tmp_path / str(turn)
            assert sum(at_once([partial(issue, out, "1", f"by {who}") for who in range(4)])) == 1
            assert visible(out) == ["R-1-rev-1"]
            assert is_whole(out / "R-1-rev-1")

    @posix
    def test_and_others_after_it_at_once_are_issued_by_one(self, tmp_path: Path) -> None:
        for turn in range(ROUNDS):
            out = tmp_path / str(turn)
            first = read_issued(issue(out))
            done = at_once([partial(issue, out, revision, last=first) for revision in ("2", "A", "2a")])
            assert sum(done) == 1
            assert len(visible(out)) == 2
            found = newest(out, "R/1")
            assert found is not None
            assert found.number == 2

    def test_is_refused_however_it_is_spelt(self, tmp_path: Path) -> None:
        first = read_issued(issue(tmp_path, "a"))
        for revision in ("a", "A", "a!"):
            with pytest.raises(CannotWrite, match="is never rewritten: give the answers the next revision"):
                issue(tmp_path, revision, last=first)
        assert visible(tmp_path) == ["R-1-rev-a"]

    def test_one_that_was_issued_meanwhile_is_told(self, tmp_path: Path) -> None:
        first = read_issued(issue(tmp_path))
        issue(tmp_path, "2", last=first)
        words = (
            r"R-1-rev-2: was issued as revision 2 meanwhile, and this issue does not follow it: run it again, or name"
        )
        with pytest.raises(CannotWrite, match=words):
            issue(tmp_path, "3", last=first)

    def test_two_of_one_number_that_two_people_brought_together_are_told(self, tmp_path: Path) -> None:
        first = read_issued(issue(tmp_path / "ann"))
        shutil.copytree(tmp_path / "ann", tmp_path / "ben")
        issue(tmp_path / "ann", "2", last=first)
        issue(tmp_path / "ben", "B", last=first)
        shutil.copytree(tmp_path / "ben" / "R-1-rev-B", tmp_path / "ann" / "R-1-rev-B")
        with pytest.raises(InputInvalid, match=r"is number 2 of the issues of R/1, and so is .*: settle which"):
            newest(tmp_path / "ann", "R/1")


@pytest.mark.parametrize("stays", [False, True], ids=["one failure", "all from then on"])
def test_a_full_disk_at_every_step_leaves_no_issue_or_a_whole_one(stays: bool, tmp_path: Path) -> None:
    count = steps_of(lambda: issue(tmp_path / "all"))
    told = 0
    for failing in range(count):
        out = build_tree(tmp_path / str(failing), {"notes.txt": "mine"})
        try:
            with counted(full_disk(failing, stays=stays)):
                issue(out)
        except CannotWrite:
            told += 1
            expected = ["notes.txt"]
        else:
            expected = ["R-1-rev-1", "notes.txt"]
        assert visible(out) == expected
        if told and expected == ["notes.txt"]:
            issue(out)
        assert is_whole(out / "R-1-rev-1")
        assert not list(out.glob(f"{STAGE}*")) or expected != ["notes.txt"]
    assert told > count / 2


@posix
def test_a_run_killed_at_every_step_leaves_no_issue_or_a_whole_one(tmp_path: Path) -> None:
    failing = 0
    while killed_at(failing, partial(issue, tmp_path / str(failing))):
        out = tmp_path / str(failing)
        out.mkdir(exist_ok=True)
        if not visible(out):
            issue(out)
        assert visible(out) == ["R-1-rev-1"]
        assert is_whole(out / "R-1-rev-1")
        failing += 1
    assert failing > 15


@posix
@pytest.mark.slow
def test_many_runs_at_once_some_of_them_killed(tmp_path: Path) -> None:
    dice = random.Random(11)
    count = steps_of(lambda: issue(tmp_path / "all"))
    for turn in range(60):
        out = tmp_path / str(turn)
        runs = [partial(issue, out, "1", f"by {who}") for who in range(3)]
        at_once([*runs, *(partial(killed_at, dice.randrange(count), run) for run in runs)])
        assert visible(out) == ["R-1-rev-1"]
        assert is_whole(out / "R-1-rev-1")


class TestVersionControl:
    @pytest.mark.skipif(shutil.which("git") is None, reason="needs git")
    def test_that_changes_line_ends_leaves_an_issue_as_it_was(self, tmp_path: Path) -> None:
        issue(tmp_path / "one" / "issues", about="$Id$")

        def git(*words: str, at: str = "one") -> None:
            own = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1", "HOME": str(tmp_path)}
            settings = ("user.name=a", "user.email=a@example.org", "core.autocrlf=true", "core.eol=crlf")
            chosen = [word for setting in settings for word in ("-c", setting)]
            environment = {**os.environ, **own}
            subprocess.run(
                ["git", *chosen, *words], cwd=tmp_path / at, check=True, capture_output=True, env=environment
            )

        build_tree(tmp_path / "one", {".gitattributes": "* text=auto eol=crlf ident\n", "a.txt": "one\ntwo\n"})
        git("init", "-q")
        git("add", "-A")
        git("commit", "-q", "-m", "issued")
        git("clone", "-q", "one", "two", at=".")
        assert (tmp_path / "two" / "a.txt").read_bytes() == b"one\r\ntwo\r\n"
        assert is_whole(tmp_path / "two" / "issues" / "R-1-rev-1")

    def test_an_issue_made_before_they_carried_what_tells_it_so_is_still_read(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(issued, "ATTRIBUTES_FILE", "notes.txt")
        folder = issue(tmp_path)
        assert not (folder / ".gitattributes").exists()
        assert is_whole(folder)


def test_what_programs_leave_where_somebody_only_looks_is_no_change_of_an_issue(tmp_path: Path) -> None:
    folder = issue(tmp_path)
    names = (".DS_Store", "Thumbs.db", "desktop.ini", "~$ecification.docx", ".~lock.specification.docx#")
    build_tree(folder, dict.fromkeys(names, "x"))
    assert is_whole(folder)
    build_tree(folder, {"library/Thumbs.db.exe": "x"})
    (folder / "link").symlink_to(tmp_path)
    os.mkfifo(folder / "pipe")
    told = [str(problem) for problem in verify(folder)]
    assert [line.partition(": ")[2] for line in told] == ["was put into the issue later: move it out of the folder"] * 3


@pytest.mark.parametrize("name", ["a:b.yaml", "a\\b.yaml", "nul.yaml", "a\n.yaml", "\udcff.yaml", "x" * 220])
def test_nothing_is_issued_that_could_not_be_read_again_elsewhere(name: str, tmp_path: Path) -> None:
    about = Issue("R/1", "1", "2027-02-01", name, [])
    with pytest.raises(CannotWrite, match="not every system can keep a file named"):
        freeze(tmp_path, about, {**files(), f"answers/{name}": b""})
    assert visible(tmp_path) == []


def test_a_set_that_a_run_left_half_replaced_is_told(tmp_path: Path) -> None:
    build_tree(tmp_path, {f"{STAGE}x/{NOTE}": "{}"})
    with pytest.raises(InputInvalid, match="was left half replaced by a run that broke off: write the set there again"):
        read_issued(tmp_path)
