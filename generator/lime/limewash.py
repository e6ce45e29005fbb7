"""Limewash: litres by coats and suction.

Confidence of a source: X computed.
"""

from __future__ import annotations

from generator.lime.limits import checked, positive
from generator.values import Range


def limewash_l(face_m2: float, coats: int, coverage_m2_per_l: Range[float], waste_share: float = 0.0) -> Range[float]:
    """The limewash for a face in so many coats.

        litres = face * coats / coverage * (1 + waste)

    l; the low end goes with the best coverage. Coverage follows suction and is the caller's. Valid for 1 coat
    up, coverage above 0, waste 0 to 1; ValueError outside. Source: arithmetic (X). Worked: 20 m2 in 4 coats
    at 5 m2/l take 16 l.

    >>> wash = limewash_l(20.0, 4, Range(4.0, 5.0, 8.0))
    >>> wash.low, wash.likely, wash.high
    (10.0, 16.0, 20.0)
    """
    positive("coverage_m2_per_l", coverage_m2_per_l.low)
    wasted = 1.0 + checked("waste_share", waste_share, 0.0, 1.0)
    coated_m2 = checked("face_m2", face_m2, 0.0) * checked("coats", coats, 1) * wasted
    return Range(
        coated_m2 / coverage_m2_per_l.high,
        coated_m2 / coverage_m2_per_l.likely,
        coated_m2 / coverage_m2_per_l.low,
    )
