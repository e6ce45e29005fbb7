"""What cannot be done in its dates: findings with the chain that decides, the dates, and ways out with their effect."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import groupby
from typing import Final

from generator.files.errors import Mark
from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.maturity import MonthlyRates
from generator.programme.calendar import worked
from generator.programme.dated import labelled, located
from generator.programme.effects import Runs, enclosed
from generator.programme.model import Limit, Wall
from generator.programme.network import Id, Network, Work
from generator.programme.schedule import Schedule, Short
from generator.programme.seasons import held_warm
from generator.programme.tasks import Works
from generator.programme.ways import Way, doubled, out_of_season, ways, without_season
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import Kept
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import MonthDay, joined

Fills = tuple[tuple[str, str], ...]
MOST_NAMED: Final = 16  # tasks of a chain that a reader still follows; the last ones decide
MOST_STOPPED: Final = 8  # places that a late run stops at, each named
KINDS: Final[tuple[Limit, ...]] = ("season", "completion")
DAYS: Final = "kept_damp_days"  # whichever name of days spells a number of them


def passed(
    facts: Facts, library: Library, found: Works, made: Runs, walls: tuple[Wall, ...], kept: Kept
) -> Iterator[Raised]:
    """A finding for each limit that the likely run passes, or one for what the late run alone passes.

    Lime that has no season between start and completion is told as late for its season, and not again as late for the
    completion.
    """
    likely, late = made.likely, made.late
    project, apart = facts.at_scope(PROJECT), without_season(likely)
    if likely.short or apart:
        earliest, rates = project.day("tender_return_date"), held_warm(library)
        in_time = likely.network, likely.start, likely.completion
        rests_on = *in_time, earliest, rates, tuple(doubled(found))
        warm, found_ways = kept.of("ways", rests_on, lambda: _ways(likely, found, earliest, rates))
        helping = _ways_told(facts, library, found, found_ways)
        chain = chain_told(facts, library, found, likely)
        told = (("chain", chain), ("ways", helping))
        marks = project.marks("start_date", "finish_date", "early_frost")
        laid = _seasons(facts, likely, apart, walls, warm)
        yield from _seasons_passed(laid, told, marks)
        for short in likely.short:
            if short.kind == "completion" and not apart:
                ended = _ended(facts, short, likely.network)
                again = Raised("completion-passed-too", PROJECT, ended, (), marks[:2])
                yield again if laid else Raised("completion-passed", PROJECT, (*told, *ended), (), marks[:2])
    elif made.stopped.first:
        where, end = _stops_told(facts, library, found, made), facts.say("finish_date", late.end)
        marks = project.marks("start_date", "early_frost")
        yield Raised("late-run-waits", PROJECT, (("where", where), ("end", end)), (), marks)
    elif late.short:
        worst = max(late.short, key=lambda short: short.days)
        fills = (("where", located(facts, found.planned[worst.id])), *_ended(facts, worst, late.network))
        yield Raised("late-run-fails", PROJECT, fills, (), project.marks("start_date", "finish_date"))


def _ways(
    likely: Schedule, found: Works, earliest: datetime.date | None, rates: MonthlyRates
) -> tuple[Schedule | None, tuple[Way, ...]]:
    """The same with what misses its season enclosed and heated, where something does; and what helps."""
    late_lime = out_of_season(likely)
    warm = enclosed(likely, *late_lime, rates=rates) if late_lime else None
    return warm, ways(likely, found, earliest, warm)


def _seasons_passed(laid: Mapping[ScopePath, Fills], told: Fills, marks: tuple[Mark, ...]) -> Iterator[Raised]:
    """A finding for each coat that is laid too late; for several, what decides and what helps once for the job."""
    if len(laid) > 1:
        yield Raised("seasons-passed", PROJECT, (*told, ("number", f"{len(laid):,}")), (), marks)
    for path, fills in laid.items():
        if len(laid) > 1:
            yield Raised("season-passed-here", path, fills)
        else:
            yield Raised("last-placing-passed", path, (*told, *fills), (), marks)


def _ended(facts: Facts, short: Short, network: Network) -> Fills:
    """When what passes a limit ends, the last day within it on which that could be done, and by how many days."""
    within = _last_within(short, network)
    days = short.days + (short.limit - within).days
    end, last = (facts.say("finish_date", day) for day in (short.finish, within))
    return ("end", end), ("last", last), ("days", facts.say(DAYS, Decimal(days)))


def _last_within(short: Short, network: Network) -> datetime.date:
    """The last day worked within a limit, as the papers have it of each coat; of what only waits the limit itself."""
    takes = next(activity.takes for activity in network.activities if activity.id == short.id)
    if not isinstance(takes, Work):
        return short.limit
    return datetime.date.fromordinal(worked(takes.calendar).nth_back(short.limit.toordinal(), 1))


def _seasons(
    facts: Facts, likely: Schedule, apart: tuple[Id, ...], walls: tuple[Wall, ...], warm: Schedule | None
) -> dict[ScopePath, Fills]:
    """Until when each coat would be laid after the last day of its season, by its scope; a panel where it alone is."""
    laid: dict[ScopePath, Fills] = {}
    freed = warm if apart and warm is not None else likely
    coats = {coat.path: coat for wall in reversed(walls) for coat in reversed(wall.lime)}
    for id in (*apart, *(short.id for short in likely.short if short.kind == "season")):
        path = tuple(id[:-1])
        coat = coats.get(path)
        last = coat.season_last if coat is not None else None
        if last is not None and coat is not None:
            end = freed.dates.finish(id) if id in apart else max(coat.last, likely.dates.finish(id))
            laid[path] = ("end", facts.say("finish_date", end)), ("last", facts.say("finish_date", last))
    others: dict[ScopePath, Short] = {}
    for short in likely.short:
        path = tuple(short.id[:-1])
        if short.kind == "season" and path not in laid and (path not in others or others[path].finish < short.finish):
            others[path] = short
    return laid | {path: _ended(facts, short, likely.network) for path, short in others.items()}


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


def _stops_told(facts: Facts, library: Library, found: Works, made: Runs) -> str:
    """The lime that its season stops, with its last day and how much later it would end; of many walls the first."""
    told = [
        library.phrase(
            "stopped-lime",
            what=located(facts, found.planned[short.id]),
            **dict(_ended(facts, short, made.late.network)),
        )
        for short in made.stopped.first[:MOST_STOPPED]
    ]
    more = len(made.stopped.first) - MOST_STOPPED
    return "; ".join([*told, *([library.phrase("stopped-more", number=f"{more:,}")] if more > 0 else [])])


def _day(facts: Facts, day: datetime.date) -> str:
    """A day without its year, as the dates of the papers are spelt."""
    return facts.say("early_frost", MonthDay.of(day))


def _ways_told(facts: Facts, library: Library, found: Works, helping: tuple[Way, ...]) -> str:
    """What helps, each in a sentence; that nothing does, where nothing does."""
    if not helping:
        return library.phrase("way-none")
    return " ".join(_way_told(facts, library, found, way) for way in helping)


def _way_told(facts: Facts, library: Library, found: Works, way: Way) -> str:
    fills = {
        "end": facts.say("finish_date", way.end),
        "day": facts.say("finish_date", way.day) if way.day is not None else "",
        "trade": facts.say("trade", way.trade) if way.trade else "",
    }
    told = library.phrase(f"way-{way.kind}", **fills)
    if way.lacks_days:
        where = joined([_still_late(facts, library, found, short) for short in _worst(way.short)])
        told += " " + library.phrase("way-lacks", where=where)
    return told


def _worst(passed: tuple[Short, ...]) -> tuple[Short, ...]:
    """Of the limits still passed the worst of each kind: the others hang on the same works."""
    worst = (max((one for one in passed if one.kind == kind), key=lambda one: one.days, default=None) for kind in KINDS)
    return tuple(short for short in worst if short is not None)


def _still_late(facts: Facts, library: Library, found: Works, short: Short) -> str:
    what = located(facts, found.planned[short.id])
    return library.phrase(f"way-lacks-{short.kind}", what=what, days=facts.say(DAYS, Decimal(short.days)))
