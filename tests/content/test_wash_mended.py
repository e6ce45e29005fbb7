"""An old face that is mended before its wash: in which mix, who is asked for it, and who marks it."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from order_of_work import unmarked
from timed_jobs import codes, planned, surface

from generator.job.job import Job
from generator.papers.steps import all_steps


def washed(*beside: str, mend_m2: str | None = "2") -> Job:
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
    mix = made.facts.at_scope(("front",)).text("mended_in")
    assert {"new-work": "limewash.mending", "joints": "limewash.mending-joints"}[mix] in lines(made)
    taken = {mixed.task for batch in made.measured.batches for mixed in batch.made.days}
    assert "mend-old" in taken
    assert "mend-mix" not in {order.thing for order in made.programme.orders}


def test_a_face_that_needs_no_mending_asks_for_no_mix() -> None:
    assert "mended-without-mix" not in codes(washed(mend_m2="0"))


@pytest.mark.parametrize("beside", [None, work("a")])
def test_places_of_an_old_face_are_chalked_with_the_specifier_before_they_are_raked_and_after_growth_is_off(
    beside: str | None,
) -> None:
    made = washed(*([] if beside is None else [beside]))
    first = {task.entry: task for task in made.programme.tasks() if task.path == ("front", "w")}
    off, marked, mended = (first[name] for name in ("growth-off", "mend-marked", "mend-old"))
    assert off.finish < marked.start <= marked.finish < mended.start
    assert marked.hold == "marked-surface"
    assert list(unmarked(made)) == []
    assert made.serves("building.marking", ("front",))
    (told,) = (step.entry for step in all_steps(made, ("front",)) if "limewash.mending" in step.entry.clauses)
    assert told.holds == ("marked-surface",)
    assert "building.marking" in told.clauses


@pytest.mark.parametrize("mend_m2", ["0", None])
def test_what_nobody_counted_beforehand_is_chalked_without_a_day(mend_m2: str | None) -> None:
    made = washed(mend_m2=mend_m2)
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert ("limewash.mend-found" in told, "limewash.mend" in told) == (True, False)
    assert "mend-marked" not in {task.entry for task in made.programme.tasks()}
