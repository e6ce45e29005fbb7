"""JSON Schema of answers and of library files, from the same declarations that check them."""

from __future__ import annotations

from typing import Any, Final

from generator.library.model import (
    Clause,
    FindingEntry,
    ItemEntry,
    Library,
    Material,
    OperationEntry,
    Part,
    Recipe,
    ReckonedName,
    SourceEntry,
    Table,
)
from generator.questionnaire.questions import Question, RecordField
from generator.shapes import Shape

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_LISTS: Final[dict[str, type[Shape]]] = {
    "questions": Question,
    "names": ReckonedName,
    "recipes": Recipe,
    "materials": Material,
    "findings": FindingEntry,
    "items": ItemEntry,
    "operations": OperationEntry,
    "sources": SourceEntry,
}
KINDS: Final = ("answers", "clauses", "tables", *_LISTS)
_NOT_KNOWN: Final = {"const": "not known"}


def schema(kind: str, library: Library) -> dict[str, Any]:
    """The JSON Schema of a kind of file, one of `KINDS`."""
    if kind == "answers":
        return answers_schema(library)
    if kind == "tables":
        return {"$schema": _DIALECT, **Table.model_json_schema()}
    shape = Clause if kind == "clauses" else _LISTS[kind]
    body = shape.model_json_schema()
    definitions = body.pop("$defs", {})
    properties: dict[str, Any] = {kind: {"type": "array", "items": body}}
    if kind == "clauses":
        part = Part.model_json_schema()
        definitions |= part.pop("$defs", {})
        properties["part"] = part
    found = {"$schema": _DIALECT, "type": "object", "properties": properties, "required": [kind], "additionalProperties": False}
    return {**found, "$defs": definitions} if definitions else found


def answers_schema(library: Library) -> dict[str, Any]:
    """The JSON Schema of an answers file: every question of every scope, with its choices and limits."""
    coat = _object(library, "coat", {"id": _id()}, ["id"])
    coats = {"type": "array", "items": coat}
    work = _object(library, "work", {"id": _id(), "coats": coats}, ["work"])
    works = {"type": "array", "minItems": 1, "items": work}
    element = _object(library, "element", {"id": _id(), "name": {"type": "string"}, "works": works}, ["id", "name", "works"])
    return {
        "$schema": _DIALECT,
        "type": "object",
        "properties": {
            "project": _object(library, "project", {}, []),
            "elements": {"type": "array", "minItems": 1, "items": element},
        },
        "required": ["project", "elements"],
        "additionalProperties": False,
    }


def _id() -> dict[str, Any]:
    return {"type": "string", "pattern": "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"}


def _object(library: Library, scope: str, structure: dict[str, Any], required: list[str]) -> dict[str, Any]:
    questions = library.questionnaire.of(scope)
    needed = [question.name for question in questions if question.need == "required"]
    return {
        "type": "object",
        "properties": {**structure, **{question.name: _question(question) for question in questions}},
        "required": sorted({*required, *needed}),
        "additionalProperties": False,
    }


def _question(question: Question) -> dict[str, Any]:
    body = _kind(question)
    told = {"title": question.label, "description": " ".join(filter(None, [question.why, question.how]))}
    if question.not_known:
        return {**told, "anyOf": [body, _NOT_KNOWN]}
    return {**told, **body}


def _kind(question: Question | RecordField) -> dict[str, Any]:
    if question.kind == "choice":
        return {"enum": [choice.is_ for choice in question.choices]}
    if question.kind == "choices":
        return {"type": "array", "items": {"enum": [choice.is_ for choice in question.choices]}}
    if question.kind == "number":
        return {"type": "number", **_limits(question)}
    if question.kind == "range":
        return {"anyOf": [{"type": "number", **_limits(question)}, {"type": "string", "pattern": "^[0-9.]+ *(-|–|to) *[0-9.]+"}]}
    if question.kind == "yes_no":
        return {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
    if question.kind == "texts":
        return {"type": "array", "items": {"type": "string"}}
    if question.kind == "records" and isinstance(question, Question):
        return {"type": "array", "items": _record(question)}
    return {"type": ["string", "number"]} if question.kind == "text" else {"type": "string"}


def _limits(question: Question | RecordField) -> dict[str, float]:
    limits = {"minimum": getattr(question, "least", None), "maximum": getattr(question, "most", None)}
    return {key: float(value) for key, value in limits.items() if value is not None}


def _record(question: Question) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {field.name: {"title": field.label, **_kind(field)} for field in question.fields},
        "required": [field.name for field in question.fields if field.required],
        "additionalProperties": False,
    }
