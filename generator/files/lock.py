"""The lock on a folder that is written in: one run at a time, and another is told which."""

from __future__ import annotations

import contextlib
import os
import re
import stat
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from generator.files.errors import CannotWrite

LOCK_FILE: Final = ".gaugebox.lock"
TRIES: Final = 100
"""A run holds a folder while it swaps files, seconds at most; another waits ten before it gives up."""

_PAUSE_S: Final = 0.1
_WORDS: Final = "Gaugebox is writing in this folder: process {}. If it no longer runs, this file may be deleted.\n"
_PROCESS: Final = re.compile(rb"process (\d{1,10})\.")

if sys.platform == "win32":  # pragma: no cover
    import msvcrt

    _FAR: Final = 1 << 30
    """The byte that is locked, past the words, which others can read so."""

    def _hold(descriptor: int) -> bool:
        os.lseek(descriptor, _FAR, os.SEEK_SET)
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except PermissionError:
            return False
        return True

else:
    import fcntl

    def _hold(descriptor: int) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


@contextlib.contextmanager
def locked(folder: Path, tries: int = TRIES) -> Iterator[None]:
    """Holds a folder that is there; a run that dies lets it go.

    Raises `CannotWrite` where another run holds it all the while, `OSError` where it cannot be held at all.
    """
    path = folder / LOCK_FILE
    descriptor = _held(path, tries)
    try:
        os.ftruncate(descriptor, 0)
        os.lseek(descriptor, 0, os.SEEK_SET)
        os.write(descriptor, _WORDS.format(os.getpid()).encode())
        yield
    finally:
        # while it is held, so that nobody holds a file that is no longer there; Windows deletes no open file
        with contextlib.suppress(OSError):
            path.unlink()
        os.close(descriptor)
        if sys.platform == "win32":  # pragma: no cover
            with contextlib.suppress(OSError):
                path.unlink()


def _held(path: Path, tries: int) -> int:
    for turn in range(tries):
        if turn:
            time.sleep(_PAUSE_S)
        flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
        descriptor = os.open(path, flags, 0o666)
        try:
            if not stat.S_ISREG(os.fstat(descriptor).st_mode):
                raise FileExistsError(0, f"'{LOCK_FILE}' is no file there")
            if _hold(descriptor) and _is_still_there(descriptor, path):
                held, descriptor = descriptor, -1
                return held
        finally:
            if descriptor >= 0:
                os.close(descriptor)
    who = _who(path)
    raise CannotWrite(f"{path.parent}: another run of Gaugebox is writing there{who}: let it end, then try again")


def _is_still_there(descriptor: int, path: Path) -> bool:
    """Whether the file held is the one that others would find: the run before may have deleted it meanwhile."""
    try:
        return os.path.samestat(os.fstat(descriptor), path.stat())
    except FileNotFoundError:
        return False


def _who(path: Path) -> str:
    try:
        found = _PROCESS.search(path.read_bytes()[:200])
    except OSError:
        found = None
    return f" (process {found[1].decode()})" if found else ""
