"""What stands on every page: the job, its sheets with what each lacks, what the last deed did, and what is wrong."""

from __future__ import annotations

from dataclasses import dataclass

from generator.asking.survey.decided import Changed, Mark, changes, counted, findings, marks_of
from generator.asking.survey.desk import Deed, SurveyDesk
from generator.asking.survey.sheet import ANSWERS, Lack, lacking, sheet_of
from generator.document.model import plain_text
from generator.job.job import Job
from generator.questionnaire.scopes import PROJECT, ScopePath

MOST_CHANGED = 8


@dataclass(frozen=True, slots=True)
class Sheet:
    """The whole job or an element in the list of sheets."""

    path: ScopePath
    title: str
    works: tuple[tuple[ScopePath, str, str], ...]
    marks: tuple[Mark, ...]
    lacks: tuple[Lack, ...]
    levels: dict[str, int]


@dataclass(frozen=True, slots=True)
class Shell:
    """What every page shows."""

    title: str
    reference: str
    revision: str
    status: str
    file: str
    language: str
    sheets: tuple[Sheet, ...]
    lacks: tuple[Lack, ...]
    open_nr: int
    deed: Deed | None
    changed: tuple[Changed, ...]
    changed_more_nr: int
    can_undo: bool
    can_redo: bool
    changed_outside: bool
    mistakes: tuple[str, ...]


def shell(desk: SurveyDesk) -> Shell:
    """What every page shows, as answers stand."""
    job = desk.job
    lacks = tuple(lacking(job))
    before = desk.job_before()
    changed = changes(before, job) if before is not None else []
    holding = [item for item in job.findings if item.level == "block" and item.code not in ANSWERS]
    project = job.facts.at_scope(PROJECT)
    return Shell(
        title=project.text("title") or job.word("page-no-title"),
        reference=project.text("reference"),
        revision=project.text("revision"),
        status="tender" if job.status == "tender" and not lacks else "draft",
        file=desk.file.path.name,
        language=job.library.language,
        sheets=(_sheet(job, PROJECT, lacks), *(_sheet(job, scope.path, lacks) for scope in job.facts.at("element"))),
        lacks=lacks,
        open_nr=len(lacks) + len(holding),
        deed=desk.done[-1] if desk.done else None,
        changed=tuple(changed[:MOST_CHANGED]),
        changed_more_nr=max(0, len(changed) - MOST_CHANGED),
        can_undo=bool(desk.done),
        can_redo=bool(desk.undone),
        changed_outside=desk.changed_outside,
        mistakes=tuple(map(str, desk.mistakes)),
    )


def _sheet(job: Job, path: ScopePath, lacks: tuple[Lack, ...]) -> Sheet:
    inside = job.facts.inside(path, "work") if path else []
    return Sheet(
        path=path,
        title=job.facts.title(path) if path else job.word("whole-job"),
        works=tuple((work.path, work.title, plain_text((job.work_quantity(work.path),))) for work in inside),
        marks=tuple(marks_of(job, path)) if path else (),
        lacks=tuple(lack for lack in lacks if sheet_of(lack.path) == path),
        levels=counted([item for item in findings(job, path) if item.code not in ANSWERS]),
    )
