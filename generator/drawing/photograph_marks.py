"""Areas marked on a photograph so that they outlive a copier: lightened, hatched and lettered, without colour.

Every black line has a white casing: bare lines vanish on dark masonry when copied (tried on simulated copies,
no published source). Lengths are paper millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final, Literal

from PIL import Image, ImageDraw

from generator.drawing.area_hatch import Pattern, area_hatch
from generator.drawing.model import Circle, Point
from generator.drawing.photograph import Photograph
from generator.drawing.photograph_jpeg import DPI, Jpeg, lightened, lightening_power, to_width, written
from generator.drawing.photograph_plates import Plate, plated, plates_for
from generator.drawing.png import OVERSAMPLING
from generator.values import Struct

HATCH_MM: Final = 0.35
PITCH_MM: Final = 3.3
CASING_MM: Final = 0.35
DOT_MM: Final = 0.9
OUTLINE_MM: Final = 0.6
OUTLINE_CASING_MM: Final = 0.45
TARGET_MM: Final = 1.3

Across = Literal["left", "middle", "right"]
Down = Literal["top", "middle", "foot"]


class MarkedArea(Struct, frozen=True):
    """An area to mark: its letter, hatch, outline and openings as shares of the picture, and words beneath.

    `beneath` stands under the letter on its plate (a mix, say); most plates hold the letter alone.
    """

    letter: str
    pattern: Pattern
    outline: tuple[Point, ...]
    without: tuple[tuple[Point, ...], ...] = ()
    beneath: str = ""

    @property
    def rings(self) -> tuple[tuple[Point, ...], ...]:
        """The outline and what is left out."""
        return (self.outline, *self.without)


class MarkFact(Struct, frozen=True):
    """What an alternative text tells of an area: where it lies in the picture, and its share of it.

    `plate_within` is false where the area is too small to hold its letter, which stands beside it.
    """

    letter: str
    pattern: Pattern
    across: Across
    down: Down
    share_of_picture: float
    plate_within: bool


class Marked(Struct, frozen=True):
    """A marked picture, the power it was lightened by, and what it shows, area by area."""

    jpeg: Jpeg
    power: float
    facts: tuple[MarkFact, ...]


def marked_jpeg(
    photograph: Photograph,
    areas: Sequence[MarkedArea],
    width_mm: float,
    corners: Sequence[Point] = (),
    dpi: int = DPI,
) -> Marked:
    """The photograph in grey, lightened and with its areas marked; `corners` of the reference as targets.

    Shares count from the top left of the upright picture. ValueError for no areas, a ring of fewer than three
    points, or points outside the picture.
    """
    grey = to_width(photograph.image, width_mm, dpi).convert("L")
    return marked_picture(grey, areas, width_mm, corners)


def marked_picture(
    grey: Image.Image, areas: Sequence[MarkedArea], width_mm: float, corners: Sequence[Point] = ()
) -> Marked:
    """A grey picture of any kind lightened and marked, with nothing about it changed else."""
    picture, power, facts = marked_pixels(grey, areas, width_mm, corners)
    return Marked(written(picture, width_mm), power, facts)


def marked_pixels(
    grey: Image.Image, areas: Sequence[MarkedArea], width_mm: float, corners: Sequence[Point] = ()
) -> tuple[Image.Image, float, tuple[MarkFact, ...]]:
    """The pixels of a marked picture, the power it was lightened by, and what it shows."""
    check_marks(areas, corners)
    height_mm = width_mm * grey.height / grey.width
    placed = [[[(x * width_mm, y * height_mm) for x, y in ring] for ring in area.rings] for area in areas]
    power = lightening_power(grey, _mask(grey, areas))
    overlay = _Overlay(grey.size, width_mm)
    for area, rings in zip(areas, placed, strict=True):
        overlay.hatch(rings, area.pattern)
    for rings in placed:
        for ring in rings:
            overlay.outline(ring)
    for x, y in corners:
        overlay.target((x * width_mm, y * height_mm))
    plates = plates_for(
        [(area.letter, area.beneath, rings) for area, rings in zip(areas, placed, strict=True)],
        (width_mm, height_mm),
    )
    for plate in plates:
        if plate.leader is not None:
            overlay.line(plate.leader, HATCH_MM, CASING_MM)
    picture = overlay.laid_on(lightened(grey, power))
    for plate in plates:
        plated(picture, plate, width_mm)
    return picture, power, tuple(map(_fact, areas, plates))


def check_marks(areas: Sequence[MarkedArea], corners: Sequence[Point]) -> None:
    """ValueError for no areas, a ring of fewer than three points, or points outside the picture."""
    if not areas:
        raise ValueError("areas are none: valid one or more")
    if any(len(ring) < 3 for area in areas for ring in area.rings):
        raise ValueError("an outline has fewer than three points")
    points = [*corners, *(point for area in areas for ring in area.rings for point in ring)]
    if not all(0.0 <= value <= 1.0 for point in points for value in point):
        raise ValueError("a point lies outside the picture: valid shares from 0 to 1")


def _mask(grey: Image.Image, areas: Sequence[MarkedArea]) -> Image.Image:
    """The areas, without their openings, as a mask: there the wall is seen."""
    mask = Image.new("L", grey.size, 0)
    draw = ImageDraw.Draw(mask)
    rings = [(area.outline, 255) for area in areas]
    rings += [(ring, 0) for area in areas for ring in area.without]
    for ring, fill in rings:
        draw.polygon([(x * grey.width, y * grey.height) for x, y in ring], fill=fill)
    return mask


class _Overlay:
    """Black and white marks over a picture: what is black, and where the picture is covered at all."""

    def __init__(self, size: tuple[int, int], width_mm: float) -> None:
        self._size = size
        self._scale = size[0] / width_mm * OVERSAMPLING
        large = (size[0] * OVERSAMPLING, size[1] * OVERSAMPLING)
        # white where nothing is drawn, so that a casing fades into the picture and not into black
        self._ink, self._cover = Image.new("L", large, 255), Image.new("L", large, 0)
        self._layers = ((ImageDraw.Draw(self._ink), 0, 0.0), (ImageDraw.Draw(self._cover), 255, 2.0))

    def hatch(self, rings: Sequence[Sequence[Point]], pattern: Pattern) -> None:
        for mark in area_hatch(rings, pattern, PITCH_MM, DOT_MM if pattern == "dots" else HATCH_MM):
            if isinstance(mark, Circle):
                self._disc((mark.x, mark.y), mark.radius, CASING_MM)
            else:
                self.line(((mark.x1, mark.y1), (mark.x2, mark.y2)), mark.weight_mm, CASING_MM)

    def outline(self, ring: Sequence[Point]) -> None:
        # a little past the start, so that the first corner is joined like the others
        self.line([*ring, ring[0], ring[1]], OUTLINE_MM, OUTLINE_CASING_MM)

    def target(self, centre: Point) -> None:
        """A ring with a cross, for a corner that was taped."""
        x, y = centre
        self._ring(centre, TARGET_MM)
        for end in ((1.8 * TARGET_MM, 0.0), (0.0, 1.8 * TARGET_MM)):
            self.line(((x - end[0], y - end[1]), (x + end[0], y + end[1])), HATCH_MM, CASING_MM)

    def line(self, points: Iterable[Point], weight_mm: float, casing_mm: float) -> None:
        path = [(x * self._scale, y * self._scale) for x, y in points]
        for draw, ink, sides in self._layers:
            draw.line(path, ink, max(1, round((weight_mm + sides * casing_mm) * self._scale)), joint="curve")

    def _disc(self, centre: Point, radius_mm: float, casing_mm: float) -> None:
        for draw, ink, sides in self._layers:
            draw.ellipse(self._box(centre, radius_mm + sides / 2.0 * casing_mm), fill=ink)

    def _ring(self, centre: Point, radius_mm: float) -> None:
        for draw, ink, sides in self._layers:
            wide = HATCH_MM + sides * CASING_MM
            box = self._box(centre, radius_mm + wide / 2.0)
            draw.ellipse(box, outline=ink, width=max(1, round(wide * self._scale)))

    def _box(self, centre: Point, radius_mm: float) -> tuple[float, float, float, float]:
        x, y, radius = centre[0] * self._scale, centre[1] * self._scale, radius_mm * self._scale
        return x - radius, y - radius, x + radius, y + radius

    def laid_on(self, picture: Image.Image) -> Image.Image:
        """The picture with the marks over it."""
        ink, cover = self._ink.reduce(OVERSAMPLING), self._cover.reduce(OVERSAMPLING)
        return Image.composite(ink, picture, cover)


def _fact(area: MarkedArea, plate: Plate) -> MarkFact:
    across: tuple[Across, ...] = ("left", "middle", "right")
    down: tuple[Down, ...] = ("top", "middle", "foot")
    x, y = plate.heart_share
    return MarkFact(
        area.letter,
        area.pattern,
        across[min(2, math.floor(x * 3.0))],
        down[min(2, math.floor(y * 3.0))],
        _ring_share(area.outline) - math.fsum(_ring_share(ring) for ring in area.without),
        plate.leader is None,
    )


def _ring_share(ring: Sequence[Point]) -> float:
    twice = (ring[place - 1][0] * y - x * ring[place - 1][1] for place, (x, y) in enumerate(ring))
    return abs(math.fsum(twice)) / 2.0
