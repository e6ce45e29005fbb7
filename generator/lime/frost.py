"""When frost comes and goes, from a record of daily minima: by winter, how it spreads, and the day of a chance.

A frost is a daily least at or below 0 C in air; hollows and bare ground are colder, so a place may be told as so
many degrees colder than the station. Each winter is whole: 1 July to 30 June in the northern half of the world,
1 January to 31 December in the southern, so that a first frost in January belongs to the winter it falls in.
Confidence of a source: R read, D arithmetic, X computed.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable, Iterator, Sequence
from statistics import NormalDist, fmean, stdev
from typing import Final, Literal

from generator.lime.limits import checked
from generator.lime.season import Half, days_into_winter, month_day, winter_of, winter_starts
from generator.values import MonthDay, Struct

LEAST_LIMITS_C: Final = (-60.0, 40.0)  # a daily least beyond these is a fault of the record
YEARS_WANTED: Final = 20  # below, a range is told and no chance (common practice)
MISSING_ALLOWED_DAYS: Final = 10  # gaps that still leave the first or the last frost known (common practice)
DUST_DAYS: Final = 1e-9

Fit = Literal["normal", "ranks"]


class Winter(Struct, frozen=True):
    """The frosts of one winter, named by the year it begins in, and how far the record holds them.

    The missing days are those without a record from the winter's beginning to its first frost, and from its last
    frost to its end; in a winter without frost, those of the whole winter.
    """

    year: int
    first: datetime.date | None
    last: datetime.date | None
    frost_days_nr: int
    missing_before_first_nr: int
    missing_after_last_nr: int


def winters(
    daily_minima: Iterable[tuple[datetime.date, float]], colder_c: float = 0.0, half: Half = "north"
) -> tuple[Winter, ...]:
    """The first and last frosts of each winter in a record of daily least temperatures.

        frost where   least - colder_c <= 0 C

    Dates by winter, in order; `colder_c` is how much colder the place is than the station. Valid for minima of
    -60 to 40 C and places 0 to 10 C colder; ValueError outside. Source: dates counted (X).

    >>> minima = [(datetime.date(2021, 1, 5), -1.0), (datetime.date(2021, 12, 1), 0.0)]
    >>> [(winter.year, str(winter.first)) for winter in winters(minima)]
    [(2020, '2021-01-05'), (2021, '2021-12-01')]
    """
    limit_c = checked("colder_c", colder_c, 0.0, 10.0)
    by_winter: dict[int, dict[datetime.date, bool]] = {}
    for day, least_c in daily_minima:
        frost = checked("least_c", least_c, *LEAST_LIMITS_C) <= limit_c
        recorded = by_winter.setdefault(winter_of(day, half), {})
        recorded[day] = recorded.get(day, False) or frost
    return tuple(_winter(year, by_winter[year], half) for year in sorted(by_winter))


def _winter(year: int, recorded: dict[datetime.date, bool], half: Half) -> Winter:
    begins, ends = winter_starts(year, half), winter_starts(year + 1, half)
    frosts = [day for day, frost in recorded.items() if frost]
    first, last = min(frosts, default=None), max(frosts, default=None)
    before = (first or ends) - begins
    after = ends - (last + datetime.timedelta(1) if last else begins)
    return Winter(
        year,
        first,
        last,
        len(frosts),
        before.days - sum(day < (first or ends) for day in recorded),
        after.days - sum(last is None or day > last for day in recorded),
    )


class FrostSpread(Struct, frozen=True):
    """How the first or the last frosts of a record spread: days after the winter's beginning, one a frosty winter."""

    days: tuple[int, ...]
    winters_nr: int
    half: Half = "north"

    @property
    def share(self) -> float:
        """The share of winters that had frost."""
        return len(self.days) / self.winters_nr if self.winters_nr else 0.0

    @property
    def few_winters(self) -> bool:
        """Whether a range must be told and no chance."""
        return self.winters_nr < YEARS_WANTED

    def range(self) -> tuple[MonthDay, MonthDay] | None:
        """The earliest and the latest that the record holds; None where it holds no frost."""
        if not self.days:
            return None
        return month_day(min(self.days), self.half), month_day(max(self.days), self.half)


def first_frosts(
    record: Iterable[Winter], half: Half = "north", missing_allowed_days: int = MISSING_ALLOWED_DAYS
) -> FrostSpread:
    """How the first frosts spread, from the winters whose first frost the record holds.

    A winter counts where no more than `missing_allowed_days` are missing before its first frost. Source: common
    practice, no published source, for the gaps allowed.

    >>> first_frosts(winters([(datetime.date(2021, 1, 5), -1.0)])).winters_nr  # half a year is missing before it
    0
    """
    known = [winter for winter in record if winter.missing_before_first_nr <= missing_allowed_days]
    return FrostSpread(tuple(_days(known, "first", half)), len(known), half)


def last_frosts(
    record: Iterable[Winter], half: Half = "north", missing_allowed_days: int = MISSING_ALLOWED_DAYS
) -> FrostSpread:
    """How the last frosts spread, from the winters whose last frost the record holds; as `first_frosts`."""
    known = [winter for winter in record if winter.missing_after_last_nr <= missing_allowed_days]
    return FrostSpread(tuple(_days(known, "last", half)), len(known), half)


def _days(known: Sequence[Winter], end: Literal["first", "last"], half: Half) -> Iterator[int]:
    for winter in known:
        day = winter.first if end == "first" else winter.last
        if day is not None:
            yield days_into_winter(MonthDay.of(day), half)


def early_days(days: Sequence[float], chance: float, share: float = 1.0, fit: Fit = "normal") -> float | None:
    """The day of the winter before which frost comes with a chance.

        chance = share * F(day);   day = F^-1(chance / share)

    Days after the winter's beginning; None where frost never has that chance, or the days are too few to fit. F
    is normal by mean and sample deviation, or the ranks i / (n + 1), straight between them. Valid for chances
    above 0 and below 1 and shares to 1; ValueError outside. Source: meaning of the chance from climate normals
    (R), formula D. Worked: the ten dates of the test give 102.773 by the normal fit, 100.5 by ranks (X).

    >>> early_days((100, 105, 108, 109, 112, 116, 119, 121, 124, 128), 0.1, fit="ranks")
    100.5
    """
    return _level(days, _chance(chance) / _share(share), fit)


def late_days(days: Sequence[float], chance: float, share: float = 1.0, fit: Fit = "normal") -> float | None:
    """The day of the winter after which frost still comes with a chance.

        chance = share * (1 - F(day));   day = F^-1(1 - chance / share)

    As `early_days`. Worked: a mean of day 271.267 with a deviation of 12.376 days gives 287.13 for 10 % (X).
    """
    return _level(days, 1.0 - _chance(chance) / _share(share), fit)


def _chance(chance: float) -> float:
    if 0.0 < chance < 1.0:
        return chance
    raise ValueError(f"chance is {chance}: valid above 0 and below 1")


def _share(share: float) -> float:
    if 0.0 < share <= 1.0:
        return share
    raise ValueError(f"share is {share}: valid above 0 to 1")


def _level(days: Sequence[float], level: float, fit: Fit) -> float | None:
    if len(days) < 2 or not 0.0 < level < 1.0:
        return None
    if fit == "normal":
        deviation = stdev(days)
        return NormalDist(fmean(days), deviation).inv_cdf(level) if deviation else fmean(days)
    place = level * (len(days) + 1)
    below = math.floor(place)
    ranked = sorted(days)
    if place == len(ranked):
        return ranked[-1]
    if not 1 <= below < len(ranked):
        return None
    return ranked[below - 1] + (place - below) * (ranked[below] - ranked[below - 1])


def early_frost(spread: FrostSpread, chance: float, fit: Fit = "normal") -> MonthDay | None:
    """The month and day before which frost comes with a chance, rounded down to the earlier day.

        `early_days` of the spread

    None where frost never has that chance. Valid for 20 winters up; ValueError below, for those give a range and
    no chance. Source: as `early_days`; 20 winters common practice. Worked: day 110.82 is 19 October (X).
    """
    if not spread.days:
        return None
    days = early_days(spread.days, chance, _enough(spread).share, fit)
    return None if days is None else month_day(math.floor(days + DUST_DAYS), spread.half)


def late_frost(spread: FrostSpread, chance: float, fit: Fit = "normal") -> MonthDay | None:
    """The month and day after which frost still comes with a chance, rounded up to the later day.

    As `early_frost`, with `late_days`. Worked: day 104.13 of the year is 15 April (X).
    """
    if not spread.days:
        return None
    days = late_days(spread.days, chance, _enough(spread).share, fit)
    return None if days is None else month_day(math.ceil(days - DUST_DAYS), spread.half)


def _enough(spread: FrostSpread) -> FrostSpread:
    if spread.few_winters:
        raise ValueError(f"winters_nr is {spread.winters_nr}: valid from {YEARS_WANTED} up; tell a range instead")
    return spread
