"""What a run of tests remembers of a library that was read is what reading it afresh gives."""

from __future__ import annotations

import copy
from pathlib import Path

from helpers import build_tree
from jobs import ROOT
from read_once import read_file_once

from generator.files.source import Source, read_file

FILES = [path for folder in ("clauses", "templates") for path in sorted((ROOT / folder).rglob("*.yaml"))]


def told(source: Source) -> tuple[object, ...]:
    places = [(path, source.mark(path), source.key_mark(path)) for path in (*source.marks, *source.keys)]
    return source.file, source.data, source.raw, source.broken, places, list(map(str, source.problems))


def test_a_file_that_is_remembered_is_the_one_that_is_read_however_often_and_by_whatever_name() -> None:
    tried = FILES[::5]
    assert len(tried) > 20
    for path in tried:
        for label in (None, "clauses/x.yaml", "clauses/x.yaml"):
            assert told(read_file_once(path, label)) == told(read_file(path, label)), path


def test_what_one_reading_notes_of_a_file_no_other_has() -> None:
    first = read_file_once(FILES[0])
    was = copy.deepcopy(first.data)
    first.problem((), "is wrong", "mend it")
    assert not read_file_once(FILES[0]).problems
    assert read_file_once(FILES[0]).data == was


def test_a_file_with_mistakes_one_that_changed_and_one_that_is_not_there_are_read_as_they_are(tmp_path: Path) -> None:
    path = build_tree(tmp_path, {"a.yaml": "a: 1\n"}) / "a.yaml"
    assert read_file_once(path).data == {"a": 1}
    for text in (b"a: 2\n", b"a: [1\n", b"\xff", b"a: 1\na: 2\n", b""):
        path.write_bytes(text)
        assert told(read_file_once(path, "b.yaml")) == told(read_file(path, "b.yaml"))
    for missing in (tmp_path, tmp_path / "none.yaml"):
        assert told(read_file_once(missing)) == told(read_file(missing))


def test_typed_and_plain_readings_of_the_same_bytes_are_two(tmp_path: Path) -> None:
    path = build_tree(tmp_path, {"a.yaml": "a: 1\n"}) / "a.yaml"
    assert [read_file_once(path, typed=typed).data for typed in (True, False, True)] == [{"a": 1}, {"a": "1"}, {"a": 1}]
