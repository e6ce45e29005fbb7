"""What works take of one mix: days, panels and amounts at the low, the likely and the high of their measures.

Waste is told apart: in place, dropped, thrown away, kept. Confidence of a source: X computed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Generic, TypeVar

from generator.lime.batch import DROPPED_SHARE, DayNeed
from generator.lime.gauging import DUST, GaugedMix
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

    def all(self) -> tuple[Case, Case, Case]:
        """The three in order."""
        return self.low, self.likely, self.high

    def spread(self, of: Callable[[Case], float]) -> Range[float]:
        """A figure of the cases from the least to the greatest: whole steps can leave the low above the likely."""
        found = self.each(of)
        ends = found.all()
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
