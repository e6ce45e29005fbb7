"""Slaking quicklime: lime, water, heat, steam and growth, in water, dry, or with damp sand.

Heat, steam and growth are cautions. A heap loses heat, slakes over minutes and has dry pockets, so nothing
here is a safe batch size, a safe vessel or the temperature that will be met; no figure relaxes a precaution.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
Water in sand is by dry mass; purity is the share of free CaO by mass, the rest taken as inert carbonate.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from generator.lime import putty
from generator.lime.limits import checked, positive
from generator.lime.putty import SOLIDS_SHARE_LIMITS
from generator.lime.sand import MOISTURE_SHARE_LIMITS, loose_dry_l

# g/mol, from the standard atomic weights as held by the package chemicals 1.5.2 (R).
CAO_G_PER_MOL: Final = 56.0774
WATER_G_PER_MOL: Final = 18.01528
HYDRATE_G_PER_MOL: Final = 74.09268
CARBON_DIOXIDE_G_PER_MOL: Final = 44.0095
CARBONATE_G_PER_MOL: Final = 100.0869

# kg for kg, from the molar masses (X).
WATER_PER_CAO: Final = WATER_G_PER_MOL / CAO_G_PER_MOL
HYDRATE_PER_CAO: Final = HYDRATE_G_PER_MOL / CAO_G_PER_MOL
CAO_PER_HYDRATE: Final = CAO_G_PER_MOL / HYDRATE_G_PER_MOL
WATER_PER_HYDRATE: Final = WATER_G_PER_MOL / HYDRATE_G_PER_MOL
CARBON_DIOXIDE_PER_HYDRATE: Final = CARBON_DIOXIDE_G_PER_MOL / HYDRATE_G_PER_MOL
CARBONATE_PER_HYDRATE: Final = CARBONATE_G_PER_MOL / HYDRATE_G_PER_MOL
CARBON_DIOXIDE_PER_CARBONATE: Final = CARBON_DIOXIDE_G_PER_MOL / CARBONATE_G_PER_MOL

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
DEHYDRATION_C: Final = 521.0  # above it Ca(OH)2 gives its water up again, at 1 bar; Gibbs balance (X)

PURITY_SHARE_LIMITS: Final = (0.40, 1.0)
START_C_LIMITS: Final = (0.0, 95.0)
QUICKLIME_KG_PER_L_LIMITS: Final = (0.5, 1.6)


@dataclass(frozen=True, slots=True)
class Slaking:
    """What slaking binds, frees and drives off.

    `upper_bound_c` is the temperature if no heat were lost and nothing boiled, held down to `DEHYDRATION_C`
    where `capped`: a bound for cautions, never the temperature that will be met. `steam_kg` is what the heat
    could boil off in that case; `boils_dry` says it could take all the free water. `water_surplus_kg` is what
    damp sand brings beyond the need.
    """

    quicklime_kg: float
    cao_kg: float
    inert_kg: float
    sand_dry_kg: float
    sand_water_kg: float
    bound_water_kg: float
    hydrate_kg: float
    free_water_kg: float
    heat_kj: float
    start_c: float
    upper_bound_c: float
    capped: bool
    boils: bool
    boils_dry: bool
    steam_kg: float
    water_to_add_kg: float
    water_surplus_kg: float

    @property
    def water_in_all_kg(self) -> float:
        """Bound, free and boiled-off water together."""
        return self.bound_water_kg + self.free_water_kg + self.steam_kg


@dataclass(frozen=True, slots=True)
class _Charge:
    """What goes into a slake before the heat is reckoned."""

    quicklime_kg: float
    cao_kg: float
    sand_dry_kg: float
    sand_water_kg: float
    free_water_kg: float
    start_c: float

    @property
    def kj_per_k(self) -> float:
        """Heat that warms solids and free water by one degree."""
        solids = _solids_kj_per_k(self.sand_dry_kg, hydrate_kg(self.cao_kg), self.quicklime_kg - self.cao_kg)
        return solids + WATER_KJ_PER_KG_K * self.free_water_kg


def _solids_kj_per_k(sand_kg: float, slaked_kg: float, inert_kg: float) -> float:
    return SAND_KJ_PER_KG_K * sand_kg + HYDRATE_KJ_PER_KG_K * slaked_kg + INERT_KJ_PER_KG_K * inert_kg


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


def cao_carried_kg_per_l(putty_solids_share: float) -> float:
    """The lime that a litre of putty carries, reckoned as CaO.

        carried = 0.75685 * solids * density

    kg/l. Valid for solids 0.05 to 0.70; ValueError outside. Source: putty densities and molar masses (X).
    Worked: 45 % solids carries 0.453 kg/l; stiff paste of the old handbooks 0.455 (R, derived).

    >>> round(cao_carried_kg_per_l(0.45), 3)
    0.453
    """
    return CAO_PER_HYDRATE * putty.hydrate_carried_kg_per_l(putty_solids_share)


def slaking_heat_kj(pure_cao_kg: float) -> float:
    """The heat that slaking sets free: a caution, not a forecast of temperature.

        heat = 1149.8 * CaO

    kJ. Valid from 0 up; ValueError below. Source: CRC enthalpies of formation (X), 1.1 % under the NASA set.
    Worked: 0.874 kg sets 1004.9 kJ free.

    >>> round(slaking_heat_kj(0.874), 1)
    1004.9
    """
    return HEAT_KJ_PER_KG_CAO * checked("pure_cao_kg", pure_cao_kg, 0.0)


def _slaked(charge: _Charge, steam_wanted_kg: float, boils_dry: bool = False) -> Slaking:
    """The result of a charge once its steam is known."""
    heat = slaking_heat_kj(charge.cao_kg)
    end_c = charge.start_c + heat / charge.kj_per_k
    bound = bound_water_kg(charge.cao_kg)
    wanted = bound + charge.free_water_kg + steam_wanted_kg - charge.sand_water_kg
    return Slaking(
        quicklime_kg=charge.quicklime_kg,
        cao_kg=charge.cao_kg,
        inert_kg=charge.quicklime_kg - charge.cao_kg,
        sand_dry_kg=charge.sand_dry_kg,
        sand_water_kg=charge.sand_water_kg,
        bound_water_kg=bound,
        hydrate_kg=hydrate_kg(charge.cao_kg),
        free_water_kg=charge.free_water_kg,
        heat_kj=heat,
        start_c=charge.start_c,
        upper_bound_c=min(end_c, DEHYDRATION_C),
        capped=end_c > DEHYDRATION_C,
        boils=end_c > BOILING_C,
        boils_dry=boils_dry,
        steam_kg=steam_wanted_kg,
        water_to_add_kg=max(0.0, wanted),
        water_surplus_kg=max(0.0, -wanted),
    )


def _steam_kg(charge: _Charge) -> float:
    """The water that the heat could boil off once everything present has come to the boil."""
    spare = slaking_heat_kj(charge.cao_kg) - charge.kj_per_k * (BOILING_C - charge.start_c)
    return max(0.0, spare / STEAM_KJ_PER_KG)


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

        free = hydrate * (1 - solids) / solids
        C    = 0.80 sand + 1.25 hydrate + 0.84 inert + 4.189 free           kJ/K
        T    = start + 1149.8 CaO / C;   steam = (1149.8 CaO - C (99.97 - start)) / 2256.5, not below 0
        add  = bound + free + steam - water in the sand

    Litres as measured (sand damp and loose), kg/l loose (sand dry), shares, C. Valid for quicklime 0.5 to
    1.6 kg/l, purity 0.40 to 1, moisture to 0.20 of dry mass, bulking to 0.50, solids 0.05 to 0.70, start 0 to
    95 C; ValueError outside. The temperature is an upper bound: where water is, boiling stops it; dry spots
    run hotter. No figure here makes a batch safe. Source: heat balance (X); no measured record of a hot mix
    was found. Worked, 1 : 3: 122.8 C if nothing boiled, 0.094 kg steam, 1.344 kg to add.

    >>> mix = hot_mix(1.0, 3.0, quicklime_kg_per_l=0.95, purity_share=0.92, sand_dry_kg_per_l=1.55,
    ...               sand_moisture_share=0.05, bulking_share=0.25, putty_solids_share=0.50, start_c=15.0)
    >>> round(mix.upper_bound_c, 1), mix.boils, round(mix.steam_kg, 3), round(mix.water_to_add_kg, 3)
    (122.8, True, 0.094, 1.344)
    """
    density = checked("quicklime_kg_per_l", quicklime_kg_per_l, *QUICKLIME_KG_PER_L_LIMITS)
    lime_kg = positive("quicklime_l", quicklime_l) * density
    sand_kg = loose_dry_l(sand_l, bulking_share) * positive("sand_dry_kg_per_l", sand_dry_kg_per_l)
    solids = checked("putty_solids_share", putty_solids_share, *SOLIDS_SHARE_LIMITS)
    pure_kg = cao_kg(lime_kg, purity_share)
    charge = _Charge(
        quicklime_kg=lime_kg,
        cao_kg=pure_kg,
        sand_dry_kg=sand_kg,
        sand_water_kg=sand_kg * checked("sand_moisture_share", sand_moisture_share, *MOISTURE_SHARE_LIMITS),
        free_water_kg=hydrate_kg(pure_kg) * (1.0 - solids) / solids,
        start_c=checked("start_c", start_c, *START_C_LIMITS),
    )
    return _slaked(charge, _steam_kg(charge))


def slake_in_water(quicklime_kg: float, water_kg: float, *, purity_share: float, start_c: float) -> Slaking:
    """The heat and steam of quicklime put into water, as in a putty tank; quicklime into water, never water
    onto quicklime in a tank.

        free = water - 0.32126 CaO;   T = start + 1149.8 CaO / (1.25 hydrate + 0.84 inert + 4.189 free)

    kg and C. Valid from the water that slaking binds upwards, purity 0.40 to 1, start 0 to 95 C; ValueError
    outside. Steam is held to the free water (`boils_dry`). An upper bound, as for `hot_mix`. Source: heat
    balance (X). Worked: water 4 : 1 by mass at 92 % rises 62 K; a lime slaker maker states up to 57 K (r).

    >>> tank = slake_in_water(1.0, 4.0, purity_share=0.92, start_c=15.0)
    >>> round(tank.upper_bound_c - tank.start_c, 1), tank.boils
    (61.8, False)
    """
    pure_kg = cao_kg(positive("quicklime_kg", quicklime_kg), purity_share)
    least_kg = bound_water_kg(pure_kg)
    charge = _Charge(
        quicklime_kg=quicklime_kg,
        cao_kg=pure_kg,
        sand_dry_kg=0.0,
        sand_water_kg=0.0,
        free_water_kg=max(0.0, checked("water_kg", water_kg, least_kg - 1e-9) - least_kg),
        start_c=checked("start_c", start_c, *START_C_LIMITS),
    )
    could_boil_kg = _steam_kg(charge)
    steam = min(could_boil_kg, charge.free_water_kg)
    dry = could_boil_kg > 0.0 and could_boil_kg >= charge.free_water_kg
    # The steam comes out of the water given, so what is left free is the less.
    left_kg = charge.free_water_kg - steam
    return replace(_slaked(charge, steam, dry), free_water_kg=left_kg, water_to_add_kg=water_kg)


def dry_slake(
    quicklime_kg: float,
    *,
    purity_share: float,
    sand_dry_kg: float,
    sand_moisture_share: float,
    start_c: float,
) -> Slaking:
    """The water and steam of slaking to a dry powder, with or without sand: no free water is left over.

        steam = (1149.8 CaO - C (99.97 - start)) / 2256.5;   C = 0.80 sand + 1.25 hydrate + 0.84 inert
        T     = start + 1149.8 CaO / C, held down to 521 C (said in `capped`)

    kg, share of dry sand, C. Valid for purity 0.40 to 1, moisture to 0.20, start 0 to 95 C; ValueError
    outside. The upper bound of all: it tells how hot starved lime may get, and is why plastic and timber are
    kept away. Source: heat balance and dehydration (X); published 150 C (r) to 350 C (R). Worked: 0.95 kg in
    3.72 kg of sand, 0.277 kg steam, 0.557 kg water in all, at most 239 C.

    >>> powder = dry_slake(0.95, purity_share=0.92, sand_dry_kg=3.72, sand_moisture_share=0.05, start_c=15.0)
    >>> round(powder.steam_kg, 4), round(powder.water_in_all_kg, 4), round(powder.upper_bound_c)
    (0.2765, 0.5573, 239)
    """
    sand_kg = checked("sand_dry_kg", sand_dry_kg, 0.0)
    charge = _Charge(
        quicklime_kg=positive("quicklime_kg", quicklime_kg),
        cao_kg=cao_kg(quicklime_kg, purity_share),
        sand_dry_kg=sand_kg,
        sand_water_kg=sand_kg * checked("sand_moisture_share", sand_moisture_share, *MOISTURE_SHARE_LIMITS),
        free_water_kg=0.0,
        start_c=checked("start_c", start_c, *START_C_LIMITS),
    )
    return _slaked(charge, _steam_kg(charge))


def free_water_where_boiling_stops_kg(slaking: Slaking) -> float:
    """The free water with which the mass would only just not boil: a comparison, not a safe amount.

        free = (heat - (0.80 sand + 1.25 hydrate + 0.84 inert) rise) / (4.189 rise);   rise = 99.97 - start

    kg, not below 0. Source: heat balance (X); a heap boils in its dry pockets whatever the mean. Worked: the
    1 : 3 example needs 1.753 kg, 2.0 kg a kg of CaO.

    >>> tank = slake_in_water(1.0, 4.0, purity_share=1.0, start_c=15.0)
    >>> round(free_water_where_boiling_stops_kg(tank), 2)
    2.84
    """
    rise = BOILING_C - slaking.start_c
    solids_kj = _solids_kj_per_k(slaking.sand_dry_kg, slaking.hydrate_kg, slaking.inert_kg) * rise
    return max(0.0, (slaking.heat_kj - solids_kj) / (WATER_KJ_PER_KG_K * rise))


def putty_water_kg(quicklime_kg: float, *, purity_share: float, putty_solids_share: float) -> float:
    """The water that stays in the putty of so much quicklime, bound and free; what boils off comes on top.

        water = 0.32126 CaO + 1.32126 CaO (1 - solids) / solids

    kg. Valid for purity 0.40 to 1, solids 0.05 to 0.70; ValueError outside. Source: mass balance (X); the
    handbooks take 2.5 to 3 volumes of water to one of lime (R), steam and what is drained off included.

    >>> round(putty_water_kg(0.95, purity_share=0.92, putty_solids_share=0.50), 4)
    1.4356
    """
    pure_kg = cao_kg(quicklime_kg, purity_share)
    solids = checked("putty_solids_share", putty_solids_share, *SOLIDS_SHARE_LIMITS)
    return bound_water_kg(pure_kg) + hydrate_kg(pure_kg) * (1.0 - solids) / solids


def putty_l_per_kg_quicklime(purity_share: float, putty_solids_share: float) -> float:
    """The litres of putty from one kg of quicklime.

        litres = 1.32126 purity / (solids * density)

    l/kg. Valid for purity 0.40 to 1, solids 0.05 to 0.70; ValueError outside. Source: mass balance (X).
    Worked: pure, 45 % solids, 2.21 l/kg; Building Trades Pocketbook 2.20, Cyclopedia of Carpentry 2.44 (r).

    >>> round(putty_l_per_kg_quicklime(1.0, 0.45), 2)
    2.21
    """
    return putty.putty_l_from_hydrate(hydrate_kg(cao_kg(1.0, purity_share)), putty_solids_share)
