"""What a slaked mix comes to: its growth, the vessel it needs, and its true ratio.

Growth is a caution: no figure here makes a vessel or a batch safe.
"""

from __future__ import annotations

from collections.abc import Callable

from generator.lime.limits import checked, positive
from generator.lime.sand import loose_dry_l
from generator.lime.slaking import QUICKLIME_KG_PER_L_LIMITS, putty_l_per_kg_quicklime
from generator.values import Range


def _expansion(quicklime_kg_per_l: float, purity_share: float, putty_solids_share: float) -> float:
    density = checked("quicklime_kg_per_l", quicklime_kg_per_l, *QUICKLIME_KG_PER_L_LIMITS)
    return density * putty_l_per_kg_quicklime(purity_share, putty_solids_share)


def expansion_factor(
    quicklime_kg_per_l: Range[float], purity_share: Range[float], putty_solids_share: Range[float]
) -> Range[float]:
    """The volumes of putty that one loose volume of quicklime grows to.

        factor = bulk density * litres per kg

    Low, likely, high; least from light, impure lime in stiff putty. Valid for quicklime 0.5 to 1.6 kg/l,
    purity 0.40 to 1, solids 0.05 to 0.70; ValueError outside. A caution about vessels, not a promise of
    yield. Source: mass balance (X); published 2 to 3.5 for fat lime (R), 1.9 to 2.6 from old bulk densities
    (R, derived). Worked: 0.95 kg/l at 92 % in 50 % putty, 1.67.

    >>> one = expansion_factor(Range(0.95, 0.95, 0.95), Range(0.92, 0.92, 0.92), Range(0.5, 0.5, 0.5))
    >>> round(one.likely, 3)
    1.673
    """
    return Range(
        _expansion(quicklime_kg_per_l.low, purity_share.low, putty_solids_share.high),
        _expansion(quicklime_kg_per_l.likely, purity_share.likely, putty_solids_share.likely),
        _expansion(quicklime_kg_per_l.high, purity_share.high, putty_solids_share.low),
    )


def vessel_l(
    quicklime_l: float, water_l: float, *, expansion: Range[float], headroom_share: Range[float]
) -> Range[float]:
    """The least volume of vessel to think about, for lime that grows and boils up.

        vessel = (1 + headroom) * the greater of quicklime * expansion and quicklime + water

    l; low, likely, high, to be read at its high end. Valid for quicklime above 0, the rest from 0 up;
    ValueError outside. No source gives a headroom, so it is the caller's; boiling up is not reckoned, and no
    volume makes a vessel safe. Source: geometry (X).

    >>> vessel_l(10.0, 25.0, expansion=Range(1.9, 2.15, 2.6), headroom_share=Range(0.5, 0.75, 1.0)).high
    70.0
    """
    quicklime = positive("quicklime_l", quicklime_l)
    filled = quicklime + checked("water_l", water_l, 0.0)

    def at(end: Callable[[Range[float]], float]) -> float:
        grown = quicklime * checked("expansion", end(expansion), 0.0)
        return (1.0 + checked("headroom_share", end(headroom_share), 0.0)) * max(grown, filled)

    return Range(at(lambda r: r.low), at(lambda r: r.likely), at(lambda r: r.high))


def effective_ratio(
    quicklime_l: float,
    sand_l: float,
    *,
    quicklime_kg_per_l: Range[float],
    purity_share: Range[float],
    putty_solids_share: Range[float],
    bulking_share: Range[float],
) -> Range[float]:
    """What a quicklime mix comes to once slaked: parts of loose dry sand to one of putty.

        parts = sand / (quicklime * expansion) / (1 + bulking)

    Parts by volume; low is the richest the inputs allow, high the leanest. Valid as `expansion_factor`,
    bulking 0 to 0.50; ValueError outside. Source: mass balance (X); published for 1 : 3, about 1 : 2 as
    dry-slaked lime (The Myth in the Mix, R), 1 : 1.1 to 1.6 from old yields (R, derived), 1 : 1 (r).
    Worked: 1 : 3 is 1 : 1.43 on dry sand.

    >>> def same(x: float) -> Range[float]: return Range(x, x, x)
    >>> mix = effective_ratio(1.0, 3.0, quicklime_kg_per_l=same(0.95), purity_share=same(0.92),
    ...                       putty_solids_share=same(0.50), bulking_share=same(0.25))
    >>> round(mix.likely, 2)
    1.43
    """
    parts = positive("sand_l", sand_l) / positive("quicklime_l", quicklime_l)
    grown = expansion_factor(quicklime_kg_per_l, purity_share, putty_solids_share)
    return Range(
        loose_dry_l(parts / grown.high, bulking_share.high),
        loose_dry_l(parts / grown.likely, bulking_share.likely),
        loose_dry_l(parts / grown.low, bulking_share.low),
    )
