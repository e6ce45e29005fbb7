"""Office packages as bytes that depend on their parts alone: fixed order, dates, system and packing."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import Final

FIRST_PARTS: Final = ("[Content_Types].xml", "_rels/.rels")
EARLIEST_DATE: Final = (1980, 1, 1, 0, 0, 0)
_PACKED: Final = (".png", ".jpg", ".jpeg")
"""The endings of pictures, which are packed in themselves."""

_UNIX: Final = 3
_PLAIN_FILE: Final = 0o600 << 16


def packed(parts: Mapping[str, bytes | Sequence[bytes]]) -> bytes:
    """A zip package of the parts by name: content types and root relations first, the rest sorted.

    A large part comes in pieces, which are never put together.
    """
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(parts, key=_position):
            entry = zipfile.ZipInfo(name, EARLIEST_DATE)
            entry.create_system = _UNIX
            entry.external_attr = _PLAIN_FILE
            entry.compress_type = zipfile.ZIP_STORED if name.endswith(_PACKED) else zipfile.ZIP_DEFLATED
            with archive.open(entry, "w") as stored:
                for piece in _pieces(parts[name]):
                    stored.write(piece)
    return stream.getvalue()


def _pieces(part: bytes | Sequence[bytes]) -> Sequence[bytes]:
    return (part,) if isinstance(part, bytes) else part


def _position(name: str) -> tuple[int, str]:
    return (FIRST_PARTS.index(name) if name in FIRST_PARTS else len(FIRST_PARTS), name)
