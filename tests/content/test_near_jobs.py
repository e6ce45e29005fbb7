"""Jobs near each example and case: what their papers order, hold and date goes together, whatever was answered."""

from __future__ import annotations

import pytest
from decided_cases import HERE
from helpers import slow_but
from jobs import EXAMPLES, job
from order_of_work import CHECKS
from random_answers import near_answers

from generator import pipeline
from generator.files.errors import InputInvalid

NEAR = [*EXAMPLES, *sorted(HERE.glob("*.yaml"))]


@pytest.mark.parametrize("seed", slow_but(0, range(4)))
def test_jobs_near_every_example_and_case_that_are_fit_for_tender_have_steps_holds_and_dates_that_agree(
    seed: int,
) -> None:
    tenders = 0
    for number, path in enumerate(NEAR):
        try:
            made = job(near_answers(1_000 * number + seed, path.read_text(encoding="utf-8")))
        except InputInvalid:
            continue
        if made.status == "tender":
            tenders += 1
            assert [told for check in CHECKS for told in check(made)] == [], path
            assert pipeline.assembled(made).documents
    assert tenders > len(NEAR) // 4
