"""Packages: the same parts give the same bytes, whoever zipped them before."""

from __future__ import annotations

import io
import zipfile

from generator.render.word.package import Package, packed

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


def test_a_picture_that_is_added_again_and_a_relation_that_there_is_are_told_as_they_were() -> None:
    package = Package()
    first = package.add_picture(b"one", "png", "image/png")
    second = package.add_picture(b"two", "jpg", "image/jpeg")
    assert package.add_picture(b"one", "png", "image/png") == first == "word/media/image1.png"
    assert second == "word/media/image2.jpg"
    told = [
        package.related("image", to, name) for to in ("word/a.xml", "word/b.xml") for name in (second, first, second)
    ]
    assert told == ["rId1", "rId2", "rId1"] * 2


def test_relations_tell_their_parts_from_where_they_stand_and_types_tell_every_part() -> None:
    package = Package()
    package.add("word/a.xml", "text/a", "<a/>")
    package.related("document", "", "word/a.xml")
    package.related("image", "word/a.xml", package.add_picture(b"one", "png", "image/png"))
    archive = zipfile.ZipFile(io.BytesIO(package.packed()))
    assert 'Id="rId1" Type="document" Target="word/a.xml"' in archive.read("_rels/.rels").decode()
    assert 'Id="rId1" Type="image" Target="media/image1.png"' in archive.read("word/_rels/a.xml.rels").decode()
    types = archive.read("[Content_Types].xml").decode()
    assert 'Extension="png" ContentType="image/png"' in types
    assert 'PartName="/word/a.xml" ContentType="text/a"' in types
