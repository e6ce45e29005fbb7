"""What was not answered, or cannot be known, is told; it is never filled in silence."""

from __future__ import annotations

import pytest
from answers_text import one_wall
from small_library import job, small

QUESTIONS = small().questionnaire.questions
BLOCKING = [
    "place", "specifier", "tender_return_date", "start_date", "early_frost", "protection", "mixing_place",
    "hardness", "joint_width_mm", "exposure", "position", "decay_causes", "leaning", "access", "face_area_m2",
]  # fmt: skip


def messages(code: str, **changes: str | None) -> list[str]:
    return [item.message for item in job(one_wall(**changes)).findings if item.code == code]


def test_the_one_wall_job_is_answered_in_full() -> None:
    found = job(one_wall())
    assert found.status == "tender"
    assert not [item for item in found.findings if item.code.startswith(("not-answered", "not-known"))]


@pytest.mark.parametrize("name", BLOCKING)
def test_a_question_that_matters_left_out_blocks_the_set(name: str) -> None:
    found = messages("not-answered", **{name: None})
    assert any(QUESTIONS[name].label in message for message in found)


@pytest.mark.parametrize("name", ["hardness", "joint_width_mm", "exposure", "protection", "mixing_place"])
def test_not_known_is_an_answer_with_a_consequence(name: str) -> None:
    found = messages("not-known-block", **{name: "not known"})
    assert any(QUESTIONS[name].label in message for message in found)


def test_without_the_hardness_no_mix_is_made_up() -> None:
    assert job(one_wall(hardness="not known")).decisions.mixes == ()


def test_an_answer_that_does_not_apply_is_reported_unused() -> None:
    assert any("Copings" not in text for text in messages("answer-unused", flues="all-dead"))


def test_who_must_answer_is_named() -> None:
    found = [item for item in job(one_wall(protection=None)).findings if item.code == "not-answered"]
    assert [item.answer_by for item in found] == ["owner"]
