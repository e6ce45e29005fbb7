"""What a long run is at, on a line of the terminal that goes again, or told to who asks; else nothing."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Callable, Iterator
from contextvars import ContextVar
from typing import Any, Final, TextIO

_LONGEST: Final = 78


class Progress:
    """The one line that tells what a run is at: on the error stream, so that what is piped on stays clean."""

    def __init__(self) -> None:
        self._stream: TextIO | None = None
        self._width = 0
        # of one thread: others may be at something else meanwhile
        self._told: ContextVar[Callable[[str], Any] | None] = ContextVar("told", default=None)

    @contextlib.contextmanager
    def telling(self) -> Iterator[None]:
        """Tells while the block runs, if the error stream is a terminal."""
        self._stream = sys.stderr if sys.stderr is not None and sys.stderr.isatty() else None
        try:
            yield
        finally:
            self.clear()
            self._stream = None

    @contextlib.contextmanager
    def telling_to(self, told: Callable[[str], Any]) -> Iterator[None]:
        """Tells somebody each step that this thread begins while the block runs."""
        before = self._told.set(told)
        try:
            yield
        finally:
            self._told.reset(before)

    def at(self, step: str) -> None:
        """Tells the step that begins, in place of the one before."""
        if told := self._told.get():
            told(step)
        if self._stream is not None:
            self.clear()
            self._width = self._put(f"{step} \u2026"[:_LONGEST])

    def clear(self) -> None:
        """Takes the line away, so that others can be printed where it stood."""
        if self._width:
            self._put(f"\r{' ' * self._width}\r")
            self._width = 0

    def _put(self, text: str) -> int:
        if self._stream is None:
            return 0
        # a terminal that is closed meanwhile is no reason to break off
        with contextlib.suppress(OSError, ValueError):
            self._stream.write(text)
            self._stream.flush()
        return len(text)


PROGRESS: Final = Progress()
