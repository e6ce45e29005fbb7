"""What the lens and an uneven wall may do to a figure from a photograph, and how doubts make up a range.

Confidence of a source: R read, M from memory, P practice, X computed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from generator.lime.limits import checked, positive
from generator.lime.plane import Point, Quad
from generator.lime.plane_errors import Figure
from generator.lime.plane_shapes import Ring, signed_area
from generator.values import Struct

MAIN_LENS_MM: Final = 24.0
K_OF_MAIN_LENS: Final = 0.01  # main phone lenses after the phone's own correction (M, P)
K_OF_WIDE_LENS: Final = 0.02  # ultra-wide, or lens unknown (M, P)
FOCAL_SHARE: Final = 0.75  # focal length as a share of the frame's long side, main phone lens (P)
STEP_M2: Final = 0.1


class Frame(Struct, frozen=True):
    """The size of the upright picture in pixels."""

    width_px: float
    height_px: float

    def __post_init__(self) -> None:
        positive("width_px", self.width_px)
        positive("height_px", self.height_px)

    @property
    def centre(self) -> Point:
        """The middle of the frame, where the lens is taken to look."""
        return self.width_px / 2.0, self.height_px / 2.0

    @property
    def corner_px(self) -> float:
        """From the centre to a corner."""
        return math.hypot(self.width_px, self.height_px) / 2.0


class EdgeBend(Struct, frozen=True):
    """The lens's k by a straight edge, and its sigma by picking; k below 0 bends outward (barrel)."""

    k: float
    sigma: float

    @property
    def greatest(self) -> float:
        """The size of k with one sigma on it."""
        return abs(self.k) + self.sigma


def bent(point: Point, frame: Frame, k: float) -> Point:
    """Where a lens of distortion k puts a point.

        r' = r (1 + k (r / R)^2), r from the frame's centre, R to its corner

    Pixels; k from -0.2 to 0.2, ValueError outside. Source: first term of the radial law, Hartley & Zisserman
    2004, 7.4 (M).

    >>> bent((4.0, 2.0), Frame(4.0, 2.0), 0.01) == (2.0 + 2.0 * 1.01, 1.0 + 1.0 * 1.01)
    True
    """
    middle_x, middle_y = frame.centre
    away_x, away_y = point[0] - middle_x, point[1] - middle_y
    share = (away_x * away_x + away_y * away_y) / frame.corner_px**2
    factor = 1.0 + checked("k", k, -0.2, 0.2) * share
    return middle_x + away_x * factor, middle_y + away_y * factor


def lens_bound(
    figure: Figure, corners: Quad, vertices: Ring, sides: tuple[float, float], frame: Frame, k: float
) -> float:
    """The greater change of a figure when all its points are moved by the lens's law with +k and with -k.

    In the figure's unit. No fixed multiple of k holds: it hangs on where reference and area lie. ValueError
    where a side turns or a vertex goes over the horizon. Source: X.
    """
    straight = figure(corners, vertices, *sides)
    changes = []
    for way in (k, -k):
        first, second, third, fourth = (bent(point, frame, way) for point in corners)
        moved = tuple(bent(point, frame, way) for point in vertices)
        changes.append(abs(figure((first, second, third, fourth), moved, *sides) - straight))
    return max(changes)


def edge_bend(start: Point, middle: Point, end: Point, frame: Frame, pick_px: float) -> EdgeBend:
    """The lens's k by three points picked along an edge that is straight on the wall.

        sag of the middle from the chord = k * (bend of the law for k = 1); along the frame's edge, chord
        centred: k y (x / R)^2, x half the chord, y its distance from the centre;
        sigma = p sqrt(1 + t^2 + (1 - t)^2) / (sag for k = 1), 1.22 p where the middle is midway (t = 1/2)

    Infinite sigma where the edge runs through the centre. ValueError where the ends are one point or the middle
    is not between them. Source: X (first order: out by 4 % of itself at k 1 %, far within its sigma). Worked:
    the top edge of 4032 x 3024 px, its middle 9.677 px nearer the centre.

    >>> frame = Frame(4032.0, 3024.0)
    >>> found = edge_bend((0.0, 0.0), (2016.0, 9.677), (4032.0, 0.0), frame, 3.0)
    >>> round(found.k, 3), round(found.sigma, 4)
    (0.01, 0.0038)
    """
    chord = positive("chord", math.dist(start, end))
    along = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)

    def across(point: Point) -> float:
        return along[0] * (point[1] - start[1]) - along[1] * (point[0] - start[0])

    share = (along[0] * (middle[0] - start[0]) + along[1] * (middle[1] - start[1])) / chord
    if not 0.0 < share < 1.0:
        raise ValueError("the middle point does not lie between the ends of the edge")
    unit = [_unit_shift(point, frame) for point in (start, middle, end)]
    shifts = [along[0] * y - along[1] * x for x, y in unit]
    sag_of_one = shifts[1] - (1.0 - share) * shifts[0] - share * shifts[2]
    doubt = pick_px * math.sqrt(1.0 + share * share + (1.0 - share) ** 2)
    if sag_of_one == 0.0:
        return EdgeBend(0.0, math.inf)
    return EdgeBend(across(middle) / sag_of_one, doubt / abs(sag_of_one))


def _unit_shift(point: Point, frame: Frame) -> Point:
    """How far the law moves a point for k = 1."""
    middle_x, middle_y = frame.centre
    away_x, away_y = point[0] - middle_x, point[1] - middle_y
    share = (away_x * away_x + away_y * away_y) / frame.corner_px**2
    return away_x * share, away_y * share


def k_by_lens(equivalent_mm: float | None) -> float:
    """The k to reckon with where no straight edge was picked: 1 % from 24 mm equivalent, 2 % below or unknown.

    Source: P (no figure of a maker could be read; phones differ and keep changing: Jasinska et al. 2023, R).

    >>> k_by_lens(26.0), k_by_lens(13.0), k_by_lens(None)
    (0.01, 0.02, 0.02)
    """
    known = equivalent_mm is not None and equivalent_mm >= MAIN_LENS_MM
    return K_OF_MAIN_LENS if known else K_OF_WIDE_LENS


def guessed_distance_mm(frame: Frame, corners: Quad, width_mm: float, height_mm: float) -> float:
    """The distance of the camera from the wall, where it was not paced.

        f sqrt(W H / area of the reference in px2), f = 0.75 of the frame's long side

    mm. For a main phone lens seen about square on; others are out by their focal length. Source: P; X.
    Worked: 1 x 1.5 m of 375 x 562.5 px, 4032 px: 8.06 m.

    >>> quad = ((0.0, 0.0), (375.0, 0.0), (375.0, 562.5), (0.0, 562.5))
    >>> round(guessed_distance_mm(Frame(4032.0, 3024.0), quad, 1000.0, 1500.0))
    8064
    """
    focal_px = FOCAL_SHARE * max(frame.width_px, frame.height_px)
    return focal_px * math.sqrt(width_mm * height_mm / abs(signed_area(corners)))


def depth_share(unevenness_mm: float, distance_mm: float) -> float:
    """The bound of an area's error by a wall that is not flat, as a share of the area.

        2 e / D, for a point e proud of the plane moves outward e r / (D - e), r from the foot of the camera

    Unevenness from 0, distance above 0; ValueError otherwise. Source: X. Worked: 10 mm at 8 m: 0.25 %.

    >>> depth_share(10.0, 8000.0)
    0.0025
    """
    return 2.0 * checked("unevenness_mm", unevenness_mm, 0.0) / positive("distance_mm", distance_mm)


def off_face_factor(off_face_mm: float, distance_mm: float) -> float:
    """What lengths taken by a reference behind the wall's face are divided by; areas by its square.

        (D + e) / D, e behind the face above 0, proud of it below 0

    Valid for e within a tenth of D; ValueError outside. Source: similar triangles (X). Worked: a frame 100 mm
    back at 6 m makes 4 m2 read 4.134444 m2.

    >>> round(4.0 * off_face_factor(100.0, 6000.0) ** 2, 6)
    4.134444
    """
    distance = positive("distance_mm", distance_mm)
    return (distance + checked("off_face_mm", off_face_mm, -distance / 10.0, distance / 10.0)) / distance


def combined(sigmas: Sequence[float], bounds: Sequence[float]) -> float:
    """One standard uncertainty of several doubts: sigmas and the bounds of what lies evenly within them.

        u^2 = sum sigma^2 + sum (bound / sqrt(3))^2

    All in one unit. Source: JCGM 100:2008, 4.3.7 (M). Worked: 1.8 and 0.359 % at random, lens 2 %, depth 1 %.

    >>> round(combined((1.8, 0.359), (2.0, 1.0)), 3)
    2.244
    """
    return math.hypot(*sigmas, *(bound / math.sqrt(3.0) for bound in bounds))


def outward(low: float, high: float, step: float = STEP_M2) -> tuple[float, float]:
    """A range to whole steps, its ends moved outward; low never below 0.

    A millionth of a step is the dust of binary fractions. Source: X.

    >>> outward(11.84, 12.96)
    (11.8, 13.0)
    """
    below = max(0, math.floor(low / step + 1e-6))
    above = math.ceil(high / step - 1e-6)
    return round(below * step, 9), round(above * step, 9)
