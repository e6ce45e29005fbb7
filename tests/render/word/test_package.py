"""Packages: the same parts give the same bytes, whoever zipped them before."""

from __future__ import annotations

import io
import zipfile

from generator.render.word.package import packed

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


def test_pictures_are_not_packed_again() -> None:
    packings = {entry.filename: entry.compress_type for entry in entries(packed({**PARTS, "word/media/a.png": b"p"}))}
    assert packings.pop("word/media/a.png") == zipfile.ZIP_STORED
    assert set(packings.values()) == {zipfile.ZIP_DEFLATED}


def test_a_package_holds_the_parts_that_were_packed() -> None:
    archive = zipfile.ZipFile(io.BytesIO(packed(PARTS)))
    assert {name: archive.read(name) for name in archive.namelist()} == PARTS


def test_a_part_in_pieces_is_packed_as_it_is_whole() -> None:
    assert packed({**PARTS, "word/document.xml": (b"<", b"", b"b/>")}) == packed(PARTS)
