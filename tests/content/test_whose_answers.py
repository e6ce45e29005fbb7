"""Whose each answer is: nothing that belongs to one job alone is taken over into another."""

from __future__ import annotations

from jobs import shipped

from generator.asking.order import own_answers

QUESTIONS = shipped().questionnaire.questions
# Openings, chimney pots and what holds laths are as they were built, and are measured once for all jobs.
BUILT = {"openings", "pots_nr", "lath_gap_mm", "joist_width_mm"}


def whose(name: str) -> str:
    return QUESTIONS[name].whose


def test_dates_sums_and_what_is_asked_for_are_the_jobs() -> None:
    by_kind = {name for name, question in QUESTIONS.items() if question.kind in ("date", "photographs")}
    names = by_kind | {name for name in QUESTIONS if name.startswith("asked_") or name.endswith("_sum")}
    assert len(names) > 15
    assert [name for name in names if whose(name) != "job"] == []


def test_quantities_of_works_are_the_jobs_but_for_what_was_built_so() -> None:
    quantities = [name for name in own_answers(shipped().questionnaire) if QUESTIONS[name].scope == "work"]
    assert [name for name in quantities if whose(name) != "job" and name not in BUILT] == []


def test_what_is_seen_and_must_be_seen_again_is_the_jobs() -> None:
    again = ("condition", "decay_causes", "wall_wet", "species_evidence", "ecologist_says", "leaning", "engineer_says")
    assert [name for name in again if whose(name) != "job"] == []


def test_what_the_building_is_and_who_specifies_stays() -> None:
    assert {whose(name) for name in ("masonry", "hardness", "exposure", "joint_width_mm", "place", "early_frost")} == {
        "building"
    }
    assert {whose(name) for name in ("specifier", "currency", "gauge_box_l", "insurance")} == {"practice"}
