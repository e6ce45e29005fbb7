"""Jobs in time, for tests: the programme of an answers text, its tasks by key, and what its findings say."""

from __future__ import annotations

from datetime import date

from answers_text import answers, wall, work
from jobs import job

from generator.job.job import Job
from generator.programme.model import Programme, Task

NOT_POINTED = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish"), None
)


def task(found: Programme, key: str) -> Task:
    """The task of a key such as `front/repoint/rake`."""
    return next(item for item in (*found.tasks(), *found.follows) if item.key == key)


def keys(found: Programme) -> list[str]:
    """The keys of all tasks."""
    return [item.key for item in found.tasks()]


def span(found: Programme, key: str) -> tuple[date, date]:
    """The first and the last day of a task."""
    item = task(found, key)
    return item.start, item.finish


def codes(found: Job) -> set[str]:
    """The codes of a job's findings."""
    return {item.code for item in found.findings}


def told(found: Job, code: str) -> str:
    """What the finding of a code says, its message and what to do."""
    item = next(item for item in found.findings if item.code == code)
    return f"{item.message} {item.action}"


def scaffolded(*works: str, id_: str = "front", name: str = "Front wall", **changes: str | None) -> str:
    """A wall behind a scaffold."""
    return wall(*works, id_=id_, name=name, access="scaffold", **changes)


def surface(id_: str, kind: str, **changes: str | None) -> str:
    """A work of another kind than repointing."""
    return work(id_, work=kind, **{**NOT_POINTED, **changes})


def planned(*walls: str, **project: str | None) -> Job:
    """The job of some walls."""
    return job(answers(*walls, **project))
