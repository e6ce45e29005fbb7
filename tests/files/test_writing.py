"""Writing whole: a set, a layer's files, one file; old ones stand after any failure, nobody's is replaced unasked."""

from __future__ import annotations

import hashlib
import json
import os
import random
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from failing import at_once, counted, full_disk, killed_at, steps_of
from helpers import build_tree, slow_but

from generator.errors import CannotWrite
from generator.files import limits, lock, writing
from generator.files.lock import LOCK_FILE, locked
from generator.files.manifest import manifest
from generator.files.swap import NOTE, STAGE, unfinished
from generator.files.writing import add_together, only_writer, refuse_set, write_set, write_whole

# More rounds on demand: ROUNDS=200 python -m pytest tests/files/test_writing.py
ROUNDS = int(os.environ.get("ROUNDS", "8"))
PAPERS = ("specification.docx", "mix-schedule.docx", "pricing-schedule.xlsx")
OLD = {name: f"old {name}".encode() * 100 for name in (*PAPERS, "owner-page.docx")}
NEW = {name: f"new {name}".encode() * 200 for name in PAPERS}
posix = pytest.mark.skipif(sys.platform == "win32", reason="forks")


def record_of(files: dict[str, bytes]) -> bytes:
    """A record that vouches for files by their digests."""
    told = [{"name": name, "sha256": hashlib.sha256(data).hexdigest()} for name, data in files.items()]
    return json.dumps({"files": told}).encode()


def whole(files: dict[str, bytes]) -> dict[str, bytes]:
    """All that stands in the folder of a set."""
    return {**files, "record.json": record_of(files)}


def old_set(folder: Path) -> Path:
    """A folder in which the old set stands complete."""
    return build_tree(folder, dict(whole(OLD)))


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def write(folder: Path) -> list[str]:
    """Writes the new set."""
    return write_set(folder, NEW, record_of(NEW))


class TestASet:
    def test_is_written_into_a_folder_that_is_made_for_it(self, tmp_path: Path) -> None:
        assert write(tmp_path / "a" / "b") == []
        assert contents(tmp_path) == {f"a/b/{name}": data for name, data in whole(NEW).items()}

    def test_replaces_all_that_belongs_to_the_old_one_and_leaves_other_files(self, tmp_path: Path) -> None:
        build_tree(old_set(tmp_path), {"notes.txt": "mine", "photographs/a.jpg": "mine too"})
        assert write(tmp_path) == ["owner-page.docx"]
        assert contents(tmp_path) == {**whole(NEW), "notes.txt": b"mine", "photographs/a.jpg": b"mine too"}

    def test_a_paper_that_somebody_deleted_is_not_missed(self, tmp_path: Path) -> None:
        (old_set(tmp_path) / PAPERS[0]).unlink()
        write(tmp_path)
        assert contents(tmp_path) == whole(NEW)

    def test_a_record_larger_than_any_that_is_read_is_not_written(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(writing, "MOST_RECORD_BYTES", 100)
        with pytest.raises(CannotWrite, match=r"record\.json: would take \d+ bytes, and no more than 100 are read"):
            write(old_set(tmp_path))
        assert contents(tmp_path) == whole(OLD)
        assert limits.MOST_RECORD_BYTES == 150_000_000


class TestWhatSomebodyEdited:
    @pytest.mark.parametrize(
        ("change", "words"),
        [
            ({PAPERS[0]: b"edited"}, [f"{PAPERS[0]}: was changed since it was written"]),
            ({PAPERS[0]: b"a", PAPERS[2]: b"b"}, [f"{PAPERS[2]}: was changed", f"{PAPERS[0]}: was changed"]),
            ({"owner-page.docx": b"edited"}, ["owner-page.docx: was changed since"]),
            ({"specification.pdf": b"from Word"}, ["specification.pdf: stands there, and no record.json tells"]),
            ({"record.json": b"{}"}, ["mix-schedule.docx: stands there", "record.json: is not a record as it was"]),
        ],
    )
    def test_is_told_with_the_ways_to_go_on_and_nothing_is_written(
        self, change: dict[str, bytes], words: list[str], tmp_path: Path
    ) -> None:
        build_tree(old_set(tmp_path), {**change})
        before = contents(tmp_path)
        others = ["specification.pdf", *OLD]
        for step in (
            lambda: write_set(tmp_path, NEW, record_of(NEW), others),
            lambda: refuse_set(tmp_path, others),
        ):
            with pytest.raises(CannotWrite) as caught:
                step()
            lines = str(caught.value).splitlines()
            assert all(any(line.startswith(f"{tmp_path}/{told}") for line in lines) for told in words)
            ways = "nothing was written; to keep it name another folder with --out, to replace it add --replace-edited"
            assert all(line.endswith(ways) for line in lines)
            assert contents(tmp_path) == before
        refuse_set(tmp_path, others, replace=True)
        gone = write_set(tmp_path, NEW, record_of(NEW), others, replace=True)
        assert set(gone) == {"owner-page.docx", *change} - {*NEW, "record.json"}
        assert contents(tmp_path) == whole(NEW)

    def test_is_told_from_one_reading_of_the_record(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        old_set(tmp_path)
        read: list[Path] = []

        def reading(folder: Path) -> dict[str, str]:
            read.append(folder)
            return manifest(folder)

        monkeypatch.setattr(writing, "manifest", reading)
        refuse_set(tmp_path, PAPERS)
        assert read == [tmp_path]

    def test_papers_without_a_record_are_somebodys_own(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {PAPERS[0]: "mine"})
        with pytest.raises(CannotWrite, match=r"no record\.json tells that it was written with a set"):
            write(tmp_path)
        assert contents(tmp_path) == {PAPERS[0]: b"mine"}

    @pytest.mark.parametrize(
        "record", [b"\xff", b"[" * 100_000, b"[]", b'{"files": 5}', b'{"files": [{"name": "../x"}]}']
    )
    def test_a_record_that_is_none_vouches_for_nothing(self, record: bytes, tmp_path: Path) -> None:
        build_tree(tmp_path / "set", {"record.json": record})
        build_tree(tmp_path, {"x": "mine"})
        with pytest.raises(CannotWrite, match="is not a record as it was written"):
            write(tmp_path / "set")

    def test_a_record_names_no_file_outside_its_folder(self, tmp_path: Path) -> None:
        mine = {"x": b"mine", "deeper/x": b"mine"}
        build_tree(tmp_path / "out", {"../x": b"mine", "deeper/x": b"mine"})
        told = [{"name": name, "sha256": hashlib.sha256(b"mine").hexdigest()} for name in ("../x", "deeper/x", "/x")]
        sound = json.loads(record_of(OLD))["files"]
        build_tree(tmp_path / "out", {**OLD, "record.json": json.dumps({"files": told + sound}).encode()})
        write(tmp_path / "out")
        assert contents(tmp_path) == {"x": mine["x"], "out/deeper/x": b"mine"} | {
            f"out/{name}": data for name, data in whole(NEW).items()
        }


class TestCannotWrite:
    def test_a_file_in_place_of_the_folder(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out": "a file"})
        with pytest.raises(CannotWrite) as caught:
            write(tmp_path / "out")
        assert str(caught.value) == f"{tmp_path}/out: is a file, or lies below one: name a folder with --out"
        assert (tmp_path / "out").read_text() == "a file"

    def test_a_folder_below_a_file(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out": "a file"})
        with pytest.raises(CannotWrite, match="is a file, or lies below one"):
            write(tmp_path / "out" / "deeper")

    @pytest.mark.parametrize("kind", ["folder", "link", "pipe", "read-only"])
    def test_what_is_no_file_that_may_be_replaced_leaves_the_old_set_whole(self, kind: str, tmp_path: Path) -> None:
        paper = old_set(tmp_path) / PAPERS[1]
        if kind == "read-only":
            paper.chmod(0o444)
        else:
            paper.unlink()
        if kind == "folder":
            build_tree(tmp_path, {f"{PAPERS[1]}/inside.txt": "x"})
        elif kind == "link":
            paper.symlink_to(build_tree(tmp_path.parent, {"aim": "mine"}) / "aim")
        elif kind == "pipe":
            os.mkfifo(paper)
        before = contents(tmp_path)
        words = {"pipe": "is a device there", "read-only": r"may not be changed \(it is read-only\)"}
        with pytest.raises(CannotWrite, match=words.get(kind, f"is a {kind} there")):
            write_set(tmp_path, NEW, record_of(NEW), replace=True)
        assert contents(tmp_path) == before

    @pytest.mark.parametrize(
        "name", [".~lock.specification.docx#", "~$ecification.docx", "~$specification.docx", "~$pecification.docx"]
    )
    def test_a_paper_that_an_office_program_has_open(self, name: str, tmp_path: Path) -> None:
        build_tree(old_set(tmp_path), {name: "somebody"})
        with pytest.raises(CannotWrite, match=r"specification\.docx: is open in an office program"):
            write_set(tmp_path, NEW, record_of(NEW), replace=True)

    def test_a_link_in_place_of_the_folder_is_told_with_where_it_leads(self, tmp_path: Path) -> None:
        old_set(tmp_path / "real")
        (tmp_path / "link").symlink_to(tmp_path / "real")
        with pytest.raises(CannotWrite, match=rf"is a link: name the folder that it leads to, {tmp_path}/real"):
            write(tmp_path / "link")
        assert contents(tmp_path / "real") == whole(OLD)

    @pytest.mark.parametrize("name", ["a\0b", "x" * 300, "x/" * 3_000])
    def test_a_path_that_no_system_takes(self, name: str, tmp_path: Path) -> None:
        for step in (lambda: write(tmp_path / name), lambda: refuse_set(tmp_path / name, PAPERS)):
            with pytest.raises(CannotWrite, match="cannot be written"):
                step()

    @pytest.mark.parametrize("place", ["out", "library", "link"])
    def test_an_issue_by_whatever_way_it_is_named(self, place: str, tmp_path: Path) -> None:
        build_tree(tmp_path, {"out/issue.json": "{}", "out/record.json": "{}", "out/library/0/a.yaml": "x"})
        (tmp_path / "link").symlink_to(tmp_path / "out" / "library")
        folder = {"out": tmp_path / "out", "library": tmp_path / "out" / "library", "link": tmp_path / "link" / "0"}
        with pytest.raises(CannotWrite, match="which are never rewritten"):
            write(folder[place])

    @pytest.mark.skipif(os.geteuid() == 0, reason="nothing is forbidden to the superuser")
    def test_a_folder_that_may_not_be_written(self, tmp_path: Path) -> None:
        old_set(tmp_path)
        tmp_path.chmod(0o555)
        try:
            with pytest.raises(CannotWrite, match=r"cannot be written \(Permission denied\)"):
                write(tmp_path)
        finally:
            tmp_path.chmod(0o755)
        assert contents(tmp_path) == whole(OLD)

    @pytest.mark.parametrize("failing", PAPERS)
    def test_a_paper_that_another_program_holds_and_windows_will_not_move(
        self, failing: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        old_set(tmp_path)
        rename = os.rename

        def held(source: Path, target: Path) -> None:
            if Path(source).name == failing:
                raise PermissionError(13, "The file is being used by another process", str(source), None, str(target))
            rename(source, target)

        monkeypatch.setattr(os, "rename", held)
        with pytest.raises(CannotWrite, match=rf"\({failing}: The file is being used by another process\): .*close"):
            write(tmp_path)
        assert contents(tmp_path) == whole(OLD)


Run = Callable[[Path], object]
LAYER = {"layer.yaml": b"{name: a}", "clauses/a.yaml": b"a" * 3_000, "clauses/b.yaml": b"b", "questions/c.yaml": b"c"}
RUNS: dict[str, tuple[dict[str, bytes], Run, dict[str, bytes]]] = {
    "a set over another": (dict(whole(OLD)), write, whole(NEW)),
    "a set": ({"notes.txt": b"mine"}, write, {"notes.txt": b"mine", **whole(NEW)}),
    "files of a layer": (
        {"clauses/0.yaml": b"0"},
        lambda folder: add_together(folder, LAYER, "no"),
        {"clauses/0.yaml": b"0", **LAYER},
    ),
    "a file over another": (
        {"a.docx": b"old", "b": b"b"},
        lambda folder: write_whole(folder / "a.docx", b"new" * 999, "no", replace=True),
        {"a.docx": b"new" * 999, "b": b"b"},
    ),
}


ALIKE = ("a set",)
"""Runs that go no way but those of another of them."""


def settled(folder: Path) -> dict[str, bytes]:
    """What stands in a folder once the next run has begun there."""
    with only_writer(folder, "no"):
        pass
    return contents(folder)


def refusal(run: Run, folder: Path) -> str:
    """What a run is refused with; empty where it is not."""
    try:
        run(folder)
    except CannotWrite as error:
        return str(error)
    return ""


def visible(folder: Path) -> dict[str, bytes]:
    """What a reader sees in a folder."""
    return {name: data for name, data in contents(folder).items() if not name.startswith(".gaugebox")}


@pytest.mark.parametrize("case", RUNS)
@pytest.mark.parametrize("stays", [False, True], ids=["one failure", "all from then on"])
class TestAFullDisk:
    def test_at_every_step_leaves_what_stood_there_or_what_was_written(
        self, case: str, stays: bool, tmp_path: Path
    ) -> None:
        before, run, after = RUNS[case]
        count = steps_of(lambda: run(build_tree(tmp_path / "all", {**before})))
        assert contents(tmp_path / "all") == after
        told = 0
        for failing in range(count):
            folder = build_tree(tmp_path / str(failing), {**before})
            with counted(full_disk(failing, stays=stays)):
                error = refusal(run, folder)
            told += bool(error)
            assert not error or error.startswith(str(folder))
            expected = before if error else after
            assert stays or visible(folder) == expected, failing
            assert settled(folder) == expected, failing
        assert told > count / 3


def vouched(folder: Path) -> bool:
    """Whether there is no record, or each file is the one that the record claims."""
    record = folder / "record.json"
    claims = json.loads(record.read_bytes())["files"] if record.exists() else []
    return all(hashlib.sha256((folder / n["name"]).read_bytes()).hexdigest() == n["sha256"] for n in claims)


class TestARunThatIsKilled:
    @posix
    @pytest.mark.parametrize("case", [pytest.param(case, marks=[pytest.mark.slow] * (case in ALIKE)) for case in RUNS])
    def test_at_every_step_leaves_whole_files_and_the_next_run_puts_back_what_stood_there(
        self, case: str, tmp_path: Path
    ) -> None:
        before, run, after = RUNS[case]
        swapping, failing, folder = 0, 0, tmp_path / "0"
        while killed_at(failing, partial(run, build_tree(folder, {**before}))):
            found = visible(folder)
            assert all(data in (before.get(name), after.get(name)) for name, data in found.items()), failing
            assert vouched(folder), failing
            half = found not in (before, after)
            assert not half or unfinished(folder)
            swapping += half
            assert settled(folder) in (before, after), failing
            failing += 1
            folder = tmp_path / str(failing)
        assert contents(folder) == after
        assert failing > 10
        assert swapping == {"a set over another": 8, "a set": 3, "files of a layer": 3, "a file over another": 0}[case]

    @posix
    @pytest.mark.parametrize("case", slow_but(1, RUNS))
    def test_and_killed_again_while_it_puts_back(self, case: str, tmp_path: Path) -> None:
        before, run, after = RUNS[case]
        dice = random.Random(case)
        count = steps_of(lambda: run(build_tree(tmp_path / "all", {**before})))
        for turn in range(ROUNDS):
            folder = build_tree(tmp_path / str(turn), {**before})
            killed_at(dice.randrange(count), partial(run, folder))
            for _ in range(3):
                killed_at(dice.randrange(12), partial(settled, folder))
                assert vouched(folder)
            assert settled(folder) in (before, after)


@posix
@pytest.mark.slow
@pytest.mark.parametrize("seed", range(40))
def test_a_folder_that_many_runs_write_in_and_die_in_always_holds_one_set_whole(seed: int, tmp_path: Path) -> None:
    """Several at once, each killed at a step or not, one after another; what stands is a set that one of them meant."""
    dice = random.Random(seed)
    folder, sets = old_set(tmp_path / "set"), [whole(OLD)]
    count = steps_of(partial(write, old_set(tmp_path / "all")))
    for turn in range(6):
        meant = [{name: f"{turn} {who} {name}".encode() * 900 for name in PAPERS} for who in range(3)]
        runs = [partial(write_set, folder, files, record_of(files)) for files in meant]
        at_once([partial(killed_at, dice.randrange(2 * count), run) for run in runs])
        sets += [whole(files) for files in meant]
        assert vouched(folder)
        assert settled(folder) in sets


@posix
def test_what_somebody_changed_after_a_run_was_killed_is_not_put_back_over(tmp_path: Path) -> None:
    failing, folder = 0, tmp_path / "0"
    while killed_at(failing, partial(write, old_set(folder))):
        if unfinished(folder) and visible(folder).get(PAPERS[0]) == NEW[PAPERS[0]]:
            break
        failing += 1
        folder = tmp_path / str(failing)
    (folder / PAPERS[0]).write_bytes(b"edited since")
    with pytest.raises(
        CannotWrite, match=rf"'{PAPERS[0]}' was changed since.*it lies in .*{STAGE}\w+/old; move it back"
    ):
        write(folder)
    assert (folder / PAPERS[0]).read_bytes() == b"edited since"
    kept = next(folder.glob(f"{STAGE}*/old/{PAPERS[0]}"))
    assert kept.read_bytes() == OLD[PAPERS[0]]


@pytest.mark.parametrize("note", [b"{", b"[]", b'{"new": {"../x": ""}, "had": ["../x"], "made": []}', b'{"new": 1}'])
def test_a_note_that_no_run_wrote_moves_nothing(note: bytes, tmp_path: Path) -> None:
    build_tree(tmp_path, {"x": "mine", f"set/{STAGE}abc/{NOTE}": note, f"set/{STAGE}abc/old/x": "theirs"})
    with pytest.raises(CannotWrite, match="what stood there before could not be put back"):
        write(tmp_path / "set")
    assert (tmp_path / "x").read_text() == "mine"


@posix
class TestTwoRunsAtOnce:
    def test_of_one_set_come_one_after_the_other(self, tmp_path: Path) -> None:
        """Either may be the last, and what stands is wholly one's."""
        sets = [{name: f"{number} {name}".encode() * 500 for name in PAPERS} for number in range(4)]
        for turn in range(ROUNDS):
            folder = old_set(tmp_path / str(turn))
            assert at_once([partial(write_set, folder, files, record_of(files)) for files in sets]) == [True] * 4
            assert contents(folder) in [whole(files) for files in sets]

    def test_of_one_layer_add_both_or_one_is_told(self, tmp_path: Path) -> None:
        for turn in range(ROUNDS):
            folder = tmp_path / str(turn)
            layers = [{"layer.yaml": b"x", f"clauses/{name}": name.encode()} for name in ("a", "b", "c")]
            assert at_once([partial(add_together, folder, files, "no") for files in layers]) == [True] * 3
            assert contents(folder) == {"layer.yaml": b"x", "clauses/a": b"a", "clauses/b": b"b", "clauses/c": b"c"}

    def test_one_that_waits_too_long_is_told_which_other_writes(self, tmp_path: Path) -> None:
        with locked(tmp_path):
            assert "process" in (tmp_path / LOCK_FILE).read_text()
            words = rf"another run of Gaugebox is writing there \(process {os.getpid()}\): let it end, then try again"
            with pytest.raises(CannotWrite, match=words), locked(tmp_path, tries=2):
                pass
        assert contents(tmp_path) == {}

    def test_a_lock_left_by_a_run_that_died_holds_nobody_up(self, tmp_path: Path) -> None:
        build_tree(old_set(tmp_path), {LOCK_FILE: "Gaugebox is writing in this folder: process 1."})
        write(tmp_path)
        assert contents(tmp_path) == whole(NEW)

    @pytest.mark.parametrize("kind", ["link", "pipe", "folder"])
    def test_a_lock_that_is_no_file_is_not_followed(self, kind: str, tmp_path: Path) -> None:
        build_tree(tmp_path, {"aim": "mine"})
        path = tmp_path / "set" / LOCK_FILE
        path.parent.mkdir()
        if kind == "link":
            path.symlink_to(tmp_path / "aim")
        elif kind == "pipe":
            os.mkfifo(path)
        else:
            path.mkdir()
        with pytest.raises(CannotWrite, match="cannot be written"):
            write(tmp_path / "set")
        assert (tmp_path / "aim").read_text() == "mine"


def test_a_link_at_a_name_that_earlier_runs_used_is_not_followed(tmp_path: Path) -> None:
    build_tree(tmp_path, {"aim": "mine"})
    for name in (".specification.docx.part", f"{STAGE}x"):
        (tmp_path / name).symlink_to(tmp_path / "aim")
    write(tmp_path)
    assert (tmp_path / "aim").read_text() == "mine"
    assert contents(tmp_path) == {
        **whole(NEW), "aim": b"mine", ".specification.docx.part": b"mine", f"{STAGE}x": b"mine",
    }  # fmt: skip


class TestAFile:
    def test_that_is_there_with_other_contents_is_replaced_only_if_asked(self, tmp_path: Path) -> None:
        path = build_tree(tmp_path, {"house.docx": "mine"}) / "house.docx"
        with pytest.raises(CannotWrite, match="is there already, and is not what would be written: name another"):
            write_whole(path, b"new", "name another")
        assert path.read_bytes() == b"mine"
        write_whole(path, b"new", "name another", replace=True)
        write_whole(path, b"new", "name another")
        assert contents(tmp_path) == {"house.docx": b"new"}

    @pytest.mark.parametrize("name", ["NUL", "con.docx", "com1.x", "Lpt9", "a?.docx", "ends.", "ends ", "a:b"])
    def test_is_given_no_name_that_some_system_cannot_keep(self, name: str, tmp_path: Path) -> None:
        with pytest.raises(CannotWrite, match=r"device on Windows|not every system can keep"):
            write_whole(tmp_path / name, b"", "name another")
        assert contents(tmp_path) == {}

    @posix
    @pytest.mark.parametrize("name", ["/dev/null", "/dev/stdout", "/dev/full"])
    def test_in_the_place_of_a_device_is_refused(self, name: str) -> None:
        before = Path(name).lstat().st_mode
        with pytest.raises(CannotWrite, match=r"is a (device|link) there"):
            write_whole(Path(name), b"x", "name another", replace=True)
        assert Path(name).lstat().st_mode == before

    def test_that_is_a_link_or_read_only_is_left(self, tmp_path: Path) -> None:
        build_tree(tmp_path, {"aim": "mine", "kept": "mine"})
        (tmp_path / "link").symlink_to(tmp_path / "aim")
        (tmp_path / "kept").chmod(0o444)
        for name in ("link", "kept"):
            with pytest.raises(CannotWrite, match=r"is a link there|is read-only"):
                write_whole(tmp_path / name, b"new", "name another", replace=True)
        assert contents(tmp_path) == {"aim": b"mine", "kept": b"mine", "link": b"mine"}


def test_files_are_added_together_or_not_at_all(tmp_path: Path) -> None:
    build_tree(tmp_path, {"b": "mine", "same": "s"})
    with pytest.raises(CannotWrite, match="b: is there already"):
        add_together(tmp_path, {"a": b"a", "b": b"b"}, "no")
    with pytest.raises(CannotWrite, match=r"not every system can keep a file named 'clauses/aux\.yaml'"):
        add_together(tmp_path, {"a": b"a", "clauses/aux.yaml": b""}, "no")
    assert contents(tmp_path) == {"b": b"mine", "same": b"s"}
    add_together(tmp_path, {"a": b"a", "same": b"s"}, "no")
    assert contents(tmp_path) == {"a": b"a", "b": b"mine", "same": b"s"}


def test_another_run_waits_a_while(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    slept: list[float] = []
    monkeypatch.setattr(time, "sleep", slept.append)
    with locked(tmp_path), pytest.raises(CannotWrite), locked(tmp_path):
        pass
    assert len(slept) == lock.TRIES - 1
