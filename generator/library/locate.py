"""Finds the shipped clauses and templates, in a wheel or straight from a checkout, and a job's own clauses."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from generator.files.errors import DataNotFound
from generator.files.walk import is_folder

OWN_FOLDER: Final = "project-clauses"
_WORDS: Final = "words.yaml"
_PACKAGE: Final = Path(__file__).resolve().parent.parent


def shipped(name: str, marker: str) -> Path:
    """The folder `clauses` or `templates`, known by its marker file. Raises `DataNotFound`."""
    tried = [_PACKAGE / "_data" / name, _PACKAGE.parent / name]
    for path in tried:
        if (path / marker).is_file():
            return path
    raise DataNotFound(f"the shipped '{name}' folder is missing; looked for {marker} in {', '.join(map(str, tried))}")


def templates_of(clauses: Path) -> Path:
    """The templates that go with a folder of clauses: those beside it, or those shipped. Raises `DataNotFound`."""
    return templates_beside(clauses) or shipped("templates", _WORDS)


def templates_beside(clauses: Path) -> Path | None:
    """The templates beside a folder of clauses; None where there are none."""
    beside = clauses.parent / "templates"
    return beside if (beside / _WORDS).is_file() else None


def told(folder: Path) -> str:
    """A folder as marks name it: as given, or from here where it lies below."""
    try:
        here = Path.cwd()
    except OSError:  # the folder that the run began in is deleted
        return str(folder)
    inside = folder.is_absolute() and folder != here and folder.is_relative_to(here)
    return str(folder.relative_to(here) if inside else folder)


def own_layer(answers: Path) -> Path | None:
    """The folder of clauses of a project alone, which lies beside its answers; None where there is none."""
    folder = answers.parent / OWN_FOLDER
    return folder if is_folder(folder) else None
