"""Random answers that are all valid, built from the questions themselves: jobs nobody thought of.

Each draw hangs on the seed, the scope and the name alone: a new question leaves every other answer as it was.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any, TypeVar

from jobs import shipped
from plain_yaml import as_yaml, from_yaml

from generator.questionnaire.questions import Question, Questionnaire, RecordField

Option = TypeVar("Option")

LIKELY = 0.85
_KEPT = ("work", "treated_area_from")
"""Answers that others hang on so much that another one is another job."""


def chance(*of: object) -> float:
    """A number from 0 to below 1 that hangs on what it is drawn for and on nothing else."""
    drawn = hashlib.blake2b("\x1f".join(map(str, of)).encode(), digest_size=6).digest()
    return float(int.from_bytes(drawn, "big") / 2**48)


def below(count: int, *of: object) -> int:
    """A whole number from 0 to below a count."""
    return int(chance(*of) * count)


def shuffled(options: Sequence[Option], *of: object) -> list[Option]:
    """Options in an order by chance; a new one comes between and leaves the others in theirs."""
    return sorted(options, key=lambda option: chance(*of, option))


def random_answers(seed: int, works: list[str] | None = None, asked: Questionnaire | None = None) -> str:
    """An answers text of one to three elements, each question answered or, now and then, left out."""
    asked = asked or shipped().questionnaire
    job = {"title": f"Job {seed}", "reference": f"R-{seed}", "issue_date": "2027-01-04"}
    elements = [_element(asked, seed, f"wall-{index}", works) for index in range(1 + below(3, seed, "elements"))]
    return as_yaml({"project": {**_scope(asked, "project", seed), **job}, "elements": elements})


def near_answers(seed: int, text: str, asked: Questionnaire | None = None) -> str:
    """An answers text with one to six of its answers drawn anew, left out or added: a job nearly right."""
    asked = asked or shipped().questionnaire
    answers: dict[str, Any] = from_yaml(text)
    walls = answers["elements"]
    scopes = [("project", answers["project"]), *(("element", wall) for wall in walls)]
    scopes += [("work", work) for wall in walls for work in wall.get("works", ())]
    for number in range(1 + below(6, seed, "changes")):
        scope, held = scopes[below(len(scopes), seed, number, "scope")]
        free = [q for q in asked.of(scope) if q.kind != "photographs" and q.name not in _KEPT]
        question = free[below(len(free), seed, number, "question")]
        if question.name in held and question.need != "required" and chance(seed, number, "out") < 1 - LIKELY:
            del held[question.name]
        else:
            held[question.name] = _value(question, seed, number, question.name)
    return as_yaml(answers)


def _element(asked: Questionnaire, seed: int, wall: str, works: list[str] | None) -> dict[str, Any]:
    kinds = works or [choice.is_ for choice in asked.questions["work"].choices]
    chosen = shuffled(kinds, seed, wall, "works")[: 1 + below(3, seed, wall, "count")]
    done = [{**_scope(asked, "work", seed, wall, kind), "work": kind, "id": kind} for kind in chosen]
    return {"id": wall, "name": wall.replace("wall-", "Wall "), **_scope(asked, "element", seed, wall), "works": done}


def _scope(asked: Questionnaire, scope: str, *of: object) -> dict[str, Any]:
    # photographs need their files
    can = (q for q in asked.of(scope) if q.kind != "photographs")
    answered = (q for q in can if q.need == "required" or chance(*of, q.name, "answered") < LIKELY)
    return {question.name: _value(question, *of, question.name) for question in answered}


def _value(question: Question, *of: object) -> Any:
    if question.not_known and chance(*of, "not known") < 0.08:
        return "not known"
    if question.kind == "choices":
        return shuffled([choice.is_ for choice in question.choices], *of)[: below(3, *of, "count")]
    if question.kind == "texts":
        return ["D-1"]
    if question.kind == "records":
        return [_record(question, *of, index) for index in range(below(3, *of, "count"))]
    if question.kind == "range":
        return _range(question, *of)
    return _single(question, *of)


def _single(question: Question | RecordField, *of: object) -> Any:
    if question.kind == "choice":
        return shuffled([choice.is_ for choice in question.choices], *of)[0]
    if question.kind == "yes_no":
        return ("yes", "no")[below(2, *of)]
    if question.kind == "date":
        return f"2027-{1 + below(12, *of, 'month'):02d}-{1 + below(28, *of, 'day'):02d}"
    if question.kind == "month_day":
        return f"{1 + below(12, *of, 'month'):02d}-{1 + below(28, *of, 'day'):02d}"
    if question.name == "month_means_c":  # twelve numbers: any other text is told as one that cannot be read
        return ", ".join(str(below(20, *of, month)) for month in range(12))
    if question.kind == "number":
        number = _number(question, *of) if chance(*of, "least") < 0.9 else _limits(question)[0]
        return str(max(1, round(number)) if question.name.endswith("_nr") else number)
    return "a text"


def _record(question: Question, *of: object) -> dict[str, Any]:
    return {field.name: _field(field, *of, field.name) for field in question.fields}


def _field(field: RecordField, *of: object) -> Any:
    # what is sieved and measured hangs together; by chance it would be no sand
    sand = {"passing": "4 100, 2 90, 1 60, 0.5 30", "void_water_ml": "450"}
    return sand[field.name] if field.name in sand else _single(field, *of)


def _limits(question: Question | RecordField) -> tuple[float, float]:
    least = float(getattr(question, "least", None) or 0.5)
    most = float(getattr(question, "most", None) or 3)
    return least, min(most, least + 120)


def _number(question: Question | RecordField, *of: object) -> float:
    low, high = _limits(question)
    return round(low + chance(*of) * (high - low), 1)


def _range(question: Question, *of: object) -> str:
    low, high = sorted(_number(question, *of, end) for end in ("one", "other"))
    return f"{low} - {high}"
