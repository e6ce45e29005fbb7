"""JSON Schema of answers and of library files, from the same declarations that check them."""

from __future__ import annotations

from typing import Any, Final

from generator.files.limits import MOST_TEXT
from generator.files.shapes import Shape
from generator.files.shaping import json_schema
from generator.library.entries import (
    Clause,
    Elsewhere,
    FindingEntry,
    HoldPoint,
    ItemEntry,
    OperationEntry,
    Part,
    Recipe,
    ReckonedName,
    SourceEntry,
)
from generator.library.figures import FigureEntry
from generator.library.model import Library
from generator.library.properties import Material
from generator.library.tables import Table
from generator.library.tasks import TaskEntry
from generator.library.templates import PaperShape
from generator.questionnaire.answers import ID, LAYERS, MAX_ID, MAX_NAME
from generator.questionnaire.measures import CUSTOMARY, MEASURED
from generator.questionnaire.questions import Question, RecordField
from generator.questionnaire.spelt import DATE, MONTH_DAY, NUMBER, RANGE
from generator.values import unit_of

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_LISTS: Final[dict[str, type[Shape]]] = {
    "questions": Question,
    "names": ReckonedName,
    "recipes": Recipe,
    "materials": Material,
    "findings": FindingEntry,
    "items": ItemEntry,
    "operations": OperationEntry,
    "tasks": TaskEntry,
    "hold_points": HoldPoint,
    "elsewhere": Elsewhere,
    "figures": FigureEntry,
    "sources": SourceEntry,
}
KINDS: Final = ("answers", "clauses", "tables", "papers", "words", *_LISTS)
# The lists of a paper whose entries may be a word alone.
_ALONE: Final = ("parts", "rows")
_NOT_KNOWN: Final = {"const": "not known"}


def schema(kind: str, library: Library) -> dict[str, Any]:
    """The JSON Schema of a kind of file, one of `KINDS`."""
    if kind == "answers":
        return answers_schema(library)
    if kind == "tables":
        return {"$schema": _DIALECT, **json_schema(Table)}
    if kind == "words":
        words = {"type": "object", "additionalProperties": {"type": "string"}}
        return {"$schema": _DIALECT, **_mapping({"words": words}, ["words"])}
    if kind == "papers":
        return {"$schema": _DIALECT, **_or_words(json_schema(PaperShape))}
    return _list_schema(kind, Clause if kind == "clauses" else _LISTS[kind])


def _or_words(body: Any) -> Any:
    """A schema in which an entry of a paper's lists may be a word alone."""
    for name, inner in body.get("properties", {}).items():
        if name in _ALONE:
            inner["items"] = {"anyOf": [{"type": "string"}, inner["items"]]}
    for definition in body.get("$defs", {}).values():
        _or_words(definition)
    return body


def _list_schema(kind: str, shape: type[Shape]) -> dict[str, Any]:
    body = json_schema(shape)
    definitions = body.pop("$defs", {})
    properties: dict[str, Any] = {kind: {"type": "array", "items": body}}
    if kind == "clauses":
        part = json_schema(Part)
        definitions |= part.pop("$defs", {})
        properties["part"] = part
    found = {"$schema": _DIALECT, **_mapping(properties, list(properties))}
    return {**found, "$defs": definitions} if definitions else found


def answers_schema(library: Library) -> dict[str, Any]:
    """The JSON Schema of an answers file: every question of every scope, with its choices and limits."""
    inside: dict[str, Any] = {"id": _id()}
    if library.questionnaire.of("coat"):
        coat = _scope(library, "coat", {"id": _id()}, ["id"])
        inside["coats"] = {"type": "array", "minItems": 1, "items": coat}
    works = {"type": "array", "minItems": 1, "items": _scope(library, "work", inside, ["work"])}
    name = {"type": "string", "minLength": 1, "maxLength": MAX_NAME}
    own = {"id": _id(), "name": name, "works": works}
    zone = _scope(library, "element", own, ["id", "name", "works"])
    zone["required"] = ["id", "name", "works"]  # what the whole wall answers need not be said again
    zones = {"type": "array", "minItems": 1, "items": zone}
    element = _scope(library, "element", {**own, "zones": zones}, ["id", "name"])
    element["required"] = ["id", "name"]
    element["anyOf"] = [{"required": ["works", *_required(library, "element")]}, {"required": ["zones"]}]
    properties = {
        LAYERS: {"type": "array", "items": {"type": "string", "minLength": 1}},
        "project": _scope(library, "project", {}, []),
        "elements": {"type": "array", "minItems": 1, "items": element},
    }
    body = {"$schema": _DIALECT, **_mapping(properties, ["project", "elements"])}
    asked = any(question.kind == "photographs" for question in library.questionnaire.of("project"))
    return {**body, "$defs": _photograph_schema()["$defs"]} if asked else body


def _photograph_schema() -> dict[str, Any]:
    """The schema of a photograph, with those of its parts under `$defs`."""
    from generator.questionnaire.photograph_shapes import PhotographShape

    return json_schema(PhotographShape)


def _mapping(properties: dict[str, Any], required: list[str]) -> dict[str, Any]:
    body = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**body, "required": sorted(required)} if required else body


def _required(library: Library, scope: str) -> list[str]:
    return [question.name for question in library.questionnaire.of(scope) if question.need == "required"]


def _id() -> dict[str, Any]:
    return {"type": "string", "pattern": _whole(ID.pattern), "maxLength": MAX_ID}


def _whole(pattern: str) -> str:
    """A Python pattern, which fits from the start to `\\Z`, as JSON Schema writes it."""
    return f"^(?:{pattern.removesuffix(chr(92) + 'Z')})$"


def _scope(library: Library, scope: str, structure: dict[str, Any], required: list[str]) -> dict[str, Any]:
    questions = library.questionnaire.of(scope)
    needed = [question.name for question in questions if question.need == "required"]
    asked = {question.name: _question(question) for question in questions}
    were = {name: {**_question(question), "deprecated": True} for question in questions for name in question.was}
    return _mapping({**structure, **asked, **were}, sorted({*required, *needed}))


def _question(question: Question) -> dict[str, Any]:
    body = _kind(question)
    told = {"title": question.label, "description": " ".join(filter(None, [question.why, question.how]))}
    if question.not_known:
        return {**told, "anyOf": [body, _NOT_KNOWN]}
    return {**told, **body}


def _kind(question: Question | RecordField) -> dict[str, Any]:
    if question.kind in ("choice", "choices"):
        return _one_or_list(question.kind, {"enum": [choice.is_ for choice in question.choices]})
    if question.kind in ("number", "range"):
        spelt = (NUMBER.pattern, RANGE.pattern) if question.kind == "range" else (NUMBER.pattern,)
        texts = [{"type": "string", "pattern": _whole(pattern)} for pattern in spelt]
        if unit_of(question.name) in MEASURED:
            texts.append({"type": "string", "pattern": CUSTOMARY.pattern})
        return {"anyOf": [{"type": "number", **_limits(question)}, *texts]}
    if question.kind == "yes_no":
        return {"anyOf": [{"type": "boolean"}, {"enum": ["yes", "no"]}]}
    if question.kind == "date":
        return {"type": "string", "pattern": _whole(DATE.pattern)}
    if question.kind == "month_day":
        return {"type": "string", "pattern": _whole(MONTH_DAY.pattern)}
    if question.kind == "records" and isinstance(question, Question):
        return {"type": "array", "items": _record(question)}
    if question.kind == "photographs":
        items = {key: value for key, value in _photograph_schema().items() if key != "$defs"}
        return {"type": "array", "items": items}
    return _one_or_list(question.kind, _text(question))


def _one_or_list(kind: str, item: dict[str, Any]) -> dict[str, Any]:
    # one thing may be written without the brackets of a list
    return {"anyOf": [{"type": "array", "items": item}, item]} if kind in ("choices", "texts") else item


def _text(question: Question | RecordField) -> dict[str, Any]:
    most = getattr(question, "most", None)
    # a bare 2026 or 1.10 is a number to other readers of YAML, and a text to this one
    return {"type": ["string", "number"], "minLength": 1, "maxLength": int(most or MOST_TEXT)}


def _limits(question: Question | RecordField) -> dict[str, float]:
    if isinstance(question, RecordField):
        return {"minimum": 0}
    limits = {"minimum": question.least, "maximum": question.most}
    return {key: float(value) for key, value in limits.items() if value is not None}


def _record(question: Question) -> dict[str, Any]:
    columns = {column.name: {"title": column.label, **_kind(column)} for column in question.fields}
    return _mapping(columns, [column.name for column in question.fields if column.required])
