"""What a finding instructs is borne: a clause that says the same in full speaks wherever the instruction is printed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.files.errors import Mark, Problem
from generator.job.job import Job
from generator.library.findings import Finding
from generator.papers.agreement.printed import SPECIFICATION, Printed

_TO_DO: Final = "have its clause hold there too, name another that says the same, or take the duty out of it"


def unborne(found: Printed) -> Iterator[Problem]:
    """Each instruction that is printed of a place to which none of its clauses speaks."""
    job = found.job
    for raised in without_clause(job):
        mark = job.library.marks.get(("finding", raised.code), Mark(raised.code))
        named = " or ".join(f"'{key}'" for key in job.library.findings[raised.code].clauses)
        where = job.facts.title(raised.scope)
        what = f"finding '{raised.code}' instructs in {SPECIFICATION} of {where}, and no clause {named} speaks there"
        yield Problem(mark, what, _TO_DO)


def without_clause(job: Job) -> Iterator[Finding]:
    """The findings whose instruction is printed where none of its clauses speaks; one that stands alone has none."""
    for raised in job.findings:
        clauses = job.library.findings[raised.code].clauses
        if not clauses or raised.level == "note" or raised.scope not in job.facts.scopes:
            continue
        # what a practice drops it has decided on
        is_dropped = not job.library.dropped.keys().isdisjoint(clauses)
        if not is_dropped and not any(job.serves(key, raised.scope) for key in clauses):
            yield raised
