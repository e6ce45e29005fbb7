"""What a record vouches for: the papers that were written with it; of what else it holds nothing is made."""

from __future__ import annotations

import codecs
import io
from functools import partial
from pathlib import Path
from typing import Final

from generator.files.limits import MOST_RECORD_BYTES, MOST_RECORD_VALUES
from generator.files.place import RECORD_FILE, is_inside
from generator.values import Struct, from_json

_PIECE: Final = 1 << 16
_HALF: Final = b"\\ud"
"""How a letter that is no text is spelt, such as one of an answers file's name; the reader of structures takes none."""


class _File(Struct, frozen=True):
    name: str
    sha256: str


class _Record(Struct, frozen=True):
    files: tuple[_File, ...]


def manifest(folder: Path) -> dict[str, str]:
    """The digests by name of what was written with the record in a folder; none where there is no such record."""
    try:
        with (folder / RECORD_FILE).open("rb") as stream:
            raw = stream.read(MOST_RECORD_BYTES + 1)
        if beyond_records(raw):
            return {}
        _refuse_no_text(raw)
        found = from_json(raw.replace(_HALF, b"\\u0"), _Record).files
    except (OSError, ValueError, RecursionError):
        return {}
    return {file.name: file.sha256 for file in found if is_inside(file.name) and "/" not in file.name}


def beyond_records(raw: bytes) -> str:
    """In what a file goes beyond any record, told before anything is made of it; empty where it does not."""
    if len(raw) > MOST_RECORD_BYTES:
        return f"is larger than any record ({MOST_RECORD_BYTES:,} bytes)"
    # each takes a byte at the least: most records are too short to be counted
    if len(raw) > MOST_RECORD_VALUES and sum(map(raw.count, (b",", b"[", b"{"))) > MOST_RECORD_VALUES:
        return f"holds more than any record ({MOST_RECORD_VALUES:,} values)"
    return ""


def _refuse_no_text(raw: bytes) -> None:
    """Raises `ValueError` where not all is UTF-8: what is passed over is not decoded."""
    pieces = iter(partial(io.BytesIO(raw).read, _PIECE), b"")
    for _ in codecs.iterdecode(pieces, "utf-8"):
        pass
