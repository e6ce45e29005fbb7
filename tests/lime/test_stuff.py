"""Stuff made before: loads into store, draws by the day, hair and pozzolan in the draw."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import KIT, one, putty, told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import stuff
from generator.lime.batch import DayNeed
from generator.lime.gauging import Kit, full_load
from generator.lime.job_batches import Work
from generator.lime.stuff import (
    NO_DOSE,
    Dose,
    PozzolanInStore,
    day_draw,
    hair_said_g,
    pozzolan_said_l,
    pozzolan_share_of_mortar,
    stored,
    stuff_for,
)
from generator.values import Range

# Mill-house ceiling: 6 m2, keys of 15 per cent behind the first coat, a plasterer's output of 16 m2 a day
PRICKING_UP = (Work(one(6.0), {"barn": 16.0}, one(11.5), (1.0,)), Dose(hair_kg_per_m3=7.0))
FLOAT = (Work(one(6.0), {"barn": 16.0}, one(8.0), (1.0,)), Dose(hair_kg_per_m3=5.0))


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(stuff)
    assert failed == 0
    assert attempted >= 7


@pytest.mark.parametrize(
    ("coat", "need_l", "boxes", "left_l", "box_g", "said_g", "hair_g"),
    [(PRICKING_UP, 75.9, Fraction(11, 2), 1.1, 98.0, 100, 539.0), (FLOAT, 52.8, Fraction(4), 3.2, 70.0, 70, 280.0)],
)
def test_the_ceiling_draws_each_coat_in_half_boxes_with_its_hair(
    coat: tuple[Work, Dose], need_l: float, boxes: Fraction, left_l: float, box_g: float, said_g: int, hair_g: float
) -> None:
    """Example C; each coat is less than a day's output and takes one day."""
    found = stuff_for([coat], putty(2.5), KIT).likely.coats[0]
    draw = found.at["barn"]
    assert found.days == 1
    assert draw.need.need_l == pytest.approx(need_l)
    assert (draw.draws_nr, draw.boxes_each) == (1, boxes)
    assert draw.left_l == pytest.approx(left_l)
    assert draw.hair_g_per_box == pytest.approx(box_g)
    assert draw.hair_said_g_per_box == said_g
    assert draw.hair_g == pytest.approx(hair_g)
    assert draw.left_goes == "thrown-away"


def test_the_ceiling_is_made_in_three_loads_of_coarse_stuff() -> None:
    """Example C whole: draws of 161 l, 3 loads of 2 + 5, 22.1 l in store, hair 0.987 kg or as said 1.0."""
    case = stuff_for([PRICKING_UP, FLOAT], putty(2.5), KIT).likely
    panels = [draw for coat in case.coats for draw in coat.panels]
    assert [round(draw.need.need_l, 2) for draw in panels] == [12.65, 8.8]
    assert [draw.boxes_each for draw in panels] == [1, 1]
    assert sum(draw.hair_g for draw in panels) == pytest.approx(168.0)
    assert case.taken_l == pytest.approx(161.0)
    assert case.loads is not None
    assert case.loads.batches_nr == 3
    assert told(case.loads.batch) == "2 + 5"
    assert case.loads.made_l == pytest.approx(183.1, abs=0.05)
    assert case.in_store_l == pytest.approx(22.1, abs=0.05)
    assert sum(coat.at["barn"].left_l for coat in case.coats) == pytest.approx(4.3)
    assert case.amounts.lime_l == pytest.approx(84.0)
    assert case.amounts.sands_l == pytest.approx((210.0,))
    hair_g = sum(draw.hair_g for coat in case.coats for draw in coat.draws)
    assert hair_g == pytest.approx(987.0)
    assert case.amounts.hair_kg == pytest.approx(1.0)


def test_waste_of_the_ceiling_is_told_apart() -> None:
    """What haired draws and panels leave is thrown away, 10.85 l; what the loads leave is kept."""
    found = stuff_for([PRICKING_UP, FLOAT], putty(2.5), KIT).likely.amounts
    assert found.in_place_l == pytest.approx(6 * 19.5 + 19.5)
    assert found.dropped_l == pytest.approx(0.1 * 136.5)
    assert found.thrown_away_l == pytest.approx(4.3 + 1.35 + 5.2)
    assert found.kept_l == pytest.approx(22.1, abs=0.05)
    assert found.made_l == pytest.approx(183.1, abs=0.05)


def test_plain_putty_stuff_goes_back_under_cover_and_is_drawn_again() -> None:
    """8.8 l a day for 10 days: a box and a half box are not drawn afresh each day."""
    work = Work(one(20.0), {"yard": 2.0}, one(4.0))
    kept = stuff_for([(work, NO_DOSE)], putty(2.5), KIT).likely
    assert kept.coats[0].at["yard"].left_goes == "kept"
    assert kept.taken_l == pytest.approx(91.0)  # 88 l, up to the half box
    assert kept.amounts.thrown_away_l == pytest.approx(0.0, abs=1e-9)
    dosed = stuff_for([(work, Dose(hair_kg_per_m3=5.0))], putty(2.5), KIT).likely
    assert dosed.taken_l == pytest.approx(140.0)


def test_less_than_a_load_is_one_batch_in_the_measure_that_leaves_little() -> None:
    case = stuff_for([(Work(one(3.0), {"yard": 3.0}, one(4.0)), NO_DOSE)], putty(2.5), KIT).likely
    assert case.loads is not None
    assert case.loads.made_l < full_load(putty(2.5), KIT).makes_l / 2
    assert case.loads.made_l >= case.taken_l


def test_a_pozzolan_goes_into_the_draw_by_the_tenth_of_a_litre() -> None:
    """10 per cent of a box of 14 l is 1.4 l; metakaolin at 3 per cent of 61.04 l is 1.83, said 1.8."""
    brick = day_draw(DayNeed(3.0, 4.16), KIT, Dose(pozzolan_share_of_mortar=0.10, life_h=8.0))
    assert brick.pozzolan_l_per_box == pytest.approx(1.4)
    assert brick.pozzolan_said_l_per_box == pytest.approx(1.4)
    load_l = full_load(putty(2.5), KIT).makes_l
    assert pozzolan_said_l(0.10 * load_l, is_most=False) == pytest.approx(6.1)
    assert 0.03 * load_l == pytest.approx(1.83, abs=0.005)
    assert pozzolan_said_l(0.03 * load_l, is_most=True) == pytest.approx(1.8)
    assert 1.5 / (0.03 * load_l) == pytest.approx(0.82, abs=0.005)  # by a half-litre line it would err by 18 per cent


def test_a_dose_that_is_a_most_is_rounded_down_and_any_other_to_the_nearest() -> None:
    assert pozzolan_said_l(0.49, is_most=True) == 0.4
    assert pozzolan_said_l(0.49, is_most=False) == 0.5
    assert pozzolan_said_l(0.02, is_most=True) == 0.1


def test_a_recipes_basis_of_pozzolan_is_not_the_other_basis() -> None:
    """10 per cent of the mortar of 1 : 2.5 would be 22 per cent of its binder."""
    mortar_per_binder = 1 / pozzolan_share_of_mortar(putty(2.5), 1.0)
    assert round(100 * 0.10 * mortar_per_binder) == 22
    eighth = putty(2.5, pozzolan_share_of_binder=0.125)
    assert pozzolan_share_of_mortar(eighth, 0.125) == pytest.approx(3.5 / 61.04, abs=1e-4)


def test_a_dosed_draw_is_made_as_often_as_its_life_asks() -> None:
    often = day_draw(DayNeed(10.0, 4.0), KIT, Dose(pozzolan_share_of_mortar=0.03, pozzolan_is_most=True, life_h=4.0))
    assert often.by_life_nr == often.draws_nr == often.boxes_each == 2
    small = day_draw(DayNeed(2.0, 4.0), KIT, Dose(pozzolan_share_of_mortar=0.03, pozzolan_is_most=True, life_h=4.0))
    assert small.by_life_nr == 2
    assert small.draws_nr == small.boxes_each == 1


def test_hair_is_ordered_by_the_greater_of_the_dose_and_what_is_said() -> None:
    over = day_draw(DayNeed(6.0, 11.5), KIT, Dose(hair_kg_per_m3=7.0))
    assert over.hair_order_g == pytest.approx(550.0)
    under = day_draw(DayNeed(6.0, 11.5), KIT, Dose(hair_kg_per_m3=7.3))  # 102.2 g, said 100
    assert under.hair_said_g_per_box == 100
    assert under.hair_order_g == pytest.approx(5.5 * 102.2)


@pytest.mark.parametrize(("hair_g", "said"), [(4.0, 10), (94.9, 90), (95.0, 100), (98.0, 100), (104.9, 100)])
def test_hair_is_said_to_ten_grams(hair_g: float, said: int) -> None:
    assert hair_said_g(hair_g) == said


def test_an_end_that_takes_nothing_has_no_loads() -> None:
    found = stuff_for([(Work(Range(0.0, 6.0, 6.0), {"barn": 16.0}, one(8.0)), NO_DOSE)], putty(2.5), KIT)
    assert found.low.loads is None
    assert found.low.amounts.made_l == 0.0
    assert found.likely.loads is not None


works = st.builds(
    Work, st.floats(0.5, 200.0).map(one),
    st.dictionaries(st.sampled_from(["a", "b"]), st.floats(1.0, 60.0), min_size=1),
    st.floats(0.5, 20.0).map(one), st.lists(st.floats(0.5, 2.0), max_size=2).map(tuple),
)  # fmt: skip
doses = st.sampled_from(
    [NO_DOSE, Dose(hair_kg_per_m3=7.0), Dose(pozzolan_share_of_mortar=0.1, life_h=8.0),
     Dose(pozzolan_share_of_mortar=0.03, pozzolan_is_most=True, life_h=4.0)]
)  # fmt: skip


@given(works, doses, st.floats(5.0, 40.0))
def test_store_and_draws_are_enough_and_everything_goes_somewhere(work: Work, dose: Dose, box: float) -> None:
    kit = Kit(box, 300.0)
    case = stuff_for([(work, dose)], putty(2.5), kit).likely
    (coat,) = case.coats
    assert case.loads is not None
    assert case.loads.made_l >= case.taken_l - 1e-6
    assert case.taken_l >= coat.in_place_l + coat.dropped_l - 1e-6
    for draw in coat.draws:
        assert draw.drawn_l >= draw.need.need_l - 1e-6
        assert draw.left_l < draw.draws_nr * box / 2 + 1e-6
        assert (draw.boxes_each * 2).denominator == 1
    assert case.amounts.made_l == pytest.approx(case.loads.made_l)
    assert dose.keeps or case.amounts.kept_l == pytest.approx(case.in_store_l)
    assert not dose.keeps or case.amounts.thrown_away_l == pytest.approx(0.0, abs=1e-6)


def test_a_pozzolan_never_goes_into_store() -> None:
    with pytest.raises(PozzolanInStore, match="as a dose of the draw") as raised:
        stuff_for([PRICKING_UP], putty(2.5, pozzolan_share_of_binder=0.125), KIT)
    assert raised.value.code == "pozzolan-in-store"


def test_a_dose_of_half_the_mortar_or_more_is_refused() -> None:
    with pytest.raises(ValueError, match="pozzolan_share_of_mortar"):
        Dose(pozzolan_share_of_mortar=0.6)


def test_stuff_that_keeps_is_never_measured_by_the_jug_for_the_sake_of_what_is_over() -> None:
    """37 l of 61 a load: a full load, and the rest keeps; 17 l: quarter boxes."""
    assert told(stored(putty(2.5), KIT, 37.0).batch) == "2 + 5"
    assert told(stored(putty(2.5), KIT, 17.0).batch) == "1 + 2 1/2"


@pytest.mark.parametrize("taken_l", [0.5, 5.0, 17.0, 30.0, 37.0, 61.0, 62.0, 500.0])
def test_what_is_stored_is_never_under_what_is_taken(taken_l: float) -> None:
    found = stored(putty(2.5), KIT, taken_l)
    assert found.made_l >= taken_l
    assert found.batch.measure != "jug"
