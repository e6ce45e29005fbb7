"""Writes a set of files whole or not at all: each beside its place first, then renamed; the record last."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping
from pathlib import Path

from generator.errors import CannotWrite
from generator.files import RECORD_FILE, refuse_issued


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
