"""The one writer of files and sets of files, whole or not at all; the names that mark a set and an issue."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from generator.errors import CannotWrite

RECORD_FILE: Final = "record.json"
ISSUE_FILE: Final = "issue.json"


def write_whole(path: Path, data: bytes, to_do: str) -> None:
    """Writes a file beside its place and renames it, its folder made if need be. Raises `CannotWrite`."""
    refuse_issued(path.parent)
    waiting = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        waiting.write_bytes(data)
        waiting.replace(path)
    except OSError as error:
        with contextlib.suppress(OSError):
            waiting.unlink(missing_ok=True)
        raise CannotWrite(f"{path}: cannot be written ({error.strerror or error}): {to_do}") from None


def is_issued(folder: Path) -> bool:
    """Whether a folder holds a set that was issued."""
    return (folder / ISSUE_FILE).is_file() and (folder / RECORD_FILE).is_file()


def refuse_issued(folder: Path) -> None:
    """Raises `CannotWrite` for a folder that is an issue or lies inside one."""
    for above in (folder, *folder.absolute().parents):
        if is_issued(above):
            raise CannotWrite(f"{folder}: holds papers that were issued, which are never rewritten: name another place")


def write_set(folder: Path, files: Mapping[str, bytes], record: bytes) -> None:
    """Replaces the files of a set in a folder, made if it is not there. Raises `CannotWrite`.

    Until the renames begin nothing has changed. The old record is removed before the first of them, so a
    run that is killed among them leaves whole files and no record that claims files it does not match.
    """
    refuse_issued(folder)
    everything = {**files, RECORD_FILE: record}
    waiting = {name: folder / f".{name}.part" for name in everything}
    try:
        _make(folder, everything)
        for name, data in everything.items():
            _store(waiting[name], data)
        (folder / RECORD_FILE).unlink(missing_ok=True)
        for name, temporary in waiting.items():
            temporary.replace(folder / name)
    except OSError as error:
        raise CannotWrite(f"{folder}: {_told(error, folder)}") from None
    finally:
        for temporary in waiting.values():
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)


def _make(folder: Path, names: Mapping[str, bytes]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for name in names:
        if (folder / name).is_dir():
            raise IsADirectoryError(0, f"'{name}' is a folder there")


def _store(path: Path, data: bytes) -> None:
    with path.open("wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def _told(error: OSError, folder: Path) -> str:
    if isinstance(error, FileExistsError | NotADirectoryError):
        return "is a file, or lies below one: name a folder with --out"
    reason = error.strerror or str(error)
    if isinstance(error, IsADirectoryError):
        return f"cannot be written ({reason}): move it away, or name another folder with --out"
    return f"cannot be written ({reason}): free space, close open papers or name another folder with --out"
