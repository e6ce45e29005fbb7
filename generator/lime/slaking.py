"""Slaking quicklime: lime, water, heat, steam and growth, in water, dry, or with damp sand.

Heat, steam and growth are cautions. A heap loses heat, slakes over minutes and has dry pockets, so nothing
here is a safe batch size, a safe vessel or the temperature that will be met; no figure relaxes a precaution.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
Water in sand is by dry mass; purity is the share of free CaO by mass, the rest taken as inert carbonate.
"""

from __future__ import annotations

from typing import Final

from generator.lime import putty
from generator.lime.limits import checked, positive
from generator.lime.putty import SOLIDS_SHARE_LIMITS
from generator.lime.sand import MOISTURE_SHARE_LIMITS, loose_dry_l
from generator.values import Struct

# g/mol, from the standard atomic weights as held by the package chemicals 1.5.2 (R).
CAO_G_PER_MOL: Final = 56.0774
WATER_G_PER_MOL: Final = 18.01528
HYDRATE_G_PER_MOL: Final = 74.09268
CARBON_DIOXIDE_G_PER_MOL: Final = 44.0095

# kg for kg, from the molar masses (X).
WATER_PER_CAO: Final = WATER_G_PER_MOL / CAO_G_PER_MOL
HYDRATE_PER_CAO: Final = HYDRATE_G_PER_MOL / CAO_G_PER_MOL
CARBON_DIOXIDE_PER_HYDRATE: Final = CARBON_DIOXIDE_G_PER_MOL / HYDRATE_G_PER_MOL

# 64.475 kJ/mol from the CRC enthalpies of formation (X); the NASA set gives 65.182, 1.1 % more.
HEAT_KJ_PER_KG_CAO: Final = 64.475 / CAO_G_PER_MOL * 1000.0

# kJ/kg K, means over 15 to 100 C rounded from the NASA polynomials (X); water by IAPWS-97 (R). Inert is
# calcite at 25 C, 5 % under its mean, which leaves the bound a hair higher.
SAND_KJ_PER_KG_K: Final = 0.80
HYDRATE_KJ_PER_KG_K: Final = 1.25
INERT_KJ_PER_KG_K: Final = 0.84
WATER_KJ_PER_KG_K: Final = 4.189

BOILING_C: Final = 99.974  # at 101325 Pa, IAPWS-97 (R)
STEAM_KJ_PER_KG: Final = 2256.5  # latent heat there, IAPWS-97 (R)

PURITY_SHARE_LIMITS: Final = (0.40, 1.0)
START_C_LIMITS: Final = (0.0, 95.0)
QUICKLIME_KG_PER_L_LIMITS: Final = (0.5, 1.6)


class Slaking(Struct, frozen=True):
    """The heat that slaking sets free, the steam it could boil off, and the water to add at the start."""

    heat_kj: float
    steam_kg: float
    water_to_add_kg: float


def cao_kg(quicklime_kg: float, purity_share: float) -> float:
    """The free CaO in so much quicklime.

        CaO = quicklime * purity

    kg. Valid for purity 0.40 to 1; ValueError outside. Source: mass balance (X); EN 459-1 takes CL 90 at
    CaO + MgO of at least 0.90 and available lime of at least 0.80 (M).

    >>> round(cao_kg(0.95, 0.92), 3)
    0.874
    """
    purity = checked("purity_share", purity_share, *PURITY_SHARE_LIMITS)
    return purity * checked("quicklime_kg", quicklime_kg, 0.0)


def bound_water_kg(pure_cao_kg: float) -> float:
    """The water that slaking binds into the lime.

        water = 0.32126 * CaO

    kg. Valid from 0 up; ValueError below. Source: molar masses (X). Worked: 0.874 kg binds 0.2808 kg.

    >>> round(bound_water_kg(0.874), 4)
    0.2808
    """
    return WATER_PER_CAO * checked("pure_cao_kg", pure_cao_kg, 0.0)


def hydrate_kg(pure_cao_kg: float) -> float:
    """The slaked lime, as Ca(OH)2, that so much CaO becomes.

        hydrate = 1.32126 * CaO

    kg. Valid from 0 up; ValueError below. Source: molar masses (X). Worked: 0.874 kg becomes 1.1548 kg.

    >>> round(hydrate_kg(0.874), 4)
    1.1548
    """
    return HYDRATE_PER_CAO * checked("pure_cao_kg", pure_cao_kg, 0.0)


def slaking_heat_kj(pure_cao_kg: float) -> float:
    """The heat that slaking sets free: a caution, not a forecast of temperature.

        heat = 1149.8 * CaO

    kJ. Valid from 0 up; ValueError below. Source: CRC enthalpies of formation (X), 1.1 % under the NASA set.
    Worked: 0.874 kg sets 1004.9 kJ free.

    >>> round(slaking_heat_kj(0.874), 1)
    1004.9
    """
    return HEAT_KJ_PER_KG_CAO * checked("pure_cao_kg", pure_cao_kg, 0.0)


def hot_mix(
    quicklime_l: float,
    sand_l: float,
    *,
    quicklime_kg_per_l: float,
    purity_share: float,
    sand_dry_kg_per_l: float,
    sand_moisture_share: float,
    bulking_share: float,
    putty_solids_share: float,
    start_c: float,
) -> Slaking:
    """The water, heat and steam of slaking quicklime with damp sand, all the water there from the start.

        free  = hydrate * (1 - solids) / solids
        C     = 0.80 sand + 1.25 hydrate + 0.84 inert + 4.189 free          kJ/K
        steam = (1149.8 CaO - C (99.97 - start)) / 2256.5, not below 0
        add   = bound + free + steam - water in the sand, not below 0

    Litres as measured (sand damp and loose), kg/l loose (sand dry), shares, C. Valid for quicklime 0.5 to
    1.6 kg/l, purity 0.40 to 1, moisture to 0.20 of dry mass, bulking to 0.50, solids 0.05 to 0.70, start 0 to
    95 C; ValueError outside. Steam is an upper bound, all the heat kept in; boiling stops the heat where water
    is, dry spots run hotter. No figure here makes a batch safe. Source: heat balance (X); no measured record
    of a hot mix was found. Worked, 1 : 3: 1004.9 kJ, 0.094 kg steam, 1.344 kg to add.

    >>> mix = hot_mix(1.0, 3.0, quicklime_kg_per_l=0.95, purity_share=0.92, sand_dry_kg_per_l=1.55,
    ...               sand_moisture_share=0.05, bulking_share=0.25, putty_solids_share=0.50, start_c=15.0)
    >>> round(mix.heat_kj, 1), round(mix.steam_kg, 3), round(mix.water_to_add_kg, 3)
    (1004.9, 0.094, 1.344)
    """
    density = checked("quicklime_kg_per_l", quicklime_kg_per_l, *QUICKLIME_KG_PER_L_LIMITS)
    lime_kg = positive("quicklime_l", quicklime_l) * density
    sand_kg = loose_dry_l(sand_l, bulking_share) * positive("sand_dry_kg_per_l", sand_dry_kg_per_l)
    in_sand_kg = sand_kg * checked("sand_moisture_share", sand_moisture_share, *MOISTURE_SHARE_LIMITS)
    solids = checked("putty_solids_share", putty_solids_share, *SOLIDS_SHARE_LIMITS)
    pure_kg = cao_kg(lime_kg, purity_share)
    slaked_kg = hydrate_kg(pure_kg)
    free_kg = slaked_kg * (1.0 - solids) / solids
    solids_kj_per_k = SAND_KJ_PER_KG_K * sand_kg + HYDRATE_KJ_PER_KG_K * slaked_kg
    kj_per_k = solids_kj_per_k + INERT_KJ_PER_KG_K * (lime_kg - pure_kg) + WATER_KJ_PER_KG_K * free_kg
    heat_kj = slaking_heat_kj(pure_kg)
    to_the_boil_kj = kj_per_k * (BOILING_C - checked("start_c", start_c, *START_C_LIMITS))
    steam_kg = max(0.0, (heat_kj - to_the_boil_kj) / STEAM_KJ_PER_KG)
    return Slaking(heat_kj, steam_kg, max(0.0, bound_water_kg(pure_kg) + free_kg + steam_kg - in_sand_kg))


def putty_l_per_kg_quicklime(purity_share: float, putty_solids_share: float) -> float:
    """The litres of putty from one kg of quicklime.

        litres = 1.32126 purity / (solids * density)

    l/kg. Valid for purity 0.40 to 1, solids 0.05 to 0.70; ValueError outside. Source: mass balance (X).
    Worked: pure, 45 % solids, 2.21 l/kg; Building Trades Pocketbook 2.20, Cyclopedia of Carpentry 2.44 (r).

    >>> round(putty_l_per_kg_quicklime(1.0, 0.45), 2)
    2.21
    """
    return putty.putty_l_from_hydrate(hydrate_kg(cao_kg(1.0, purity_share)), putty_solids_share)
