"""The pictures of photographs, read from beside the answers; a bad file is told and holds up nothing else."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final
from weakref import WeakValueDictionary

from generator.questionnaire.photographed import Photographed

if TYPE_CHECKING:
    from generator.drawing.photograph import Photograph

READ_PX: Final = 1400
"""The width that pictures are read at: that of the widest in papers at 200 dots an inch, and a little over."""
_SHAPE_OFF: Final = 0.005
_READ: Final[WeakValueDictionary[bytes, Photograph]] = WeakValueDictionary()
"""What is read of photographs by the digests of their files, while a job holds it: each answer makes a job anew."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph and its picture; without one `refused` is why, as a code with a figure and a limit.

    `marks_hold` is false where the file is not the one that the marks were made on.
    """

    asked: Photographed
    read: Photograph | None = field(default=None, repr=False)
    refused: tuple[str, str, str] = ("", "", "")
    marks_hold: bool = True


def read_pictures(asked: Sequence[Photographed], folder: Path | None) -> tuple[Picture, ...]:
    """The pictures of photographs, from the folder that their files are told from; none is read from outside it."""
    return tuple(_picture(one, folder) for one in asked)


def _picture(asked: Photographed, folder: Path | None) -> Picture:
    from generator.drawing.photograph import PhotographRefused

    file = asked.asked.file
    if folder is None:
        return Picture(asked, refused=("no-file", file, ""))
    path = folder / file
    if not path.resolve().is_relative_to(folder.resolve()):
        return Picture(asked, refused=("outside", file, ""))
    try:
        read = _read(path)
    except PhotographRefused as refused:
        return Picture(asked, refused=(refused.code, _spelt(refused.figure), _spelt(refused.limit)))
    except OSError as error:
        return Picture(asked, refused=("not-opened", error.strerror or str(error), ""))
    return Picture(asked, read, marks_hold=_as_marked(asked, read))


def _read(path: Path) -> Photograph:
    """A photograph of a file; the one that somebody still holds where it was read of the same bytes."""
    from generator.drawing.photograph import photograph_bytes, read_photograph

    data = photograph_bytes(path)
    held = hashlib.sha256(data).digest()
    found = _READ.get(held)
    if found is None:
        found = _READ[held] = read_photograph(data, READ_PX)
    return found


def _spelt(figure: int | str) -> str:
    return f"{figure:,}" if isinstance(figure, int) else figure


def _as_marked(asked: Photographed, read: Photograph) -> bool:
    """Whether the file is the one marked, as far as the answers tell: by its digest, or by the picture's shape."""
    if asked.asked.sha256:
        return asked.asked.sha256 == read.sha256
    if asked.asked.pixels is None:
        return True
    width, height = asked.asked.pixels
    return abs(width * read.height_px / (height * read.width_px) - 1.0) <= _SHAPE_OFF
