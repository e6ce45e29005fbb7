"""What the programme holds: tasks in time, walls, the season, what decides the end, and when things are ordered."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import cached_property
from typing import Generic, Literal, TypeVar

from generator.library.findings import Raised
from generator.library.tasks import TaskKind
from generator.lime.season import FrostSeason, Span
from generator.measure.outputs import Gang
from generator.programme.effects import Runs
from generator.programme.network import Id
from generator.programme.schedule import Cause
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Struct, field

Limit = Literal["season", "completion"]


Each = TypeVar("Each")


class ByRun(Struct, Generic[Each], frozen=True):
    """One thing early, likely and late."""

    early: Each
    likely: Each
    late: Each


class Why(Struct, frozen=True):
    """Why a task takes its days: a quantity at an output by so many people, a row of a table, or a name or number.

    `answered`: the output of the gang was; `timed`: it was timed on the panel. `lacks`: the quantity that nobody
    answered. `least_days` are those of the smallest wall. `because`, `sources`, `confidence` and `range` are those of
    the row; `joined` is what else is counted in.
    """

    days: Range[float]
    quantity: str = ""
    amount: Range[float] | None = None
    output: Range[float] | None = None
    people_nr: int = 0
    least_days: int = 0
    name: str = ""
    answered: bool = False
    timed: bool = False
    lacks: str = ""
    because: str = ""
    range: str = ""
    sources: tuple[str, ...] = ()
    confidence: str = ""
    joined: tuple[Why, ...] = ()


class Task(Struct, frozen=True):
    """One task in time, as a picture or a reader wants it.

    `key` is how people name it (`front/repoint/rake`), `place` the wall it is on. Work, holds and access are done from
    `start` to `finish`, both in; a wait begins on the day on which what it follows was finished, and `finish` is the
    day on which the next may start. `float_days` are its own days in hand, below 0 the days it is late. `decides` says
    that it lies on the chain that decides the end.
    """

    id: Id
    key: str
    entry: str
    place: ScopePath
    path: ScopePath
    kind: TaskKind
    label: str
    trade: str
    why: Why
    start: datetime.date
    finish: datetime.date
    late_start: datetime.date
    late_finish: datetime.date
    float_days: int
    early_finish: datetime.date
    latest_finish: datetime.date
    after: tuple[Id, ...]
    decides: bool = False
    hold: str = ""


class Lime(Struct, frozen=True):
    """One coat in time: the days on which it is laid, kept damp and covered, and by when it must be laid.

    What lies under another coat is kept so too for all its days, whichever coat comes over it meanwhile.
    `season_last` is the last safe worked day of the season it is laid in, or that it missed; `place_by` the earlier of
    that and of what the completion leaves. None where no date is reckoned.
    """

    path: ScopePath
    first: datetime.date
    last: datetime.date
    damp_until: datetime.date | None
    cover_until: datetime.date | None
    season_last: datetime.date | None
    season_passed: bool
    place_by: datetime.date | None
    place_limit: Limit | None


class Wall(Struct, frozen=True):
    """One wall in time: its tasks in the order of their start, how long access stands, and its lime.

    `limed` are the days from the first to the last on which lime is laid, by work, panels apart. `begun_by` is the day
    by which a work is begun for what lies under it, that limewash still finds new render damp. Access that is another
    wall's stands as that one does, and has no weeks of its own.
    """

    path: ScopePath
    tasks: tuple[Task, ...]
    lime: tuple[Lime, ...]
    limed: Mapping[ScopePath, Span]
    access: Span | None = None
    access_weeks: ByRun[int] | None = None
    begun_by: Mapping[ScopePath, datetime.date] = field(default_factory=dict)

    @property
    def first_lime(self) -> datetime.date | None:
        """The first day on which lime is laid on it, panels apart."""
        return min((first for first, _ in self.limed.values()), default=None)

    @property
    def last_lime(self) -> datetime.date | None:
        """The last day on which lime is laid on it."""
        return max((last for _, last in self.limed.values()), default=None)

    @property
    def last_coats(self) -> tuple[Lime, ...]:
        """The coat of each work that is laid last, where there is a day to lay it by: no lime comes after it."""
        last: dict[ScopePath, Lime] = {}
        for coat in self.lime:
            work = coat.path[:2]
            if work not in last or coat.last >= last[work].last:
                last[work] = coat
        return tuple(coat for coat in last.values() if coat.place_by is not None)


class OrderBy(Struct, frozen=True):
    """A thing to order or settle, the day of its first use, and the day by which."""

    thing: str
    what: str
    weeks: Decimal
    first_use: datetime.date
    by: datetime.date
    because: str
    sources: tuple[str, ...]


class Programme(Struct, frozen=True, dict=True):
    """The works in time, with the facts that came of it, and findings.

    `walls`, `tasks` and what is reckoned from them are empty where nobody answered the start, or where nothing can be
    reckoned: a finding then says why. `chain` are the tasks that decide the end, from the first on.
    """

    facts: Facts
    raised: tuple[Raised, ...] = ()
    orders: tuple[OrderBy, ...] = ()
    walls: tuple[Wall, ...] = ()
    start: datetime.date | None = None
    completion: datetime.date | None = None
    end: ByRun[datetime.date] | None = None
    in_hand_days: int | None = None
    chain: tuple[Id, ...] = ()
    frost: FrostSeason | None = None
    barred: tuple[Span, ...] = ()
    working_days_per_week: int = 5
    gangs: tuple[Gang, ...] = ()
    follows: tuple[Task, ...] = ()
    runs: Runs | None = None

    def tasks(self) -> Iterator[Task]:
        """Every task, wall by wall."""
        for wall in self.walls:
            yield from wall.tasks

    def causes(self, task: Task) -> tuple[Cause, ...]:
        """What set the start of a task, then what would have set it in its stead; nothing for one that follows."""
        if self.runs is None or task.id not in self.runs.likely.dates:
            return ()
        return self.runs.likely.dates[task.id].causes

    @cached_property
    def by_id(self) -> Mapping[Id, Task]:
        """The tasks by their ids."""
        return {task.id: task for task in self.tasks()}
