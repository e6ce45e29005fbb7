"""Ends agree: what waits for damping and covers, props, panels, mortar made before its day; and what is told of it."""

from __future__ import annotations

import re
from datetime import timedelta
from itertools import pairwise

import pytest
from jobs import EXAMPLES, example
from timed_jobs import task
from told_papers import log, sheet_of, specification

from generator.papers.steps import all_steps
from generator.programme.calendar import worked
from generator.programme.model import Task
from generator.programme.plan import calendar
from generator.questionnaire.scopes import PROJECT
from generator.values import month_day_short

NAMES = [path.parent.name for path in EXAMPLES]
DONE = ("work", "hold", "access")
MADE = ("stuff-cools", "stuff-rests")


def tasks(name: str) -> list[Task]:
    return list(example(name).programme.tasks())


@pytest.mark.parametrize("name", NAMES)
def test_nothing_but_a_next_coat_begins_on_the_last_day_that_lime_is_kept_damp_or_covered(name: str) -> None:
    found = example(name).programme
    after_kept = [
        (kept, later)
        for later in tasks(name)
        for kept in (found.by_id[id] for id in later.after)
        if later.kind in DONE and kept.kind in ("damp", "cover") and later.path[:2] != kept.path[:2]
    ]
    assert after_kept
    assert [(kept.key, later.key) for kept, later in after_kept if later.start <= kept.finish] == []


def test_props_come_out_once_damping_has_ended_and_the_deck_goes_when_the_plaster_has_been_pressed() -> None:
    found = example("mill-house").programme
    damp, out, room, pressed, down = (
        task(found, f"chamber-ceiling/{key}")
        for key in ("plaster/setting/damp", "props-out", "props-room", "props-pressed", "access-down")
    )
    assert damp.finish < out.start < out.finish  # never all in one day
    assert (room.finish - out.finish).days == 2  # the room stays closed for two days more
    assert room.finish <= pressed.start < down.start
    assert found.completion is not None
    assert down.finish <= found.completion
    last = example("mill-house").facts.at_scope(("chamber-ceiling", "plaster", "setting")).day("last_placing_date")
    laid = task(found, "chamber-ceiling/plaster/setting/lay").finish
    assert last is not None
    assert last + (down.finish - laid) <= found.completion + timedelta(2)  # a weekend more or less


@pytest.mark.parametrize("name", NAMES)
def test_mortar_that_rests_is_made_on_a_day_that_is_worked(name: str) -> None:
    days = worked(calendar(example(name).facts.at_scope(PROJECT)))
    made = [task for task in tasks(name) if task.entry in MADE]
    assert made or name == "garden-front"  # whose putty is used as it comes
    assert [task.key for task in made if days.between(task.start.toordinal() - 1, task.start.toordinal()) != 1] == []


@pytest.mark.parametrize("name", ["mill-house", "toll-house"])
def test_quicklime_is_first_used_on_the_day_it_is_slaked(name: str) -> None:
    (order,) = (order for order in example(name).programme.orders if order.thing == "quicklime")
    assert order.first_use == min(task.start for task in tasks(name) if task.entry == "stuff-cools")


@pytest.mark.parametrize("name", NAMES)
def test_each_coat_of_a_panel_keeps_the_damping_and_the_wait_of_the_one_below(name: str) -> None:
    for work in example(name).facts.views("work"):
        coats = [coat for coat in work.inside("coat") if coat.day("panel_coat_date") is not None]
        for below, above in pairwise(coats):
            first, then = below.day("panel_coat_date"), above.day("panel_coat_date")
            least = max(below.number("panel_coat_damp_days") or 0, below.number("wait_days") or 0)
            assert first is not None
            assert then is not None
            assert (then - first).days >= least > 0
            assert f"{below.spoken('panel_coat_date')}, for {below.spoken('panel_coat_damp_days')}" in log(name)


def test_fillings_over_washers_are_lime_with_its_first_day_and_its_mixes_on_the_line() -> None:
    made = example("mill-house")
    work = made.facts.at_scope(("chamber-ceiling", "refix"))
    fill = task(made.programme, "chamber-ceiling/refix/refix-fill")
    assert (work.day("lime_start_date"), work.day("lime_finish_date")) == (fill.start, fill.finish)
    (line,) = (
        item for section in made.measured.sections for item in section.items if item.entry.id == "refix.from-below"
    )
    mixes = {
        coat.text("coat"): coat.text("mix_used")
        for coat in made.facts.at_scope(("chamber-ceiling", "plaster")).inside("coat")
    }
    assert line.mix == f"{mixes['float']}, {mixes['setting']}"


def test_the_rest_is_taken_off_when_its_trial_has_been_looked_at_again_and_the_sheet_tells_that_day() -> None:
    made = example("mill-house")
    trial, off = (task(made.programme, f"rear/take-off/{key}") for key in ("trial", "take-off"))
    assert (off.start - trial.finish).days > 14
    assert made.facts.at_scope(("rear", "take-off")).day("rest_start_date") == off.start
    told = re.escape(month_day_short(off.start))
    assert re.search(rf"^After its trial, from \| {told} \|", sheet_of("mill-house", ("rear",)), re.M)
    released = "again 2 weeks after its trial, and only then releases the rest in writing"
    assert released in specification("mill-house")


def test_a_cure_by_others_is_dated_with_the_last_day_that_moves_nothing() -> None:
    made = example("toll-house")
    (here,) = (wall for wall in made.facts.views("element") if wall.text("causes_cured") == "by-others")
    proved, last = here.day("cured_proved_date"), here.day("cured_by_date")
    assert proved is not None
    assert last is not None
    assert proved <= last
    dates = (
        f"Cure by others proved | {here.spoken('cured_proved_date')}\nat the latest | {here.spoken('cured_by_date')}\n"
    )
    assert dates in sheet_of("toll-house", here.path)


def test_what_goes_on_after_completion_is_insured_kept_warm_and_barred_and_completion_does_not_wait() -> None:
    for name, ceiling in (("winter-plaster", False), ("mill-house", True)):
        found = re.sub(r"\s+", " ", specification(name))
        made = example(name)
        tapped = [work.day("tapped_from_date") for work in made.facts.views("work")]
        assert made.programme.completion is not None
        if not ceiling:
            assert any(day > made.programme.completion for day in tapped if day is not None)  # so it matters
        assert "Completion does not wait for those weeks." in found
        assert "to completion, and after it whenever people, access or heaters of the contractor are there:" in found
        assert "until the specifier releases the work in it, past completion too." in found
        assert ("until the finish is 4 weeks old, past completion too." in found) is ceiling
    assert "after completion, which does not wait, where the month runs past it" in specification("mill-house")


@pytest.mark.parametrize("name", NAMES)
def test_barred_dates_and_shut_houses_do_not_stop_what_keeps_new_lime(name: str) -> None:
    kept = (
        "Care of new lime goes on outside these hours, every day: damp, covers, warmth, air, scouring, closing cracks, "
        "readings"
    )
    assert f"{kept}; whoever holds keys lets in those who do it." in specification(name)


def test_no_last_day_serves_frost_where_all_is_indoors() -> None:
    assert "its tabled day, which serves completion. Past it go on:" in specification("winter-plaster")
    for name in NAMES:
        assert ("completion and frost alike" in specification(name)) is (name != "winter-plaster")


@pytest.mark.parametrize("name", NAMES)
def test_the_slowest_run_ends_after_the_winter_where_lime_outside_would_run_past_its_season(name: str) -> None:
    made = example(name)
    assert made.programme.runs is not None
    late = made.programme.runs.late
    stops = bool(made.programme.runs.stopped.first)
    assert stops is (name == "mill-house")
    assert not any(short.kind == "season" for short in late.short)
    day = made.facts.spoken(PROJECT, "programme_late_end_date")
    told = f"on {day} with the slowest, where lime outside stops before frost and goes on in spring."
    assert (told in specification(name)) is stops
    assert (f"on {day} with the slowest." in specification(name)) is not stops


@pytest.mark.parametrize("name", NAMES)
def test_an_output_answered_for_joints_is_told_once_and_what_is_counted_besides_has_its_own(name: str) -> None:
    made = example(name)
    table = specification(name).partition("[table] Outputs ")[2].partition("[table]")[0]
    answered = [work for work in made.facts.views("work") if work.number("output_m2_per_day")]
    assert len(re.findall("(?m)^raking and filling[^|]*[|] gang: [^|]*[|]", table)) == len(answered)
    for part in (part for done in made.programme.tasks() for part in done.why.joined):
        if part.quantity != "treated_area_m2":
            label = made.facts.names[part.quantity].label
            assert f"counted besides: {label[:1].lower()}{label[1:]}" in table


def test_the_look_that_ends_defects_comes_after_a_whole_winter_in_its_clause_and_in_the_line_that_pays_it() -> None:
    library = example("winter-plaster").library
    assert "through one whole winter" in library.clauses["completion.defects"].text
    # completed in March: the spring of that year would end the look before the winter that it is for
    assert "in the spring after the first whole winter" in library.items["prelims.defects"].description


@pytest.mark.parametrize("key", ["plaster.decoration", "plaster.decoration-salty"])
def test_paint_waits_for_its_weeks_and_the_release_of_the_room_does_not(key: str) -> None:
    library = example("winter-plaster").library
    text = library.clauses[key].text
    assert re.search(
        r"before the specifier has released it, nor sooner than \{\{ \w+_weeks \}\} after the finish", text
    )
    assert re.search(r"\d weeks after its last coat", library.hold_points["plaster-tapped"].what)


@pytest.mark.parametrize("room", ["dining-room", "chamber-ceiling"])
def test_a_room_worked_as_holding_lead_is_given_back_on_wipe_tests_after_its_last_clean_and_has_a_day_for_them(
    room: str,
) -> None:
    made = example("mill-house")
    held = [told.entry.holds for told in all_steps(made, (room,))]
    assert held.index(("strike",)) < held.index(("wiped",))
    wiped = task(made.programme, f"{room}/wiped")
    own = [one for one in tasks("mill-house") if one.place == wiped.place and one.kind in (*DONE, "damp")]
    assert max(one.finish for one in own if one.id != wiped.id) < wiped.start
    assert "Wipe tests of each room worked as holding lead" in specification("mill-house")


def test_a_room_worked_from_the_floor_ends_with_its_salts_brushed_off_again_a_last_look_and_its_tests() -> None:
    made = example("mill-house")
    damp, salts, looked, wiped = (
        task(made.programme, f"dining-room/{key}")
        for key in ("plaster/setting/damp", "salts-again", "room-passed", "wiped")
    )
    assert damp.finish <= salts.start
    assert (salts.finish - damp.finish).days >= 7
    assert salts.finish <= looked.start <= looked.finish < wiped.start
    assert looked.hold == "strike"
    assert made.facts.at_scope(("dining-room",)).day("room_back_date") == wiped.finish
    assert (room := made.facts.at_scope(("chamber-ceiling",)).day("room_back_date")) is not None
    assert room > task(made.programme, "chamber-ceiling/access-down").finish
