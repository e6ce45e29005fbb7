"""What a mix is made for beside coats: copings bedded in the mortar of their wall."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from timed_jobs import planned, surface

from generator.document.model import plain_text
from generator.job.job import Job
from generator.measure.model import DayFacts, Item, MixSheetFacts
from generator.measure.volumes import COPED_IN
from generator.papers.mix_schedule import mix_schedule

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


def test_copings_of_a_wall_whose_mortar_nobody_decides_are_told() -> None:
    bare = coped("18")
    assert "coping-without-mortar" in {item.code for item in bare.findings}
    assert "coping-without-mortar" not in {item.code for item in coped("18", work()).findings}
