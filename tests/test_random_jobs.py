"""Jobs nobody thought of: random valid answers make papers or a draft, with every reference where it leads."""

from __future__ import annotations

import pytest
from helpers import slow_but
from jobs import job
from random_answers import random_answers

from generator import pipeline
from generator.document.outline import outline
from generator.papers.assemble import assemble


@pytest.mark.parametrize("seed", slow_but(8, range(150)))
def test_a_random_job_is_told_whole(seed: int) -> None:
    found = job(random_answers(seed))
    text = outline(assemble(found).specification)
    assert found.status in ("tender", "draft")
    assert "None" not in text.split()
    assert "{{" not in text


@pytest.mark.parametrize("seed", slow_but(3, range(12)))
def test_a_random_job_is_written_whole(seed: int) -> None:
    assert set(pipeline.papers(job(random_answers(seed)))) == {
        "specification.docx", "mix-schedule.docx", "pricing-schedule.xlsx",
    }  # fmt: skip
