"""Waits in the cold: the sum of daily rates month by month, and the same turned round.

V29 to V31 are the trade's check values for this reckoning, computed by a coding independent of this one (X).
"""

from __future__ import annotations

import doctest
from collections.abc import Callable
from datetime import date, timedelta
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import maturity
from generator.lime.hardening import arrhenius_rate, cement_law_rate, nurse_saul_rate
from generator.lime.maturity import days_to_mature, latest_placing, monthly_rates, slowest_rate

arrhenius = partial(arrhenius_rate, activation_kj_per_mol=40.0)
LAWS: dict[str, Callable[[float], float]] = {
    "nurse-saul": nurse_saul_rate, "arrhenius": arrhenius, "cement": cement_law_rate,
}  # fmt: skip
MEANS_C = (4.0, 4.0, 6.0, 9.0, 12.0, 15.0, 17.0, 17.0, 14.0, 12.0, 7.0, 5.0)
FROSTY_C = (-5.0, -4.0, 1.0, 6.0, 11.0, 16.0, 22.0, 21.0, 14.0, 8.0, 2.0, -3.0)

days = st.dates(date(2020, 1, 1), date(2040, 12, 31))
needs = st.floats(0.0, 100.0)
climates = st.lists(st.floats(-20.0, 40.0), min_size=12, max_size=12).map(lambda means: [*means[:-1], 20.0])


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(maturity)
    assert failed == 0
    assert attempted >= 6


@pytest.mark.parametrize(
    ("law", "at_12_c", "at_7_c"),
    [("nurse-saul", 0.7333, 0.5667), ("arrhenius", 0.6310, 0.4670), ("cement", 0.5939, 0.3673)],
)
def test_v31_rates_at_12_and_7_degrees(law: str, at_12_c: float, at_7_c: float) -> None:
    rates = monthly_rates(MEANS_C, LAWS[law])
    assert (round(rates[9], 4), round(rates[10], 4)) == (at_12_c, at_7_c)


@pytest.mark.parametrize(
    ("law", "days_nr", "done"),
    [("nurse-saul", 29, date(2027, 10, 30)), ("arrhenius", 35, date(2027, 11, 5)), ("cement", 39, date(2027, 11, 9))],
)
def test_v29_21_days_at_20_degrees_from_the_first_of_october(law: str, days_nr: int, done: date) -> None:
    placing = date(2027, 10, 1)
    assert days_to_mature(21.0, placing, monthly_rates(MEANS_C, LAWS[law])) == days_nr
    assert placing + timedelta(days_nr) == done


@pytest.mark.parametrize(("law", "day"), [("nurse-saul", 10), ("arrhenius", 5), ("cement", 2)])
def test_v30_the_latest_placing_that_is_done_by_the_tenth_of_november(law: str, day: int) -> None:
    rates = monthly_rates(MEANS_C, LAWS[law])
    assert latest_placing(21.0, date(2027, 11, 10), rates) == date(2027, 10, day)


@pytest.mark.parametrize(
    ("days_at_20_c", "mean_c", "days_nr"),
    # trade table: 7 days are 9.4, 14.1, 23.9 and 21 days 28.1, 42.2, 71.8 by the slowest law (X), rounded up
    [(7, 15, 10), (7, 10, 15), (7, 5, 24), (21, 15, 29), (21, 10, 43), (21, 5, 72), (21, 20, 21), (21, 30, 21)],
)
def test_an_even_temperature_stretches_a_wait_by_the_slowest_law_and_warmth_never_shortens_it(
    days_at_20_c: float, mean_c: float, days_nr: int
) -> None:
    assert days_to_mature(days_at_20_c, date(2027, 9, 6), monthly_rates((mean_c,) * 12)) == days_nr


def test_planning_takes_the_slowest_of_the_three_laws() -> None:
    for mean_c in (0.0, 3.0, 8.0, 14.0, 20.0):
        assert slowest_rate(mean_c) == min(law(mean_c) for law in LAWS.values())


def test_frost_counts_for_nothing_and_the_wait_lasts_until_spring() -> None:
    rates = monthly_rates(FROSTY_C)
    assert rates[0] == rates[1] == rates[11] == 0.0
    done = date(2027, 11, 25) + timedelta(days_to_mature(7.0, date(2027, 11, 25), rates))
    assert date(2028, 3, 1) < done < date(2028, 4, 10)
    assert latest_placing(7.0, date(2028, 2, 1), rates) < date(2027, 12, 1)


@given(needs, days, climates)
def test_done_is_the_first_day_by_which_the_daily_rates_reach_the_need(
    need: float, placing: date, means: list[float]
) -> None:
    rates = monthly_rates(means)
    days_nr = days_to_mature(need, placing, rates)
    counted = [rates[(placing + timedelta(day)).month - 1] for day in range(days_nr)]
    assert sum(counted) >= need - 1e-6
    assert sum(counted[:-1]) < need or days_nr == 0


@given(needs, days, climates)
def test_the_latest_placing_is_done_in_time_and_a_day_later_is_not(need: float, by: date, means: list[float]) -> None:
    rates = monthly_rates(means)
    placing = latest_placing(need, by, rates)
    assert placing + timedelta(days_to_mature(need, placing, rates)) <= by
    later = placing + timedelta(1)
    assert later + timedelta(days_to_mature(need, later, rates)) > by


@given(needs, st.floats(0.0, 5.0), days, climates)
def test_a_longer_need_or_a_later_placing_is_never_done_sooner(
    need: float, more: float, placing: date, means: list[float]
) -> None:
    rates = monthly_rates(means)
    done = placing + timedelta(days_to_mature(need, placing, rates))
    later = placing + timedelta(1)
    assert placing + timedelta(days_to_mature(need + more, placing, rates)) >= done
    assert later + timedelta(days_to_mature(need, later, rates)) >= done


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: monthly_rates((10.0,) * 11), "11 months: valid 12"),
        (lambda: monthly_rates((50.0,) * 12), r"month_means_c is 50\.0: valid from -60 to 40"),
        (lambda: days_to_mature(-1.0, date(2027, 1, 1), monthly_rates(MEANS_C)), r"days_at_20_c is -1\.0"),
        (lambda: days_to_mature(1.0, date(2027, 1, 1), (0.0,) * 12), "no month is warm enough"),
        (lambda: latest_placing(1.0, date(2027, 1, 1), (0.0,) * 12), "no month is warm enough"),
        (lambda: days_to_mature(300.0, date(2027, 1, 1), (0.01,) * 12), "ten years are too cold"),
        (lambda: latest_placing(300.0, date(2027, 1, 1), (0.01,) * 12), "ten years are too cold"),
    ],
)
def test_what_cannot_be_reached_is_told_and_not_summed_for_ever(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
