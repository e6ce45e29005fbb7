"""Coats of plaster and render: mortar a square metre, laths and nails.

Confidence of a source: R read, Rt read on a supplier's page, r read in a weak copy, M from memory, X computed
from the figures named.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked, positive
from generator.values import Range

THICKNESS_LIMITS_MM: Final = (0.0, 100.0)
LATH_GAP_LIMITS_MM: Final = (0.0, 25.0)


NO_KEYS: Final = Range(0.0, 0.0, 0.0)


def dubbing_l_per_m2(hollow_mm: float, hollow_share: float) -> float:
    """The mortar to dub out hollows, over a square metre of the whole face.

        litres = mean depth of the hollows * share of the face that is hollow

    l/m2, net; pinnings take their own volume off. Valid for depths of 0 to 1000 mm, shares of 0 to 1;
    ValueError outside. Source: geometry (X).

    >>> dubbing_l_per_m2(20.0, 0.25)
    5.0
    """
    depth = checked("hollow_mm", hollow_mm, 0.0, 1000.0)
    return depth * checked("hollow_share", hollow_share, 0.0, 1.0)


def coat_l_per_m2(
    thickness_mm: float,
    waste_share: float,
    *,
    key_share: Range[float] = NO_KEYS,
    dubbing_l_per_m2: float = 0.0,
) -> Range[float]:
    """The mortar of one coat in a square metre, with its keys behind laths, dubbing and waste.

        litres = (thickness * (1 + keys) + dubbing) * (1 + waste)

    l/m2. Keys belong to the first coat on laths alone: a share of it (10 to 25 %, M). Waste is taken on the
    dubbing too, for that is mixed and dropped alike. Valid for 0 to 100 mm, waste 0 to 1, keys 0 to 1;
    ValueError outside. Source: geometry (X). Worked: 10 mm with 10 % waste is 11 l/m2.

    >>> on_laths = coat_l_per_m2(10.0, 0.1, key_share=Range(0.10, 0.15, 0.25))
    >>> round(on_laths.low, 2), round(on_laths.high, 2)
    (12.1, 13.75)
    """
    thickness = checked("thickness_mm", thickness_mm, *THICKNESS_LIMITS_MM)
    dubbing = checked("dubbing_l_per_m2", dubbing_l_per_m2, 0.0)
    wasted = 1.0 + checked("waste_share", waste_share, 0.0, 1.0)
    checked("key_share", key_share.low, 0.0, 1.0)
    checked("key_share", key_share.high, 0.0, 1.0)

    def litres(keys: float) -> float:
        return (thickness * (1.0 + keys) + dubbing) * wasted

    return Range(litres(key_share.low), litres(key_share.likely), litres(key_share.high))


def laths_nr_per_m2(width_mm: float, gap_mm: float, length_mm: float) -> float:
    """The number of laths in a square metre.

        laths = 1e6 / ((width + gap) * length)

    nr/m2, net: no cutting waste, laths butted end to end. Valid for sizes above 0, gaps of 0 to 25 mm;
    ValueError outside. Source: geometry (X). Worked: 1 1/2 in laths 4 ft long with 3/8 in gaps are 17.22
    a m2, 1440 in 100 square yards (US estimating handbooks: 1440 to 1500, R).

    >>> round(laths_nr_per_m2(38.1, 9.525, 1219.2), 2)
    17.22
    """
    pitch = positive("width_mm", width_mm) + checked("gap_mm", gap_mm, *LATH_GAP_LIMITS_MM)
    return 1e6 / (pitch * positive("length_mm", length_mm))


def lath_m_per_m2(width_mm: float, gap_mm: float) -> float:
    """The length of lath in a square metre.

        length = 1000 / (width + gap)

    m/m2, net: no cutting waste. Valid for widths above 0, gaps of 0 to 25 mm; ValueError outside. Source:
    geometry (X); about 30 m/m2 for modern riven laths (Rt). Worked: 25 mm laths with 8 mm gaps are 30.3.

    >>> round(lath_m_per_m2(25.0, 8.0), 1)
    30.3
    """
    return 1000.0 / (positive("width_mm", width_mm) + checked("gap_mm", gap_mm, *LATH_GAP_LIMITS_MM))


def nails_nr_per_m2(laths_nr_per_m2: float, length_mm: float, support_mm: float) -> float:
    """The number of nails in a square metre, one where each lath crosses each support and one at each end.

        nails = laths * (length / support spacing + 1)

    nr/m2, net. Laths are cut to end on supports, so a shorter lath carries the same rule. Valid for spacings
    up to the length of a lath; ValueError outside. Source: every lath at every support (R, all sources read);
    geometry (X). Worked: 4 ft laths on supports at 16 in carry 4 nails each, 68.9 a m2.

    >>> round(nails_nr_per_m2(17.22, 1219.2, 406.4), 1)
    68.9
    """
    length = positive("length_mm", length_mm)
    if not 0.0 < support_mm <= length:
        raise ValueError(f"support_mm is {support_mm}: valid above 0, up to the lath's {length}")
    return checked("laths_nr_per_m2", laths_nr_per_m2, 0.0) * (length / support_mm + 1.0)
