"""Deep rubble joints: what fills the voids behind the pointing, as a range.

A litre a square metre is a millimetre of depth over the whole face. Nothing is rounded. Confidence of a source:
X computed.
"""

from __future__ import annotations

from generator.lime.joints import DEPTH_LIMITS_MM
from generator.lime.limits import checked
from generator.values import Range


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
