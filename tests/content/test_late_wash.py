"""A wash that comes late on its render: what its sheet asks for."""

from __future__ import annotations

import pytest
from answers_text import wall
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
