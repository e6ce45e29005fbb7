"""Mixes, boxes and walls of the worked examples of a day's batch."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from generator.lime.gauging import Counted, GaugedMix, Kit, PublishedYield, SandState, gauged_mix, sand_yield
from generator.lime.joints import Unit, joint_area_share, pointing_l_per_m2
from generator.values import Range

BULKING = 0.25
VOIDS = Range(0.36, 0.41, 0.45)
NHL_YIELD = PublishedYield(Range(1.0, 1.07, 1.15), 2.0, 3.0)
KIT = Kit(box_l=14.0, mixer_l=120.0)

# Garden front: 225 x 110 x 65 in Flemish bond, joints 8 to 11 mm, usually 9, 25 mm deep
FRONT_L_PER_M2 = Range(
    *(pointing_l_per_m2(joint_area_share(Unit(225.0, 110.0, 65.0), w, "flemish"), 25.0) for w in (8.0, 9.0, 11.0))
)
# Toll-house stack: 226 x 67 in stretcher bond, joints 10 mm, 20 mm deep
STACK_L_PER_M2 = pointing_l_per_m2(joint_area_share(Unit(226.0, 108.0, 67.0), 10.0), 20.0)


def one(value: float) -> Range[float]:
    """A range of one value."""
    return Range(value, value, value)


def nhl(
    damp_parts: float, *, sand: SandState = "damp", blend: Sequence[int] = (1,), published: bool = True
) -> GaugedMix:
    """An NHL mortar of so many boxes of damp sand to one of lime."""
    made = sand_yield(damp_parts, BULKING, void_share=VOIDS, published=NHL_YIELD if published else None)
    return gauged_mix(damp_parts, BULKING, made, sand=sand, blend=blend)


def putty(damp_parts: float, *, pozzolan_share_of_binder: float = 0.0) -> GaugedMix:
    """A putty stuff of so many boxes of damp sand to one of binder."""
    made = sand_yield(damp_parts, BULKING, void_share=VOIDS)
    return gauged_mix(damp_parts, BULKING, made, pozzolan_share_of_binder=pozzolan_share_of_binder)


def told(batch: Counted) -> str:
    """The counts of a batch as the trade tells them, lime first: `1/2 + 1 1/4`."""
    return " + ".join(_mixed(count) for count in batch.counts)


def _mixed(count: Fraction) -> str:
    whole, rest = divmod(count, 1)
    return " ".join(str(part) for part in (whole, rest) if part)
