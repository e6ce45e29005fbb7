"""Last starts and last days for placing: they can be kept together, and count the days that the papers print."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from jobs import EXAMPLES, example
from timed_jobs import codes, planned, scaffolded, told
from told_papers import specification

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.programme.model import Task
from generator.programme.network import Network
from generator.programme.schedule import schedule
from generator.questionnaire.scopes import ScopePath
from generator.values import replace

NAMES = [path.parent.name for path in EXAMPLES]


def first_task(found: Job, path: ScopePath) -> Task:
    """The task that a work begins with, panels apart."""
    panels = ("panel-coat", "panel-lath", "colour", "panel-wash", "growth-off", "panel-growth")
    own = [task for task in found.programme.tasks() if task.path[:2] == path and task.kind == "work"]
    return min((task for task in own if task.entry not in panels), key=lambda task: task.start)


@pytest.mark.parametrize("name", NAMES)
def test_all_last_starts_together_keep_every_limit(name: str) -> None:
    found = example(name)
    assert found.programme.runs is not None
    likely = found.programme.runs.likely
    works = [work for work in found.facts.views("work") if work.day("last_start_date") is not None]
    begun = {first_task(found, work.path).id: work.day("last_start_date") for work in works}
    held_off = tuple(
        replace(activity, not_before=begun.get(activity.id, activity.not_before))
        for activity in likely.network.activities
    )
    late = schedule(Network(held_off, likely.network.gangs), likely.start, likely.completion, held=likely.held)
    assert begun
    assert late.end > likely.end
    assert late.short == ()


def test_a_last_placing_counts_the_days_of_cover_that_the_papers_print() -> None:
    """In July a mortar told for 20 °C ripens in fewer days than in June, and the papers print those of June."""
    found = example("garden-front")
    pointing = found.facts.at_scope(("garden-front", "repoint", "pointing"))
    by, covered = pointing.day("last_placing_date"), pointing.number("kept_covered_days")
    assert by is not None
    assert covered is not None
    struck = 2  # working days: the lift is seen, then its scaffold is struck
    assert by + timedelta(int(covered)) + timedelta(struck - 1) <= date(2027, 7, 23)


def test_the_last_day_before_frost_is_told_apart_from_the_day_for_the_completion() -> None:
    found = example("garden-front")
    text = specification("garden-front")
    pointing = found.facts.at_scope(("garden-front", "repoint", "pointing"))
    frost, completion = (pointing.spoken(name) for name in ("season_last_placing_date", "last_placing_date"))
    assert frost != completion
    assert f"Frost: place none outside after {frost}." in text
    assert completion in text
    assert "Past it but before frost go on: that is a delay" in text


def test_barred_dates_are_printed_as_a_span_with_both_ends() -> None:
    text = specification("winter-plaster")
    assert "24 December 2027 – 3 January 2028, the school is locked over Christmas" in text.replace("\u2060", "")


def test_a_barred_day_is_printed_once() -> None:
    found = planned(scaffolded(), barred_dates="[{from: 2027-05-31, to: 2027-05-31}]")
    assert "first and last included: 31 May 2027." in outline(assemble(found).specification)


@pytest.mark.parametrize(
    ("span", "idle"),
    [
        ("2027-06-19, to: 2027-06-20", True),
        ("2027-06-18, to: 2027-06-20", False),
        ("2027-06-12, to: 2027-06-20", False),
    ],
)
def test_barred_dates_that_take_no_working_day_are_a_finding(span: str, idle: bool) -> None:
    found = planned(scaffolded(), barred_dates=f"[{{from: {span}, reason: a fair}}]")
    assert ("barred-not-worked" in codes(found)) is idle


def test_six_days_a_week_make_a_barred_saturday_count() -> None:
    found = planned(scaffolded(), barred_dates="[{from: 2027-06-19, to: 2027-06-20}]", working_days_per_week="6")
    assert "barred-not-worked" not in codes(found)


def test_public_holidays_are_told_as_not_known() -> None:
    assert "is not known here" in told(planned(scaffolded()), "holidays-not-known")
