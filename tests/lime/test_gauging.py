"""True gauges: the smallest whole numbers, counts in boxes and jugs, yields, full and half loads."""

from __future__ import annotations

import doctest
from fractions import Fraction

import pytest
from gauged_mixes import BULKING, KIT, VOIDS, nhl, one, putty, told
from hypothesis import given
from hypothesis import strategies as st

from generator.lime import gauging
from generator.lime.gauging import (
    STEP_OF,
    GaugeNotCounted,
    Kit,
    MixerTooSmall,
    PublishedYield,
    SandYield,
    counted,
    full_load,
    gauged_mix,
    halved,
    least_counted,
    sand_yield,
    simplest_fraction,
    true_gauge,
)

QUARTER = Fraction(1, 4)
recipe_gauges = st.sampled_from([0.33, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0])
blends = st.sampled_from([(1,), (1, 1), (3, 2), (2, 1), (4, 1), (2, 2, 1)])


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(gauging)
    assert failed == 0
    assert attempted >= 14


@pytest.mark.parametrize(("value", "above", "below"), [(2.4, 12, 5), (1.2, 6, 5), (3.2, 16, 5), (0.8, 4, 5)])
def test_a_gauge_on_dry_sand_is_exact_in_its_smallest_numbers(value: float, above: int, below: int) -> None:
    assert simplest_fraction(value) == Fraction(above, below)


def test_a_gauge_that_no_small_numbers_give_is_neared_and_says_by_how_much() -> None:
    neared = true_gauge(0.33)
    assert (neared.lime, neared.sands) == (3, (1,))
    assert neared.error_share == pytest.approx(0.0101, abs=1e-4)
    assert true_gauge(2.5).error_share == 0.0


def test_a_gauge_out_of_reach_of_small_numbers_is_refused() -> None:
    with pytest.raises(GaugeNotCounted, match=r"within 1\.5 % of 0\.011") as raised:
        true_gauge(0.011)
    assert raised.value.code == "gauge-not-counted"


@pytest.mark.parametrize("blend", [(), (1, 0), (-1, 2)])
def test_a_blend_without_a_part_for_each_sand_is_refused(blend: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="blend is"):
        true_gauge(2.5, blend=blend)


@given(recipe_gauges, blends, st.sampled_from([0.0, 0.125, 0.25]))
def test_parts_keep_the_gauge_the_blend_and_the_binder(sand: float, blend: tuple[int, ...], pozzolan: float) -> None:
    found = true_gauge(sand, blend=blend, pozzolan_share_of_binder=pozzolan)
    binder = found.lime + found.pozzolan
    assert sum(found.sands) / binder == pytest.approx(sand, rel=0.0102)
    assert found.pozzolan / binder == pytest.approx(pozzolan)
    for part, boxes in zip(blend, found.sands, strict=True):
        assert Fraction(boxes, sum(found.sands)) == Fraction(part, sum(blend))


def test_a_blend_of_three_to_two_splits_in_every_set() -> None:
    """The blend of a day's batch: a whole set is 2 + (3 + 2); at 1 : 2 the least quarter set is larger."""
    assert told(counted(nhl(2.5, blend=(3, 2)), 14.0, "whole", Fraction(1))) == "2 + 3 + 2"
    quarter = counted(nhl(2.0, blend=(3, 2)), 14.0, "quarter", QUARTER)
    assert told(quarter) == "1 1/4 + 1 1/2 + 1"


def test_a_pozzolan_within_the_binder_takes_its_part_of_the_boxes() -> None:
    """An eighth of a binder of 2 boxes: 1 3/4 putty, 1/4 pozzolan, 5 sand, and the mortar of 2 + 5."""
    load = full_load(putty(2.5, pozzolan_share_of_binder=0.125), KIT)
    assert told(load) == "1 3/4 + 1/4 + 5"
    assert load.makes_l == pytest.approx(61.04)
    assert load.loose_l == pytest.approx(98.0)


@pytest.mark.parametrize("state", ["dry", "flooded"])
def test_sand_that_does_not_bulk_takes_the_dry_counts_and_makes_the_same_mortar(state: gauging.SandState) -> None:
    batch = counted(nhl(2.5, sand=state), 14.0, "half", Fraction(1, 2))
    assert told(batch) == "1/2 + 1"
    assert batch.makes_l == pytest.approx(14.98)
    damp = counted(nhl(2.5), 14.0, "quarter", QUARTER)
    assert batch.lime_l == damp.lime_l
    assert batch.makes_l == pytest.approx(damp.makes_l)


def test_a_state_of_sand_that_is_not_known_is_refused() -> None:
    with pytest.raises(ValueError, match="damp, dry, flooded"):
        nhl(2.5, sand="frozen")  # type: ignore[arg-type]


def test_a_published_yield_holds_within_its_gauges_only() -> None:
    published = PublishedYield(one(1.07), 2.0, 3.0)
    for parts in (2.0, 2.5, 3.0):
        found = sand_yield(parts, BULKING, void_share=VOIDS, published=published)
        assert (found.mortar_per_sand, found.by) == (one(1.07), "published")
    under = sand_yield(1.5, BULKING, void_share=VOIDS, published=published)
    assert under.by == "voids"
    # lime + sand x (1 - voids) with voids of 0.41, over the dry sand: 1 + 1.2 x 0.59 = 1.708 of 1.2
    assert under.mortar_per_sand.likely * 1.2 == pytest.approx(1.708)


def test_one_box_of_sand_makes_what_the_trade_figures_say() -> None:
    """14 l damp: 11.98 l of NHL mortar; 2 + 5 boxes of putty 1 : 2.5 fill the voids and make 61.04 l."""
    assert nhl(2.0).made_l(14.0) == pytest.approx(11.98, abs=0.005)
    assert full_load(putty(2.5), KIT).makes_l == pytest.approx(61.04, abs=0.005)


def test_half_a_load_is_counted_only_in_whole_steps() -> None:
    load = full_load(nhl(2.5), KIT)
    half = halved(nhl(2.5), 14.0, load)
    assert half is not None
    assert (half.measure, told(half)) == ("half", "1 + 2 1/2")
    small = full_load(nhl(2.5), Kit(14.0, 30.0))
    assert (small.measure, told(small)) == ("quarter", "1/2 + 1 1/4")
    assert halved(nhl(2.5), 14.0, small) is None


@pytest.mark.parametrize(("mixer", "measure"), [(120.0, "whole"), (97.0, "half"), (48.0, "quarter"), (10.0, "jug")])
def test_a_mixer_too_small_for_whole_boxes_takes_the_next_finer_measure(mixer: float, measure: str) -> None:
    assert full_load(nhl(2.5), Kit(14.0, mixer)).measure == measure


def test_a_mixer_that_holds_no_set_at_all_is_refused_by_name() -> None:
    with pytest.raises(MixerTooSmall, match=r"valid from 3\.5,") as raised:
        full_load(nhl(2.5), Kit(14.0, 3.0))
    assert raised.value.code == "mixer-too-small"


@given(recipe_gauges, blends, st.floats(1.0, 300.0), st.sampled_from(sorted(STEP_OF)))
def test_a_batch_is_enough_in_whole_steps_and_no_set_too_many(
    sand: float, blend: tuple[int, ...], mortar_l: float, measure: gauging.Measure
) -> None:
    mix = nhl(sand, blend=blend)
    batch = least_counted(mix, 14.0, measure, mortar_l)
    once = counted(mix, 14.0, measure, STEP_OF[measure])
    assert batch.makes_l >= mortar_l - 1e-6
    assert batch.makes_l - once.makes_l < mortar_l or batch == once
    assert all((count / STEP_OF[measure]).denominator == 1 for count in batch.counts)


@given(st.floats(20.0, 500.0), st.floats(5.0, 40.0), recipe_gauges)
def test_a_load_never_goes_above_the_mixer_and_one_more_set_would(mixer: float, box: float, sand: float) -> None:
    mix = nhl(sand)
    load = full_load(mix, Kit(box, mixer))
    once = counted(mix, box, load.measure, STEP_OF[load.measure])
    assert load.loose_l <= mixer + 1e-6
    assert load.loose_l + once.loose_l > mixer


@given(st.floats(0.0, 500.0), st.floats(5.0, 40.0))
def test_boxes_and_jugs_tell_the_litres_to_the_nearest_half(litres: float, box: float) -> None:
    boxes, rest = gauging.boxes_and_jugs(litres, box)
    assert boxes * box + float(rest) == pytest.approx(litres, abs=0.2501)
    assert (rest * 2).denominator == 1


def test_sand_for_mortar_and_mortar_from_sand_are_one_reckoning() -> None:
    mix = nhl(2.5)
    assert mix.made_l(mix.sand_l_for(60.0)) == pytest.approx(60.0)


@pytest.mark.parametrize("kit", [(0.0, 120.0, 6.0), (14.0, 0.0, 6.0), (14.0, 120.0, -1.0)])
def test_a_box_or_mixer_of_nothing_is_refused(kit: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="valid"):
        Kit(*kit)


def test_bulking_beyond_any_sand_is_refused() -> None:
    with pytest.raises(ValueError, match="bulking_share"):
        gauged_mix(2.5, 0.6, SandYield(one(1.07), "published"))
