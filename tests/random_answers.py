"""Random answers that are all valid, built from the questions themselves: jobs nobody thought of."""

from __future__ import annotations

import random
from typing import Any

from jobs import shipped
from plain_yaml import as_yaml

from generator.questionnaire.questions import Question, RecordField

LIKELY = 0.85


def random_answers(seed: int, works: list[str] | None = None) -> str:
    """An answers text of one to three elements, each question answered or, now and then, left out."""
    dice = random.Random(seed)
    project = {**_scope("project", dice), "title": f"Job {seed}", "reference": f"R-{seed}", "issue_date": "2027-01-04"}
    elements = [_element(index, dice, works) for index in range(dice.randint(1, 3))]
    return as_yaml({"project": project, "elements": elements})


def _element(index: int, dice: random.Random, works: list[str] | None) -> dict[str, Any]:
    kinds = works or [choice.is_ for choice in shipped().questionnaire.questions["work"].choices]
    chosen = dice.sample(kinds, k=min(len(kinds), dice.randint(1, 3)))
    done = [{**_scope("work", dice), "work": kind, "id": kind} for kind in chosen]
    return {"id": f"wall-{index}", "name": f"Wall {index}", **_scope("element", dice), "works": done}


def _scope(scope: str, dice: random.Random) -> dict[str, Any]:
    questions = shipped().questionnaire.of(scope)
    return {q.name: _value(q, dice) for q in questions if q.need == "required" or dice.random() < LIKELY}


def _value(question: Question, dice: random.Random) -> Any:
    if question.not_known and dice.random() < 0.08:
        return "not known"
    if question.kind == "choices":
        return dice.sample([choice.is_ for choice in question.choices], k=dice.randint(0, 2))
    if question.kind == "texts":
        return ["D-1"]
    if question.kind == "records":
        return [{field.name: _field(field, dice) for field in question.fields} for _ in range(dice.randint(0, 2))]
    if question.kind == "range":
        return _range(question, dice)
    return _single(question, dice)


def _single(question: Question | RecordField, dice: random.Random) -> Any:
    if question.kind == "choice":
        return dice.choice(question.choices).is_
    if question.kind == "yes_no":
        return dice.choice(["yes", "no"])
    if question.kind == "date":
        return f"2027-{dice.randint(1, 12):02d}-{dice.randint(1, 28):02d}"
    if question.kind == "number":
        return str(round(dice.uniform(*_limits(question)), 1)) if dice.random() < 0.9 else str(_limits(question)[0])
    return "a text"


def _field(field: RecordField, dice: random.Random) -> Any:
    # what is sieved and measured hangs together; by chance it would be no sand
    sand = {"passing": "4 100, 2 90, 1 60, 0.5 30", "void_water_ml": "450"}
    return sand[field.name] if field.name in sand else _single(field, dice)


def _limits(question: Question | RecordField) -> tuple[float, float]:
    least = float(getattr(question, "least", None) or 0.5)
    most = float(getattr(question, "most", None) or 3)
    return least, min(most, least + 120)


def _range(question: Question, dice: random.Random) -> str:
    low, high = sorted(round(dice.uniform(*_limits(question)), 1) for _ in range(2))
    return f"{low} - {high}"
