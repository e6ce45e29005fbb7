"""What cannot be done in its dates: findings with the chain that decides, the dates, and ways out with their effect."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from itertools import groupby
from typing import Final

from generator.errors import Raised
from generator.library.model import Library
from generator.programme.dated import labelled
from generator.programme.effects import Runs
from generator.programme.model import Lime, Wall
from generator.programme.network import Id
from generator.programme.schedule import Schedule, Short
from generator.programme.tasks import Works
from generator.programme.ways import Way, ways
from generator.questionnaire.facts import PROJECT, Facts
from generator.values import MonthDay

MOST_NAMED: Final = 16  # tasks of a chain that a reader still follows; the last ones decide
DAYS: Final = "kept_damp_days"  # whichever name of days spells a number of them


def passed(facts: Facts, library: Library, found: Works, made: Runs, walls: tuple[Wall, ...]) -> Iterator[Raised]:
    """A finding for each limit that the likely run passes, or for those that the late run alone passes."""
    likely, late = made.likely, made.late
    project = facts.at_scope(PROJECT)
    if likely.short:
        helping = _ways_told(facts, library, ways(likely, found, project.day("tender_return_date")))
        chain = chain_told(facts, library, found, likely)
        yield from _seasons(facts, likely, walls, (("chain", chain), ("ways", helping)))
        for short in likely.short:
            if short.kind == "completion":
                fills = (("chain", chain), ("ways", helping), *_ended(facts, short))
                yield Raised("completion-passed", PROJECT, fills, (), project.marks("start_date", "finish_date"))
    elif late.short:
        worst = max(late.short, key=lambda short: short.days)
        fills = (("where", _told(facts, found, worst.id)), *_ended(facts, worst))
        yield Raised("late-run-fails", PROJECT, fills, (), project.marks("start_date", "finish_date"))


def _ended(facts: Facts, short: Short) -> tuple[tuple[str, str], ...]:
    """When what passes a limit ends, the limit, and by how many days."""
    end, last = (facts.say("finish_date", day) for day in (short.finish, short.limit))
    return ("end", end), ("last", last), ("days", facts.say(DAYS, Decimal(short.days)))


def _seasons(
    facts: Facts, likely: Schedule, walls: tuple[Wall, ...], told: tuple[tuple[str, str], ...]
) -> Iterator[Raised]:
    """A finding for each coat that is laid after the last day of its season, or whose panel is."""
    missed = {short.id: short for short in likely.short if short.kind == "season"}
    for wall in walls:
        for coat in wall.lime:
            short = next((item for id, item in missed.items() if id[:3] == coat.path), None)
            if short is not None:
                marks = facts.at_scope(PROJECT).marks("start_date", "early_frost")
                yield Raised("last-placing-passed", coat.path, (*told, *_laid(facts, coat, short)), (), marks)
    for id, short in missed.items():
        if not any(id[:3] == coat.path for wall in walls for coat in wall.lime):
            marks = facts.at_scope(PROJECT).marks("start_date", "early_frost")
            yield Raised("last-placing-passed", tuple(id[:2]), (*told, *_ended(facts, short)), (), marks)


def _laid(facts: Facts, coat: Lime, short: Short) -> tuple[tuple[str, str], ...]:
    return _ended(facts, short) if coat.season_last is None else (
        ("end", facts.say("finish_date", max(coat.last, short.finish))),
        ("last", facts.say("finish_date", coat.season_last)),
    )  # fmt: skip


# --- in words -------------------------------------------------------------------------------------------------


def chain_told(facts: Facts, library: Library, found: Works, made: Schedule, to: Id | None = None) -> str:
    """The tasks that decide the end, or the start of a task, wall by wall, each with the day it is done."""
    chain = [id for id, _ in made.chain(to)][-MOST_NAMED:]
    parts = []
    for wall, ids in groupby(chain, key=lambda id: id[0]):
        tasks = [
            library.phrase("chain-task", what=labelled(found.planned[id]), day=_day(facts, made.dates.finish(id)))
            for id in ids
        ]
        name = facts.scopes[(str(wall),)].title
        parts.append(library.phrase("chain-wall", wall=name, tasks=", ".join(tasks)))
    return "; ".join(parts)


def _told(facts: Facts, found: Works, id: Id) -> str:
    return f"{facts.title(found.planned[id].here.path[:1])}, {labelled(found.planned[id])}"


def _day(facts: Facts, day: datetime.date) -> str:
    """A day without its year, as the dates of the papers are spelt."""
    return facts.say("early_frost", MonthDay.of(day))


def _ways_told(facts: Facts, library: Library, helping: tuple[Way, ...]) -> str:
    """What helps, each in a sentence; that nothing does, where nothing does."""
    if not helping:
        return library.phrase("way-none")
    return " ".join(_way_told(facts, library, way) for way in helping)


def _way_told(facts: Facts, library: Library, way: Way) -> str:
    fills = {
        "end": facts.say("finish_date", way.end),
        "day": facts.say("finish_date", way.day) if way.day is not None else "",
        "trade": facts.say("trade", way.trade) if way.trade else "",
    }
    told = library.phrase(f"way-{way.kind}", **fills)
    if way.lacks_days:
        told += " " + library.phrase("way-lacks", days=facts.say(DAYS, Decimal(way.lacks_days)))
    return told
