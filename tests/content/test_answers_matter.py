"""Each answer matters where it is asked: changed, it changes the papers, is refused, or is reported unused."""

from __future__ import annotations

import copy
import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, job, said, shipped
from plain_yaml import as_yaml, from_yaml

from generator.errors import InputInvalid
from generator.job.job import Job
from generator.questionnaire.questions import Question

Place = tuple[str | int, ...]


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
    if question.kind == "records":
        return [] if value else value
    return "another text"


def cases() -> Iterator[Any]:
    for path in EXAMPLES:
        answers = from_yaml(path.read_text(encoding="utf-8"))
        for place, question in asked(answers):
            yield pytest.param(path, place, question, id=f"{path.parent.name}:{'/'.join(map(str, place))}")


_BEFORE: dict[Path, str] = {}


def before(path: Path) -> str:
    if path not in _BEFORE:
        _BEFORE[path] = said(job(path.read_text(encoding="utf-8")))
    return _BEFORE[path]


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
    answers = from_yaml(path.read_text(encoding="utf-8"))
    for value in others(question, at(answers, place)):
        changed = copy.deepcopy(answers)
        at(changed, place[:-1])[place[-1]] = value
        found = settled_or_refused(as_yaml(changed), question)
        if found is None or is_unused(found, question) or said(found) != before(path):
            return
    pytest.fail(f"{question.name} changes nothing")


def is_unused(found: Job, question: Question) -> bool:
    """Whether the job reports the answer as one that does not apply."""
    return any(item.code == "answer-unused" and question.label.rstrip("?") in item.message for item in found.findings)
