"""Where the cost of each clause lies: the matrix from clauses to lines, a sheet of the workbook."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from generator.document.model import CostRow, plain_text
from generator.job.duties import Duty
from generator.job.job import Job
from generator.job.numbers import runs_told
from generator.library.cost_places import LINE, PRELIMINARIES
from generator.measure.model import Item
from generator.papers.parts import clause_title, part_title

MOST_RUNS: Final = 24
"""So many runs of lines stand in a cell; of more their number is told, with the first and the last."""


def cost_rows(job: Job) -> tuple[CostRow, ...]:
    """A row for each clause of the papers in the order of their numbers, and one for each part above its clauses."""
    return tuple(_rows(job))


def _rows(job: Job) -> Iterator[CostRow]:
    for part in job.parts:
        used = [clause for clause in part.clauses if clause.used]
        if used:
            yield CostRow(part.number, part_title(job, part), "", "", is_part=True)
        for clause in used:
            duty = job.duties[clause.clause_id]
            title = plain_text(clause_title(job, clause.clause_id))
            yield CostRow(clause.number, title, _place(job, duty), _lines(job, duty.lines))


def _place(job: Job, duty: Duty) -> str:
    if duty.everywhere:
        return job.word("cost-all-rates")
    # a duty of the preliminaries that only rates for what may be found pay in this job
    elsewhere = duty.place == PRELIMINARIES and duty.lines and all(line.section != PRELIMINARIES for line in duty.lines)
    return job.word(f"cost-{LINE if elsewhere else duty.place}")


def _lines(job: Job, lines: Sequence[Item]) -> str:
    """The numbers of lines, runs within a section drawn together: `1.2–1.4, 3.1`."""
    runs = job.line_runs(lines)
    if len(runs) > MOST_RUNS:
        return job.word("cost-many", count=str(len(lines)), first=lines[0].ref, last=lines[-1].ref)
    return runs_told(runs)
