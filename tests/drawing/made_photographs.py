"""Picture files of every kind, made here: good, odd and hostile; and the parts of a JPEG file."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator

import numpy as np
from PIL import ExifTags, Image, ImageCms
from skimage import data, transform

# Display P3's primaries brought to D50, as its profiles hold them (from memory; sums are D50's white)
P3_COLUMNS = ((0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189), (0.15710, 0.06657, 0.78407))
# and to sRGB in linear light (from memory; rows sum to 1)
P3_TO_SRGB = np.array([(1.2249, -0.2247, 0.0), (-0.0420, 1.0419, 0.0), (-0.0197, -0.0786, 1.0979)])


def encoded(image: Image.Image, kind: str = "JPEG", **settings: object) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **settings)
    return stream.getvalue()


def bricks(mean: float, width: int = 1260, height: int = 945) -> Image.Image:
    """A photograph of a brick wall (scikit-image's) at a size, its mean level brought to one."""
    wall = transform.resize(data.brick().astype(float), (height, width), order=3, anti_aliasing=False)
    levels = np.clip(wall * mean / wall.mean(), 0, 255).astype(np.uint8)
    return Image.fromarray(levels).convert("RGB")


def exif(orientation: int = 1, taken: str = "2026:05:12 10:31:00", equivalent: int = 26) -> Image.Exif:
    """What a phone writes: orientation, place, day, lens."""
    facts = Image.Exif()
    facts[ExifTags.Base.Orientation] = orientation
    facts[ExifTags.Base.Make] = "Phone of somebody"
    facts[ExifTags.IFD.Exif] = {ExifTags.Base.DateTimeOriginal: taken, ExifTags.Base.FocalLengthIn35mmFilm: equivalent}
    facts[ExifTags.IFD.GPSInfo] = {ExifTags.GPS.GPSLatitudeRef: "N", ExifTags.GPS.GPSLatitude: (51, 30, 0)}
    return facts


def display_p3() -> bytes:
    """A profile with the primaries of Display P3 and the curve of sRGB: Pillow's sRGB with its columns replaced."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    (count,) = struct.unpack(">I", profile[128:132])
    for place in range(132, 132 + 12 * count, 12):
        tag, start = profile[place : place + 4], struct.unpack(">I", profile[place + 4 : place + 8])[0]
        if tag[1:] == b"XYZ":
            column = P3_COLUMNS["rgb".index(chr(tag[0]))]
            profile[start + 8 : start + 20] = struct.pack(">3i", *(round(value * 65536) for value in column))
    return bytes(profile)


def png_header(width: int, height: int) -> bytes:
    """A PNG file that says it is so large and holds next to nothing."""
    head = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = [head, b"IDAT" + zlib.compress(bytes(1000)), b"IEND"]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk)) for chunk in chunks
    )


def segments(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """The markers of a JPEG file with what they hold; runs of coded pixels are left out."""
    place = 2
    while place < len(jpeg):
        if jpeg[place] != 0xFF or jpeg[place + 1] in (0x00, *range(0xD0, 0xD8)):
            place += 1
            continue
        marker = jpeg[place + 1]
        if marker == 0xD9:
            return
        size = int.from_bytes(jpeg[place + 2 : place + 4], "big")
        yield marker, jpeg[place + 4 : place + 2 + size]
        place += 2 + size


def many_scans(count: int) -> bytes:
    """A progressive JPEG file whose last scan is there so many times."""
    jpeg = encoded(Image.new("RGB", (64, 64), (90, 60, 40)), progressive=True)
    last = jpeg.rindex(b"\xff\xda")
    return jpeg[:last] + jpeg[last:-2] * count + jpeg[-2:]
