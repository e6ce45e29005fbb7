"""Packages: the same parts give the same bytes, whoever zipped them before."""

from __future__ import annotations

import io
import zipfile

import pytest

from generator.render.word.package import packed, unpacked

PARTS = {
    "word/document.xml": b"<b/>",
    "_rels/.rels": b"<r/>",
    "[Content_Types].xml": b"<t/>",
    "docProps/core.xml": b"<c/>",
}


def entries(data: bytes) -> list[zipfile.ZipInfo]:
    return zipfile.ZipFile(io.BytesIO(data)).infolist()


def test_content_types_and_root_relations_come_first_and_the_rest_is_sorted() -> None:
    assert [entry.filename for entry in entries(packed(PARTS))] == [
        "[Content_Types].xml", "_rels/.rels", "docProps/core.xml", "word/document.xml",
    ]  # fmt: skip


def test_order_of_the_parts_given_does_not_change_the_bytes() -> None:
    assert packed(PARTS) == packed(dict(reversed(PARTS.items())))


def test_dates_system_and_rights_are_fixed() -> None:
    seen = {(entry.date_time, entry.create_system, entry.external_attr) for entry in entries(packed(PARTS))}
    assert seen == {((1980, 1, 1, 0, 0, 0), 3, 0o600 << 16)}


def test_repacking_takes_away_what_another_writer_left() -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        for name, content in PARTS.items():
            archive.writestr(zipfile.ZipInfo(name, (2031, 5, 6, 7, 8, 10)), content)
    assert stream.getvalue() != packed(PARTS)
    assert packed(unpacked(stream.getvalue())) == packed(PARTS)


def test_unpacking_gives_back_what_was_packed() -> None:
    assert unpacked(packed(PARTS)) == PARTS


def test_bytes_that_are_no_package_are_refused() -> None:
    with pytest.raises(zipfile.BadZipFile):
        unpacked(b"not a package")
