"""The programme: the last start of each work by its season, and when things must be ordered."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Final

from generator.decide.model import marks_of
from generator.errors import Raised
from generator.library.model import Library
from generator.lime import season
from generator.measure.model import Measured
from generator.programme.model import OrderBy, Programme, Timing
from generator.questionnaire.facts import PROJECT, Facts, ScopePath
from generator.values import Value

LONGEST: Final = Decimal(250)
"""Working days that one work may take: a year. Longer, the output or the area is wrong, and no date is reckoned."""


def programme(measured: Measured, library: Library) -> Programme:
    """When each work may run and what is ordered by when, with findings where the dates do not fit."""
    facts = measured.facts
    timings: list[Timing] = []
    raised: list[Raised] = []
    for scope in facts.at("work"):
        timing = _timing(facts, scope.path)
        timings.append(timing)
        if timing.takes_years:
            marks = marks_of(facts, scope.path, "output_m2_per_day", "face_area_m2", "barred_dates")
            raised.append(Raised("work-takes-years", scope.path, (), (), marks))
        if timing.last_start is not None:
            facts = facts.adding(scope.path, {"last_start_date": timing.last_start}, "<programme>")
        raised += (*_too_late(facts, timing), *_outlasting(facts, timing))
    return Programme(facts, tuple(timings), tuple(_orders(measured, facts, library)), tuple(raised))


def _timing(facts: Facts, path: ScopePath) -> Timing:
    """The earliest of the last placings of a work's coats, and the last start that reaches it."""
    coats = [scope.path for scope in facts.inside(path, "coat")]
    placings = [day for coat in coats if isinstance(day := facts.get(coat, "season_last_placing_date"), datetime.date)]
    placing = min(placings, default=None)
    days = _number(facts, path, "duration_days")
    start = _worked(season.last_start, placing, days, calendar(facts))
    damp, cover = (
        max((n for coat in coats if (n := _number(facts, coat, name)) is not None), default=None)
        for name in ("damp_days", "frost_cover_days")
    )
    years = days is not None and (days > LONGEST or (placing is not None and start is None))
    return Timing(path, days, start, placing, damp, cover, years)


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


def calendar(facts: Facts) -> season.Calendar:
    """The working week and the barred dates of the answers."""
    week = _number(facts, PROJECT, "working_days_per_week") or Decimal(5)
    barred = facts.get(PROJECT, "barred_dates")
    return season.Calendar(int(week), tuple(_spans(barred)) if isinstance(barred, tuple) else ())


def _spans(barred: tuple[Value, ...]) -> Iterator[tuple[datetime.date, datetime.date]]:
    for item in barred:
        if isinstance(item, dict):
            first, last = item["from"], item["to"]
            assert isinstance(first, datetime.date)
            assert isinstance(last, datetime.date)
            if first <= last:  # those that run the wrong way have their own finding
                yield first, last


def _too_late(facts: Facts, timing: Timing) -> Iterator[Raised]:
    """A start that is in the season but too late to finish in it."""
    start = facts.get(PROJECT, "start_date")
    if timing.last_start is None or timing.last_placing is None or not isinstance(start, datetime.date):
        return
    if timing.last_start < start <= timing.last_placing:
        fills = (("last", facts.say("start_date", timing.last_start)),)
        yield Raised("last-start-passed", timing.path, fills, (), marks_of(facts, PROJECT, "start_date"))


def _outlasting(facts: Facts, timing: Timing) -> Iterator[Raised]:
    """A work that would run past the completion, were it begun at the start and nothing else done."""
    start, completion = facts.get(PROJECT, "start_date"), facts.get(PROJECT, "finish_date")
    if not isinstance(start, datetime.date) or not isinstance(completion, datetime.date) or start > completion:
        return
    done = _worked(season.finish, start, timing.duration_days, calendar(facts))
    if done is not None and done > completion:
        marks = marks_of(facts, timing.path, "start_date", "finish_date", "output_m2_per_day")
        yield Raised("work-outlasts-dates", timing.path, (("last", facts.say("finish_date", done)),), (), marks)


def _orders(measured: Measured, facts: Facts, library: Library) -> Iterator[OrderBy]:
    """The order-by dates of what these works need, from the start on site and the table of lead times."""
    start = facts.get(PROJECT, "start_date")
    if not isinstance(start, datetime.date):
        return
    needed = [thing for thing, wanted in _wanted(measured, facts).items() if wanted]
    for thing in needed:
        row = library.row("lead-times", thing=thing)
        weeks = Decimal(str(row.values["weeks"]))
        by = start - datetime.timedelta(weeks=float(weeks))
        yield OrderBy(library.words[f"order-{thing}"], weeks, by, row.because, row.sources)


def _wanted(measured: Measured, facts: Facts) -> dict[str, bool]:
    """What has a lead time, and whether this job needs it."""
    materials = {line.material.id for line in measured.materials}

    def some(name: str) -> bool:
        return any((_number(facts, scope.path, name) or 0) > 0 for scope in facts.at("work"))

    awaited = ("applied", "not-asked")
    return {
        "panel": bool(measured.batches),
        "special-sand": bool(measured.batches),
        "putty": "lime-putty" in materials,
        "hair": "hair" in materials,
        "laths": some("new_laths_m2"),
        "units": some("replaced_units_nr"),
        "consent": facts.get(PROJECT, "consent") in awaited or facts.get(PROJECT, "faculty") in awaited,
    }


def _number(facts: Facts, path: ScopePath, name: str) -> Decimal | None:
    value = facts.get(path, name)
    return value if isinstance(value, Decimal) else None
