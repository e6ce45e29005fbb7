"""What a slaked mix comes to: its growth, the vessel it needs, what its heat softens, and its true ratio.

Growth and heat are cautions: no figure here makes a vessel or a batch safe.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

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


@dataclass(frozen=True, slots=True)
class Plastic:
    """A common plastic, the temperature to which it may be taken for a short time, and where it melts."""

    name: str
    short_limit_c: float
    melts_c: Range[float] | None
    source: str
    confidence: str


PLASTICS: Final = (
    Plastic("HDPE", 80.0, Range(130.0, 133.5, 137.0), "plastics references, with 50 C for long use", "R"),
    Plastic("LDPE", 80.0, Range(105.0, 110.0, 115.0), "from memory", "M"),
    Plastic("PVC-U", 75.0, None, "from memory: softens, does not melt cleanly", "M"),
    Plastic("polypropylene", 100.0, Range(160.0, 163.0, 165.0), "from memory", "M"),
    Plastic("polystyrene", 90.0, None, "from memory: softens, does not melt cleanly", "M"),
)


def plastics_softened_at(temperature_c: float) -> tuple[Plastic, ...]:
    """The common plastics that a temperature takes beyond their short-time limit.

    C, compared with `short_limit_c`. Valid from 0 C up; ValueError below. A plastic that is not listed is not
    thereby fit: slake in metal. Source: as each plastic names; HDPE 80 C for a short time, melts at 130 to
    137 C (R), the others from memory (M).

    >>> [plastic.name for plastic in plastics_softened_at(85.0)]
    ['HDPE', 'LDPE', 'PVC-U']
    """
    checked("temperature_c", temperature_c, 0.0)
    return tuple(plastic for plastic in PLASTICS if plastic.short_limit_c < temperature_c)


@dataclass(frozen=True, slots=True)
class EffectiveRatio:
    """The parts of sand to one of lime putty that a quicklime mix comes to, counted dry and as measured."""

    sand_dry_parts: Range[float]
    sand_damp_parts: Range[float]


def effective_ratio(
    quicklime_l: float,
    sand_l: float,
    *,
    quicklime_kg_per_l: Range[float],
    purity_share: Range[float],
    putty_solids_share: Range[float],
    bulking_share: Range[float],
) -> EffectiveRatio:
    """What a quicklime mix comes to once slaked: parts of sand to one of putty.

        damp = sand / (quicklime * expansion);   dry = damp / (1 + bulking)

    Parts by volume; low is the richest the inputs allow, high the leanest. Valid as `expansion_factor`,
    bulking 0 to 0.50; ValueError outside. Source: mass balance (X); published for 1 : 3, about 1 : 2 as
    dry-slaked lime (The Myth in the Mix, R), 1 : 1.1 to 1.6 from old yields (R, derived), 1 : 1 (r).
    Worked: 1 : 3 is 1 : 1.43 on dry sand, 1 : 1.79 on damp.

    >>> def same(x: float) -> Range[float]: return Range(x, x, x)
    >>> mix = effective_ratio(1.0, 3.0, quicklime_kg_per_l=same(0.95), purity_share=same(0.92),
    ...                       putty_solids_share=same(0.50), bulking_share=same(0.25))
    >>> round(mix.sand_dry_parts.likely, 2), round(mix.sand_damp_parts.likely, 2)
    (1.43, 1.79)
    """
    parts = positive("sand_l", sand_l) / positive("quicklime_l", quicklime_l)
    grown = expansion_factor(quicklime_kg_per_l, purity_share, putty_solids_share)
    damp = Range(parts / grown.high, parts / grown.likely, parts / grown.low)
    dry = Range(
        loose_dry_l(damp.low, bulking_share.high),
        loose_dry_l(damp.likely, bulking_share.likely),
        loose_dry_l(damp.high, bulking_share.low),
    )
    return EffectiveRatio(dry, damp)
