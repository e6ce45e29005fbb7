"""Boxes of a batch, what a mix truly is, and what is ordered for it."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from answers_text import one_wall
from hypothesis import given
from hypothesis import strategies as st
from jobs import job, shipped

from generator.job.job import Job
from generator.measure.mixing import batch_of, to_order
from generator.measure.model import MixSheetFacts
from generator.values import Range

LIBRARY = shipped()
RUBBLE: dict[str, str | None] = {
    "masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 40 (25)", "unit_length_mm": None,
    "unit_width_mm": None, "unit_height_mm": None, "bond": None, "joint_finish": "as-found",
}  # fmt: skip


def only(made: Job) -> MixSheetFacts:
    (batch,) = made.measured.batches
    return batch


def test_a_batch_is_whole_boxes_in_the_recipes_ratio_and_fits_the_mixer() -> None:
    batch = only(job(one_wall(gauge_box_l="14", mixer_l="120")))
    assert batch.lime_boxes == batch.lime_boxes.to_integral_value()
    assert batch.sand_boxes / batch.lime_boxes == batch.mix.recipe.ratio.chosen
    assert (batch.lime_boxes + batch.sand_boxes) * 14 <= 120


def test_a_larger_mixer_takes_more_boxes_of_the_same_ratio() -> None:
    small, large = (only(job(one_wall(mixer_l=size))) for size in ("120", "240"))
    assert large.sand_boxes > small.sand_boxes
    assert large.sand_boxes / large.lime_boxes == small.sand_boxes / small.lime_boxes


def test_a_mixer_smaller_than_one_gauge_is_told_and_the_gauge_stays_whole() -> None:
    made = job(one_wall(mixer_l="40"))
    assert "mixer-too-small" in {item.code for item in made.findings}
    assert only(made).lime_boxes >= 1


def test_damp_sand_bulks_so_the_ratio_on_dry_sand_is_richer() -> None:
    # 1 : 2.5 in boxes of damp sand is 1 : 2 on dry sand at 25 per cent bulking (arithmetic)
    batch = only(job(one_wall()))
    assert batch.mix.recipe.ratio.chosen == Decimal("2.5")
    assert batch.dry_ratio.likely == Decimal("2.0")
    assert batch.dry_ratio.low < batch.dry_ratio.likely < batch.dry_ratio.high


def test_a_hot_mix_at_1_to_3_is_about_1_to_2_as_putty_and_tells_heat_steam_and_water() -> None:
    # common practice: a quicklime mix gauged 1 : 3 measures about 1 : 2 when slaked
    batch = only(job(one_wall(**RUBBLE)))
    assert batch.mix.recipe.making == "hot-mix"
    assert batch.putty_ratio is not None
    assert batch.putty_ratio.low <= Decimal("2.0") <= batch.putty_ratio.high + Decimal("0.5")
    assert batch.putty_ratio.likely < batch.mix.recipe.ratio.chosen
    # 28 l of quicklime and 41 l of water, all headroom again, and 84 l of sand: 222, in tens
    assert batch.room_l == 230
    for figure in (batch.heat_mj, batch.steam_l, batch.water_l):
        assert figure is not None
        assert figure > 0


def test_mixes_without_quicklime_tell_no_heat() -> None:
    batch = only(job(one_wall()))
    assert (batch.putty_ratio, batch.heat_mj, batch.steam_l, batch.room_l) == (None, None, None, None)


def test_a_pozzolan_is_a_share_of_the_mortar_and_is_ordered() -> None:
    made = job(one_wall(asked_binder="putty-pozzolan"))
    batch = only(made)
    share = batch.mix.recipe.pozzolan_per_cent / 100
    assert batch.pozzolan_l == pytest.approx(batch.batch_l.likely * share, abs=Decimal("0.2"))
    assert [line.parts for line in made.measured.materials] == ["lime", "sand", "pozzolan"]


def test_hair_is_weighed_to_ten_grams_and_ordered_by_weight() -> None:
    text = one_wall(work="plaster", plaster_coats="two", joint_finish=None, cement_area_m2=None)
    made = job(text)
    haired = [batch for batch in made.measured.batches if batch.hair_g]
    assert haired
    assert all(batch.hair_g is not None and batch.hair_g % 10 == 0 for batch in haired)
    assert "hair" in {line.material.id for line in made.measured.materials}


def test_batches_are_whole_and_enough_for_the_job() -> None:
    batch = only(job(one_wall(face_area_m2="400")))
    for count in (batch.batches.low, batch.batches.likely, batch.batches.high):
        assert count == count.to_integral_value()
    assert batch.batches.high >= batch.batches.likely >= batch.batches.low >= 1


def test_packages_hold_the_high_figure_with_its_waste() -> None:
    for line in job(one_wall(face_area_m2="400", hardness="hard")).measured.materials:
        assert line.packages == line.packages.to_integral_value()
        assert line.packages * line.material.package.holds >= Decimal(str(line.amount.high)) * Decimal("0.999999")
        assert line.amount.low <= line.amount.likely <= line.amount.high


@given(low=st.floats(1, 5_000), more=st.floats(1, 3))
def test_more_mortar_never_orders_less_of_anything(low: float, more: float) -> None:
    made = job(one_wall())
    (mix,) = made.decisions.mixes
    small = list(to_order(mix, made.facts, LIBRARY, Range(low, low, low)))
    large = list(to_order(mix, made.facts, LIBRARY, Range(low * more, low * more, low * more)))
    assert all(b.packages >= a.packages for a, b in zip(small, large, strict=True))


@given(box=st.integers(5, 40), mixer=st.integers(20, 500))
def test_any_box_and_mixer_make_a_whole_gauge(box: int, mixer: int) -> None:
    made = job(one_wall(gauge_box_l=str(box), mixer_l=str(mixer)))
    (mix,) = made.decisions.mixes
    batch, raised = batch_of(mix, made.facts, LIBRARY, Range(100.0, 100.0, 100.0))
    loose = (batch.lime_boxes + batch.sand_boxes) * box
    assert (loose <= mixer) is not bool(raised)
    assert math.isclose(batch.sand_boxes / batch.lime_boxes, mix.recipe.ratio.chosen)
