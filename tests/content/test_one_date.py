"""One figure from one value: the dates and days of the examples, held against one another across all papers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from typing import Final

import pytest
from answers_text import answers
from answers_text import wall as answered
from jobs import EXAMPLES, example, job
from timed_jobs import planned, scaffolded, surface
from told_papers import log, papers, sheet_of, specification

from generator.document.model import Paragraph, plain_text
from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.programme.model import Lime, Wall
from generator.questionnaire.facts import View
from generator.values import month_day_short

TABLED = "[table] Panels, work and curing of each work"
NAMES = [path.parent.name for path in EXAMPLES]


def walls(name: str) -> Iterator[tuple[Job, Wall]]:
    yield from ((example(name), wall) for wall in example(name).programme.walls)


def coats(name: str) -> Iterator[tuple[Job, Lime]]:
    yield from ((made, coat) for made, wall in walls(name) for coat in wall.lime)


@pytest.mark.parametrize("name", NAMES)
def test_days_damp_and_covered_are_the_same_on_sheet_card_and_log(name: str) -> None:
    cards = {card.ref: " ".join(map(plain_text, card.facts)) for card in papers(name).sheet.cards}
    for made, coat in coats(name):
        here = made.facts.at_scope(coat.path)
        damp, covered = here.spoken("kept_damp_days"), here.spoken("kept_covered_days")
        assert f"damp for {damp} from its laying, to {here.spoken('damp_until_date')}" in log(name)
        told = re.findall(r"damp (.*?days)", cards[here.text("mix_used")])
        assert damp in told[0].replace(" / ", " days / ")
        if covered:
            assert f"covered for {covered}, to {here.spoken('cover_until_date')}" in log(name)
            assert covered.split()[0] in re.findall(r"off (.*?days)", cards[here.text("mix_used")])[0]


LAST: Final = ("last_start_date", "last_placing_date", "damp_until_date", "cover_until_date")


def last_coats(made: Job, wall: Wall) -> Iterator[View]:
    """The last coat of each work of a wall, or the work where it has none."""
    for work in made.facts.at_scope(wall.path).inside("work"):
        yield (work.inside("coat") or [work])[-1]


def last_days(made: Job, wall: Wall) -> Iterator[list[str]]:
    """The last start, the last placing and the ends of damping and cover of each work of a wall."""
    yield from ([last.spoken(date_name) for date_name in LAST] for last in last_coats(made, wall))


def on_sheet(made: Job, sheet: str, day: date) -> str:
    """A day as a sheet tells it: without its year where its works have one table of dates, which the year heads."""
    short = f"Dates {day.year}\n" in sheet
    return month_day_short(day) if short else made.facts.say("start_date", day)


@pytest.mark.parametrize("name", NAMES)
def test_the_dates_of_a_wall_stand_on_its_own_sheet_as_they_were_reckoned_and_in_no_table_besides(name: str) -> None:
    for made, wall in walls(name):
        sheet = sheet_of(name, wall.path)
        last = [day for coat in last_coats(made, wall) for day in map(coat.day, LAST) if day is not None]
        assert last
        days = [*last, *(day for span in wall.limed.values() for day in span)]
        assert [day for day in days if on_sheet(made, sheet, day) not in sheet] == []
    assert TABLED not in specification(name)


def test_the_dates_of_walls_that_share_a_sheet_stand_in_a_table_as_they_were_reckoned() -> None:
    made = job(answers(answered(id_="a", name="East wall"), answered(id_="b", name="West wall")))
    rows = outline(assemble(made).specification).partition(TABLED)[2].splitlines()
    told = {title: next(row for row in rows if row.startswith(title)) for title in ("East wall", "West wall")}
    for front in made.programme.walls:
        (said,) = last_days(made, front)
        assert [day for day in said if day not in told[made.facts.title(front.path)]] == []


@pytest.mark.parametrize("name", NAMES)
def test_what_comes_after_what_holds_between_any_two_dates(name: str) -> None:
    found = example(name).programme
    assert found.completion is not None
    for made, wall in walls(name):
        for work in made.facts.at_scope(wall.path).inside("work"):
            begins, last = work.day("work_start_date"), work.day("last_start_date")
            if begins is not None and last is not None:
                assert begins <= last <= found.completion
        for coat in wall.lime:
            assert coat.damp_until is not None
            kept = coat.cover_until or coat.damp_until
            placed = coat.place_by or date.max
            assert coat.first <= coat.last <= placed <= found.completion
            assert coat.last < coat.damp_until <= kept
            assert wall.access is None or kept <= wall.access[1]
            assert kept <= found.completion
        assert wall.access is None or wall.access[1] <= found.completion


@pytest.mark.parametrize("name", NAMES)
def test_hire_is_asked_for_as_many_weeks_as_the_dates_of_access_on_the_sheet_say(name: str) -> None:
    lines = {item.path: item for item in example(name).measured.items() if item.entry.id == "prelims.access-weeks"}
    for made, wall in walls(name):
        if wall.access is None or wall.access_weeks is None:
            continue
        up, down = wall.access
        raised = max(task.finish for task in wall.tasks if task.entry == "access-up")
        assert up <= raised
        assert max(1, -(-(down - raised).days // 7)) == wall.access_weeks.likely == lines[wall.path].quantity
        sheet = sheet_of(name, wall.path)
        assert re.search(rf"^Access from \| {on_sheet(made, sheet, up)}\b", sheet, re.M)
        assert re.search(rf"^Access down \|.* {on_sheet(made, sheet, down)}\b", sheet, re.M)


@pytest.mark.parametrize("name", NAMES)
def test_no_thing_is_ordered_after_its_first_use_and_none_is_first_used_before_the_start(name: str) -> None:
    found = example(name).programme
    assert found.start is not None
    assert [order.what for order in found.orders if not order.by < order.first_use] == []
    used = [order for order in found.orders if order.thing != "award"]  # what comes after that is the first order
    assert [order.what for order in used if order.first_use < found.start] == []


@pytest.mark.parametrize("name", NAMES)
def test_the_step_of_a_coat_gives_the_days_damp_of_clause_card_and_log_and_the_next_coat_waits_for_them(
    name: str,
) -> None:
    for made, wall in walls(name):
        for work in made.facts.at_scope(wall.path).inside("work"):
            coats_of = {coat.path: coat for coat in wall.lime if coat.path[:2] == work.path}
            laid = [(here, coats_of[here.path]) for here in work.inside("coat") if here.path in coats_of]
            for (here, below), (_, above) in pairwise(laid):
                if here.text("coat") in ("pricking-up", "scratch", "float", "render-base"):
                    damp = here.spoken("kept_damp_days")
                    wait = rf"next coat {here.spoken('next_coat_days')} from laying"
                    assert re.search(rf"\bHold: (?:damp|moist) {damp}; {wait}", sheet_of(name, wall.path))
                    assert below.damp_until is not None
                    assert above.first >= below.damp_until


@pytest.mark.parametrize("name", NAMES)
def test_days_are_counted_from_the_laying_in_every_paper(name: str) -> None:
    cards = " ".join(plain_text(fact) for card in papers(name).sheet.cards for fact in card.facts)
    assert [said for said in (specification(name), log(name), cards) if "from placing" in said] == []
    assert "from its laying" in log(name)
    assert "damping: misting new lime so that it does not dry; its days" in specification(name)


@pytest.mark.parametrize("name", NAMES)
def test_a_panel_is_kept_damp_for_the_days_that_its_clause_prints(name: str) -> None:
    made = example(name)
    kept = [task for task in made.programme.tasks() if task.entry == "panel-damp"]
    assert kept
    for task in kept:
        work = made.facts.at_scope(task.path[:2])
        told = work.span("panel_damp_days")
        assert told is not None
        assert told.low <= (task.finish - task.start).days <= told.high
        days, title = work.spoken("panel_damp_days"), re.escape(made.facts.title(task.path[:1]))
        clause = rf"^(?:Keep each coat of the panel damp for {days},.*|.*{title}.*\| {days})$"
        assert re.search(clause, specification(name), re.M)


def test_coats_of_a_panel_that_are_damped_for_other_days_are_told_from_the_least_to_the_most() -> None:
    render = surface("coat", "render", render_kind="flat", dubbing_mm="0", asked_binder="nhl-3.5")
    made = planned(scaffolded(render, exposure="severe"), start_date="2027-04-19", finish_date="2027-12-20")
    work = made.facts.at_scope(("front", "coat"))
    each = [coat.spoken("panel_coat_damp_days") for coat in work.inside("coat")]
    assert each == ["24 days", "20 days"]
    assert work.spoken("panel_damp_days") == "20–24 days"
    blocks = made.filling.merged("approvals.panels", "text", [work.path])
    clause = " ".join(plain_text(block.content) for block in blocks if isinstance(block, Paragraph))
    assert "Keep each coat of the panel damp for 20–24 days, those of its own month." in clause


def test_the_days_without_fire_of_the_clause_lead_from_the_last_mortar_to_the_day_on_the_sheet() -> None:
    made, wall = next((made, wall) for made, wall in walls("mill-house") if wall.path == ("stack",))
    told = re.findall(
        r"from the first joint opened until (\d+) days after the last mortar", specification("mill-house")
    )
    last, fires = wall.last_lime, made.facts.at_scope(wall.path).day("fires_from_date")
    assert last is not None
    assert fires is not None
    assert [int(days) for days in told] == [(fires - last).days]
    sheet = sheet_of("mill-house", wall.path)
    assert re.search(rf"^Fires from \|.* {on_sheet(made, sheet, fires)}\b", sheet, re.M)


@pytest.mark.parametrize("name", NAMES)
def test_the_log_begins_with_the_panel_and_with_the_first_lime_of_each_work(name: str) -> None:
    for made, wall in walls(name):
        for work in made.facts.at_scope(wall.path).inside("work"):
            laid = [coat.day("placing_start_date") for coat in work.inside("coat") if coat.number("kept_damp_days")]
            first = work.day("lime_start_date")
            if not laid or first is None or laid[0] is None:
                continue
            if first < laid[0]:
                assert f"bedding from {work.spoken('lime_start_date')}" in log(name)
            if work.span("panel_damp_days"):
                days, day = work.spoken("panel_damp_days"), work.spoken("panel_made_date")
                each = [coat for coat in work.inside("coat") if coat.number("panel_coat_damp_days")]
                told = (
                    f"{made.facts.scopes[coat.path].title} {coat.spoken('panel_coat_date')}, "
                    f"for {coat.spoken('panel_coat_damp_days')}"
                    for coat in each
                )
                one = f"Panel, made {day}, damp for {days} from its laying"
                if work.text("work") == "limewash" and (work.number("wash_coats_chosen_nr") or 1) > 1:
                    days_of = f"from {work.spoken('panel_begun_date')} to {day}"
                    one = f"Panel, its coats {days_of}, each misted next morning, the last damp for {days}"
                several = f"Panel, each coat damp from its laying: {', '.join(told)}"
                assert (one if len(each) == 1 else several) in log(name)


def test_the_log_of_a_wash_begins_with_the_first_coat_of_its_panel() -> None:
    made = example("mill-house")
    (panel,) = (task for task in made.programme.tasks() if task.entry == "panel-wash")
    first, last = (made.facts.say("finish_date", day) for day in (panel.start, panel.finish))
    assert f"Panel, its coats from {first} to {last}, each misted next morning" in log("mill-house")
