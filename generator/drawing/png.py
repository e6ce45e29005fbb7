"""A drawing as a PNG picture; the one door to the picture library.

The library draws. The file is packed here: its own writer is fetched with those of four other formats, and tries five
filters on each row of greys, of which none is the best for a line drawing.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from generator.drawing.hatch import hatch_marks
from generator.drawing.model import (
    Circle,
    Drawing,
    Label,
    Line,
    Point,
    Polygon,
    Polyline,
    Primitive,
    Rect,
    Rgb,
)
from generator.drawing.text import POINTS_PER_MM, face_file, placed
from generator.values import Struct

MM_PER_INCH: Final = 25.4
OVERSAMPLING: Final = 2
_BLACK: Final = 0  # of colours too
_WHITE: Final = 255
_COMPRESSION: Final = 3  # line drawings come out little larger than at 6, in two thirds of the time
_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_HEADER: Final = ">IIBBBBB"
_DEPTH: Final = 8
_COLOUR_TYPES: Final = {"L": 0, "RGB": 2}
_UNFILTERED: Final = b"\0"
_RESOLUTION: Final = ">IIB"
_PER_METRE: Final = 1
DPI_LIMITS: Final = (36, 1200)
PAPER_DPI: Final = 220
"""What Word keeps of a picture unless told otherwise; at 300 drawings looked the same at three times their size."""

LARGE_DPI: Final = 200
"""For a drawing of most of a page, whose dots take as long to pack as those of all others together (chosen by eye)."""

SMALL_DPI: Final = 300
"""For a drawing of a few square centimetres, as of a code, whose edges a telephone reads."""

_LARGE_MM2: Final = 12_000.0
_SMALL_MM2: Final = 800.0


class _Sheet(Struct, frozen=True):
    """The picture while it is drawn, and its pixels to the mm."""

    image: Image.Image
    draw: ImageDraw.ImageDraw
    scale: float
    is_coloured: bool

    def grey(self, level: float) -> int | Rgb:
        return _grey(level, self.is_coloured)

    def place(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self.scale, y * self.scale) for x, y in points]

    def weight(self, weight_mm: float) -> int:
        return max(1, round(weight_mm * self.scale))

    def line(self, points: Sequence[Point], weight_mm: float, ink: int | Rgb = _BLACK) -> None:
        self.draw.line(self.place(points), ink, self.weight(weight_mm), joint="curve")


def png(drawing: Drawing, dpi: int = PAPER_DPI) -> bytes:
    """The drawing as a PNG picture that carries its resolution; grey, or in colour where an edge is inked.

    The same drawing gives the same bytes: no face, date or name of the machine goes in. ValueError for a
    resolution outside 36 to 1200 dpi.
    """
    if not DPI_LIMITS[0] <= dpi <= DPI_LIMITS[1]:
        raise ValueError(f"dpi is {dpi}: valid {DPI_LIMITS[0]} to {DPI_LIMITS[1]}")
    width, height = pixels(drawing.width_mm, dpi), pixels(drawing.height_mm, dpi)
    coloured = any(isinstance(primitive, Polygon) and primitive.rgb is not None for primitive in drawing.primitives)
    size = width * OVERSAMPLING, height * OVERSAMPLING
    image = Image.new("RGB" if coloured else "L", size, _grey(1.0, coloured))
    sheet = _Sheet(image, ImageDraw.Draw(image), dpi / MM_PER_INCH * OVERSAMPLING, coloured)
    for primitive in drawing.primitives:
        _drawn(primitive, sheet)
    return _packed(image.reduce(OVERSAMPLING), dpi)


def _packed(image: Image.Image, dpi: int) -> bytes:
    """The file of a picture of greys or colours (PNG, third edition): no row filtered, its resolution the one note."""
    row = image.width * len(image.getbands())
    # a row is told with a nought behind it, which is the mark before the next that it is not filtered
    rows = memoryview(_UNFILTERED + image.tobytes("raw", image.mode, row + 1))[:-1]
    per_metre = int(dpi / MM_PER_INCH * 1000 + 0.5)
    chunks = (
        (b"IHDR", struct.pack(_HEADER, image.width, image.height, _DEPTH, _COLOUR_TYPES[image.mode], 0, 0, 0)),
        (b"pHYs", struct.pack(_RESOLUTION, per_metre, per_metre, _PER_METRE)),
        (b"IDAT", zlib.compress(rows, _COMPRESSION)),
        (b"IEND", b""),
    )
    return _SIGNATURE + b"".join(_chunk(kind, data) for kind, data in chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return b"".join((struct.pack(">I", len(data)), kind, data, struct.pack(">I", zlib.crc32(data, zlib.crc32(kind)))))


def paper_dpi(drawing: Drawing) -> int:
    """The resolution at which a drawing goes on paper."""
    size_mm2 = drawing.width_mm * drawing.height_mm
    return SMALL_DPI if size_mm2 < _SMALL_MM2 else LARGE_DPI if size_mm2 > _LARGE_MM2 else PAPER_DPI


def pixels(length_mm: float, dpi: int) -> int:
    """The pixels that a length takes, one at the least."""
    return max(1, round(length_mm / MM_PER_INCH * dpi))


@cache  # of few levels, for thousands of dots
def _grey(level: float, coloured: bool) -> int | Rgb:
    """A grey as the library keeps it: one that is spelt out would be read again for each dot."""
    value = round(_WHITE * level)
    return (value, value, value) if coloured else value


def _drawn(primitive: Primitive, sheet: _Sheet) -> None:
    match primitive:
        case Line(x1=x1, y1=y1, x2=x2, y2=y2):
            _path(((x1, y1), (x2, y2)), primitive.weight_mm, primitive.dash, sheet)
        case Polyline():
            _path(primitive.points, primitive.weight_mm, primitive.dash, sheet)
        case Polygon():
            _polygon(primitive, sheet)
        case Rect():
            _polygon(primitive.polygon, sheet)
        case Circle():
            _circle(primitive, sheet)
        case Label():
            _label(primitive, sheet)


def _path(points: tuple[Point, ...], weight_mm: float, dash: tuple[float, ...], sheet: _Sheet) -> None:
    for piece in _dashed(points, dash) if dash else (points,):
        sheet.line(piece, weight_mm)


def _dashed(points: tuple[Point, ...], dash: tuple[float, ...]) -> list[tuple[Point, ...]]:
    """The stretches of a path that are drawn."""
    pieces: list[tuple[Point, ...]] = []
    turn, left = 0, dash[0]
    for (x1, y1), (x2, y2) in pairwise(points):
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        done = 0.0
        while done < length:
            step = min(left, length - done)
            ends = (done / length, (done + step) / length)
            if turn % 2 == 0:
                pieces.append(tuple((x1 + share * (x2 - x1), y1 + share * (y2 - y1)) for share in ends))
            done, left = done + step, left - step
            if left <= 1e-9:
                turn += 1
                left = dash[turn % len(dash)]
    return pieces


def _polygon(shape: Polygon, sheet: _Sheet) -> None:
    if shape.fill is not None:
        sheet.draw.polygon(sheet.place(shape.points), fill=sheet.grey(shape.fill))
    for mark in hatch_marks(shape):
        _drawn(mark, sheet)
    if shape.weight_mm > 0:
        # drawn a little past the start, so that the first corner is joined like the others
        sheet.line((*shape.points, *shape.points[:2]), shape.weight_mm, shape.rgb or _BLACK)


def _circle(circle: Circle, sheet: _Sheet) -> None:
    # the edge lies half inside and half outside, as it does in SVG
    outer = circle.radius + circle.weight_mm / 2
    box = sheet.place(((circle.x - outer, circle.y - outer), (circle.x + outer, circle.y + outer)))
    fill = None if circle.fill is None else sheet.grey(circle.fill)
    weight = sheet.weight(circle.weight_mm) if circle.weight_mm > 0 else 0
    sheet.draw.ellipse(box, fill=fill, outline=_BLACK if weight else None, width=weight)


def _label(label: Label, sheet: _Sheet) -> None:
    left = label.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * label.width_mm
    size_px = round(label.size_pt / POINTS_PER_MM * sheet.scale, 2)
    base = round(label.y * sheet.scale)
    # set letter by letter: a text is as long as it was measured
    for character, along_pt in placed(label.text, label.size_pt, label.bold):
        letter = _letter(character, size_px, label.bold)
        if letter is not None:
            place = round((left + along_pt / POINTS_PER_MM) * sheet.scale)
            sheet.draw.bitmap((place + letter.right, base + letter.down), letter.ink, _BLACK)


class _Letter(Struct, frozen=True):
    """A letter as it is stamped: its ink, and where that begins from the letter's place on the base line."""

    ink: Image.Image
    right: int
    down: int


@cache
def _letter(character: str, size_px: float, bold: bool) -> _Letter | None:
    """A letter drawn once for all its places, which are whole dots before these are halved; None for a space."""
    font = _font(size_px, bold)
    left, top, right, bottom = (round(edge) for edge in font.getbbox(character, anchor="ls"))
    if right <= left or bottom <= top:
        return None
    ink = Image.new("L", (right - left, bottom - top))
    ImageDraw.Draw(ink).text((-left, -top), character, 255, font, anchor="ls")
    return _Letter(ink, left, top)


@cache
def _font(size_px: float, bold: bool) -> ImageFont.FreeTypeFont:
    # the same layout whatever else the picture library was built with
    return ImageFont.truetype(face_file(bold), size_px, layout_engine=ImageFont.Layout.BASIC)
