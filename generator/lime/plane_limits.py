"""When a figure from a photograph is warned of or refused, as codes with the figure and its limit.

The limits are the project's own (no published source), set on computed cases (X): see each function.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import Final, Literal

from generator.lime.plane import Matrix, Quad, area_scale, crosses_horizon, strictly_convex
from generator.lime.plane_bounds import Frame
from generator.lime.plane_shapes import Area, Ring, crosses_itself, lies_within, overlap, signed_area
from generator.values import Struct

Level = Literal["note", "warning", "refusal"]
MM_PER_M: Final = 1000.0


class Told(Struct, frozen=True):
    """One thing to tell: its code, how grave, the figure, the limit passed, and which one it is of.

    `of` counts areas or checks from 1; 0 is the photograph and its reference. Shares are of 1.
    """

    code: str
    level: Level
    figure: float = 0.0
    limit: float = 0.0
    of: int = 0


def refuses(told: Iterable[Told]) -> bool:
    """Whether anything told is a refusal."""
    return any(one.level == "refusal" for one in told)


class Limits(Struct, frozen=True):
    """The figures past which something is warned of and refused; refused past the lower where it is less."""

    warned: float
    refused: float

    def judged(self, code: str, figure: float, of: int = 0) -> list[Told]:
        """What a figure gives rise to: nothing, a warning or a refusal."""
        way = 1.0 if self.refused >= self.warned else -1.0
        if way * figure > way * self.refused:
            return [Told(code, "refusal", figure, self.refused, of)]
        if way * figure > way * self.warned:
            return [Told(code, "warning", figure, self.warned, of)]
        return []


CORNER_ANGLE_DEGREES: Final = (20.0, 160.0)
SLANT: Final = Limits(1.41, 2.0)  # 45 and 60 degrees off square; sides given the wrong way round show here
SCALE_CHANGE: Final = Limits(2.5, 4.0)
KAPPA: Final = Limits(0.05, 0.10)
SHARE_OF_AREA: Final = Limits(0.05, 0.10)
SIDE_PX: Final = Limits(300.0, 100.0)
SIDE_M: Final = Limits(0.8, 0.3)  # at 0.3 m a tape error of 3 mm is 1 %
CHECK: Final = Limits(0.01, 0.02)
DIAGONALS: Final = Limits(0.01, 0.03)
LENS_MM: Final = Limits(24.0, 20.0)
OFF_FACE: Final = Limits(0.005, 0.01)
LENS_BEND: Final = Limits(0.1, 0.1)  # no lens that a phone shows straight; the edge was not, or was picked amiss
JOINT_PX: Final = Limits(10.0, 6.0)
GREATEST_COS: Final = 0.9
GREATEST_OFF_FACE: Final = 0.1


def corners_told(corners: Quad) -> list[Told]:
    """Corners that make no quadrilateral, or one with an angle under 20 or over 160 degrees; both refused."""
    if not strictly_convex(corners):
        return [Told("reference-not-convex", "refusal")]
    least, greatest = CORNER_ANGLE_DEGREES
    told = []
    for angle in corner_angles_degrees(corners):
        if not least <= angle <= greatest:
            told.append(Told("reference-angle", "refusal", angle, least if angle < least else greatest))
    return told[:1]


def corner_angles_degrees(corners: Sequence[tuple[float, float]]) -> list[float]:
    """The angles at the corners of a convex quadrilateral.

    >>> [round(angle) for angle in corner_angles_degrees([(0.0, 0.0), (2.0, 0.0), (3.0, 1.0), (0.0, 1.0)])]
    [90, 135, 45, 90]
    """
    found = []
    for place, (x, y) in enumerate(corners):
        before, after = corners[place - 1], corners[(place + 1) % len(corners)]
        first = math.atan2(before[1] - y, before[0] - x)
        second = math.atan2(after[1] - y, after[0] - x)
        angle = math.degrees(abs(first - second))
        found.append(min(angle, 360.0 - angle))
    return found


def size_told(corners: Quad, width_mm: float, height_mm: float) -> list[Told]:
    """A reference too small in the photograph (300, 100 px) or on the wall (0.8, 0.3 m)."""
    shortest_px = min(math.dist(corners[place - 1], corners[place]) for place in range(4))
    shortest_m = min(width_mm, height_mm) / MM_PER_M
    return SIDE_PX.judged("reference-few-pixels", shortest_px) + SIDE_M.judged("reference-short", shortest_m)


def diagonals_told(width_mm: float, height_mm: float, falling_mm: float, rising_mm: float) -> list[Told]:
    """Diagonals that do not go with the sides of a parallelogram: d1^2 + d2^2 against 2 (w^2 + h^2).

    >>> diagonals_told(1000.0, 1500.0, 1810.0, 1795.0)
    []
    """
    cosine = abs(falling_mm**2 - rising_mm**2) / (4.0 * width_mm * height_mm)
    if cosine > GREATEST_COS:
        return [Told("reference-diagonals", "refusal", cosine, GREATEST_COS)]
    expected = 2.0 * (width_mm**2 + height_mm**2)
    return DIAGONALS.judged("reference-diagonals", abs((falling_mm**2 + rising_mm**2) / expected - 1.0))


def lens_told(equivalent_mm: float | None, k: float | None, edge_given: bool) -> list[Told]:
    """A lens wider than 24 mm equivalent or unknown is warned of; under 20 refused without a straight edge.

    `k` is what a straight edge told, None where there is none or picking drowned it; past 10 % it is refused.

    >>> [told.code for told in lens_told(None, None, edge_given=False)]
    ['lens-unknown']
    """
    if k is not None:
        return LENS_BEND.judged("lens-bent", k)
    told = [Told("straight-unused", "note")] if edge_given else []
    if equivalent_mm is None:
        return [*told, Told("lens-unknown", "warning")]
    return told + LENS_MM.judged("lens-wide", equivalent_mm)


def off_face_told(off_face_mm: float, distance_mm: float, corrected: bool) -> list[Told]:
    """A reference off the face by 0.5 % of the distance; past 1 % refused where not put right, past 10 % always."""
    share = abs(off_face_mm) / distance_mm
    limits = Limits(OFF_FACE.warned, GREATEST_OFF_FACE) if corrected else OFF_FACE
    return limits.judged("reference-off-face", share)


def check_told(found_mm: float, sigma_mm: float, taped_mm: float, of: int) -> list[Told]:
    """A check length off by 1 % and its uncertainty is warned of; by 2 % and twice that, refused.

    >>> check_told(1470.0, 10.0, 1447.0, 1)[0].level
    'warning'
    """
    return apart_told("check-off", abs(found_mm - taped_mm), sigma_mm, taped_mm, of)


def apart_told(code: str, off_mm: float, sigma_mm: float, length_mm: float, of: int = 0) -> list[Told]:
    """What is off by 1 % of a length and its uncertainty is warned of; by 2 % and twice that, refused."""
    share = off_mm / length_mm
    if share > CHECK.refused and off_mm > 2.0 * sigma_mm:
        return [Told(code, "refusal", share, CHECK.refused, of)]
    if share > CHECK.warned and off_mm > sigma_mm:
        return [Told(code, "warning", share, CHECK.warned, of)]
    return []


def outside_told(points: Iterable[tuple[float, float]], frame: Frame, code: str, of: int = 0) -> list[Told]:
    """Points outside the photograph are refused."""
    sizes = (frame.width_px, frame.height_px)
    out = any(not 0.0 <= value <= size for point in points for value, size in zip(point, sizes, strict=True))
    return [Told(code, "refusal", of=of)] if out else []


def shapes_told(areas: Sequence[Area], pick_px: float) -> list[Told]:
    """Outlines that cross themselves or are all opening, openings amiss, areas that overlap.

    All refused: areas of one work that overlap would be counted twice in their sum.
    """
    told: list[Told] = []
    for of, area in enumerate(areas, 1):
        if any(crosses_itself(ring) for ring in area.rings):
            told.append(Told("area-crosses-itself", "refusal", of=of))
        else:
            told += _openings_told(area, pick_px, of)
            if abs(signed_area(area.outline)) <= math.fsum(abs(signed_area(ring)) for ring in area.without):
                told.append(Told("area-empty", "refusal", of=of))
    whole = {of: area for of, area in enumerate(areas, 1) if not crosses_itself(area.outline)}
    for (_, first), (of, second) in combinations(whole.items(), 2):
        if overlap(first.outline, second.outline, pick_px) and not _in_opening(first, second, pick_px):
            told.append(Told("areas-overlap", "refusal", of=of))
    return told


def _openings_told(area: Area, pick_px: float, of: int) -> Iterator[Told]:
    """Openings that reach out of their area or lie over one another."""
    if not all(lies_within(ring, area.outline, pick_px) for ring in area.without):
        yield Told("opening-outside", "refusal", of=of)
    if any(overlap(one, other, pick_px) for one, other in combinations(area.without, 2)):
        yield Told("openings-overlap", "refusal", of=of)


def _in_opening(first: Area, second: Area, pick_px: float) -> bool:
    """Whether one of two areas lies in an opening of the other."""
    pairs = ((first, second), (second, first))
    return any(lies_within(inner.outline, ring, pick_px) for outer, inner in pairs for ring in outer.without)


def scale_told(matrix: Matrix, corners: Quad, vertices: Ring) -> list[Told]:
    """Vertices over the horizon, and an area scale that changes more than 2.5 (4) times over all points."""
    if crosses_horizon(matrix, vertices):
        return [Told("beyond-horizon", "refusal")]
    scales = [area_scale(matrix, point) for point in (*corners, *vertices)]
    return SCALE_CHANGE.judged("scale-change", max(scales) / min(scales))
