"""Reading picture files from others: what is read comes out upright, in sRGB and bare; the rest has its code.

Turning is held against the photograph library's own `exif_transpose` and the places of the note (X), colours
against the matrix of Display P3.
"""

from __future__ import annotations

import datetime
import hashlib
import importlib.util
import io
import random
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest
from drawing.made_photographs import P3_TO_SRGB, bricks, display_p3, encoded, exif, many_scans, png_header
from PIL import Image, ImageOps

from generator.drawing import photograph as reading
from generator.drawing.photograph import MOST_BYTES, PhotographRefused, photograph_bytes, read_photograph

SMALL = bricks(120, 200, 150)
GIF = encoded(SMALL, "GIF")
HEIC_HEAD = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + bytes(100)


def refused(data: bytes) -> PhotographRefused:
    with pytest.raises(PhotographRefused) as caught:
        read_photograph(data, 100)
    return caught.value


def deep_png(channels: int) -> bytes:
    levels = np.full((20, 30, channels), 40000, np.uint16)
    _, data = cv2.imencode(".png", levels)
    return bytes(data)


def moving_png() -> bytes:
    return encoded(SMALL, "PNG", save_all=True, append_images=[SMALL.rotate(180)])


BAD: dict[str, tuple[Callable[[], bytes], str]] = {
    "empty": (lambda: b"", "not-a-picture"),
    "text": (lambda: b"Front wall, from the south-west\n" * 40, "not-a-picture"),
    "zip": (lambda: b"PK\x03\x04" + bytes(200), "not-a-picture"),
    "gif": (lambda: GIF, "other-format"),
    "webp": (lambda: encoded(SMALL, "WEBP"), "other-format"),
    "tiff": (lambda: encoded(SMALL, "TIFF"), "other-format"),
    "bmp": (lambda: encoded(SMALL, "BMP"), "other-format"),
    "jpeg cut short": (lambda: encoded(SMALL)[:4000], "cut-short"),
    "progressive jpeg cut short": (lambda: encoded(SMALL, progressive=True)[:4000], "cut-short"),
    "png cut short": (lambda: encoded(SMALL, "PNG")[:4000], "cut-short"),
    "jpeg of a head alone": (lambda: encoded(SMALL)[:20], "damaged"),
    "png of a head alone": (lambda: encoded(SMALL, "PNG")[:12], "damaged"),
    "jpeg with junk for tables": (lambda: encoded(SMALL)[:2] + b"\xff\xdb\x00\x08junk" + bytes(50), "damaged"),
    "bomb": (lambda: png_header(60_000, 60_000), "too-many-pixels"),
    "bomb that the library only warns of": (lambda: png_header(9_500, 9_500), "too-many-pixels"),
    "just past sixty million": (lambda: png_header(7_751, 7_746), "too-many-pixels"),
    "forty million bytes and more": (lambda: b"\xff\xd8" + bytes(MOST_BYTES), "too-many-bytes"),
    "scans without end": (lambda: many_scans(2000), "too-many-scans"),
    "cmyk": (lambda: encoded(SMALL.convert("CMYK")), "cmyk"),
    "sixteen bits grey": (lambda: deep_png(1), "too-deep"),
    "sixteen bits colour": (lambda: deep_png(3), "too-deep"),
    "moving png": (moving_png, "animated"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_are_refused_each_with_its_code(name: str) -> None:
    # warnings are errors in these tests: none escapes
    make, code = BAD[name]
    assert refused(make()).code == code


def test_a_refusal_carries_figure_and_limit() -> None:
    assert (refused(GIF).figure, refused(deep_png(1)).figure) == ("GIF", 16)
    pixels = refused(png_header(9_500, 9_500))
    assert (pixels.figure, pixels.limit) == (90_250_000, 60_000_000)


def test_heic_without_its_reader_is_refused_as_such(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "find_spec", lambda name: None)
    assert refused(HEIC_HEAD).code == "heic-not-readable"


def test_heic_with_its_reader_is_turned_once() -> None:
    writer = pytest.importorskip("pillow_heif")
    stored = Image.new("RGB", (96, 64), (255, 255, 255))
    stored.paste((0, 0, 0), (0, 0, 32, 32))
    stream = io.BytesIO()
    writer.from_pillow(stored).save(stream, quality=90, exif=exif(6).tobytes())
    found = read_photograph(stream.getvalue(), 100)
    assert (found.width_px, found.height_px) == found.image.size == (64, 96)
    assert ImageOps.invert(found.image).convert("L").point(lambda level: 255 * (level > 128)).getbbox() == (
        32,
        0,
        64,
        32,
    )
    assert (found.taken, found.image.info) == (datetime.date(2026, 5, 12), {})
    assert refused(stream.getvalue()[:300]).code in ("cut-short", "damaged")


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_broken_files_are_read_or_refused_and_nothing_else(kind: str) -> None:
    whole = encoded(bricks(120, 90, 60), kind, exif=exif(6), icc_profile=display_p3())
    draw, read, codes = random.Random(5), 0, set()
    for _ in range(120):
        data = bytearray(whole)
        for _ in range(draw.choice((1, 3, 20))):
            data[draw.randrange(len(data))] = draw.randrange(256)
        try:
            read_photograph(bytes(data), 60)
            read += 1
        except PhotographRefused as error:
            codes.add(error.code)
    # every chunk of a PNG has its check sum: hardly any change goes unseen
    assert (0 if kind == "JPEG" else -1) < read < 120
    assert "damaged" in codes


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_pictures_come_out_upright(orientation: int, kind: str) -> None:
    stored = Image.new("RGB", (96, 64), (255, 255, 255))
    stored.paste((0, 0, 0), (0, 0, 32, 32))
    data = encoded(stored, kind, exif=exif(orientation))
    found = read_photograph(data, 1000)
    with Image.open(io.BytesIO(data)) as plain:
        upright = ImageOps.exif_transpose(plain).convert("RGB")
    assert (found.width_px, found.height_px) == found.image.size == upright.size
    assert np.abs(np.asarray(found.image, int) - np.asarray(upright, int)).max() <= 2


@pytest.mark.parametrize(("orientation", "place"), [(1, (0, 0)), (3, (2, 1)), (6, (1, 0)), (8, (0, 2))])
def test_the_first_pixel_stored_goes_to_its_place(orientation: int, place: tuple[int, int]) -> None:
    # X, of the note: stored 3 x 2
    stored = Image.new("RGB", (3, 2), (255, 255, 255))
    stored.putpixel((0, 0), (0, 0, 0))
    found = read_photograph(encoded(stored, "PNG", exif=exif(orientation)), 100)
    assert found.image.getpixel(place) == (0, 0, 0)


@pytest.mark.parametrize("orientation", [1, 6])
def test_a_width_is_that_of_the_upright_picture_and_never_more(orientation: int) -> None:
    data = encoded(bricks(120, 800, 600), exif=exif(orientation))
    upright = (600, 800) if orientation == 6 else (800, 600)
    found = read_photograph(data, 300)
    assert (found.width_px, found.height_px) == upright
    assert found.image.size == (300, round(upright[1] * 300 / upright[0]))
    assert read_photograph(data, 5000).image.size == upright
    with pytest.raises(ValueError, match="valid from 1 up"):
        read_photograph(data, 0)


def test_reducing_while_decoding_looks_like_reducing_afterwards() -> None:
    whole = bricks(120, 800, 600)
    found = np.asarray(read_photograph(encoded(whole, quality=95), 200).image, float)
    plain = np.asarray(whole.resize((200, 150), Image.Resampling.LANCZOS), float)
    assert np.abs(found - plain).mean() < 3.0


def test_wide_colours_come_out_as_srgb() -> None:
    # outside reference: the matrix of Display P3 to sRGB, in linear light
    def linear(level: np.ndarray) -> np.ndarray:
        return np.where(level <= 0.04045, level / 12.92, ((level + 0.055) / 1.055) ** 2.4)

    def curved(level: np.ndarray) -> np.ndarray:
        return np.where(level <= 0.0031308, level * 12.92, 1.055 * level ** (1 / 2.4) - 0.055)

    for colour in ((180, 110, 90), (120, 125, 118), (200, 190, 160)):
        picture = Image.new("RGB", (20, 20), colour)
        found = read_photograph(encoded(picture, "PNG", icc_profile=display_p3()), 20)
        expected = 255.0 * curved(P3_TO_SRGB @ linear(np.array(colour) / 255.0))
        assert found.image.getpixel((10, 10)) == pytest.approx(expected.tolist(), abs=1.6)
        assert found.notes == ()
        assert found.image.getpixel((10, 10)) != colour or colour == (120, 125, 118)


def test_a_profile_that_cannot_be_read_is_told() -> None:
    found = read_photograph(encoded(SMALL, icc_profile=b"no profile at all"), 100)
    assert found.notes == ("profile-not-read",)
    assert found.image.size == (100, 75)


def test_what_shows_through_is_white_and_grey_is_coloured() -> None:
    clear = Image.new("RGBA", (20, 20), (10, 10, 10, 0))
    clear.paste((90, 60, 40, 255), (0, 0, 10, 20))
    for picture, right in ((clear, (255, 255, 255)), (clear.convert("RGB").convert("L"), None)):
        found = read_photograph(encoded(picture, "PNG"), 20).image
        assert found.mode == "RGB"
        assert right is None or found.getpixel((15, 5)) == right
    palette = SMALL.quantize(32)
    palette.info["transparency"] = 0
    assert read_photograph(encoded(palette, "PNG"), 50).image.mode == "RGB"
    assert read_photograph(encoded(SMALL.convert("1"), "PNG"), 50).image.mode == "RGB"


@pytest.mark.parametrize("width_px", [700, 331, 90, 41])
def test_a_picture_with_alpha_is_reduced_as_one_without(width_px: int) -> None:
    plain = bricks(120, 697, 523)
    found = [read_photograph(encoded(one, "PNG"), width_px).image for one in (plain.convert("RGBA"), plain)]
    assert found[0].size == found[1].size
    assert np.abs(np.asarray(found[0], float) - np.asarray(found[1], float)).mean() < 2.0


def test_of_several_pictures_the_first_is_read() -> None:
    first, second = Image.new("RGB", (64, 48), (200, 10, 10)), Image.new("RGB", (64, 48), (10, 200, 10))
    found = read_photograph(encoded(first, "MPO", save_all=True, append_images=[second]), 64)
    assert found.image.getpixel((30, 20)) == pytest.approx((200, 10, 10), abs=3)


def test_nothing_of_the_file_stays_on_the_pixels() -> None:
    data = encoded(SMALL, exif=exif(), comment=b"my house", icc_profile=display_p3(), xmp=b"<x:xmpmeta/>")
    assert b"my house" in data
    assert read_photograph(data, 100).image.info == {}


def test_day_and_lens_are_handed_over_to_be_offered() -> None:
    data = encoded(SMALL, exif=exif())
    found = read_photograph(data, 100)
    assert (found.taken, found.equivalent_mm) == (datetime.date(2026, 5, 12), 26.0)
    assert found.sha256 == hashlib.sha256(data).hexdigest()
    bare = read_photograph(encoded(SMALL), 100)
    assert (bare.taken, bare.equivalent_mm) == (None, None)


@pytest.mark.parametrize(("taken", "equivalent"), [("0000:00:00 00:00:00", 0), ("yesterday", 65000), ("", 1)])
def test_a_day_or_lens_out_of_reason_is_not_offered(taken: str, equivalent: int) -> None:
    found = read_photograph(encoded(SMALL, exif=exif(1, taken, equivalent)), 100)
    assert (found.taken, found.equivalent_mm) == (None, None)


def test_a_file_is_read_from_its_place(tmp_path: Path) -> None:
    path = tmp_path / "front.jpg"
    path.write_bytes(encoded(SMALL))
    assert read_photograph(photograph_bytes(path), 100) == read_photograph(encoded(SMALL), 100)
    for missing in (tmp_path, tmp_path / "back.jpg"):
        with pytest.raises(PhotographRefused) as caught:
            photograph_bytes(missing)
        assert caught.value.code == "no-file"


def test_a_huge_file_is_not_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "huge.jpg"
    with path.open("wb") as stream:
        stream.write(b"\xff\xd8")
        stream.truncate(3_000_000_000)
    with pytest.raises(PhotographRefused) as caught:
        read_photograph(photograph_bytes(path), 100)
    assert (caught.value.code, caught.value.limit) == ("too-many-bytes", MOST_BYTES)


def test_the_door_to_heic_is_open_where_its_reader_is_installed() -> None:
    there = importlib.util.find_spec("pillow_heif") is not None
    assert (refused(HEIC_HEAD).code == "heic-not-readable") is not there
