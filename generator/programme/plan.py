"""The programme: the last start of each work by its season, and when things must be ordered."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Final

from generator.errors import Raised
from generator.library.model import Library
from generator.lime import season
from generator.measure.model import Measured
from generator.programme.model import OrderBy, Programme, Timing
from generator.questionnaire.facts import PROJECT, Facts, View

LONGEST: Final = Decimal(250)
"""Working days that one work may take: a year. Longer, the output or the area is wrong, and no date is reckoned."""


def programme(measured: Measured, library: Library) -> Programme:
    """When each work may run and what is ordered by when, with findings where the dates do not fit."""
    facts = measured.facts
    timings: list[Timing] = []
    raised: list[Raised] = []
    for work in facts.views("work"):
        timing = _timing(work)
        timings.append(timing)
        if timing.takes_years:
            marks = work.marks("output_m2_per_day", "face_area_m2", "barred_dates")
            raised.append(Raised("work-takes-years", work.path, (), (), marks))
        if timing.last_start is not None:
            facts = facts.adding(work.path, {"last_start_date": timing.last_start}, "<programme>")
        raised += (*_too_late(work, timing), *_outlasting(work, timing))
    return Programme(facts, tuple(timings), tuple(_orders(measured, facts, library)), tuple(raised))


def _timing(work: View) -> Timing:
    """The earliest of the last placings of a work's coats, and the last start that reaches it."""
    coats = work.inside("coat")
    placing = min(filter(None, (coat.day("season_last_placing_date") for coat in coats)), default=None)
    days = work.number("duration_days")
    start = _worked(season.last_start, placing, days, calendar(work))
    damp, cover = (
        max((kept for coat in coats if (kept := coat.number(name)) is not None), default=None)
        for name in ("damp_days", "frost_cover_days")
    )
    years = days is not None and (days > LONGEST or (placing is not None and start is None))
    return Timing(work.path, days, start, placing, damp, cover, years)


def _worked(
    rule: Callable[[datetime.date, float, season.Calendar], datetime.date],
    day: datetime.date | None,
    days: Decimal | None,
    worked: season.Calendar,
) -> datetime.date | None:
    """A day so many working days from another; None where that is too long, or the barred dates leave too few."""
    if day is None or not days or days > LONGEST:
        return None
    try:
        return rule(day, float(days), worked)
    except ValueError:
        return None


def calendar(here: View) -> season.Calendar:
    """The working week and the barred dates of the answers."""
    week = here.number("working_days_per_week") or Decimal(5)
    return season.Calendar(int(week), tuple(_spans(here)))


def _spans(here: View) -> Iterator[tuple[datetime.date, datetime.date]]:
    for item in here.records("barred_dates"):
        first, last = item.day("from"), item.day("to")
        if first is not None and last is not None and first <= last:  # the wrong way round they have their own finding
            yield first, last


def _too_late(work: View, timing: Timing) -> Iterator[Raised]:
    """A start that is in the season but too late to finish in it."""
    start = work.day("start_date")
    if timing.last_start is None or timing.last_placing is None or start is None:
        return
    if timing.last_start < start <= timing.last_placing:
        fills = (("last", work.facts.say("start_date", timing.last_start)),)
        yield Raised("last-start-passed", work.path, fills, (), work.marks("start_date"))


def _outlasting(work: View, timing: Timing) -> Iterator[Raised]:
    """A work that would run past the completion, were it begun at the start and nothing else done."""
    start, completion = work.day("start_date"), work.day("finish_date")
    if start is None or completion is None or start > completion:
        return
    done = _worked(season.finish, start, timing.duration_days, calendar(work))
    if done is not None and done > completion:
        marks = work.marks("start_date", "finish_date", "output_m2_per_day")
        yield Raised("work-outlasts-dates", work.path, (("last", work.facts.say("finish_date", done)),), (), marks)


def _orders(measured: Measured, facts: Facts, library: Library) -> Iterator[OrderBy]:
    """The order-by dates of what these works need, from the start on site and the table of lead times."""
    start = facts.at_scope(PROJECT).day("start_date")
    if start is None:
        return
    needed = [thing for thing, wanted in _wanted(measured, facts).items() if wanted]
    for thing in needed:
        row = library.row("lead-times", thing=thing)
        weeks = row.number("weeks")
        by = start - datetime.timedelta(weeks=float(weeks))
        yield OrderBy(library.words[f"order-{thing}"], weeks, by, row.because, row.sources)


def _wanted(measured: Measured, facts: Facts) -> dict[str, bool]:
    """What has a lead time, and whether this job needs it."""
    materials = {line.material.id for line in measured.materials}
    project, works = facts.at_scope(PROJECT), facts.views("work")
    awaited = ("applied", "not-asked")
    return {
        "panel": bool(measured.batches),
        "special-sand": bool(measured.batches),
        "putty": "lime-putty" in materials,
        "hair": "hair" in materials,
        "laths": any(work.number("new_laths_m2") for work in works),
        "units": any(work.number("replaced_units_nr") for work in works),
        "consent": project.text("consent") in awaited or project.text("faculty") in awaited,
    }
