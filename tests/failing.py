"""Failures of the disk and deaths of a process at a chosen step: every call that changes a disk counts as one."""

from __future__ import annotations

import contextlib
import errno
import os
import signal
from collections.abc import Callable, Iterator
from typing import Any

import pytest

STEPS = ("open", "write", "fsync", "rename", "replace", "link", "unlink", "mkdir", "rmdir", "ftruncate")
"""The calls of `os` through which all writing goes, pathlib's and shutil's too."""

Step = Callable[[int, str], None]
"""Is told the number of a step, from 0, and the call; may raise, or end the process."""


@contextlib.contextmanager
def counted(step: Step) -> Iterator[list[str]]:
    """Tells `step` of each call before it is made; yields the names of the calls so far."""
    made: list[str] = []

    def told(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def run(*args: Any, **more: Any) -> Any:
            reads = name == "open" and not args[1] & (os.O_CREAT | os.O_WRONLY | os.O_RDWR)
            if not reads:
                made.append(name)
                step(len(made) - 1, name)
            return call(*args, **more)

        return run

    with pytest.MonkeyPatch.context() as patch:
        for name in STEPS:
            patch.setattr(os, name, told(name, getattr(os, name)))
        yield made


def steps_of(run: Callable[[], object]) -> int:
    """How many steps a run takes."""
    with counted(lambda number, name: None) as made:
        run()
    return len(made)


def full_disk(failing: int, *, stays: bool = False) -> Step:
    """Fails one step as a full disk does; with `stays`, all that follow too."""

    def step(number: int, name: str) -> None:
        if number == failing or (stays and number > failing):
            raise OSError(errno.ENOSPC, "No space left on device")

    return step


def killed_at(failing: int, run: Callable[[], object]) -> bool:
    """Runs in a process of its own, killed before a step; whether it came to that step."""
    child = os.fork()
    if child == 0:  # pragma: no cover

        def step(number: int, name: str) -> None:
            if number == failing:
                os.kill(os.getpid(), signal.SIGKILL)

        try:
            with counted(step):
                run()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def at_once(runs: list[Callable[[], object]]) -> list[bool]:
    """Whether each of some runs, each in a process of its own, ended without an error; they begin together."""
    ready, go = os.pipe()
    children = []
    for run in runs:
        child = os.fork()
        if child == 0:  # pragma: no cover
            code = 1
            try:
                os.close(go)
                os.read(ready, 1)  # until the other end is closed
                run()
                code = 0
            finally:
                os._exit(code)
        children.append(child)
    os.close(ready)
    os.close(go)
    return [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0 for child in children]
