"""What is laid together is kept together: the stopping of tuck pointing with its ribbon, as long as either asks for."""

from __future__ import annotations

import pytest
from answers_text import one_wall
from jobs import job

from generator import pipeline
from generator.document.files import COMPANIONS

TUCK = {"joint_finish": "tuck", "old_joint": "tuck", "access": "scaffold"}
COATS = [("front", "repoint", coat) for coat in ("pointing", "ribbon")]


@pytest.mark.parametrize("dated", [{}, {"start_date": None}])
def test_the_stopping_of_tuck_pointing_has_the_days_of_its_ribbon(dated: dict[str, None]) -> None:
    found = job(one_wall(**TUCK, **dated))
    for name in ("kept_damp_days", "kept_covered_days"):
        stopping, ribbon = (found.facts.at_scope(path).number(name) for path in COATS)
        assert stopping
        assert stopping == ribbon


def test_papers_of_tuck_pointing_for_tender_leave_nothing_to_be_settled() -> None:
    found = job(one_wall(**TUCK))
    assert found.status == "tender"
    assert not pipeline.assembled(found, list(COMPANIONS)).unsettled


def test_tuck_pointing_is_kept_damp_as_long_as_its_stopping_asks_in_the_cold() -> None:
    cool = "2, 2, 4, 6, 9, 12, 14, 14, 11, 8, 5, 3"
    found = job(one_wall(**TUCK, hardness="medium", water_drop="within-minutes", month_means_c=cool))
    stopping, ribbon = map(found.facts.at_scope, COATS)
    assert (stopping.text("days_told_at"), ribbon.text("days_told_at")) == ("20-c", "any")
    assert (ribbon.number("kept_damp_days") or 0) > (ribbon.number("damp_days") or 0)
    assert stopping.number("kept_damp_days") == ribbon.number("kept_damp_days")
