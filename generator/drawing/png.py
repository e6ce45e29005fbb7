"""A drawing as a PNG picture; the one door to the picture library."""

from __future__ import annotations

import io
from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Final

from PIL import Image, ImageDraw, ImageFont

from generator.drawing.hatch import hatch_marks
from generator.drawing.model import (
    BLACK,
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
    grey,
)
from generator.drawing.text import POINTS_PER_MM, face_file, placed
from generator.values import Struct

MM_PER_INCH: Final = 25.4
OVERSAMPLING: Final = 2
_COMPRESSION: Final = 3  # line drawings come out little larger than at 6, in two thirds of the time
# numbers of greys are packed as they are, while for greys themselves the library tries five filters a row
_GREYS: Final = bytes(level for level in range(256) for _ in range(3))
DPI_LIMITS: Final = (36, 1200)
PAPER_DPI: Final = 300
"""What printers of offices show of a line drawing."""

LARGE_DPI: Final = 220
"""For a drawing of most of a page, whose dots take as long to pack as those of all others together (chosen by eye)."""

_LARGE_MM2: Final = 12_000.0


class _Sheet(Struct, frozen=True):
    """The picture while it is drawn, and its pixels to the mm."""

    image: Image.Image
    draw: ImageDraw.ImageDraw
    scale: float

    def place(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self.scale, y * self.scale) for x, y in points]

    def weight(self, weight_mm: float) -> int:
        return max(1, round(weight_mm * self.scale))

    def line(self, points: Sequence[Point], weight_mm: float, ink: Rgb | str = BLACK) -> None:
        self.draw.line(self.place(points), ink, self.weight(weight_mm), joint="curve")


def png(drawing: Drawing, dpi: int = PAPER_DPI) -> bytes:
    """The drawing as a PNG picture that carries its resolution; grey, or in colour where an edge is inked.

    The same drawing gives the same bytes: no face, date or name of the machine goes in. ValueError for a
    resolution outside 36 to 1200 dpi.
    """
    if not DPI_LIMITS[0] <= dpi <= DPI_LIMITS[1]:
        raise ValueError(f"dpi is {dpi}: valid {DPI_LIMITS[0]} to {DPI_LIMITS[1]}")
    width, height = pixels(drawing.width_mm, dpi), pixels(drawing.height_mm, dpi)
    coloured = any(isinstance(primitive, Polygon) and primitive.rgb for primitive in drawing.primitives)
    size = width * OVERSAMPLING, height * OVERSAMPLING
    image = Image.new("RGB" if coloured else "L", size, grey(1.0))
    sheet = _Sheet(image, ImageDraw.Draw(image), dpi / MM_PER_INCH * OVERSAMPLING)
    for primitive in drawing.primitives:
        _drawn(primitive, sheet)
    image = image.reduce(OVERSAMPLING)
    if not coloured:
        image.putpalette(_GREYS)
    stream = io.BytesIO()
    image.save(stream, format="PNG", dpi=(dpi, dpi), compress_level=_COMPRESSION)
    return stream.getvalue()


def paper_dpi(drawing: Drawing) -> int:
    """The resolution at which a drawing goes on paper."""
    return LARGE_DPI if drawing.width_mm * drawing.height_mm > _LARGE_MM2 else PAPER_DPI


def pixels(length_mm: float, dpi: int) -> int:
    """The pixels that a length takes, one at the least."""
    return max(1, round(length_mm / MM_PER_INCH * dpi))


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
        sheet.draw.polygon(sheet.place(shape.points), fill=grey(shape.fill))
    for mark in hatch_marks(shape):
        _drawn(mark, sheet)
    if shape.weight_mm > 0:
        # drawn a little past the start, so that the first corner is joined like the others
        sheet.line((*shape.points, *shape.points[:2]), shape.weight_mm, shape.rgb or BLACK)


def _circle(circle: Circle, sheet: _Sheet) -> None:
    # the edge lies half inside and half outside, as it does in SVG
    outer = circle.radius + circle.weight_mm / 2
    box = sheet.place(((circle.x - outer, circle.y - outer), (circle.x + outer, circle.y + outer)))
    fill = None if circle.fill is None else grey(circle.fill)
    weight = sheet.weight(circle.weight_mm) if circle.weight_mm > 0 else 0
    sheet.draw.ellipse(box, fill=fill, outline=BLACK if weight else None, width=weight)


def _label(label: Label, sheet: _Sheet) -> None:
    left = label.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * label.width_mm
    size_px = round(label.size_pt / POINTS_PER_MM * sheet.scale, 2)
    base = round(label.y * sheet.scale)
    # set letter by letter: a text is as long as it was measured
    for character, along_pt in placed(label.text, label.size_pt, label.bold):
        letter = _letter(character, size_px, label.bold)
        if letter is not None:
            place = round((left + along_pt / POINTS_PER_MM) * sheet.scale)
            sheet.draw.bitmap((place + letter.right, base + letter.down), letter.ink, BLACK)


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
