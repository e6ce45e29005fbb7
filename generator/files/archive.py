"""Files as one archive, the same bytes for the same files, and the digests by which they are known again."""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Mapping
from typing import Final

_DAY: Final = (1980, 1, 1, 0, 0, 0)


def archived(files: Mapping[str, bytes]) -> bytes:
    """Files by name as a zip archive in the order given; the same files give the same bytes."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name, _DAY), data, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def sha256(data: bytes) -> str:
    """The SHA-256 of a file, as `sha256sum` prints it."""
    return hashlib.sha256(data).hexdigest()
