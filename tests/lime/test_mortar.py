"""Mortar: yield, materials, whole boxes, batches, orders, pozzolan and old mortar put back."""

from __future__ import annotations

import doctest

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import astuple

from generator.lime import mortar
from generator.lime.mortar import Densities, Gauge, Materials, OldMortar
from generator.values import Range

GAUGE = Gauge(2, 5, 0.25)
SPREAD = Range(1.0, 1.05, 1.1)
LOOSE = Densities(1.35, 1.55, 0.8)
USUAL = {"mortar_per_sand": 1.0, "bulking_share": 0.25, "sand_moisture_share": 0.05, "waste_share": 0.0}


def need(mortar_m3: float = 1.0, **changed: float) -> Materials:
    return mortar.materials(mortar_m3, GAUGE, LOOSE, **{**USUAL, **changed})


def test_every_example_in_the_docstrings_holds() -> None:
    failed, attempted = doctest.testmod(mortar)
    assert failed == 0
    assert attempted >= 11


@given(st.floats(0.5, 4.0), st.floats(0.5, 8.0))
def test_a_void_filling_mortar_is_never_less_than_its_sand(putty: float, sand: float) -> None:
    span = mortar.void_filling_yield(putty, sand, Range(0.33, 0.38, 0.42))
    assert span.low >= 1.0
    assert mortar.void_filling_yield(putty * 1.1, sand, Range(0.33, 0.38, 0.42)).high >= span.high


@given(st.floats(0.0, 50.0), st.floats(0.0, 0.5))
def test_doubling_the_mortar_doubles_every_material(mortar_m3: float, bulking: float) -> None:
    once = astuple(need(mortar_m3, bulking_share=bulking))
    assert astuple(need(2 * mortar_m3, bulking_share=bulking)) == pytest.approx([2 * x for x in once])


@given(st.floats(0.0, 0.9), st.floats(0.0, 0.1), st.floats(0.01, 20.0))
def test_more_waste_never_orders_less(waste: float, more: float, mortar_m3: float) -> None:
    less, greater = need(mortar_m3, waste_share=waste), need(mortar_m3, waste_share=waste + more)
    assert mortar.bags_to_order(greater.lime_kg, 25.0) >= mortar.bags_to_order(less.lime_kg, 25.0)
    assert mortar.tubs_to_order(greater.lime_l, 18.0) >= mortar.tubs_to_order(less.lime_l, 18.0)
    assert greater.sand_damp_kg >= less.sand_damp_kg


def test_a_lower_yield_takes_more_of_everything() -> None:
    low, high = astuple(need(mortar_per_sand=1.0)), astuple(need(mortar_per_sand=1.1))
    assert low == pytest.approx([1.1 * amount for amount in high])


def test_materials_keep_the_gauge_and_the_dry_sand_is_the_same_sand() -> None:
    taken = need()
    assert taken.sand_damp_l / taken.lime_l == pytest.approx(2.5)
    assert taken.sand_dry_l / taken.lime_l == pytest.approx(2.0)
    assert taken.pozzolan_l / taken.lime_l == pytest.approx(0.125)
    assert taken.sand_dry_l == pytest.approx(1000.0)
    assert taken.sand_dry_kg == pytest.approx(1550.0)
    assert taken.sand_damp_kg == pytest.approx(1550.0 * 1.05)
    assert taken.lime_kg == pytest.approx(500.0 * 1.35)


@given(st.floats(0.0, 0.19), st.floats(0.0, 0.01))
def test_wetter_sand_weighs_more_and_holds_the_same_sand(moisture: float, more: float) -> None:
    drier, wetter = need(sand_moisture_share=moisture), need(sand_moisture_share=moisture + more)
    assert wetter.sand_damp_kg >= drier.sand_damp_kg
    assert wetter.sand_dry_kg == drier.sand_dry_kg


def test_a_pozzolan_without_its_weight_is_refused() -> None:
    with pytest.raises(ValueError, match="pozzolan_kg_per_l is 0"):
        mortar.materials(1.0, GAUGE, Densities(1.35, 1.55), **USUAL)


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"mortar_per_sand": 0.5}, r"mortar_per_sand is 0\.5: valid from 0\.7 to 2"),
        ({"mortar_per_sand": 2.1}, r"mortar_per_sand is 2\.1: valid from 0\.7 to 2"),
        ({"waste_share": 1.05}, r"waste_share is 1\.05: valid from 0 to 1"),
        ({"bulking_share": -0.1}, r"bulking_share is -0\.1: valid from 0 to 0\.5"),
        ({"mortar_m3": -1.0}, r"mortar_m3 is -1\.0: valid from 0 up"),
    ],
)
def test_inputs_out_of_validity_are_refused_with_value_and_limits(changed: dict[str, float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        need(**changed)


@pytest.mark.parametrize(
    ("parts", "boxes"),
    [(2.0, (1, 2)), (2.25, (4, 9)), (2.5, (2, 5)), (3.0, (1, 3)), (1.5, (2, 3)), (1.0, (1, 1))],
)
def test_a_ratio_that_whole_boxes_can_keep_is_kept(parts: float, boxes: tuple[int, int]) -> None:
    found = mortar.whole_box_gauge(1.0, parts, boxes_at_most=14)
    assert (found.gauge.lime_boxes, found.gauge.sand_boxes) == boxes
    assert found.ratio_error_share == pytest.approx(0.0, abs=1e-12)


def test_only_the_proportion_of_the_parts_counts() -> None:
    assert mortar.whole_box_gauge(2.0, 5.0, boxes_at_most=14) == mortar.whole_box_gauge(1.0, 2.5, boxes_at_most=14)


def test_a_batch_counts_the_pozzolan_among_what_fills_the_mixer() -> None:
    load = mortar.batch(Gauge(2, 5, 0.5), box_l=10.0, mixer_l=150.0, bulking_share=0.0, mortar_per_sand=SPREAD)
    assert (load.times, load.pozzolan_boxes, load.loose_l) == (2, 1.0, 150.0)


def test_a_ratio_that_so_few_boxes_cannot_keep_says_how_far_it_is_off() -> None:
    found = mortar.whole_box_gauge(1.0, 2.5, boxes_at_most=5)
    assert found.gauge == Gauge(1, 2)
    assert found.ratio_error_share == pytest.approx(-0.2)


@given(st.floats(0.5, 4.0), st.integers(4, 30))
def test_more_boxes_never_keep_a_ratio_worse(parts: float, boxes: int) -> None:
    few = mortar.whole_box_gauge(1.0, parts, boxes_at_most=boxes)
    more = mortar.whole_box_gauge(1.0, parts, boxes_at_most=boxes + 1)
    assert abs(more.ratio_error_share) <= abs(few.ratio_error_share) + 1e-9


@given(st.integers(1, 4), st.integers(1, 12), st.floats(5.0, 20.0), st.floats(1.0, 600.0))
def test_a_batch_keeps_the_ratio_and_never_overfills_the_mixer(
    lime: int, sand: int, box_l: float, spare_l: float
) -> None:
    mixer_l = (lime + sand) * box_l + spare_l
    load = mortar.batch(
        Gauge(lime, sand),
        box_l=box_l,
        mixer_l=mixer_l,
        bulking_share=0.2,
        mortar_per_sand=Range(1.0, 1.05, 1.1),
    )
    assert load.lime_boxes * sand == load.sand_boxes * lime
    assert load.loose_l <= mixer_l * (1 + 1e-9)
    assert load.loose_l + (lime + sand) * box_l > mixer_l * (1 - 1e-9)
    assert load.mortar_l.low <= load.mortar_l.likely <= load.mortar_l.high


def test_a_mixer_filled_to_the_brim_by_the_gauge_takes_it_once() -> None:
    load = mortar.batch(Gauge(2, 5), box_l=14.3, mixer_l=100.1, bulking_share=0.0, mortar_per_sand=Range(1.0, 1.0, 1.0))
    assert load.times == 1
    assert load.mortar_l.likely == pytest.approx(71.5)


def test_a_mixer_that_cannot_hold_the_gauge_once_is_refused_with_what_it_takes() -> None:
    with pytest.raises(ValueError, match=r"mixer_l is 90\.0: valid from 98"):
        mortar.batch(Gauge(2, 5), box_l=14.0, mixer_l=90.0, bulking_share=0.2, mortar_per_sand=Range(1.0, 1.0, 1.0))


def test_a_gauge_in_parts_of_boxes_makes_no_batch() -> None:
    with pytest.raises(ValueError, match=r"1 : 2\.5 boxes: valid in whole boxes"):
        mortar.batch(Gauge(1, 2.5), box_l=14.0, mixer_l=90.0, bulking_share=0.2, mortar_per_sand=Range(1.0, 1.0, 1.0))


@given(st.floats(0.0, 5000.0), st.floats(1.0, 40.0))
def test_an_order_is_never_short_and_never_a_whole_container_over(wanted: float, holds: float) -> None:
    for count in (
        mortar.bags_to_order(wanted, holds),
        mortar.tubs_to_order(wanted, holds),
        mortar.batches_to_make(wanted, holds),
    ):
        assert count * holds >= wanted - holds * 1.1e-6
        assert (count - 1) * holds < wanted or count == 0


@given(st.floats(0.05, 50.0), st.floats(0.1, 5.0))
def test_pozzolan_measures_give_the_dose_itself_from_a_vessel_that_holds_them(dose: float, vessel: float) -> None:
    found = mortar.pozzolan_measure(dose, vessel)
    assert found.measures * found.measure_l == pytest.approx(dose)
    assert found.measure_l <= vessel * (1 + 2e-6)


CLEAN = OldMortar(salty=False, sooty=False, painted=False, cement_bound=False)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1000.0))
def test_old_mortar_goes_back_up_to_the_cap(wanted: float, cap: float, aggregate_l: float) -> None:
    back = mortar.recovered_old_mortar(aggregate_l, wanted, CLEAN, cap_share=cap)
    assert back.share == min(wanted, cap)
    assert back.recovered_l <= aggregate_l


@pytest.mark.parametrize(
    ("old", "reason"),
    [
        (OldMortar(True, False, False, False), "salty"),
        (OldMortar(False, True, False, False), "sooty"),
        (OldMortar(False, False, True, False), "painted"),
        (OldMortar(False, False, False, True), "cement-bound"),
    ],
)
def test_spoilt_old_mortar_is_refused_with_its_reason(old: OldMortar, reason: str) -> None:
    back = mortar.recovered_old_mortar(100.0, 0.2, old, cap_share=0.25)
    assert back.recovered_l == 0.0
    assert back.refused_for == (reason,)


@pytest.mark.parametrize(("wanted", "cap"), [(1.05, 0.2), (0.2, 1.05), (-0.1, 0.2)])
def test_shares_of_old_mortar_beyond_the_whole_are_refused(wanted: float, cap: float) -> None:
    with pytest.raises(ValueError, match="valid from 0 to 1"):
        mortar.recovered_old_mortar(100.0, wanted, CLEAN, cap_share=cap)


def test_old_mortar_that_nobody_has_looked_at_is_held_back_and_says_why() -> None:
    back = mortar.recovered_old_mortar(100.0, 0.2, OldMortar(None, False, False, None), cap_share=0.25)
    assert back.share == 0.0
    assert back.refused_for == ()
    assert back.not_known == ("salty", "cement-bound")
