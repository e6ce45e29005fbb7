"""Faults of dates that estimators met in papers of earlier kinds, each with the test that would have found it.

Durations without waits, one output for every work, access shorter than cover, panels before their season, a last
placing that the completion does not allow, frost spelt in one year alone, a law of the cold that nobody asked, and a
calendar that shows nothing of what follows the work.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import example, job
from timed_jobs import codes, keys, planned, scaffolded, surface, task, told
from told_papers import specification

from generator.files.errors import InputInvalid
from generator.job.job import Job

EXAMPLES = ("garden-front", "toll-house", "mill-house", "winter-plaster")
PLASTER = {"plaster_coats": "three", "plaster_surface": "floated", "dubbing_mm": "5", "cornice_m": "0"}
ROOM = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}


def schoolroom(finish: str) -> Job:
    """Three coats of plaster on four walls, from November."""
    plaster = surface("p", "plaster", **PLASTER, face_area_m2="96")
    dates = {"start_date": "2027-11-08", "finish_date": finish, "early_frost": None, "late_frost": None}
    return planned(wall(plaster, **ROOM), **dates)


def test_t1_waits_panels_and_holds_enter_and_what_cannot_be_done_by_its_completion_is_a_draft() -> None:
    short, long = schoolroom("2028-01-28"), schoolroom("2028-03-31")
    assert (short.status, long.status) == ("draft", "tender")
    setting = task(short.programme, "front/p/setting/lay").start
    assert setting > date(2028, 1, 28)  # the last coat alone would start after it
    assert "completion-passed" in codes(short)
    assert "completion-passed" not in codes(long)


def test_t2_each_kind_of_work_has_its_own_output_and_no_two_days_make_a_ceiling() -> None:
    wash = surface("w", "limewash", face_area_m2="78", wash_colour="white", old_coating="limewash", wash_coats_nr="5")
    washed = planned(wall(wash, wall_painting="none")).programme
    assert task(washed, "front/w/wash/wash").why.days.likely == 5  # and not 27 days
    ceiling = example("mill-house").programme
    laid = [task(ceiling, f"chamber-ceiling/plaster/{coat}/lay") for coat in ("pricking-up", "float", "setting")]
    assert laid[2].finish - laid[0].start >= timedelta(28)


def test_t3_access_stands_until_the_last_cover_is_over_and_fewer_weeks_answered_are_held_against_it() -> None:
    for name in EXAMPLES:
        for found in example(name).programme.walls:
            if found.access is not None:
                kept = [day for coat in found.lime for day in (coat.damp_until, coat.cover_until) if day is not None]
                assert found.access[1] > max(kept)
    large = work(face_area_m2="400")
    weeks = planned(scaffolded(large)).programme.walls[0].access_weeks
    assert weeks is not None
    assert weeks.early < weeks.likely
    numbers = (1, weeks.early, weeks.likely)
    least, some, all_ = (codes(planned(scaffolded(large, access_weeks=str(number)))) for number in numbers)
    assert "access-too-short" in least
    assert "access-tight" in some
    assert not all_ & {"access-too-short", "access-tight"}


def test_t3_the_line_for_hire_asks_for_the_weeks_reckoned() -> None:
    found = planned(scaffolded(access_weeks="1"))
    weeks = found.programme.walls[0].access_weeks
    assert weeks is not None
    hire = next(item for item in found.measured.items() if item.entry.id == "prelims.access-weeks")
    assert hire.quantity == weeks.likely


@pytest.mark.parametrize("name", EXAMPLES)
def test_t4_no_panel_is_made_before_its_season_and_none_answered_before_all_its_coats_have_waited(name: str) -> None:
    found = example(name).programme
    for item in found.tasks():
        if item.entry == "panel-coat" and found.frost is not None:
            here = example(name).facts.at_scope(item.path)
            if here.text("exposure_reckoned") != "internal":
                opens = date(item.start.year, found.frost.late.month, found.frost.late.day)
                assert item.start > opens


def test_t4_hair_and_putty_are_ordered_for_the_panel_that_is_made_with_them() -> None:
    found = example("mill-house").programme
    haired = ("dining-room/plaster/scratch/panel-coat", "chamber-ceiling/plaster/pricking-up/panel-coat")
    panel = min(task(found, key).start for key in haired)
    by = {order.thing: order for order in found.orders}
    assert by["hair"].first_use == panel
    assert by["putty"].first_use <= panel
    assert all(order.by < order.first_use for order in found.orders)
    assert "panel" not in by  # it is in the programme with its own days


def test_t5_the_day_to_place_by_is_the_earlier_of_frost_and_completion() -> None:
    (coat,) = example("garden-front").programme.walls[0].lime
    assert coat.season_last is not None
    assert coat.place_by is not None
    assert coat.place_by < date(2027, 7, 16) < coat.season_last
    assert coat.place_limit == "completion"
    free = planned(wall(), finish_date=None).programme.walls[0].lime[0]
    assert free.place_limit == "season"
    assert free.place_by == date(2027, 8, 20)  # frost on 20 October less 60 days is Saturday 21 August: Friday 20


@pytest.mark.parametrize(("early", "late"), [("2027-10-15", "2027-05-05"), ("2028-10-15", "2026-05-05")])
def test_t6_frost_comes_back_every_year_however_it_is_spelt(early: str, late: str) -> None:
    spelt = {"early_frost": early, "late_frost": late}
    november = planned(wall(), start_date="2027-11-08", finish_date="2028-01-28", **spelt)
    assert "last-placing-passed" in codes(november)
    assert november.status == "draft"
    summer = planned(wall(), **spelt)
    assert summer.status == "tender"


def test_t6_truthful_dates_across_new_year_are_no_contradiction() -> None:
    plaster = surface("p", "plaster", **PLASTER)
    over = {"start_date": "2027-11-08", "finish_date": "2028-03-31", "early_frost": "10-15", "late_frost": "05-05"}
    assert "dates-contradict" not in codes(planned(wall(plaster, **ROOM), **over))


def test_t6_a_job_that_is_all_indoors_needs_no_frost() -> None:
    assert schoolroom("2028-03-31").status == "tender"
    outside = job(one_wall(early_frost=None, late_frost=None))
    assert outside.status == "draft"


def test_t7_the_cold_moves_the_last_placing_of_what_is_told_for_20_c_and_of_nothing_else() -> None:
    def last(binder: str, means: str) -> date | None:
        found = job(one_wall(asked_binder=binder, hardness="hard", month_means_c=means, exposure="sheltered"))
        return found.programme.walls[0].lime[0].season_last

    warm, cold = ", ".join(["20"] * 12), ", ".join(["10"] * 12)
    hydraulic = last("nhl-3.5", warm), last("nhl-3.5", cold)
    assert hydraulic == (date(2027, 9, 29), date(2027, 9, 7))  # 20 October less 21 days, and less 43 (10 C: V17)
    assert last("putty", warm) == last("putty", cold)


def test_t8_start_completion_curing_and_cover_are_all_there_for_a_picture() -> None:
    found = example("mill-house").programme
    kinds = {item.kind for item in found.tasks()}
    assert {"work", "wait", "hold", "damp", "cover", "access"} <= kinds
    assert (found.start, found.completion) == (date(2027, 5, 17), date(2027, 10, 29))
    assert found.frost is not None
    assert any(item.decides for item in found.tasks())
    assert found.in_hand_days is not None


def test_a_front_done_in_june_carries_no_scaffold_for_a_frost_that_cannot_come() -> None:
    found = planned(scaffolded()).programme.walls[0]
    (coat,) = found.lime
    tender = planned(scaffolded()).facts.at_scope(coat.path).number("frost_cover_days")
    assert tender is not None
    assert coat.cover_until is not None
    assert (coat.cover_until - coat.last).days < tender


def test_late_in_the_season_the_same_front_is_covered_while_frost_can_come() -> None:
    # laid on its last safe day it needs no cover against frost; a day later the set is a draft
    found = planned(scaffolded(), start_date="2027-07-05", finish_date="2027-12-17")
    coat = found.programme.walls[0].lime[0]
    assert coat.season_last is not None
    assert coat.last <= coat.season_last
    assert found.status == "tender"


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_examples_can_be_built_in_their_dates(name: str) -> None:
    found = example(name)
    assert found.status == "tender"
    assert found.programme.end is not None
    assert found.programme.completion is not None
    assert found.programme.end.likely <= found.programme.completion


def test_what_cannot_be_done_says_the_chain_the_dates_and_each_way_out_with_its_effect() -> None:
    words = told(schoolroom("2028-01-28"), "completion-passed")
    dates = ("28 January 2028", "8 November 2027", "float coat to")
    ways = ("Start on", "Twice the people", "Agree a completion")
    assert [wanted for wanted in (*dates, *ways) if wanted not in words] == []


def test_the_way_out_that_is_told_is_true() -> None:
    short = schoolroom("2028-01-28")
    started = told(short, "completion-passed").split("Start on ")[1].split(" at the latest")[0]
    day, month, year = started.split()
    months = {"September": 9, "October": 10, "November": 11}
    plaster = surface("p", "plaster", **PLASTER, face_area_m2="96")
    earlier = date(int(year), months[month], int(day)).isoformat()
    dates = {"start_date": earlier, "finish_date": "2028-01-28", "early_frost": None, "late_frost": None}
    assert planned(wall(plaster, **ROOM), **dates).status == "tender"


def test_work_that_waits_for_spring_is_not_begun_in_autumn() -> None:
    indoors = wall(surface("p", "plaster", **PLASTER), id_="room", name="Room", **ROOM)
    both = planned(scaffolded(), indoors, start_date="2027-09-20", finish_date="2028-09-29").programme
    up = task(both, "front/access-up").start
    assert up >= date(2028, 4, 20)
    weeks = next(item.access_weeks for item in both.walls if item.path == ("front",))
    assert weeks is not None
    assert weeks.likely < 15
    assert task(both, "room/p/scratch/panel-coat").start < date(2027, 10, 30)


def test_a_gang_of_none_and_days_without_a_day_end_in_a_finding_and_in_no_loop() -> None:
    barred = "[{from: 1990-01-01, to: 2080-01-01, reason: closed}]"
    closed = planned(scaffolded(), barred_dates=barred)
    alone = planned(scaffolded(), gangs="[{trade: masonry, people_nr: 0}]")
    assert [found.status for found in (closed, alone)] == ["draft", "draft"]
    assert [found.programme.end for found in (closed, alone)] == [None, None]
    assert "no-day-to-work" in codes(closed)
    assert "gang-of-none" in codes(alone)


def test_a_wait_of_a_thousand_days_is_refused_as_it_is_read_and_a_thousand_barred_days_end_in_a_finding() -> None:
    with pytest.raises(InputInvalid, match="'answer_days' cannot be '1000': the most is 60 days"):
        planned(wall(), answer_days="1000")
    long = planned(wall(), barred_dates="[{from: 2027-05-12, to: 2030-02-05, reason: closed}]")
    assert long.status == "draft"
    assert "2030" in told(long, "last-placing-passed")


def test_dates_the_wrong_way_round_are_told_once_and_the_works_are_still_reckoned() -> None:
    found = planned(wall(), start_date="2027-08-02", finish_date="2027-05-10")
    assert "dates-contradict" in codes(found)
    assert "completion-passed" not in codes(found)
    assert found.programme.end is not None


def test_names_that_dates_had_before_are_read_and_said() -> None:
    spelt = {"early_frost_date": "2027-10-20", "late_frost_date": "2027-05-01"}
    old = answers(wall(), early_frost=None, late_frost=None, **spelt)
    assert codes(job(old)) >= {"read-every-year"}
    assert job(old).programme.frost == planned(wall()).programme.frost


def test_every_task_that_lays_lime_waits_for_what_comes_before_it_on_its_wall() -> None:
    found = planned(scaffolded(work())).programme
    assert len(keys(found)) == len(set(keys(found)))
    for item in found.tasks():
        for before in item.after:
            assert found.by_id[before].finish <= item.start


def test_the_contract_is_let_before_anything_is_ordered_and_samples_before_what_they_stand_for() -> None:
    by = {order.thing: order for order in example("mill-house").programme.orders}
    award = by["award"].by
    assert all(award < order.by for thing, order in by.items() if thing != "award")
    assert (by["laths"].by - award).days >= 21  # samples are lodged two weeks before; a week to get them
    assert {"lime", "quicklime"} <= set(by)


@pytest.mark.parametrize("name", ["garden-front", "winter-plaster", "toll-house"])
def test_sand_is_ordered_no_sooner_than_its_sample_can_be_lodged_by_whoever_has_the_contract(name: str) -> None:
    by = {order.thing: order for order in example(name).programme.orders}
    assert (by["special-sand"].by - by["award"].by).days >= 21  # lodged two weeks before its order; a week to get it


def test_the_outputs_and_gangs_that_days_are_reckoned_with_are_printed() -> None:
    text = specification("toll-house")
    (table,) = re.findall(r"\[table\] Outputs that the days.*?\n(.*?)\n\[table\]", text, re.S)
    assert "6.5 m² | 4–12 m² | 2\n" in table
    assert table.count("raking and filling: Rubble gable | gang: 2.5 m²") == 1
    # every operation that is reckoned by its output has a line
    timed = [item for item in example("toll-house").programme.tasks() if item.kind in ("work", "access")]
    labels = {item.label for item in timed if item.why.output}
    assert [label for label in labels if label not in table] == []


def test_gangs_at_work_at_once_are_told_once_and_each_output_by_the_one_gang_that_is_on_a_wall() -> None:
    made = example("mill-house")
    text = specification("mill-house")
    assert text.count("one of a trade on a wall: 2 of masons, 1 of ") == 1
    assert not re.findall(r"[0-9] × [0-9]+\n", text)
    (table,) = re.findall(r"\[table\] Outputs that the days.*?\n(.*?)\n\[table\]", text, re.S)
    for item in made.programme.tasks():
        why = item.why
        timed = why.output is not None and item.kind in ("work", "access") and not why.answered
        if timed and why.amount is not None and why.output is not None:
            rows = [row.split(" | ") for row in table.splitlines()]
            (people,) = {row[-1] for row in rows if any(one.startswith(item.label) for one in row[0].split("; "))}
            assert why.days.likely >= why.amount.likely / (why.output.likely * int(people)) - 0.01, item.key


def test_a_wash_is_drawn_with_a_palm_a_month_after_its_last_coat_and_the_day_stands_on_its_sheet() -> None:
    found = example("mill-house")
    work = found.facts.at_scope(("rear", "limewash"))
    last, drawn = work.day("lime_finish_date"), work.day("wash_held_date")
    assert last is not None
    assert drawn is not None
    assert (drawn - last).days == 30
    (row,) = [line for line in specification("mill-house").splitlines() if line.startswith("Hold: palm from |")]
    assert row.endswith(f"{drawn.day}\N{NO-BREAK SPACE}{drawn:%b}")


def test_new_plaster_is_tapped_four_weeks_after_its_last_coat_and_the_day_stands_on_its_sheet() -> None:
    found = example("winter-plaster")
    work = found.facts.at_scope(("schoolroom", "plaster"))
    last, tapped = work.day("lime_finish_date"), work.day("tapped_from_date")
    assert last is not None
    assert tapped is not None
    assert (tapped - last).days == 28
    assert work.spoken("tapped_from_date") in specification("winter-plaster")
    assert "All new plaster tapped" in specification("winter-plaster")


def test_what_decides_and_what_helps_is_told_once_however_few_works_are_late() -> None:
    """Three works of two walls gave the same three hundred words three times, beside those of the completion."""
    rows = (wall(id_=id_, name=id_) for id_ in ("front", "back"))
    found = planned(*rows, start_date="2027-10-11", finish_date="2027-12-20")
    late = [item.code for item in found.findings if item.code in {"seasons-passed", "last-placing-passed"}]
    assert late == ["seasons-passed"]
    here = [item for item in found.findings if item.code == "season-passed-here"]
    assert {item.scope[0] for item in here} == {"front", "back"}
    assert not [item for item in here if "What decides" in item.message]
