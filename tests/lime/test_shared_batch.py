"""One batch for several works of a mix: one alone is as before, none is short, and the least is made."""

from __future__ import annotations

import doctest

import pytest
from gauged_mixes import FRONT_L_PER_M2, KIT, STACK_L_PER_M2, nhl, one, told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import shared_batch
from generator.lime.gauging import Kit
from generator.lime.job_batches import Work
from generator.lime.shared_batch import shared_batches
from generator.values import Range, replace

FRONT = Work(one(13.5), {"yard": 3.0}, one(FRONT_L_PER_M2.likely), (1.0,))
STACK = Work(one(10.5), {"yard": 2.0}, one(STACK_L_PER_M2), (0.5,))
RENDER = Work(one(48.0), {"yard": 16.0}, one(12.0))


def test_every_example_in_the_docstrings_holds() -> None:
    assert doctest.testmod(shared_batch).failed == 0


def test_a_day_whose_mortar_would_die_by_the_afternoon_is_made_in_small_batches() -> None:
    """The stack, 7.34 l a day of six-hour mortar: two of 2 1/2 + 5 l, placed within their life, and 1.22 l left."""
    case = shared_batches([STACK], nhl(2.0), KIT, 6.0).likely
    assert told(case.batch) == "2 1/2 + 5"
    assert [day.a_day for day in case.days] == [2]
    assert case.days[0].left_l == pytest.approx(1.22, abs=0.005)
    assert "fewer-than-life-asks" not in case.notes


def test_a_day_too_small_for_two_batches_keeps_its_one() -> None:
    dab = Work(one(6.0), {"yard": 1.0}, one(STACK_L_PER_M2))
    case = shared_batches([dab], nhl(2.0), KIT, 6.0).likely
    assert [day.a_day for day in case.days] == [1]
    assert "fewer-than-life-asks" in case.notes


def test_a_small_work_does_not_throw_away_the_batch_of_a_large_one() -> None:
    """A stack of 7 l a day beside a front of 14 l: by the stack's jug the front takes two, and less is made."""
    case = shared_batches([FRONT, STACK], nhl(2.0), KIT, 6.0).likely
    assert told(case.batch) == "4 1/2 + 9"
    assert [day.a_day for day in case.days] == [2, 1]


def test_a_render_is_not_mixed_by_the_jug_for_the_sake_of_a_stack() -> None:
    case = shared_batches([RENDER, STACK], nhl(2.0), KIT, 6.0).likely
    assert case.batch.measure == "whole"
    assert case.days[0].a_day <= 8


WALLING = Work(one(18.0), {"yard": 6.0}, one(175.5))
ONE_MIXER = Kit(14.0, 100.0, most_a_day=15)


@pytest.mark.parametrize(
    ("output", "counts", "a_day"),
    [(2.0, "1 + 3", "11"), (3.0, "1 1/2 + 4 1/2", "11"), (6.0, "1 1/2 + 4 1/2", "43/2"), (9.0, "1 3/4 + 5 1/4", "28")],
)
def test_a_day_of_more_loads_than_a_mixer_makes_has_fuller_ones_in_the_coarsest_measure(
    output: float, counts: str, a_day: str
) -> None:
    """NHL 1 : 3 in a mixer of 100 l: 1 + 3 boxes are 36 l, 1 1/2 + 4 1/2 are 54 l, 1 3/4 + 5 1/4 are 63 l.

    The days take 386, 579, 1158 and 1737 l: 11 and 16 1/2 loads of 36 l, 21 1/2 of 54 l by two mixers, and 32 1/2 by
    three, or 28 of 63 l by two.
    """
    case = shared_batches([replace(WALLING, output_m2={"yard": output})], nhl(3.0), ONE_MIXER, 6.0).likely
    assert (told(case.batch), str(case.days[0].a_day)) == (counts, a_day)


def test_copings_on_days_of_their_own_share_the_fuller_load_of_the_walling_below_them() -> None:
    copings = Work(one(18.0), {"yard": 9.39}, one(20.44))
    case = shared_batches([copings, WALLING], nhl(3.0), ONE_MIXER, 6.0).likely
    assert told(case.batch) == "1 1/2 + 4 1/2"
    assert [str(day.a_day) for day in case.days] == ["4", "43/2"]


def test_a_work_of_a_few_litres_does_not_have_a_large_one_mixed_in_more_batches_than_mixers_make() -> None:
    dab = Work(one(2.0), {"yard": 1.0}, one(12.0))
    case = shared_batches([dab, WALLING], nhl(3.0), ONE_MIXER, 6.0).likely
    assert ONE_MIXER.mixers_nr(max(day.a_day for day in case.days)) == 2


def test_what_is_done_nowhere_at_an_end_chooses_no_batch_there() -> None:
    """Deep places that may be none, packed at 40 l a day if there are any: the stack is mixed as it is alone."""
    deep = Work(Range(0.0, 42.0, 42.0), {"yard": 42.0}, one(1.0))
    beside, alone = (shared_batches(works, nhl(2.0), KIT, 6.0).low for works in ([deep, STACK], [STACK]))
    assert beside.batch == alone.batch
    assert beside.batches_nr == alone.batches_nr
    assert beside.days[0].days == 0


@given(
    areas=st.lists(st.floats(0.5, 200.0), min_size=1, max_size=4), output=st.floats(0.5, 40.0),
    per_m2=st.floats(0.5, 30.0), life_h=st.sampled_from([2.0, 4.0, 6.0, 8.0]),
)  # fmt: skip
def test_no_day_of_any_work_is_short(areas: list[float], output: float, per_m2: float, life_h: float) -> None:
    works = [Work(one(area), {"yard": output}, one(per_m2)) for area in areas]
    case = shared_batches(works, nhl(2.5), KIT, life_h).likely
    for day in case.days:
        assert float(day.a_day) * case.batch.makes_l >= day.need.need_l - 1e-6
    assert case.amounts.made_l == pytest.approx(float(case.batches_nr) * case.batch.makes_l)


def test_no_work_is_not_a_batch() -> None:
    with pytest.raises(ValueError, match="0 works"):
        shared_batches([], nhl(2.5), KIT, 8.0)
