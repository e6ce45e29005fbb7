"""Writing a set of files: all whole, the record last, and old files safe until the renames begin."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from helpers import build_tree

from generator.errors import CannotWrite
from generator.files.writing import write_set

ROOT = Path(__file__).resolve().parents[2]
PAPERS = ("specification.docx", "mix-schedule.docx", "pricing-schedule.xlsx")
OLD = {name: f"old {name}".encode() * 1_000 for name in PAPERS}
NEW = {name: f"new {name}".encode() * 2_000 for name in PAPERS}


def record_of(files: dict[str, bytes]) -> bytes:
    """A record that vouches for files by their digests."""
    return json.dumps({name: hashlib.sha256(data).hexdigest() for name, data in files.items()}).encode()


def old_set(folder: Path) -> Path:
    """A folder in which the old set stands complete."""
    return build_tree(folder, {**OLD, "record.json": record_of(OLD)})


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def vouched(folder: Path) -> bool:
    """Whether there is no record, or each file is the one that the record claims."""
    record = folder / "record.json"
    claims = json.loads(record.read_bytes()) if record.exists() else {}
    return all(hashlib.sha256((folder / n).read_bytes()).hexdigest() == sha for n, sha in claims.items())


def test_a_set_is_written_into_a_folder_that_is_made_for_it(tmp_path: Path) -> None:
    write_set(tmp_path / "a" / "b", NEW, record_of(NEW))
    assert contents(tmp_path / "a" / "b") == {**NEW, "record.json": record_of(NEW)}


def test_an_old_set_is_replaced_and_other_files_are_left(tmp_path: Path) -> None:
    old_set(tmp_path)
    build_tree(tmp_path, {"notes.txt": "mine"})
    write_set(tmp_path, NEW, record_of(NEW))
    assert contents(tmp_path) == {**NEW, "record.json": record_of(NEW), "notes.txt": b"mine"}


class TestCannotWrite:
    def test_a_file_in_place_of_the_folder(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out": "a file"})
        with pytest.raises(CannotWrite) as caught:
            write_set(tmp_path / "out", NEW, b"")
        assert str(caught.value) == f"{tmp_path}/out: is a file, or lies below one: name a folder with --out"
        assert (tmp_path / "out").read_text() == "a file"

    def test_a_folder_below_a_file(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out": "a file"})
        with pytest.raises(CannotWrite, match="is a file, or lies below one"):
            write_set(tmp_path / "out" / "deeper", NEW, b"")

    def test_a_folder_in_place_of_a_paper_leaves_the_old_set_whole(self, tmp_path: Path) -> None:
        old_set(tmp_path)
        (tmp_path / "specification.docx").unlink()
        build_tree(tmp_path, {"specification.docx/inside.txt": "x"})
        before = sorted(path.name for path in tmp_path.iterdir())
        with pytest.raises(CannotWrite, match=r"'specification\.docx' is a folder there"):
            write_set(tmp_path, NEW, record_of(NEW))
        assert sorted(path.name for path in tmp_path.iterdir()) == before
        assert (tmp_path / "record.json").read_bytes() == record_of(OLD)

    @pytest.mark.skipif(os.geteuid() == 0, reason="nothing is forbidden to the superuser")
    def test_a_folder_that_may_not_be_written(self, tmp_path: Path) -> None:
        old_set(tmp_path)
        tmp_path.chmod(0o555)
        try:
            with pytest.raises(CannotWrite, match=r"cannot be written \(Permission denied\)"):
                write_set(tmp_path, NEW, record_of(NEW))
        finally:
            tmp_path.chmod(0o755)
        assert contents(tmp_path) == {**OLD, "record.json": record_of(OLD)}

    @pytest.mark.parametrize("failing", [1, 2, 4])
    def test_a_full_disk_leaves_the_old_set_whole_and_nothing_beside_it(
        self, failing: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        old_set(tmp_path)
        calls = []

        def full(descriptor: int) -> None:
            calls.append(descriptor)
            if len(calls) == failing:
                raise OSError(errno.ENOSPC, "No space left on device")

        monkeypatch.setattr(os, "fsync", full)
        with pytest.raises(CannotWrite) as caught:
            write_set(tmp_path, NEW, record_of(NEW))
        assert str(caught.value) == (
            f"{tmp_path}: cannot be written (No space left on device): "
            "free space, close open papers or name another folder with --out"
        )
        assert contents(tmp_path) == {**OLD, "record.json": record_of(OLD)}

    @pytest.mark.parametrize("failing", [1, 2, 3, 4])
    def test_a_rename_that_fails_leaves_no_record_that_claims_too_much(
        self, failing: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        old_set(tmp_path)
        calls = []
        replace = Path.replace

        def locked(self: Path, target: Path) -> Path:
            calls.append(target)
            if len(calls) == failing:
                raise PermissionError(errno.EACCES, "The file is open in another program")
            return replace(self, target)

        monkeypatch.setattr(Path, "replace", locked)
        with pytest.raises(CannotWrite):
            write_set(tmp_path, NEW, record_of(NEW))
        found = contents(tmp_path)
        assert "record.json" not in found
        assert all(found[name] in (OLD[name], NEW[name]) for name in PAPERS)
        assert not any(name.endswith(".part") for name in found)


KILLED = """\
import os, signal, sys
from pathlib import Path
sys.path.insert(0, sys.argv[1])
from generator.files import writing
papers = {path.name: path.read_bytes() for path in Path(sys.argv[2]).iterdir()}
left = int(sys.argv[4])

def counted(step):
    def run(*args, **more):
        global left
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        left -= 1
        return step(*args, **more)
    return run

os.fsync, Path.replace, Path.unlink = counted(os.fsync), counted(Path.replace), counted(Path.unlink)
writing.write_set(Path(sys.argv[3]), papers, papers.pop(writing.RECORD_FILE))
"""
STEPS = 9  # four files stored, the old record removed, four renames


@pytest.mark.skipif(sys.platform == "win32", reason="kills its process by a signal")
def test_a_run_that_is_killed_leaves_whole_files_and_no_false_record(tmp_path: Path) -> None:
    """Killed before each step on the disk in turn."""
    new = build_tree(tmp_path / "new", {**NEW, "record.json": record_of(NEW)})
    folders = [old_set(tmp_path / str(step)) for step in range(STEPS)]
    started = [
        subprocess.Popen([sys.executable, "-I", "-c", KILLED, str(ROOT), str(new), str(folder), str(step)])
        for step, folder in enumerate(folders)
    ]
    assert [process.wait(timeout=60) for process in started] == [-9] * STEPS
    for folder in folders:
        found = contents(folder)
        assert all(found[name] in (OLD[name], NEW[name]) for name in PAPERS)
        assert vouched(folder)
        write_set(folder, NEW, record_of(NEW))
        assert contents(folder) == {**NEW, "record.json": record_of(NEW)}
