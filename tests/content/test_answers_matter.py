"""Each answer matters where it is asked: changed, it changes the papers, is refused, or is reported unused.

An answer about a wall is tried in the job of that wall alone: that is settled sooner, and no other wall can stand in.
"""

from __future__ import annotations

import copy
import datetime
import functools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, job, said, shipped
from plain_yaml import as_yaml, from_yaml

from generator.files.errors import InputInvalid
from generator.job.job import Job
from generator.questionnaire.questions import Question

Place = tuple[str | int, ...]
# Answers that change nothing and should: each is to be asked less, used, or reported unused.
SILENT = {
    "garden-front:project/putty_age_months": "no mix has putty in it, and nobody is told that the answer is unused",
    "winter-plaster:project/late_frost_date": "all is indoors, and nobody is told that the answer is unused",
}


def scope_of(place: Place) -> str:
    """The scope in which an answer stands."""
    return (
        "project"
        if place[0] == "project"
        else "coat"
        if "coats" in place
        else "work"
        if "works" in place
        else "element"
    )


def asked(answers: dict[str, Any]) -> Iterator[tuple[Place, Question]]:
    """The place of every answer in a file, with its question."""
    questions = shipped().questionnaire.questions
    scopes: list[Place] = [("project",)]
    for i, element in enumerate(answers["elements"]):
        scopes.append(("elements", i))
        scopes += [("elements", i, "works", k) for k in range(len(element["works"]))]
    for scope in scopes:
        for key in at(answers, scope):
            if key in questions and questions[key].scope == scope_of(scope):
                yield (*scope, key), questions[key]


def at(answers: Any, place: Place) -> Any:
    for step in place:
        answers = answers[step]
    return answers


def others(question: Question, value: Any) -> Iterator[str | list[Any]]:
    """Other answers that the question takes, the likeliest to matter first."""
    yield other(question, value)
    if question.kind == "number" and question.least is not None:
        yield str(question.least)
    if question.not_known:
        yield "not known"


def other(question: Question, value: Any) -> str | list[Any]:
    """Another answer that the question takes."""
    if question.kind == "choice":
        return next(choice.is_ for choice in question.choices if choice.is_ != value)
    if question.kind == "choices":
        return [] if value else [question.choices[0].is_]
    if question.kind == "number":
        raised = float(value) * 1.5 + 1 if value != "not known" else 5
        limit = float(question.most) if question.most is not None else raised
        return f"{raised:.0f}" if raised <= limit else f"{max(float(value) / 2, float(question.least or 0)):.0f}"
    if question.kind == "range":
        return "1 - 3 (2)" if not str(value).startswith("1 ") else "2 - 6 (3)"
    if question.kind == "date":
        return (datetime.date.fromisoformat(str(value)) + datetime.timedelta(days=9)).isoformat()
    if question.kind == "yes_no":
        return "no" if str(value).lower() in ("yes", "true") else "yes"
    if question.kind == "texts":
        return ["another text"]
    if question.kind in ("records", "photographs"):
        return [] if value else value
    return "another text"


def cases() -> Iterator[Any]:
    """Every answer of the examples; in every run each question once, in the shortest that answers it."""
    tried: set[str] = set()
    for path in sorted(EXAMPLES, key=lambda path: path.stat().st_size):
        for place, question in asked(answers_of(path)):
            id_ = f"{path.parent.name}:{'/'.join(map(str, place))}"
            marks = [pytest.mark.xfail(reason=SILENT[id_])] if id_ in SILENT else []
            again = [pytest.mark.slow] if question.name in tried else []
            tried.add(question.name)
            yield pytest.param(path, place, question, marks=[*marks, *again], id=id_)


@functools.cache
def answers_of(path: Path) -> Any:
    return from_yaml(path.read_text(encoding="utf-8"))


def alone(path: Path, place: Place) -> tuple[dict[str, Any], Place]:
    """The answers of an example, of no other wall than that of the place, and the place in them."""
    answers = answers_of(path)
    if place[0] == "project":
        return answers, place
    return {**answers, "elements": [answers["elements"][place[1]]]}, ("elements", 0, *place[2:])


@functools.cache
def before(path: Path, top: Place) -> tuple[str, ...]:
    """What is told of the job of a wall, or of the whole, as the example has it; `top` leads to it."""
    return tuple(said(job(as_yaml(alone(path, top)[0]))))


def settled_or_refused(text: str, question: Question) -> Job | None:
    """The job of an answers text, or None where it is refused for the question's sake."""
    try:
        return job(text)
    except InputInvalid as refused:
        if any(question.name in problem.what for problem in refused.problems):
            return None
        raise


@pytest.mark.parametrize(("path", "place", "question"), list(cases()))
def test_a_changed_answer_changes_the_papers_or_is_refused_or_reported_unused(
    path: Path, place: Place, question: Question
) -> None:
    answers, there = alone(path, place)
    for value in others(question, at(answers, there)):
        changed = copy.deepcopy(answers)
        at(changed, there[:-1])[there[-1]] = value
        found = settled_or_refused(as_yaml(changed), question)
        if found is None or is_unused(found, question) or tells_otherwise(found, before(path, place[:2])):
            return
    pytest.fail(f"{question.name} changes nothing")


def tells_otherwise(found: Job, was: tuple[str, ...]) -> bool:
    return any(now != then for now, then in zip(said(found), was, strict=True))


def is_unused(found: Job, question: Question) -> bool:
    """Whether the job reports the answer as one that does not apply."""
    return any(item.code == "answer-unused" and question.label.rstrip("?") in item.message for item in found.findings)
