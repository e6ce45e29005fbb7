"""The water of a batch, as far as it can be reckoned: of a hot mix, in the sand, and of limewash.

No published figure for the water of a putty or NHL mortar was found: it is judged by the hand, so none is
reckoned. Confidence of a source: R read, M from memory, X computed.
"""

from __future__ import annotations

from generator.lime.gauging import Counted, GaugedMix
from generator.lime.limits import checked, positive
from generator.lime.sand import MOISTURE_SHARE_LIMITS, loose_dry_l
from generator.lime.slaking import hot_mix
from generator.values import Range, Struct


class HotMixMaterials(Struct, frozen=True):
    """What a hot mix is slaked from: kg/l loose (sand dry), shares by mass, moisture by dry mass, degrees."""

    quicklime_kg_per_l: Range[float]
    purity_share: Range[float]
    putty_solids_share: Range[float]
    sand_dry_kg_per_l: Range[float]
    sand_moisture_share: Range[float]
    start_c: float


def hot_mix_water_l(batch: Counted, mix: GaugedMix, of: HotMixMaterials) -> Range[float]:
    """The water to measure out for a batch of hot mix, all at the start: low, likely, high.

        add = bound + free + steam - water in the sand;   low: light, impure lime in stiff putty, wet sand

    l (kg). The high is the most that the inputs ask for, not a safe amount; less where the sand came wetter.
    Valid as `slaking.hot_mix`; ValueError outside. Source: heat balance (X). Worked: the 1 : 3 example of
    `slaking.hot_mix` is 1.344 l.
    """
    sand_l = sum(batch.sands_l)
    lime, purity, solids = of.quicklime_kg_per_l, of.purity_share, of.putty_solids_share
    sand, moisture = of.sand_dry_kg_per_l, of.sand_moisture_share

    def add(lime: float, purity: float, solids: float, sand: float, moisture: float) -> float:
        return hot_mix(
            batch.lime_l, sand_l, quicklime_kg_per_l=lime, purity_share=purity, sand_dry_kg_per_l=sand,
            sand_moisture_share=moisture, bulking_share=mix.bulking_share, putty_solids_share=solids,
            start_c=of.start_c,
        ).water_to_add_kg  # fmt: skip

    likely = add(lime.likely, purity.likely, solids.likely, sand.likely, moisture.likely)
    ends = (
        add(lime.low, purity.low, solids.high, sand.high, moisture.high), likely,
        add(lime.high, purity.high, solids.low, sand.low, moisture.low),
    )  # fmt: skip
    return Range(min(ends), likely, max(ends))


def sand_water_l(
    batch: Counted, mix: GaugedMix, sand_dry_kg_per_l: float, sand_moisture_share: Range[float]
) -> Range[float]:
    """The water that damp sand brings to a batch: what a mix in kiln-dried sand wants besides its own.

        water = dry sand * density * moisture

    l (kg). Of flooded sand it is the least, for more stands between its grains. Valid for moisture 0 to 0.20;
    ValueError outside. Source: arithmetic (X). Worked: 5 boxes of 14 l at 5 % hold 4.3 l.

    >>> from fractions import Fraction
    >>> from generator.lime.gauging import SandYield, counted, gauged_mix
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> water = sand_water_l(counted(mix, 14.0, "whole", Fraction(1)), mix, 1.55, Range(0.03, 0.05, 0.08))
    >>> round(water.low, 1), round(water.likely, 1), round(water.high, 1)
    (2.6, 4.3, 6.9)
    """
    checked("sand_moisture_share", sand_moisture_share.high, *MOISTURE_SHARE_LIMITS)
    dry_kg = loose_dry_l(sum(batch.sands_l), mix.bulking_share) * positive("sand_dry_kg_per_l", sand_dry_kg_per_l)
    return sand_moisture_share.times(dry_kg)
