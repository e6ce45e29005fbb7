"""What a job takes of one mix: days, batches and panels at the low, the likely and the high of its measures.

Waste is told apart: in place, dropped, thrown away, kept. Confidence of a source: P common practice without a
published source, X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Generic, TypeVar

from generator.lime.batch import DROPPED_SHARE, DayBatch, DayNeed, RatioOnly, day_batch, day_need
from generator.lime.gauging import DUST, GaugedMix, Kit
from generator.lime.limits import checked, positive
from generator.values import Range, Struct

Case = TypeVar("Case")
Other = TypeVar("Other")


class Cases(Struct, Generic[Case], frozen=True):
    """One thing reckoned three times: at the low, the likely and the high of what drives it."""

    low: Case
    likely: Case
    high: Case

    def each(self, of: Callable[[Case], Other]) -> Cases[Other]:
        """The same, of each case."""
        return Cases(of(self.low), of(self.likely), of(self.high))

    def spread(self, of: Callable[[Case], float]) -> Range[float]:
        """A figure of the cases from the least to the greatest: whole steps can leave the low above the likely."""
        found = self.each(of)
        ends = (found.low, found.likely, found.high)
        return Range(min(ends), found.likely, max(ends))


class Amounts(Struct, frozen=True):
    """What is made of a mix and where it goes, l; what it takes, l as measured; and the hair that is said, kg."""

    in_place_l: float
    dropped_l: float
    thrown_away_l: float
    kept_l: float
    lime_l: float
    pozzolan_l: float
    sands_l: tuple[float, ...]
    hair_kg: float = 0.0

    @property
    def made_l(self) -> float:
        """All that is made."""
        return self.in_place_l + self.dropped_l + self.thrown_away_l + self.kept_l


def amounts_of(
    mix: GaugedMix,
    made_l: float,
    *,
    in_place_l: float,
    dropped_l: float,
    kept_l: float = 0.0,
    pozzolan_l: float = 0.0,
    hair_kg: float = 0.0,
) -> Amounts:
    """What so much mortar of a mix takes, in its true gauge; what is neither placed, dropped nor kept is thrown away.

    l. `pozzolan_l` is what goes into the draw, beside any within the binder. Source: arithmetic (X).
    """
    part_l = mix.sand_l_for(made_l) / sum(mix.gauge.sands)
    thrown = made_l - in_place_l - dropped_l - kept_l
    return Amounts(
        in_place_l=in_place_l,
        dropped_l=dropped_l,
        thrown_away_l=max(0.0, thrown),
        kept_l=kept_l,
        lime_l=mix.gauge.lime * part_l,
        pozzolan_l=mix.gauge.pozzolan * part_l + pozzolan_l,
        sands_l=tuple(part * part_l for part in mix.gauge.sands),
        hair_kg=hair_kg,
    )


class Work(Struct, frozen=True):
    """One work in one mix: area, m2 finished in a placing day at each place, litres in place a m2, panels in m2."""

    area_m2: Range[float]
    output_m2: Mapping[str, float]
    in_place_l_per_m2: Range[float]
    panels_m2: tuple[float, ...] = ()
    dropped_share: float = DROPPED_SHARE

    def __post_init__(self) -> None:
        checked("area_m2", self.area_m2.low, 0.0)
        for place, output in self.output_m2.items():
            positive(f"output_m2 at {place}", output)
        positive("output_m2 at all places", sum(self.output_m2.values()))

    def cases(self) -> Cases[tuple[float, float]]:
        """Area and litres in place a m2, low with low and high with high."""
        area, per_m2 = self.area_m2, self.in_place_l_per_m2
        return Cases((area.low, per_m2.low), (area.likely, per_m2.likely), (area.high, per_m2.high))

    def panels_need_l(self, in_place_l_per_m2: float) -> list[float]:
        """What each of its panels takes, l, at so many litres in place a m2."""
        return [DayNeed(panel, in_place_l_per_m2, self.dropped_share).need_l for panel in self.panels_m2]


def placing_days(area_m2: float, output_m2: float) -> int:
    """The placing days of an area; a last day with less to do counts as a whole one.

    m2 and m2 a day. Source: arithmetic (X). Worked: 13.5 m2 at 3 are 5 days.

    >>> placing_days(13.5, 3.0), placing_days(0.0, 3.0)
    (5, 0)
    """
    return math.ceil(checked("area_m2", area_m2, 0.0) / positive("output_m2", output_m2) - DUST)


def last_day_m2(area_m2: float, output_m2: float) -> float:
    """What the last placing day has left to do, so that it is mixed for no more than that.

    m2. Source: arithmetic (X). Worked: 22 m2 at 20 leave 2.

    >>> last_day_m2(22.0, 20.0), last_day_m2(40.0, 20.0), last_day_m2(0.0, 20.0)
    (2.0, 20.0, 0.0)
    """
    return area_m2 - max(0, placing_days(area_m2, output_m2) - 1) * output_m2


class WorkCase(Struct, frozen=True):
    """A work at one end of its measures: days, the day's batch at each place, batches of days and of panels."""

    area_m2: float
    in_place_l_per_m2: float
    days: int
    at: Mapping[str, DayBatch | RatioOnly]
    day_batches_nr: Fraction
    panel_batches_nr: Fraction
    amounts: Amounts


def batched_work(work: Work, mix: GaugedMix, kit: Kit | None, life_h: float | None) -> Cases[WorkCase]:
    """The days, batches and materials of a work in a mix that is made fresh and does not keep.

        batches = batches a day * days + one or more for each panel

    m2, l, hours. Each case has the batch of its own need. Where no box is known nothing is counted and what the
    days and panels take is all that is made. Valid as `day_batch`; typed errors otherwise. Source: proposed here
    (D). Worked (X): 13.5 m2 at 3 m2 and one batch of 14.98 l a day, and a panel, are 6 batches and 89.9 l.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> front = Work(Range(13.5, 13.5, 13.5), {"yard": 3.0}, Range(4.1603, 4.1603, 4.1603), (1.0,))
    >>> case = batched_work(front, mix, Kit(14.0, 120.0), 8.0).likely
    >>> case.days, str(case.day_batches_nr + case.panel_batches_nr), round(case.amounts.made_l, 1)
    (5, '6', 89.9)
    """
    return work.cases().each(lambda ends: _work_case(work, ends[0], ends[1], mix, kit, life_h))


def _work_case(
    work: Work, area_m2: float, per_m2: float, mix: GaugedMix, kit: Kit | None, life_h: float | None
) -> WorkCase:
    output = sum(work.output_m2.values())
    days = placing_days(area_m2, output)
    at = {
        place: day_batch(_need_at(work, here, area_m2, per_m2), mix, kit, life_h)
        for place, here in work.output_m2.items()
    }
    first = next(iter(at.values()))
    panels = [_panel(work, panel, per_m2, first) for panel in work.panels_m2]
    full = [_full_day(day) for day in at.values()]
    left_m2 = last_day_m2(area_m2, output)
    last = [_last_day(work, left_m2 * work.output_m2[place] / output, per_m2, day) for place, day in at.items()]
    day_batches, made = _over_days(days, full, last)
    made += sum(litres for _, litres in panels)
    in_place = (area_m2 + sum(work.panels_m2)) * per_m2
    amounts = amounts_of(mix, made, in_place_l=in_place, dropped_l=in_place * work.dropped_share)
    panel_batches = sum((number for number, _ in panels), Fraction(0))
    return WorkCase(area_m2, per_m2, days, at, day_batches, panel_batches, amounts)


def _over_days(
    days: int, full: Sequence[tuple[Fraction, float]], last: Sequence[tuple[Fraction, float]]
) -> tuple[Fraction, float]:
    """Batches and litres of so many days, all full but the last."""
    if not days:
        return Fraction(0), 0.0
    number = (days - 1) * sum((nr for nr, _ in full), Fraction(0)) + sum((nr for nr, _ in last), Fraction(0))
    return number, (days - 1) * sum(litres for _, litres in full) + sum(litres for _, litres in last)


def _full_day(day: DayBatch | RatioOnly) -> tuple[Fraction, float]:
    return (day.batches.batches_nr, day.batches.made_l) if isinstance(day, DayBatch) else (Fraction(0), day.need.need_l)


def _last_day(work: Work, left_m2: float, per_m2: float, day: DayBatch | RatioOnly) -> tuple[Fraction, float]:
    """The day's batches for what is left to do, never more than a full day's."""
    return min(_panel(work, left_m2, per_m2, day), _full_day(day)) if left_m2 else (Fraction(0), 0.0)


def _need_at(work: Work, here_m2: float, area_m2: float, per_m2: float) -> DayNeed:
    """The day's need at one place, which has its share of the area; a day's output where there is no area."""
    share_m2 = area_m2 * here_m2 / sum(work.output_m2.values())
    return day_need(here_m2, per_m2, area_m2=share_m2 or here_m2, dropped_share=work.dropped_share)


def _panel(work: Work, area_m2: float, per_m2: float, day: DayBatch | RatioOnly) -> tuple[Fraction, float]:
    """The batches of a panel and what they make: the day's batch, or half loads where half loads are counted."""
    need = DayNeed(area_m2, per_m2, work.dropped_share).need_l
    if isinstance(day, RatioOnly):
        return Fraction(0), need
    step = Fraction(1) if day.batches.half_load is None else Fraction(1, 2)
    number = step * max(1, math.ceil(need / day.batches.batch.makes_l / float(step) - DUST))
    return number, day.batches.batch.makes_l * float(number)


def summed(amounts: Sequence[Amounts]) -> Amounts:
    """What several works in one mix take together. ValueError for none, or for mixes of different sands."""
    if not amounts or len({len(each.sands_l) for each in amounts}) > 1:
        raise ValueError(f"{len(amounts)} works: valid with one at least, all in the same sands")
    return Amounts(
        in_place_l=sum(each.in_place_l for each in amounts),
        dropped_l=sum(each.dropped_l for each in amounts),
        thrown_away_l=sum(each.thrown_away_l for each in amounts),
        kept_l=sum(each.kept_l for each in amounts),
        lime_l=sum(each.lime_l for each in amounts),
        pozzolan_l=sum(each.pozzolan_l for each in amounts),
        sands_l=tuple(sum(litres) for litres in zip(*(each.sands_l for each in amounts), strict=True)),
        hair_kg=sum(each.hair_kg for each in amounts),
    )
