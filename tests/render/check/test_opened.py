"""Word files from anybody are opened within bounds of time and room, whatever they say of themselves."""

from __future__ import annotations

import io
import resource
import struct
import sys
import zipfile

import pytest

from generator.files.limits import MOST_COUNTED, MOST_NESTED, MOST_PARAGRAPHS, MOST_TOLD
from generator.render.check import opened as opening
from generator.render.check.opened import ANYBODYS, OUR_OWN, Bounds, Unreadable, W, opened
from generator.render.check.papers import faults, lines
from generator.values import replace

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


def refused(data: bytes, bounds: Bounds = ANYBODYS) -> str:
    with pytest.raises(Unreadable) as caught:
        opened(data, bounds)
    return caught.value.fault.what


@pytest.mark.skipif(sys.platform != "linux", reason="asks for the greatest room in units of Linux")
def test_a_packing_that_lies_of_its_size_is_unpacked_no_further_than_it_says() -> None:
    data = packed(b"<!--" + b"x" * 300_000_000 + b"-->", says=1_000)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert refused(data) == "is not a Word file, or is damaged"
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 50_000


def test_one_that_says_it_is_small_and_unpacks_to_more_than_is_read_is_stopped() -> None:
    few = replace(ANYBODYS, xml_bytes=200_000)
    assert refused(packed(b" " * 300_000), few) == "unpacks to more than a paper can hold"
    assert refused(packed(b" " * 300_000, says=1), few) == "is not a Word file, or is damaged"
    assert opened(packed(b" " * 100_000), few).body is not None


@pytest.mark.parametrize(
    ("few", "body", "words"),
    [
        ({"xml_tags": 10}, b"<w:p/>" * 10, "holds more elements than a paper can"),
        ({"paragraphs": 10}, b"<w:p/>" * 11, "has more than 10 paragraphs and tables"),
        ({"paragraphs": 10}, b"<w:tbl/>" * 11, "has more than 10 paragraphs and tables"),
    ],
)
def test_each_bound_holds(few: dict[str, int], body: bytes, words: str) -> None:
    assert opened(packed(body)).body is not None
    assert refused(packed(body), replace(ANYBODYS, **few)) == words


@pytest.mark.parametrize("kinds", [("p",), ("r",), ("tbl", "tr", "tc"), ("p", "r", "txbxContent")])
def test_what_lies_in_its_like_deeper_than_in_any_paper_is_refused_before_it_is_looked_at(
    kinds: tuple[str, ...],
) -> None:
    def nest(times: int) -> bytes:
        begun = "".join(f"<w:{kind}>" for kind in kinds) * times
        return packed((begun + "".join(f"</w:{kind}>" for kind in reversed(kinds)) * times).encode())

    words = f"has more than {MOST_NESTED} paragraphs, runs or tables in one another"
    assert opened(nest(MOST_NESTED)).body is not None
    assert refused(nest(MOST_NESTED + 1)) == words
    assert [fault.what for fault in faults(nest(MOST_NESTED + 1), ours=True)] == [words]


@pytest.mark.parametrize(("limit", "most"), [("MOST_PACKAGE_BYTES", 10), ("MOST_PARTS", 0)])
def test_each_bound_of_all_packages_holds(limit: str, most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, limit, most)
    assert refused(packed(b"")) == "unpacks to more than a paper can hold"


def test_what_is_too_large_for_anybodys_paper_is_read_where_it_is_known_to_be_our_own() -> None:
    large = packed(b"<w:p/>" * (MOST_PARAGRAPHS + 1))
    (fault,) = faults(large)
    assert fault.what == f"has more than {MOST_PARAGRAPHS:,} paragraphs and tables"
    assert "W00" not in {fault.code for fault in faults(large, ours=True)}
    assert OUR_OWN.xml_bytes > ANYBODYS.xml_bytes
    assert OUR_OWN.xml_tags > ANYBODYS.xml_tags


def test_a_list_of_parts_without_end_is_not_read() -> None:
    assert refused(packed(b"") + b"PK\x01\x02" * 10_000) == "unpacks to more than a paper can hold"


def test_faults_without_end_are_looked_for_so_long_and_fifty_are_told() -> None:
    found = faults(packed(b"".join(b'<w:bookmarkStart w:id="%d" w:name="b%d"/>' % (n, n) for n in range(5_000))))
    assert len(found) == MOST_COUNTED
    told = lines("a.docx", found)
    assert (len(told), told[-1]) == (MOST_TOLD + 1, "a.docx: and at least 950 faults more")
    assert lines("a.docx", found[:50]) == told[:50]
    assert lines("a.docx", found[:52])[-1] == "a.docx: and 2 faults more"
