"""The shipped library as it was kept is the one that is read, and is read afresh where anything differs."""

from __future__ import annotations

import io
import os
import pickle
import shutil
import subprocess
import sys
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import pytest
from jobs import shipped

from generator.library import load, locate, prepared
from generator.library.load import read_library
from generator.library.model import Library
from generator.library.prepared import code_files, shipped_library
from generator.library.text import parse
from generator.library.text_checks import TEXTS

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture(scope="module")
def kept_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file in which a library was kept, once for all tests here: each copies it."""
    kept = tmp_path_factory.mktemp("kept") / "__pycache__" / "library.pickle"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "dont_write_bytecode", False)
        patch.setattr(sys, "pycache_prefix", None)
        shipped_library(kept)
    assert kept.is_file()
    return kept


@pytest.fixture
def written(kept_once: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """The file in which a library is kept: one library has been read and kept there."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", None)
    kept = tmp_path / "__pycache__" / "library.pickle"
    shutil.copytree(kept_once.parent, kept.parent)
    return kept


def reading_is_told(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """The folders that are read from now on; what is read is one library, whichever the folder."""
    read: list[Path] = []

    def noted(folder: Path) -> Library:
        read.append(folder)
        return shipped()

    monkeypatch.setattr(load, "read_library", noted)
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


@pytest.mark.parametrize("change", ["version", "code"])
def test_a_library_is_read_afresh_where_python_or_the_code_differs(
    change: str, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    read = reading_is_told(monkeypatch)
    other = tmp_path / "other.py"
    other.touch()
    if change == "code":
        monkeypatch.setattr(prepared, "code_files", lambda: [*code_files(), other])
    else:
        monkeypatch.setattr(sys, "version", "4.0")
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
    monkeypatch.setattr(sys, "pycache_prefix", None)
    assert shipped_library(tmp_path / "file" / "library.pickle").clauses


@pytest.mark.parametrize(("name", "value"), [("dont_write_bytecode", True), ("pycache_prefix", "elsewhere")])
def test_nothing_is_kept_or_used_where_python_keeps_no_compiled_modules_beside_the_code(
    name: str, value: object, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(sys, name, value)
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    shipped_library(tmp_path / "library.pickle")
    assert len(read) == 2
    assert not (tmp_path / "library.pickle").exists()


@pytest.mark.parametrize("at", ["file", "folder"])
@pytest.mark.parametrize("mode", [0o002, 0o020])
def test_what_others_may_write_is_not_used(
    at: str, mode: int, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    program = tmp_path / "program"
    program.mkdir(mode=0o755)
    monkeypatch.setattr(prepared, "HERE", program)
    place = written if at == "file" else written.parent
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    assert not read
    place.chmod(place.stat().st_mode | mode)
    shipped_library(written)
    assert len(read) == 1


def test_what_another_owns_is_not_used(written: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told = written.lstat()
    other = os.stat_result((told.st_mode, told.st_ino, told.st_dev, 1, 4_000_000, *told[5:]))
    monkeypatch.setattr(Path, "lstat", lambda path: other if path == written else os.lstat(path))
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    assert len(read) == 1


@pytest.mark.parametrize("at", ["file", "folder"])
def test_what_a_link_leads_to_is_not_used(
    at: str, written: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    place = written if at == "file" else written.parent
    place.rename(tmp_path / "elsewhere")
    place.symlink_to(tmp_path / "elsewhere")
    read = reading_is_told(monkeypatch)
    shipped_library(written)
    assert len(read) == 1


@pytest.mark.parametrize(
    ("module", "name"),
    [("os", "system"), ("generator.files.writing", "os.unlink"), ("generator.files.writing", "write_whole")],
)
def test_nothing_is_made_of_what_is_kept_but_parts_of_a_library(module: str, name: str) -> None:
    with pytest.raises(pickle.UnpicklingError, match="no part of a library"):
        prepared._Finder(io.BytesIO(), {}).find_class(module, name)


def test_keeping_leaves_nothing_beside_what_is_kept(written: Path) -> None:
    assert list(written.parent.iterdir()) == [written]


def test_parsers_count_in_what_a_library_is_kept_under() -> None:
    made_by = {"jinja2": "jinja2", "markdown_it": "markdown-it-py", "pydantic": "pydantic", "yaml": "pyyaml"}
    told = {path.parent.name: path.read_text(encoding="utf-8") for path in code_files() if path.parent.name in made_by}
    quoted = {name: f'"{version(package)}"' for name, package in made_by.items()}
    assert not [name for name, spelt in quoted.items() if spelt not in told[name].replace("'", '"')]


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


def test_the_texts_of_a_kept_library_are_read_already(written: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = shipped_library(written)
    monkeypatch.setattr("generator.library.passages._reader", None)
    for kind, parts in TEXTS.items():
        for key in found.texts.entries[kind]:
            for part in parts:
                template = found.texts.template(kind, key, part)
                assert (template.passages if kind == "clause" else template.line) is not None


def test_a_text_whose_words_are_swapped_is_read_anew() -> None:
    template = parse("Rake {{ rake_depth_mm }} deep.")
    assert template.line == ("Rake ", 0, " deep.")
    assert template.swapped(lambda words: words.replace("Rake", "Cut")).line == ("Cut ", 0, " deep.")
