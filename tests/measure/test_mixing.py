"""Boxes of a batch, what a mix truly is, and what is ordered for it."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

import pytest
from answers_text import answers, one_wall, wall
from hypothesis import given, settings
from hypothesis import strategies as st
from jobs import example, shipped
from jobs import job as shipped_job
from small_library import job

from generator import pipeline
from generator.document.outline import outline
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.measure.gauged import kit_for
from generator.measure.mixing import batch_of
from generator.measure.model import MixSheetFacts
from generator.measure.outputs import Outputs
from generator.papers.assemble import assemble
from generator.record.record import record
from generator.values import replace

LIBRARY = shipped()
RUBBLE: dict[str, str | None] = {
    "masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 40 (25)", "unit_length_mm": None,
    "unit_width_mm": None, "unit_height_mm": None, "bond": None, "joint_finish": "as-found",
}  # fmt: skip


HYDRAULIC: dict[str, str | None] = {"asked_binder": "nhl-2"}


def only(made: Job) -> MixSheetFacts:
    (batch,) = made.measured.batches
    return batch


def ratio(batch: MixSheetFacts) -> Decimal:
    return sum(batch.sand_counts, Decimal(0)) / batch.lime


def test_a_load_of_what_keeps_is_whole_boxes_in_the_recipes_ratio_and_fits_the_mixer() -> None:
    batch = only(job(one_wall(gauge_box_l="14", mixer_l="120", face_area_m2="400")))
    assert batch.keeps
    assert batch.lime == batch.lime.to_integral_value()
    assert ratio(batch) == batch.mix.recipe.ratio.chosen
    assert batch.made.batch.loose_l <= 120


def test_a_larger_mixer_takes_larger_loads_of_what_keeps_in_the_same_ratio() -> None:
    small, large = (only(job(one_wall(mixer_l=size, face_area_m2="400"))) for size in ("120", "240"))
    assert large.sand_counts > small.sand_counts
    assert ratio(large) == ratio(small)


def test_a_larger_mixer_changes_nothing_of_a_small_batch_that_does_not_keep() -> None:
    small, large = (only(job(one_wall(mixer_l=size, **HYDRAULIC))) for size in ("120", "240"))
    assert not small.keeps
    assert (large.lime, large.sand_counts, large.batches) == (small.lime, small.sand_counts, small.batches)


def test_a_mixer_that_is_ten_times_a_days_batch_is_told() -> None:
    made = job(one_wall(mixer_l="500", gauge_box_l="5", output_m2_per_day="1", **HYDRAULIC))
    assert "mixer-too-large" in {item.code for item in made.findings}
    assert only(made).made.batch.loose_l < 50


def test_a_mixer_smaller_than_one_set_of_boxes_is_told_and_takes_parts_of_a_box() -> None:
    made = job(one_wall(mixer_l="40"))
    assert "mixer-too-small" in {item.code for item in made.findings}
    assert only(made).made.batch.loose_l <= 40
    assert ratio(only(made)) == only(made).mix.recipe.ratio.chosen


def test_kiln_dried_sand_is_counted_dry_and_makes_the_same_mortar() -> None:
    damp, dry = (only(job(one_wall(sand_state=state, **HYDRAULIC))) for state in ("damp", "dry"))
    assert (ratio(damp), ratio(dry)) == (Decimal("2.5"), Decimal(2))


def test_flooded_sand_is_counted_as_dry_and_told() -> None:
    made = job(one_wall(sand_state="flooded", **HYDRAULIC))
    assert ratio(only(made)) == Decimal(2)
    assert "sand-flooded" in {item.code for item in made.findings}


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


def test_a_pozzolan_is_measured_for_a_box_drawn_and_ordered() -> None:
    """A tenth of 14 l: 1.4 l of brick dust in each box."""
    made = job(one_wall(asked_binder="putty-pozzolan"))
    batch = only(made)
    assert batch.mix.recipe.pozzolan_of == "mortar"
    assert batch.mix.recipe.pozzolan_per_cent == 10
    assert batch.made.pozzolan_l == 1.4
    assert [line.parts for line in made.measured.materials] == ["lime", "sand", "pozzolan"]


def test_hair_is_weighed_to_ten_grams_and_ordered_by_weight() -> None:
    text = one_wall(work="plaster", plaster_coats="two", joint_finish=None, cement_area_m2=None)
    made = job(text)
    haired = [batch.made.hair_g for batch in made.measured.batches if batch.made.hair_g]
    assert haired
    assert all(grams % 10 == 0 for grams in haired)
    assert "hair" in {line.material.id for line in made.measured.materials}


def test_batches_are_halves_at_least_and_enough_for_the_job() -> None:
    batch = only(job(one_wall(face_area_m2="400")))
    for count in (batch.batches.low, batch.batches.likely, batch.batches.high):
        assert count * 2 == (count * 2).to_integral_value()
    assert batch.batches.high >= batch.batches.likely >= batch.batches.low > 0


def test_packages_hold_the_high_figure() -> None:
    for line in job(one_wall(face_area_m2="400", hardness="hard")).measured.materials:
        assert line.packages == line.packages.to_integral_value()
        assert line.holds >= Decimal(str(line.amount.high)) * Decimal("0.999999")
        assert line.amount.low <= line.amount.likely <= line.amount.high


def test_what_is_ordered_is_never_under_what_the_days_need() -> None:
    for extra in (HYDRAULIC, RUBBLE, {}):
        batch = only(job(one_wall(**extra)))
        for amounts in (batch.made.amounts.low, batch.made.amounts.likely, batch.made.amounts.high):
            assert batch.made.gauged.made_l(sum(amounts.sands_l)) >= amounts.in_place_l + amounts.dropped_l - 1e-6


@given(area=st.integers(1, 5_000), more=st.integers(0, 5_000))
@settings(max_examples=15)
def test_a_larger_wall_never_orders_less_of_anything(area: int, more: int) -> None:
    small, large = (job(one_wall(face_area_m2=str(size))).measured.materials for size in (area, area + more))
    assert all(b.holds >= a.holds for a, b in zip(small, large, strict=True))


@given(box=st.integers(5, 40), mixer=st.integers(20, 500))
def test_any_box_and_mixer_keep_the_gauge_and_are_never_overfilled(box: int, mixer: int) -> None:
    made = job(one_wall(gauge_box_l=str(box), mixer_l=str(mixer)))
    (mix,) = made.decisions.mixes
    batch, raised = batch_of(mix, made.facts, Outputs(LIBRARY))
    assert batch.made.batch.loose_l <= mixer + 1e-9
    assert math.isclose(ratio(batch), mix.recipe.ratio.chosen)
    assert ("mixer-too-small" in {item.code for item in raised}) is (box * 7 > mixer)


# --- what no single wall, and no recipe shipped, brings about ---------------------------------------------


OFFER = (
    '[{name: A, passing: "4 100, 2 95, 1 80, 0.5 50, 0.25 20, 0.125 4"},'
    ' {name: B, passing: "4 100, 2 60, 1 30, 0.5 12, 0.25 5, 0.125 1"}]'
)
FINE, COARSE = '"4 100, 2 95, 1 80, 0.5 50, 0.25 20, 0.125 4"', '"4 100, 2 62, 1 32, 0.5 13, 0.25 5, 0.125 1"'


def raised(made: Job) -> set[str]:
    return {finding.code for finding in made.findings}


def test_walls_of_one_mix_whose_old_sands_ask_for_other_blends_are_told() -> None:
    def two(first: str, second: str) -> Job:
        walls = (wall(id_=key, name=key, old_sand_passing=old) for key, old in (("a", first), ("b", second)))
        return shipped_job(answers(*walls, sands_on_offer=OFFER))

    assert "sand-blends-differ" in raised(two(FINE, COARSE))
    assert "sand-blends-differ" not in raised(two(FINE, FINE))


def test_a_gauge_that_no_small_numbers_keep_is_told_with_how_far_it_is_off() -> None:
    def with_ratio(chosen: str) -> Job:
        recipes = {
            key: replace(recipe, ratio=replace(recipe.ratio, chosen=Decimal(chosen)))
            for key, recipe in LIBRARY.recipes.items()
        }
        source = read_bytes(one_wall().encode(), "answers.yaml", typed=False)
        library = replace(LIBRARY, recipes=recipes)
        return pipeline.settled(pipeline.read(source, library), library)

    assert "gauge-neared" in raised(with_ratio("2.51"))
    assert "gauge-neared" not in raised(with_ratio("2.5"))


def test_no_mixer_is_asked_for_what_is_slaked_on_a_floor() -> None:
    raised = job(one_wall(mixer_l="40", **RUBBLE)).findings
    assert "mixer-too-small" not in {item.code for item in raised}


def walled(people_nr: str, mixer_l: str) -> Job:
    """The loose top of a thick boundary wall built again in hydraulic lime, by a gang of so many."""
    built: dict[str, str | None] = {
        **RUBBLE, "work": "rebuild", "rebuild_what": "whole", "rebuild_thickness_mm": "650", "face_area_m2": "18",
        "replaced_units_nr": "0", "joint_finish": None, "cement_area_m2": None, "position": "freestanding",
        "asked_binder": "nhl-3.5", "asked_binder_reason": "the consent names it",
    }  # fmt: skip
    gangs = f"[{{trade: masonry, gangs_nr: 1, people_nr: {people_nr}}}]"
    return shipped_job(one_wall(**built, gangs=gangs, mixer_l=mixer_l))


def test_walling_that_one_mixer_cannot_make_in_a_day_asks_for_two_on_card_in_record_and_on_the_sheet() -> None:
    """Four masons lay 6 m2 a day of 650 mm: 1158 l, which one mixer of 100 l would make in 32 1/2 batches of 36 l."""
    made = walled("4", mixer_l="100")
    batch = only(made)
    assert (batch.lime, batch.sand_counts) == (Decimal("1.5"), (Decimal("4.5"),))
    (day,) = (day for day in batch.made.days if not day.task)
    assert (day.a_day, day.mixers_nr) == (Fraction(43, 2), 2)
    (finding,) = (item for item in made.findings if item.code == "mixers-short-of-day")
    assert "21½ batches" in finding.message
    assert finding.instruction.startswith("Keep 2 mixers")
    assert finding.instruction in outline(assemble(made).specification).replace("\u00a0", " ")
    assert made.facts.spoken(batch.mix.path, "mix_batches").replace("\u00a0", " ") == "21½ a day, in 2 mixers"
    (told,) = record(made, "answers.yaml", b"", {})["batches"]
    assert [one["mixers"] for one in told["days"] if "task" not in one] == [2]


def test_fewer_people_or_a_larger_mixer_make_do_with_one_and_no_paper_speaks_of_mixers() -> None:
    for made in (walled("2", mixer_l="100"), walled("4", mixer_l="250")):
        batch = only(made)
        assert batch.made.mixers_nr == 1
        assert "mixers-short-of-day" not in {item.code for item in made.findings}
        assert "mixers" not in made.facts.spoken(batch.mix.path, "mix_batches")


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house", "winter-plaster"])
def test_no_day_of_an_example_takes_more_batches_than_its_mixer_makes(name: str) -> None:
    made = example(name)
    for batch in made.measured.batches:
        most = kit_for(batch.mix, made.facts, made.library).most_a_day
        assert (most is None) == batch.keeps
        assert most is None or all(day.a_day <= most for day in batch.made.days)
