"""Jobs nobody thought of, and jobs nearly right, as many as `JOBS` says: papers, job and record of each agree."""

from __future__ import annotations

import os
from typing import Final

import pytest
from helpers import slow_but
from jobs import EXAMPLES, americanised, example, job
from random_answers import below, near_answers, random_answers

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.files.errors import InputInvalid
from generator.job.job import Job
from generator.papers.agreement.agree import agreed_record
from generator.record.record import record

JOBS: Final = int(os.environ.get("JOBS", "40"))

DIFFERED: Final = (159, 176, 368, 588, 887, 946)
"""Seeds of more jobs than are drawn each time, one of each kind of disagreement that they once found."""


def agree(found: Job) -> None:
    """Raises `InputInvalid` where two papers of the job, or its record, disagree."""
    made = pipeline.assembled(found, list(COMPANIONS))
    agreed_record(made, record(found, "answers.yaml", b"", {}))


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_the_papers_of_an_example_agree(name: str) -> None:
    agree(example(name))


@pytest.mark.parametrize("seed", slow_but(8, sorted({*range(JOBS), *DIFFERED})))
def test_the_papers_of_a_random_job_agree(seed: int) -> None:
    agree(job(random_answers(seed)))


@pytest.mark.parametrize("seed", slow_but(6, range(JOBS)))
def test_the_papers_of_a_job_nearly_right_agree_in_either_units(seed: int) -> None:
    """An example with a few answers drawn anew comes as far as tender papers; drawn whole, most jobs are held back."""
    path = EXAMPLES[below(len(EXAMPLES), seed, "example")]
    text = near_answers(seed, path.read_text(encoding="utf-8"))
    try:
        found = job(americanised(text) if below(3, seed, "units") == 0 else text)
    except InputInvalid:  # answers that no reading takes are no job
        return
    agree(found)
