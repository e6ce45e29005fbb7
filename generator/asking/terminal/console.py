"""Lines in and lines out: plain text, through a terminal or a pipe."""

from __future__ import annotations

import os
import re
import textwrap
from typing import BinaryIO, Final, TextIO

WIDTH: Final = 78
MAX_LINE: Final = 100_000
_NUMBER: Final = re.compile(r" *[0-9]+  ")


class Closed(Exception):
    """The other side has gone: the input has ended, or nobody reads what is written."""


class Console:
    """Somebody who reads lines and types lines."""

    def __init__(self, reader: BinaryIO, writer: TextIO) -> None:
        self._reader = reader
        self._writer = writer
        # what comes through a pipe is shown, so that what is printed can be followed
        self._echoes = not reader.isatty()

    def say(self, text: str = "", indent: int = 0) -> None:
        """Writes a text as lines of at most `WIDTH` characters; its own line breaks stay."""
        for line in text.split("\n"):
            number = _NUMBER.match(line)
            hanging = " " * (indent + (number.end() if number else 0))
            lines = textwrap.wrap(
                line, WIDTH, initial_indent=" " * indent, subsequent_indent=hanging, break_on_hyphens=False
            )
            self._write("".join(f"{part}\n" for part in lines or [""]))

    def show(self, text: str) -> None:
        """Writes a text as it is, its lines unbroken."""
        self._write(text)

    def line(self, prompt: str) -> str:
        """The next line typed, without its end. Raises `Closed` where there is none."""
        self._write(prompt)
        raw = self._reader.readline(MAX_LINE)
        if not raw:
            self._write("\n")
            raise Closed
        rest = raw
        while len(rest) == MAX_LINE and not rest.endswith(b"\n"):
            # what no answer can hold is read past, so that it is not taken for the answers that follow
            rest = self._reader.readline(MAX_LINE)
        found = raw.decode("utf-8", "surrogateescape").rstrip("\r\n")
        if self._echoes:
            self._write(found.encode("utf-8", "replace").decode("utf-8")[:WIDTH] + "\n")
        return found

    def _write(self, text: str) -> None:
        try:
            self._writer.write(text)
            self._writer.flush()
        except BrokenPipeError:
            # the interpreter flushes once more as it ends, and would tell of it
            os.dup2(os.open(os.devnull, os.O_WRONLY), self._writer.fileno())
            raise Closed from None
