"""One batch for every work that a mix is made fresh for: a page at the mixing place has one set of counts a mix.

Works follow one another, each on days of its own; the batch is the own day's batch of that work whose counts make
the least for all. Confidence of a source: X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache, partial
from operator import itemgetter
from typing import Final

from generator.lime.batch import DayBatch, DayNeed, Note, as_life_asks, day_batch, day_need
from generator.lime.gauging import DUST, Counted, GaugedMix, Kit
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of, last_day_m2, placing_days
from generator.values import Struct, replace

BATCHES_A_DAY_AT_MOST: Final = 8  # D: one an hour; more is a larger batch


class SharedDay(Struct, frozen=True):
    """A work's days in the batch of the mix: its need, batches a day, what a day leaves, batches of its panels.

    `last_nr` are the batches of its last day, which may have less to do.
    """

    need: DayNeed
    days: int
    a_day: Fraction
    last_nr: Fraction
    panels_nr: Fraction
    left_l: float


class SharedCase(Struct, frozen=True):
    """A mix at one end of its measures: the batch, half of it where that is measured, each work's days, and all."""

    batch: Counted
    half_load: Counted | None
    days: tuple[SharedDay, ...]
    batches_nr: Fraction
    amounts: Amounts
    notes: tuple[Note, ...]


class _Placed(Struct, frozen=True):
    """A work at one end: area, litres in place a m2, its days and panels, and the batch of its own day."""

    work: Work
    area_m2: float
    need: DayNeed
    days: int
    own: DayBatch

    def panels_need_l(self) -> list[float]:
        """What each of its panels takes, l."""
        return self.work.panels_need_l(self.need.in_place_l_per_m2)

    def last_steps(self, makes_l: float, step: Fraction) -> int:
        """The steps of a batch that its last day takes, which may have less to do; 0 where it has no day."""
        last_m2 = last_day_m2(self.area_m2, sum(self.work.output_m2.values()))
        if not last_m2:
            return 0
        last = DayNeed(last_m2, self.need.in_place_l_per_m2, self.need.dropped_share)
        return _steps(last.need_l, makes_l, step)


def shared_batches(works: Sequence[Work], mix: GaugedMix, kit: Kit, life_h: float | None) -> Cases[SharedCase]:
    """The batch of a mix that is made fresh for several works, and what it comes to: low, likely and high.

        batches a day = need / batch, up to whole or, where half a load is measured, half batches

    The own day's batch of each work is tried for all; taken is the one of which the least is made, no more than
    eight a day, and none that a work could not place within its life; where none serves them all, the least with which
    no day takes more mixers than it must. Where every day has one batch, and its life
    asks for more, it is made in small ones (`as_life_asks`). Valid as `day_batch`; ValueError for no
    works. Source: proposed here (D).

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
    own = cache(partial(_own, mix=mix, kit=kit, life_h=life_h))
    return Cases(
        _case([_placed(w, *end.low, own) for w, end in zip(works, ends, strict=True)], mix, kit),
        _case([_placed(w, *end.likely, own) for w, end in zip(works, ends, strict=True)], mix, kit),
        _case([_placed(w, *end.high, own) for w, end in zip(works, ends, strict=True)], mix, kit),
    )


def _placed(work: Work, area_m2: float, per_m2: float, own: Callable[[DayNeed], DayBatch]) -> _Placed:
    output = sum(work.output_m2.values())
    need = day_need(output, per_m2, area_m2=area_m2 or output, dropped_share=work.dropped_share)
    return _Placed(work, area_m2, need, placing_days(area_m2, output), own(need))


def _own(need: DayNeed, mix: GaugedMix, kit: Kit, life_h: float | None) -> DayBatch:
    found = day_batch(need, mix, kit, life_h)
    assert isinstance(found, DayBatch), "the kit is known"
    return found


def _case(placed: Sequence[_Placed], mix: GaugedMix, kit: Kit) -> SharedCase:
    """The batch and what it comes to; of what nothing is done, nothing is chosen by."""
    all_of, every = _AllOf.of(placed), placed
    placed = [work for work in every if work.days or work.work.panels_m2] or every
    # what a batch comes to hangs on its size and step alone: few among many works, so each is gone through once
    sized = cache(lambda makes_l, step: _Sized.of(placed, makes_l, step))

    def mixers_nr(chosen: _Placed) -> int:
        return kit.mixers_nr(sized(chosen.own.batches.batch.makes_l, _step(chosen.own)).most_a_day)

    fits: list[tuple[float, _Placed]] = []
    for number, chosen in enumerate(placed):
        others = sized(chosen.own.batches.batch.makes_l, _step(chosen.own))
        if others.serves(number):
            batches_nr = others.batches_nr(number, chosen)
            fits.append((all_of.amounts(mix, batches_nr, chosen.own.batches.batch).made_l, chosen))
    if fits:
        _, best = min(fits, key=itemgetter(0))
    else:
        best = min(placed, key=lambda work: (mixers_nr(work), work.own.batches.batch.makes_l))
    return _tried(every, _within_life(placed, best, mix, kit), mix, all_of)


def _within_life(placed: Sequence[_Placed], chosen: _Placed, mix: GaugedMix, kit: Kit) -> _Placed:
    """The work whose batch is taken, in as many as its life asks for where no day of any work has a second one."""
    if any(work.own.batches.batches_nr > 1 for work in placed):
        return chosen
    small = as_life_asks(chosen.need.need_l, chosen.own.by_life_nr, mix, kit)
    if small is None:
        return chosen
    notes = tuple(note for note in chosen.own.notes if note != "fewer-than-life-asks")
    return replace(chosen, own=replace(chosen.own, batches=small, notes=notes))


def _step(own: DayBatch) -> Fraction:
    """What batches are counted in: half loads where half a load is measured."""
    return Fraction(1) if own.batches.half_load is None else Fraction(1, 2)


class _AllOf(Struct, frozen=True):
    """What all works place and drop, l."""

    in_place_l: float
    dropped_l: float

    @classmethod
    def of(cls, placed: Sequence[_Placed]) -> _AllOf:
        in_place = [(w.area_m2 + sum(w.work.panels_m2)) * w.need.in_place_l_per_m2 for w in placed]
        dropped_l = sum(litres * w.need.dropped_share for litres, w in zip(in_place, placed, strict=True))
        return cls(sum(in_place), dropped_l)

    def amounts(self, mix: GaugedMix, batches_nr: Fraction, batch: Counted) -> Amounts:
        """What so many batches take."""
        made_l = float(batches_nr) * batch.makes_l
        return amounts_of(mix, made_l, in_place_l=self.in_place_l, dropped_l=self.dropped_l)


class _Sized(Struct, frozen=True):
    """Every work in a batch of one size: steps of its last day and of all its days, and whether it is ill served.

    `all_nr` are the steps of all days and panels. A work is ill served that could not place such a batch within its
    life, or would mix it more than eight times a day; `most_a_day` are the batches of the day that takes most.
    """

    step: Fraction
    most_a_day: Fraction
    last: Sequence[int]
    of_days: Sequence[int]
    all_nr: int
    ill: Sequence[bool]
    ill_nr: int

    @classmethod
    def of(cls, placed: Sequence[_Placed], makes_l: float, step: Fraction) -> _Sized:
        a_day = [_steps(work.need.need_l, makes_l, step) for work in placed]
        panels = sum(_steps(need_l, makes_l, step) for work in placed for need_l in work.panels_need_l())
        last = [work.last_steps(makes_l, step) for work in placed]
        of_days = [
            max(0, work.days - 1) * steps + min(steps, ends)
            for work, steps, ends in zip(placed, a_day, last, strict=True)
        ]
        ill = [_ill(work.own, makes_l, step * steps) for work, steps in zip(placed, a_day, strict=True)]
        return cls(step, step * max(a_day), last, of_days, sum(of_days) + panels, ill, sum(ill))

    def serves(self, number: int) -> bool:
        """Whether every work but the one whose own batch it is is served."""
        return self.ill_nr == self.ill[number]

    def batches_nr(self, number: int, chosen: _Placed) -> Fraction:
        """The batches of all days and panels, the days of the work whose own batch it is in its own number."""
        others, own = self.step * (self.all_nr - self.of_days[number]), chosen.own.batches.batches_nr
        return others + max(0, chosen.days - 1) * own + min(own, self.step * self.last[number])


def _ill(own: DayBatch, makes_l: float, a_day: Fraction) -> bool:
    within_life_l = max(own.batches.batch.makes_l, own.need.need_l / own.by_life_nr)
    if own.batches.batches_nr > 1 and makes_l > within_life_l + DUST:
        return True
    return a_day > BATCHES_A_DAY_AT_MOST and a_day > own.batches.batches_nr


def _steps(need_l: float, makes_l: float, step: Fraction) -> int:
    return max(1, math.ceil(need_l / makes_l / float(step) - DUST))


def _tried(placed: Sequence[_Placed], chosen: _Placed, mix: GaugedMix, all_of: _AllOf) -> SharedCase:
    batch, step = chosen.own.batches.batch, _step(chosen.own)
    days = []
    for work in placed:
        own = chosen.own.batches.batches_nr
        a_day = own if work.work is chosen.work else step * _steps(work.need.need_l, batch.makes_l, step)
        panels = step * sum(_steps(need_l, batch.makes_l, step) for need_l in work.panels_need_l())
        left = max(0.0, float(a_day) * batch.makes_l - work.need.need_l)
        last = min(a_day, step * work.last_steps(batch.makes_l, step))
        days.append(SharedDay(work.need, work.days, a_day, last, panels, left))
    number = sum((max(0, day.days - 1) * day.a_day + day.last_nr + day.panels_nr for day in days), Fraction(0))
    amounts = all_of.amounts(mix, number, batch)
    return SharedCase(batch, chosen.own.batches.half_load, tuple(days), number, amounts, chosen.own.notes)
