"""What a photograph with a taped rectangle gives: areas and lengths of its wall with their ranges.

Quantities reckoned so are good to about 2 to 5 %: areas and lengths within 3 % by one image of a flat surface
(Tommaselli, IAPRS 2000, R); four points on a palace front failed where the front was not flat (Calabro 2012,
R). Where decay ends is the surveyor's doubt, and not in any range here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.plane import Matrix, Point, crosses_horizon, mean_point, rectangle_to_wall, stretch
from generator.lime.plane_bounds import (
    EdgeBend,
    Frame,
    combined,
    depth_share,
    edge_bend,
    guessed_distance_mm,
    k_by_lens,
    lens_bound,
    off_face_factor,
    outward,
)
from generator.lime.plane_errors import (
    Drawn,
    Figure,
    Taped,
    area_figure,
    drawn,
    kappa,
    length_figure,
    pick_error_px,
    spread,
)
from generator.lime.plane_limits import (
    JOINT_PX,
    KAPPA,
    SHARE_OF_AREA,
    SLANT,
    Told,
    check_told,
    corners_told,
    diagonals_told,
    lens_told,
    off_face_told,
    outside_told,
    refuses,
    scale_told,
    shapes_told,
    size_told,
)
from generator.lime.plane_shapes import Area, Ring
from generator.values import Struct

MM2_PER_M2: Final = 1e6
_NO_FIGURE: Final = frozenset(
    {
        "reference-outside", "reference-not-convex", "reference-angle", "reference-diagonals", "area-outside",
        "reference-off-face", "lens-bent", "area-crosses-itself", "area-empty", "opening-outside", "openings-overlap",
        "areas-overlap",
    }
)  # fmt: skip
_NO_RANGE: Final = frozenset({"beyond-horizon", "picks-swing"})


class Check(Struct, frozen=True):
    """A taped length between two points of the photograph, not part of the reference."""

    start: Point
    end: Point
    length_mm: float

    def __post_init__(self) -> None:
        positive("length_mm", self.length_mm)


class View(Struct, frozen=True):
    """A photograph of a wall: its frame, the reference, and what is known of the lens, the place and the wall.

    `unevenness_mm` is how far the wall's face lies off a plane. `distance_mm` None: not paced. `off_face_mm`
    is how far the reference lies behind the face. `straight` is three points along a straight edge. `told` is what
    making the reference told already (`plane_points`).
    """

    frame: Frame
    reference: Taped
    unevenness_mm: float
    distance_mm: float | None = None
    off_face_mm: float = 0.0
    equivalent_mm: float | None = None
    straight: tuple[Point, Point, Point] | None = None
    checks: tuple[Check, ...] = ()
    told: tuple[Told, ...] = ()

    @property
    def pick_px(self) -> float:
        """The error of a pick."""
        return pick_error_px(self.frame.width_px, self.frame.height_px)

    @property
    def away_mm(self) -> float:
        """The distance as paced, or as the size of the reference tells it."""
        if self.distance_mm is not None:
            return self.distance_mm
        return guessed_distance_mm(self.frame, self.reference.corners, *self.reference.sides_mm)

    @property
    def face_factor(self) -> float:
        """What lengths are divided by for the reference behind the face."""
        return off_face_factor(self.off_face_mm, self.away_mm)

    @property
    def bend(self) -> EdgeBend | None:
        """The bend of the straight edge; None without one, with points amiss, or where picking drowns it."""
        if self.straight is None:
            return None
        try:
            bend = edge_bend(*self.straight, self.frame, self.pick_px)
        except ValueError:
            return None
        return bend if bend.sigma <= k_by_lens(self.equivalent_mm) else None

    @property
    def k(self) -> float:
        """The size of the lens's distortion to reckon with."""
        bend = self.bend
        return k_by_lens(self.equivalent_mm) if bend is None else bend.greatest

    @property
    def depth_share(self) -> float:
        """The bound of what depth does to an area; a set-back put right by a guessed distance is in it."""
        guessed_mm = abs(self.off_face_mm) if self.distance_mm is None else 0.0
        return depth_share(self.unevenness_mm + guessed_mm, self.away_mm)


class Parts(Struct, frozen=True):
    """What the doubt of an area is made of, as shares of it: one sigma, and for lens and depth bounds."""

    corners: float
    vertices: float
    tape: float
    lens: float
    depth: float


class Quantity(Struct, frozen=True):
    """An area in m2 with one sigma as a share of it; low and high run outward to 0.1 m2 (about 95 of 100)."""

    area_m2: float
    sigma_share: float
    low_m2: float
    high_m2: float
    parts: Parts
    kappa: float
    by_draws: bool


class Reckoning(Struct, frozen=True):
    """What is told of an area or several of one work, and the quantity where one could be reckoned at all."""

    told: tuple[Told, ...]
    quantity: Quantity | None

    @property
    def offered(self) -> Quantity | None:
        """The quantity where nothing refuses it."""
        return None if refuses(self.told) else self.quantity


class Length(Struct, frozen=True):
    """A length in mm with one sigma, and what is told of it."""

    length_mm: float
    sigma_mm: float
    told: tuple[Told, ...] = ()


def told_of(view: View) -> tuple[Told, ...]:
    """Everything to tell of a photograph and its reference before any area is marked."""
    reference = view.reference
    told = outside_told(reference.picks, view.frame, "reference-outside") or corners_told(reference.corners)
    if told:
        return tuple(told)
    told += view.told
    if reference.diagonals_mm is not None:
        told += diagonals_told(*reference.sides_mm, *reference.diagonals_mm)
    told += size_told(reference.corners, *reference.sides_mm)
    bend = view.bend
    told += lens_told(view.equivalent_mm, None if bend is None else bend.greatest, view.straight is not None)
    told += off_face_told(view.off_face_mm, view.away_mm, view.distance_mm is not None)
    if _refused(told, _NO_FIGURE):
        return tuple(told)
    slant = stretch(_matrix(view), mean_point(reference.corners))
    return (*told, *SLANT.judged("reference-slant", slant), *_checks_told(view))


def reckoned(view: View, areas: Sequence[Area]) -> Reckoning:
    """The areas of one work under one reference, reckoned as one figure, with range and everything to tell.

        A = sum of areas / ((D + e) / D)^2; u^2 = picks^2 + tape^2 + (lens / sqrt 3)^2 + (depth / sqrt 3)^2;
        range A -+ 2 u, or by draws their centiles with lens and depth added in squares; outward to 0.1 m2

    ValueError for no areas. Sources: the functions called.
    """
    if not areas:
        raise ValueError("areas are none: valid one or more")
    told = list(told_of(view))
    for of, area in enumerate(areas, 1):
        told += outside_told(area.vertices, view.frame, "area-outside", of)
    told += shapes_told(areas, view.pick_px)
    if _refused(told, _NO_FIGURE):
        return Reckoning(tuple(told), None)
    vertices = tuple(point for area in areas for point in area.vertices)
    told += scale_told(_matrix(view), view.reference.corners, vertices)
    swing = kappa(view.reference.corners, vertices, view.reference.error_px(view.pick_px))
    told += KAPPA.judged("picks-swing", swing)
    if _refused(told, _NO_RANGE):
        return Reckoning(tuple(told), None)
    quantity = _quantity(view, area_figure(areas, view.reference.cos_corner), vertices, swing)
    if quantity is None:
        return Reckoning((*told, Told("lens-over-horizon", "refusal")), None)
    told += SHARE_OF_AREA.judged("range-wide", quantity.sigma_share)
    return Reckoning(tuple(told), quantity)


def _refused(told: Iterable[Told], codes: frozenset[str]) -> bool:
    return refuses(one for one in told if one.code in codes)


def together(quantities: Sequence[Quantity]) -> Quantity:
    """Quantities of one work from different photographs: areas add, their doubts add in squares.

    The parts add in squares likewise; the range is the sum with 2 sigma, outward to 0.1 m2. ValueError for
    none. Source: JCGM 100:2008, 5.1.2 (M), independent doubts.
    """
    if not quantities:
        raise ValueError("quantities are none: valid one or more")
    area_m2 = math.fsum(quantity.area_m2 for quantity in quantities)

    def share(of: Sequence[float]) -> float:
        parts_m2 = (one * quantity.area_m2 for one, quantity in zip(of, quantities, strict=True))
        return math.hypot(*parts_m2) / area_m2

    sigma_share = share([quantity.sigma_share for quantity in quantities])
    parts = Parts(
        **{name: share([getattr(quantity.parts, name) for quantity in quantities]) for name in Parts.__struct_fields__}
    )
    low_m2, high_m2 = outward(area_m2 * (1.0 - 2.0 * sigma_share), area_m2 * (1.0 + 2.0 * sigma_share))
    greatest = max(quantity.kappa for quantity in quantities)
    by_draws = any(quantity.by_draws for quantity in quantities)
    return Quantity(area_m2, sigma_share, low_m2, high_m2, parts, greatest, by_draws)


def length_of(view: View, start: Point, end: Point) -> Length:
    """The length on the wall between two points, with its uncertainty by picks and tape to first order.

    mm. ValueError where the reference is refused for its corners.
    """
    figure, ends = length_figure(view.reference.cos_corner), (start, end)
    factor = view.face_factor
    told = scale_told(_matrix(view), view.reference.corners, ends)
    if any(one.code == "beyond-horizon" for one in told):
        raise ValueError("an end lies beyond the horizon")
    length_mm = figure(view.reference.corners, ends, *view.reference.sides_mm) / factor
    sigma_mm = spread(figure, view.reference, ends, view.pick_px).whole / factor
    return Length(length_mm, sigma_mm, tuple(told))


def joint_by_picks(view: View, picks: Sequence[tuple[Point, Point]]) -> Length:
    """The mean width of joints picked from edge to edge.

        mean of n widths; sigma = s p sqrt(2 / n), s mm to the pixel there

    mm; warned of under 10 px, refused under 6. ValueError for none. Source: X.
    """
    if not picks:
        raise ValueError("picks are none: valid one or more")
    lengths = [length_of(view, start, end).length_mm for start, end in picks]
    pixels = [math.dist(start, end) for start, end in picks]
    count = len(picks)
    scale = math.fsum(length / px for length, px in zip(lengths, pixels, strict=True)) / count
    told = JOINT_PX.judged("joint-few-pixels", math.fsum(pixels) / count)
    return Length(math.fsum(lengths) / count, scale * view.pick_px * math.sqrt(2.0 / count), tuple(told))


def joint_by_courses(view: View, run: tuple[Point, Point], courses: int, unit_height_mm: float) -> Length:
    """The mean bed joint by a run over whole courses, less the height of a unit: better than picks from afar.

        joint = run / courses - unit height; sigma = sigma of the run / courses

    mm. The doubt of the unit's height is not in it. Valid from 1 course up; ValueError below. Source:
    arithmetic (X).
    """
    over = length_of(view, *run)
    count = checked("courses", courses, 1)
    return Length(over.length_mm / count - positive("unit_height_mm", unit_height_mm), over.sigma_mm / count, over.told)


def _matrix(view: View) -> Matrix:
    reference = view.reference
    return rectangle_to_wall(reference.corners, *reference.sides_mm, reference.cos_corner)


def _checks_told(view: View) -> list[Told]:
    """What check lengths tell; five points and more check one another."""
    if not view.checks and not view.reference.points:
        return [Told("unchecked", "note")]
    told = []
    for of, check in enumerate(view.checks, 1):
        ends = (check.start, check.end)
        outside = outside_told(ends, view.frame, "check-outside", of)
        if outside:
            told += outside
        elif crosses_horizon(_matrix(view), ends):
            told.append(Told("check-beyond-horizon", "refusal", of=of))
        else:
            found = length_of(view, *ends)
            told += check_told(found.length_mm, found.sigma_mm, check.length_mm, of)
    return told


def _quantity(view: View, figure: Figure, vertices: Ring, swing: float) -> Quantity | None:
    """The quantity; None where lens or draws leave no bound."""
    reference, sides = view.reference, view.reference.sides_mm
    area_mm2 = figure(reference.corners, vertices, *sides)
    picked = spread(figure, reference, vertices, view.pick_px)
    try:
        lens = lens_bound(figure, reference.corners, vertices, sides, view.frame, view.k) / area_mm2
    except ValueError:
        return None
    parts = Parts(picked.corners / area_mm2, picked.vertices / area_mm2, picked.tape / area_mm2, lens, view.depth_share)
    draws = drawn(figure, reference, vertices, view.pick_px) if swing > KAPPA.warned else None
    if draws is not None and math.isinf(draws.high):
        return None
    low, high, random_share = _picked_range(area_mm2, picked.whole, draws)
    systematic = combined((), (parts.lens, parts.depth))
    area_m2 = area_mm2 / MM2_PER_M2 / view.face_factor**2
    low_m2, high_m2 = outward(
        area_m2 * (1.0 - math.hypot(low, 2.0 * systematic)), area_m2 * (1.0 + math.hypot(high, 2.0 * systematic))
    )
    sigma_share = math.hypot(random_share, systematic)
    return Quantity(area_m2, sigma_share, low_m2, high_m2, parts, swing, draws is not None)


def _picked_range(area: float, sigma: float, draws: Drawn | None) -> tuple[float, float, float]:
    """How far the range by picks and tape runs down and up, and one sigma, all as shares of the area."""
    if draws is None:
        return 2.0 * sigma / area, 2.0 * sigma / area, sigma / area
    return max(0.0, area - draws.low) / area, max(0.0, draws.high - area) / area, draws.sigma / area
