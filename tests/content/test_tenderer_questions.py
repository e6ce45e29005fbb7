"""What the tenderers of a big example would have to ask stands answered in its papers, the same in each of them."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path
from typing import Final

import pytest
from answers_text import one_wall
from jobs import EXAMPLES, example, job
from told_papers import companion, specification

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.questionnaire.scopes import PROJECT
from generator.values import plain

BIG: Final = "mill-house"


def test_layers_of_a_flaunching_are_told_as_one_days_work_wherever_they_are_told() -> None:
    found = example(BIG)
    (work,) = [view for view in found.facts.views("work") if view.text("work") == "flaunching"]
    (coat,) = work.inside("coat")
    (made,) = [lime for wall in found.programme.walls for lime in wall.lime if lime.path == coat.path]
    assert made.first == made.last
    clause = specification(BIG).partition("Laying flaunching\n")[2].partition("\nCheck:")[0]
    layer = coat.spoken("layer_mm")
    assert [
        words for words in ("all in one day", f"in layers of {layer} or less", "at once") if words not in clause
    ] == []
    assert f"layers of {layer} at most" in specification(BIG)


def test_days_of_a_scaffold_have_an_output_that_is_told_and_the_least_that_they_are() -> None:
    rows = specification(BIG).partition("[table] Outputs that the days")[2].partition("\n[table]")[0]
    for task in example(BIG).programme.tasks():
        if task.kind == "access":
            least = f", from {task.why.least_days} days" if task.why.least_days > 1 else ""
            assert re.search(rf"^{task.label}(: [^|,]*)?{least}\b.* \| {task.why.people_nr}$", rows, re.M), task.key
            assert task.why.days.likely >= task.why.least_days


def test_a_stage_on_a_roof_says_what_carries_it_how_long_and_in_whose_price() -> None:
    clause = specification(BIG).partition("Stage on the roof\n")[2].partition("\nCheck:")[0]
    assert "bays of scaffold on the ground" in clause
    assert (
        "part of this access, stay as long as the stage, and serve besides any wall before which they stand" in clause
    )


def test_bank_holidays_between_start_and_completion_are_barred_and_nothing_is_done_on_them() -> None:
    found = example(BIG)
    project = found.facts.at_scope(PROJECT)
    start, finish = project.day("start_date"), project.day("finish_date")
    assert start is not None
    assert finish is not None
    # of England and Wales, by the Banking and Financial Dealings Act 1971: the last Mondays of May and of August
    days = [day for day in map(last_monday, (5, 8)) if start <= day <= finish]
    assert len(days) == 2
    barred = project.records("barred_dates")
    assert [day for day in days if not any(item.day("from") == day == item.day("to") for item in barred)] == []
    done = [task for task in found.programme.tasks() if task.kind in ("work", "hold", "access")]
    assert [task.key for task in done if {task.start, task.finish} & set(days)] == []


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_between_tenders_and_the_contract_are_two_weeks_and_between_that_and_the_first_sample_a_week(name: str) -> None:
    found = example(name)
    project, by = found.facts.at_scope(PROJECT), {order.thing: order.by for order in found.programme.orders}
    returned = project.day("tender_return_date")
    assert returned is not None
    assert by["award"] - returned >= timedelta(weeks=2)
    trades = ("scaffold", "fitter", "conductor")  # who come, and of whom no sample is lodged
    lodged = min(day for thing, day in by.items() if thing not in ("award", *trades)) - timedelta(weeks=2)
    assert lodged - by["award"] >= timedelta(days=7)


def stack(**answers: str) -> Job:
    """The job of a chimney stack that is pointed, one flue of it in use."""
    return job(one_wall(position="chimney", flues="some-live", access="roof-scaffold", height_m="9", **answers))


def test_carbon_monoxide_alarms_are_priced_by_the_number_of_rooms_where_that_is_answered() -> None:
    for counted, line, unit in (("4", "prelims.co-alarms", "nr"), ("not known", "prelims.co-alarms-uncounted", "item")):
        found = stack(alarm_rooms_nr=counted)
        (item,) = [item for item in found.measured.items() if item.entry.id.startswith("prelims.co-alarms")]
        assert (item.entry.id, item.entry.unit) == (line, unit)
        assert str(item.quantity) == (counted if unit == "nr" else "1")


def test_what_live_flues_serve_is_asked_told_on_the_sheet_and_given_by_other_means_where_a_house_needs_it() -> None:
    assert "its live flues serve" in specification(BIG)
    found = stack(flues_serve="[hot-water]")
    assert found.in_papers("safety.flues-serve")
    assert not stack(flues_serve="[fires]").in_papers("safety.flues-serve")
    dead = one_wall(
        position="chimney", flues="all-dead", access="roof-scaffold", height_m="9", flues_serve="[hot-water]"
    )
    assert not job(dead).in_papers("safety.flues-serve")
    assert "by other means" in outline(assemble(found).specification)


def test_gutters_say_what_they_are_and_those_that_are_renewed_are_ordered_in_time() -> None:
    found, text = example(BIG), specification(BIG)
    (work,) = [view for view in found.facts.views("work") if view.number("gutter_renewed_m")]
    assert work.text("gutter_kind").lower() in text.lower()
    (order,) = [order for order in found.programme.orders if order.thing == "gutters"]
    (task,) = [task for task in found.programme.tasks() if task.entry == "enable-gutters"]
    assert order.first_use == task.start
    assert f"{order.what} | {order.weeks.normalize()} weeks" in text
    none = job(one_wall(work="enabling", enabling_tasks="[gutters]", gutter_m="10", gutter_renewed_m="0"))
    assert [order for order in none.programme.orders if order.thing == "gutters"] == []


@pytest.mark.parametrize("name", ["mill-house", "toll-house"])
def test_every_sand_that_is_ordered_is_named_by_its_kind_and_size_where_sands_have_their_source(name: str) -> None:
    found = example(name)
    project = found.facts.at_scope(PROJECT)
    source, names = project.text("sand_source"), [item.text("name") for item in project.records("sands_on_offer")]
    offered = {name: name.split()[-1] for name in names}
    for line in found.measured.materials:
        if line.grain_mm is not None:
            told = offered.get(line.name, line.name.partition(",")[0])
            assert told in source, line.name
            assert line.name in offered or re.search(rf"0-{plain(line.grain_mm)}\b", source), line.name


def test_a_sample_that_sands_are_matched_on_is_told_with_its_wall_and_its_report() -> None:
    (sample,) = re.findall(r"matched on sample (\w+)", example(BIG).facts.at_scope(PROJECT).text("sand_source"))
    told = [wall.text("mortar_analysis") for wall in example(BIG).facts.views("element")]
    assert [each for each in told if f"sample {sample}" in each and "report" in each]


def test_where_quicklime_is_slaked_stands_in_a_clause_and_who_makes_mortar_is_in_no_gang() -> None:
    place = example(BIG).facts.at_scope(PROJECT).text("slaking_place")
    assert f"slake in one place alone: {place}." in specification(BIG)
    assert "others make mortar, serve and damp." in specification(BIG)


def test_an_old_face_is_mended_before_its_wash_in_a_line_of_its_own_and_only_new_render_is_washed_while_green() -> None:
    lines = {item.entry.id: item for item in example(BIG).measured.items()}
    assert lines["limewash.mending"].quantity == 3
    assert (lines["limewash.mending"].mix, lines["limewash.coats"].mix) == ("M5", "M7")
    sheet = specification(BIG).partition("# Sheet 4")[2].partition("# Sheet 5")[0]
    order = (
        "its causes are cured",
        "without a dark patch",
        "chalk the old face; mend that",
        "Lay M5",
        "wash what drinks",
    )
    places = [sheet.index(words) for words in order]
    assert places == sorted(places)
    rows = {line.split(" | ")[0]: line for line in specification(BIG).splitlines() if "thin coats, one a day" in line}
    number = re.search(r"^(\S+) Render that is limewashed$", specification(BIG), re.M)
    assert number
    told = {"on new plaster or render" in row: f" {number[1]}, " in row for row in rows.values()}
    assert told == {True: True, False: False}
    none = job(one_wall(work="limewash", old_coating="limewash", face_area_m2="20"))
    assert "rates.wash-mending" in {item.entry.id for item in none.measured.items()}


NAMED: Final = {"repoint": "repointing", "render": "lime render", "limewash": "limewash", "plaster": "plaster",
                "refix": "refixed", "flaunching": "flaunching"}  # fmt: skip


def test_a_consent_names_each_kind_of_work_that_puts_lime_on_a_protected_building() -> None:
    covers = example(BIG).facts.at_scope(PROJECT).text("consent_covers")
    works = {work.text("work") for work in example(BIG).facts.views("work")} - {"enabling", "remove"}
    assert [work for work in works if NAMED[work] not in covers] == []
    assert [paper for paper in (specification(BIG), companion(BIG, "officer")) if covers not in paper] == []


def test_a_consent_names_what_is_taken_off_or_mended_beside_it() -> None:
    covers = example(BIG).facts.at_scope(PROJECT).text("consent_covers")
    named = {"cement-render": "for cement", "lime-plaster": "loose or salty wall plaster"}
    taken = [work.text("removed") for work in example(BIG).facts.views("work") if work.text("work") == "remove"]
    assert len(taken) == 2
    assert [removed for removed in taken if named[removed] not in covers] == []
    assert any(work.text("work") == "enabling" for work in example(BIG).facts.views("work"))
    assert "gutters mended" in covers


def test_an_officer_reads_that_sound_lime_stays_and_not_that_sound_cement_does_which_its_line_has_off() -> None:
    told = companion(BIG, "officer")
    assert "sound lime, and what would take the face with it, stays." in told
    assert "what is sound, or would" not in told


def test_liners_hang_from_the_stage_alone_where_nothing_is_hung_on_the_stack() -> None:
    told = specification(BIG)
    assert "Tie and hang nothing on the stack." in told
    assert "hangs it from the stage or a bar that it carries." in told


def test_an_officer_reads_where_each_panel_is_and_when_it_is_answered() -> None:
    found = example(BIG)
    rows = companion(BIG, "officer").partition("# Extent, method")[2].splitlines()
    panels = [work for work in found.facts.views("work") if work.day("panel_answered_date")]
    assert len(panels) == 7
    for work in panels:
        told = f"| {work.spoken('panel_place')} | {work.spoken('panel_answered_date')}"
        wall, extent = found.facts.title(work.path[:1]), work.spoken("extent")
        assert [row for row in rows if row.startswith(wall) and extent in row and told in row], work.path


def last_monday(month: int) -> date:
    """The last Monday of a month of 31 days in 2027."""
    end = date(2027, month, 31)
    return end - timedelta(days=end.weekday())


def test_an_analysis_of_several_walls_is_told_in_a_sentence_and_not_as_a_field_of_a_form() -> None:
    assert "The old mortar has been analysed: by wall, as follows." in specification(BIG)
    assert "what is given below" not in specification(BIG)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_no_measure_of_an_example_in_metric_units_reads_as_inches(path: Path) -> None:
    """A figure without its unit before "in" is read as inches."""
    assert re.findall(r"\b\d+ in [a-z]+", path.read_text(encoding="utf-8")) == []
