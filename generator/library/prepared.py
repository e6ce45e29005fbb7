"""The shipped library as it was last read and checked, kept where Python keeps the package's compiled modules.

What is kept is read again only from inside the package itself, where whoever may write may change the program too. It
is found by the digest of every file that the library is read from and of the code that reads it, with the versions of
Python and pydantic: where any of them differs the library is read afresh.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import pickle
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import pydantic

from generator.errors import Mark
from generator.library.load import read_library, told
from generator.library.locate import shipped, templates_of
from generator.library.model import Library

PACKAGE: Final = Path(__file__).resolve().parent.parent
KEPT: Final = Path(__file__).resolve().parent / "__pycache__" / f"library.{sys.implementation.cache_tag}.pickle"
READERS: Final = ("document", "files", "library", "lime", "questionnaire")
"""The rooms of the package whose code makes a library, beside the modules that stand in none."""

_DIGEST_BYTES: Final = 32
_CLAUSES, _TEMPLATES = "clauses", "templates"


def shipped_library(kept: Path | None = None) -> Library:
    """The shipped library, ready for a job. Raises `InputInvalid` with every mistake, and `DataNotFound`."""
    kept = kept or KEPT
    clauses = shipped(_CLAUSES, "library.yaml")
    folders = {_CLAUSES: clauses, _TEMPLATES: templates_of(clauses)}
    key = _key(folders.values())
    found = _found(kept, key, folders)
    if found is None:
        found = read_library(clauses)
        if not sys.dont_write_bytecode and sys.pycache_prefix is None:
            keep(found, folders, key, kept)
    return found


def keep(library: Library, folders: Mapping[str, Path], key: bytes, kept: Path) -> None:
    """Keeps a library that was read, whole or not at all; where it cannot be written it is read each time."""
    stream = io.BytesIO()
    _Keeper(stream, folders).dump(library)
    data = stream.getvalue()
    waiting = kept.with_name(f"{kept.name}.{os.getpid()}")
    with contextlib.suppress(OSError):
        kept.parent.mkdir(exist_ok=True)
        try:
            waiting.write_bytes(key + hashlib.sha256(data).digest() + data)
            waiting.replace(kept)
        finally:
            waiting.unlink(missing_ok=True)


def _found(kept: Path, key: bytes, folders: Mapping[str, Path]) -> Library | None:
    """The library that was kept under a key; None where there is none, or not the whole of it."""
    try:
        raw = kept.read_bytes()
    except OSError:
        return None
    data = memoryview(raw)[2 * _DIGEST_BYTES :]
    if raw[: 2 * _DIGEST_BYTES] != key + hashlib.sha256(data).digest():
        return None
    library = _Finder(io.BytesIO(data), folders).load()
    assert isinstance(library, Library)
    return library


# --- what it is kept under --------------------------------------------------------------------------------


def _key(folders: Iterable[Path]) -> bytes:
    digest = hashlib.sha256(f"{sys.version}\0{pydantic.VERSION}".encode())
    for path in (*code_files(), *(path for folder in folders for path in sorted(folder.rglob("*.y*ml")))):
        raw = path.read_bytes()
        digest.update(f"\0{path.parent.name}/{path.name}\0{len(raw)}\0".encode())
        digest.update(raw)
    return digest.digest()


def code_files() -> Iterator[Path]:
    """The files of the code that makes a library."""
    yield from sorted(PACKAGE.glob("*.py"))
    for room in READERS:
        yield from sorted((PACKAGE / room).rglob("*.py"))


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
    def __init__(self, stream: io.BytesIO, folders: Mapping[str, Path]) -> None:
        super().__init__(stream)
        self._starts = {name: told(folder) for name, folder in folders.items()}

    def persistent_load(self, pid: tuple[str, str, int, int]) -> Mark:
        name, rest, line, column = pid
        return Mark(self._starts[name] + rest, line, column)
