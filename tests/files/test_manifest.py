"""What a record vouches for: read alone, with the checks of a whole record."""

from __future__ import annotations

import json
import tracemalloc
from pathlib import Path
from typing import Any

import pytest
from helpers import build_tree

from generator.files import manifest as read
from generator.files.manifest import beyond_records, manifest

FILES = [{"name": "specification.docx", "sha256": "0" * 64}]
FOUND = {"specification.docx": "0" * 64}


def vouched(folder: Path, raw: bytes) -> dict[str, str]:
    return manifest(build_tree(folder, {"record.json": raw}))


def record(**more: Any) -> bytes:
    """A record that vouches for a paper and holds other things before and after."""
    return json.dumps({"answers": {}, "files": FILES, **more}, ensure_ascii=False).encode(errors="backslashreplace")


@pytest.mark.parametrize(
    "name", ["a.yaml", "Größe.yaml", "\udcff.yaml", "\\\udcff.yaml", "\\udcff.yaml", "\U0001f9f1.yaml"]
)
def test_a_record_vouches_whatever_the_answers_file_was_called(name: str, tmp_path: Path) -> None:
    raw = record(answers={"name": name}, texts=[[name], 1.5e3, None, True])
    assert json.loads(raw)["answers"]["name"] == name
    assert vouched(tmp_path, raw) == FOUND


@pytest.mark.parametrize(
    "raw",
    [
        record().replace(b"{}", b'"\xff"'), record().replace(b"{}", b'"\xed\xa0\x80"'), record()[:-1],
        record().replace(b"{}", b"{"), record().replace(b"{}", b"tru"), record() + b"}", b"",
        record(files=[{"name": "a"}]), record(files=[{"name": "a", "sha256": 1}]),
        record().replace(b"{}", b"[" * 100_000),
    ],
)  # fmt: skip
def test_what_is_not_as_it_was_written_vouches_for_nothing_wherever_it_is_amiss(raw: bytes, tmp_path: Path) -> None:
    assert vouched(tmp_path, raw) == {}


@pytest.mark.parametrize(("limit", "words"), [("BYTES", "is larger than"), ("VALUES", "holds more than")])
def test_what_goes_beyond_any_record_vouches_for_nothing(
    limit: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert beyond_records(record()) == ""
    monkeypatch.setattr(read, f"MOST_RECORD_{limit}", 3)
    assert words in beyond_records(record())
    assert vouched(tmp_path, record()) == {}


def test_values_are_counted_in_a_record_that_may_have_too_many_alone() -> None:
    class Counted(bytes):
        def count(self, *_: object) -> int:
            raise AssertionError

    assert beyond_records(Counted(record())) == ""


def test_of_what_else_a_record_holds_nothing_is_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    raw = record(texts=[{"text": "Größe", "number": number} for number in range(100_000)])
    build_tree(tmp_path, {"record.json": raw})
    monkeypatch.setattr(read, "MOST_RECORD_BYTES", len(raw))  # as much room is held ready for it
    tracemalloc.start()
    try:
        assert manifest(tmp_path) == FOUND
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert most < 1.5 * len(raw)
    assert len(raw) > 3_000_000
