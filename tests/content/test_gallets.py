"""Gallets and pinnings that are priced are set by a clause and a step."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from order_of_work import ordered_steps
from timed_jobs import planned

from generator.job.job import Job
from generator.papers.steps import all_steps


def stone(masonry: str, **told: str | None) -> Job:
    joints = work("repoint", **told)
    stones = wall(
        joints, masonry=masonry, bond=None, unit_length_mm=None, unit_width_mm=None, unit_height_mm=None, hardness=None
    )
    return planned(stones, finish_date="2028-09-29")


def pressed_in(made: Job) -> list[str]:
    wanted = ("repoint.deep", "repoint.fill", "repoint.gallets", "repoint.pinnings", "repoint.finish")
    return ordered_steps(made, "front", *wanted)


@pytest.mark.parametrize("number", ["900", "not known"])
def test_gallets_of_flint_are_set_while_their_joint_is_fresh_by_a_clause_and_a_step_of_their_own(number: str) -> None:
    made = stone("flint", pinnings_nr=number, deep_voids_m2="0")
    assert made.in_papers("pointing.gallets")
    assert pressed_in(made) == ["repoint.fill", "repoint.gallets", "repoint.finish"]
    paid = {line.entry.id for line in made.duties["pointing.gallets"].lines}
    assert paid == {"repoint.pinnings" if number == "900" else "rates.pinning"}


def test_a_flint_wall_without_gallets_is_told_of_none() -> None:
    made = stone("flint", pinnings_nr="0", deep_voids_m2="0")
    assert not made.in_papers("pointing.gallets")
    assert "repoint.gallets" not in pressed_in(made)


@pytest.mark.parametrize(("deep", "step"), [("0", "repoint.pinnings"), ("2", "repoint.deep")])
def test_pinnings_of_rubble_have_a_step_whether_or_not_anything_is_packed(deep: str, step: str) -> None:
    made = stone("rubble", pinnings_nr="90", deep_voids_m2=deep)
    found = [told for told in all_steps(made, ("front",)) if "pointing.pinnings" in told.entry.clauses]
    assert [told.entry.id for told in found] == [step]
