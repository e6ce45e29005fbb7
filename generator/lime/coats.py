"""Coats of plaster and render: mortar a square metre, laths and nails, and the wait for a coat to dry.

Confidence of a source: R read, Rt read on a supplier's page, r read in a weak copy, M from memory, X computed
from the figures named.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked, positive
from generator.values import Range

THICKNESS_LIMITS_MM: Final = (0.0, 100.0)
LATH_GAP_LIMITS_MM: Final = (0.0, 25.0)
DRYING_LIMITS_MM: Final = (0.0, 40.0)  # the thickest coat that the pages read give a wait for

LINEAR_DAYS_PER_MM: Final = 1.0  # German trade lexicon, lime renders, at least (R)
BRICK_MAKERS_DAYS_PER_MM: Final = 1.4  # Austrian brick association: 14 days a cm, normal render (R)
QUADRATIC_MM: Final = 15.0  # the same page: double thickness takes four times as long (R),
QUADRATIC_DAYS: Final = 14.0  # through 15 mm in about 14 days (R)

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


def laths_nr_per_m2(width_mm: float, gap_mm: float, length_mm: float, end_gap_mm: float = 0.0) -> float:
    """The number of laths in a square metre.

        laths = 1e6 / ((width + gap) * (length + end gap))

    nr/m2, net: no cutting waste. Butted laths have no end gap. Valid for sizes above 0, gaps of 0 to 25 mm;
    ValueError outside. Source: geometry (X). Worked: 1 1/2 in laths 4 ft long with 3/8 in gaps are 17.22
    a m2, 1440 in 100 square yards (US estimating handbooks: 1440 to 1500, R).

    >>> round(laths_nr_per_m2(38.1, 9.525, 1219.2), 2)
    17.22
    """
    pitch = positive("width_mm", width_mm) + checked("gap_mm", gap_mm, *LATH_GAP_LIMITS_MM)
    run = positive("length_mm", length_mm) + checked("end_gap_mm", end_gap_mm, *LATH_GAP_LIMITS_MM)
    return 1e6 / (pitch * run)


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


def drying_days_linear(thickness_mm: float, days_per_mm: float = LINEAR_DAYS_PER_MM) -> float:
    """The wait for a coat to dry by a rule of so many days a millimetre.

        days = thickness * days a mm

    Days at about 20 C and 50 to 65 % humidity. Valid for 0 to 40 mm; ValueError outside. Source: German trade
    lexicon, at least 1 day a mm (R); Austrian brick association, 14 days a cm (R).

    >>> drying_days_linear(15.0), round(drying_days_linear(15.0, BRICK_MAKERS_DAYS_PER_MM), 6)
    (15.0, 21.0)
    """
    return checked("thickness_mm", thickness_mm, *DRYING_LIMITS_MM) * positive("days_per_mm", days_per_mm)


def drying_days_quadratic(thickness_mm: float) -> float:
    """The wait for a coat to dry indoors where double thickness takes four times as long.

        days = 14 * (thickness / 15)^2

    Days. Valid for 0 to 40 mm; ValueError outside. Below 10 mm it is the shortest of the rules, and never to
    be used alone. Source: Austrian brick association (R). Worked: 20 mm is 24.9 days.

    >>> round(drying_days_quadratic(20.0), 1)
    24.9
    """
    thickness = checked("thickness_mm", thickness_mm, *DRYING_LIMITS_MM)
    return QUADRATIC_DAYS * (thickness / QUADRATIC_MM) ** 2


def drying_days(thickness_mm: float) -> Range[float]:
    """The wait for a coat to dry by the three published rules: the shortest, the middle and the longest.

        1 day a mm;   14 days a cm;   14 days at 15 mm growing as the square

    Days at about 20 C. Valid for 0 to 40 mm; ValueError outside. Source: see the two rules above (R).

    >>> wait = drying_days(10.0)
    >>> round(wait.low, 1), round(wait.likely, 1), round(wait.high, 1)
    (6.2, 10.0, 14.0)
    """
    return Range(
        *sorted(
            (
                drying_days_linear(thickness_mm),
                drying_days_linear(thickness_mm, BRICK_MAKERS_DAYS_PER_MM),
                drying_days_quadratic(thickness_mm),
            )
        )
    )
