"""Jobs nobody thought of, as many as `JOBS` says: papers, job and record of each agree with one another."""

from __future__ import annotations

import os
from typing import Final

import pytest
from helpers import slow_but
from jobs import EXAMPLES, example, job
from random_answers import random_answers

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.job.job import Job
from generator.papers.agreement.agree import agreed_record
from generator.record.record import record

JOBS: Final = int(os.environ.get("JOBS", "40"))


def agree(found: Job) -> None:
    """Raises `InputInvalid` where two papers of the job, or its record, disagree."""
    made = pipeline.assembled(found, list(COMPANIONS))
    agreed_record(made, record(found, "answers.yaml", b"", {}))


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_the_papers_of_an_example_agree(name: str) -> None:
    agree(example(name))


@pytest.mark.parametrize("seed", slow_but(20, range(JOBS)))
def test_the_papers_of_a_random_job_agree(seed: int) -> None:
    agree(job(random_answers(seed)))
