"""Where may be written: no link, device or issue, no name that a system cannot keep, no file that is in use."""

from __future__ import annotations

import re
import stat
from pathlib import Path, PurePosixPath
from typing import Final

from generator.files.errors import CannotWrite, shown

RECORD_FILE: Final = "record.json"
ISSUE_FILE: Final = "issue.json"
_LONGEST: Final = 200
_STRANGE: Final = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f\ud800-\udfff]|[. ]\Z')
_DEVICE: Final = re.compile(r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9¹²³])(?:\..*)?\Z", re.IGNORECASE)


def is_issued(folder: Path) -> bool:
    """Whether a folder holds a set that was issued."""
    return (folder / ISSUE_FILE).is_file() and (folder / RECORD_FILE).is_file()


def refuse_issued(folder: Path) -> None:
    """Raises `CannotWrite` for a folder that is an issue or lies inside one, by whatever way it is named."""
    real = folder.resolve()
    for above in {folder, *folder.absolute().parents, real, *real.parents}:
        if is_issued(above):
            raise CannotWrite(f"{folder}: holds papers that were issued, which are never rewritten: name another place")


def strange_name(name: str) -> str:
    """Why a name cannot be a file's on every system; empty where it can."""
    if not name or name in (".", ".."):
        return "is no name of a file"
    if _DEVICE.match(name):
        return "is the name of a device on Windows"
    if len(name.encode(errors="replace")) > _LONGEST:
        return f"is longer than {_LONGEST} bytes"
    if found := _STRANGE.search(name):
        return f"holds or ends in {shown(ascii(found[0]))}, which not every system can keep in a file's name"
    return ""


def is_inside(name: str) -> bool:
    """Whether the path of a file stays in the folder that names it, and can be kept on every system."""
    pure = PurePosixPath(name)
    return name == str(pure) and not pure.is_absolute() and not any(map(strange_name, pure.parts))


def refuse_folder(folder: Path, to_do: str) -> None:
    """Raises `CannotWrite` for what is no folder to write in: a link, a file, a device, a place in an issue."""
    kind = _kind(folder)
    if kind == "link":
        raise CannotWrite(f"{folder}: is a link: name the folder that it leads to, {folder.resolve()}")
    if kind not in ("", "folder") or any(_kind(above) == "file" for above in folder.absolute().parents):
        raise CannotWrite(f"{folder}: is a file, or lies below one: {to_do}")
    refuse_issued(folder)


def refuse_file(path: Path, to_do: str) -> None:
    """Raises `CannotWrite` for a place where no file can be written, or one that is in use stands."""
    if why := strange_name(path.name) or blocked(path):
        raise CannotWrite(f"{path}: {why}: {to_do}")


def blocked(path: Path) -> str:
    """Why what stands at a place cannot be replaced by a file; empty where it can, or nothing stands there."""
    kind = _kind(path)
    if kind not in ("", "file"):
        return f"is a {kind} there"
    if kind and not path.lstat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH):
        return "may not be changed (it is read-only)"
    lock = _lock_of_office(path) if kind else ""
    return f"is open in an office program ('{lock}' stands beside it; delete that if none has it open)" if lock else ""


def _kind(path: Path) -> str:
    try:
        mode = path.lstat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return ""
    if stat.S_ISLNK(mode) or getattr(path, "is_junction", bool)():  # known from Python 3.12 on
        return "link"
    if stat.S_ISDIR(mode):
        return "folder"
    return "file" if stat.S_ISREG(mode) else "device"


def _lock_of_office(path: Path) -> str:
    """The file by which an office program tells that it has a document open, if it stands beside it.

    LibreOffice: `.~lock.NAME#`; Word and Excel: `~$` before the name, or in the place of its first letters.
    """
    names = (f".~lock.{path.name}#", *(f"~${path.name[cut:]}" for cut in range(3)))
    return next((name for name in names if path.with_name(name).is_file()), "")
