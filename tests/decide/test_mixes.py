"""Mixes keep their references from issue to issue, and none is given to another mortar."""

from __future__ import annotations

import pytest
from answers_text import answers, wall
from jobs import after, example
from jobs import job as shipped_job
from small_library import job
from timed_jobs import scaffolded, surface

from generator.job.job import Job

SOFT = wall(id_="a", name="A", joint_width_mm="3")
WIDE = wall(id_="b", name="B", joint_width_mm="9 - 12 (10)")
WIDER = wall(id_="c", name="C", joint_width_mm="15 - 20 (18)")

NARROW = wall(id_="n", name="N", joint_width_mm="8 - 10 (8)")
BROAD = wall(id_="b", name="B", joint_width_mm="10 - 12 (10)")


def refs(found: Job) -> dict[str, str]:
    return {path[0]: mix.ref for mix in found.decisions.mixes for path in mix.used_for}


def test_a_first_issue_numbers_mixes_as_the_answers_come() -> None:
    assert refs(job(answers(WIDE, WIDER))) == {"b": "M1", "c": "M2"}
    assert refs(job(answers(WIDER, WIDE))) == {"c": "M1", "b": "M2"}


def test_a_wall_put_first_takes_the_next_reference_and_moves_no_other() -> None:
    first = job(answers(WIDE, WIDER))
    second = after(first, answers(SOFT, WIDE, WIDER))
    assert refs(second) == {"b": "M1", "c": "M2", "a": "M3"}
    assert [mix.ref for mix in second.decisions.mixes] == ["M1", "M2", "M3"]


def test_the_reference_of_a_mix_that_is_no_longer_used_is_never_given_again() -> None:
    second = after(job(answers(WIDE, WIDER)), answers(WIDE))
    assert refs(after(second, answers(SOFT, WIDE))) == {"a": "M3", "b": "M1"}
    assert refs(after(second, answers(SOFT, WIDE, WIDER))) == {"a": "M3", "b": "M1", "c": "M2"}


def washed(*colours: str) -> str:
    """Rendered walls, each washed in a colour; "" is one that nobody has chosen."""
    coat = surface("coat", "render", face_area_m2="20", render_kind="flat", dubbing_mm="0")
    over = {"face_area_m2": "20", "wash_mend_m2": "0", "old_coating": "none"}
    walls = (
        scaffolded(
            coat, surface("wash", "limewash", **over, wash_colour=colour or None), id_=f"wall-{n}", name=f"Wall {n}"
        )
        for n, colour in enumerate(colours)
    )
    return answers(*walls)


def washes(found: Job) -> list[str]:
    return [mix.ref for mix in found.decisions.mixes if mix.recipe.making == "limewash"]


def test_washes_of_two_colours_are_two_mixes_and_have_a_panel_each() -> None:
    found = shipped_job(washed("pale ochre", "warm white", "Pale  ochre"))
    assert {mix.name: {path[0] for path in mix.used_for} for mix in found.decisions.mixes if mix.colour} == {
        "limewash of putty, pale ochre": {"wall-0", "wall-2"}, "limewash of putty, warm white": {"wall-1"},
    }  # fmt: skip
    hosts = [found.facts.at_scope((wall, "wash")).text("panel_of") for wall in ("wall-0", "wall-1", "wall-2")]
    assert [bool(host) for host in hosts] == [False, False, True]


def test_a_wash_keeps_its_reference_when_its_colour_is_chosen_and_another_colour_takes_the_next() -> None:
    first = shipped_job(washed(""))
    second = after(first, washed("pale ochre"))
    assert washes(second) == washes(first)
    third = after(second, washed("warm white", "pale ochre"))
    assert [mix.ref for mix in third.decisions.mixes if mix.colour == "pale ochre"] == washes(first)
    assert len(set(washes(third))) == 2


@pytest.mark.parametrize("name", ["garden-front", "winter-plaster", "toll-house", "mill-house"])
def test_no_two_mixes_of_a_job_are_called_alike(name: str) -> None:
    names = [mix.name for mix in example(name).decisions.mixes]
    assert len(set(names)) == len(names)


def test_mixes_of_one_recipe_are_told_apart_by_their_coats() -> None:
    names = {mix.ref: mix.name for mix in example("mill-house").decisions.mixes}
    assert names["M10"] == "haired putty plaster for laths, pricking-up coat"
    assert names["M11"] == "haired putty plaster for laths, float coat"


def test_mixes_of_one_recipe_in_coats_of_one_name_are_told_apart_by_their_grain() -> None:
    narrow, wide = (mix.name for mix in shipped_job(answers(NARROW, BROAD)).decisions.mixes)
    assert narrow != wide
    assert "grains to 3 mm" in wide


def test_a_mix_that_is_alone_of_its_recipe_bears_the_name_of_that() -> None:
    (mix,) = shipped_job(answers()).decisions.mixes
    assert mix.name == mix.recipe.name
