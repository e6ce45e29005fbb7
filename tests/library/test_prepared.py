"""The shipped library as it was kept is the one that is read, and is read afresh where anything differs."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.library import locate, prepared
from generator.library.load import read_library
from generator.library.model import Library
from generator.library.prepared import code_files, shipped_library

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The file in which a library is kept: one library has been read and kept there."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    kept = tmp_path / "pycache" / "library.pickle"
    shipped_library(kept)
    assert kept.is_file()
    return kept


def reading_is_told(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders that are read from now on."""
    read: list[Path] = []

    def noted(folder: Path) -> Library:
        read.append(folder)
        return read_library(folder)

    monkeypatch.setattr(prepared, "read_library", noted)
    return read


def test_a_kept_library_is_the_one_that_is_read(written: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read = reading_is_told(monkeypatch)
    found, fresh = shipped_library(written), read_library(ROOT / "clauses")
    assert not read
    assert found == fresh
    assert found.texts == fresh.texts
    # marks stand outside equality where they stand in a name
    assert {key: found.names[key].mark for key in found.names} == {key: fresh.names[key].mark for key in fresh.names}


def test_marks_of_a_kept_library_name_files_as_seen_from_where_it_is_used(
    written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(ROOT)
    assert shipped_library(written).marks["word", "page"].file.startswith("templates/")
    monkeypatch.chdir(tmp_path)
    found = shipped_library(written)
    assert found.marks == read_library(ROOT / "clauses").marks
    assert Path(found.marks["word", "page"].file).is_absolute()


@pytest.mark.parametrize("name", ["clauses/library.yaml", "clauses/names.yaml", "templates/words.yaml"])
def test_a_library_is_read_afresh_where_a_byte_of_its_files_differs(
    name: str, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    for folder in ("clauses", "templates"):
        shutil.copytree(ROOT / folder, tmp_path / folder)
    monkeypatch.setattr(prepared, "shipped", lambda folder, marker: tmp_path / folder)
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    assert not read
    with (tmp_path / name).open("ab") as stream:
        stream.write(b"# one more line\n")
    shipped_library(written)
    assert read == [tmp_path / "clauses"]


@pytest.mark.parametrize("change", ["version", "pydantic", "code"])
def test_a_library_is_read_afresh_where_python_pydantic_or_the_code_differs(
    change: str, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    read = reading_is_told(monkeypatch)
    other = tmp_path / "other.py"
    other.touch()
    if change == "code":
        monkeypatch.setattr(prepared, "code_files", lambda: [*code_files(), other])
    elif change == "version":
        monkeypatch.setattr(sys, "version", "4.0")
    else:
        monkeypatch.setattr("pydantic.VERSION", "99")
    shipped_library(written)
    assert len(read) == 1


@pytest.mark.parametrize("spoil", [lambda raw: raw[:-1], lambda raw: raw[:-9] + b"?" + raw[-8:], lambda raw: b""])
def test_a_kept_file_that_is_not_whole_is_not_used(
    spoil: Callable[[bytes], bytes], written: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = written.read_bytes()
    written.write_bytes(spoil(whole))
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    assert len(read) == 1
    assert not list(written.parent.glob("*.pickle.*"))


def test_where_nothing_can_be_kept_the_library_is_read_each_time(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").touch()
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    assert shipped_library(tmp_path / "file" / "library.pickle").clauses


def test_nothing_is_kept_where_python_keeps_no_compiled_modules(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    shipped_library(tmp_path / "library.pickle")
    assert not (tmp_path / "library.pickle").exists()


def test_a_library_is_kept_inside_the_package_alone() -> None:
    told = "from generator.library.prepared import KEPT; print(KEPT)"
    done = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    assert Path(done.stdout.strip()).is_relative_to(Path(locate.__file__).resolve().parent)


def test_every_module_that_reading_a_library_imports_counts_in_what_it_is_kept_under() -> None:
    told = (
        "import sys, generator.library.load; "
        "print(*(module.__file__ for name, module in sys.modules.items() if name.split('.')[0] == 'generator'))"
    )
    done = subprocess.run([sys.executable, "-c", told], cwd=ROOT, capture_output=True, text=True, check=True)
    imported = {Path(file) for file in done.stdout.split()}
    assert ROOT / "generator" / "library" / "load.py" in imported
    assert imported <= set(code_files())
