"""Waits in the cold: how many days lime takes to be as hard as so many days at 20 C make it, month by month.

Each day counts for the hardening rate of its month's expected mean temperature against 20 C. Planning takes
the slowest of the three laws of `hardening`: none was measured on lime, so this sizes a wait and proves nothing
about a wall. Shrinkage and drying follow no law here; the thumb decides. Confidence of a source: R read, X computed.
"""

from __future__ import annotations

import datetime
import math
from calendar import monthrange
from collections.abc import Callable, Sequence
from typing import Final

from generator.lime.hardening import relative_rate
from generator.lime.limits import checked

COLDEST_MONTH_C: Final = -60.0
WARMEST_MONTH_C: Final = 40.0  # where the laws of `hardening` end
LONGEST_NEED_DAYS: Final = 365.0
LONGEST_WAIT_DAYS: Final = 3653  # ten years: a wait that is not over by then never is
DUST_DAYS: Final = 1e-9  # what binary fractions add to a whole number of days

MonthlyRates = tuple[float, ...]
"""What a day of each month counts for, January first: 1 is a day at 20 C, 0 a day of frost."""


class TooCold(ValueError):
    """Raised where ten years of a place's months do not harden lime as far as was asked."""


def slowest_rate(temperature_c: float) -> float:
    """The hardening rate against 20 C that planning takes: the slowest of the three laws.

        rate = least of Nurse-Saul, Arrhenius, cement equivalent age

    A ratio. Valid for 0 to 40 C; ValueError outside. Source: `hardening.relative_rate`; that the slowest is
    taken, common practice. Worked: 12 C is 0.594, 7 C is 0.367 (X).

    >>> round(slowest_rate(12.0), 4), round(slowest_rate(7.0), 4)
    (0.5939, 0.3673)
    """
    return relative_rate(temperature_c).low


def monthly_rates(month_means_c: Sequence[float], law: Callable[[float], float] = slowest_rate) -> MonthlyRates:
    """What a day of each month counts for, from the twelve expected mean temperatures, January first.

        rate = law(mean), never above 1;   0 where the mean is below 0 C

    Ratios. Valid for twelve means of -60 to 40 C; ValueError otherwise. Warmth above 20 C never shortens a
    wait. Source: law as named; the two limits are common practice.

    >>> monthly_rates((-1.0,) * 6 + (25.0,) * 6)[5:7]
    (0.0, 1.0)
    """
    if len(month_means_c) != 12:
        raise ValueError(f"{len(month_means_c)} months: valid 12")
    means = [checked("month_means_c", mean, COLDEST_MONTH_C, WARMEST_MONTH_C) for mean in month_means_c]
    return tuple(0.0 if mean < 0.0 else min(1.0, law(mean)) for mean in means)


def days_to_mature(days_at_20_c: float, placing: datetime.date, rates: MonthlyRates) -> int:
    """The days from placing until lime is as hard as so many days at 20 C make it.

        the fewest days n with   rate(placing) + ... + rate(placing + n - 1) >= days at 20 C

    Whole days; the day of placing counts whole, and placing + n is the day on which it is done. Valid for 0
    to 365 days at 20 C; ValueError outside, `TooCold` where ten years do not reach it. Source: maturity sum (R) of
    laws as named. Worked: 21 days from 1 October at means of 12 C and 7 C take 39, to 9 November (X).

    >>> rates = monthly_rates((4.0, 4.0, 6.0, 9.0, 12.0, 15.0, 17.0, 17.0, 14.0, 12.0, 7.0, 5.0))
    >>> days_to_mature(21.0, datetime.date(2027, 10, 1), rates)
    39
    """
    left = _need(days_at_20_c, rates)
    waited = 0
    day = placing
    while left > 0.0:
        rate, in_month = rates[day.month - 1], monthrange(day.year, day.month)[1] - day.day + 1
        days = _days_at(left, rate)
        if days <= in_month:
            return _within_ten_years(waited + int(days), days_at_20_c)
        left -= rate * in_month
        waited = _within_ten_years(waited + in_month, days_at_20_c)
        day += datetime.timedelta(in_month)
    return waited


def latest_placing(days_at_20_c: float, done_by: datetime.date, rates: MonthlyRates) -> datetime.date:
    """The latest day of placing from which lime is as hard by a day as so many days at 20 C make it.

        the latest day with   day + days_to_mature(day) <= done by

    A date. Valid for 0 to 365 days at 20 C; ValueError outside, `TooCold` where ten years do not reach it. Source:
    the inverse of `days_to_mature`. Worked: 21 days by 10 November at 12 C and 7 C are placed by 2 October (X).

    >>> rates = monthly_rates((4.0, 4.0, 6.0, 9.0, 12.0, 15.0, 17.0, 17.0, 14.0, 12.0, 7.0, 5.0))
    >>> latest_placing(21.0, datetime.date(2027, 11, 10), rates)
    datetime.date(2027, 10, 2)
    """
    left = _need(days_at_20_c, rates)
    placing = done_by
    while left > 0.0:
        day = placing - datetime.timedelta(1)
        rate, in_month = rates[day.month - 1], day.day
        days = _days_at(left, rate)
        step = int(min(days, in_month))
        left = 0.0 if days <= in_month else left - rate * in_month
        placing -= datetime.timedelta(step)
        _within_ten_years((done_by - placing).days, days_at_20_c)
    return placing


def _need(days_at_20_c: float, rates: MonthlyRates) -> float:
    need = checked("days_at_20_c", days_at_20_c, 0.0, LONGEST_NEED_DAYS) - DUST_DAYS
    if need > 0.0 and not any(rates):
        raise TooCold(f"days_at_20_c is {days_at_20_c}: no month is warm enough to reach it")
    return need


def _days_at(need: float, rate: float) -> float:
    return math.ceil(need / rate) if rate > 0.0 else math.inf


def _within_ten_years(waited: int, days_at_20_c: float) -> int:
    if waited > LONGEST_WAIT_DAYS:
        raise TooCold(f"days_at_20_c is {days_at_20_c}: ten years are too cold to reach it")
    return waited
