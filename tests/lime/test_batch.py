"""A day's batch: the worked examples and edges of the trade's reckoning, and what holds for every wall."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import FRONT_L_PER_M2, KIT, STACK_L_PER_M2, nhl, told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import batch
from generator.lime.batch import (
    DayBatch,
    DayNeed,
    LifeTooShort,
    RatioOnly,
    batches_by_life,
    day_batch,
    day_need,
    left_at_most_l,
    loads,
)
from generator.lime.gauging import GaugedMix, Kit

FRONT = day_need(3.0, FRONT_L_PER_M2.likely, area_m2=13.5)
STACK = day_need(2.0, STACK_L_PER_M2, area_m2=10.5)


def made(need: DayNeed, mix: GaugedMix, kit: Kit = KIT, life_h: float | None = 8.0) -> DayBatch:
    found = day_batch(need, mix, kit, life_h)
    assert isinstance(found, DayBatch)
    return found


def of_need(need_l: float) -> DayNeed:
    """A day that takes so many litres in all."""
    return DayNeed(1.0, need_l / 1.1)


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(batch)
    assert failed == 0
    assert attempted >= 14


# --- worked examples A and B ---------------------------------------------------------------------------------


def test_the_garden_front_is_one_batch_a_day_in_quarter_boxes() -> None:
    """Example A: NHL 2, 1 : 2.5, one mason at 3 m2 a day."""
    assert FRONT_L_PER_M2.low == pytest.approx(3.7544, abs=5e-5)
    assert FRONT_L_PER_M2.likely == pytest.approx(4.1603, abs=5e-5)
    assert FRONT_L_PER_M2.high == pytest.approx(4.9361, abs=5e-5)
    assert pytest.approx(13.73, abs=0.005) == FRONT.need_l
    day = made(FRONT, nhl(2.5))
    assert day.by_life_nr == 1
    assert day.batches.batches_nr == 1
    tried = [(t.measure, told(t.batch), round(t.made_l, 2), round(t.left_l, 2), t.verdict)
             for t in day.batches.tried]  # fmt: skip
    assert tried == [
        ("whole", "2 + 5", 59.92, 46.19, "left-too-much"),
        ("half", "1 + 2 1/2", 29.96, 16.23, "left-too-much"),
        ("quarter", "1/2 + 1 1/4", 14.98, 1.25, "taken"),
    ]
    assert [round(100 * t.left_share) for t in day.batches.tried] == [336, 118, 9]
    assert day.batches.why == "little-left"
    assert day.covers_m2 == pytest.approx(14.98 / (FRONT_L_PER_M2.likely * 1.1))
    assert day.notes == ()


def test_the_toll_house_stack_is_one_batch_by_the_jug() -> None:
    """Example B: NHL 3.5, 1 : 2, 6 h; two batches by life would be under the least."""
    assert pytest.approx(3.3348, abs=5e-5) == STACK_L_PER_M2
    assert pytest.approx(7.337, abs=5e-4) == STACK.need_l
    day = made(STACK, nhl(2.0), life_h=6.0)
    assert day.by_life_nr == 2
    assert STACK.need_l / 2 == pytest.approx(3.67, abs=0.005)
    assert day.batches.batches_nr == 1
    assert day.notes == ("fewer-than-life-asks",)
    tried = {t.measure: t for t in day.batches.tried}
    assert tried["whole"].made_l == pytest.approx(23.97, abs=0.005)
    assert tried["half"].made_l == pytest.approx(11.98, abs=0.005)
    assert round(100 * tried["half"].left_share) == 63
    assert tried["quarter"].made_l == tried["half"].made_l  # 1/4 + 1/2 makes 5.99, under the need
    assert day.batches.batch.measure == "jug"
    assert told(day.batches.batch) == "4 1/2 + 9"
    assert day.batches.made_l == pytest.approx(7.70, abs=0.005)
    assert day.batches.left_l == pytest.approx(0.37, abs=0.005)
    assert round(100 * day.batches.left_share) == 5


# --- edges ---------------------------------------------------------------------------------------------------


def test_a_need_under_the_least_batch_says_that_the_least_governs() -> None:
    day = made(of_need(3.0), nhl(2.5))
    assert day.batches.batch.measure == "jug"
    assert told(day.batches.batch) == "3 + 7 1/2"
    assert day.batches.made_l == pytest.approx(6.42, abs=0.005)
    assert day.batches.left_l == pytest.approx(3.42, abs=0.005)
    assert day.batches.why == "least"


def test_a_life_of_two_hours_takes_four_batches_a_day() -> None:
    day = made(of_need(40.0), nhl(2.0), life_h=2.0)
    assert day.by_life_nr == day.batches.batches_nr == 4
    assert told(day.batches.batch) == "1/2 + 1"
    assert day.batches.batch.makes_l == pytest.approx(11.98, abs=0.005)
    assert day.batches.made_l == pytest.approx(47.94, abs=0.005)
    assert day.batches.left_l == pytest.approx(7.94, abs=0.005)
    assert 0.19 < day.batches.left_share < 0.20


def test_a_small_box_beside_a_large_mixer_does_not_fill_the_mixer() -> None:
    """Box 5 l, mixer 500 l: the load that the mixer holds is 98 boxes, the day's batch 5 1/4."""
    day = made(FRONT, nhl(2.5), Kit(5.0, 500.0))
    assert sum(day.full_load.counts) == 98
    assert told(day.batches.batch) == "1 1/2 + 3 3/4"
    assert day.batches.made_l == pytest.approx(16.05, abs=0.005)
    assert day.batches.left_l == pytest.approx(2.32, abs=0.005)
    assert round(100 * day.batches.left_share) == 17
    assert day.notes == ("by-hand",)


@pytest.mark.parametrize(
    ("need_l", "of_a_load", "loads_nr", "made_l", "left_l"),
    [(200.0, 3.34, Fraction(7, 2), 209.7, 9.7), (211.2, 3.52, Fraction(4), 239.7, 28.5)],
)
def test_a_need_above_a_full_load_is_full_loads_up_to_the_half(
    need_l: float, of_a_load: float, loads_nr: Fraction, made_l: float, left_l: float
) -> None:
    """200 l; and render, 16 m2 x 12 mm."""
    day = made(of_need(need_l), nhl(2.5))
    assert day.batches.batch.makes_l == pytest.approx(59.92)
    assert need_l / 59.92 == pytest.approx(of_a_load, abs=0.005)
    assert day.batches.batches_nr == loads_nr
    assert day.batches.made_l == pytest.approx(made_l, abs=0.05)
    assert day.batches.left_l == pytest.approx(left_l, abs=0.05)
    assert day.batches.why == "full-loads"


def test_render_of_sixteen_square_metres_leaves_an_eighth() -> None:
    day = made(day_need(16.0, 12.0, area_m2=100.0), nhl(2.5))
    assert day.need.need_l == pytest.approx(211.2)
    assert day.need.dropped_l == pytest.approx(19.2)
    assert round(100 * day.batches.left_share) == 13


def test_a_blend_is_measured_from_a_heap_each() -> None:
    day = made(FRONT, nhl(2.5, blend=(3, 2)))
    assert told(day.batches.batch) == "1/2 + 3/4 + 1/2"
    assert day.batches.made_l == pytest.approx(14.98, abs=0.005)


@pytest.mark.parametrize(("sand", "notes"), [("dry", ()), ("flooded", ("drain-or-less-water",))])
def test_kiln_dried_and_flooded_sand_take_the_dry_counts(sand: str, notes: tuple[str, ...]) -> None:
    day = made(FRONT, nhl(2.5, sand=sand))  # type: ignore[arg-type]
    assert day.batches.batch.measure == "half"
    assert told(day.batches.batch) == "1/2 + 1"
    assert day.batches.made_l == pytest.approx(14.98, abs=0.005)
    assert day.notes == notes


def test_damp_counts_on_kiln_dried_sand_would_be_lean_by_a_fifth() -> None:
    lime_share = made(FRONT, nhl(2.5, sand="dry")).batches.batch
    true_parts = lime_share.sands_l[0] / lime_share.lime_l
    assert 1 - true_parts / 2.5 == pytest.approx(0.2)


def test_without_a_box_nothing_is_counted_and_the_gauge_is_told() -> None:
    told = day_batch(FRONT, nhl(2.5), None, 8.0)
    assert isinstance(told, RatioOnly)
    assert told.why == "box-not-known"
    assert (told.gauge.lime, told.gauge.sands) == (2, (5,))
    assert told.need.need_l == FRONT.need_l


@pytest.mark.parametrize(("life_h", "batches_nr"), [(2.0, 4), (3.0, 3), (4.0, 2), (6.0, 2), (8.0, 1), (None, 1)])
def test_the_life_of_a_mortar_tells_its_batches(life_h: float | None, batches_nr: int) -> None:
    assert batches_by_life(life_h) == batches_nr


def test_a_life_spent_in_carrying_is_refused_by_name() -> None:
    with pytest.raises(LifeTooShort, match="valid above") as raised:
        batches_by_life(0.25)
    assert raised.value.code == "life-too-short"


def test_a_mixer_under_the_least_batch_makes_full_loads_of_what_it_holds_and_says_so() -> None:
    day = made(FRONT, nhl(2.5), Kit(14.0, 8.0))
    assert day.full_load.measure == "jug"
    assert day.full_load.makes_l < 6.0
    assert {"mixer-under-least", "mixer-under-set"} <= set(day.notes)
    assert day.batches.made_l >= FRONT.need_l


def test_a_half_load_under_the_least_is_not_counted() -> None:
    small = Kit(14.0, 14.0)  # 4 + 10 l by the jug makes 8.56, half of it 4.28
    found = loads(nhl(2.5), small, 20.0)
    assert found.batch.makes_l == pytest.approx(8.56, abs=0.005)
    assert found.batches_nr == 3
    assert found.half_load is None


def test_a_gauge_that_is_neared_is_noted() -> None:
    assert "gauge-neared" in made(FRONT, nhl(0.33)).notes
    assert "gauge-neared" not in made(FRONT, nhl(2.5)).notes


# --- what was found in batches that fill the mixer -----------------------------------------------------------


def test_a_day_on_the_stack_no_longer_fills_the_mixer_to_throw_most_of_it_away() -> None:
    """A mixer of 120 l made 48 l where a day takes 8 l: five sixths were thrown away."""
    day = made(STACK, nhl(2.0), life_h=6.0)
    assert day.full_load.makes_l == pytest.approx(47.94, abs=0.005)
    assert 1 - STACK.need_l / day.full_load.makes_l > 0.8
    assert day.batches.left_l / day.batches.made_l < 0.05


def test_litres_a_square_metre_are_not_rounded_before_they_are_multiplied() -> None:
    assert DayNeed(1000.0, 4.1603).need_l - DayNeed(1000.0, 4.2).need_l == pytest.approx(-43.67)


# --- what holds for every day --------------------------------------------------------------------------------

needs = st.floats(0.5, 600.0)
lives = st.sampled_from([2.0, 3.0, 4.0, 6.0, 8.0, None])
kits = st.builds(Kit, st.floats(5.0, 40.0), st.floats(45.0, 500.0))  # 45 l hold any of these gauges by the jug
mixes = st.builds(
    nhl, st.sampled_from([1.0, 1.5, 2.0, 2.5, 3.0]), blend=st.sampled_from([(1,), (3, 2), (2, 1)]),
    sand=st.sampled_from(["damp", "dry"]),
)  # fmt: skip


@given(needs, mixes, kits, lives)
def test_a_day_is_never_short_and_no_batch_is_above_the_mixer(
    need_l: float, mix: GaugedMix, kit: Kit, life_h: float | None
) -> None:
    day = made(of_need(need_l), mix, kit, life_h)
    assert day.batches.made_l >= need_l - 1e-6
    assert day.batches.left_l == pytest.approx(day.batches.made_l - need_l, abs=1e-6)
    assert day.batches.batch.loose_l <= kit.mixer_l + 1e-6
    assert day.batches.batches_nr >= 1
    assert day.batches.batches_nr <= day.by_life_nr or day.batches.why == "full-loads"


@given(needs, mixes, kits, lives)
def test_little_is_left_unless_the_least_batch_the_load_or_the_set_governs(
    need_l: float, mix: GaugedMix, kit: Kit, life_h: float | None
) -> None:
    day = made(of_need(need_l), mix, kit, life_h)
    found = day.batches
    if found.why == "little-left":
        assert found.left_l <= left_at_most_l(need_l) + 1e-6
    elif found.why == "full-loads":
        step = found.half_load or found.batch
        assert found.left_l < step.makes_l + 1e-6
    elif found.why == "least":
        assert need_l / float(found.batches_nr) < kit.least_l
    else:  # every measure was tried and leaves too much, and none leaves less than the one chosen
        assert len(found.tried) == 4
        held = [t for t in found.tried if t.verdict != "over-the-mixer"]
        assert all(t.verdict == "left-too-much" and t.left_l >= found.left_l for t in held)


@given(needs, mixes, kits, lives)
def test_a_finer_measure_is_tried_only_where_a_coarser_one_leaves_too_much(
    need_l: float, mix: GaugedMix, kit: Kit, life_h: float | None
) -> None:
    tried = made(of_need(need_l), mix, kit, life_h).batches.tried
    assert all(t.verdict != "taken" for t in tried[:-1])
    for t in tried:
        if t.verdict == "left-too-much":
            assert t.left_l > left_at_most_l(need_l)


@given(needs, mixes, kits)
def test_a_shorter_life_never_asks_for_fewer_batches(need_l: float, mix: GaugedMix, kit: Kit) -> None:
    numbers = [made(of_need(need_l), mix, kit, life).batches.batches_nr for life in (8.0, 6.0, 4.0, 3.0, 2.0)]
    assert numbers == sorted(numbers)


@pytest.mark.parametrize(
    ("output", "per_m2", "dropped"), [(0.0, 4.0, 0.1), (3.0, 0.0, 0.1), (3.0, 4.0, 1.5), (float("nan"), 4.0, 0.1)]
)
def test_a_day_of_nothing_is_refused(output: float, per_m2: float, dropped: float) -> None:
    with pytest.raises(ValueError, match="valid"):
        DayNeed(output, per_m2, dropped)
