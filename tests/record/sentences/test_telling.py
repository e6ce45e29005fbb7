"""Explanations in sentences: whole, in the reader's words, for everything that can be asked about."""

from __future__ import annotations

import re

import pytest
from answers_text import answers, one_wall, wall
from jobs import EXAMPLES, example, job

from generator.job.job import Job
from generator.record.explain import PROGRAMME, explain
from generator.record.sentences.telling import sentences

EXAMPLES_SAID = [job(path.read_text(encoding="utf-8")) for path in EXAMPLES]
# A name of the register, a list or mapping of Python, or a comparison of a condition: nothing for a reader.
NO_SENTENCE = re.compile(r"\b[a-z]+_[a-z0-9_]+\b(?!\))|[\[{]'|==|None|True|False")


def told(made: Job, about: str) -> str:
    found = explain(made, about)
    assert found is not None, about
    return "\n".join(text for text, _ in sentences(made, found))


def subjects(made: Job) -> list[str]:
    """One of everything that a job can be asked about, and every wall, mix and line."""
    walls = [scope.title for scope in made.facts.at("element")]
    mixes = [mix.ref for mix in made.decisions.mixes]
    lines = [item.ref for item in made.measured.items()]
    clauses = [key for key, chosen in made.selections.items() if chosen.included][::9]
    absent = [key for key, chosen in made.selections.items() if not chosen.included][::25]
    tasks = [task.key for task in made.programme.tasks()][::7]
    return ["", *walls, *mixes, *lines, *clauses, *absent, *tasks, PROGRAMME, "Raking depth"]


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_everything_that_can_be_asked_about_is_told_without_a_name_of_the_register(made: Job) -> None:
    slips = {about: found[0] for about in subjects(made) if (found := NO_SENTENCE.search(told(made, about)))}
    assert slips == {}


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_the_whole_job_is_told_on_a_page(made: Job) -> None:
    found = explain(made, "")
    assert found is not None
    assert len(sentences(made, found)) < 60


def test_a_wall_tells_its_lime_why_on_what_it_rests_and_what_was_not_taken() -> None:
    made = job(one_wall())
    text = told(made, "Front wall")
    reason = made.decisions.reasons[("front", "repoint", "pointing"), "binder"]
    assert f"Pointing: matured lime putty. {reason.because}" in text
    assert "It rests on what it is built of: brick; " in text
    assert "Not taken: natural hydraulic lime NHL 5. " in text
    assert re.search(r"^Clauses that speak to it: [0-9]+\.[0-9]+", text, re.MULTILINE)


def test_a_wall_tells_nothing_of_another() -> None:
    made = job(answers(wall(id_="a", name="Wall A"), wall(id_="b", name="Wall B", hardness="hard")))
    assert "Wall A" not in told(made, "b")


def test_a_wall_that_is_open_tells_what_is_to_settle_and_what_to_do() -> None:
    made = job(one_wall(hardness=None))
    text = told(made, "front")
    message = next(item for item in made.findings if item.level == "block" and item.scope[:1] == ("front",))
    assert f"Holds back the tender: {message.message} {message.action}" in text


def test_a_mix_tells_its_gauge_its_reasons_and_what_is_ordered() -> None:
    text = told(job(one_wall()), "M1")
    assert "Gauge: 1 : 2.5. " in text
    assert "\nWhy 2.5 boxes of damp loose sand to 1 box of lime putty: " in text
    assert re.search(r"; order [0-9]+ × tub\.", text)


def test_a_line_tells_its_quantity_where_it_comes_from_and_its_clauses() -> None:
    made = job(one_wall())
    item = next(item for item in made.measured.items() if item.entry.id == "repoint.brick")
    text = told(made, item.ref)
    assert f"Quantity: {item.quantity} m², " in text
    assert "\nArea treated: " in text
    assert "It is in the schedule because of these answers and decisions: kind of work: repointing" in text
    assert "\nWhat it must include stands in clauses " in text


def test_a_clause_tells_why_it_is_in_or_what_keeps_it_out() -> None:
    made = job(one_wall())
    number = made.numbers["clause:raking-out.depth"]
    assert told(made, f"clause {number}").startswith(f"Clause {number}, Depth of raking out (raking-out.depth)\n")
    assert "What keeps it out: what it is built of: brick." in told(made, "pointing.flint")


def test_a_figure_tells_how_sure_it_is_where_it_stands_and_where_it_is_printed() -> None:
    text = told(job(one_wall()), "view_m")
    assert text.startswith("view_m: 5 m\nSources: ")
    assert "clauses/figures/10-site.yaml:" in text
    assert "\nIt is printed in:\nspecification, clause " in text


def test_a_task_tells_its_days_what_it_comes_after_and_what_set_its_start() -> None:
    made = example("mill-house")
    tasks = {task.key: task for task in made.programme.tasks()}
    laid, passed = tasks["gable/repoint/pointing/lay"], tasks["gable/repoint/raked"]
    start, finish, done = (made.facts.say("finish_date", day) for day in (laid.start, laid.finish, passed.finish))
    text = told(made, laid.key)
    assert text.startswith(f"Pointing, Rubble gable: {start} to {finish}.\nIt takes 5 days likely, 4 to 6.")
    assert f"\nIt comes after raked joints passed, Rubble gable, done {done}." in text
    assert f"\nWhat set its start: {start}: " in text
    waits = (told(made, key) for key in tasks)
    assert any(re.search(r"\nWhat set its start: [0-9]+ \w+ 2027: its gang has done ", text) for text in waits)


def test_a_photograph_tells_what_it_gives() -> None:
    made = example("garden-front")
    text = told(made, made.photographs[0].id)
    assert "Garden front from the lawn" in text


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_the_last_lime_of_a_work_is_told_by_the_day_of_its_last_coat_as_the_papers_tell_it(made: Job) -> None:
    said = told(made, PROGRAMME)
    for work in made.facts.views("work"):
        coats = [coat for coat in work.inside("coat") if coat.day("last_placing_date") is not None]
        if coats:
            assert f"place the last lime by {made.facts.spoken(coats[-1].path, 'last_placing_date')} (" in said


@pytest.mark.parametrize("made", EXAMPLES_SAID, ids=lambda made: made.said("reference"))
def test_the_days_of_the_programme_are_told_in_the_form_of_the_papers(made: Job) -> None:
    assert re.findall(r"\d{4}-\d\d-\d\d", told(made, PROGRAMME)) == []
