"""The shipped library as it was last read and checked, kept where Python keeps the package's compiled modules.

It is kept and read inside the package alone, and only where nobody may write who may not change the program too. It is
found by the digest of every file that it is read from and of the code that reads it, with the versions of Python and of
the libraries that parse: where any of them differs it is read afresh.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.util
import io
import os
import pickle
import stat
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from generator.files.errors import CannotWrite, Mark
from generator.files.writing import write_whole
from generator.library.locate import shipped, templates_of, told
from generator.library.model import Library

HERE: Final = Path(__file__).resolve().parent
PACKAGE: Final = HERE.parent
KEPT: Final = HERE / "__pycache__" / f"library.{sys.implementation.cache_tag}.pickle"
READERS: Final = ("document", "drawing", "files", "library", "lime", "questionnaire")
"""The rooms of the package whose code makes a library, beside the modules that stand in none."""

PARSERS: Final = ("jinja2/__init__.py", "markdown_it/__init__.py", "pydantic/version.py", "yaml/__init__.py")
"""Where the libraries that parse tell their version: read, as importing them is what a kept library saves."""

_ELSEWHERE: Final = ("decimal.Decimal",)
_OTHERS: Final = stat.S_IWGRP | stat.S_IWOTH
_DIGEST_BYTES: Final = 32
_CLAUSES, _TEMPLATES = "clauses", "templates"


def shipped_library(kept: Path | None = None) -> Library:
    """The shipped library, ready for a job. Raises `InputInvalid` with every mistake, and `DataNotFound`."""
    kept = kept or KEPT
    clauses = shipped(_CLAUSES, "library.yaml")
    if sys.dont_write_bytecode or sys.pycache_prefix is not None:
        return _read(clauses)
    folders = {_CLAUSES: clauses, _TEMPLATES: templates_of(clauses)}
    key = _key(folders.values())
    found = _found(kept, key, folders)
    if found is None:
        found = _read(clauses)
        _keep(found, folders, key, kept)
    return found


def _read(clauses: Path) -> Library:
    from generator.library.load import read_library

    return read_library(clauses)


def _keep(library: Library, folders: Mapping[str, Path], key: bytes, kept: Path) -> None:
    """Keeps a library that was read, whole or not at all; where it cannot be written it is read each time."""
    from generator.library.text_checks import TEXTS

    library.texts.read(TEXTS)
    stream = io.BytesIO()
    _Keeper(stream, folders).dump(library)
    data = stream.getvalue()
    with contextlib.suppress(OSError, CannotWrite):
        kept.parent.mkdir(exist_ok=True)
        if _ours(kept.parent):
            write_whole(kept, key + hashlib.sha256(data).digest() + data, "", replace=True)


def _found(kept: Path, key: bytes, folders: Mapping[str, Path]) -> Library | None:
    """The library that was kept under a key; None where there is none, or not the whole of it, or not ours."""
    try:
        if not (_ours(kept.parent) and _ours(kept)):
            return None
        raw = kept.read_bytes()
    except OSError:
        return None
    begin = 2 * _DIGEST_BYTES
    if raw[:begin] != key + hashlib.sha256(memoryview(raw)[begin:]).digest():
        return None
    stream = io.BytesIO(raw)  # which is read where it lies
    stream.seek(begin)
    library = _Finder(stream, folders).load()
    assert isinstance(library, Library)
    return library


def _ours(path: Path) -> bool:
    """Whether only those may write a file or folder, no link, who may write the program's own. Raises `OSError`."""
    if sys.platform == "win32":  # pragma: no cover
        return False  # its permissions are not told by these bits
    found, program = path.lstat(), HERE.stat()
    owned = found.st_uid in (0, os.geteuid(), program.st_uid)
    shared = found.st_mode & _OTHERS
    with_ours = shared == stat.S_IWGRP & program.st_mode and found.st_gid == program.st_gid
    return owned and (stat.S_ISREG(found.st_mode) or stat.S_ISDIR(found.st_mode)) and (not shared or with_ours)


# --- what it is kept under --------------------------------------------------------------------------------


def _key(folders: Iterable[Path]) -> bytes:
    digest = hashlib.sha256(sys.version.encode())
    for path in (*code_files(), *(path for folder in folders for path in sorted(folder.rglob("*.y*ml")))):
        raw = path.read_bytes()
        digest.update(f"\0{path.parent.name}/{path.name}\0{len(raw)}\0".encode())
        digest.update(raw)
    return digest.digest()


def code_files() -> Iterator[Path]:
    """The files of the code that makes a library, and those that tell which parsers it uses."""
    yield from sorted(PACKAGE.glob("*.py"))
    for room in READERS:
        yield from sorted((PACKAGE / room).rglob("*.py"))
    for parser in PARSERS:
        name, _, file = parser.partition("/")
        spec = importlib.util.find_spec(name)
        assert spec is not None
        assert spec.origin is not None
        yield Path(spec.origin).with_name(file)


# --- marks name files as they are seen from here ----------------------------------------------------------


class _Keeper(pickle.Pickler):
    """Keeps marks without the folder of their file, which another run may see from elsewhere."""

    def __init__(self, stream: io.BytesIO, folders: Mapping[str, Path]) -> None:
        super().__init__(stream, protocol=5)
        self._starts = {name: told(folder) for name, folder in folders.items()}

    def persistent_id(self, obj: Any) -> tuple[str, str, int, int] | None:
        if isinstance(obj, Mark):
            for name, start in self._starts.items():
                if obj.file == start or obj.file.startswith(f"{start}/"):
                    return name, obj.file[len(start) :], obj.line, obj.column
        return None


class _Finder(pickle.Unpickler):
    """Makes nothing but what a library consists of."""

    def __init__(self, stream: io.BytesIO, folders: Mapping[str, Path]) -> None:
        super().__init__(stream)
        self._starts = {name: told(folder) for name, folder in folders.items()}

    def find_class(self, module: str, name: str) -> Any:
        if (module.startswith("generator.") and name.isidentifier()) or f"{module}.{name}" in _ELSEWHERE:
            found = super().find_class(module, name)
            if isinstance(found, type):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no part of a library")

    def persistent_load(self, pid: tuple[str, str, int, int]) -> Mark:
        name, rest, line, column = pid
        return Mark(self._starts[name] + rest, line, column)
