"""Frozen sets: written once, checked against their digests, refused with a clear line where they are not as issued."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from helpers import build_tree

from generator.files import manifest
from generator.files.errors import CannotWrite, InputInvalid
from generator.files.place import is_issued
from generator.files.writing import write_set, write_whole
from generator.record.revisions.issued import Issue, described, folder_name, freeze, newest, read_issued, verify

RECORD: dict[str, Any] = {
    "schema": 1, "mixes": [], "works": [], "items": [], "clauses": [], "findings": [], "library": {},
    "issue": {"date": "2027-02-01"},
    "answers": {"given": {"": {"reference": "R/1", "revision": "1"}}},
    "numbers": {"part:a": "1", "clause:b": "1.2A", "mix:c": "M3"},
}  # fmt: skip


def files(**changes: Any) -> dict[str, bytes]:
    return {
        "record.json": json.dumps({**RECORD, **changes}).encode(),
        "answers/a.yaml": b"project: {}\n",
        "library/0-shipped/library.yaml": b"{}\n",
        "library/10-last/layer.yaml": b"{}\n",
        "library/2-house/layer.yaml": b"{}\n",
    }


def issue(out: Path, revision: str = "1", **changes: Any) -> Path:
    before = newest(out, "R/1")
    return freeze(out, Issue("R/1", revision, "2027-02-01", "a.yaml", [], before), files(**changes))


def test_an_issue_reads_back_as_it_was_written_and_counts_on(tmp_path: Path) -> None:
    first, second = issue(tmp_path), issue(tmp_path, "2")
    assert (first.name, second.name) == ("R-1-rev-1", "R-1-rev-2")
    assert (read_issued(first).number, read_issued(second).number) == (1, 2)
    assert described(second).last == "1"
    assert described(second).layers == ("library/0-shipped", "library/2-house", "library/10-last")
    found = newest(tmp_path, "R/1")
    assert found is not None
    assert found.path == second
    assert newest(tmp_path, "other") is None


def test_a_folder_name_never_leaves_the_folder_of_issues() -> None:
    assert folder_name("../..", "/etc") == "x-rev-etc"


def test_nothing_is_ever_written_into_an_issue(tmp_path: Path) -> None:
    folder = issue(tmp_path)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    inside = folder / "library" / "more"
    for step in (
        lambda: write_set(folder, {"specification.docx": b""}, b"{}"),
        lambda: write_set(inside, {"specification.docx": b""}, b"{}"),
        lambda: write_whole(folder / "addendum.docx", b"", "no"),
        lambda: freeze(folder, Issue("R/1", "3", "", "a.yaml", []), files()),
        lambda: freeze(tmp_path, Issue("R/1", "1", "", "a.yaml", []), files()),
    ):
        with pytest.raises(CannotWrite, match="never rewritten"):
            step()
    assert before == {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert sorted(path.name for path in tmp_path.iterdir()) == [folder.name]
    assert is_issued(folder)


def rewritten(folder: Path, **changes: Any) -> Path:
    """An issue whose description somebody has changed, with a digest of its own that fits."""
    path = folder / "issue.json"
    data = {**json.loads(path.read_bytes()), **changes}
    own = {key: value for key, value in data.items() if key != "sha256"}
    text = json.dumps(own, sort_keys=True, indent=1, ensure_ascii=False) + "\n"
    path.write_text(json.dumps({**own, "sha256": hashlib.sha256(text.encode()).hexdigest()}), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"schema": 2}, "is of schema 2, and this program reads 1"),
        ({"schema": "9" * 500}, "is of schema 99999999999999999999, and"),
        ({"files": 5}, "does not describe an issue"),
        ({"files": [{"name": "../../secret", "sha256": ""}]}, "does not describe an issue"),
        ({"files": [{"name": "/etc/passwd", "sha256": ""}]}, "does not describe an issue"),
        ({"files": [{"name": "library/x/layer.yaml", "sha256": ""}]}, "does not describe an issue"),
        ({"answers": "../../answers.yaml"}, "does not describe an issue"),
        ({"answers": None}, "does not describe an issue"),
        ({"last": [1]}, "does not describe an issue"),
        ({"number": "one"}, "does not describe an issue"),
        ({"files": []}, "was put into the issue later"),
    ],
)
def test_a_description_changed_with_care_is_refused(changes: dict[str, Any], words: str, tmp_path: Path) -> None:
    folder = rewritten(issue(tmp_path), **changes)
    with pytest.raises(InputInvalid) as caught:
        read_issued(folder)
    assert words in str(caught.value)


@pytest.mark.parametrize("text", ["", "{", '{"schema": 1', "[]", "\x00", "[" * 100_000])
def test_a_description_that_breaks_off_is_refused_in_one_line(text: str, tmp_path: Path) -> None:
    folder = issue(tmp_path)
    (folder / "issue.json").write_text(text)
    for step in (lambda: list(verify(folder)), lambda: newest(tmp_path, "R/1")):
        with pytest.raises(InputInvalid, match=r"issue\.json") as caught:
            step()
        assert len(str(caught.value).splitlines()) == 1


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"schema": True}, "is a record of schema True"),
        ({"numbers": {"clause:b": "one"}}, "its 'numbers' is amiss"),
        ({"numbers": {"clause:b": 1.2}}, "its 'numbers' is amiss"),
        ({"numbers": {"mix:b": "2"}}, "its 'numbers' is amiss"),
        ({"numbers": {"clause:b": "1" + "9" * 5000}}, "its 'numbers' is amiss"),
        ({"answers": {"given": {"": []}}}, "its 'answers' is amiss"),
        ({"answers": {"given": {"": {"reference": 1}}}}, "its 'answers' is amiss"),
        ({"issue": []}, "its 'issue' is amiss"),
        ({"issue": {}}, "its 'issue' is amiss"),
        ({"issue": {"date": "1 March 2027"}}, "its 'issue' is amiss"),
        ({"issue": {"date": "2027-03-01", "title": 5}}, "its 'issue' is amiss"),
        ({"clauses": [1]}, "its 'clauses' is amiss"),
    ],
)
def test_a_record_that_is_amiss_is_refused_before_it_is_used(
    changes: dict[str, Any], words: str, tmp_path: Path
) -> None:
    path = build_tree(tmp_path, {"record.json": files(**changes)["record.json"]})
    with pytest.raises(InputInvalid) as caught:
        read_issued(path)
    assert words in str(caught.value)


def test_a_huge_file_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(manifest, "MOST_RECORD_BYTES", 100)
    path = build_tree(tmp_path, {"record.json": files()["record.json"]}) / "record.json"
    with pytest.raises(InputInvalid, match="is larger than any record"):
        read_issued(path)
