"""Hair in plaster: kg for a volume, grams for a batch. A dose is by the volume of the mixed stuff.

Confidence of a source: X computed.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked

DOSE_LIMITS_KG_PER_M3: Final = (0.0, 20.0)  # twice the greatest dose read; above it a unit has been mistaken


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
