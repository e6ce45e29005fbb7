"""The YAML files below a folder, with a word for everything there that is not read and that nobody would miss."""

from __future__ import annotations

import os
from collections.abc import Iterator
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Final

from generator.files.errors import Mark, Problem
from generator.files.limits import MOST_LIBRARY_BYTES, MOST_LIBRARY_FILES
from generator.files.mistakes import Mistakes

_PATTERN: Final = "*.y*ml"
_MOVE: Final = "put the files themselves there"


def yaml_files(folder: Path, label: str, problems: Mistakes) -> list[tuple[str, Path]]:
    """The YAML files below a folder by name, sorted; what is hidden, such as the insides of git, is no part of it.

    `label` stands for the folder in marks. Links to folders, what is no file, and names that are no text are noted, and
    so is a folder that holds too much; then nothing is read.
    """
    found: dict[str, Path] = {}
    room = MOST_LIBRARY_BYTES
    for name, path in _below(folder, label, problems):
        if not path.is_file():
            problems.append(Problem(Mark(f"{label}/{name}"), "is no file", "move it out, or put a file in its place"))
        elif not _is_text(name):
            told = name.encode(errors="backslashreplace").decode()
            problems.append(Problem(Mark(f"{label}/{told}"), "has a name that is not UTF-8 text", "name it otherwise"))
        else:
            found[name] = path
            room -= path.stat().st_size
        if len(found) > MOST_LIBRARY_FILES or room < 0:
            what = f"holds more than {MOST_LIBRARY_FILES:,} files or {MOST_LIBRARY_BYTES:,} bytes"
            problems.append(Problem(Mark(label), what, "name a folder of clauses alone, or part it into layers"))
            return []
    return sorted(found.items())


def is_file(path: Path) -> bool:
    """Whether a file stands at a path; False for one that no system takes, too."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def is_folder(path: Path) -> bool:
    """Whether a folder stands at a path; False for one that no system takes, too."""
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def real_path(path: Path) -> Path:
    """A path without links; as it is where it cannot be followed: a ring, a folder that is gone, a name too long."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path


def _below(folder: Path, label: str, problems: Mistakes) -> Iterator[tuple[str, Path]]:
    def unread(error: OSError) -> None:
        place = Mark(f"{label}/{os.path.relpath(error.filename, folder)}")
        problems.append(Problem(place, f"cannot be read ({error.strerror})", "check its permissions"))

    for place, folders, files in os.walk(folder, onerror=unread):
        here = Path(place)
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in folders:
            if (here / name).is_symlink():
                inside = (here / name).relative_to(folder).as_posix()
                what = "is a link to a folder, which is not followed"
                problems.append(Problem(Mark(f"{label}/{inside}"), what, _MOVE))
        for name in files:
            if fnmatchcase(name, _PATTERN) and not name.startswith("."):
                yield (here / name).relative_to(folder).as_posix(), here / name


def _is_text(name: str) -> bool:
    try:
        name.encode()
    except UnicodeEncodeError:
        return False
    return True
