"""Plaster on a breast whose flue is in use: no fire behind it, told to whoever lights one."""

from __future__ import annotations

import pytest
from answers_text import wall
from timed_jobs import planned, span, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions
from generator.papers.steps import all_steps

ROOM = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none", "decay_causes": "[flue]", "causes_cured": "done",
}  # fmt: skip


def breast(in_use: str | None) -> Job:
    plaster = surface(
        "coats", "plaster", plaster_coats="two", plaster_surface="floated", dubbing_mm="0", cornice_m="0",
        old_plaster_beside="no",
    )  # fmt: skip
    return planned(wall(plaster, breast_in_use=in_use, **ROOM), finish_date="2028-09-29")


@pytest.mark.parametrize(("in_use", "told"), [("yes", True), ("not known", True), ("no", False)])
def test_no_fire_is_lit_behind_fresh_plaster_though_its_stack_is_not_in_the_job(in_use: str, told: bool) -> None:
    made = breast(in_use)
    here = made.facts.at_scope(("front",))
    assert made.in_papers("safety.fires-breast") is told
    assert ("wall.fires-breast" in {step.entry.id for step in all_steps(made, ("front",))}) is told
    laid, fires = made.facts.at_scope(("front", "coats")).day("lime_finish_date"), here.day("fires_from_date")
    (owner,) = companions(made, ["owner"]).values()
    assert ("no fire from" in outline(owner)) is told
    assert (fires is not None) is told
    assert [order.first_use for order in made.programme.orders if order.thing == "sweep"] == [
        span(made.programme, "front/flues-swept")[0]
    ]
    if fires is not None:
        assert laid is not None
        assert (fires - laid).days == 28
        first = here.spoken("room_from_date")
        assert f"no fire from {first} to {here.spoken('fires_from_date')}" in outline(owner)
