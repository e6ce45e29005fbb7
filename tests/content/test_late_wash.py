"""A wash that comes late on its render: what its sheet asks for."""

from __future__ import annotations

import pytest
from answers_text import wall
from jobs import example
from order_of_work import days_of
from timed_jobs import codes, planned, surface

from generator.papers.steps import all_steps


@pytest.mark.parametrize("late", [False, True])
def test_a_wash_that_comes_late_on_its_render_is_asked_for_within_no_days_of_its_damping(late: bool) -> None:
    away = {"barred_dates": "[{from: 2027-07-27, to: 2027-08-20, reason: harvest}]"} if late else {}
    render = surface("r", "render", render_kind="flat", dubbing_mm="0", decoration="limewash")
    wash = surface("w", "limewash", wash_colour="white", old_coating="none", wash_mend_m2="0")
    made = planned(wall(render, wash, wall_painting="none"), finish_date="2028-09-29", **away)
    assert ("wash-late-on-render" in codes(made)) is late
    told = {step.entry.id for step in all_steps(made, ("front",))} & {"limewash.coats-late", "limewash.coats-on-new"}
    assert told == {"limewash.coats-late" if late else "limewash.coats-on-new"}


def test_new_render_is_brushed_under_its_hessian_which_comes_down_when_its_damping_ends() -> None:
    """The face is brushed and shown on days on which it is still kept damp, that its wash follows at once."""
    made = example("mill-house")
    (brushed,) = days_of(made, "rear", "prepare-wash")
    render = made.facts.at_scope(("rear", "render", "render-finish")).day("damp_until_date")
    assert render is not None
    assert brushed.start <= render
    text = made.library.clauses["render.then-limewash"].text
    assert "brush and show the face first, hessian lifted by bays" in text
    assert "Hessian goes as damping ends" in text
    assert "damp while the work is kept damp" in made.library.clauses["curing.covers"].text
