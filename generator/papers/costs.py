"""Where the cost of each clause lies: the matrix from clauses to lines, a sheet of the workbook."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.document.model import CostRow, plain_text
from generator.job.duties import Duty
from generator.job.job import Job
from generator.measure.model import Item
from generator.papers.parts import clause_title, part_title

MOST_RUNS: Final = 24
"""So many runs of lines stand in a cell; of more their number is told, with the first and the last."""


def cost_rows(job: Job) -> tuple[CostRow, ...]:
    """A row for each clause of the papers in the order of their numbers, and one for each part above its clauses."""
    return tuple(_rows(job))


def _rows(job: Job) -> Iterator[CostRow]:
    places = {item.ref: place for place, item in enumerate(job.measured.items())}
    for part in job.parts:
        used = [clause for clause in part.clauses if clause.used]
        if used:
            yield CostRow(part.number, part_title(job, part), "", "", is_part=True)
        for clause in used:
            duty = job.duties[clause.clause_id]
            title = plain_text(clause_title(job, clause.clause_id))
            yield CostRow(clause.number, title, _place(job, duty), _lines(job, duty.lines, places))


def _place(job: Job, duty: Duty) -> str:
    return job.word("cost-all-rates" if duty.everywhere else f"cost-{duty.place}")


def _lines(job: Job, lines: Sequence[Item], places: dict[str, int]) -> str:
    """The numbers of lines, runs within a section drawn together: `1.2–1.4, 3.1`."""
    runs: list[list[Item]] = []
    for item in lines:
        last = runs[-1][-1] if runs else None
        follows = last is not None and places[last.ref] == places[item.ref] - 1 and _section(last) == _section(item)
        runs[-1].append(item) if follows else runs.append([item])
    if len(runs) > MOST_RUNS:
        return job.word("cost-many", count=str(len(lines)), first=lines[0].ref, last=lines[-1].ref)
    return ", ".join(run[0].ref if len(run) == 1 else f"{run[0].ref}–{run[-1].ref}" for run in runs)


def _section(item: Item) -> str:
    return item.ref.partition(".")[0]
