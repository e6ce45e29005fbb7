"""Carbon of a mortar: what making its materials emits, and apart from it what lime may take back.

The figures are the caller's factors times the kg in a cubic metre, from cradle to gate: no haulage, waste,
use or end of life. They cannot say that lime is lower in carbon than cement: by the kg, ICE v2.0 (2011, R)
puts lime above average cement and a producer's table (r) puts NHL below; a comparison needs whole mixes, one
boundary for both, and a stated credit for carbonation, which cement has too. Nothing here is a declaration
under any standard.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from generator.lime.limits import checked
from generator.values import Range, Struct, total

NO_UPTAKE: Final = Range(0.0, 0.0, 0.0)


class CarbonItem(Struct, frozen=True):
    """One material of a mortar: kg in a m3, kgCO2e emitted a kg, and kgCO2 a kg it may take back."""

    name: str
    kg_per_m3: float
    emitted_kgco2e_per_kg: Range[float]
    reabsorbed_kgco2_per_kg: Range[float] = NO_UPTAKE

    def __post_init__(self) -> None:
        checked(f"kg_per_m3 of {self.name}", self.kg_per_m3, 0.0)
        checked(f"emitted_kgco2e_per_kg of {self.name}", self.emitted_kgco2e_per_kg.low, 0.0)
        checked(f"reabsorbed_kgco2_per_kg of {self.name}", self.reabsorbed_kgco2_per_kg.low, 0.0)


class MortarCarbon(Struct, frozen=True):
    """Emission and later uptake of a m3 of mortar, side by side and never set off against each other."""

    emitted_kgco2e_per_m3: Range[float]
    reabsorbed_kgco2_per_m3: Range[float]


def mortar_carbon(items: Sequence[CarbonItem]) -> MortarCarbon:
    """What making the materials of a m3 of mortar emits, and apart what it may take back over years.

        emitted = sum of kg * factor;   reabsorbed = sum of kg * uptake

    kgCO2e and kgCO2 a m3. Valid for kg and factors from 0 up; ValueError below. Cannot claim that one mortar
    is better than another, nor when the uptake comes: that takes weeks to several years (R) and damp but not
    wet mortar. Source: arithmetic (X). Worked: 280 kg of NHL 5 at 0.635 and 0.22 (producer's table, r).

    >>> nhl = CarbonItem("NHL 5", 280.0, Range(0.635, 0.635, 0.635), Range(0.22, 0.22, 0.22))
    >>> carbon = mortar_carbon([nhl])
    >>> round(carbon.emitted_kgco2e_per_m3.likely, 1), round(carbon.reabsorbed_kgco2_per_m3.likely, 1)
    (177.8, 61.6)
    """
    return MortarCarbon(
        total((item.emitted_kgco2e_per_kg.times(item.kg_per_m3) for item in items), 0.0),
        total((item.reabsorbed_kgco2_per_kg.times(item.kg_per_m3) for item in items), 0.0),
    )
