"""Photographs from others: read within limits, turned upright, brought to sRGB and reduced, without metadata.

What a picture file holds beside its pixels stays behind; date and lens are handed over as facts to offer.
"""

from __future__ import annotations

import datetime
import hashlib
import importlib
import io
import re
import warnings
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Final

from PIL import ExifTags, Image, ImageCms, UnidentifiedImageError, features
from PIL.JpegImagePlugin import JpegImageFile

MOST_PIXELS: Final = 60_000_000
MOST_BYTES: Final = 40 * 1024 * 1024
MOST_SCANS: Final = 100  # cameras write about ten; thousands take minutes to decode
EIGHT_BITS: Final = 8
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_PNG_DEPTH_AT: Final = 24
_HEIC_BRANDS: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
_OTHER_FORMATS: Final = (
    (0, b"GIF8", "GIF"), (8, b"WEBP", "WebP"), (0, b"II*\x00", "TIFF"), (0, b"MM\x00*", "TIFF"), (0, b"BM", "BMP"),
    (4, b"ftypavi", "AVIF"), (0, b"%PDF", "PDF"), (0, b"\xff\x0a", "JPEG XL"), (4, b"JXL ", "JPEG XL"),
    (4, b"jP  ", "JPEG 2000"),
)  # fmt: skip
_TURNS: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_STRIP_ROWS: Final = 256
_LYING: Final = (5, 6, 7, 8)
_EQUIVALENT_MM: Final = (4.0, 2000.0)
_MARKER: Final = re.compile(rb"\xff+[^\x00\xd0-\xd7\xff]")


class PhotographRefused(Exception):
    """A picture file that is not read: a code, and the figure and limit or the format it is told with.

    Codes: `too-many-bytes`, `too-many-pixels`, `too-many-scans`, `not-a-picture`, `other-format`,
    `heic-not-readable`, `cut-short`, `damaged`, `cmyk`, `too-deep`, `animated`, `no-file`.
    """

    def __init__(self, code: str, figure: int | str = "", limit: int | str = "") -> None:
        super().__init__(f"{code} {figure} {limit}".strip())
        self.code, self.figure, self.limit = code, figure, limit


@dataclass(frozen=True, slots=True, weakref_slot=True)
class Photograph:
    """A photograph as read: its size upright, the digest of its file, and what its file tells to be offered.

    `image` is its pixels, upright, in sRGB and reduced; `data` the file. `taken` is the day and
    `equivalent_mm` the focal length of the same view on 36 x 24 mm; None where the file does not tell them.
    `notes` are codes: `profile-not-read` where the colours were taken as sRGB.
    """

    width_px: int
    height_px: int
    sha256: str
    taken: datetime.date | None
    equivalent_mm: float | None
    notes: tuple[str, ...]
    image: Image.Image = field(repr=False, compare=False)
    data: bytes = field(repr=False, compare=False)


def photograph_bytes(path: Path) -> bytes:
    """The bytes of a file, of one that is too large no more than tells so. PhotographRefused where there is none."""
    if not path.is_file():
        raise PhotographRefused("no-file", path.name)
    with path.open("rb") as stream:
        return stream.read(MOST_BYTES + 1)


def read_photograph(data: bytes, width_px: int) -> Photograph:
    """A photograph from the bytes of its file, upright, in sRGB and no wider than `width_px`; never enlarged.

    JPEG (of several pictures the first), PNG, and HEIC where pillow-heif is installed; at most 60 million
    pixels and 40 MiB, told before anything is decoded. PhotographRefused for whatever is not read.
    """
    if width_px < 1:
        raise ValueError(f"width_px is {width_px}: valid from 1 up")
    _refuse_unread(data)
    with warnings.catch_warnings():
        # what the picture library warns of is either within the limits here or refused
        warnings.simplefilter("ignore")
        try:
            return _read(data, width_px)
        except PhotographRefused:
            raise
        except Image.DecompressionBombError:
            raise PhotographRefused("too-many-pixels", "", MOST_PIXELS) from None
        except UnidentifiedImageError:
            raise PhotographRefused("damaged") from None
        except Exception as error:
            # decoders of files from others raise whatever they stumble on
            raise PhotographRefused("cut-short" if "truncated" in str(error) else "damaged") from error


def _refuse_unread(data: bytes) -> None:
    """Refuses by the first bytes and the markers what is not to be opened."""
    if len(data) > MOST_BYTES:
        raise PhotographRefused("too-many-bytes", len(data), MOST_BYTES)
    if _is_heic(data):
        if find_spec("pillow_heif") is None:
            raise PhotographRefused("heic-not-readable")
    elif data.startswith(_PNG):
        if len(data) > _PNG_DEPTH_AT and data[_PNG_DEPTH_AT] > EIGHT_BITS:
            raise PhotographRefused("too-deep", data[_PNG_DEPTH_AT], EIGHT_BITS)
    elif data.startswith(b"\xff\xd8"):
        scans = _scans(data)
        if scans > MOST_SCANS:
            raise PhotographRefused("too-many-scans", scans, MOST_SCANS)
    else:
        for place, start, name in _OTHER_FORMATS:
            if data.startswith(start, place):
                raise PhotographRefused("other-format", name)
        raise PhotographRefused("not-a-picture")


def _is_heic(data: bytes) -> bool:
    return data[4:8] == b"ftyp" and data[8:12] in _HEIC_BRANDS


def _scans(data: bytes) -> int:
    """The scans of the first picture in a JPEG file, counted up to one past the most allowed."""
    count, place = 0, 2
    while place + 4 <= len(data) and count <= MOST_SCANS:
        marker = data[place + 1]
        if data[place] != 0xFF or marker == 0xD9:
            break
        if marker == 0xFF or marker == 0x01 or 0xD0 <= marker <= 0xD8:
            place += 1 if marker == 0xFF else 2
            continue
        place += 2 + int.from_bytes(data[place + 2 : place + 4], "big")
        if marker == 0xDA:
            count += 1
            place = _after_scan(data, place)
    return count


def _after_scan(data: bytes, place: int) -> int:
    """Where the next marker stands that ends a run of coded pixels."""
    found = _MARKER.search(data, place)
    return len(data) if found is None else found.end() - 2


def _read(data: bytes, width_px: int) -> Photograph:
    heic = _is_heic(data)
    image = _opened_heic(data) if heic else _opened(data)
    width, height = image.size
    exif = _exif(image)
    if isinstance(image, JpegImageFile):
        # in whole halves while decoding, never below the size wanted
        across = width_px if _turn(exif) not in _LYING else max(1, width_px * width // height)
        image.draft("RGB", (across, max(1, across * height // width)))
    image.load()
    # a PNG may tell its orientation after its pixels; what reads HEIC has turned it already
    exif = exif or _exif(image)
    turn = 1 if heic else _turn(exif)
    if turn in _LYING:
        width, height = height, width
    upright, notes = _upright(image, width_px, turn)
    digest = hashlib.sha256(data).hexdigest()
    return Photograph(width, height, digest, _taken(exif), _equivalent_mm(exif), notes, upright, data)


def _opened(data: bytes) -> Image.Image:
    """A JPEG or PNG picture with its size and kind checked, nothing decoded."""
    image = Image.open(io.BytesIO(data), formats=("JPEG", "PNG"))
    _refuse_large(image.size)
    if image.mode == "CMYK":
        raise PhotographRefused("cmyk")
    # a JPEG file of several pictures shows its first; a PNG that moves has none to show
    if image.format == "PNG" and getattr(image, "is_animated", False):
        raise PhotographRefused("animated")
    return image


def _opened_heic(data: bytes) -> Image.Image:
    """A HEIC picture, turned upright by what reads it."""
    reader: Any = importlib.import_module("pillow_heif")
    file = reader.open_heif(io.BytesIO(data), convert_hdr_to_8bit=True)
    _refuse_large(file.size)
    image: Image.Image = file.to_pillow()
    return image


def _refuse_large(size: tuple[int, int]) -> None:
    count = size[0] * size[1]
    if count > MOST_PIXELS:
        raise PhotographRefused("too-many-pixels", count, MOST_PIXELS)


def _exif(image: Image.Image) -> Image.Exif:
    """The picture's EXIF facts; none where they cannot be read. XMP is left alone, as browsers leave it."""
    exif, raw = Image.Exif(), image.info.get("exif")
    if isinstance(raw, bytes):
        try:
            exif.load(raw)
        except Exception:
            # a parser of facts from others: whatever it stumbles on, the picture itself may be sound
            return Image.Exif()
    return exif


def _turn(exif: Image.Exif) -> int:
    """The orientation, 1 where it is not told or nonsense."""
    told = exif.get(ExifTags.Base.Orientation)
    return told if told in _TURNS else 1


def _taken(exif: Image.Exif) -> datetime.date | None:
    """The day a photograph was taken, where its file tells one in reason."""
    told = _fact(exif, ExifTags.Base.DateTimeOriginal)
    try:
        return datetime.date.fromisoformat(str(told)[:10].replace(":", "-"))
    except ValueError:
        return None


def _equivalent_mm(exif: Image.Exif) -> float | None:
    told = _fact(exif, ExifTags.Base.FocalLengthIn35mmFilm)
    low, high = _EQUIVALENT_MM
    return float(told) if isinstance(told, int | float) and low <= told <= high else None


def _fact(exif: Image.Exif, tag: int) -> object:
    try:
        return exif.get_ifd(ExifTags.IFD.Exif).get(tag)
    except Exception:
        # as above
        return None


def _upright(image: Image.Image, width_px: int, turn: int) -> tuple[Image.Image, tuple[str, ...]]:
    """The pixels reduced, turned and in sRGB, with nothing else left on them."""
    profile = image.info.get("icc_profile")
    lying = turn in _LYING
    wide, high = reversed(image.size) if lying else image.size
    share = min(1.0, width_px / wide)
    size = (max(1, round(wide * share)), max(1, round(high * share)))
    step = 1 if image.mode in ("RGB", "L") else max(1, min(wide // size[0], high // size[1]) // 2)
    plain = image if image.mode in ("RGB", "L") else _plain(image, step)
    if size != (wide, high):
        # of what was reduced by a whole step, the last row and column may reach past the picture
        box = (0.0, 0.0, image.width / step, image.height / step)
        plain = plain.resize(size[::-1] if lying else size, Image.Resampling.LANCZOS, box=box)
    if turn in _TURNS:
        plain = plain.transpose(_TURNS[turn])
    coloured, notes = _in_srgb(plain, profile)
    return Image.frombytes("RGB", coloured.size, coloured.tobytes()), notes


def _plain(image: Image.Image, step: int) -> Image.Image:
    """A picture of a palette, two levels or with alpha in colour, reduced by a whole step, what shows through white.

    Strip by strip: a picture whole in a second mode would take as much memory again.
    """
    plain = Image.new("RGB", (-(-image.width // step), -(-image.height // step)))
    rows = step * max(1, _STRIP_ROWS // step)
    for top in range(0, image.height, rows):
        strip = image.crop((0, top, image.width, min(image.height, top + rows))).convert("RGBA")
        white = Image.new("RGB", strip.size, (255, 255, 255))
        white.paste(strip, mask=strip.getchannel("A"))
        plain.paste(white.reduce(step), (0, top // step))
    return plain


def _in_srgb(image: Image.Image, profile: Any) -> tuple[Image.Image, tuple[str, ...]]:
    """The picture by its colour profile in sRGB; one without a profile is taken to be so."""
    if isinstance(profile, bytes) and profile:
        if features.check("littlecms2"):
            try:
                source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
                target = ImageCms.createProfile("sRGB")
                turned = ImageCms.profileToProfile(image, source, target, outputMode="RGB")
                if turned is not None:
                    return turned, ()
            except (ImageCms.PyCMSError, OSError, ValueError, TypeError):
                pass
        return image.convert("RGB"), ("profile-not-read",)
    return image.convert("RGB"), ()
