"""The small batch of a panel: a square metre of wall takes no whole batch of a mix that does not keep.

Confidence of a source: X computed, D a rule proposed here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from generator.lime.batch import made_for
from generator.lime.gauging import DUST, Counted, GaugedMix, Kit, least_counted
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of, summed

SMALL_SHARE: Final = 0.5  # of what is counted else; a batch of more saves too little for a second set of counts (D)


def panel_batch(works: Sequence[Work], mix: GaugedMix, kit: Kit, counted_l: float) -> Counted | None:
    """The batch that serves each panel of a mix by itself; None where there is none, or it saves little.

        need = panel * litres in place, the high, * (1 + dropped);   batch as a day's

    `counted_l` is what the least that is counted else makes, l: a batch, or half a load. Valid as `made_for`. Source:
    proposed here (D). Worked: 1 m2 at 4.16 l takes 4.58 l, of which the jug makes 3 + 7 1/2 l, and not 45 l.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> front = Work(Range(9.6, 9.6, 9.6), {"yard": 9.6}, Range(4.16, 4.16, 4.16), (1.0,))
    >>> found = panel_batch([front], mix, Kit(14.0, 120.0), 44.9)
    >>> found and (str(found.lime), found.measure, round(found.makes_l, 2))
    ('3', 'jug', 6.42)
    """
    needs = [need_l for work in works for need_l in work.panels_need_l(work.in_place_l_per_m2.high)]
    if not needs:
        return None
    batch = made_for(mix, kit, max(needs)).batch
    if batch.measure == "jug" and max(*batch.sands_l, batch.lime_l) > kit.box_l:
        batch = least_counted(mix, kit.box_l, "quarter", max(needs))  # so many jugfuls are miscounted
    return batch if max(needs) <= batch.makes_l + DUST and batch.makes_l <= SMALL_SHARE * counted_l else None


def with_panels(days: Cases[Amounts], works: Sequence[Work], mix: GaugedMix, batch: Counted) -> Cases[Amounts]:
    """What the days of a mix take and its panels, each in a batch of its own.

    l. Source: arithmetic (X).
    """
    per_m2 = [work.in_place_l_per_m2 for work in works]
    return Cases(
        summed([days.low, _panels(works, [each.low for each in per_m2], mix, batch)]),
        summed([days.likely, _panels(works, [each.likely for each in per_m2], mix, batch)]),
        summed([days.high, _panels(works, [each.high for each in per_m2], mix, batch)]),
    )


def _panels(works: Sequence[Work], per_m2: Sequence[float], mix: GaugedMix, batch: Counted) -> Amounts:
    in_place = [
        (panel * litres, work.dropped_share)
        for work, litres in zip(works, per_m2, strict=True)
        for panel in work.panels_m2
    ]
    return amounts_of(
        mix,
        batch.makes_l * len(in_place),
        in_place_l=sum(litres for litres, _ in in_place),
        dropped_l=sum(litres * dropped for litres, dropped in in_place),
    )
