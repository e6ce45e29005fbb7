"""The steps of a wall in the order in which they are done: works in the order of work, each step told once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import groupby

from generator.document.model import Step
from generator.job.job import Job, grouped
from generator.job.numbers import runs_told
from generator.library.entries import OperationEntry
from generator.papers.making import clause_refs
from generator.questionnaire.scopes import ScopePath
from generator.values import Struct


class Told(Struct, frozen=True):
    """A step as it stands on a sheet: its entry, the scope it is told of, and its line with its clauses."""

    entry: OperationEntry
    path: ScopePath
    step: Step


def works_in_order(job: Job, wall: ScopePath) -> list[ScopePath]:
    """The works of a wall in the order in which they are done, those of one place as they were answered."""
    works = [work.path for work in job.facts.inside(wall, "work")]
    return sorted(works, key=lambda path: _place(job, path))


def _place(job: Job, path: ScopePath) -> int:
    return int(job.library.row("work-order", work=job.facts.at_scope(path).text("work")).number("place"))


def wall_steps(job: Job, wall: ScopePath) -> Mapping[ScopePath, list[Told]]:
    """The steps of each work of a wall: those that another work tells for it stand there, and nowhere else."""
    found: Mapping[ScopePath, list[Told]] = job.kept(f"steps {wall[0]}", lambda: _wall_steps(job, wall))
    return found


def steps_of_works(job: Job, wall: ScopePath) -> dict[ScopePath, str]:
    """The numbers of the steps of each work of a wall, those too that stand among another's: `1–12, 16–26`.

    What the wall needs once is counted with the work that it stands among.
    """
    works = works_in_order(job, wall)
    steps = wall_steps(job, wall)
    owners = [path if told.entry.once else told.path[:2] for path in works for told in steps[path]]
    runs = [(owner, len(list(run))) for owner, run in groupby(owners)]
    found: dict[ScopePath, list[list[str]]] = {path: [] for path in works}
    first = 1
    for owner, steps_nr in runs:
        found[owner].append(list(map(str, range(first, first + steps_nr))))
        first += steps_nr
    return {path: runs_told(drawn) for path, drawn in found.items()}


def all_steps(job: Job, wall: ScopePath) -> list[Told]:
    """The steps of all works of a wall, in their order."""
    return [told for steps in wall_steps(job, wall).values() for told in steps]


def _wall_steps(job: Job, wall: ScopePath) -> dict[ScopePath, list[Told]]:
    works = works_in_order(job, wall)
    own = {work: list(_applying(job, work)) for work in works}
    kept = {work: [told for told in own[work] if not _told_by_another(told, work, works, own)] for work in works}
    placed = [(work, told) for work in works for told in kept[work] if told.entry.before or told.entry.behind]
    for path, told in placed:
        _put_among(told, path, kept)
    return kept


def _applying(job: Job, path: ScopePath) -> Iterator[Told]:
    """The steps of a work with their clauses; one of whose clauses none speaks to it calls nothing to mind."""
    standing: dict[ScopePath, list[tuple[OperationEntry, ScopePath]]] = job.kept(
        "operations of works", lambda: grouped(_standing(job), lambda one: one[1][:2])
    )
    for entry, at in standing.get(path, ()):
        refs = clause_refs(job, entry.clauses, path)
        if refs or not entry.clauses:
            yield Told(entry, at, Step(job.filling.line("operation", entry.id, "text", at), refs))


def _standing(job: Job) -> Iterator[tuple[OperationEntry, ScopePath]]:
    """The operations in their order, each with the scopes that call for it; those of mixes are told on their cards."""
    for entry in job.library.operations.values():
        if entry.per != "mix":
            level = entry.per if entry.per in ("work", "coat") else "work"
            found = job.library.condition("operation", entry.id).where(job.facts, level)
            yield from ((entry, at) for at in found)


def _told_by_another(told: Told, work: ScopePath, works: list[ScopePath], own: Mapping[ScopePath, list[Told]]) -> bool:
    """Whether the first or the last work of a wall tells the step for this one, since the wall needs it once."""
    if not told.entry.once:
        return False
    at = works.index(work)
    others = works[:at] if told.entry.once == "first" else works[at + 1 :]
    return any(
        other.entry.once == told.entry.once and other.step == told.step for path in others for other in own[path]
    )


def _put_among(told: Told, work: ScopePath, kept: dict[ScopePath, list[Told]]) -> None:
    """Puts a step behind the last of those that it names on its wall, else before the first; or it stays."""
    for steps in reversed(kept.values()):
        if named := _named(steps, told.entry.behind):
            kept[work].remove(told)
            steps.insert(steps.index(named[-1]) + 1, told)
            return
    for steps in kept.values():
        if named := _named(steps, told.entry.before):
            kept[work].remove(told)
            steps.insert(steps.index(named[0]), told)
            return


def _named(steps: list[Told], names: tuple[str, ...]) -> list[Told]:
    return [step for step in steps if step.entry.id in names]
