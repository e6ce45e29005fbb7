"""The files below a folder of clauses: what is there and is not read is told, never passed over."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from helpers import build_tree

from generator.files import walk
from generator.files.mistakes import Mistakes
from generator.files.walk import is_file, is_folder, real_path, yaml_files

posix = pytest.mark.skipif(sys.platform == "win32", reason="links and pipes of Unix")


def names(folder: Path) -> tuple[list[str], list[str]]:
    """The names found, and what is told."""
    told = Mistakes()
    return [name for name, _ in yaml_files(folder, "house", told)], [str(problem) for problem in sorted(told)]


def test_all_yaml_is_found_by_name_but_what_is_hidden(tmp_path: Path) -> None:
    files = ("b/c.yaml", "a.yml", "b.yaml", "b/d.txt", ".git/x.yaml", ".h.yaml", "b/.i/x.yaml")
    assert names(build_tree(tmp_path, dict.fromkeys(files, "x"))) == (["a.yml", "b.yaml", "b/c.yaml"], [])


@posix
def test_a_folder_that_is_a_link_is_told_and_a_file_that_is_one_is_read(tmp_path: Path) -> None:
    build_tree(tmp_path, {"shared/clauses/a.yaml": "x", "house/layer.yaml": "x"})
    (tmp_path / "house" / "clauses").symlink_to(tmp_path / "shared" / "clauses")
    (tmp_path / "house" / "b.yaml").symlink_to(tmp_path / "shared" / "clauses" / "a.yaml")
    (tmp_path / "house" / "c.yaml").symlink_to(tmp_path / "nowhere")
    assert names(tmp_path / "house") == (
        ["b.yaml", "layer.yaml"],
        [
            "house/c.yaml: is no file: move it out, or put a file in its place",
            "house/clauses: is a link to a folder, which is not followed: put the files themselves there",
        ],
    )


@posix
def test_what_is_no_file_is_told_and_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a.yaml")
    (tmp_path / "b.yaml").mkdir()
    (tmp_path / "c\udcff.yaml").write_text("x")
    found, told = names(tmp_path)
    assert found == []
    assert told == [
        "house/a.yaml: is no file: move it out, or put a file in its place",
        "house/c\\udcff.yaml: has a name that is not UTF-8 text: name it otherwise",
    ]


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="nothing is forbidden to the superuser")
def test_a_folder_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    build_tree(tmp_path, {"a/b.yaml": "x"})
    (tmp_path / "a").chmod(0)
    try:
        assert names(tmp_path) == ([], ["house/a: cannot be read (Permission denied): check its permissions"])
    finally:
        (tmp_path / "a").chmod(0o755)


@pytest.mark.parametrize(("limit", "most"), [("MOST_LIBRARY_FILES", 2), ("MOST_LIBRARY_BYTES", 20)])
def test_a_folder_that_holds_too_much_is_told_and_not_read(
    limit: str, most: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build_tree(tmp_path, {f"{name}.yaml": "x" * 8 for name in "abc"})
    monkeypatch.setattr(walk, limit, most)
    found, (told,) = names(tmp_path)
    assert found == []
    assert told.startswith("house: holds more than ")
    assert told.endswith(": name a folder of clauses alone, or part it into layers")


@posix
def test_a_path_that_no_system_takes_is_no_file_and_stays_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "ring").symlink_to("ring")
    for path in (Path("x" * 5_000), Path("a\0b"), tmp_path / "ring"):
        assert not is_file(path)
        assert not is_folder(path)
        assert real_path(path).name == path.name
