"""A slow run that would pass the season of its lime: what waits for spring, what follows it, and what goes on."""

from __future__ import annotations

import re
from datetime import date

import pytest
from answers_text import wall
from jobs import example
from timed_jobs import planned, told
from timed_walls import START, K, after

from generator.lime.season import FrostSeason, PlacingSeason
from generator.papers.programme_figure import programme_chart
from generator.programme.effects import runs
from generator.programme.network import Activity, Id, Network, Wait, Work
from generator.programme.schedule import Schedule
from generator.programme.winters import Stopped, held_to_spring
from generator.values import MonthDay, Range

OUTSIDE = PlacingSeason(FrostSeason(MonthDay(10, 19), MonthDay(4, 15)), 42)  # to 7 September
OPENS = date(2028, 4, 17)  # the first worked day after 15 April


def worked(id: Id, days: float | Range[float], *before: Id, gang: str = "masonry", outside: bool = False) -> Activity:
    return Activity(id, Work(days, K, OUTSIDE if outside else None), after(*before), gang, id[0] if gang else "")


def held(*activities: Activity) -> tuple[Schedule, Schedule, Stopped]:
    """The likely run and the late one as it is held, with what is stopped in it."""
    found = runs(Network(activities), START)
    assert found.likely.short == ()
    late, stopped = held_to_spring(found.late)
    return found.likely, late, stopped


SLOW = worked(("P", "prepare"), Range(5.0, 5.0, 100.0))
POINT = worked(("N", "point"), 5, ("P", "prepare"), outside=True)


def test_lime_that_misses_its_season_waits_for_spring_with_what_follows_it_and_the_gang_goes_on_indoors() -> None:
    cured = Activity(("F", "cured"), Wait(14), after(("N", "point")), place="F")
    inside = worked(("S", "plaster"), 5, ("P", "prepare"))
    likely, late, stopped = held(SLOW, POINT, cured, inside)
    assert likely.dates.finish(("N", "point")) < likely.dates.start(("S", "plaster"))  # so its order would wait
    assert late.dates.start(("N", "point")) == OPENS
    assert late.dates.finish(("F", "cured")) == date(2028, 5, 5)
    assert late.dates.finish(("S", "plaster")) < date(2027, 11, 1)
    assert [(short.id, short.limit) for short in stopped.first] == [(("N", "point"), date(2027, 9, 7))]
    assert stopped.walls == {"N": date(2027, 9, 7), "F": date(2027, 9, 7)}
    assert late.short == ()


def test_lime_that_would_be_begun_in_its_season_and_not_ended_in_it_waits_whole() -> None:
    _, late, stopped = held(worked(("N", "point"), Range(5.0, 5.0, 95.0), outside=True))
    assert late.dates.start(("N", "point")) == OPENS
    assert late.dates.finish(("N", "point")) < date(2028, 9, 7)
    assert [short.id for short in stopped.first] == [("N", "point")]


def test_what_comes_after_stopped_lime_and_misses_its_own_season_is_not_told_besides() -> None:
    second = worked(("N", "finish"), 5, ("N", "point"), outside=True)
    _, late, stopped = held(SLOW, POINT, second)
    assert [short.id for short in stopped.first] == [("N", "point")]
    assert late.dates.start(("N", "finish")) > late.dates.finish(("N", "point"))


def test_a_wall_that_has_to_wait_for_stopped_lime_is_not_opened_before_spring_either() -> None:
    opened = worked(("W", "rake"), 3, gang="others")
    own = worked(("W", "point"), 3, ("W", "rake"), ("N", "point"), outside=True)
    likely, late, stopped = held(SLOW, POINT, opened, own)
    assert likely.dates.start(("W", "rake")) == START
    assert late.dates.start(("W", "rake")) > date(2028, 4, 1)
    assert set(stopped.walls) == {"N", "W"}


def test_a_late_run_within_its_seasons_is_left_as_it_is() -> None:
    found = runs(Network((worked(("N", "point"), 5, outside=True),)), START)
    assert held_to_spring(found.late) == (found.late, Stopped())


def test_a_job_that_passes_its_season_as_is_likely_holds_no_slower_run_to_spring() -> None:
    found = planned(wall(), start_date="2027-07-19", finish_date="2028-12-20").programme
    assert found.runs is not None
    assert any(short.kind == "season" for short in found.runs.late.short)
    assert found.runs.stopped == Stopped()


def test_the_finding_names_each_wall_that_frost_stops_with_its_last_day_and_when_the_works_then_end() -> None:
    made = example("mill-house")
    runs_, said = made.programme.runs, told(made, "late-run-waits")
    assert runs_ is not None
    assert runs_.late.end > date(2028, 5, 1)
    assert len(runs_.stopped.first) >= 2
    papers = {coat.path: coat.season_last for wall in made.programme.walls for coat in wall.lime}
    for short in runs_.stopped.first:
        last = papers[made.programme.by_id[short.id].path]
        assert last is not None
        assert last.weekday() < 5  # as the sheets have it: the last day worked, not the Saturday after it
        wall_ = made.facts.title(made.programme.by_id[short.id].place)
        after_days = (short.finish - last).days
        assert re.search(
            rf"{wall_}, .*?, {after_days} days after its last day, {made.facts.say('finish_date', last)}", said
        )
    assert made.facts.say("finish_date", runs_.late.end) in said
    assert not any(finding.code == "late-run-fails" for finding in made.findings)


def test_of_many_walls_that_frost_stops_the_first_are_named_and_the_others_counted() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(10)]
    dates = {"start_date": "2027-07-12", "finish_date": "2028-12-20"}
    said = told(planned(*walls, gangs="[{trade: masonry, gangs_nr: 10}]", **dates), "late-run-waits")
    assert said.count(" after its last day, 20 August 2027") == 8
    assert "; so too in 2 more places." in said


@pytest.mark.parametrize("name", ["mill-house", "toll-house"])
def test_walls_that_frost_stops_or_that_only_follow_one_are_drawn_as_going_on_after_the_winter(name: str) -> None:
    made = example(name)
    assert made.programme.runs is not None
    spring = date(2028, 5, 1)
    for planned_wall, drawn in zip(made.programme.walls, programme_chart(made).walls, strict=True):
        latest = max(task.latest_finish for task in planned_wall.tasks)
        assert drawn.ends is not None
        assert drawn.ends.goes_on is (latest > spring)
        assert drawn.ends.late < spring  # no picture of a year for a mark
    assert (made.programme.runs.late.end > spring) is (name == "mill-house")


def test_plants_are_cut_in_autumn_and_die_over_the_winter_for_which_their_wall_waits() -> None:
    rooted = {"decay_causes": "[plants]", "causes_cured": "in-this-work", "access": "scaffold"}
    dates = {"tender_return_date": "2027-09-03", "query_date": "2027-08-23", "finish_date": "2028-08-25"}
    found = planned(wall(**rooted), start_date="2027-10-11", **dates).programme
    by_entry = {item.entry: item for item in found.tasks()}
    assert by_entry["growth-cut"].start == date(2027, 10, 13)
    assert by_entry["access-up"].start > date(2028, 3, 1)
    assert by_entry["growth-drawn"].start > by_entry["access-up"].finish


def test_experts_speak_in_autumn_before_plants_are_cut_and_the_scaffold_waits_for_spring_all_the_same() -> None:
    rooted = {"decay_causes": "[plants]", "causes_cured": "in-this-work", "access": "scaffold"}
    asked = {
        "leaning": "yes",
        "engineer_says": "not-asked",
        "species_evidence": "[joints]",
        "ecologist_says": "licence",
    }
    dates = {"tender_return_date": "2027-09-03", "query_date": "2027-08-23", "finish_date": "2028-08-25"}
    found = planned(wall(**rooted, **asked), start_date="2027-10-11", **dates).programme
    by_entry = {item.entry: item for item in found.tasks()}
    words = [by_entry[name] for name in ("engineer", "ecologist")]
    assert all(word.finish < by_entry["growth-cut"].start < date(2027, 11, 1) for word in words)
    assert by_entry["growth-withers"].finish < by_entry["access-up"].start
    assert by_entry["access-up"].start > date(2028, 3, 1)
