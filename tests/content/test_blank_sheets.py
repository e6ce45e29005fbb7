"""The works and questions that a survey sheet has before there is a job are told by names that there are."""

from __future__ import annotations

from jobs import shipped

WORDS, QUESTIONS = shipped().words, shipped().questionnaire.questions


def listed(key: str) -> list[str]:
    return [name.strip() for name in WORDS[key].split(",")]


def test_each_kind_of_wall_has_its_usual_works_and_they_are_works() -> None:
    kinds = {f"survey-works-{one.is_}" for one in QUESTIONS["position"].choices}
    assert kinds == {key for key in WORDS if key.startswith("survey-works-")}
    works = {one.is_ for one in QUESTIONS["work"].choices}
    assert {key: set(listed(key)) - works for key in kinds if set(listed(key)) - works} == {}


def test_every_work_is_usual_somewhere() -> None:
    usual = {work for one in QUESTIONS["position"].choices for work in listed(f"survey-works-{one.is_}")}
    assert usual == {one.is_ for one in QUESTIONS["work"].choices}


def test_questions_that_wait_until_a_work_is_chosen_are_asked_of_works() -> None:
    assert {QUESTIONS[name].scope for name in listed("survey-once-chosen")} == {"work"}
