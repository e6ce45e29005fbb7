"""How a run ends that nobody foresaw: in words, with what is needed to report it, and never with a traceback."""

from __future__ import annotations

import contextlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from generator import __version__

FAILED: Final = 1
_BROKEN_OFF: Final = 130
_PACKAGE: Final = __name__.partition(".")[0]
_LONGEST: Final = 1_000
_SAFE: Final = "Answers, and papers that stood there before, are as they were."


def ended(app: Callable[[], object]) -> int | str | None:
    """Runs a program that ends itself, and returns how; what it raises or cannot print is told on the error stream."""
    code: int | str | None = None
    try:
        app()
    except SystemExit as done:
        code = done.code
    except KeyboardInterrupt:
        code = _BROKEN_OFF
    except BrokenPipeError:
        code = FAILED  # a reader that has gone has read enough
    except OSError as error:
        code = _told(_refused(error))
    except ModuleNotFoundError as error:
        code = _told(_lacking(error) or _reported(error))
    except MemoryError:
        code = _told(f"there is not memory enough for this job: part it into several. {_SAFE}")
    except Exception as error:
        code = _told(_reported(error))
    return code if _is_out() else code or FAILED


def _told(words: str) -> int:
    with contextlib.suppress(ModuleNotFoundError):  # where a package is not there, it may be one that this needs too
        from generator.files.errors import harmless

        words = harmless(words)
    with contextlib.suppress(OSError, ValueError):
        print(f"gaugebox: {words}", file=sys.stderr)
    return FAILED


def _lacking(error: ModuleNotFoundError) -> str:
    """Words for a package that is needed and not installed; empty where what is missing is of the program itself."""
    package = (error.name or "").partition(".")[0]
    if package in ("", _PACKAGE):
        return ""
    told = f"the package '{package}' is not installed in this Python ({sys.executable})"
    return f"{told}: install Gaugebox there again, with all that it needs. {_SAFE}"


def _refused(error: OSError) -> str:
    """What the system refuses, which is nobody's mistake to report."""
    where = f" ({os.fsdecode(error.filename)[-_LONGEST:]})" if isinstance(error.filename, str | bytes) else ""
    return f"the system refuses to go on: {error.strerror or error}{where}. {_SAFE}"


def _reported(error: Exception) -> str:
    """Words for a fault of the program, with the file that tells those who can mend it what happened."""
    import traceback

    steps = traceback.extract_tb(error.__traceback__)
    at = f"{Path(steps[-1].filename).name}:{steps[-1].lineno}" if steps else "nowhere"
    what = f"this is a fault of the program, not of yours: {type(error).__name__} at {at}, version {__version__}"
    file = _report(error)
    where = f"What happened is told in {file}: send that" if file else "Send these lines"
    return (
        f"{what}. {_SAFE}\n{where} to whoever keeps Gaugebox for you, with the answers if you may; it will be mended."
    )


def _report(error: Exception) -> str:
    """The file among the temporary ones that holds what is needed to mend it; empty if none can be made."""
    import platform
    import tempfile
    import traceback

    lines = [
        f"gaugebox {__version__}, Python {platform.python_version()}, {platform.platform()}",
        f"command: {' '.join(map(ascii, sys.argv[1:]))}",
        *traceback.format_exception(error),
    ]
    try:
        descriptor, file = tempfile.mkstemp(prefix="gaugebox-report-", suffix=".txt")
        with os.fdopen(descriptor, "w", encoding="utf-8", errors="backslashreplace") as stream:
            stream.write("\n".join(lines))
    except OSError:
        return ""
    return file


def _is_out() -> bool:
    """Whether all that was printed could be, now that nothing more is; the interpreter would tell of it otherwise."""
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except (OSError, ValueError) as error:
        if not isinstance(error, BrokenPipeError):  # a reader that has gone has read enough
            _told(f"what was to be printed cannot be ({getattr(error, 'strerror', None) or error})")
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return isinstance(error, BrokenPipeError)
    return True
