"""The programme as a picture: what was reckoned, as its drawing wants it, and what that tells who cannot see it."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Final

from generator.document.model import Figure
from generator.document.template import PaperPart, filled
from generator.drawing.programme import programme_pages
from generator.drawing.programme_model import (
    Chain,
    Chart,
    Dated,
    Ends,
    FrostEdge,
    Kind,
    Names,
    Page,
    ProgrammeWords,
    Stretch,
    Upright,
    Wall,
    Winter,
)
from generator.drawing.programme_model import Task as Bar
from generator.job.job import Job
from generator.papers.drawn import words_for
from generator.papers.figures import PROGRAMME
from generator.papers.making import last_coat
from generator.programme.model import Task
from generator.programme.model import Wall as Planned
from generator.programme.network import Id
from generator.programme.tasks import LAID
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import MonthDay, replace

_DAY: Final = datetime.timedelta(days=1)
WIDTH_MM: Final = 174.0
HEIGHT_MM: Final = {"a4": 251.0, "letter": 233.0}
"""The most that a picture may have of a page, by its paper: room is left for its caption and the head above it."""

_KINDS: Final[dict[str, Kind]] = {
    "work": "work", "access": "work", "hold": "wait", "wait": "wait", "follow": "wait", "damp": "damp",
    "cover": "cover",
}  # fmt: skip


def programme_figures(job: Job, part: PaperPart) -> Iterator[Figure]:
    """The programme on as many pictures as it needs: the first bears the number, the others say that they go on."""
    drawn = programme_chart(job)
    number = str(job.figures[PROGRAMME])
    shown = iter(drawn.walls)
    height_mm = HEIGHT_MM[job.identity().paper]
    # what stands below the last picture has the more room
    for page in programme_pages(drawn, _words(job), WIDTH_MM, height_mm, is_spread=False):
        drawing = page.drawing(_told(job, page, [next(shown) for _ in page.told.walls]))
        if page.told.walls and page.told.walls[0].name != drawn.walls[0].name:
            goes_on = job.word("figure-goes-on-number", number=number)
            yield Figure(drawing, job.word("figure-goes-on", caption=part.caption), number=goes_on)
        else:
            yield Figure(drawing, part.caption, anchor=PROGRAMME, number=number)


def programme_chart(job: Job) -> Chart:
    """The reckoned programme of a job as what its drawing is given."""
    planned = job.programme
    walls = tuple(_WallDrawn(job, wall).wall() for wall in planned.walls)
    return Chart(walls, tuple(_uprights(job)), tuple(_winters(job)), planned.barred)


def _uprights(job: Job) -> Iterator[Upright]:
    planned = job.programme
    for day, key in ((planned.start, "start"), (planned.completion, "completion")):
        if day is not None:
            names = job.word(f"drawing-programme-{key}", day=_day(job, day)), _short(job, f"{key}-short", day)
            yield Upright(names, day, ends=key == "completion")


def _winters(job: Job) -> Iterator[Winter]:
    """Every winter from that before the start to that after the last day shown."""
    frost, start = job.programme.frost, job.programme.start
    if frost is None or start is None:
        return
    for first, last in frost.spans(start, _last_day(job)):
        yield Winter(
            FrostEdge(first, names=tuple(_short(job, f"frost-from{form}", first) for form in ("", "-short"))),
            FrostEdge(last, names=tuple(_short(job, f"frost-to{form}", last) for form in ("", "-short"))),
        )


def _last_day(job: Job) -> datetime.date:
    """The last day on which anything is done, or the completion."""
    days = (task.latest_finish for task in job.programme.tasks())
    return max(chain(days, (job.programme.completion or datetime.date.min,)))


# --- a wall -----------------------------------------------------------------------------------------------


class _WallDrawn:
    """A wall while it is put together: tasks that stay together as chains, those that decide the end before others.

    So those that decide come to lie on one line, works on the first that is free, waits where there is room.
    """

    def __init__(self, job: Job, planned: Planned) -> None:
        self.job, self.planned = job, planned
        self.follows = [task for task in job.programme.follows if task.place == planned.path]
        self.last_day = _last_day(job)
        self.bars = {task.id: bar for task in self._tasks() if (bar := self._bar(task)) is not None}
        self.groups = sorted(self._groups(), key=self._rank)

    def wall(self) -> Wall:
        """The wall with its mixes, access, days in hand and ends."""
        job, path = self.job, self.planned.path
        return Wall(
            job.filling.place(path), tuple(self._chains()), (", ".join(job.mix_refs(path)),),
            tuple(self._access()), self._in_hand(), self._ends(),
        )  # fmt: skip

    def _tasks(self) -> Iterable[Task]:
        return (*self.planned.tasks, *self.follows)

    def _bar(self, task: Task) -> Bar | None:
        """A task as a bar; None for a hold of a day, a wait over which nothing is waited, and what is not drawn."""
        first, last = task.start, task.finish
        if task.kind == "hold" and first == last:
            return None
        if not (task.decides or self.job.library.tasks[task.entry].drawn):
            return None
        if task.kind not in ("work", "access", "hold"):
            # what is waited for may start on the last day of a wait
            first, last = first + _DAY, min(last - _DAY, self.last_day)
        return Bar(_KINDS[task.kind], self._names(task), first, last, task.decides) if first <= last else None

    def _names(self, task: Task) -> Names:
        """Its label, ever shorter: of access the short one alone, of a wait its days at last."""
        label, short = task.label, self.job.library.tasks[task.entry].short or task.label
        match task.kind:
            case "access":
                return (short,)
            case "wait":
                return label, short, str((task.finish - task.start).days)
            case "damp" | "cover" | "follow":
                day = _month_day(self.job, task.finish)
                told = (self.job.word("drawing-programme-until", what=name, day=day) for name in (label, short))
                return *told, short
        return label, short

    def _groups(self) -> Iterator[list[Task]]:
        """What stays together: damp and cover of a coat, a panel that decides nothing; all else by itself."""
        together: dict[tuple[str, ...], list[Task]] = {}
        for task in self._tasks():
            if task.id not in self.bars:
                continue
            if task.kind in ("damp", "cover") and not self._of_panel(task):
                together.setdefault(("kept", *task.path), []).append(task)
            elif self._of_panel(task) and not task.decides:
                together.setdefault(("panel", *task.path[:2]), []).append(task)
            else:
                yield [task]
        yield from together.values()

    def _of_panel(self, task: Task) -> bool:
        return self.job.library.tasks[task.entry].one_for_each_mix

    def _rank(self, group: Sequence[Task]) -> int:
        if any(task.decides for task in group):
            return 0
        if self._of_panel(group[0]):
            return 3
        return {"work": 1, "damp": 2, "cover": 2}.get(_KINDS[group[0].kind], 4)

    def _chains(self) -> Iterator[Chain]:
        placings = self._placings()
        for group in self.groups:
            # what is kept damp before its cover: where neither outlasts the other, that one goes with the works
            bars = sorted((self.bars[task.id] for task in group), key=lambda bar: bar.kind == "cover")
            kept = [bar for bar in bars if bar.kind == "cover" and bar.decides]
            if kept:  # its first days are drawn as damp
                bars = [replace(bar, decides=True) if bar.last < kept[0].last else bar for bar in bars]
            yield Chain(tuple(bars), placings=tuple(placings[task.id] for task in group if task.id in placings))
        holds = {day for task in self.planned.tasks if (day := _held_on(task)) is not None}
        if holds:
            yield Chain((), tuple(sorted(holds)))

    def _placings(self) -> dict[Id, Dated]:
        """The last day for placing the last coat of each work, by the task that lays it."""
        lime = {coat.path: coat.place_by for coat in self.planned.lime}
        works = self.job.facts.inside(self.planned.path, "work")
        dated = {path: day for work in works if (day := lime.get(path := last_coat(self.job, work.path))) is not None}
        laid = {task.path: task.id for task in self.planned.tasks if task.entry in LAID}
        return {laid[path]: Dated(self._placing_names(path, day, len(dated) > 1), day) for path, day in dated.items()}

    def _placing_names(self, path: ScopePath, day: datetime.date, several: bool) -> Names:
        """The day, and of several on a wall always what is placed by it."""
        if several:
            what = self.job.facts.scopes[path].title
            return (self.job.word("drawing-programme-what-by", what=what, day=_month_day(self.job, day)),)
        return _short(self.job, "place-by", day), _short(self.job, "by", day), _month_day(self.job, day)

    def _access(self) -> Iterator[Stretch]:
        host = self.job.facts.spoken(self.planned.path, "access_host")
        if self.planned.access is not None and host:
            yield Stretch((self.job.word("drawing-programme-access-of", wall=host),), *self.planned.access)
        elif self.planned.access is not None:
            weeks = self.job.facts.spoken(self.planned.path, "access_time_weeks")
            yield Stretch((self.job.word("drawing-programme-access-for", weeks=weeks), weeks), *self.planned.access)

    def _in_hand(self) -> Stretch | None:
        """The days in hand, on the wall that ends the works."""
        planned = self.job.programme
        ends = planned.by_id[planned.chain[-1]].place == self.planned.path
        if planned.end is None or planned.completion is None or not ends or planned.completion <= planned.end.likely:
            return None
        days = self.job.facts.spoken(PROJECT, "days_in_hand_days")
        names = self.job.word("drawing-programme-days-in-hand", days=days), days
        return Stretch(names, planned.end.likely + _DAY, planned.completion)

    def _ends(self) -> Ends:
        likely = max(task.finish for task in self.planned.tasks)
        early = max(task.early_finish for task in self.planned.tasks)
        late = max(task.latest_finish for task in self.planned.tasks)
        runs = self.job.programme.runs
        stops = None if runs is None else runs.stopped.walls.get(self.planned.path[0])
        if stops is None:
            return Ends(min(early, likely), likely, late)
        return Ends(min(early, likely), likely, max(likely, stops), goes_on=True)


def _held_on(task: Task) -> datetime.date | None:
    """The day of a hold point: that of its release, or the first of the task on which it is met; None without one."""
    if task.kind == "hold":
        return task.finish
    return task.start if task.hold else None


# --- words ------------------------------------------------------------------------------------------------


def _words(job: Job) -> ProgrammeWords:
    """The words of the key, with the dates of frost and of days on which nobody works."""
    found, frost = words_for(job, ProgrammeWords, "programme"), job.programme.frost
    if frost is not None:
        early, late = (job.facts.say("early_frost", day) for day in (frost.early, frost.late))
        chance = str(frost.chance_per_cent)
        found = replace(found, frost=filled(found.frost, early=early, late=late, chance=chance))
    return replace(found, barred=filled(found.barred, days=", ".join(_spans(job, job.programme.barred))))


def _spans(job: Job, spans: Iterable[tuple[datetime.date, datetime.date]]) -> Iterator[str]:
    for first, last in spans:
        days = [_month_day(job, first), _month_day(job, last)]
        yield days[0] if first == last else job.word("drawing-programme-span", first=days[0], last=days[1])


def _day(job: Job, day: datetime.date) -> str:
    return job.facts.say("issue_date", day)


def _month_day(job: Job, day: datetime.date) -> str:
    return job.facts.say("early_frost", MonthDay.of(day))


def _short(job: Job, key: str, day: datetime.date) -> str:
    return job.word(f"drawing-programme-{key}", day=_month_day(job, day))


# --- what it tells those who cannot see it ------------------------------------------------------------------


def _told(job: Job, page: Page, walls: Sequence[Wall]) -> str:
    """The alternative text: what cuts through, then each wall with its works and what keeps them, by their dates."""
    told = page.told
    days = [upright.names[0] for upright in told.uprights]
    if told.winters:
        days.append(_words(job).frost)
    if told.barred:
        days.append(_words(job).barred)
    first, last = (_day(job, day) for day in (told.first, told.last))
    return job.word(
        "drawing-programme-alt", first=first, last=last, days="; ".join(days),
        walls=" ".join(_wall_told(job, wall) for wall in walls),
    )  # fmt: skip


def _wall_told(job: Job, wall: Wall) -> str:
    bars = sorted((bar for each in wall.chains for bar in each.tasks), key=lambda bar: (bar.first, bar.last))
    parts = [
        bar.names[0] if bar.kind != "work" else f"{bar.names[0]} {next(_spans(job, [(bar.first, bar.last)]))}"
        for bar in bars
        if bar.kind != "wait"
    ]
    parts += [dated.names[0] for each in wall.chains for dated in each.placings]
    parts += [f"{one.names[0]} {next(_spans(job, [(one.first, one.last)]))}" for one in wall.access]
    holds = sorted(day for each in wall.chains for day in each.holds)
    if holds:
        parts.append(job.word("drawing-programme-alt-holds", days=", ".join(_month_day(job, day) for day in holds)))
    deciding = dict.fromkeys(bar.names[:2][-1] for bar in bars if bar.decides)
    if deciding:
        parts.append(job.word("drawing-programme-alt-decides", what=", ".join(deciding)))
    return job.word("drawing-programme-alt-wall", wall=wall.name, told="; ".join(parts))
