"""An old face that is mended before its wash: in which mix, who is asked for it, and who marks it."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from timed_jobs import codes, planned, surface

from generator.job.job import Job


def washed(*beside: str, mend_m2: str = "2") -> Job:
    wash = surface("w", "limewash", wash_colour="white", old_coating="limewash", wash_mend_m2=mend_m2)
    return planned(wall(*beside, wash, wall_painting="none"), finish_date="2028-09-29")


def lines(made: Job) -> set[str]:
    return {item.entry.id for item in made.measured.items()}


def test_a_wall_under_limewash_alone_has_its_mending_in_a_mix_that_the_specifier_is_asked_for_and_by_a_day() -> None:
    made = washed()
    assert "mended-without-mix" in codes(made)
    assert made.facts.at_scope(("front",)).text("mended_in") == "written"
    assert "limewash.mending-written" in lines(made)
    (asked,) = (order for order in made.programme.orders if order.thing == "mend-mix")
    (mended,) = (task for task in made.programme.tasks() if task.entry == "mend-old")
    assert (mended.start - asked.by).days >= 28


@pytest.mark.parametrize("beside", [work("a"), surface("r", "render", render_kind="flat", face_area_m2="10")])
def test_a_wall_with_new_mortar_has_its_old_face_mended_in_that_and_nobody_is_asked(beside: str) -> None:
    made = washed(beside)
    assert "mended-without-mix" not in codes(made)
    assert made.facts.at_scope(("front",)).text("mended_in") == "new-work"
    assert "limewash.mending" in lines(made)
    assert "mend-mix" not in {order.thing for order in made.programme.orders}


def test_a_face_that_needs_no_mending_asks_for_no_mix() -> None:
    assert "mended-without-mix" not in codes(washed(mend_m2="0"))
