"""Hair in plaster: kg for a volume, grams for a batch, and published doses brought to kg in a cubic metre.

A dose is by the volume of the mixed stuff unless a name says otherwise; old American doses are by the volume
of sand, and are left so. Confidence of a source: R read, Rt read on a supplier's page, X computed.
"""

from __future__ import annotations

from typing import Final, Literal

from generator.lime.limits import checked, positive
from generator.values import Range

KG_PER_LB: Final = 0.45359237  # exact, international pound
M3_PER_FT3: Final = 0.028316846592  # exact, international foot
M3_PER_YD3: Final = 0.764554857984  # exact, international yard
DOSE_LIMITS_KG_PER_M3: Final = (0.0, 20.0)  # twice the greatest dose read; above it a unit has been mistaken

BushelCountry = Literal["uk", "us"]
LB_PER_BUSHEL: Final[dict[str, Range[float]]] = {
    "uk": Range(14.0, 14.5, 15.0),  # Notes on Building Construction Pt III (R)
    "us": Range(8.0, 8.0, 8.0),  # American estimating handbook, volume 4 (R)
}


def hair_kg(mortar_m3: float, dose_kg_per_m3: float) -> float:
    """The hair for a volume of mortar.

        kg = volume * dose

    kg. Valid for doses of 0 to 20 kg/m3; ValueError outside. Source: arithmetic (X). Worked: 0.5 m3 at
    8 kg/m3 takes 4 kg.

    >>> hair_kg(0.5, 8.0)
    4.0
    """
    dose = checked("dose_kg_per_m3", dose_kg_per_m3, *DOSE_LIMITS_KG_PER_M3)
    return checked("mortar_m3", mortar_m3, 0.0) * dose


def hair_g_per_batch(batch_l: float, dose_kg_per_m3: float) -> float:
    """The hair for one batch of mortar.

        grams = litres * dose   (a kg/m3 is a g/l)

    g. Valid for doses of 0 to 20 kg/m3; ValueError outside. Source: arithmetic (X). Worked: 70 l at 5 kg/m3
    takes 350 g.

    >>> hair_g_per_batch(70.0, 5.0)
    350.0
    """
    dose = checked("dose_kg_per_m3", dose_kg_per_m3, *DOSE_LIMITS_KG_PER_M3)
    return checked("batch_l", batch_l, 0.0) * dose


def kg_per_m3_of_lb_in_ft3(hair_lb: float, stuff_ft3: float) -> float:
    """The dose in kg/m3 of so many pounds of hair to so many cubic feet of coarse stuff.

        dose = lb * 0.45359237 / (ft3 * 0.0283168)

    kg/m3. Valid for a volume above 0; ValueError outside. Source: exact units (X). Worked: 1 lb to 2 ft3 is
    8.0 (best work), to 3 ft3 is 5.3 (ordinary), Notes on Building Construction Pt III (R).

    >>> round(kg_per_m3_of_lb_in_ft3(1.0, 2.0), 2), round(kg_per_m3_of_lb_in_ft3(1.0, 3.0), 2)
    (8.01, 5.34)
    """
    return checked("hair_lb", hair_lb, 0.0) * KG_PER_LB / (positive("stuff_ft3", stuff_ft3) * M3_PER_FT3)


def bushels_kg(bushels: float, country: BushelCountry | None = None) -> Range[float]:
    """The weight of bushels of hair, of the country that is named.

        kg = bushels * lb a bushel * 0.45359237

    kg. A bushel of hair was 14 to 15 lb in Britain and 8 lb in America, so the country must be said:
    ValueError without it. Source: Notes on Building Construction Pt III (R); American handbook (R).

    >>> round(bushels_kg(1.0, "us").likely, 2), round(bushels_kg(1.0, "uk").low, 2)
    (3.63, 6.35)
    """
    if country not in LB_PER_BUSHEL:
        raise ValueError(f"bushel of {country}: say uk (14 to 15 lb of hair) or us (8 lb)")
    return LB_PER_BUSHEL[country].times(checked("bushels", bushels, 0.0) * KG_PER_LB)


def kg_per_m3_of_bushels_in_yd3(
    bushels: float, yd3: float, country: BushelCountry | None = None
) -> Range[float]:
    """The dose in kg/m3 of so many bushels of hair to so many cubic yards, of whatever the yards measured.

        dose = kg of the bushels / (yd3 * 0.764555)

    kg/m3, of sand where the source counted sand. Valid for a volume above 0 and a country named; ValueError
    otherwise. Source: exact units, `bushels_kg` (X). Worked: 3 American bushels to 1 yd3 of sand is 14 kg/m3
    of sand, TIBM-26 of the US National Bureau of Standards (1936, R).

    >>> round(kg_per_m3_of_bushels_in_yd3(3.0, 1.0, "us").likely, 1)
    14.2
    """
    return bushels_kg(bushels, country).times(1.0 / (positive("yd3", yd3) * M3_PER_YD3))


def kg_per_m3_of_kg_per_tonne(dose_kg_per_tonne: float, mortar_kg_per_m3: float) -> float:
    """The dose in kg/m3 of a dose by weight of mortar; a kg/t is a g/kg.

        dose = kg a tonne * mortar density / 1000

    kg/m3. Valid for mortar of 1000 to 2300 kg/m3; ValueError outside. Source: arithmetic (X). Worked: 2 g/kg
    at 1750 kg/m3 is 3.5 (Rt).

    >>> kg_per_m3_of_kg_per_tonne(2.0, 1750.0)
    3.5
    """
    density = checked("mortar_kg_per_m3", mortar_kg_per_m3, 1000.0, 2300.0)
    return checked("dose_kg_per_tonne", dose_kg_per_tonne, 0.0) * density / 1000.0
