"""What LibreOffice leaves undone in a tagged PDF (PDF/UA-1): rules outside the tags, and the order of its links."""

from __future__ import annotations

import importlib
import io
from typing import Any, Final

_PATH: Final = frozenset((b"m", b"l", b"c", b"v", b"y", b"h", b"re"))
_PAINT: Final = frozenset((b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"n"))
_OPENS: Final = frozenset((b"BDC", b"BMC"))


def mended(printed: bytes) -> bytes:
    """The PDF with rules of headers and footers marked as decoration, and links read in the order of the text.

    Raises ModuleNotFoundError where pypdf is missing.
    """
    pypdf: Any = importlib.import_module("pypdf")
    generic: Any = importlib.import_module("pypdf.generic")
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(printed))
    name = generic.NameObject
    for page in writer.pages:
        if "/Annots" in page:
            page[name("/Tabs")] = name("/S")
        content = generic.ContentStream(page["/Contents"], writer)
        content.operations = _marked(content.operations, name("/Artifact"))
        # the stream of operations packs nothing of itself: its bytes go into a plain one
        plain = generic.StreamObject()
        plain.set_data(content.get_data())
        page[name("/Contents")] = writer._add_object(plain.flate_encode())
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def _marked(operations: list[tuple[Any, bytes]], artifact: Any) -> list[tuple[Any, bytes]]:
    """The operations of a page with every path that lies in no marked content marked as an artifact."""
    found: list[tuple[Any, bytes]] = []
    depth, drawing = 0, False
    for operands, operator in operations:
        depth += (operator in _OPENS) - (operator == b"EMC")
        if operator in _PATH and depth == 0 and not drawing:
            # nothing but path operators may stand within a path, so the mark goes before its first
            found.append(([artifact], b"BMC"))
            drawing = True
        found.append((operands, operator))
        if operator in _PAINT and drawing:
            found.append(([], b"EMC"))
            drawing = False
    return found
