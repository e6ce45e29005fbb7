"""Photographs written for papers: the same bytes every time, nothing in the file but pixels; and lightened."""

from __future__ import annotations

import hashlib
import io
import math
from dataclasses import dataclass, field
from typing import Final

from PIL import Image

from generator.drawing.photograph import Photograph
from generator.drawing.png import MM_PER_INCH

DPI: Final = 200
QUALITIES: Final = (85, 75, 65)
TARGET_BYTES: Final = 250 * 1024
LIGHTENED_TO: Final = 0.80
DARK_POWER: Final = 0.9
"""What is darker than the wall keeps near its own share of it: else a copier loses doors, windows and open joints."""

_LEVELS: Final = 256
KEPT_PX: Final = 4032  # as wide as the pictures that the error of a pick is told of
_KEPT_QUALITY: Final = 85
_SAYS_NOTHING: Final = {"jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "progressive", "progression"}


@dataclass(frozen=True, slots=True)
class Jpeg:
    """A picture for a paper: the bytes of its file, its size, and the digest of its pixels before packing.

    Other processors may pack and resample by a level more or less: the digest tells pictures apart by their
    pixels where bytes differ.
    """

    width_px: int
    height_px: int
    width_mm: float
    pixels_sha256: str
    data: bytes = field(repr=False)

    @property
    def height_mm(self) -> float:
        """Its height on paper."""
        return self.width_mm * self.height_px / self.width_px


def plain_jpeg(photograph: Photograph, width_mm: float, dpi: int = DPI) -> Jpeg:
    """The photograph as it is, in colour, to be printed so wide; never enlarged."""
    return written(to_width(photograph.image, width_mm, dpi), width_mm)


def to_width(image: Image.Image, width_mm: float, dpi: int) -> Image.Image:
    """The picture reduced to the pixels that a width on paper takes; itself where it has no more.

    ValueError for a width that is not above 0.
    """
    if not width_mm > 0:
        raise ValueError(f"width_mm is {width_mm}: valid above 0")
    width_px = max(1, round(width_mm / MM_PER_INCH * dpi))
    if width_px >= image.width:
        return image
    height_px = max(1, round(image.height * width_px / image.width))
    return image.resize((width_px, height_px), Image.Resampling.LANCZOS)


def written(image: Image.Image, width_mm: float) -> Jpeg:
    """A grey or coloured picture as a JPEG file of pinned settings, with its resolution and no other words.

    Quality 85, or less where the file would be above 250 KiB; progressive, optimised, colour at half size.
    """
    pixels = image.tobytes()
    # made anew, so that nothing of the file it came from is carried along
    clean = Image.frombytes(image.mode, image.size, pixels)
    dpi = max(1, round(image.width / width_mm * MM_PER_INCH))
    data = b""
    for quality in QUALITIES:
        stream = io.BytesIO()
        clean.save(
            stream, "JPEG", quality=quality, subsampling="4:2:0", progressive=True, optimize=True, dpi=(dpi, dpi)
        )
        data = stream.getvalue()
        if len(data) <= TARGET_BYTES:
            break
    return Jpeg(image.width, image.height, width_mm, hashlib.sha256(pixels).hexdigest(), data)


def kept_jpeg(image: Image.Image) -> bytes:
    """A picture as a JPEG file to be kept beside the answers: its pixels alone, fine enough to mark."""
    stream = io.BytesIO()
    clean = Image.frombytes(image.mode, image.size, image.tobytes())
    clean.save(stream, "JPEG", quality=_KEPT_QUALITY, subsampling="4:2:0")
    return stream.getvalue()


def is_kept(data: bytes) -> bool:
    """Whether a file that was read is a JPEG of pixels alone, no wider than those that are kept."""
    with Image.open(io.BytesIO(data)) as image:
        return image.format == "JPEG" and image.width <= KEPT_PX and not image.info.keys() - _SAYS_NOTHING


def small_jpeg(photograph: Photograph, width_px: int) -> bytes:
    """The photograph at a width in pixels, to be seen on a page; never enlarged."""
    image = photograph.image
    height_px = max(1, round(image.height * width_px / image.width))
    small = image if width_px >= image.width else image.resize((width_px, height_px), Image.Resampling.LANCZOS)
    return kept_jpeg(small)


def lightening_power(grey: Image.Image, wall: Image.Image | None = None) -> float:
    """The power that brings the median of the wall to 0.80: at most 1, for nothing is darkened.

        level' = level ^ (ln 0.80 / ln median), levels 0 to 1

    `wall` masks it, the whole picture without one. Source: tried on copies (computed here, no published
    source).
    """
    counts = grey.histogram(wall)
    half, seen = sum(counts) / 2.0, 0
    if half == 0.0:
        return lightening_power(grey) if wall is not None else 1.0
    for level, count in enumerate(counts):
        seen += count
        if seen >= half:
            median = max(1, level) / (_LEVELS - 1)
            return min(1.0, math.log(LIGHTENED_TO) / math.log(median)) if median < 1.0 else 1.0
    return 1.0


def lightened(grey: Image.Image, power: float) -> Image.Image:
    """A grey picture with every level raised to a power; what is darker than the wall by `DARK_POWER`, of its level.

    A window at four fifths of its wall goes through a threshold of seventy per cent as black, bricks a tenth darker
    than the others as white.
    """
    top = _LEVELS - 1
    wall = float(LIGHTENED_TO ** (1.0 / power))
    is_wall_raised = power < DARK_POWER

    def raised(share: float) -> float:
        if is_wall_raised and share < wall:
            return float(LIGHTENED_TO * (share / wall) ** DARK_POWER)
        return float(share**power)

    return grey.point([round(top * raised(level / top)) for level in range(_LEVELS)])
