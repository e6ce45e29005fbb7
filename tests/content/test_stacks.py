"""Stacks that are taken down: nothing is proved, lined or bedded in what goes, and a roofer closes their foot."""

from __future__ import annotations

import functools
from itertools import pairwise

import pytest
from answers_text import work
from jobs import example
from order_of_work import begun_too_soon, days_of, ordered_steps, out_of_order, standing, undated
from timed_jobs import planned, scaffolded, surface
from told_papers import specification

from generator.job.job import Job

BUILT = surface(
    "r", "rebuild", rebuild_what="whole", rebuild_thickness_mm="102.5", replaced_units_nr="0", face_area_m2="6"
)
FACED = surface(
    "r", "rebuild", rebuild_what="facing", rebuild_thickness_mm="102.5", replaced_units_nr="0", face_area_m2="2"
)
TOP = surface("f", "flaunching", flaunching_m2="1", pots_nr="2", face_area_m2=None, quantity_sure=None)


@functools.cache
def stack(*works: str, **told: str) -> Job:
    """A damp stack of half a brick that leaks soot, with what is done to it."""
    leaking = {
        "position": "chimney", "flues": "all-dead", "decay_causes": "[flue]", "causes_cured": "in-this-work",
        "wall_wet": "damp", "brick_thickness": "half-brick",
    }  # fmt: skip
    made = scaffolded(*works, **{**leaking, **told})
    return planned(made, finish_date="2028-09-29", flue_test_sum="900", flue_cure_sum="4000", causes_sum="500")


def lines(made: Job) -> set[str]:
    return {item.entry.id for item in made.measured.items()}


PROVED_IN_VAIN = ("flues-tested", "flues-lined", "flues-mended", "dry-out", "dry-released", "top-bedded")


@pytest.mark.parametrize("works", [(BUILT, TOP), (BUILT,)], ids=["with its top", "alone"])
@pytest.mark.parametrize("flues", ["all-dead", "some-live"])
def test_nothing_is_tested_lined_dried_or_bedded_in_a_stack_that_is_taken_down(
    flues: str, works: tuple[str, ...]
) -> None:
    """Its flues were lined in April and its bricks thrown down in June."""
    made = stack(*works, flues=flues)
    assert standing(made, (*PROVED_IN_VAIN, "causes-mended"), ("front",)) == []
    told = ("wall.cause-flue", "wall.cause-flue-bared", "flaunching.flue-test", "wall.dries", "wall.causes",
            "flaunching.top", "flaunching.top-lined")  # fmt: skip
    assert ordered_steps(made, "front", *told) == []
    assert not lines(made) & {"sums.flue-test", "sums.causes-flue", "rates.top-course"}
    assert "flue-sulphates" not in {found.code for found in made.findings}
    for clause in ("causes.flue-test", "causes.flue", "raking-out.causes", "causes.dry-out", "flaunching.top-course"):
        assert not made.in_papers(clause), clause
    assert [*out_of_order(made), *begun_too_soon(made), *undated(made)] == []


def test_new_liners_go_into_the_new_stack_where_a_flue_of_it_is_in_use() -> None:
    assert "sums.liners-rebuilt" in lines(stack(BUILT, TOP, flues="some-live"))
    assert "sums.liners-rebuilt" not in lines(stack(BUILT, TOP))


def test_causes_from_elsewhere_are_put_right_before_a_stack_is_built_anew() -> None:
    made = stack(BUILT, TOP, decay_causes="[flue, leak]")
    (mended,), (laid, *_) = standing(made, ("causes-mended",), ("front",)), standing(made, ("lay",), ("front",))
    assert mended.finish < laid.start
    assert ordered_steps(made, "front", "wall.causes") == ["wall.causes"]
    assert made.in_papers("raking-out.causes")


def test_a_stack_of_which_a_part_stays_is_tested_lined_and_bedded_as_before() -> None:
    made = stack(FACED, work(), TOP)
    assert {task.entry for task in standing(made, PROVED_IN_VAIN, ("front",))} == set(PROVED_IN_VAIN) - {"flues-mended"}
    assert {"sums.flue-test", "sums.causes-flue", "rates.top-course"} <= lines(made)
    assert not made.in_papers("rebuilding.stack-lead")


def test_a_top_comes_off_once_props_stand_and_the_new_one_is_shown_before_its_flaunching() -> None:
    made = stack(BUILT, TOP, leaning="yes", engineer_says="with-care")
    order = ("rebuild.support-numbered", "flaunching.off", "flaunching.pots", "rebuild.down", "flaunching.top-new",
             "flaunching.lay")  # fmt: skip
    assert ordered_steps(made, "front", *order) == list(order)
    found = [
        *days_of(made, "front", "numbered", "flaunching-off", "take-down", "built", "stack-top"),
        standing(made, ("lay",), ("front",))[-1],
    ]
    assert [later.key for task, later in pairwise(found) if later.start < task.finish] == []
    assert found[0].finish < found[1].start <= found[1].finish < found[2].start


@pytest.mark.parametrize("works", [(FACED, work(), TOP), (BUILT, work(), TOP)], ids=["faced", "its upper part"])
def test_nothing_is_broken_off_a_leaning_stack_before_its_props_stand_though_a_part_of_it_stays(
    works: tuple[str, ...],
) -> None:
    made = stack(*works, leaning="yes", engineer_says="with-care")
    propped, off, tested = days_of(made, "front", "numbered", "flaunching-off", "flues-tested")
    assert propped.finish < off.start <= off.finish < tested.start
    order = ("rebuild.support-leaning", "flaunching.off", "flaunching.pots", "flaunching.flue-test")
    assert ordered_steps(made, "front", *order, "rebuild.support", "rebuild.support-numbered") == list(order)
    assert [*undated(made)] == []


@pytest.mark.parametrize("works", [(BUILT, TOP), (BUILT,), (BUILT, work())])
def test_lead_at_the_foot_of_a_stack_is_freed_as_it_comes_down_and_let_into_the_new_joints(
    works: tuple[str, ...],
) -> None:
    """No clause, line or day knew of it, and every new stack leaked at its foot."""
    made = stack(*works)
    down, freed, back, passed = days_of(made, "front", "take-down", "lead-freed", "lead-back", "strike-passed")
    laid = standing(made, ("lay",), ("front", "r"))[0]
    order = (down, freed, laid, back, passed)
    assert [later.key for task, later in pairwise(order) if later.start <= task.finish] == []
    told = ("rebuild.down", "rebuild.stack-lead", "rebuild.bed", "rebuild.damp", "rebuild.lead-back")
    assert ordered_steps(made, "front", *told) == list(told)
    (line,) = made.duties["rebuilding.stack-lead"].lines
    assert line.entry.id == "rebuild.stack-lead"


def test_the_fitter_who_marks_dead_flues_is_ordered_by_a_line_and_comes_before_a_flue_is_plugged() -> None:
    """A flue that is live after all was plugged on the word of the survey, weeks before he came."""
    made = stack(TOP, decay_causes="[leak]")
    marked, up, laid = days_of(made, "front", "fitter-marks", "access-up", "lay")
    assert marked.finish < up.start < laid.start
    order = ("wall.fitter-marks", "wall.flue-plugs", "flaunching.pots-set", "flaunching.all-dead")
    assert ordered_steps(made, "front", *order) == list(order)
    (line,) = made.duties["flaunching.all-dead"].lines
    assert (line.entry.id, line.entry.kind) == ("flaunching.dead-caps", "firm")
    assert "rates.flue-cap" not in lines(made)


@pytest.mark.parametrize("works", [(work(),), (BUILT,), (surface("off", "remove", removed="cement-render"),)])
def test_no_flue_that_is_said_to_be_dead_is_plugged_on_that_word_whatever_is_done_to_its_stack(
    works: tuple[str, ...],
) -> None:
    """Of a stack that kept its flaunching no fitter went through the rooms, and its flues were plugged all the same."""
    made = stack(*works, decay_causes="[leak]")
    marked, up = days_of(made, "front", "fitter-marks", "access-up")
    assert marked.finish < up.start
    order = ("wall.fitter-marks", "wall.flue-plugs", "wall.plugs-dead")
    assert ordered_steps(made, "front", *order, "wall.flues", "wall.plugs") == list(order)
    (line,) = made.duties["safety.dead-flues"].lines
    assert (line.entry.id, line.entry.kind) == ("repoint.flues-dead", "firm")


def test_live_flues_of_a_stack_from_which_render_alone_comes_off_are_shut_off_and_proved() -> None:
    made = stack(surface("off", "remove", removed="cement-render"), flues="all-live", decay_causes="[leak]")
    off, up, proved, struck = days_of(made, "front", "flues-off", "access-up", "flues-proved", "access-down")
    assert off.finish < up.start < proved.start < struck.start
    order = ("wall.flues", "wall.flue-plugs", "wall.plugs")
    assert ordered_steps(made, "front", *order, "wall.fitter-marks", "wall.plugs-dead") == list(order)


def test_loose_units_of_the_top_courses_lie_in_a_mix_that_their_joints_take() -> None:
    """Bricks with joints of 9 mm were bedded in the flaunching's mix, with grains of 4 mm."""
    made = stack(TOP, joint_width_mm="9")
    (coat,) = (coat for coat in made.facts.views("coat") if coat.text("coat") == "flaunching")
    grain = coat.number("greatest_grain_mm")
    assert grain is not None
    assert 3 * grain <= 9


def test_covers_are_hung_on_what_is_built_and_not_on_what_comes_down() -> None:
    framed = BUILT.replace("    work: rebuild\n", "    work: rebuild\n    panel_place: frame\n")
    made = stack(framed, TOP)
    assert ordered_steps(made, "front", "wall.covers", "wall.covers-face") == []
    order = ("wall.frame.panel", "rebuild.down", "wall.covers-new", "rebuild.bed")
    assert ordered_steps(made, "front", *order) == list(order)
    assert [*undated(made)] == []


@pytest.mark.parametrize("conductor", ["no", "yes"])
def test_flues_are_plugged_at_their_pots_before_a_pot_or_its_flaunching_is_touched(conductor: str) -> None:
    """Where leaking flues were tested from a bared top the step stood after the pots had come down."""
    made = stack(work(), TOP, flues="all-live", lightning_conductor=conductor)
    order = ("wall.flue-plugs", "flaunching.off", "flaunching.pots", "flaunching.flue-test")
    assert ordered_steps(made, "front", *order) == list(order)


def test_the_trades_that_a_stack_waits_for_are_ordered_weeks_before_their_first_day() -> None:
    made = example("toll-house")
    by = {order.thing: order for order in made.programme.orders}
    off, freed = days_of(made, "stack", "flues-off", "conductor-freed")
    assert (by["fitter"].first_use, by["conductor"].first_use) == (off.start, freed.start)
    assert all((by[thing].first_use - by[thing].by).days >= 14 for thing in ("fitter", "conductor"))
    told = specification("toll-house")
    assert "Licensed fitter of flues | 2 weeks" in told
    assert "Lightning trade | 2 weeks" in told
