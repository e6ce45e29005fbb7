"""Limewash: litres by coats and suction, and the putty and water in them.

Confidence of a source: R read, Rt read on a supplier's page, M from memory, X computed.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.lime.limits import checked, positive
from generator.values import Range


@dataclass(frozen=True, slots=True)
class Dilution:
    """The putty and the water in some limewash."""

    putty_l: float
    water_l: float


def limewash_l(
    face_m2: float, coats: int, coverage_m2_per_l: Range[float], waste_share: float = 0.0
) -> Range[float]:
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


def dilution(limewash_l: float, water_parts: float) -> Dilution:
    """The putty and the water in some limewash of 1 part putty to so many of water.

        putty = limewash / (1 + parts);   water = the rest

    l by volume; that volumes add is within a few in a hundred. Valid for 1 to 12 parts of water (published 5
    to 10, Rt); ValueError outside. Source: arithmetic (X). Worked: 12 l at 1 : 5 hold 2 l of putty.

    >>> dilution(12.0, 5.0)
    Dilution(putty_l=2.0, water_l=10.0)
    """
    parts = checked("water_parts", water_parts, 1.0, 12.0)
    litres = checked("limewash_l", limewash_l, 0.0)
    putty_l = litres / (1.0 + parts)
    return Dilution(putty_l, litres - putty_l)
