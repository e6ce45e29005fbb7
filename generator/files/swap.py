"""Replaces files of a folder together, or not at all: what stood there is put back after any failure.

The new files are stored in a folder of the run's own inside the folder and forced to disk, and so is a note of what is
to be swapped; then the old files move into that folder and the new ones out of it; then the note goes. A run that fails
undoes it, and where one died with its note there, the next that holds the folder does.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final

from generator.files.errors import CannotWrite, shown
from generator.files.place import is_inside
from generator.values import Struct, asdict

STAGE: Final = ".gaugebox-"
"""How the names of the folders begin that runs make for themselves; each ends in letters of its own."""

NOTE: Final = "swap.json"
NEW: Final = "new"
OLD: Final = "old"
_CANNOT_SYNC: Final = (errno.EINVAL, errno.ENOTSUP)
"""What some shared disks answer that keep no names back."""


class _Note(Struct, frozen=True):
    """What is to be swapped: digests of the new files by name, the names that stood there, the folders made."""

    new: dict[str, str]
    had: tuple[str, ...]
    made: tuple[str, ...]


def replace_together(
    folder: Path, files: Mapping[str, bytes], gone: Collection[str] = (), check: Callable[[], None] | None = None
) -> None:
    """Replaces or adds files by name and takes others away, all or none; for who holds the folder.

    The last of the files is the first to go and the last to come: that which vouches for the others. `check` is asked
    once the new files are stored, just before the first old one moves. Raises what it raises, `OSError`, or
    `CannotWrite` where what stood there could not be put back and waits in the run's folder.
    """
    _refuse_names(folder, (*files, *gone))
    with _stage(folder) as stage:
        for name, data in files.items():
            store(stage / NEW / name, data)
        if check is not None:
            check()
        had = tuple(name for name in (*reversed(list(files)), *gone) if os.path.lexists(folder / name))
        for name in had:
            (stage / OLD / name).parent.mkdir(parents=True, exist_ok=True)
        made = tuple(dict.fromkeys(_missing(folder, files)))
        note = _Note({name: hashlib.sha256(data).hexdigest() for name, data in files.items()}, had, made)
        store(stage / f"{NOTE}.part", json.dumps(asdict(note)).encode())
        try:
            (stage / f"{NOTE}.part").replace(stage / NOTE)
            sync_folders(stage)
            _swap(folder, stage, note)
            (stage / NOTE).unlink()
        except BaseException:
            if (stage / NOTE).exists():
                _undo(folder, stage)
            raise
        with contextlib.suppress(OSError):  # the new ones stand: at worst the next run finds the note again
            sync_folders(stage)


def replace_one(path: Path, data: bytes) -> None:
    """Replaces one file in one step, its permissions kept; for who holds its folder. Raises `OSError`."""
    with _stage(path.parent) as stage:
        store(stage / NEW / path.name, data)
        if path.exists():
            shutil.copymode(path, stage / NEW / path.name)
        (stage / NEW / path.name).replace(path)
        with contextlib.suppress(OSError):  # the new one stands
            sync_folders(path.parent)


def add_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Makes a folder that is not there, with all its files, in one step; for who holds its parent. Raises `OSError`."""
    _refuse_names(folder, files)
    with _stage(folder.parent) as stage:
        for name, data in files.items():
            store(stage / NEW / name, data)
        sync_folders(stage)
        (stage / NEW).rename(folder)
        try:
            sync_folders(folder.parent)
        except OSError:
            try:
                folder.rename(stage / NEW)
            except OSError:
                return  # it cannot even go back: it stands, whole
            raise


def _refuse_names(folder: Path, names: Iterable[str]) -> None:
    for name in names:
        if not is_inside(name):
            raise CannotWrite(f"{folder}: not every system can keep a file named '{shown(name)}': name it otherwise")


def recover(folder: Path) -> None:
    """Puts back what runs that died left half swapped, and clears what they left; for who holds the folder.

    Raises `OSError`, and `CannotWrite` where somebody has changed since what the run had put there.
    """
    for stage in _stages(folder):
        if (stage / NOTE).is_file():
            _undo(folder, stage)
        shutil.rmtree(stage, ignore_errors=True)


def unfinished(folder: Path) -> bool:
    """Whether a run died among the swapping of the files of a folder, or is at it."""
    try:
        return any((stage / NOTE).is_file() for stage in _stages(folder))
    except OSError:
        return False


def _stages(folder: Path) -> Iterator[Path]:
    with os.scandir(folder) as entries:
        own = (entry for entry in entries if entry.name.startswith(STAGE))
        found = sorted(entry.name for entry in own if entry.is_dir(follow_symlinks=False))
    yield from (folder / name for name in found)


@contextlib.contextmanager
def _stage(folder: Path) -> Iterator[Path]:
    """A folder of the run's own within another; gone afterwards unless it holds what could not be put back."""
    stage = Path(tempfile.mkdtemp(prefix=STAGE, dir=folder))
    try:
        yield stage
    finally:
        if not (stage / NOTE).exists():
            shutil.rmtree(stage, ignore_errors=True)


def _missing(folder: Path, names: Collection[str]) -> Iterator[str]:
    """The folders that names lie in and that are not there, the outer first."""
    for name in names:
        parents = [part.as_posix() for part in Path(name).parents if part.name]
        yield from (parent for parent in reversed(parents) if not (folder / parent).is_dir())


def _swap(folder: Path, stage: Path, note: _Note) -> None:
    for name in note.had:
        (folder / name).rename(stage / OLD / name)
    for name in note.made:
        (folder / name).mkdir()
    for name in note.new:
        (stage / NEW / name).rename(folder / name)
    for place in {(folder / name).parent for name in (*note.new, *note.had)}:
        sync_folders(place)


def _undo(folder: Path, stage: Path) -> None:
    """Puts every file back where it stood; what has begun can be gone on with. Raises `CannotWrite`."""
    try:
        note = _read(stage)
        # the steps backwards, so that what vouches for the others never stands without them
        for name in reversed(note.new):
            new, here = stage / NEW / name, folder / name
            if not new.exists() and here.exists():
                _refuse_changed(here, note.new[name])
                here.replace(new)
        for name in reversed(note.had):
            old, here = stage / OLD / name, folder / name
            if old.exists():
                _refuse_changed(here, "")
                old.replace(here)
        for name in reversed(note.made):
            with contextlib.suppress(OSError):
                (folder / name).rmdir()
        for place in {(folder / name).parent for name in note.had}:
            sync_folders(place)
        (stage / NOTE).unlink()
        sync_folders(stage)
    except (OSError, ValueError, RecursionError) as error:
        what = f"a run broke off there, and what stood there before could not be put back ({error})"
        raise CannotWrite(f"{folder}: {what}: it lies in {stage / OLD}; move it back and delete {stage}") from None


def _read(stage: Path) -> _Note:
    """The note of a run, which lies where anybody may write. Raises `ValueError` where it is not as it was written."""
    data = json.loads((stage / NOTE).read_bytes())
    try:
        note = _Note(dict(data["new"]), tuple(data["had"]), tuple(data["made"]))
        sound = all(map(is_inside, (*note.new, *note.had, *note.made)))
    except (KeyError, TypeError, AttributeError):
        sound = False
    if not sound or any(map(Path.is_symlink, stage.iterdir())):
        raise ValueError("its note is not as it was written")
    return note


def _refuse_changed(path: Path, digest: str) -> None:
    """Raises `ValueError` where something stands that the run did not put there."""
    if path.exists() and hashlib.sha256(path.read_bytes()).hexdigest() != digest:
        raise ValueError(f"'{path.name}' was changed since")


# --- the disk -------------------------------------------------------------------------------------------------


def store(path: Path, data: bytes) -> None:
    """Writes a new file and forces it to disk. Raises `OSError`; nothing that is there, not even a link, is touched."""
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(descriptor, "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def sync_folders(folder: Path) -> None:
    """Forces the names in a folder, and in a run's own also those in its folders, to disk. Raises `OSError`."""
    if sys.platform == "win32":  # pragma: no cover
        return  # it opens no folders; its renames are journalled
    inner = [path for path in folder.rglob("*") if path.is_dir()] if folder.name.startswith(STAGE) else []
    for place in (folder, *inner):
        descriptor = os.open(place, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        except OSError as error:
            if error.errno not in _CANNOT_SYNC:
                raise
        finally:
            os.close(descriptor)
