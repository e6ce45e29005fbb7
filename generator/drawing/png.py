"""A drawing as a PNG picture; the one door to the picture library."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Final

from PIL import Image, ImageDraw, ImageFont, features

from generator.drawing.hatch import hatch_marks
from generator.drawing.lettering import Lettering, Stroke, lettered
from generator.drawing.model import Circle, Drawing, Label, Line, Point, Polygon, Polyline, Primitive, Rect
from generator.metrics import POINTS_PER_MM

MM_PER_INCH: Final = 25.4
OVERSAMPLING: Final = 2
_COMPRESSION: Final = 3  # line drawings come out little larger than at 6, in two thirds of the time
DPI_LIMITS: Final = (36, 1200)
# the bundled face runs a little wider than the document's, by whose advances the drawings are laid out; the
# document's bold is wider again
_LETTER_SHARE: Final = {False: 0.96, True: 1.0}
_STROKE_EM: Final = 0.08
_BOLD_EM: Final = 0.022
_MEASURE_PX: Final = 200
_DOTTED_PX: Final = 13
_DOTTED_BASELINE_PX: Final = 9
_DOTTED_SPELLING: Final = str.maketrans({"‘": "'", "’": "'", "“": '"', "”": '"', "…": "...", "™": "TM"})

Ink = int | tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The picture while it is drawn: pixels to the mm, and whether it has colour."""

    draw: ImageDraw.ImageDraw
    scale: float
    coloured: bool

    def place(self, points: Sequence[Point]) -> list[Point]:
        return [(x * self.scale, y * self.scale) for x, y in points]

    def weight(self, weight_mm: float) -> int:
        return max(1, round(weight_mm * self.scale))


def png(drawing: Drawing, dpi: int = 200) -> bytes:
    """The drawing as a PNG picture that carries its resolution; grey, or in colour where an edge is inked.

    The same drawing gives the same bytes: no fonts, dates or names of the machine go in. ValueError for a
    resolution outside 36 to 1200 dpi.
    """
    if not DPI_LIMITS[0] <= dpi <= DPI_LIMITS[1]:
        raise ValueError(f"dpi is {dpi}: valid {DPI_LIMITS[0]} to {DPI_LIMITS[1]}")
    width, height = pixels(drawing.width_mm, dpi), pixels(drawing.height_mm, dpi)
    coloured = any(isinstance(primitive, Polygon) and primitive.rgb for primitive in drawing.primitives)
    mode = "RGB" if coloured else "L"
    image = Image.new(mode, (width * OVERSAMPLING, height * OVERSAMPLING), _grey(1.0, coloured))
    sheet = _Sheet(ImageDraw.Draw(image), dpi / MM_PER_INCH * OVERSAMPLING, coloured)
    for primitive in drawing.primitives:
        _drawn(primitive, sheet)
    stream = io.BytesIO()
    image.reduce(OVERSAMPLING).save(stream, format="PNG", dpi=(dpi, dpi), compress_level=_COMPRESSION)
    return stream.getvalue()


def pixels(length_mm: float, dpi: int) -> int:
    """The pixels that a length takes, one at the least."""
    return max(1, round(length_mm / MM_PER_INCH * dpi))


def _grey(level: float, coloured: bool) -> Ink:
    value = round(255 * level)
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
        sheet.draw.line(
            sheet.place(piece), _grey(0.0, sheet.coloured), sheet.weight(weight_mm), joint="curve"
        )


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
    corners = sheet.place(shape.points)
    if shape.fill is not None:
        sheet.draw.polygon(corners, fill=_grey(shape.fill, sheet.coloured))
    for mark in hatch_marks(shape):
        _drawn(mark, sheet)
    if shape.weight_mm > 0:
        # drawn a little past the start, so that the first corner is joined like the others
        edge = [*corners, corners[0], corners[1]]
        sheet.draw.line(
            edge, shape.rgb or _grey(0.0, sheet.coloured), sheet.weight(shape.weight_mm), joint="curve"
        )


def _circle(circle: Circle, sheet: _Sheet) -> None:
    # the edge lies half inside and half outside, as it does in SVG
    outer = circle.radius + circle.weight_mm / 2
    box = sheet.place(((circle.x - outer, circle.y - outer), (circle.x + outer, circle.y + outer)))
    fill = None if circle.fill is None else _grey(circle.fill, sheet.coloured)
    weight = sheet.weight(circle.weight_mm) if circle.weight_mm > 0 else 0
    sheet.draw.ellipse(box, fill=fill, outline=_grey(0.0, sheet.coloured) if weight else None, width=weight)


def _label(label: Label, sheet: _Sheet) -> None:
    em = label.size_pt / POINTS_PER_MM * sheet.scale * _LETTER_SHARE[label.bold]
    text = lettered(label.text, _advance)
    left = label.x * sheet.scale - {"start": 0.0, "middle": 0.5, "end": 1.0}[label.anchor] * text.width * em
    _set(text, (left, label.y * sheet.scale), em, label.bold, sheet)


def _set(text: Lettering, origin: Point, em: float, bold: bool, sheet: _Sheet) -> None:
    ink = _grey(0.0, sheet.coloured)
    for run in text.runs:
        place = (origin[0] + run.x * em, origin[1] - run.rise * em)
        if _has_outlines():
            swell = max(1, round(_BOLD_EM * em)) if bold else 0
            font = _font(round(em * run.scale, 2))
            sheet.draw.text(place, run.glyphs, ink, font, anchor="ls", stroke_width=swell)
        else:
            _set_dotted(place, run.glyphs, em * run.scale, sheet)
    weight = max(1, round((_STROKE_EM + _BOLD_EM * 2 * bold) * em))
    for stroke in text.strokes:
        sheet.draw.line(_from(origin, stroke, em), ink, weight, joint="curve")


def _from(origin: Point, stroke: Stroke, em: float) -> list[Point]:
    return [(origin[0] + x * em, origin[1] - y * em) for x, y in stroke]


def _set_dotted(place: Point, glyphs: str, size_px: float, sheet: _Sheet) -> None:
    """Sets glyphs of the dotted face, drawn out to the size."""
    glyphs = glyphs.translate(_DOTTED_SPELLING)
    left, top, right, bottom = _dotted().getbbox(glyphs)
    dots = Image.new("L", (round(right - left), round(bottom - top)), 0)
    ImageDraw.Draw(dots).text((0, 0), glyphs, fill=255, font=_dotted())
    share = size_px / _DOTTED_PX
    size = (max(1, round(dots.width * share)), max(1, round(dots.height * share)))
    corner = (round(place[0]), round(place[1] - _DOTTED_BASELINE_PX * share))
    sheet.draw.bitmap(corner, dots.resize(size), fill=_grey(0.0, sheet.coloured))


@cache
def _font(size_px: float) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size=size_px)


@cache
def _dotted() -> ImageFont.ImageFont:
    """The face without outlines that comes with the picture library, whatever it was built with."""
    return ImageFont.load_default_imagefont()


@cache
def _has_outlines() -> bool:
    # a picture library built without FreeType cannot set its own outline face
    return bool(features.check("freetype2"))


@cache
def _advance(glyphs: str) -> float:
    """The length of a run of the bundled face at a size of 1."""
    if _has_outlines():
        return _font(_MEASURE_PX).getlength(glyphs) / _MEASURE_PX
    return _dotted().getlength(glyphs.translate(_DOTTED_SPELLING)) / _DOTTED_PX
