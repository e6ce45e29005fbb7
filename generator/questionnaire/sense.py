"""Checks that a question makes sense in itself: its choices, limits, columns and default fit its kind."""

from __future__ import annotations

from collections.abc import Iterable

from generator.files.source import Path_, Source
from generator.questionnaire.questions import STRUCTURE, Choice, Question
from generator.questionnaire.reading import as_spelt, read_value


def mistakes(question: Question, source: Source, path: Path_) -> None:
    """Notes in the source of a question, which stands at a path there, what is wrong with it."""
    if question.name in STRUCTURE[question.scope]:
        to_do = "name it otherwise"
        source.problem((*path, "name"), f"'{question.name}' has a meaning of its own in answers", to_do)
    _choices(question.name, question.kind, question.choices, source, path)
    _columns(question, source, path)
    if question.least is not None and question.most is not None and question.least > question.most:
        source.problem((*path, "least"), f"'{question.name}' has a least above its most", "mend one of the two")
    if question.need == "required" and question.when:
        to_do = "take 'when' out, or make it 'need: block'"
        source.problem((*path, "when"), f"'{question.name}' is required and asked only sometimes", to_do)
    if question.kind == "photographs":
        _photographs(question, source, path)
    else:
        _default(question, source, path)


def _photographs(question: Question, source: Source, path: Path_) -> None:
    """There is one list of photographs, whose shape no question can change."""
    if (question.name, question.scope) != ("photographs", "project"):
        to_do = "only 'photographs' of the project does"
        source.problem((*path, "kind"), f"'{question.name}' lists photographs", to_do)
    if question.default is not None:
        source.key_problem((*path, "default"), "photographs have a default", "take it out")


def _choices(name: str, kind: str, choices: Iterable[Choice], source: Source, path: Path_) -> None:
    spelt = [choice.is_ for choice in choices]
    wants = kind in ("choice", "choices")
    if wants and not spelt:
        source.problem((*path, "kind"), f"'{name}' is a {kind} and has no choices", "list them under 'choices:'")
    if spelt and not wants:
        source.key_problem((*path, "choices"), f"'{name}' is a {kind} and has choices", "take them out")
    for index, word in enumerate(spelt):
        if word in spelt[:index]:
            place = (*path, "choices", index, "is")
            source.problem(place, f"'{name}' has the choice '{word}' twice", "take one out")


def _columns(question: Question, source: Source, path: Path_) -> None:
    if question.kind == "records" and not question.fields:
        to_do = "list its columns under 'fields:'"
        source.problem((*path, "kind"), f"'{question.name}' is a list of records and has no fields", to_do)
    if question.fields and question.kind != "records":
        what = f"'{question.name}' is a {question.kind} and has fields"
        source.key_problem((*path, "fields"), what, "take them out, or make it 'kind: records'")
    for index, column in enumerate(question.fields):
        name = f"{question.name}.{column.name}"
        _choices(name, column.kind, column.choices, source, (*path, "fields", index))


def _default(question: Question, source: Source, path: Path_) -> None:
    if question.default is None:
        return
    read_value(question, as_spelt(question.default), (*path, "default"), source)
    if question.need == "required":
        to_do = "take the default out, or make it 'need: none'"
        source.key_problem((*path, "default"), f"'{question.name}' is required and has a default", to_do)
