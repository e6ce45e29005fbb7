"""A task or the programme in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from generator.job.job import Job
from generator.programme.model import Task, Wall
from generator.record.explain import Explanation
from generator.record.sentences.parts import INDENT, Line, Teller, day, sources, stopped
from generator.values import capital


def _task(job: Job, found: Explanation) -> Iterator[Line]:
    by_key = {task.key: task for task in (*job.programme.tasks(), *job.programme.follows)}
    task = by_key[found["task"]]
    told = {"begin": day(job, found["from"]), "end": day(job, found["to"])}
    yield job.word("explain-task", what=capital(found["what"]), place=_place(job, task), **told), 0
    low, likely, high = found["days"]
    key = "explain-task-days" if low != high else "explain-task-days-fixed"
    yield job.word(key, likely=likely, low=low, high=high), 0
    yield from _why(job, found["why"], 0)
    for other in (by_key[key] for key in found["after"] if key in by_key):
        done = day(job, other.finish.isoformat())
        yield job.word("explain-task-after", what=other.label, place=_place(job, other), day=done), INDENT
    for cause in job.programme.causes(task):
        by = job.programme.by_id.get(cause.by) if cause.by is not None else None
        done = job.word("explain-task-named", what=by.label, place=_place(job, by)) if by is not None else ""
        said = job.word(f"cause-{cause.kind}", task=done, day=day(job, cause.day.isoformat()))
        yield job.word("explain-task-cause", cause=said), 0
    if task.decides:
        yield job.word("explain-task-decides"), 0
    else:
        yield job.word("explain-task-hand", days=str(found["in_hand_days"])), 0


def _place(job: Job, task: Task) -> str:
    return job.filling.place(task.path) if task.path else job.word("whole-job")


def _why(job: Job, why: Explanation, indent: int) -> Iterator[Line]:
    """Why a task takes its days: the reason, what it is reckoned from, and the tasks counted in it."""
    if why.get("because"):
        yield stopped(why["because"]), indent
    if "quantity" in why:
        rates = {"output": why["output of one person and day"], "people": str(why["people"])}
        yield job.word("explain-task-output", quantity=why["quantity"], **rates), indent
    for key in ("days", "output"):
        if why.get(key):
            yield stopped(capital(why[key])), indent
    if why.get("not answered"):
        yield job.word("explain-task-lacks", label=why["not answered"]), indent
    if why.get("range"):
        yield job.word("explain-published", range=stopped(why["range"])), indent
    yield from sources(job, why.get("sources", ()), indent)
    for part in why.get("counted in it", ()):
        yield job.word("explain-task-part"), indent
        yield from _why(job, part, indent + INDENT)


def _programme(job: Job, found: Explanation) -> Iterator[Line]:
    planned = job.programme
    if planned.end is None:
        yield found["programme"], 0
        return
    early, likely, late = (
        day(job, end.isoformat()) for end in (planned.end.early, planned.end.likely, planned.end.late)
    )
    yield job.word("explain-programme", start=day(job, found["start"]), likely=likely, early=early, late=late), 0
    by_key = {task.key: task for task in planned.tasks()}
    for key, last in found["the slowest waits for spring"].items():
        what, place = capital(by_key[key].label), _place(job, by_key[key])
        yield job.word("explain-programme-stopped", what=what, place=place, last=day(job, last)), INDENT
    if found["completion"]:
        told = {"completion": day(job, found["completion"]), "days": str(found["working days in hand"])}
        yield job.word("explain-programme-completion", **told), 0
    if found["frost"]:
        yield found["frost"], 0
    yield job.word("explain-programme-chain"), 0
    for task in (planned.by_id[key] for key in planned.chain):
        span = {"begin": day(job, task.start.isoformat()), "end": day(job, task.finish.isoformat())}
        yield job.word("explain-task", what=capital(task.label), place=_place(job, task), **span), INDENT
    for wall in planned.walls:
        yield from _wall(job, wall)
    for order in found["orders"]:
        told = {"thing": order["thing"], "day": day(job, order["by"]), "because": stopped(order["because"])}
        yield job.word("explain-programme-order", **told), 0


def _wall(job: Job, wall: Wall) -> Iterator[Line]:
    """When access stands, and by when the last coat of each work is laid."""
    title = job.facts.title(wall.path)
    if wall.access is not None and wall.access_weeks is not None:
        stands = {key: day(job, at.isoformat()) for key, at in zip(("up", "down"), wall.access, strict=True)}
        weeks = wall.access_weeks
        by_run = {"early": str(weeks.early), "likely": str(weeks.likely), "late": str(weeks.late)}
        yield job.word("explain-programme-access", wall=title, **stands, **by_run), 0
    elif wall.access is not None:
        stands = {key: day(job, at.isoformat()) for key, at in zip(("up", "down"), wall.access, strict=True)}
        host = job.facts.spoken(wall.path, "access_host")
        yield job.word("explain-programme-access-of", wall=title, host=host, **stands), 0
    for coat in wall.last_coats:
        place = title if len(wall.last_coats) == 1 else job.facts.title(coat.path)
        by = day(job, coat.place_by.isoformat() if coat.place_by else None)
        limit = job.facts.spoken(coat.path, "placing_limit")
        yield job.word("explain-programme-place-by", place=place, day=by, limit=limit), 0


TELLERS: Final[Mapping[str, Teller]] = {"task": _task, "programme": _programme}
"""How each kind of thing is told, by what its explanation begins with."""
