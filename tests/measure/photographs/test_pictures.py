"""Pictures beside the answers: read where they are what they say, told where not, and nothing else held up by it."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable
from pathlib import Path

import pytest
from drawing.made_photographs import encoded, many_scans, png_header
from photographed import codes, jpeg, photograph, pictured, text
from PIL import Image

from generator.drawing import photograph as reading
from generator.job.job import Job
from generator.values import replace

SMALL = Image.new("RGB", (64, 48), (90, 60, 40))


def deep() -> bytes:
    return encoded(Image.new("I;16", (64, 48)), "PNG")


def moving() -> bytes:
    stream = io.BytesIO()
    SMALL.save(stream, "PNG", save_all=True, append_images=[Image.new("RGB", (64, 48))])
    return stream.getvalue()


BAD: dict[str, Callable[[], bytes]] = {
    "cut-short": lambda: jpeg()[:20_000],
    "damaged": lambda: b"\xff\xd8\xff\xe0" + bytes(2_000),
    "not-a-picture": lambda: b"project: {}\n" * 100,
    "other-format": lambda: encoded(SMALL, "GIF"),
    "cmyk": lambda: encoded(SMALL.convert("CMYK")),
    "too-deep": deep,
    "animated": moving,
    "too-many-pixels": lambda: png_header(30_000, 30_000),
    "too-many-scans": lambda: many_scans(reading.MOST_SCANS + 50),
}


def seen(folder: Path, data: bytes, **changes: object) -> Job:
    (folder / "front.jpg").write_bytes(data)
    return pictured(folder, photograph(**changes))


@pytest.mark.parametrize("code", BAD)
def test_a_picture_that_cannot_be_read_is_told_and_makes_a_draft_of_papers_that_are_whole_else(
    code: str, tmp_path: Path
) -> None:
    found = seen(tmp_path, BAD[code]())
    assert codes(found) == {code: "block"}
    assert found.status == "draft"
    assert found.measured.items()
    (told,) = [item for item in found.findings if item.code == f"photograph-{code}"]
    assert "F1" in told.message
    assert told.marks[0].line


def test_heic_without_its_reader_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "find_spec", lambda _: None)
    assert codes(seen(tmp_path, b"\0\0\0\x18ftypheic" + bytes(100))) == {"heic-not-readable": "block"}


def test_a_file_that_is_too_large_is_told_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "MOST_BYTES", 10_000)
    (told,) = [item for item in seen(tmp_path, jpeg()).findings if item.code.startswith("photograph-")]
    assert (told.code, "10,000 bytes" in told.message) == ("photograph-too-many-bytes", True)


def test_a_file_that_is_not_there_is_told_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "front.jpg").mkdir()
    (told,) = [item for item in pictured(tmp_path, photograph()).findings if item.code == "photograph-no-file"]
    assert "front.jpg" in told.message


def test_nothing_outside_the_folder_of_the_answers_is_read(tmp_path: Path) -> None:
    (tmp_path / "secret.jpg").write_bytes(jpeg())
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / "front.jpg").symlink_to(tmp_path / "secret.jpg")
    (tmp_path / "job" / "up").symlink_to(tmp_path)
    assert codes(pictured(tmp_path / "job", photograph())) == {"outside": "block"}
    assert codes(pictured(tmp_path / "job", photograph(file="up/secret.jpg"))) == {"outside": "block"}


def test_a_file_that_may_not_be_opened_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "front.jpg").write_bytes(jpeg())

    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    found = pictured(tmp_path, photograph())
    assert codes(found) == {"not-opened": "block"}


def test_another_file_than_the_one_marked_leaves_its_marks_out(tmp_path: Path) -> None:
    found = seen(tmp_path, jpeg(), sha256="0" * 64)
    assert codes(found) == {"changed": "block"}
    (one,) = found.photographs
    assert (one.works, one.letters[0].given) == ({}, None)
    held = seen(tmp_path, jpeg(), sha256=hashlib.sha256(jpeg()).hexdigest())
    assert "changed" not in codes(held)


@pytest.mark.parametrize(
    ("pixels", "changed"),
    [
        ("4032 x 3024", False),
        ("2016x1512", False),
        ("4032 x 3010", False),
        ("3024 x 4032", True),
        ("4032 x 2268", True),
    ],
)
def test_a_picture_of_another_shape_than_the_one_marked_leaves_its_marks_out(
    pixels: str, changed: bool, tmp_path: Path
) -> None:
    assert ("changed" in codes(seen(tmp_path, jpeg(), pixels=pixels))) is changed


def test_colours_whose_profile_cannot_be_read_are_told(tmp_path: Path) -> None:
    data = encoded(Image.new("RGB", (400, 300)), icc_profile=b"nonsense")
    assert codes(seen(tmp_path, data, reference=None, checks=None)) == {"profile-not-read": "note"}


def test_a_job_without_photographs_looks_for_no_file_and_needs_no_folder(tmp_path: Path) -> None:
    found = pictured(tmp_path / "nowhere")
    assert found.photographs == ()
    assert codes(found) == {}


def test_the_same_answers_and_pictures_give_the_same_job(tmp_path: Path) -> None:
    one, two = seen(tmp_path, jpeg()), seen(tmp_path, jpeg(), by="somebody else")
    assert text(photograph()) == text(photograph())
    assert replace(one.photographs[0], picture=two.photographs[0].picture) == two.photographs[0]
