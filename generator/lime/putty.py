"""Lime putty: density and solids, lime carried, and the band it is taken in.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
"""

from __future__ import annotations

from typing import Final, Literal

from generator.lime.limits import checked
from generator.values import Struct

HYDRATE_KG_PER_L: Final = 2.24  # handbook density of Ca(OH)2 (M); data packages say 2.20, 0.6 % less putty
WATER_KG_PER_L: Final = 0.998  # at 20 C, IAPWS-97 (R)
SOLIDS_SHARE_LIMITS: Final = (0.05, 0.70)  # milk of lime to paste; drier than that it holds air
PUTTY_LIMITS_KG_PER_L: Final = (1.03, 1.63)  # the densities of those solids

PuttyBand = Literal["light", "within", "heavy"]


def putty_density_kg_per_l(solids_share: float) -> float:
    """The density of a putty from the share of its mass that is slaked lime.

        density = 1 / (solids / 2.24 + (1 - solids) / 0.998)

    kg/l from a share by mass. Valid 0.05 to 0.70, pure lime and water without air (table worked 0.30 to
    0.60); ValueError outside. Source: mixture of the two densities (X; 2.24 M). Worked: 45 % is 1.330 kg/l.

    >>> round(putty_density_kg_per_l(0.45), 3)
    1.33
    """
    solids = checked("solids_share", solids_share, *SOLIDS_SHARE_LIMITS)
    return 1.0 / (solids / HYDRATE_KG_PER_L + (1.0 - solids) / WATER_KG_PER_L)


def putty_solids_share(density_kg_per_l: float) -> float:
    """The share of a putty's mass that is slaked lime, from its density.

        solids = (1 / density - 1 / 0.998) / (1 / 2.24 - 1 / 0.998)

    A share by mass from kg/l. Valid from 1.026 to 1.631 kg/l (solids 0.05 to 0.70); ValueError outside.
    Grit in the putty reads as lime. Source: as `putty_density_kg_per_l` (X). Worked: 1.35 kg/l holds 47.0 %.

    >>> round(putty_solids_share(1.35), 3)
    0.47
    """
    low, high = (putty_density_kg_per_l(share) for share in SOLIDS_SHARE_LIMITS)
    density = checked("density_kg_per_l", density_kg_per_l, low - 1e-9, high + 1e-9)
    return (1.0 / density - 1.0 / WATER_KG_PER_L) / (1.0 / HYDRATE_KG_PER_L - 1.0 / WATER_KG_PER_L)


def hydrate_carried_kg_per_l(solids_share: float) -> float:
    """The slaked lime, as Ca(OH)2, in a litre of putty.

        carried = solids * density

    kg/l. Valid for solids 0.05 to 0.70; ValueError outside. Source: as `putty_density_kg_per_l` (X).
    Worked: 50 % solids carries 0.690 kg/l.

    >>> round(hydrate_carried_kg_per_l(0.50), 3)
    0.69
    """
    return solids_share * putty_density_kg_per_l(solids_share)


def putty_l_from_hydrate(hydrate_kg: float, solids_share: float) -> float:
    """The litres of putty that so much slaked lime makes at a solids share.

        litres = hydrate / carried

    l from kg of Ca(OH)2. Valid for solids 0.05 to 0.70; ValueError outside. Source: as
    `putty_density_kg_per_l` (X). Worked: 1.1548 kg at 50 % makes 1.673 l.

    >>> round(putty_l_from_hydrate(1.1548, 0.50), 3)
    1.673
    """
    return checked("hydrate_kg", hydrate_kg, 0.0) / hydrate_carried_kg_per_l(solids_share)


class PuttyCheck(Struct, frozen=True):
    """A putty's density against an acceptance band; `solids_share` holds only for putty without grit."""

    density_kg_per_l: float
    low_kg_per_l: float
    high_kg_per_l: float
    solids_share: float
    band: PuttyBand


def putty_check(density_kg_per_l: float, low_kg_per_l: float, high_kg_per_l: float) -> PuttyCheck:
    """Where a density lies against the band asked for: light, within (limits included) or heavy.

    kg/l; the band is the caller's. Valid where `putty_solids_share` is; ValueError outside, and for a band
    that runs backwards. Density alone never accepts a putty: weight may be less water or more grit, and the
    sources contradict one another (at least 1.35, stiff 1.4 to 1.45, M; 1.30 the best and 1.45 rejected, r),
    so residue and popping tests go with it.

    >>> putty_check(1.38, 1.35, 1.45).band
    'within'
    """
    if not low_kg_per_l <= high_kg_per_l:
        raise ValueError(f"the band is {low_kg_per_l} to {high_kg_per_l} kg/l: valid with low not above high")
    solids = putty_solids_share(density_kg_per_l)
    band: PuttyBand = "within"
    if density_kg_per_l < low_kg_per_l:
        band = "light"
    elif density_kg_per_l > high_kg_per_l:
        band = "heavy"
    return PuttyCheck(density_kg_per_l, low_kg_per_l, high_kg_per_l, solids, band)
