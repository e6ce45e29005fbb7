"""The day's batch and the order of the examples, each reckoned by hand beside it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import example, job

from generator.document.model import plain_text
from generator.job.job import Job
from generator.measure import day_batches
from generator.measure.model import DayFacts, MaterialLine, MixSheetFacts, decimal
from generator.measure.outputs import Outputs
from generator.measure.placing import Placed, works_of
from generator.papers.mix_schedule import mix_schedule

NOT_REPOINTING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish")
)
LATHS: dict[str, str | None] = {
    "masonry": "laths", "hardness": None, "water_drop": None, "unit_length_mm": None, "unit_width_mm": None,
    "unit_height_mm": None, "bond": None, "joint_width_mm": None, "position": "indoors", "exposure": "internal",
}  # fmt: skip


def batch(made: Job, ref: str) -> MixSheetFacts:
    return next(found for found in made.measured.batches if found.mix.ref == ref)


def ordered(made: Job, material: str) -> MaterialLine:
    (line,) = [line for line in made.measured.materials if line.material.id == material]
    return line


def laid_in(day: DayFacts) -> str:
    """The task of the programme in which a day's mortar is laid."""
    return "/".join((*day.path[:2], day.task) if day.task else (*day.path, "lay"))


def likely(found: MixSheetFacts) -> dict[str, float]:
    return {name: round(litres.likely, 1) for name, litres in found.goes.items()}


# --- the garden front: NHL 2, 1 : 2.5, a pair of masons ----------------------------------------------------------


def test_the_garden_front_mixes_what_a_day_of_pointing_takes_for_its_joints_were_raked_before() -> None:
    """A pair points 2 x 6 m2 a day, but 9.6 m2 in two, a layer a day: at 4.1603 l and a tenth dropped 21.97 l.

    1 + 2 1/2 boxes of 11 l make 27.5 / 1.25 x 1.07 = 23.54.
    """
    found = batch(example("garden-front"), "M1")
    (day,) = found.made.days
    assert day.takes_l == pytest.approx(21.97, abs=0.005)
    assert (found.made.batch.measure, found.made.batch.counts) == ("half", (Fraction(1), Fraction(5, 2)))
    assert found.made.batch.makes_l == pytest.approx(23.54)
    assert (day.days, day.a_day) == (2, Fraction(1))
    assert day.left_l == pytest.approx(1.57, abs=0.005)


def test_the_garden_front_makes_a_batch_for_its_day_and_a_small_one_for_its_panel() -> None:
    """9.6 m2 in two days and a panel of 1 m2, which takes 4.58 l: 3 + 7 1/2 l by the jug, 6.42 l, and no third batch.

    53.5 l, of which 10.6 m2 keep 44.1 and 4.4 drop; the rest is thrown away.
    """
    found = batch(example("garden-front"), "M1")
    assert found.made.panel is not None
    assert (found.made.panel.measure, found.made.panel.counts) == ("jug", (Fraction(3), Fraction(15, 2)))
    assert found.made.panel.makes_l == pytest.approx(6.42)
    assert found.batches.likely == 2
    assert likely(found) == {"in_place_l": 44.1, "dropped_l": 4.4, "thrown_away_l": 5.0, "kept_l": 0.0}


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house", "winter-plaster"])
def test_a_mix_is_made_or_drawn_on_as_many_days_as_the_programme_lays_it(name: str) -> None:
    made = example(name)
    tasks = {task.key: task.why.days.likely for task in made.programme.tasks()}
    mixes = [found for found in made.measured.batches if found.mix.recipe.making != "limewash"]
    laid = {laid_in(day): day.days for found in mixes for day in found.made.days if day.task != "mend-old"}
    assert laid
    assert laid == {key: tasks[key] for key in laid}


def test_the_garden_front_orders_two_bags_of_lime_and_seven_of_sand() -> None:
    """Lime 22 + 3 l x 0.60 = 15 kg; sand 55 + 7.5 l damp / 1.25 x 1.55 = 77.5 kg dry, 81.4 kg damp.

    200 g of lime and 1 kg of sand are lodged, 25 kg of sand left.
    """
    made = example("garden-front")
    lime, sand = ordered(made, "nhl-2"), ordered(made, "sand-sharp")
    assert lime.amount.likely == pytest.approx(15 + 0.2)
    assert lime.packages == 2
    assert sand.amount.likely == pytest.approx(81.4 + 26, abs=0.05)
    assert tuple(map(int, (sand.packages, sand.small_packages))) == (0, 7)  # of 163 kg at the most


# --- the stack: NHL 3.5, 1 : 2, six hours -----------------------------------------------------------------


def test_the_stack_mixes_two_small_batches_by_the_jug_for_one_would_die_by_the_afternoon() -> None:
    """2 m2 a day, raked as they are filled, and 4 bricks reset: 10.5 m2 are done at 1.955 m2 a day.

    At 3.335 l (joints of bricks in no known bond, 20 mm deep) and 4 x 0.5 / 10.5 = 0.19 l to bed them 7.58 l, in
    mortar that lives 6 hours. 2 1/2 + 5 l make 5 / 1.25 x 1.07 = 4.28 l. Deep places are packed on a day before: 2 m2
    of 0.1667 joint, 10 mm deeper on the mean, are 3.67 l. Two batches on each of five days, one on the sixth, one
    for packing and one for the panel are 13, 32.5 l x 0.65 = 21.1 kg.
    """
    made = example("toll-house")
    found = batch(made, "M2")
    assert found.by_jug
    assert (found.made.batch.lime, found.made.batch.sands) == (Fraction(5, 2), (Fraction(5),))
    assert found.made.batch.makes_l == pytest.approx(4.28)
    assert [(day.task, day.a_day) for day in found.made.days] == [("pack-length", Fraction(1)), ("", Fraction(2))]
    assert [day.takes_l for day in found.made.days] == pytest.approx([3.67, 7.58], abs=0.005)
    assert "fewer-than-life-asks" not in found.made.notes
    assert found.batches.likely == 13
    assert ordered(made, "nhl-3.5").amount.likely == pytest.approx(21.125 + 0.2)


def test_a_batch_covers_the_coat_alone_whatever_is_filled_deeper_or_bedded_again_with_it() -> None:
    """One rule for all cards: 53 l of the gable at 13.5 l and a tenth dropped are 3.5 m2 of any wall.

    Stones reset and voids filled are in what is ordered, and in no batch's area.
    """
    gable = next(day for day in batch(example("toll-house"), "M3").made.days if not day.task)
    made = job(answers(wall(work("a", loose_units_nr="0"), id_="front")))
    many = job(answers(wall(work("a", loose_units_nr="40"), id_="front")))
    alone, beside = (one.measured.batches[0] for one in (made, many))
    assert beside.goes["in_place_l"].likely > alone.goes["in_place_l"].likely
    coats = [next(day for day in found.made.days if not day.task) for found in (alone, beside)]
    covers = [day.covers_m2 / found.made.batch.makes_l for day, found in zip(coats, (alone, beside), strict=True)]
    assert covers[0] == pytest.approx(covers[1])
    loads = batch(example("toll-house"), "M3").made.batch.makes_l / 14
    assert gable.covers_m2 * loads == pytest.approx(53.1 / (0.27 * 50 * 1.1), rel=0.02)


def test_loose_units_of_a_bared_top_are_bedded_in_a_small_batch_of_their_own_weeks_before_the_flaunching() -> None:
    """Three bricks at 0.5 l and a tenth dropped take 1.65 l of a mortar that lives six hours, and not 42 l.

    4 + 8 l by the jug, 8 / 1.25 x 1.07 = 6.85 l, is the least that is counted nearly enough.
    """
    made = example("mill-house")
    found = batch(made, "M3")
    assert found.made.filling is not None
    assert (found.made.filling.measure, found.made.filling.counts) == ("jug", (Fraction(4), Fraction(8)))
    bedding, laid = found.made.days
    assert (bedding.task, bedding.days, bedding.a_day) == ("top-bedded", 1, Fraction(1))
    assert bedding.takes_l == pytest.approx(1.65)
    assert not bedding.much_left
    assert laid.task == ""
    assert laid.a_day == 2
    bedded = next(task for task in made.programme.tasks() if task.key == "stack/flaunching/top-bedded")
    assert (bedded.finish - bedded.start).days == 0
    library = made.library
    assert library.items["rates.top-course"].notional == library.tables["top-units"].rows[0].number("reckoned_nr")


# --- a rubble gable with deep joints and loose stones: packed first, pointed after ---------------------------------


def gable(**more: str) -> Job:
    """45 m2 of hard granite rubble, of which 40.5 are pointed 50 mm deep by a pair; the box holds 14 l."""
    told = {
        "masonry": "rubble", "hardness": "hard", "water_drop": "stays", "joint_width_mm": "15 - 50 (25)",
        "face_area_m2": "45", "treated_per_cent": "80 - 100 (90)", "treated_how": "patches",
        "joint_depth_lost_mm": "40 - 100", "asked_binder": "nhl-3.5", "unit_length_mm": None, "unit_width_mm": None,
        "unit_height_mm": None, "bond": None,
    }  # fmt: skip
    return job(one_wall(**{**told, **more}))


def test_a_mix_laid_in_two_coats_has_a_panel_of_each() -> None:
    """The dining room's M8 is scratch and float: a panel of 1 m2 takes 2 x 10 mm, 20 l, beside 440 and 176."""
    made = example("mill-house")
    works = works_of(batch(made, "M8").mix, made.facts, Outputs(made.library))
    assert [(placed.path[-1], placed.work.panels_m2) for placed in works if not placed.task] == [
        ("scratch", (1.0,)), ("float", (1.0,)),
    ]  # fmt: skip
    assert likely(batch(made, "M8"))["in_place_l"] == 636.0


def test_what_is_packed_and_bedded_again_is_mixed_on_the_days_of_packing_and_not_of_pointing() -> None:
    """A pair points 7 m2 a day at 13.5 l and a tenth dropped: 104 l, two batches of 2 + 5 boxes, 4 m2 each.

    15 m2 of 0.27 joint, 25 mm deeper on the mean, are 101.25 l and 40 stones at 2.5 l 100 l: with a tenth
    dropped 221.4 l. They go with 40.5 / 8 m2 raked, 15 / 8 packed and 40 / 32 reset in 8.19 days, 27 l a day.
    """
    found = batch(gable(deep_voids_m2="15", loose_units_nr="40"), "M1")
    packing, pointing = found.made.days
    assert (packing.task, packing.days, pointing.task, pointing.days) == ("pack", 9, "", 6)
    assert pointing.takes_l == pytest.approx(7 * 13.5 * 1.1)
    assert packing.takes_l == pytest.approx(1.1 * (15 * 0.27 * 25 + 40 * 2.5) / (40.5 / 8 + 15 / 8 + 40 / 32))
    assert pointing.a_day * found.made.batch.makes_l >= pointing.takes_l
    assert float(pointing.a_day) * pointing.covers_m2 == pytest.approx(8, rel=0.02)


def test_no_card_asks_for_more_of_a_coat_for_what_is_packed_before_it() -> None:
    plain, packed = (
        batch(gable(deep_voids_m2=deep, loose_units_nr=loose), "M1") for deep, loose in (("0", "0"), ("15", "40"))
    )
    (alone,), (_, beside) = plain.made.days, packed.made.days
    assert plain.made.batch == packed.made.batch
    assert alone.a_day == beside.a_day
    assert alone.takes_l == pytest.approx(beside.takes_l)


def test_packing_that_takes_little_of_a_large_batch_is_mixed_in_a_small_measure_of_its_own() -> None:
    made = job(
        answers(
            wall(
                work(
                    face_area_m2="60",
                    deep_voids_m2="3",
                    joint_depth_lost_mm="30 - 40",
                    asked_binder="nhl-3.5",
                    asked_binder_reason="as the old mortar",
                )
            )
        )
    )
    (found,) = made.measured.batches
    packing = next(day for day in found.made.days if day.task.startswith("pack"))
    assert found.made.filling is not None
    assert found.made.filling.makes_l < found.made.batch.makes_l / 2
    assert packing.takes_l <= found.made.filling.makes_l < 4 * packing.takes_l  # no smaller one can be counted


def test_packing_that_would_make_the_batch_of_the_coat_smaller_is_mixed_in_a_batch_of_its_own() -> None:
    """What a day packs lives six hours, so it is two small batches; the mixer is full for the pointing all the same."""
    made = gable(deep_voids_m2="15", loose_units_nr="40")
    found = batch(made, "M1")
    packing = found.made.days[0]
    assert found.made.filling is not None
    assert found.made.filling.makes_l < found.made.batch.makes_l
    assert packing.left_l == pytest.approx(float(packing.a_day) * found.made.filling.makes_l - packing.takes_l)
    assert not packing.much_left
    told = plain_text(mix_schedule(made).cards[0].makes).replace("\u00a0", " ").replace("\u2060", "")
    lime, sand = (made.facts.spelling.count(decimal(count)) for count in found.made.filling.counts)
    assert f"2 a day. For packing: {lime} box lime + {sand} boxes sand, 2 a day." in told


def test_what_packing_throws_away_is_in_what_is_ordered() -> None:
    """All that is made, of both batches and of the panel, is in the lime and sand of the mix."""
    found = batch(gable(deep_voids_m2="15", loose_units_nr="40"), "M1")
    packing, pointing = found.made.days
    assert found.made.filling is not None
    days_l = (
        8 * float(packing.a_day) * found.made.filling.makes_l + 5 * float(pointing.a_day) * found.made.batch.makes_l
    )
    likely = found.made.amounts.likely
    assert likely.made_l > days_l
    assert likely.made_l == pytest.approx(likely.in_place_l + likely.dropped_l + likely.thrown_away_l + likely.kept_l)
    left = 9 * packing.left_l + 6 * pointing.left_l
    assert 0 < likely.thrown_away_l < left + found.made.batch.makes_l  # and of the panel


def test_where_no_joint_may_be_deeper_at_the_least_nothing_is_packed_there() -> None:
    """Of joints lost to 40 mm at the least none lies behind 50 mm; at the likely and the most it is packed."""
    found = batch(gable(deep_voids_m2="15", loose_units_nr="0"), "M1")
    plain = batch(gable(deep_voids_m2="0", loose_units_nr="0"), "M1")
    assert found.goes["in_place_l"].low == pytest.approx(plain.goes["in_place_l"].low)
    assert found.goes["in_place_l"].likely - plain.goes["in_place_l"].likely == pytest.approx(15 * 0.27 * 25)


def test_the_mending_of_an_old_face_is_mixed_on_its_own_day_and_no_day_of_the_base_coat_asks_for_it() -> None:
    """90 l and a tenth dropped are 99 l on one day, two batches; 38 m2 in two days take 12 mm and their tenth."""
    made = example("mill-house")
    found = batch(made, "M5")
    mending = next(day for day in found.made.days if day.task == "mend-old")
    base = next(day for day in found.made.days if not day.task)
    task = next(each for each in made.programme.tasks() if each.key == "rear/limewash/mend-old")
    assert mending.days == task.why.days.likely == 1
    assert mending.takes_l == pytest.approx(90 * 1.1)
    assert float(mending.a_day) * found.made.batch.makes_l >= mending.takes_l
    lay = next(each for each in made.programme.tasks() if each.key == "rear/render/render-base/lay")
    assert base.takes_l == pytest.approx(38 * 12 * 1.1 / lay.why.days.likely, rel=0.06)  # a part of a day counts whole


def test_the_batch_of_all_works_is_reckoned_once_and_those_apart_where_something_is_packed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All in one batch, the coats without what is packed, and the packing where its batch is another."""
    asked: list[list[str]] = []
    mixed = day_batches._mixed

    def told(placed: Sequence[Placed], *given: Any, **named: Any) -> Any:
        asked.append([one.task for one in placed])
        return mixed(placed, *given, **named)

    monkeypatch.setattr(day_batches, "_mixed", told)
    gable(deep_voids_m2="0", loose_units_nr="0", face_area_m2="44")  # a job that nobody settled before
    assert asked == [[""]]
    asked.clear()
    gable(deep_voids_m2="15", loose_units_nr="40", face_area_m2="44")
    assert asked == [["pack", ""], [""], ["pack"]]


@pytest.mark.parametrize("joint", ["8", "9"])
@pytest.mark.parametrize("loose", ["3", "7", "12", "20"])
def test_a_coat_of_one_thickness_is_reckoned_whatever_is_bedded_before_it(joint: str, loose: str) -> None:
    """Joints of one width in a known bond take the same at the least and the most, however many bricks are loose."""
    told = {"joint_width_mm": joint, "deep_voids_m2": "0", "treated_per_cent": "50"}
    bare, bedded = (batch(job(one_wall(loose_units_nr=count, **told)), "M1") for count in ("0", loose))
    pointing = next(day for day in bedded.made.days if not day.task)
    assert pointing.of == "box"
    assert pointing.covers_m2 == pytest.approx(bare.made.days[0].covers_m2)


def test_stones_of_a_thin_skin_are_bedded_on_the_days_of_its_pointing() -> None:
    """The stack's four bricks: no task of packing there counts them, so their mortar is in the days of laying."""
    pointing = batch(example("toll-house"), "M2").made.days[1]
    assert pointing.takes_l == pytest.approx(1.1 * 1.9535 * (3.3348 + 4 * 0.5 / 10.5), rel=1e-3)


# --- the ceiling: putty stuff, hair -----------------------------------------------------------------------


def ceiling() -> Job:
    told = {**NOT_REPOINTING, "plaster_coats": "three", "face_area_m2": "6", "output_m2_per_day": "16"}
    return job(answers(wall(work("a", work="plaster", new_laths_m2="0", **told), id_="front", **LATHS)))


def test_the_ceiling_draws_by_the_day_and_hair_is_weighed_for_each_box() -> None:
    """6 m2 are one day: 6 x 11.5 x 1.1 = 75.9 l are 5 1/2 boxes of 14 l; 7 kg/m3 are 98 g a box, said 100."""
    found = next(b for b in ceiling().measured.batches if b.mix.recipe.id == "putty-laths" and b.made.hair_g == 100)
    (day,) = found.made.days
    assert day.takes_l == pytest.approx(75.9)
    assert (day.days, day.a_day, day.of) == (1, Fraction(11, 2), "box")
    assert day.left_l == pytest.approx(1.1)


def test_the_ceiling_stores_whole_loads_and_what_is_over_keeps() -> None:
    """A load of 2 + 5 boxes is 28 l of putty and 56 l of dry sand x 0.59: 61.04 l."""
    for found in ceiling().measured.batches:
        if found.mix.recipe.id == "putty-laths":
            assert found.made.batch.makes_l == pytest.approx(61.04)
            assert (found.made.batch.lime, found.made.batch.sands) == (Fraction(2), (Fraction(5),))
            assert found.goes["kept_l"].likely >= 0
            assert found.goes["thrown_away_l"].likely < 10


# --- limewash: one lot for a face -------------------------------------------------------------------------


def test_a_face_is_limewashed_from_one_lot_that_keeps() -> None:
    """The worst cover, five coats, a tenth dropped and a sample of 1 m2; putty and five times the water."""
    text = one_wall(
        work="limewash", old_coating="none", wash_coats_nr="5", face_area_m2="78.4", output_m2_per_day="80",
        **NOT_REPOINTING,
    )  # fmt: skip
    made = job(text)
    (found,) = made.measured.batches
    (day,) = found.made.days
    cover = made.library.tables["wash-cover"].find(wall_class=str(made.facts.get(("front",), "wall_class")))
    assert cover is not None
    need = (78.4 + 1) * 5 * 1.1 / cover.spread("m2_per_l").low
    assert need <= found.made.batch.makes_l <= 1.2 * need
    assert found.made.vessel_l is not None
    assert found.made.vessel_l >= 1.1 * found.made.batch.makes_l
    (card,) = mix_schedule(made).cards
    assert any(f"{found.made.vessel_l:.0f} l" in plain_text(told) for told in card.facts)
    assert "1 in all" in plain_text(card.makes).replace("\u00a0", " ")
    assert found.made.batch.sands[0] == 5 * found.made.batch.lime
    assert found.goes["thrown_away_l"].likely == 0
    assert (int(found.batches.likely), day.days) == (1, 5)
    assert day.left_goes == "kept"


def test_a_card_says_how_many_batches_a_job_may_take_where_it_may_take_more_than_is_likely() -> None:
    """The gable: scattered joints from 15 to 40 mm wide, some lost to 90 mm, are no one number of heaps."""
    found = batch(example("mill-house"), "M4")
    assert found.batches.low < found.batches.likely < found.batches.high
    card = next(card for card in mix_schedule(example("mill-house")).cards if card.ref == "M4")
    told = plain_text(card.makes).replace("\u00a0", " ").replace("\u2060", "")
    low, high = (f"{end:f}" for end in (found.batches.low, found.batches.high))
    assert f"; {low}–{high} in all" in told


def test_what_a_card_says_in_all_holds_the_deep_joints_and_the_stones_that_are_reset() -> None:
    """Of 6 m2 lost to 90 mm behind 50 mm half lies 20 mm deeper; a stone reset takes 2.5 l in its bed."""
    gable = {"masonry": "rubble", "treated_how": "patches", "joint_width_mm": "15 - 40 (25)", "face_area_m2": "40"}
    plain, deep, loose = (
        batch(job(one_wall(**gable, joint_depth_lost_mm="20 - 90", **more)), "M1")
        for more in ({}, {"deep_voids_m2": "6"}, {"loose_units_nr": "60"})
    )
    depth = 50
    assert deep.goes["in_place_l"].likely - plain.goes["in_place_l"].likely >= 6 * 0.27 * (90 - depth) / 2 * 0.99
    more_l = loose.goes["in_place_l"].likely - plain.goes["in_place_l"].likely
    assert more_l == pytest.approx(60 * 2.5, rel=0.1)  # and of them the panel's share


@pytest.mark.parametrize("joint", ["15 - 40 (25)", "30 - 70 (50)"])
def test_the_days_of_deep_pointing_are_those_of_the_programme(joint: str) -> None:
    made = gable(joint_width_mm=joint)
    days = {laid_in(day): day.days for found in made.measured.batches for day in found.made.days}
    tasks = {task.key: task.why.days.likely for task in made.programme.tasks()}
    assert days
    assert days == {key: tasks[key] for key in days}


# --- orders ---------------------------------------------------------------------------------------------------


def test_an_order_holds_what_its_own_papers_have_lodged_and_left_beside_what_goes_into_mixes() -> None:
    """A plaster of putty, sand and hair: 1 + 25 kg of each sand, 100 + 100 g of hair, 200 g of putty at 1.35 kg/l."""
    made = ceiling()
    wanted = {"sands": 26.0, "hair": 0.2, "limes": 0.2 / 1.35}
    for line in made.measured.materials:
        key = line.parts if line.parts == "hair" else f"{line.parts}s"
        in_mixes = sum(amount.high for _, amount in line.uses)
        assert line.amount.high - in_mixes == pytest.approx(wanted[key]), line.name
        assert line.holds >= line.amount.high


# --- waste ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house", "winter-plaster"])
def test_all_that_is_made_is_in_place_dropped_thrown_away_or_kept(name: str) -> None:
    for found in example(name).measured.batches:
        for amounts in (found.made.amounts.low, found.made.amounts.likely, found.made.amounts.high):
            made_l = found.made.gauged.made_l(sum(amounts.sands_l))
            assert made_l == pytest.approx(amounts.made_l)


def test_a_batch_larger_than_a_day_uses_is_told_with_what_is_thrown_away() -> None:
    made = job(one_wall(asked_binder="nhl-2", face_area_m2="1", treated_per_cent="50"))
    told = [item for item in made.findings if item.code == "batch-thrown-away"]
    assert told
    (day,) = made.measured.batches[0].made.days
    assert f"(pointing): {day.takes_l:.1f} l are used, and {day.left_l:.1f} l a day" in told[0].message


# --- panels ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("thick_mm", ["400", "650"])
def test_a_panel_of_walling_takes_the_mortar_of_one_unit_however_thick_the_wall(thick_mm: str) -> None:
    """A panel of rubble is 250 mm thick: what it takes is the share of that in the wall, whatever the wall takes."""
    answered: dict[str, Any] = {
        **LATHS, "masonry": "rubble", "position": "freestanding", "exposure": "moderate", "hardness": "medium",
        "joint_width_mm": "15 - 40 (25)", "water_drop": "within-minutes",
    }  # fmt: skip
    built = {**NOT_REPOINTING, "rebuild_what": "whole", "rebuild_thickness_mm": thick_mm, "face_area_m2": "8"}
    made = job(answers(wall(work("up", work="rebuild", **built), **answered)))
    (placed,) = works_of(made.decisions.mixes[0], made.facts, Outputs(made.library))
    (panel,) = placed.work.panels_m2
    area = made.facts.at_scope(placed.path).real("panel_area_m2")
    assert area is not None
    assert panel * float(thick_mm) == pytest.approx(area * 250)


def test_what_is_thrown_away_is_told_of_the_mending_that_takes_so_little_and_not_of_the_coat() -> None:
    made = example("mill-house")
    (told,) = (item for item in made.findings if item.code == "batch-thrown-away")
    (day,) = (day for batch in made.measured.batches for day in batch.made.days if day.much_left)
    assert day.task == "mend-old"
    assert f"(the old face mended): {day.takes_l:.1f} l are used" in told.message
