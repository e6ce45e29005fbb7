"""Word files from anybody are opened within bounds of time and room, whatever they say of themselves."""

from __future__ import annotations

import io
import resource
import struct
import sys
import zipfile

import pytest

from generator.files.limits import MOST_COUNTED, MOST_TOLD
from generator.render.check import opened as opening
from generator.render.check.opened import Unreadable, W, opened
from generator.render.check.papers import faults, lines

HEAD = f'<w:document xmlns:w="{W[1:-1]}"><w:body>'.encode()
END = b"</w:body></w:document>"


def packed(body: bytes, says: int | None = None) -> bytes:
    """A Word file with a body; `says` is the size that its packing gives it."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("word/document.xml", HEAD + body + END)
    data = bytearray(stream.getvalue())
    if says is not None:
        for mark, at in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
            place = data.index(mark) + at
            data[place : place + 4] = struct.pack("<I", says)
    return bytes(data)


def refused(data: bytes) -> str:
    with pytest.raises(Unreadable) as caught:
        opened(data)
    return caught.value.fault.what


@pytest.mark.skipif(sys.platform != "linux", reason="asks for the greatest room in units of Linux")
def test_a_packing_that_lies_of_its_size_is_unpacked_no_further_than_it_says() -> None:
    data = packed(b"<!--" + b"x" * 300_000_000 + b"-->", says=1_000)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert refused(data) == "is not a Word file, or is damaged"
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 50_000


def test_one_that_says_it_is_small_and_unpacks_to_more_than_is_read_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "MOST_XML_BYTES", 200_000)
    assert refused(packed(b" " * 300_000)) == "unpacks to more than a paper can hold"
    assert refused(packed(b" " * 300_000, says=1)) == "is not a Word file, or is damaged"
    assert opened(packed(b" " * 100_000)).body is not None


@pytest.mark.parametrize(
    ("limit", "most", "body", "words"),
    [
        ("MOST_XML_TAGS", 10, b"<w:p/>" * 10, "holds more elements than a paper can"),
        ("MOST_PARAGRAPHS", 10, b"<w:p/>" * 11, "has more than 10 paragraphs and tables"),
        ("MOST_PARAGRAPHS", 10, b"<w:tbl/>" * 11, "has more than 10 paragraphs and tables"),
        ("MOST_PACKAGE_BYTES", 10, b"", "unpacks to more than a paper can hold"),
        ("MOST_PARTS", 0, b"", "unpacks to more than a paper can hold"),
    ],
)
def test_each_bound_holds(limit: str, most: int, body: bytes, words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert opened(packed(body)).body is not None
    monkeypatch.setattr(opening, limit, most)
    assert refused(packed(body)) == words


def test_a_list_of_parts_without_end_is_not_read() -> None:
    assert refused(packed(b"") + b"PK\x01\x02" * 10_000) == "unpacks to more than a paper can hold"


def test_faults_without_end_are_looked_for_so_long_and_fifty_are_told() -> None:
    found = faults(packed(b"".join(b'<w:bookmarkStart w:id="%d" w:name="b%d"/>' % (n, n) for n in range(5_000))))
    assert len(found) == MOST_COUNTED
    told = lines("a.docx", found)
    assert (len(told), told[-1]) == (MOST_TOLD + 1, "a.docx: and at least 950 faults more")
    assert lines("a.docx", found[:50]) == told[:50]
    assert lines("a.docx", found[:52])[-1] == "a.docx: and 2 faults more"
