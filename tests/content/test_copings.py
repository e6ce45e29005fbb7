"""Copings on every paper: lifted first, bedded by masons on what is fast, in one mortar, proved last."""

from __future__ import annotations

import functools
import re
from datetime import date

import pytest
from answers_text import work
from order_of_work import days_of, ordered_steps, undated
from timed_jobs import planned, scaffolded, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.values import month_day_short


def built_high(high: str | None = None) -> str:
    """What is rebuilt, so high where that is known."""
    return surface(
        "built", "rebuild", rebuild_what="whole", rebuild_thickness_mm="220", replaced_units_nr="0", face_area_m2="6",
        rebuild_height_m=high,
    )  # fmt: skip


REBUILT = built_high()
POINTED = work("pointed")
LOOSE = work("pointed", loose_units_nr="12", deep_voids_m2="0")


@functools.cache
def coped(*works: str, tasks: str = "[coping]", **told: str) -> Job:
    """A damp parapet of bricks whose copings leak and are bedded again, with what else is done there."""
    return planned(parapet("front", *works, tasks=tasks, **told), finish_date="2028-09-29")


def parapet(id_: str, *works: str, tasks: str = "[coping]", **told: str) -> str:
    coping = surface("c", "enabling", enabling_tasks=tasks, coping_m="6", quantity_sure=None, face_area_m2=None)
    wet = {"position": "parapet", "decay_causes": "[leak]", "causes_cured": "in-this-work", "wall_wet": "damp"}
    return scaffolded(coping, *works, id_=id_, name=f"Parapet {id_}", **{**wet, **told})


def paper(made: Job, kind: str) -> str:
    (found,) = companions(made, [kind]).values()
    return outline(found)


@pytest.mark.parametrize("works", [(REBUILT,), (POINTED,), (REBUILT, LOOSE)])
def test_a_wall_dries_and_its_top_is_taken_down_once_its_top_is_sheeted_which_has_no_later_last_start(
    works: tuple[str, ...],
) -> None:
    made = coped(*works)
    sheeted, dries = days_of(made, "front", "top-sheeted", "dry-out")
    assert sheeted.finish <= dries.start
    down = [task for task in made.programme.tasks() if task.entry == "take-down"]
    assert len(down) == works.count(REBUILT)
    assert [task for task in down if task.start <= sheeted.finish or task.late_start <= sheeted.late_finish] == []


def test_lime_goes_below_copings_before_they_are_proved_and_where_they_are_alone_no_paper_says_otherwise() -> None:
    made = coped(REBUILT)
    lay, proved = days_of(made, "front", "lay", "copings-proved")
    assert lay.finish < proved.start
    told = outline(assemble(made).specification) + paper(made, "officer")
    assert "have it proved, before any lime" not in told
    assert "prove this before any lime" not in told
    assert "Put right, and proved, before lime is placed." not in told
    assert "the top is sheeted, and the face has shown no dark patch" in told
    order = ("enabling.start-copings", "enabling.copings", "enabling.dry-copings", "rebuild.bed")
    assert ordered_steps(made, "front", *order, "enabling.start", "enabling.dry") == list(order)


def test_no_hold_for_causes_stops_lime_on_a_wall_that_its_copings_cure_and_their_proof_has_a_hold_of_its_own() -> None:
    made = coped(REBUILT)
    held = {hold for told in all_steps(made, ("front",)) for hold in told.entry.holds}
    assert "causes" not in held
    assert {"copings", "dry-face"} <= held
    assert not made.in_papers("raking-out.causes")
    assert "leak-first" not in {found.code for found in made.findings}
    assert days_of(made, "front", "copings-proved")[0].hold == "copings"
    assert not coped(POINTED, decay_causes="[leak, cement]").in_papers("raking-out.causes")
    dripped = coped(REBUILT, decay_causes="[leak, gutter]")
    assert dripped.in_papers("raking-out.causes")
    assert ordered_steps(dripped, "front", "wall.causes") == ["wall.causes"]


def test_what_else_is_put_right_beside_copings_is_proved_before_lime() -> None:
    made = coped(POINTED, tasks="[coping, plants]")
    assert "have it proved, before any lime" in outline(assemble(made).specification)
    assert ordered_steps(made, "front", "enabling.start", "enabling.start-copings") == ["enabling.start"]


def test_copings_go_on_once_loose_units_below_them_are_reset_in_time_and_on_the_sheet() -> None:
    """They come off again with what is loose under them, where a part of the top is rebuilt too."""
    made = coped(LOOSE, brick_thickness="thicker")
    packed, first, rest, lay = days_of(made, "front", "pack", "coping-first", "enable-copings", "lay")
    assert packed.finish < first.start <= rest.finish < lay.start
    order = ("repoint.reset", "repoint.next-metre", "enabling.copings-bedded", "repoint.fill")
    assert ordered_steps(made, "front", *order) == list(order)
    part = coped(REBUILT, LOOSE, brick_thickness="thicker")
    built, first, packed = days_of(part, "front", "built", "coping-first", "pack")
    assert built.finish <= packed.finish < first.start
    behind = ("rebuild.top", "repoint.reset", "repoint.next-metre", "enabling.copings-bedded", "repoint.fill")
    assert ordered_steps(part, "front", *behind) == list(behind)


def test_copings_wait_for_nothing_below_a_top_that_is_rebuilt_all_along() -> None:
    """Its length comes from its face and its height: 6 m² one metre high is as long as 6 m of coping."""
    whole, part = (coped(built_high(high), LOOSE, brick_thickness="thicker") for high in ("1", "1.5"))
    built, first, packed = days_of(whole, "front", "built", "coping-first", "pack")
    assert built.finish <= first.start < packed.start
    order = ("rebuild.top", "enabling.copings-on-rebuilt", "repoint.reset")
    assert ordered_steps(whole, "front", *order) == list(order)
    assert ordered_steps(part, "front", "enabling.copings-on-rebuilt") == []


def test_a_wall_rises_by_one_lift_a_day_and_waits_a_day_for_the_release_of_its_first() -> None:
    """Area over output gave two days for two metres that may rise 600 mm a day."""
    lay = {high: days_of(coped(built_high(high)), "front", "lay")[0] for high in ("0.3", "2", "4")}
    (work,) = (view for view in coped(built_high("2")).facts.views("work") if view.path[-1] == "built")
    lift_mm = work.number("lift_mm")
    assert lift_mm is not None
    least = {high: lay[high].why.least_days for high in lay}
    assert least == {"0.3": 1, "2": -(-2000 // int(lift_mm)) + 1, "4": -(-4000 // int(lift_mm)) + 1}
    assert [lay[high].why.days.likely >= least[high] for high in lay] == [True] * 3
    assert "rebuild_height_m" in {found.question for found in coped(REBUILT).findings}


def test_ivy_cut_already_is_drawn_off_on_a_day_before_its_top_is_sheeted_and_holds_no_lime_back() -> None:
    """Rain, frost and dead ivy are met by copings: no step then holds the wall for causes that nobody proves."""
    rooted = {"decay_causes": "[plants, leak, frost]"}
    dead = coped(LOOSE, **rooted, plants_cut="yes")
    drawn, sheeted, dries = days_of(dead, "front", "dead-drawn", "top-sheeted", "dry-out")
    assert drawn.finish < sheeted.start <= dries.start
    assert "causes" not in {hold for told in all_steps(dead, ("front",)) for hold in told.entry.holds}
    assert list(undated(dead)) == []
    assert "causes" in {hold for told in all_steps(coped(LOOSE, **rooted), ("front",)) for hold in told.entry.holds}
    dripped = coped(LOOSE, decay_causes="[plants, gutter]", plants_cut="yes")
    assert list(undated(dripped)) == []
    assert [task.hold for task in days_of(dripped, "front", "dead-proved")] == ["causes"]


def test_copings_on_half_a_brick_go_on_once_it_is_pointed_and_on_sound_units_before_joints_are_raked() -> None:
    thin = coped(LOOSE, brick_thickness="half-brick")
    lay, first = days_of(thin, "front", "lay", "coping-first")
    assert lay.finish < first.start
    order = ("repoint.next-length", "enabling.copings-bedded", "repoint.frost")
    assert ordered_steps(thin, "front", *order) == list(order)
    sound = coped(POINTED, brick_thickness="thicker")
    order = ("repoint.approved", "enabling.copings-bedded", "repoint.rake")
    assert ordered_steps(sound, "front", *order) == list(order)


@pytest.mark.parametrize("works", [(REBUILT,), (POINTED,), (LOOSE,), (REBUILT, LOOSE)])
def test_copings_are_proved_by_a_step_of_its_own_after_what_is_laid_below_them_meanwhile(
    works: tuple[str, ...],
) -> None:
    """Their beds are covered for weeks, for which no joint below waits."""
    made = coped(*works, brick_thickness="thicker")
    told = [told.entry for told in all_steps(made, ("front",))]
    (proof,) = [step for step in told if "copings" in step.holds]
    assert proof.id == "enabling.copings-proved"
    assert [step.id for step in told[told.index(proof) + 1 :]] == ["wall.look"]
    lay, proved, passed = days_of(made, "front", "lay", "copings-proved", "strike-passed")
    assert lay.finish < proved.start <= passed.start


@pytest.mark.parametrize(
    ("tasks", "start"), [("[ground]", "below"), ("[drain]", "below"), ("[coping, ground]", "both")]
)
def test_what_is_dug_is_told_first_and_nothing_is_photographed_first_after_it(tasks: str, start: str) -> None:
    made = coped(POINTED, tasks=tasks, decay_causes="[high-ground, leak]")
    told = [told.entry for told in all_steps(made, ("front",))]
    at = {step.id: number for number, step in enumerate(told)}
    assert "first" not in told[at[f"enabling.start-{start}"]].text
    dug = min(number for id_, number in at.items() if id_ in ("enabling.trial-holes", "enabling.drains"))
    assert dug < at["wall.access"]
    assert "photograph from below" in told[dug].text.lower() or "foot from below" in told[dug].text
    assert (at[f"enabling.start-{start}"] < dug) is (start == "below")
    assert "building.record" in {clause for step in told for clause in step.clauses}


def test_masons_bed_copings() -> None:
    assert {task.trade for task in days_of(coped(POINTED), "front", "coping-first", "enable-copings", "lay")} == {
        "masonry"
    }


def test_copings_of_a_wall_with_two_mortars_take_that_of_bedding_in_their_line_their_step_and_their_clause() -> None:
    """Their panel is that of bedding too, and no paper sends the foreman to the mortar of the wall."""
    made = coped(REBUILT, LOOSE)
    bedding, pointing = (coat.text("mix_used") for coat in made.facts.views("coat"))
    assert bedding != pointing
    (line,) = [item for item in made.measured.items() if item.entry.id == "enabling.copings"]
    assert line.mix == bedding
    text = outline(assemble(made).specification)
    assert f"Bed copings in {bedding};" in text
    assert f"a full bed of {bedding}," in text
    answered = [made.facts.at_scope(("front", work)).day("panel_answered_date") for work in ("c", "built")]
    assert answered[0] == answered[1]


def test_bedded_copings_have_the_day_to_which_they_are_kept_damp_and_a_record_of_curing() -> None:
    made = coped(REBUILT)
    (hardened,) = days_of(made, "front", "copings-hardened")
    here = made.facts.at_scope(("front", "c"))
    assert here.day("copings_covered_date") == hardened.finish
    until = here.spoken("copings_covered_date")
    day = re.escape(month_day_short(hardened.finish))
    assert re.search(rf"^Damp, covered to \| {day}", outline(assemble(made).specification), re.MULTILINE)
    record = paper(made, "records").partition("Record of curing: Parapet front, enabling work")[2]
    assert f"damp and covered to {until}" in record


@pytest.mark.parametrize(
    "months", ["5, 5, 7, 9, 13, 16, 18, 18, 15, 11, 8, 6", "2, 2, 4, 6, 9, 12, 14, 14, 11, 8, 5, 3"]
)
@pytest.mark.parametrize("works", [(REBUILT,), (POINTED,), (REBUILT, LOOSE)])
def test_copings_are_kept_as_long_as_their_clause_says_and_never_less_than_their_mortar_elsewhere_on_the_wall(
    works: tuple[str, ...], months: str
) -> None:
    made = planned(parapet("front", *works), finish_date="2028-09-29", month_means_c=months)
    least = made.library.figures["enabling.copings-when/coping_covered_days"].value
    text = made.library.clauses["enabling.copings-when"].text
    assert "damp and covered as that mortar is, and for {{ coping_covered_days }} at least" in text
    (hardened,) = days_of(made, "front", "copings-hardened")
    bedded_in = made.facts.get(("front", "c"), "coping_mix")
    coat = next(coat for coat in made.facts.views("coat") if coat.text("mix_used") == bedded_in)
    own = [coat.real(name) or 0.0 for name in ("kept_damp_days", "rain_cover_days")]
    assert (hardened.finish - hardened.start).days >= max(float(str(least)), *own)


def test_copings_on_a_wall_without_coats_are_bedded_in_the_season_of_the_coats_of_other_walls() -> None:
    autumn = {"start_date": "2027-10-18", "early_frost": "10-20", "late_frost": "05-01", "finish_date": "2028-09-29"}
    made = planned(parapet("front"), scaffolded(POINTED, id_="rear", name="Rear wall"), **autumn)
    bedded = [task for task in days_of(made, "front", "coping-first", "enable-copings") if task.place == ("front",)]
    assert len(bedded) == 2
    assert [task.start for task in bedded if task.start.month > 10 or task.start < date(2028, 3, 1)] == []


def test_walls_that_share_a_sheet_have_that_day_in_the_table_of_their_dates() -> None:
    made = planned(*(parapet(id_, POINTED) for id_ in ("one", "two")), finish_date="2028-09-29")
    told = outline(assemble(made).specification).partition("Panels, work and curing of each work")[2]
    for id_ in ("one", "two"):
        until = made.facts.spoken((id_, "c"), "copings_covered_date")
        assert re.search(rf"^Parapet {id_}, enabling work \| .* \| {until} \| {until}$", told, re.MULTILINE)


def test_props_of_what_is_rebuilt_are_hired_from_just_before_it_is_taken_down() -> None:
    made = coped(REBUILT)
    props, panel, down = days_of(made, "front", "numbered", "panel-answer", "take-down")
    assert panel.start < props.start < down.start
    assert (down.start - props.start).days <= 4
    order = ("rebuild.panel", "rebuild.approved", "rebuild.record-propped", "rebuild.support-numbered", "rebuild.down")
    assert ordered_steps(made, "front", *order) == list(order)


def test_a_lightning_conductor_is_freed_before_a_coping_is_lifted_on_the_sheet_and_in_time() -> None:
    made = coped(POINTED, lightning_conductor="yes")
    freed, sheeted = days_of(made, "front", "conductor-freed", "top-sheeted")
    assert freed.finish < sheeted.start
    assert ordered_steps(made, "front", "wall.conductor", "enabling.copings") == ["wall.conductor", "enabling.copings"]


def test_a_patch_that_salts_or_the_ground_keep_is_decided_upon_by_samples_and_does_not_hold_the_wall_for_ever() -> None:
    salty = coped(POINTED, salts="heavy", salt_kinds="[nitrate]", salt_sources="[ground]")
    assert "A patch that stays" in outline(assemble(salty).specification)
    assert "A patch that stays" not in outline(assemble(coped(POINTED)).specification)
