"""What LibreOffice leaves undone in a tagged PDF (PDF/UA-1): rules outside the tags, order of links, heads of rows."""

from __future__ import annotations

import importlib
import io
from collections.abc import Iterator
from typing import Any, Final

_PATH: Final = frozenset((b"m", b"l", b"c", b"v", b"y", b"h", b"re"))
_PAINT: Final = frozenset((b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"n"))
_OPENS: Final = frozenset((b"BDC", b"BMC"))


def mended(printed: bytes) -> bytes:
    """The PDF with rules of headers and footers marked as decoration, links read in the order of the text, and the
    first cell of each row of a table that has heads as the head of its row.

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
    _head_rows(writer, generic)
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def _head_rows(writer: Any, generic: Any) -> None:
    """Makes heads of first cells that say something, in tables whose first row is heads: what is told of, by row."""
    name = generic.NameObject
    for table in _elements(writer.root_object.get("/StructTreeRoot"), "/Table"):
        rows = list(_elements(table, "/TR"))
        if not rows or any(cell.get("/S") != "/TH" for cell in _kids(rows[0])):
            continue
        for first, *others in (list(_kids(row)) for row in rows[1:]):
            if others and first.get("/S") == "/TD" and _says(first):
                scope = generic.DictionaryObject({name("/O"): name("/Table"), name("/Scope"): name("/Row")})
                told = first.get("/A", generic.ArrayObject()).get_object()
                known = list(told) if isinstance(told, list) else [first.raw_get("/A")]
                first[name("/S")], first[name("/A")] = name("/TH"), generic.ArrayObject([*known, scope])


def _elements(element: Any, kind: str) -> Iterator[Any]:
    """The elements of a kind within another, in order; those within one of them are its own."""
    for kid in _kids(element):
        if kid.get("/S") == kind:
            yield kid
        else:
            yield from _elements(kid, kind)


def _kids(element: Any) -> Iterator[Any]:
    """The elements right within another, in order: not the content that is marked on a page."""
    return (held for held in _held(element) if _is_element(held))


def _says(element: Any) -> bool:
    """Whether anything on a page is marked as within an element."""
    return any(not _is_element(held) or _says(held) for held in _held(element))


def _held(element: Any) -> list[Any]:
    """What is right within an element, in order: elements, and content that is marked on a page."""
    held = element.get_object().get("/K") if element is not None else None
    held = held.get_object() if held is not None else []
    return [each.get_object() for each in (held if isinstance(held, list) else [held])]


def _is_element(held: Any) -> bool:
    return isinstance(held, dict) and "/S" in held


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
