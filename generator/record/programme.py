"""The programme as plain data for the record, and told to who asks why a thing takes so long and what it waits for."""

from __future__ import annotations

import datetime
from typing import Any

from generator.job.job import Job
from generator.programme.model import ByRun, Lime, OrderBy, Task, Wall, Why
from generator.programme.network import Id
from generator.questionnaire.scopes import ScopePath
from generator.values import MonthDay, Range

Data = dict[str, Any]


def programme_data(job: Job) -> Data:
    """What the programme came to, with every task: its days, dates, and what it comes after."""
    planned = job.programme
    return {
        "start": _day(planned.start),
        "completion": _day(planned.completion),
        "end": _by_run(planned.end),
        "in_hand_days": planned.in_hand_days,
        "frost": _frost(job),
        "gangs": [{"trade": gang.trade, "gangs": gang.gangs_nr, "people": gang.people_nr} for gang in planned.gangs],
        "chain": [_key(id) for id in planned.chain],
        "walls": [_wall(wall) for wall in planned.walls],
        "tasks": [_task(task) for task in planned.tasks()],
        "follows": [_task(task) for task in planned.follows],
        "orders": [_order(order) for order in planned.orders],
    }


def _key(id: Id) -> str:
    return id if isinstance(id, str) else "/".join(id)


def _day(day: datetime.date | None) -> str | None:
    return day.isoformat() if day is not None else None


def _by_run(ends: ByRun[datetime.date] | None) -> list[str | None] | None:
    return None if ends is None else [_day(ends.early), _day(ends.likely), _day(ends.late)]


def _frost(job: Job) -> Data | None:
    frost = job.programme.frost
    if frost is None:
        return None
    ends = {"early": frost.early, "late": frost.late}
    return {**{name: f"{end.month:02}-{end.day:02}" for name, end in ends.items()}, "per_cent": frost.chance_per_cent}


def place_data(path: ScopePath) -> Data:
    """A scope's path by the names of its levels."""
    return dict(zip(("element", "work", "coat"), path, strict=False))


def _wall(wall: Wall) -> Data:
    up, down = wall.access or (None, None)
    weeks = wall.access_weeks
    return {
        **place_data(wall.path),
        "access": [_day(up), _day(down)] if wall.access is not None else None,
        "access_weeks": None if weeks is None else [weeks.early, weeks.likely, weeks.late],
        "lime": [_lime(coat) for coat in wall.lime],
    }


def _lime(coat: Lime) -> Data:
    return {
        **place_data(coat.path),
        "laid": [_day(coat.first), _day(coat.last)],
        "damp_until": _day(coat.damp_until),
        "cover_until": _day(coat.cover_until),
        "season_last": _day(coat.season_last),
        "place_by": _day(coat.place_by),
        "place_limit": coat.place_limit,
    }


def _task(task: Task) -> Data:
    return {
        "task": task.key,
        "kind": task.kind,
        "what": task.label,
        "days": [_plain(days) for days in (task.why.days.low, task.why.days.likely, task.why.days.high)],
        "from": _day(task.start),
        "to": _day(task.finish),
        "to_early_late": [_day(task.early_finish), _day(task.latest_finish)],
        "in_hand_days": task.float_days,
        "after": [_key(id) for id in task.after],
    }


def _plain(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")


def _order(order: OrderBy) -> Data:
    return {
        "thing": order.what,
        "weeks": f"{order.weeks:f}",
        "first_use": _day(order.first_use),
        "by": _day(order.by),
        "because": order.because,
        "sources": list(order.sources),
    }


# --- told -----------------------------------------------------------------------------------------------------


def programme_told(job: Job) -> Data:
    """The programme for a reader: when it ends, what decides, each wall's tasks in order, and the orders."""
    planned = job.programme
    if planned.end is None:
        return {"programme": job.word("programme-none")}
    return {
        "programme": job.word("programme-end", end=job.said("programme_end_date")),
        "start": _day(planned.start),
        "completion": _day(planned.completion),
        "end early, likely, late": ", ".join(str(day) for day in _by_run(planned.end) or ()),
        "the slowest waits for spring": _stopped(job),
        "working days in hand": planned.in_hand_days,
        "frost": _frost_told(job),
        "gangs": [f"{gang.gangs_nr} × {gang.people_nr} {job.facts.say('trade', gang.trade)}" for gang in planned.gangs],
        "what decides the end": [_line(planned.by_id[id]) for id in planned.chain],
        "walls": [_wall_told(job, wall) for wall in planned.walls],
        "after the works": [_line(task) for task in planned.follows],
        "orders": [_order(order) for order in planned.orders],
    }


def _stopped(job: Job) -> dict[str, str]:
    """The lime that its season stops in the slowest run, with the last day for it."""
    planned = job.programme
    stopped = planned.runs.stopped.first if planned.runs is not None else ()
    return {planned.by_id[short.id].key: short.limit.isoformat() for short in stopped}


def _frost_told(job: Job) -> str:
    frost = job.programme.frost
    if frost is None:
        return ""
    early, late = (_month_day(job, day) for day in (frost.early, frost.late))
    return job.word("programme-frost", early=early, late=late, chance=str(frost.chance_per_cent))


def _month_day(job: Job, day: MonthDay) -> str:
    return job.facts.say("early_frost", day)


def _wall_told(job: Job, wall: Wall) -> Data:
    told: Data = {"wall": job.facts.title(wall.path)}
    if wall.access is not None and wall.access_weeks is not None:
        weeks = wall.access_weeks
        stands = " to ".join(str(day) for day in wall.access)
        told["access"] = f"{stands}, weeks {weeks.early}, {weeks.likely}, {weeks.late}"
    elif wall.access is not None:
        host = job.facts.spoken(wall.path, "access_host")
        told["access"] = f"{wall.access[0]} to {wall.access[1]}, that of {host}"
    if wall.last_coats:
        told["place the last lime by"] = {
            job.facts.title(coat.path[:2]): f"{_day(coat.place_by)} ({job.facts.spoken(coat.path, 'placing_limit')})"
            for coat in wall.last_coats
        }
    told["tasks"] = [_line(task) for task in wall.tasks]
    return told


def _line(task: Task) -> str:
    days, mark = _plain(task.why.days.likely), " *" if task.decides else ""
    when = f"{_day(task.start)} to {_day(task.finish)}"
    return f"{when}  {task.key} ({task.label}): {task.kind} {days} d, in hand {task.float_days}{mark}"


def task_told(job: Job, about: str) -> Data | None:
    """Why one task takes so long and waits for what; None where there is none so called."""
    tasks = (*job.programme.tasks(), *job.programme.follows)
    task = next((task for task in tasks if task.key == about), None)
    if task is None:
        return None
    by_id = job.programme.by_id
    return {
        **_task(task),
        "why": _why_told(job, task.path, task.why),
        "waits for": [_line(by_id[id]) for id in task.after if id in by_id],
        "what set its start": [
            _cause(job, task, cause.kind, cause.by, cause.day) for cause in job.programme.causes(task)
        ],
        "on the chain that decides the end": task.decides,
    }


def _cause(job: Job, task: Task, kind: str, by: Id | None, day: datetime.date) -> str:
    after = job.programme.by_id[by].key if by is not None and by in job.programme.by_id else ""
    return job.word(f"cause-{kind}", task=after, day=str(day))


def _why_told(job: Job, path: ScopePath, why: Why) -> Data:
    told: Data = {"because": why.because, "range": why.range, "confidence": why.confidence}
    told["sources"] = list(why.sources)
    if why.amount is not None and why.output is not None:
        names = job.facts.names
        told["quantity"] = f"{names[why.quantity].label}: {_spread(why.amount)} {names[why.quantity].unit}"
        told["output of one person and day"] = _spread(why.output)
        told["people"] = why.people_nr
    elif why.name in job.facts.names:
        told["days"] = f"{job.facts.names[why.name].label}: {job.facts.spoken(path, why.name)}"
    elif why.name:
        told["days"] = f"{why.name}: {_spread(why.days)}"
    if why.answered:
        told["output"] = job.word("output-answered", output=job.facts.spoken(path, "output_m2_per_day"))
    if why.timed:
        told["output"] = job.word("output-timed")
    if why.lacks:
        told["not answered"] = job.facts.names[why.lacks].label
    told["counted in it"] = [_why_told(job, path, part) for part in why.joined]
    return {key: value for key, value in told.items() if value not in ("", [], None)}


def _spread(value: Range[float]) -> str:
    ends = dict.fromkeys(_plain(end) for end in (value.low, value.likely, value.high))
    return ", ".join(ends)
