"""A set of papers as neutral documents, made once and walked once: its three papers and the companions wanted."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from generator.document.model import Document
from generator.job.job import Job
from generator.papers.agreement.printed import SPECIFICATION, Printed, printed
from generator.papers.assemble import assemble


def whole(job: Job, wanted: Sequence[str] = ()) -> Printed:
    """The papers of a job with those companions, and all that they print; not yet held against one another."""
    made, others = assemble(job), dict[str, Document]()
    if wanted:
        from generator.papers.companions import companions

        others = {Path(name).stem: paper for name, paper in companions(job, wanted).items()}
    return printed(job, {SPECIFICATION: made.specification, **others}, made.sheet, made.book)
