"""One batch for every work that a mix is made fresh for: a page at the mixing place has one set of counts a mix.

Works follow one another, each on days of its own; the batch is the own day's batch of that work whose counts make
the least for all. Confidence of a source: X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from generator.lime.batch import DayBatch, DayNeed, Note, day_batch, day_need
from generator.lime.gauging import DUST, Counted, GaugedMix, Kit
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of, last_day_m2, placing_days

BATCHES_A_DAY_AT_MOST: Final = 8  # D: one an hour; more is a larger batch


@dataclass(frozen=True, slots=True)
class SharedDay:
    """A work's days in the batch of the mix: its need, batches a day, what a day leaves, batches of its panels.

    `last_nr` are the batches of its last day, which may have less to do.
    """

    need: DayNeed
    days: int
    a_day: Fraction
    last_nr: Fraction
    panels_nr: Fraction
    left_l: float


@dataclass(frozen=True, slots=True)
class SharedCase:
    """A mix at one end of its measures: the batch, half of it where that is measured, each work's days, and all."""

    batch: Counted
    half_load: Counted | None
    days: tuple[SharedDay, ...]
    batches_nr: Fraction
    amounts: Amounts
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class _Placed:
    """A work at one end: area, litres in place a m2, its days and panels, and the batch of its own day."""

    work: Work
    area_m2: float
    need: DayNeed
    days: int
    own: DayBatch


def shared_batches(works: Sequence[Work], mix: GaugedMix, kit: Kit, life_h: float | None) -> Cases[SharedCase]:
    """The batch of a mix that is made fresh for several works, and what it comes to: low, likely and high.

        batches a day = need / batch, up to whole or, where half a load is measured, half batches

    The own day's batch of each work is tried for all; taken is the one of which the least is made, no more than
    eight a day, and none that a work could not place within its life. One work alone is `batched_work`. Valid as
    `day_batch`; ValueError for no works. Source: proposed here (D).

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> works = [Work(Range(m2, m2, m2), {"yard": 3.0}, Range(4.16, 4.16, 4.16)) for m2 in (13.5, 1.4)]
    >>> case = shared_batches(works, mix, Kit(14.0, 120.0), 8.0).likely
    >>> str(case.batch.lime), [(day.days, str(day.a_day)) for day in case.days]
    ('1/2', [(5, '1'), (1, '1')])
    """
    if not works:
        raise ValueError("0 works: valid with one at least")
    ends = [work.cases() for work in works]
    return Cases(
        _case([_placed(w, *end.low, mix, kit, life_h) for w, end in zip(works, ends, strict=True)], mix),
        _case([_placed(w, *end.likely, mix, kit, life_h) for w, end in zip(works, ends, strict=True)], mix),
        _case([_placed(w, *end.high, mix, kit, life_h) for w, end in zip(works, ends, strict=True)], mix),
    )


def _placed(work: Work, area_m2: float, per_m2: float, mix: GaugedMix, kit: Kit, life_h: float | None) -> _Placed:
    output = sum(work.output_m2.values())
    need = day_need(output, per_m2, area_m2=area_m2 or output, dropped_share=work.dropped_share)
    own = day_batch(need, mix, kit, life_h)
    assert isinstance(own, DayBatch), "the kit is known"
    return _Placed(work, area_m2, need, placing_days(area_m2, output), own)


def _case(placed: Sequence[_Placed], mix: GaugedMix) -> SharedCase:
    tried = [_tried(placed, chosen.own, mix) for chosen in placed]
    fits = [case for case, chosen in zip(tried, placed, strict=True) if _serves(case, chosen.own, placed)]
    if fits:
        return min(fits, key=lambda case: case.amounts.made_l)
    return min(tried, key=lambda case: case.batch.makes_l)


def _serves(case: SharedCase, chosen: DayBatch, placed: Sequence[_Placed]) -> bool:
    """Whether every work places such a batch within its life, and none is mixed more often than eight a day."""
    for day, other in zip(case.days, placed, strict=True):
        if other.own is chosen:
            continue
        many = other.own.batches.batches_nr > 1
        if many and case.batch.makes_l > other.own.batches.batch.makes_l + DUST:
            return False
        if day.a_day > BATCHES_A_DAY_AT_MOST and day.a_day > other.own.batches.batches_nr:
            return False
    return True


def _tried(placed: Sequence[_Placed], chosen: DayBatch, mix: GaugedMix) -> SharedCase:
    batch, half = chosen.batches.batch, chosen.batches.half_load
    step = Fraction(1) if half is None else Fraction(1, 2)

    def times(need_l: float) -> Fraction:
        return step * max(1, math.ceil(need_l / batch.makes_l / float(step) - DUST))

    days = []
    for work in placed:
        a_day = chosen.batches.batches_nr if work.own is chosen else times(work.need.need_l)
        per_m2, dropped = work.need.in_place_l_per_m2, work.need.dropped_share
        panels = [times(DayNeed(panel, per_m2, dropped).need_l) for panel in work.work.panels_m2]
        left = max(0.0, float(a_day) * batch.makes_l - work.need.need_l)
        last_m2 = last_day_m2(work.area_m2, sum(work.work.output_m2.values()))
        last = min(a_day, times(DayNeed(last_m2, per_m2, dropped).need_l)) if last_m2 else Fraction(0)
        days.append(SharedDay(work.need, work.days, a_day, last, sum(panels, Fraction(0)), left))
    number = sum((max(0, day.days - 1) * day.a_day + day.last_nr + day.panels_nr for day in days), Fraction(0))
    in_place = [(w.area_m2 + sum(w.work.panels_m2)) * w.need.in_place_l_per_m2 for w in placed]
    dropped_l = sum(litres * w.need.dropped_share for litres, w in zip(in_place, placed, strict=True))
    amounts = amounts_of(mix, float(number) * batch.makes_l, in_place_l=sum(in_place), dropped_l=dropped_l)
    return SharedCase(batch, half, tuple(days), number, amounts, chosen.notes)
