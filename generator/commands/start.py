"""Where the program starts: what every run begins and ends with, and `write` in its plain words without a parser.

The parser of the command line takes longer to come to than many a job takes to write. Words that can mean but one thing
go past it; of all others, and of every mistake, it alone tells.
"""

from __future__ import annotations

import atexit
import contextlib
import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from generator.commands.ending import ended

VALUES: Final = {
    "--out": "out",
    "--library": "library",
    "--layer": "layers",
    "--last": "last",
    "--with": "companions",
    "--house-style": "house_style",
}
"""The options of `write` that take a word, with what they give `write_papers`."""

FLAGS: Final = {"--pdf": "pdf", "--replace-edited": "replace_edited"}
"""The options of `write` that take none."""

_NEEDED: Final = frozenset({"answers", "out"})


def run() -> None:
    """Runs the command line to its end, whatever happens in it."""
    # a run is short and leaves no cycles that count: to look for them costs a fifth of its time and frees nothing
    gc.disable()
    # a terminal of few letters gets \u2026 and the like in place of a traceback
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")
    # shapes are checked by what the program brings alone, and no other package is searched for more
    os.environ["PYDANTIC_DISABLE_PLUGINS"] = "__all__"
    code = ended(_asked)
    # the interpreter looks for cycles once more as it ends, among all that a run made: a tenth of its time for nothing
    gc.freeze()
    sys.exit(code)


def alone() -> None:
    """Runs the command line as all that a process is there for, which is left as it stands once that is done."""
    try:
        run()
    except SystemExit as done:
        if done.code is None or isinstance(done.code, int):
            atexit.register(_leave, done.code or 0)
        raise


def _leave(code: int) -> None:
    """Ends the process after all else that waits for its end; to take apart what a run made helps nobody."""
    atexit.unregister(_leave)
    atexit._run_exitfuncs()
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, OSError, ValueError):  # none there, gone or closed
            stream.flush()
    os._exit(code)


def _asked() -> None:
    given = plain_words(sys.argv[1:])
    if given is None:
        from generator.commands.main import app

        app()
    else:
        from generator.commands.sets import write_papers

        sys.exit(write_papers(**given))


def plain_words(words: Sequence[str]) -> dict[str, Any] | None:
    """What the words of a `write` give `write_papers`; None for all that the command line is to read, or to refuse."""
    if words[:1] != ["write"] or sys.platform == "win32":  # there it finds the files that a pattern stands for
        return None
    given: dict[str, Any] = {}
    rest = iter(words[1:])
    for word in rest:
        if word in FLAGS:
            given[FLAGS[word]] = True
            continue
        name, value = (VALUES.get(word, ""), next(rest, "")) if word.startswith("-") else ("answers", word)
        if not name or not value or value.startswith("-") or (name in given and name != "layers"):
            return None
        if name == "layers":
            given.setdefault(name, []).append(Path(value))
        else:
            given[name] = value if name == "companions" else Path(value)
    return given if given.keys() >= _NEEDED else None
