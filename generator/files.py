"""Files written whole or not at all; the names that mark a set and an issue."""

from __future__ import annotations

import contextlib
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
