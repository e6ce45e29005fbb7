"""What an expert misses in thin papers: a clause where it is answered, and a line where it costs."""

from __future__ import annotations

from typing import Final

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import job, shipped
from timed_jobs import codes, planned, scaffolded, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.mix_cards import Heaps, card
from generator.papers.steps import all_steps

TESTS = {
    "analysis": ("approvals.analysis", "tests.analysis"),
    "absorption": ("approvals.absorption", "tests.absorption"),
    "carbonation": ("approvals.carbonation", "tests.carbonation"),
    "moisture": ("approvals.moisture", "tests.moisture"),
    "salts": ("approvals.salt-test", "tests.salts"),
}
SAID = {
    "an analysis that was made": ({"mortar_analysis": "report L-1 found air lime"}, "building.analysis", "report L-1"),
    "earlier repairs": ({"earlier_repairs": '["sill patch of 1900: stays"]'}, "building.earlier-repairs", "sill patch"),
    "grade and number": (
        {"protection": "listed", "consent": "granted", "protection_entry": "grade II, entry 1"},
        "building.entry", "grade II, entry 1",
    ),
    "that no law protects it": ({"protection": "none"}, "building.not-protected", "not protected by law"),
    "where salts come from": (
        {"salts": "some", "salt_kinds": "[nitrate]", "salt_sources": "[stores]"}, "raking-out.salt-sources", "dung",
    ),
    "mortar bought ready mixed": (
        {"asked_ways": "[ready-mixed]"}, "materials.ready-mixed", "On the paper of each delivery",
    ),
    "remains in the ground": (
        {"work": "enabling", "enabling_tasks": "[ground]", "ground_m": "5", "ground_remains": "likely"},
        "enabling.remains", "archaeologist",
    ),
    "remains that nobody asked about": (
        {"work": "enabling", "enabling_tasks": "[drain]", "ground_remains": "not-asked"},
        "enabling.remains-not-asked", "before the specifier has sent",
    ),
    "remains that nobody knows of": (
        {"work": "enabling", "enabling_tasks": "[ground]", "ground_m": "5"},
        "enabling.remains-not-asked", "trial holes included",
    ),
    "remains under a sum for lowering ground": (
        {"decay_causes": "[high-ground]", "causes_cured": "in-this-work", "ground_remains": "not known"},
        "enabling.remains-not-asked", "trial holes included",
    ),
    "rules for building work": (
        {"work": "render", "render_kind": "flat"}, "building.regulations", "building control",
    ),
    "damage done in the work": ({}, "site.damage", "Show damage the same day"),
    "papers of deliveries": ({}, "mortars.batch-record", "the paper of each delivery"),
    "panels between timbers": ({"in_frame": "yes"}, "enabling.panels", "Cut no groove into a timber"),
}  # fmt: skip


def lines(found: Job) -> set[str]:
    return {item.entry.id for item in found.measured.items()}


@pytest.mark.parametrize("test", TESTS)
def test_a_test_that_is_ordered_is_required_and_priced_and_one_that_is_not_is_neither(test: str) -> None:
    clause, line = TESTS[test]
    ordered, other = job(one_wall(tests_ordered=f"[{test}]")), job(one_wall())
    assert ordered.in_papers(clause)
    assert line in lines(ordered)
    assert not other.in_papers(clause)
    assert line not in lines(other)


@pytest.mark.parametrize("what", SAID)
def test_it_stands_in_the_papers_where_it_is_answered(what: str) -> None:
    answered, clause, said = SAID[what]
    found = job(one_wall(**answered))
    assert found.in_papers(clause)
    assert said in outline(assemble(found).specification)


def test_salts_are_not_rinsed_into_a_wall_that_would_else_be_soaked() -> None:
    clean, salty = job(one_wall()), job(one_wall(salts="heavy"))
    assert clean.facts.get(("front", "repoint"), "wetting") == "soak"
    assert salty.facts.get(("front", "repoint"), "wetting") == "mist"
    assert not salty.in_papers("raking-out.wetting-soak")


POINTED: Final = {"joint_depth_lost_mm": "5 - 10", "cement_area_m2": "0", "joint_finish": "brushed-flush"}
FINE_MASONRY: Final = {
    "gauged-brick": (
        {"raking-out.tools-fine", "raking-out.clean-gauged", "pointing.layers-fine"},
        "repoint.rake-gauged",
    ),
    "ashlar": ({"raking-out.tools-fine", "pointing.layers-fine", "raking-out.depth"}, "repoint.rake"),
    "brick": ({"raking-out.tools", "raking-out.depth", "pointing.layers", "pointing.deep"}, "repoint.rake"),
}
COARSE: Final = {"raking-out.tools", "pointing.layers", "pointing.deep"}


@pytest.mark.parametrize("masonry", FINE_MASONRY)
def test_fine_joints_are_opened_and_filled_by_blade_and_no_clause_of_wide_joints_is_told_of_them(masonry: str) -> None:
    told, step = FINE_MASONRY[masonry]
    width = {"brick": "9 - 12 (10)", "ashlar": "3 - 5 (4)", "gauged-brick": "1 - 1.5 (1)"}[masonry]
    lengths = {"face_area_m2": None, "treated_per_cent": None, "treated_how": None, "open_joint_m": "7"}
    joints = work() if masonry == "brick" else surface("repoint", "repoint", **POINTED, **lengths)
    sized = {"unit_length_mm": "300", "unit_width_mm": "200", "unit_height_mm": "200"} if masonry == "ashlar" else {}
    made = job(answers(wall(joints, masonry=masonry, joint_width_mm=width, **sized)))
    assert all(made.in_papers(clause) for clause in told)
    assert {clause for clause in COARSE | {"raking-out.wetting-soak"} if made.in_papers(clause)} & COARSE == (
        COARSE if masonry == "brick" else set()
    )
    if masonry == "gauged-brick":
        assert not made.in_papers("raking-out.depth")
        assert not any(made.in_papers(f"raking-out.wetting-{how}") for how in ("soak", "mist", "none"))
    steps = [one.entry.id for one in all_steps(made, ("front",))]
    assert step in steps
    assert ("repoint.wet-soak" in steps) == (masonry != "gauged-brick")


@pytest.mark.parametrize(("colour", "white"), [("Plain white", True), ("white", True), ("off-white", False)])
def test_a_wash_of_putty_alone_has_no_trials_of_strength_and_no_pigment_but_a_panel(colour: str, white: bool) -> None:
    wash = surface("w", "limewash", wash_colour=colour, old_coating="limewash")
    made = job(answers(wall(wash, wall_painting="none"), finish_date="2028-09-29"))
    trials = ("limewash.colour", "limewash.pigment")
    assert [made.in_papers(clause) for clause in trials] == [not white] * 2
    assert made.in_papers("limewash.white") is white
    tasks = {task.entry for task in made.programme.tasks()}
    assert ("colour" in tasks, "panel-wash" in tasks) == (not white, True)
    holds = {hold for one in all_steps(made, ("front",)) for hold in one.entry.holds}
    assert ("colour" in holds, "panel" in holds) == (not white, True)
    (batch,) = made.measured.batches
    on_card = [str(step) for step in card(made, batch, Heaps(made)).steps]
    assert any("soaked pigment" in step for step in on_card) is not white
    assert any("No pigment" in step for step in on_card) is white


@pytest.mark.parametrize(("deep_m2", "told"), [("not known", True), (None, True), ("0", False), ("3", False)])
def test_where_nobody_told_of_deep_joints_it_is_said_that_the_programme_counts_no_day_for_them(
    deep_m2: str | None, told: bool
) -> None:
    made = planned(scaffolded(work(deep_voids_m2=deep_m2)))
    counted = [task.key for task in made.programme.tasks() if task.entry in ("deep-wait", "pack", "pack-length")]
    assert bool(counted) == (deep_m2 == "3")
    assert ("deep-not-counted" in codes(made)) == told


def test_a_panel_larger_than_what_may_stand_open_is_opened_in_parts_too() -> None:
    """On rubble a panel is larger than what is opened at once where units are loose."""
    clause, panels = shipped().clauses["raking-out.loose"], shipped().tables["panel"].rows
    largest = max(row.number("area_m2") for row in panels)
    assert largest > clause.figures["open_m2"]
    assert "{{ open_m2 }} in one place, of a panel too, before it is packed" in clause.text
