"""What a mix is made for beside coats, copings and panels; and that all of it is one amount everywhere."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from jobs import example
from timed_jobs import codes, planned, surface

from generator.document.model import plain_text
from generator.job.job import Job
from generator.measure.gauged import floats
from generator.measure.model import DayFacts, Item, MixSheetFacts
from generator.measure.outputs import Outputs
from generator.measure.placing import works_of
from generator.measure.volumes import COPED_IN
from generator.papers.mix_schedule import mix_schedule
from generator.papers.steps import all_steps
from generator.record.record import record

WET = {"position": "parapet", "decay_causes": "[leak]", "causes_cured": "in-this-work", "wall_wet": "damp"}
REBUILT = surface(
    "built", "rebuild", rebuild_what="whole", rebuild_thickness_mm="220", replaced_units_nr="0", face_area_m2="6"
)


def coping(metres: str) -> str:
    return surface("c", "enabling", enabling_tasks="[coping]", coping_m=metres, quantity_sure=None, face_area_m2=None)


def coped(metres: str, *works: str, **told: str) -> Job:
    """A parapet whose copings are bedded again, and what else is done there."""
    asked = coping(metres) if metres else ""
    return planned(wall(asked, *works, **{"hardness": "hard", **WET, **told}))


def in_place_l(made: Job) -> float:
    return sum(found.goes["in_place_l"].likely for found in made.measured.batches)


def line(made: Job, rule: str) -> Item:
    (found,) = [item for item in made.measured.items() if item.entry.id == rule]
    return found


def days(found: MixSheetFacts, task: str) -> list[DayFacts]:
    return [day for day in found.made.days if day.task == task]


def test_copings_are_bedded_in_the_mix_of_their_wall_which_is_counted_and_ordered_for_them() -> None:
    """18 m at 3 l are 54 l in place, 12 m of them in the first of two days of a pair at 6 m; the bags follow."""
    made, plain = coped("18", work()), coped("", work())
    (mix,) = made.measured.batches
    assert in_place_l(made) - in_place_l(plain) == pytest.approx(54, abs=0.05)
    (laid,) = days(mix, "enable-copings")
    task = next(each for each in made.programme.tasks() if each.entry == "enable-copings")
    assert laid.days == task.why.days.likely == 2
    assert laid.takes_l == pytest.approx(12 * 3 * 1.1)
    assert line(made, "enabling.copings").mix == mix.mix.ref
    (lime, more) = (next(each for each in found.measured.materials if each.parts == "lime") for found in (plain, made))
    assert more.amount.likely > lime.amount.likely
    assert more.packages > lime.packages
    assert "copings" in plain_text(mix_schedule(made).cards[0].makes)


def test_the_people_who_bed_copings_are_those_of_their_own_trade() -> None:
    """Masons work by four, the trade that mends copings by two: its days in the mix are those of the programme."""
    made = planned(
        wall(coping("18"), work(), hardness="hard", **WET),
        gangs="[{trade: masonry, gangs_nr: 1, people_nr: 4}]",
    )
    (laid,) = days(made.measured.batches[0], "enable-copings")
    assert laid.days == next(each for each in made.programme.tasks() if each.entry == "enable-copings").why.days.likely


def test_copings_on_what_is_rebuilt_are_bedded_in_its_mortar() -> None:
    made = coped("18", REBUILT)
    assert in_place_l(made) - in_place_l(coped("", REBUILT)) == pytest.approx(54, abs=0.05)
    assert made.library.items["enabling.copings"].coats == COPED_IN


def on_flint(*works: str) -> str:
    """A parapet of flint with chalk in it."""
    return wall(
        *works, masonry="flint", also_of="[chalk]", bond=None, hardness=None, water_drop="stays", unit_length_mm=None,
        unit_width_mm=None, unit_height_mm=None, **WET,
    )  # fmt: skip


def test_copings_softer_than_their_wall_are_bedded_in_none_of_its_mixes_and_wait_for_one_that_is_named() -> None:
    """Clunch on flint was to be left alone in one line of a sheet and bedded in the mix of the flint in another."""
    asked = surface(
        "c", "enabling", enabling_tasks="[coping]", coping_m="18", copings_softer="yes", quantity_sure=None,
        face_area_m2=None,
    )  # fmt: skip
    made = planned(on_flint(asked, work()))
    assert in_place_l(made) == pytest.approx(in_place_l(planned(on_flint(work()))), abs=0.05)
    assert days(made.measured.batches[0], "enable-copings") == []
    assert line(made, "enabling.copings").mix == ""
    assert "copings-softer" in codes(made)
    told = [step.step for step in all_steps(made, ("front",)) if step.entry.id == "enabling.copings-bedded-softer"]
    assert "Bed copings in the mortar named for them" in str(told)
    open_ = planned(on_flint(coping("18"), work()))
    assert open_.status != "tender"


def test_copings_of_a_wall_whose_mortar_nobody_decides_are_told() -> None:
    bare = coped("18")
    assert "coping-without-mortar" in {item.code for item in bare.findings}
    assert "coping-without-mortar" not in {item.code for item in coped("18", work()).findings}


def panels(made: Job) -> tuple[list[int], list[int], list[int]]:
    """The panels of repointing by its lines, by the programme, and by what is mixed for them, mix by mix."""
    priced = [int(item.quantity or 0) for item in made.measured.items() if item.entry.id == "prelims.panel"]
    answered = [task for task in made.programme.tasks() if task.entry == "panel-answer"]
    mixed = [
        sum(len(one.work.panels_m2) for one in works_of(found.mix, made.facts, Outputs(made.library)))
        for found in made.measured.batches
    ]
    return priced, [len(answered)], mixed


def test_one_mix_on_two_kinds_of_wall_has_a_panel_on_each_in_line_programme_and_mortar() -> None:
    stone = {
        "hardness": "medium", "bond": None, "unit_length_mm": None, "unit_width_mm": None, "unit_height_mm": None,
        "joint_width_mm": "15 - 40 (25)",
    }  # fmt: skip
    walls = [
        wall(
            work(asked_binder="nhl-3.5", asked_binder_reason="as before"), id_=id_, name=name, masonry=masonry, **stone
        )
        for id_, name, masonry in (("a", "A", "rubble"), ("b", "B", "squared-rubble"), ("c", "C", "rubble"))
    ]
    made = planned(*walls, finish_date="2028-09-29")
    assert len(made.measured.batches) == 1
    assert panels(made) == ([2], [2], [2])


def test_two_rooms_with_one_setting_mix_on_other_coats_have_a_panel_each() -> None:
    """Three coats and two end in one setting coat: two panels are priced and made, and both have their stuff."""
    told = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
    rooms = [
        wall(
            surface("p", "plaster", plaster_coats=coats, plaster_surface="floated", dubbing_mm="0", cornice_m="0"),
            id_=coats, name=coats, **told,
        )
        for coats in ("two", "three")
    ]  # fmt: skip
    made = planned(*rooms, finish_date="2028-09-29")
    assert len([item for item in made.measured.items() if item.entry.id == "prelims.panel-plaster"]) == 2
    setting = next(
        found for found in made.measured.batches if len(found.mix.used_for) == 2 and not found.mix.hair_kg_per_m3
    )
    works = works_of(setting.mix, made.facts, Outputs(made.library))
    assert [len(one.work.panels_m2) for one in works] == [1, 1]


@pytest.mark.parametrize("masonry", ["brick", "earth"])
def test_a_finish_coat_alone_lies_on_a_float_coat_whose_hollows_nobody_asks_for_fills_or_pays(masonry: str) -> None:
    def finished(dubbing_mm: str) -> Job:
        coat = surface(
            "p", "plaster", plaster_coats="finish", plaster_surface="trowelled", base_coats="sound-lime",
            dubbing_mm=dubbing_mm, cornice_m="0",
        )  # fmt: skip
        told = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
        return planned(wall(coat, masonry=masonry, joint_width_mm=None, **told), finish_date="2028-09-29")

    hollow, even = finished("40"), finished("0")
    assert in_place_l(hollow) == pytest.approx(in_place_l(even))
    assert [day.task for found in hollow.measured.batches for day in found.made.days] == [""]
    assert {task.key for task in hollow.programme.tasks()} == {task.key for task in even.programme.tasks()}
    assert not [item.entry.id for item in hollow.measured.items() if "dubbing" in item.entry.id]
    assert not {"deep-dubbing", "deep-hollows-in-earth"} & codes(hollow)


@pytest.mark.parametrize("name", ["garden-front", "mill-house", "toll-house", "winter-plaster"])
def test_what_is_made_of_a_mix_is_one_amount_on_card_in_record_and_in_orders_with_waste_and_panel(name: str) -> None:
    """All that is made is placed, dropped, thrown away or kept; its lime is that of the order; packages hold all."""
    made = example(name)
    told = {one["mix"]: one for one in record(made, "answers.yaml", b"", {})["batches"]}
    for found in made.measured.batches:
        amounts = found.made.amounts.likely
        goes = found.goes
        assert amounts.made_l == pytest.approx(sum(each.likely for each in goes.values()))
        works = works_of(found.mix, made.facts, Outputs(made.library))
        placed = sum(
            (one.work.area_m2.likely + sum(one.work.panels_m2)) * one.work.in_place_l_per_m2.likely for one in works
        )
        assert goes["in_place_l"].likely == pytest.approx(placed)
        assert told[found.mix.ref]["goes"]["in_place_l"][1] == f"{goes['in_place_l'].likely:.1f}"
        lime = next(line for line in made.measured.materials if line.material.id == found.mix.recipe.lime)
        per_l = floats(lime.material.bulk_density_kg_per_l).likely if lime.material.package.unit == "kg" else 1.0
        assert dict(lime.uses)[found.mix.ref].likely == pytest.approx(amounts.lime_l * per_l)
    for line in made.measured.materials:
        mixes = sum(part.high for _, part in line.uses)
        assert mixes <= line.amount.high + 1e-9
        assert float(line.holds) >= line.amount.high - 1e-9
