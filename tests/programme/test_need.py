"""What is begun when it is needed and no sooner, and where a panel stands: what access stands for, and what waits."""

from __future__ import annotations

from datetime import date

import pytest
from answers_text import wall, work
from jobs import EXAMPLES, example, shipped
from timed_jobs import codes, keys, planned, scaffolded, span, surface, task

from generator.programme.model import Programme, Task
from generator.programme.standing import Standing
from generator.questionnaire.keeping import Kept

LATE = ("stuff-cools", "stuff-rests", "lath-soak", "access-up", "pictures", "panel-pictures", "covers-hung")
WASHED = {"wash_colour": "white", "old_coating": "limewash"}
INSIDE = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
PLASTER = {"plaster_coats": "three", "plaster_surface": "trowelled", "dubbing_mm": "0", "cornice_m": "0"}
LISTED = {"protection": "listed", "consent": "granted", "consent_reference": "2027/1", "officer": "The officer"}


def followers(found: Programme, one: Task) -> list[Task]:
    return [other for other in found.tasks() if one.id in other.after]


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_nothing_is_made_or_put_up_weeks_before_what_needs_it(name: str) -> None:
    found = example(name).programme
    for one in found.tasks():
        if one.entry in LATE:
            assert min(other.start for other in followers(found, one)) >= one.finish
            # a weekend, the days of a gang that is elsewhere, and no more
            assert (min(other.start for other in followers(found, one)) - one.finish).days <= 10, one.key


def test_access_goes_up_when_a_panel_made_from_the_ground_has_dried_and_stands_weeks_less() -> None:
    behind = planned(scaffolded()).programme
    before = planned(scaffolded(work(panel_place="ground"))).programme
    assert task(before, "front/access-up").start > task(before, "front/repoint/panel-dry").start
    assert task(before, "front/repoint/mark").start > task(before, "front/access-up").finish
    weeks = [found.walls[0].access_weeks for found in (behind, before)]
    assert weeks[0] is not None
    assert weeks[1] is not None
    assert weeks[0].likely - weeks[1].likely >= 3
    assert before.end is not None
    assert behind.end is not None
    assert before.end.likely <= behind.end.likely


def test_a_panel_that_keeps_its_access_standing_is_told() -> None:
    assert "panel-holds-access" in codes(planned(scaffolded()))
    assert "panel-holds-access" not in codes(planned(scaffolded(work(panel_place="ground"))))


def test_access_that_enabling_work_needs_waits_for_no_panel() -> None:
    gutters = {"enabling_tasks": "[gutters]", "gutter_m": "10", "face_area_m2": None, "quantity_sure": None}
    cured = {"decay_causes": "[gutter]", "causes_cured": "in-this-work", "wall_wet": "damp"}
    front = scaffolded(work(panel_place="ground"), surface("g", "enabling", **gutters), **cured)
    found = planned(front).programme
    assert task(found, "front/access-up").finish < task(found, "front/g/enable-gutters").start
    assert task(found, "front/g/enable-gutters").start < task(found, "front/repoint/panel-dry").finish


def test_a_panel_of_laths_on_a_frame_waits_for_neither_props_nor_tower() -> None:
    found = example("mill-house").programme
    panel = task(found, "chamber-ceiling/plaster/pricking-up/panel-coat")
    elsewhere = {"chamber-ceiling/props", "chamber-ceiling/access-up", "chamber-ceiling/plaster/lath"}
    assert elsewhere & {"/".join(id) for id in panel.after} == set()
    keys = ("panel-lath-soak", "panel-lath", "panel-laths-seen", "lath")
    soaked, fixed, seen, lathing = (task(found, f"chamber-ceiling/plaster/{key}") for key in keys)
    assert seen.id in panel.after
    assert fixed.id in seen.after
    assert soaked.id in fixed.after
    assert soaked.finish <= fixed.start < seen.start < panel.start  # sprayed the evening before the coat
    again = task(found, "chamber-ceiling/plaster/lath-soak")
    assert soaked.finish <= panel.start < again.start < again.finish <= lathing.start
    assert (lathing.start - again.finish).days < 7  # they have not dried meanwhile


def test_a_panel_on_laths_in_place_is_a_finding() -> None:
    laths = {"masonry": "laths", "overhead": "yes", "access": "tower", **INSIDE}
    made = {**PLASTER, "new_laths_m2": "4", "lath_kind": "riven", "lath_gap_mm": "8", "joist_width_mm": "50"}
    assert "panel-on-laths" in codes(planned(wall(surface("p", "plaster", **made), **laths)))
    framed = surface("p", "plaster", panel_place="frame", **made)
    assert "panel-on-laths" not in codes(planned(wall(framed, **laths)))


def test_a_panel_of_coats_on_a_wall_that_is_wet_is_a_finding_and_its_clause_says_where_it_is_made_then() -> None:
    def told(wet: str, **more: str) -> set[str]:
        return codes(planned(wall(surface("p", "plaster", **PLASTER, **more), wall_wet=wet, **INSIDE)))

    assert "panel-on-wet-wall" in told("damp")
    assert "panel-on-wet-wall" not in told("dry")
    assert "panel-on-wet-wall" not in told("damp", panel_place="frame")
    panels = example("mill-house").library.clauses["approvals.panels"].text
    assert "If all there is wet, make it on a dry place" in panels


def test_part_of_the_wash_s_panel_lies_on_a_strip_of_the_panel_of_render_once_that_is_answered_dry() -> None:
    made = example("mill-house")
    assert "wide of the approved panel of render or plaster" in made.library.clauses["approvals.panel-limewash"].text
    answered = task(made.programme, "rear/render/panel-answer")
    washed = task(made.programme, "rear/limewash/wash/panel-wash")
    assert answered.finish < washed.start


def test_the_specifier_has_the_pictures_for_two_working_days_before_a_tool_touches_the_face() -> None:
    for name in ("toll-house", "mill-house"):
        found = example(name).programme
        for one in found.tasks():
            if one.entry == "pictures":
                assert one.why.days.likely == 2
                tools = [
                    other
                    for other in found.tasks()
                    if other.place == one.place
                    and other.entry in ("rake", "rake-first", "rake-length", "take-off", "trial")
                ]
                assert [tool.key for tool in tools if tool.start <= one.finish] == []


def test_a_room_is_closed_off_and_marked_before_its_plaster_comes_off() -> None:
    found = example("mill-house").programme
    closed, marked, off = (
        task(found, f"dining-room/{key}") for key in ("room-closed", "take-off/surface-marked", "take-off/take-off")
    )
    assert closed.why.days.likely == 2  # lead in the paint
    assert closed.finish < marked.start <= marked.finish < off.start


def test_hot_mix_rests_from_the_day_it_is_screened_not_from_the_day_it_is_wetted() -> None:
    """Clause 'mortars.hot-mix': left for a day, turned and screened, then rested."""
    found = example("toll-house").programme
    cools, rests = (task(found, f"gable/repoint/pointing/{key}") for key in ("stuff-cools", "stuff-rests"))
    assert (cools.finish - cools.start).days == 1
    assert rests.start >= cools.finish
    assert (rests.finish - rests.start).days == 7
    assert task(found, "gable/repoint/pointing/panel-coat").start >= rests.finish


def test_a_wall_cured_on_a_stack_is_released_when_the_cover_of_its_new_top_has_gone_and_then_dries() -> None:
    found = example("mill-house").programme
    cover = task(found, "stack/flaunching/flaunching/cover")
    proof, dries = task(found, "chamber-ceiling/cured-elsewhere"), task(found, "chamber-ceiling/dry-out")
    assert proof.start >= cover.finish
    assert proof.hold == "causes"
    assert (dries.finish - proof.finish).days == 14  # the timbers under the leak
    for key in ("chamber-ceiling/plaster/lath", "chamber-ceiling/refix/refix"):
        assert task(found, key).start >= dries.finish


def test_new_render_is_tapped_before_a_wash_covers_it_and_within_the_days_of_its_first_coat() -> None:
    found = example("mill-house").programme
    tapped, washed = task(found, "rear/render/tapped"), task(found, "rear/limewash/wash/wash")
    assert tapped.hold == "tapped"
    assert tapped.finish < washed.start
    damp = task(found, "rear/render/render-finish/damp")
    assert 0 <= (washed.start - damp.finish).days <= 7


def test_salts_are_brushed_off_no_fresh_wash() -> None:
    salty = {"salts": "some", "lead_paint": "none", "wall_painting": "none"}
    washed = planned(scaffolded(surface("w", "limewash", **WASHED), **salty)).programme
    assert "front/salts-again" not in keys(washed)
    assert "front/salts-again" in keys(planned(scaffolded(**salty)).programme)


def test_growth_is_brushed_off_two_weeks_before_a_face_is_washed() -> None:
    found = planned(scaffolded(surface("w", "limewash", **WASHED), lead_paint="none", wall_painting="none")).programme
    off, prepared = task(found, "front/w/growth-off"), task(found, "front/w/prepare-wash")
    assert (prepared.start - off.finish).days >= 14


def test_an_application_for_the_discharge_of_a_condition_holds_the_work_and_a_word_does_not() -> None:
    word = planned(scaffolded(), panel_discharge="word", finish_date="2027-11-30", **LISTED).programme
    asked = planned(scaffolded(), panel_discharge="application", finish_date="2027-11-30", **LISTED).programme
    dry, waits = task(asked, "front/repoint/panel-dry"), span(asked, "front/repoint/panel-discharge")
    assert waits[0] == dry.finish
    assert (waits[1] - waits[0]).days == 56  # eight weeks from a valid application (England)
    assert task(asked, "front/repoint/rake").start > waits[1]
    (order,) = (order for order in asked.orders if order.thing == "discharge")
    assert (order.by, order.first_use) == waits  # asked for on the day when the panel is dry, not weeks before
    assert "front/repoint/panel-discharge" not in keys(word)
    assert task(word, "front/repoint/rake").start < waits[1]


def test_a_consent_granted_asks_how_its_condition_on_the_panels_is_discharged() -> None:
    found = planned(scaffolded(), **LISTED)
    assert any("panels" in item.message and "discharged" in item.message for item in found.findings)


def test_no_fire_is_told_from_the_day_on_which_the_flues_are_shut_off() -> None:
    stack = {"position": "chimney", "flues": "some-live", "exposure": "severe", "access": "roof-scaffold"}
    found = planned(wall(**stack)).programme
    no_fire, shut = task(found, "front/fires"), task(found, "front/flues-off")
    assert no_fire.start == shut.finish
    assert no_fire.finish > task(found, "front/repoint/pointing/lay").finish
    assert no_fire.finish > date(2027, 6, 1)


def test_an_order_that_is_kept_is_found_anew_when_a_panel_is_made_elsewhere() -> None:
    kept = Kept()
    places = ("access", "frame", "access")
    jobs = [planned(scaffolded(work(panel_place=place))).facts for place in places]
    orders = [dict(Standing(facts, shipped()).order(kept)) for facts in jobs]
    panel = ("front", "repoint", "pointing", "panel-coat")
    assert [("front", "access-up") in order[panel] for order in orders] == [True, False, True]


def test_a_wall_outside_worked_from_the_ground_is_looked_over_after_its_cover_has_gone() -> None:
    found = planned(wall())
    looked, covered = (
        task(found.programme, "front/ground-passed"),
        task(found.programme, "front/repoint/pointing/cover"),
    )
    assert looked.hold == "strike"
    assert looked.start > covered.finish
    assert found.facts.at_scope(()).day("programme_end_date") == looked.finish
    assert "front/ground-passed" not in keys(planned(scaffolded()).programme)


@pytest.mark.parametrize("name", ["mill-house", "toll-house"])
def test_joints_packed_are_pointed_within_days_of_their_hardening(name: str) -> None:
    """A gang that has gone on to another wall meanwhile opens no third before it is back."""
    found = example(name).programme
    hardened = {one.path: one.finish for one in found.tasks() if one.entry == "deep-wait"}
    assert hardened
    for path, ready in hardened.items():
        pointed = next(one.start for one in found.tasks() if one.entry == "lay" and one.path == path)
        assert (pointed - ready).days <= 7, path
