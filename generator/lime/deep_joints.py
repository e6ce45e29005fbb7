"""Wide and deep rubble joints: how deep they are opened, the filling band by band, and deep voids as a range.

A litre a square metre is a millimetre of depth over the whole face. Nothing is rounded. Confidence of a source:
R read, r read in a weak copy, M from memory, X computed, D a rule proposed here.
"""

from __future__ import annotations

from typing import Final

from generator.lime.joints import DEPTH_LIMITS_MM, JOINT_LIMITS_MM
from generator.lime.limits import checked, positive
from generator.values import Range, Struct

TIMES_JOINT: Final = Range(2.0, 2.0, 2.5)  # 2 to 2 1/2 (NPS Preservation Brief 2, R); 2 (BRE, quoted)
NEW_WALL_SHARE: Final = 0.15  # of the thickness, in new walls: EN 1996-2:2006, 3.5.3.1 (R)
NO_LOSS: Final = Range(0.0, 0.0, 0.0)


def wide_joint_depth_mm(joint_mm: Range[float], least_mm: float, lost_mm: Range[float] = NO_LOSS) -> Range[float]:
    """The depth to which wide joints of rubble are opened and filled.

        depth = the greatest of times * joint, the least depth and the depth lost;   times = 2, 2, 2 1/2

    mm: low from the narrowest joint, likely from the usual, high from the widest. `least_mm` is the depth that
    any joint of that masonry has; `lost_mm` is how far mortar is lost or loose, where that is known. Valid for
    joints of 0.1 to 150 mm and depths to 1000 mm; ValueError outside. Source: NPS Preservation Brief 2, which adds
    that wide stone joints take several inches and loose mortar goes further (R); BRE as quoted. Whether so deep
    an opening loosens the core is for whoever looks at the wall. Worked: joints of 40 to 120 mm, 70 usual.

    >>> wide_joint_depth_mm(Range(40.0, 70.0, 120.0), 40.0)
    Range(low=80.0, likely=140.0, high=300.0)
    """
    least = checked("least_mm", least_mm, *DEPTH_LIMITS_MM)
    for name, value, limits in (("joint_mm", joint_mm, JOINT_LIMITS_MM), ("lost_mm", lost_mm, DEPTH_LIMITS_MM)):
        checked(name, value.low, *limits)
        checked(name, value.high, *limits)
    return Range(
        max(TIMES_JOINT.low * joint_mm.low, least, lost_mm.low),
        max(TIMES_JOINT.likely * joint_mm.likely, least, lost_mm.likely),
        max(TIMES_JOINT.high * joint_mm.high, least, lost_mm.high),
    )


class FilledBand(Struct, frozen=True):
    """A band of depth, how much of it is filled, and the mortar for a m2 of face: low, likely, high."""

    from_mm: float
    to_mm: float
    filled_mm: Range[float]
    l_per_m2: Range[float]


class DeepFilling(Struct, frozen=True):
    """Joints filled band by band: the first is the depth the rate covers, each further one is priced extra.

    `l_per_m2` is of all bands. `wall_share` is the greatest depth over the wall's thickness, None where that is
    not known; `over_new_wall_limit` says that it is more than new work allows (EN 1996-2), which is a caution.
    """

    depth_mm: Range[float]
    bands: tuple[FilledBand, ...]
    l_per_m2: Range[float]
    wall_share: float | None
    over_new_wall_limit: bool


def filled_in_bands(
    joint_share: Range[float],
    depth_mm: Range[float],
    *,
    covered_mm: float,
    band_mm: float,
    wall_mm: float | None = None,
) -> DeepFilling:
    """The mortar of joints filled to a depth, told apart by the bands in which it is priced.

        band = share of the face * (depth - near end, from 0 to the band's width), low with low, high with high

    Shares of area, mm, l/m2, net. `covered_mm` is the first band, `band_mm` each further one. Valid for shares of
    0 to 1, depths of at least the covered depth to 1000 mm; ValueError outside. Source: geometry (X). Worked:
    rubble, 0.20, 0.27, 0.35 of the face, 80, 140, 300 mm deep takes 16, 37.8, 105 l/m2, where 40 mm took 10.8.

    >>> filling = filled_in_bands(Range(0.20, 0.27, 0.35), Range(80.0, 140.0, 300.0), covered_mm=40.0, band_mm=50.0)
    >>> round(filling.l_per_m2.low, 1), round(filling.l_per_m2.likely, 1), round(filling.l_per_m2.high, 1)
    (16.0, 37.8, 105.0)
    >>> [(band.to_mm, round(band.l_per_m2.likely, 1)) for band in filling.bands][:4]
    [(40.0, 10.8), (90.0, 13.5), (140.0, 13.5), (190.0, 0.0)]
    """
    checked("joint_share", joint_share.low, 0.0, 1.0)
    checked("joint_share", joint_share.high, 0.0, 1.0)
    checked("depth_mm", depth_mm.low, positive("covered_mm", covered_mm))
    checked("depth_mm", depth_mm.high, *DEPTH_LIMITS_MM)
    step, near, far, bands = positive("band_mm", band_mm), 0.0, covered_mm, []
    while near < depth_mm.high:
        bands.append(_band(joint_share, depth_mm, near, far))
        near, far = far, far + step
    share = None if wall_mm is None else depth_mm.high / positive("wall_mm", wall_mm)
    whole = Range(
        joint_share.low * depth_mm.low, joint_share.likely * depth_mm.likely, joint_share.high * depth_mm.high
    )
    return DeepFilling(depth_mm, tuple(bands), whole, share, share is not None and share > NEW_WALL_SHARE)


def _band(share: Range[float], depth: Range[float], near: float, far: float) -> FilledBand:
    low, likely, high = (min(max(end - near, 0.0), far - near) for end in (depth.low, depth.likely, depth.high))
    litres = Range(share.low * low, share.likely * likely, share.high * high)
    return FilledBand(near, far, Range(low, likely, high), litres)


def deep_void_l(area_m2: float, joint_share: Range[float], lost_mm: Range[float], *, pointed_mm: float) -> Range[float]:
    """The filling behind the pointing over an area whose joints are lost deeper than they are pointed.

        litres = area * share of the face * (lost - pointed, not below 0), low with low, high with high
        lost, likely = the greater of what is usual on the wall and half way from pointed to the greatest

    l from m2, a share and mm, net. The area is that of joints lost deeper than they are pointed, so what is usual on
    the whole wall tells too little of it. Valid for shares of 0 to 1 and depths to 1000 mm; ValueError outside. Source:
    geometry (X). Worked: 2 m2, a quarter joint, 20 to 140 mm lost behind 40 mm.

    >>> deep_void_l(2.0, Range(0.25, 0.25, 0.25), Range(20.0, 60.0, 140.0), pointed_mm=40.0)
    Range(low=0.0, likely=25.0, high=50.0)
    """
    area, pointed = checked("area_m2", area_m2, 0.0), checked("pointed_mm", pointed_mm, *DEPTH_LIMITS_MM)
    checked("lost_mm", lost_mm.low, *DEPTH_LIMITS_MM)
    checked("lost_mm", lost_mm.high, *DEPTH_LIMITS_MM)
    usual = max(lost_mm.likely, (pointed + lost_mm.high) / 2.0) if lost_mm.high > pointed else lost_mm.likely
    low, likely, high = (
        area * checked("joint_share", share, 0.0, 1.0) * max(lost - pointed, 0.0)
        for share, lost in (
            (joint_share.low, lost_mm.low), (joint_share.likely, usual), (joint_share.high, lost_mm.high),
        )
    )  # fmt: skip
    return Range(low, likely, high)
