"""The season of each work, and what is ordered by when."""

from __future__ import annotations

import datetime
from dataclasses import replace

import pytest
from answers_text import one_wall
from jobs import job, shipped

from generator import pipeline
from generator.decide.decide import decide
from generator.errors import InputInvalid
from generator.files.source import read_bytes
from generator.measure.measure import measure
from generator.programme.plan import programme


def test_the_last_start_is_the_last_placing_less_the_working_days() -> None:
    found = job(one_wall(face_area_m2="60", output_m2_per_day="3"))  # 30 m2 are ten working days
    (timing,) = found.programme.timings
    # frost on 20 October 2027 less 60 days is Saturday 21 August; ten days of a five-day week end on Friday 20
    assert timing.last_placing == datetime.date(2027, 8, 21)
    assert timing.last_start == datetime.date(2027, 8, 9)


def test_barred_dates_push_the_last_start_back() -> None:
    barred = "[{from: 2027-08-16, to: 2027-08-20, reason: fair}]"
    (timing,) = job(one_wall(face_area_m2="60", output_m2_per_day="3", barred_dates=barred)).programme.timings
    assert timing.last_start == datetime.date(2027, 8, 2)


def test_a_start_within_the_season_but_too_late_to_finish_is_told() -> None:
    changes = {"face_area_m2": "60", "output_m2_per_day": "3", "start_date": "2027-08-12", "finish_date": "2027-09-30"}
    assert "last-start-passed" in {item.code for item in job(one_wall(**changes)).findings}


def test_what_has_a_lead_time_is_dated_back_from_the_start() -> None:
    orders = {order.thing: order for order in job(one_wall()).programme.orders}
    assert {order.by for order in orders.values() if order.weeks == 2} == {datetime.date(2027, 4, 26)}


def test_a_consent_that_is_awaited_stands_among_what_to_settle_in_time() -> None:
    waiting = job(one_wall(protection="listed", consent="applied"))
    settled = job(one_wall(protection="listed", consent="granted", consent_reference="A1"))
    assert len(waiting.programme.orders) == len(settled.programme.orders) + 1


@pytest.mark.parametrize(
    ("table", "thing"), [("lead-times", "special-sand"), ("quantity-waste", "putty"), ("putty-age", "mortar")]
)
def test_a_table_without_a_row_that_a_job_needs_is_a_mistake_of_the_library_and_no_silent_gap(
    table: str, thing: str
) -> None:
    library = shipped()
    whole = library.tables[table]
    kept = [
        row
        for row in whole.rows
        if not any(thing in (cell if isinstance(cell, list | tuple) else (cell,)) for cell in row.keys.values())
    ]
    cut = whole.model_copy(update={"rows": tuple(kept)})
    short = replace(library, tables={**library.tables, table: cut})
    answers = pipeline.read(read_bytes(one_wall().encode(), "answers.yaml", typed=False), shipped())
    with pytest.raises(InputInvalid, match=rf"{table}\.yaml.*has no row for {{.*: {thing}}}"):
        programme(measure(decide(answers, short), short), short)


@pytest.mark.parametrize(("finish", "told"), [("2027-05-21", 0), ("2027-05-20", 1)])
def test_a_work_that_outlasts_the_time_on_site_is_told_with_the_day_it_would_end(finish: str, told: int) -> None:
    # ten working days of a five-day week from Monday 10 May 2027 end on Friday 21
    made = job(one_wall(face_area_m2="60", output_m2_per_day="3", finish_date=finish))
    found = [item for item in made.findings if item.code == "work-outlasts-dates"]
    assert len(found) == told
    assert all("21 May 2027" in item.message and len(item.marks) == 3 for item in found)


def test_barred_dates_that_leave_no_working_days_are_a_finding_and_no_fault() -> None:
    barred = "[{from: 1990-01-01, to: 2080-01-01, reason: closed}]"
    made = job(one_wall(face_area_m2="60", output_m2_per_day="3", barred_dates=barred))
    (timing,) = made.programme.timings
    assert timing.last_start is None
    assert "work-takes-years" in {item.code for item in made.findings}
