"""Office packages as bytes that depend on their parts alone: fixed order, dates, system and packing."""

from __future__ import annotations

import io
import zipfile
from typing import Final

FIRST_PARTS: Final = ("[Content_Types].xml", "_rels/.rels")
EARLIEST_DATE: Final = (1980, 1, 1, 0, 0, 0)
DEFLATE_LEVEL: Final = 6
_PACKED: Final = (".png", ".jpg", ".jpeg")
"""The endings of pictures, which are packed in themselves."""

_UNIX: Final = 3
_PLAIN_FILE: Final = 0o600 << 16


def packed(parts: dict[str, bytes]) -> bytes:
    """A zip package of the parts by name: content types and root relations first, the rest sorted."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in sorted(parts, key=_position):
            entry = zipfile.ZipInfo(name, EARLIEST_DATE)
            entry.create_system = _UNIX
            entry.external_attr = _PLAIN_FILE
            entry.compress_type = zipfile.ZIP_STORED if name.endswith(_PACKED) else zipfile.ZIP_DEFLATED
            archive.writestr(entry, parts[name], compresslevel=DEFLATE_LEVEL)
    return stream.getvalue()


def _position(name: str) -> tuple[int, str]:
    return (FIRST_PARTS.index(name) if name in FIRST_PARTS else len(FIRST_PARTS), name)
