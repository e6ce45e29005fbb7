"""A photograph turned square on to its wall by a taped reference: an elevation to scale, marked, with a scale bar.

It is true in the plane of the wall alone: what stands proud or lies back is out of place.
"""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import Final

from PIL import Image

from generator.drawing.annotate import bar_fields
from generator.drawing.model import Drawing, Label, Primitive
from generator.drawing.photograph import Photograph, read_photograph
from generator.drawing.photograph_jpeg import DPI, Jpeg, written
from generator.drawing.photograph_marks import MarkedArea, MarkFact, check_marks, marked_pixels
from generator.drawing.png import MM_PER_INCH, png
from generator.lime.plane import (
    Matrix,
    Point,
    area_scale,
    crosses_horizon,
    inverse,
    mapped,
    mean_point,
    rectangle_to_wall,
)
from generator.lime.plane_errors import Taped
from generator.lime.plane_limits import SCALE_CHANGE, corners_told
from generator.values import METRIC, Struct, replace

SCALES: Final = (20, 25, 50, 100, 200)
ROOM_MM: Final = (160.0, 200.0)
MARGIN_MM: Final = 300.0
_FINER: Final = 1.25  # pixels read to a pixel drawn, so that resampling does not soften
_BAR_STRIP_MM: Final = 9.0
_BAR_MM: Final = 1.4
_BAR_PT: Final = 9.0
_BAR_SHARE: Final = 0.5
_LEAST_STEP_MM: Final = 9.0
_MOST_STEPS: Final = 5


class ElevationRefused(Exception):
    """A photograph that cannot be turned square on, with the figure and its limit.

    Codes: `reference`, `beyond-horizon`, `scale-change`, `too-large`.
    """

    def __init__(self, code: str, figure: float = 0.0, limit: float = 0.0) -> None:
        super().__init__(f"{code} {figure:g} {limit:g}")
        self.code, self.figure, self.limit = code, figure, limit


class BarUnit(Struct, frozen=True):
    """What a scale bar counts in: its name, its length in mm, and the steps that it may have."""

    name: str
    mm: float
    steps: tuple[float, ...]


METRE: Final = BarUnit(*METRIC.scale_bar)


class Elevation(Struct, frozen=True):
    """An elevation: its picture, 1 to which scale, what it shows of the wall in mm, and its areas.

    `step` and `steps` are those of its scale bar, in its unit. `facts` tell where areas lie, as on the photograph.
    """

    jpeg: Jpeg
    scale: int
    width_mm: float
    height_mm: float
    step: float
    steps: int
    power: float
    facts: tuple[MarkFact, ...]


class _Extent(Struct, frozen=True):
    """What is shown of the wall, in mm from the first corner of the reference."""

    left: float
    top: float
    width: float
    height: float

    @property
    def corners(self) -> tuple[Point, ...]:
        right, foot = self.left + self.width, self.top + self.height
        return (self.left, self.top), (right, self.top), (right, foot), (self.left, foot)


def elevation_jpeg(
    photograph: Photograph,
    reference: Taped,
    areas: Sequence[MarkedArea],
    face_factor: float = 1.0,
    room_mm: tuple[float, float] = ROOM_MM,
    dpi: int = DPI,
    unit: BarUnit = METRE,
) -> Elevation:
    """The part of a wall that holds the reference and the areas, square on, in the largest scale with room.

    Corners of the reference in pixels of the upright picture, areas as shares of it. Scales 1:20, 25, 50, 100
    and 200 within `room_mm` of paper. `face_factor` puts right a reference behind the face: `lime.plane_bounds`.
    ElevationRefused where the plane is seen too steeply or is too large; ValueError as for `marked_jpeg`.
    """
    check_marks(areas, ())
    size = (float(photograph.width_px), float(photograph.height_px))
    turn = _turn(size, reference, [area.outline for area in areas], face_factor, room_mm)
    extent, scale = turn.extent, turn.scale
    grey, dpi = _square_on(photograph, turn, dpi, reference)
    turned = [_turned(area, turn.to_wall, size, extent) for area in areas]
    paper_mm = extent.width / scale
    picture, power, facts = marked_pixels(grey, turned, paper_mm)
    step, steps = _bar_steps(paper_mm, scale, unit)
    whole = _with_bar(picture, paper_mm, dpi, _bar(paper_mm, step, steps, scale, unit))
    return Elevation(written(whole, paper_mm), scale, extent.width, extent.height, step, steps, power, facts)


class _Turn(Struct, frozen=True):
    """The way from photograph to wall and back, what is shown of the wall, and 1 to which scale."""

    to_wall: Matrix
    to_photograph: Matrix
    extent: _Extent
    scale: int


def elevation_scale(
    size_px: Point,
    reference: Taped,
    outlines: Sequence[Sequence[Point]],
    face_factor: float = 1.0,
    room_mm: tuple[float, float] = ROOM_MM,
) -> int:
    """The scale that an elevation would have, with no picture looked at. ElevationRefused as for `elevation_jpeg`."""
    return _turn(size_px, reference, outlines, face_factor, room_mm).scale


def _turn(
    size: Point, reference: Taped, outlines: Sequence[Sequence[Point]], face_factor: float, room_mm: Point
) -> _Turn:
    if corners_told(reference.corners):
        raise ElevationRefused("reference")
    width_mm, height_mm = (side / face_factor for side in reference.sides_mm)
    to_wall = rectangle_to_wall(reference.corners, width_mm, height_mm, reference.cos_corner)
    points = [(x * size[0], y * size[1]) for outline in outlines for x, y in outline]
    if crosses_horizon(to_wall, points):
        raise ElevationRefused("beyond-horizon")
    extent = _extent([mapped(to_wall, point) for point in (*reference.corners, *points)])
    return _Turn(to_wall, _back(to_wall, reference, extent), extent, _scale(extent, room_mm))


def _extent(points: Sequence[Point]) -> _Extent:
    across, down = [x for x, _ in points], [y for _, y in points]
    left, top = min(across) - MARGIN_MM, min(down) - MARGIN_MM
    return _Extent(left, top, max(across) + MARGIN_MM - left, max(down) + MARGIN_MM - top)


def _back(to_wall: Matrix, reference: Taped, extent: _Extent) -> Matrix:
    """The way from the wall to the photograph, where all of the extent can be seen well enough."""
    to_photograph = inverse(to_wall, mapped(to_wall, mean_point(reference.corners)))
    if crosses_horizon(to_photograph, extent.corners):
        raise ElevationRefused("beyond-horizon")
    seen = [mapped(to_photograph, corner) for corner in extent.corners]
    scales = [area_scale(to_wall, point) for point in (*seen, *reference.corners)]
    change = max(scales) / min(scales)
    if change > SCALE_CHANGE.refused:
        raise ElevationRefused("scale-change", change, SCALE_CHANGE.refused)
    return to_photograph


def _scale(extent: _Extent, room_mm: tuple[float, float]) -> int:
    needed = max(extent.width / room_mm[0], extent.height / (room_mm[1] - _BAR_STRIP_MM))
    for scale in SCALES:
        if needed <= scale:
            return scale
    raise ElevationRefused("too-large", needed, SCALES[-1])


def _square_on(photograph: Photograph, turn: _Turn, dpi: int, reference: Taped) -> tuple[Image.Image, int]:
    """The extent in grey, square on, and its resolution: less than asked where the photograph has no more."""
    to_wall, extent, scale = turn.to_wall, turn.extent, turn.scale
    mm_per_px = math.sqrt(area_scale(to_wall, mean_point(reference.corners)))
    dpi = min(dpi, max(1, math.floor(MM_PER_INCH * scale / mm_per_px)))
    per_px = MM_PER_INCH * scale / dpi
    wanted_px = math.ceil(photograph.width_px * mm_per_px / per_px * _FINER)
    source = read_photograph(photograph.data, min(wanted_px, photograph.width_px)).image.convert("L")
    share_x, share_y = source.width / photograph.width_px, source.height / photograph.height_px
    # from the pixels of the elevation to millimetres of the wall, on to pixels of the photograph as read
    left, top, back = extent.left, extent.top, turn.to_photograph
    first, second, third = ((per_px * a, per_px * b, a * left + b * top + c) for a, b, c in back)
    whole = [share_x * value for value in first] + [share_y * value for value in second] + list(third)
    size = (max(1, round(extent.width / per_px)), max(1, round(extent.height / per_px)))
    # its constants count from the outer corner of the first pixel, as ours do
    turned = source.transform(
        size,
        Image.Transform.PERSPECTIVE,
        [value / whole[8] for value in whole[:8]],
        Image.Resampling.BICUBIC,
        fillcolor=255,
    )
    return turned, dpi


def _turned(area: MarkedArea, to_wall: Matrix, size: Point, extent: _Extent) -> MarkedArea:
    """The area as shares of the elevation."""

    def place(point: Point) -> Point:
        x, y = mapped(to_wall, (point[0] * size[0], point[1] * size[1]))
        return (x - extent.left) / extent.width, (y - extent.top) / extent.height

    without = tuple(tuple(place(point) for point in ring) for ring in area.without)
    return replace(area, outline=tuple(place(point) for point in area.outline), without=without)


def _bar_steps(paper_mm: float, scale: int, unit: BarUnit) -> tuple[float, int]:
    """The step of the scale bar in its unit, and how many: within half the picture, none too short to read."""
    for step in unit.steps:
        step_mm = step * unit.mm / scale
        if step_mm >= _LEAST_STEP_MM:
            return step, min(_MOST_STEPS, max(1, math.floor(paper_mm * _BAR_SHARE / step_mm)))
    return unit.steps[-1], 1


def _with_bar(picture: Image.Image, paper_mm: float, dpi: int, bar_drawn: Drawing) -> Image.Image:
    """The picture with its scale bar beneath."""
    drawn = png(bar_drawn, max(dpi, 36))
    with Image.open(io.BytesIO(drawn)) as bar:
        strip = bar.convert("L")
    whole = Image.new("L", (picture.width, picture.height + strip.height), 255)
    whole.paste(picture, (0, 0))
    whole.paste(strip, (0, picture.height))
    return whole


def _bar(paper_mm: float, step: float, steps: int, scale: int, unit: BarUnit) -> Drawing:
    step_mm = step * unit.mm / scale
    left, foot = 2.0, _BAR_STRIP_MM - 0.6
    primitives: list[Primitive] = [*bar_fields(left, foot - _BAR_MM, step_mm, steps, _BAR_MM, 0.25)]
    for place in range(steps + 1):
        figure = f"{place * step:g}" + (f" {unit.name}" if place == steps else "")
        anchor = left + place * step_mm
        primitives.append(Label(anchor, foot - _BAR_MM - 1.0, figure, _BAR_PT, "middle"))
    return Drawing(paper_mm, _BAR_STRIP_MM, f"{steps * step:g} {unit.name}", tuple(primitives))
