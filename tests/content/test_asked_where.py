"""What is asked where: nobody at a wall is asked what hangs on a question that is not asked there."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import EXAMPLES, example, job, shipped
from timed_jobs import codes, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions
from generator.papers.steps import all_steps
from generator.questionnaire.scopes import PROJECT, ScopePath

QUESTIONS = shipped().questionnaire
OF_ENABLING = ("gutter_m", "gutter_kind", "gutter_mended_m", "gutter_renewed_m", "ground_m", "coping_m")


def asked(made: Job, path: ScopePath, name: str) -> bool:
    """Whether a question is asked at a scope, or may come to be."""
    return QUESTIONS.applies(made.facts, path, name) is not False


@pytest.mark.parametrize("name", [path.parent.name for path in EXAMPLES])
def test_gutters_ground_and_copings_are_asked_of_enabling_work_alone(name: str) -> None:
    made = example(name)
    for done in made.facts.views("work"):
        expected = done.text("work") == "enabling"
        assert {asked(made, done.path, each) for each in OF_ENABLING} <= {expected, False}


def test_gutters_are_asked_of_enabling_work_that_mends_them() -> None:
    mends = {"enabling_tasks": "[gutters, ground]", "treated_per_cent": None, "joint_finish": None}
    made = job(answers(wall(work("mend", work="enabling", **mends))))
    told = {each for each in OF_ENABLING if asked(made, ("front", "mend"), each)}
    assert told == set(OF_ENABLING) - {"coping_m"}
    assert asked(made, PROJECT, "ground_remains")


def test_what_lies_in_ground_that_is_dug_is_asked_and_missed_under_a_sum_too_and_steps_remind_of_it() -> None:
    mends = {"enabling_tasks": "[ground]", "ground_m": "5", "treated_per_cent": None, "joint_finish": None}
    dug = job(answers(wall(work("mend", work="enabling", **mends))))
    summed = job(answers(wall(decay_causes="[high-ground]", causes_cured="in-this-work")))
    for made, step in ((dug, "enabling.trial-holes"), (summed, "wall.cause-ground")):
        assert "Not answered: Old remains" in " ".join(item.message for item in made.findings)
        (told,) = (told.entry for told in all_steps(made, ("front",)) if told.entry.id == step)
        assert "enabling.remains-not-asked" in told.clauses
    asked_ = job(answers(wall(work("mend", work="enabling", **mends)), ground_remains="not-asked"))
    assert "remains-not-asked" in {item.code for item in asked_.findings}
    (officer,) = companions(asked_, ["officer"]).values()
    assert "Old remains in the ground that is dug" in outline(officer)
    known = job(answers(wall(work("mend", work="enabling", **mends)), ground_remains="none-expected"))
    assert not known.in_papers("enabling.remains-not-asked")


@pytest.mark.parametrize(
    ("beside", "coats", "age"),
    [
        ("yes", "three", None),
        ("yes", "three", "before-1920"),
        ("yes", "three", "later"),
        ("no", "three", None),
        (None, "finish", None),
    ],
)
def test_old_plaster_that_is_cut_beside_new_is_asked_its_age_on_masonry_too_and_has_its_hygiene(
    beside: str | None, coats: str, age: str | None
) -> None:
    new = surface("new", "plaster", plaster_coats=coats, plaster_surface="trowelled", old_plaster_beside=beside)
    made = job(answers(wall(new, position="indoors", exposure="internal", plaster_age=age)))
    assert asked(made, ("front",), "plaster_age") == (beside == "yes")
    holds = beside == "yes" and age != "later"
    assert made.in_papers("safety.hair-plaster") == holds
    assert ("wall.hygiene" in {told.entry.id for told in all_steps(made, ("front",))}) == holds
    assert ("old-hair-plaster" in codes(made)) == (age == "before-1920")


def test_what_hangs_on_an_unasked_question_of_the_wall_is_not_asked_either() -> None:
    made = job(answers(wall(causes_cured=None)))
    for name in ("cured_on", "causes_done_date", "flues_serve", "alarm_rooms_nr", "plaster_age"):
        assert not asked(made, ("front",), name)
    for name in ("cement_firm_m2", "decoration_weeks"):
        assert not asked(made, ("front", "repoint"), name)
    for name in ("ground_remains", "causes_sum", "flue_sum", "conservator_sum"):
        assert not asked(made, PROJECT, name)


def test_hollows_are_asked_where_coats_lie_on_the_wall_and_not_under_a_finish_coat_alone() -> None:
    for coats, is_asked in (("two", True), ("three", True), ("finish", False)):
        made = job(answers(wall(work("p", work="plaster", plaster_coats=coats), masonry="brick", id_="front")))
        assert asked(made, ("front", "p"), "dubbing_mm") == is_asked
