"""Hair in plaster: grams for a batch. A dose is by the volume of the mixed stuff.

Confidence of a source: X computed.
"""

from __future__ import annotations

from typing import Final

from generator.lime.limits import checked

DOSE_LIMITS_KG_PER_M3: Final = (0.0, 20.0)  # twice the greatest dose read; above it a unit has been mistaken


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
