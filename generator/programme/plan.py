"""The programme: the works of a job reckoned forward and back in time, and the dates that come of it.

tasks - network - early, likely, late - walls, coats, access, orders - findings where it cannot be built so
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator
from decimal import Decimal
from functools import partial

from generator.library.findings import Raised
from generator.library.model import Library
from generator.lime.season import Calendar, Span
from generator.measure.model import Measured
from generator.programme import doubts, seasons
from generator.programme.calendar import worked
from generator.programme.dated import Bounds, dated_walls, labelled
from generator.programme.dates import answered_alone, with_dates
from generator.programme.effects import Runs, around
from generator.programme.limits import passed
from generator.programme.model import ByRun, Programme, Task, Wall
from generator.programme.network import Network, NetworkError, reframed
from generator.programme.orders import orders
from generator.programme.schedule import LastDates, last_dates, schedule
from generator.programme.tasks import Planned, Works, works
from generator.programme.ways import without_season
from generator.programme.winters import held_back, held_to_spring, over_winter
from generator.questionnaire.facts import View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import PROJECT
from generator.values import Struct, replace


def programme(measured: Measured, library: Library, kept: Kept = AFRESH) -> Programme:
    """The works in time, with the facts that come of it and findings where they cannot be done so.

    Without a start, or where nothing can be reckoned, no dates: weeks of access then stand as answered.
    """
    facts = measured.facts
    project = facts.at_scope(PROJECT)
    climate, days = seasons.climate(project), calendar(project)
    found = works(facts, library, climate, days, kept)
    raised = [*seasons.doubts(project), *doubts.of_answers(facts, climate.frost)]
    start = project.day("start_date")
    open_ = [*doubts.none_at_work(facts, found), *doubts.without_mix(facts)]
    if start is None or not found.network.activities or open_:
        return Programme(answered_alone(facts, found), (*raised, *open_), frost=climate.frost)
    try:
        made = _Made.of(measured, library, found, climate, days, start, kept)
    except NetworkError as error:
        raised.append(doubts.unreckoned(facts, found, error))
        return Programme(answered_alone(facts, found), tuple(raised), frost=climate.frost)
    return made.programme(tuple(raised), kept)


class _Made(Struct, frozen=True):
    """Works that have been reckoned in time."""

    measured: Measured
    library: Library
    found: Works
    climate: seasons.Climate
    calendar: Calendar
    runs: Runs
    limits: LastDates
    walls: tuple[Wall, ...]
    follows: tuple[Task, ...]

    @classmethod
    def of(
        cls,
        measured: Measured,
        library: Library,
        found: Works,
        climate: seasons.Climate,
        days: Calendar,
        start: datetime.date,
        kept: Kept,
    ) -> _Made:
        """Raises a `NetworkError` where they cannot be."""
        finish = completion(measured.facts.at_scope(PROJECT))
        in_time = found.network, start, finish
        made, limits = kept.of("runs", in_time, partial(_reckoned, *in_time))
        found = replace(found, network=made.likely.network)
        walls = dated_walls(found, made, Bounds(limits, climate, days, library))
        follows = tuple(_follow(item, made) for item in found.follows)
        return cls(measured, library, found, climate, days, made, limits, walls, follows)

    def programme(self, raised: tuple[Raised, ...], kept: Kept) -> Programme:
        likely, in_hand = self.runs.likely, self._in_hand()
        facts = with_dates(
            self.measured.facts, self.found, self.runs, self.limits, self.walls, self.follows, in_hand, self.library
        )
        tasks = tuple(task for wall in self.walls for task in wall.tasks)
        ordered = tuple(orders(self.measured, self.library, tasks, likely.start, self.calendar))
        told = (
            *raised,
            *passed(facts, self.library, self.found, self.runs, self.walls, kept),
            *doubts.of_walls(facts, self.library, self.walls, self.climate.frost),
            *doubts.of_orders(facts, ordered, self.library),
        )
        return Programme(
            facts=facts,
            raised=told,
            orders=ordered,
            walls=self.walls,
            start=likely.start,
            completion=likely.completion,
            end=ByRun(self.runs.early.end, likely.end, self.runs.late.end),
            in_hand_days=in_hand,
            chain=tuple(id for id, _ in likely.chain()),
            frost=self.climate.frost,
            barred=self.calendar.barred,
            working_days_per_week=self.calendar.working_days_per_week,
            gangs=tuple(self.found.gangs.values()),
            follows=self.follows,
            runs=self.runs,
        )

    def _in_hand(self) -> int | None:
        end, finish = self.runs.likely.end, self.runs.likely.completion
        return None if finish is None else worked(self.calendar).between(end.toordinal(), finish.toordinal())


def _reckoned(network: Network, start: datetime.date, finish: datetime.date | None) -> tuple[Runs, LastDates]:
    """A network in time, with what waits for the next season held back, in the late run too. Raises a `NetworkError`.

    The late run of works that pass a season as they are likely to go is left as it is: that has to be settled first.
    """
    likely = schedule(network, start, finish)
    waiting = over_winter(likely)
    if waiting:
        network = held_back(network, likely.dates, waiting)
        likely = schedule(network, start, finish, frame=reframed(likely.frame, network))
    made = around(likely)
    if not any(short.kind == "season" for short in likely.short) and not without_season(likely):
        late, stopped = held_to_spring(made.late)
        made = replace(made, late=late, stopped=stopped)
    return made, last_dates(made.likely)


def completion(project: View) -> datetime.date | None:
    """The completion; None where it comes before the start, which has a finding of its own."""
    start, finish = project.day("start_date"), project.day("finish_date")
    return finish if start is not None and finish is not None and start <= finish else None


def calendar(here: View) -> Calendar:
    """The working week and the barred dates of the answers."""
    week = here.number("working_days_per_week") or Decimal(5)
    return Calendar(int(week), tuple(_spans(here)))


def _spans(here: View) -> Iterator[Span]:
    for item in here.records("barred_dates"):
        first, last = item.day("from"), item.day("to")
        if first is not None and last is not None and first <= last:  # the wrong way round they have their own finding
            yield first, last


def _follow(item: Planned, made: Runs) -> Task:
    """A task that only follows the works: elapsed days after the last before it, drawn from where it begins."""
    last = max((made.likely.dates.finish(id) for id in item.after), default=made.likely.start)
    start = min((made.likely.dates.finish(id) for id in item.since), default=last)
    days = item.why.days
    early, ends, late = (last + datetime.timedelta(math.ceil(each)) for each in (days.low, days.likely, days.high))
    return Task(
        item.id, "/".join(item.id), item.entry.id, item.here.path[:1], item.here.path, item.entry.kind,
        labelled(item), item.trade, item.why, start, ends, start, ends, 0, early, late, item.after,
    )  # fmt: skip
