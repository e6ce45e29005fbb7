"""Measuring as a whole: mixes get their names for the texts, and what cannot be reckoned adds nothing."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import example, job

from generator.job.job import Job
from generator.measure.measure import boxes
from generator.papers.mix_schedule import mix_schedule
from generator.values import fraction_told

HALF_LOAD_L = 140.0
"""The most of anything that half a load more asks for, in l or kg."""


def spoken(made: Job, name: str, mix: str = "M1") -> str:
    return made.facts.spoken((mix,), name)


def test_a_mix_is_named_with_its_gauge_basis_and_where_it_goes() -> None:
    made = job(one_wall())
    recipe = made.decisions.mixes[0].recipe
    assert spoken(made, "mix_name") == recipe.name
    assert spoken(made, "mix_gauge") == "1 : 2.5"
    assert spoken(made, "mix_dry_ratio").startswith("1 : 2 (")
    assert spoken(made, "mix_putty_ratio") == spoken(made, "mix_dry_ratio")  # putty is slaked already
    assert spoken(made, "mix_walls") == "Front wall"
    assert "3 mm" in spoken(made, "mix_sand")


@pytest.mark.parametrize(
    ("mix", "dry", "slaked"),
    [("M1", "1 : 2 (", "1 : 2 ("), ("M2", "1 : 1.6 (", "–"), ("M4", "1 : ", "1 : "), ("M7", "–", "–")],
)  # fmt: skip
def test_slaked_putty_is_held_against_sand_where_there_is_putty_and_sand_and_nowhere_else(
    mix: str, dry: str, slaked: str
) -> None:
    """The mill house: putty 1 : 2.5, NHL 3.5 1 : 2, hot mix, limewash; dry sand by its bulking of a quarter."""
    made = example("mill-house")
    told = spoken(made, "mix_dry_ratio", mix), spoken(made, "mix_putty_ratio", mix)
    assert [text.startswith(start) for text, start in zip(told, (dry, slaked), strict=True)] == [True, True], told


def test_boxes_are_told_in_words_lime_first() -> None:
    made = job(one_wall(face_area_m2="400"))
    text = boxes(made.measured.batches[0], made.library)
    batch = made.measured.batches[0]
    assert text.startswith(f"{fraction_told(batch.lime)} box")
    assert f"{fraction_told(*batch.sand_counts)} boxes" in text
    assert spoken(made, "mix_boxes") == text


def test_a_mix_for_two_walls_names_both_once() -> None:
    made = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B")))
    assert spoken(made, "mix_walls") == "A; B"


def test_the_mortar_of_a_mix_is_that_of_all_its_walls() -> None:
    one = job(answers(wall(id_="a", name="A"))).measured.materials
    two = job(answers(wall(id_="a", name="A"), wall(id_="b", name="B"))).measured.materials
    for single, double in zip(one, two, strict=True):
        assert single.amount.likely < double.amount.likely <= 2 * single.amount.likely + HALF_LOAD_L


def test_a_mix_for_two_walls_has_one_batch_and_tells_how_often_each_takes_it() -> None:
    walls = [
        wall(work("repoint", asked_binder="nhl-2", face_area_m2=area), id_=name, name=name.upper())
        for name, area in (("a", "60"), ("b", "6"))
    ]
    (batch,) = job(answers(*walls)).measured.batches
    assert [day.path[0] for day in batch.made.days] == ["a", "b"]
    for day in batch.made.days:
        assert float(day.a_day) * batch.made.batch.makes_l >= day.takes_l


def test_a_wall_without_an_area_adds_nothing_to_the_order_and_its_mix_still_has_a_batch() -> None:
    made = job(one_wall(face_area_m2="not known"))
    assert made.measured.materials == ()
    (batch,) = made.measured.batches
    assert batch.batches.high == 0
    assert spoken(made, "mix_boxes")


def test_putty_for_a_setting_coat_is_older_than_for_mortar() -> None:  # common practice
    mortar = job(one_wall())
    fine = job(one_wall(work="plaster", plaster_coats="finish", joint_finish=None, cement_area_m2=None))
    assert spoken(mortar, "putty_least_months") == "3 months"
    assert spoken(fine, "putty_least_months") == "6 months"


def test_a_mix_for_very_many_walls_tells_their_number_so_that_the_schedule_keeps_its_page() -> None:
    many = job(answers(*(wall(id_=f"w{number}", name=f"Wall {number}") for number in range(41))))
    assert spoken(many, "mix_walls") == many.word("walls-many", count="41")
    assert mix_schedule(many).cards[0].walls == many.word("walls-many", count="41")
