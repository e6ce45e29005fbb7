"""What a job takes of a mix made fresh: days, batches, panels and waste told apart, low, likely and high."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import FRONT_L_PER_M2, KIT, STACK_L_PER_M2, nhl, one
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import job_batches
from generator.lime.job_batches import Cases, Work, amounts_of, last_day_m2, placing_days, summed
from generator.lime.shared_batch import SharedCase, shared_batches
from generator.values import Range, replace

FRONT = Work(one(13.5), {"yard": 3.0}, one(FRONT_L_PER_M2.likely), panels_m2=(1.0,))
STACK = Work(one(10.5), {"yard": 2.0}, one(STACK_L_PER_M2), panels_m2=(0.5,))


def alone(work: Work, parts: float, life_h: float) -> Cases[SharedCase]:
    """One work alone in its mix."""
    return shared_batches([work], nhl(parts), KIT, life_h)


def day_batches_nr(case: SharedCase) -> Fraction:
    """The batches of its days, panels aside."""
    (day,) = case.days
    return (day.days - 1) * day.a_day + day.last_nr if day.days else Fraction(0)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(job_batches)
    assert failed == 0
    assert attempted >= 2


def test_the_garden_front_takes_six_batches_and_tells_its_waste_apart() -> None:
    """Example A: 5 days and a panel; 89.9 l of which 60.3 in place, 6.0 dropped, 23.5 thrown away."""
    case = alone(FRONT, 2.5, 8.0).likely
    assert case.days[0].days == day_batches_nr(case) == 5
    assert case.days[0].panels_nr == 1
    found = case.amounts
    assert found.made_l == pytest.approx(89.9, abs=0.05)
    assert found.in_place_l == pytest.approx(60.3, abs=0.05)
    assert found.dropped_l == pytest.approx(6.0, abs=0.05)
    assert found.thrown_away_l == pytest.approx(23.5, abs=0.05)
    assert found.kept_l == 0.0
    assert found.lime_l == pytest.approx(42.0)
    assert found.sands_l == pytest.approx((105.0,))


def test_the_toll_house_stack_takes_seven_batches() -> None:
    """Example B: 6 days and a panel; 31.5 l of lime, 63 l of damp sand."""
    case = alone(STACK, 2.0, 8.0).likely
    assert case.days[0].days == day_batches_nr(case) == 6
    assert case.days[0].panels_nr == 1
    assert case.amounts.lime_l == pytest.approx(31.5)
    assert case.amounts.sands_l == pytest.approx((63.0,))


def test_the_share_treated_is_ordered_low_likely_and_high() -> None:
    """A face of 54 m2 of which 5 to 100 per cent is failed, 25 likely, is not ordered as 25."""
    share = Work(Range(2.7, 13.5, 54.0), {"yard": 3.0}, one(FRONT_L_PER_M2.likely))
    found = alone(share, 2.5, 8.0)
    assert [case.days[0].days for case in (found.low, found.likely, found.high)] == [1, 5, 18]
    spread = found.spread(lambda case: case.amounts.lime_l)
    assert spread.low < spread.likely < spread.high
    assert spread.high == pytest.approx(18 / 5 * spread.likely)


def test_wide_joints_make_the_batch_of_the_high_end_larger() -> None:
    """The front's joints of 8 to 11 mm: 16.29 l a day at the widest, for which 14.98 l would be short."""
    found = alone(Work(one(13.5), {"yard": 3.0}, FRONT_L_PER_M2), 2.5, 8.0)
    (day,) = found.high.days
    assert day.need.need_l == pytest.approx(16.29, abs=0.005)
    assert found.high.batch.makes_l * day.a_day >= day.need.need_l
    assert found.low.days[0].need.in_place_l_per_m2 < found.likely.days[0].need.in_place_l_per_m2


def test_a_last_day_with_less_to_do_is_a_whole_day() -> None:
    assert placing_days(13.5, 3.0) == 5
    assert placing_days(12.0, 3.0) == 4
    assert last_day_m2(13.5, 3.0) == 1.5


def test_a_last_day_is_mixed_for_what_is_left_to_do() -> None:
    long, short = (alone(Work(one(m2), {"yard": 20.0}, one(12.0)), 2.5, 8.0).likely for m2 in (40, 22))
    assert long.days[0].days == short.days[0].days == 2
    assert [day_batches_nr(case) for case in (long, short)] == [9, 5]


def test_less_than_a_days_work_is_the_days_need() -> None:
    (day,) = alone(Work(one(2.0), {"yard": 3.0}, one(4.0)), 2.5, 8.0).likely.days
    assert (day.days, day.need.output_m2) == (1, 2.0)


def test_a_panel_beside_full_loads_is_half_a_load() -> None:
    render = Work(one(96.0), {"yard": 16.0}, one(12.0), panels_m2=(1.0,))
    case = alone(render, 2.5, 8.0).likely
    assert day_batches_nr(case) == 6 * 4
    assert case.days[0].panels_nr * 2 == 1


def test_an_end_with_no_area_has_no_days_and_its_panel_only() -> None:
    nothing = alone(replace(FRONT, area_m2=Range(0.0, 13.5, 13.5)), 2.5, 8.0).low
    assert nothing.days[0].days == day_batches_nr(nothing) == 0
    assert nothing.days[0].panels_nr == 1
    assert nothing.amounts.made_l == pytest.approx(14.98)


areas = st.floats(0.5, 200.0)
outputs = st.dictionaries(st.sampled_from(["a", "b", "c"]), st.floats(0.5, 30.0), min_size=1)
per_m2 = st.floats(0.5, 60.0)
panels = st.lists(st.floats(0.5, 2.0), max_size=3).map(tuple)


@given(areas, outputs, per_m2, panels, st.sampled_from([2.0, 4.0, 6.0, 8.0]))
def test_a_job_never_makes_less_than_its_days_and_panels_need(
    area: float, output: dict[str, float], litres: float, panel: tuple[float, ...], life_h: float
) -> None:
    case = alone(Work(one(area), output, one(litres), panel), 2.5, life_h).likely
    (day,) = case.days
    assert case.amounts.made_l >= 1.1 * litres * (area + sum(panel)) - 1e-6
    assert day.days * sum(output.values()) >= area - 1e-6
    assert day.need.output_m2 * day.days >= area - 1e-6


@given(areas, per_m2, st.sampled_from([2.0, 2.5, 3.0]))
def test_what_goes_in_comes_out_in_place_dropped_or_left(area: float, litres: float, parts: float) -> None:
    found = alone(Work(one(area), {"yard": 3.0}, one(litres)), parts, 8.0).likely.amounts
    assert found.in_place_l == pytest.approx(area * litres)
    assert found.dropped_l == pytest.approx(0.1 * area * litres)
    assert found.thrown_away_l >= 0.0
    assert sum(found.sands_l) / found.lime_l == pytest.approx(parts)
    assert nhl(parts).made_l(sum(found.sands_l)) == pytest.approx(found.made_l)


def test_amounts_of_two_works_in_one_mix_are_added() -> None:
    once = amounts_of(nhl(2.5), 60.0, in_place_l=40.0, dropped_l=4.0, hair_kg=0.2)
    both = summed([once, once])
    assert (both.lime_l, both.made_l, both.hair_kg) == (2 * once.lime_l, 120.0, 0.4)
    with pytest.raises(ValueError, match="same sands"):
        summed([once, amounts_of(nhl(2.5, blend=(3, 2)), 60.0, in_place_l=40.0, dropped_l=4.0)])
    with pytest.raises(ValueError, match="0 works"):
        summed([])


def test_cases_are_told_from_the_least_to_the_greatest() -> None:
    assert Cases(3.0, 2.0, 1.0).spread(lambda value: value) == Range(1.0, 2.0, 3.0)


@pytest.mark.parametrize("output", [{}, {"yard": 0.0}, {"yard": 3.0, "street": -1.0}])
def test_a_work_that_nobody_does_is_refused(output: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="output_m2 at"):
        Work(one(10.0), output, one(4.0))
