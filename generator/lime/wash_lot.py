"""One lot of limewash for all faces in one colour, the vessel it stands in, and what the faces take of it.

The lot keeps for months in a lidded vessel (R, sealed), so neither its life nor a mixer binds it. Confidence of a
source: R read, P common practice without a published source, X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import ClassVar, Final

from generator.lime.batch import Batches, equal_batches
from generator.lime.gauging import DUST, JUG_L, STEP_OF, BatchError, GaugedMix, counted, gauged_mix, wash_yield
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of
from generator.lime.limits import positive
from generator.values import Struct

HEADROOM_SHARE: Final = 0.1  # over the wash, so that it can be stirred (D)
VESSEL_STEP_L: Final = 50.0  # lidded vessels of these litres and their multiples (P)


class VesselTooSmall(BatchError):
    """The vessel does not hold the gauge once by the jug."""

    code: ClassVar[str] = "vessel-too-small"


def wash_mix(water_parts: float, jug_l: float = JUG_L) -> GaugedMix:
    """Limewash as it is measured, water in the place of sand.

    >>> wash_mix(5.0).gauge.lime, wash_mix(5.0).gauge.sands
    (1, (5,))
    """
    return gauged_mix(water_parts, 0.0, wash_yield(water_parts), jug_l=jug_l)


def vessel_for_l(wash_l: float) -> float:
    """The lidded vessel for so much wash, with a tenth of headroom, up to the next 50 l.

    l. Source: proposed here (D). Worked: 126 l stand in 150.

    >>> vessel_for_l(126.0)
    150.0
    """
    wanted = positive("wash_l", wash_l) * (1.0 + HEADROOM_SHARE)
    return VESSEL_STEP_L * math.ceil(wanted / VESSEL_STEP_L - DUST)


class SharedLot(Struct, frozen=True):
    """One lot for several faces in one wash, and what they take of it at one end; None where none takes anything."""

    need_l: float
    lot: Batches | None
    vessel_l: float
    lots_nr: int
    amounts: Amounts


def shared_lot(
    faces: Sequence[Work],
    water_parts: float,
    *,
    box_l: float,
    jug_l: float = JUG_L,
    vessel_at_most_l: float | None = None,
) -> Cases[SharedLot]:
    """One lot for every coat of all faces that take one wash, and their samples.

        need = sum of (area + samples) * litres in place in all coats * (1 + dropped);   lot = the high need

    l; each `Work` has the litres of all its coats in a square metre, low at the best cover. Two lots never match in
    colour, so the one lot is made to the worst cover at every end, and what the others leave of it is kept, sealed,
    for touching up. `lots_nr` is how many equal lots, poured together and stirred, where no vessel at hand holds it
    all. Valid as `true_gauge`; VesselTooSmall where the vessel does not hold the gauge once by the jug. Source: cover
    3 to 6 m2/l on rough new render (R); rules of counting proposed here (D). Worked (X):
    78.4 m2 in 5 coats at 3 m2/l are 145.6 l.

    >>> from generator.values import Range
    >>> cover = Range(5 / 6.0, 5 / 4.0, 5 / 3.0)
    >>> found = shared_lot([Work(Range(78.4, 78.4, 78.4), {"yard": 80.0}, cover, (1.0,))], 5.0, box_l=14.0)
    >>> str(found.likely.lot.batch.lime), round(found.likely.lot.made_l), round(found.likely.need_l)
    ('2', 168, 109)
    """
    ends = [face.cases() for face in faces]
    mix = wash_mix(water_parts, jug_l)

    def taken(placed: Sequence[tuple[float, float]]) -> tuple[float, float]:
        litres = [(area + sum(f.panels_m2)) * per_m2 for f, (area, per_m2) in zip(faces, placed, strict=True)]
        return sum(litres), sum(placed_l * face.dropped_share for face, placed_l in zip(faces, litres, strict=True))

    each = Cases(taken([e.low for e in ends]), taken([e.likely for e in ends]), taken([e.high for e in ends]))
    most = sum(each.high)
    if not most:
        none = SharedLot(0.0, None, 0.0, 0, amounts_of(mix, 0.0, in_place_l=0.0, dropped_l=0.0))
        return Cases(none, none, none)
    made, vessel, lots = _lots(mix, box_l, most, vessel_at_most_l)

    def lot(placed_l: float, dropped_l: float) -> SharedLot:
        kept = made.made_l - placed_l - dropped_l
        amounts = amounts_of(mix, made.made_l, in_place_l=placed_l, dropped_l=dropped_l, kept_l=kept)
        return SharedLot(placed_l + dropped_l, made, vessel, lots, amounts)

    return each.each(lambda case: lot(*case))


def _lots(mix: GaugedMix, box_l: float, need_l: float, most_l: float | None) -> tuple[Batches, float, int]:
    """The batches of one lot, the vessel for each, and how many are poured together where vessels are smaller."""
    least = counted(mix, box_l, "jug", STEP_OF["jug"]).makes_l * (1.0 + HEADROOM_SHARE)
    if most_l is not None and most_l < least:
        raise VesselTooSmall(f"vessel_at_most_l is {most_l:g}: valid from {least:g}, the gauge once by the jug")
    lots = 1
    while True:
        made = equal_batches(mix, box_l, need_l, batches_nr=lots, least_l=0.0)
        vessel = vessel_for_l(made.batch.makes_l)
        if most_l is None or made.batch.makes_l * (1.0 + HEADROOM_SHARE) <= most_l:
            return made, vessel if most_l is None else min(vessel, most_l), lots
        lots += 1
