"""Writes a set of files whole or not at all: each beside its place first, then renamed; the record last."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from generator.errors import CannotWrite

RECORD: Final = "record.json"


def write_set(folder: Path, files: Mapping[str, bytes], record: bytes) -> None:
    """Replaces the files of a set in a folder. Raises `CannotWrite`; until the renames begin nothing has changed.

    The old record is removed before the first rename, so a run that is killed among them leaves no record
    that claims files it does not match.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in [*files.items(), (RECORD, record)]:
            waiting.append((_beside(folder, name, data), folder / name))
        (folder / RECORD).unlink(missing_ok=True)
        for temporary, target in waiting:
            temporary.replace(target)
    except OSError as error:
        reason = error.strerror or str(error)
        raise CannotWrite(f"{folder}: cannot be written ({reason}): free space, close open papers or name another folder") from None
    finally:
        for temporary, _ in waiting:
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)


def _beside(folder: Path, name: str, data: bytes) -> Path:
    temporary = folder / f".{name}.part"
    try:
        with temporary.open("wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
    except OSError:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    return temporary
