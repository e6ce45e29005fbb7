"""What one mixing place makes on a day on which several works lay mortar that is made fresh."""

from __future__ import annotations

import math

import pytest
from answers_text import answers, wall
from jobs import EXAMPLES, example, job
from timed_jobs import codes, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble

TOP = surface(
    "top", "rebuild", rebuild_what="whole", rebuild_thickness_mm="450", replaced_units_nr="0", face_area_m2="18",
    asked_binder="nhl-3.5", asked_binder_reason="the consent names it",
)  # fmt: skip


def topped(gangs_nr: int, mixer_l: str = "100") -> Job:
    """Two free-standing walls whose tops are built again, by so many gangs of a pair each."""
    stone = {
        "masonry": "rubble", "hardness": "medium", "joint_width_mm": "15 - 40 (25)", "position": "freestanding",
        "height_m": "1.8",
    }  # fmt: skip
    walls = [wall(TOP, id_=name, name=f"Wall {name}", **stone) for name in ("east", "west")]
    gangs = f"[{{trade: masonry, gangs_nr: {gangs_nr}, people_nr: 3}}]"
    return job(answers(*walls, gangs=gangs, mixer_l=mixer_l))


def test_two_gangs_that_lay_on_the_same_days_ask_one_mixing_place_for_a_second_mixer() -> None:
    made = topped(2)
    assert all(batch.made.mixers_nr == 1 for batch in made.measured.batches)
    (finding,) = (item for item in made.findings if item.code == "mixers-short-together")
    each = [math.ceil(day.a_day) for batch in made.measured.batches for day in batch.made.days]  # half a load is one
    assert f"take {sum(each)} batches a day together" in finding.message
    assert "2 mixers" in finding.instruction
    assert finding.instruction in outline(assemble(made).specification).replace("\u00a0", " ")


def test_one_gang_that_lays_wall_after_wall_and_a_larger_mixer_make_do_with_one() -> None:
    for made in (topped(1), topped(2, mixer_l="250")):
        assert not {"mixers-short-together", "mixers-short-of-day"} & codes(made)


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_no_example_crowds_its_mixing_place(name: str) -> None:
    assert "mixers-short-together" not in codes(example(name))
