"""Checks what was read by a shape, by means of pydantic, with each mistake told at its line in plain words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from functools import cache
from typing import Any, Final, get_args

from pydantic import TypeAdapter, ValidationError

from generator.files.errors import did_you_mean, shown
from generator.files.shapes import AnyShape, Asked, Shape, model_of
from generator.files.source import Path_, Source


@cache
def _adapter(kind: type[AnyShape]) -> TypeAdapter[AnyShape]:
    return TypeAdapter(kind)


def read_as(kind: type[AnyShape], value: Any) -> AnyShape:
    """The value as `kind`. Raises `ValueError` where it is none."""
    found: AnyShape = _adapter(kind).validate_python(value)
    return found


def json_schema(kind: type[Shape]) -> dict[str, Any]:
    """The JSON Schema of a shape."""
    return _adapter(kind).json_schema()


def shaped(kind: type[AnyShape], value: Any, source: Source, path: Path_ = ()) -> AnyShape | None:
    """The value as `kind`, or None with every mistake noted in the source."""
    try:
        return read_as(kind, value)
    except ValidationError as error:
        for item in error.errors(include_url=False):
            _note(kind, item, source, path)
        return None


def _note(kind: type[Shape], item: Any, source: Source, path: Path_) -> None:
    steps = tuple(item["loc"])
    key = shown(str(steps[-1])) if steps else ""
    if item["type"] == "extra_forbidden":
        known = _known_keys(kind, steps[:-1])
        source.key_problem(path + steps, f"has an unknown key '{key}'", source.problems.near(key, known))
    elif item["type"] == "missing":
        source.problem(path + steps[:-1], f"lacks '{key}'", _wanted_there(kind, steps) or f"add '{key}: …'")
    else:
        source.problem(path + steps, *(("", "") if source.problems.is_full else _misfit(_told(steps), item)))


def _wanted_there(kind: type[Shape], steps: tuple[int | str, ...]) -> str:
    """What a shape says of a field of its own that must not be left out; "" where it says nothing."""
    field = model_of(kind).model_fields.get(str(steps[0])) if len(steps) == 1 else None
    return next((told.to_do for told in field.metadata if isinstance(told, Asked)), "") if field else ""


def _told(steps: tuple[int | str, ...]) -> str:
    return ".".join(step for step in steps if isinstance(step, str))


# What pydantic's kinds of error want, by how their names begin.
_WANTED: Final = (
    ("string", "a text", "put it in quotes"),
    ("int", "a whole number", "write a whole number alone, such as 12"),
    ("decimal", "a number", "write a number alone, such as 12 or 0.5"),
    ("bool", "true or false", "write true or false"),
    ("tuple", "a list", "write it as [a, b], or on lines that start with '-'"),
    ("list", "a list", "write it as [a, b], or on lines that start with '-'"),
    ("dict", "a mapping", "write 'key: value' on lines below it"),
    ("cell", "a word or a list of words", "write one choice, [one, another], or any"),
    ("model", "a mapping", "write 'key: value' on lines below it"),
)


def _misfit(where: str, item: Any) -> tuple[str, str]:
    """What is wrong with a value that stands where it should, and what to do."""
    name, value, error = f"'{where}' " if where else "", item["input"], item["type"]
    if error == "order":
        return f"{name}runs the wrong way ({item['ctx']['told']})", "write the lowest as low and the highest as high"
    if error == "limits":
        return f"{name}is {_form(value)}, where one {item['ctx']['limits']} is wanted", "mend the number"
    if error == "amiss":
        return name + item["ctx"]["what"].replace("{it}", _form(value)), item["ctx"]["to_do"]
    if error == "too_short":
        return f"{name}is an empty list", "name one at least"
    if error == "string_too_short":
        return f"{name}is empty", "write it out"
    if error == "literal_error":
        choices = re.findall(r"'([^']*)'", item["ctx"]["expected"])
        return f"{name}cannot be {_form(value)}", did_you_mean(str(value), [word for word in choices if word])
    if error == "string_pattern_mismatch":
        return f"{name}cannot be {_form(value)}", _letters(item["ctx"]["pattern"])
    for beginning, wanted, to_do in _WANTED:
        if error.startswith(beginning):
            mend = "write it out, or take the key out" if value is None else to_do
            return f"{name}is {_form(value)}, where {wanted} is wanted", mend
    return f"{name}cannot be {_form(value)}", "mend the value"


def _letters(pattern: str) -> str:
    between = "underscores" if "_" in pattern else "dots and hyphens"
    first = ", starting with a letter" if pattern.startswith("^[a-z]") else ""
    return f"write small letters, figures, {between} only{first}"


def _form(value: Any) -> str:
    if value is None:
        return "blank"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | Decimal):
        return f"the number {value}"
    if isinstance(value, str):
        return f"'{shown(value)}'"
    return "a list" if isinstance(value, list) else "a mapping"


def _known_keys(kind: type[Shape], steps: Iterable[int | str]) -> list[str]:
    """The keys that are read at a place inside a shape."""
    here: type[Shape] | None = kind
    for step in steps:
        if isinstance(step, str) and here is not None:
            found = next((f for name, f in model_of(here).model_fields.items() if step in (name, f.alias)), None)
            here = _shape_in(found.annotation) if found else None
    return [field.alias or name for name, field in model_of(here).model_fields.items()] if here else []


def _shape_in(annotation: Any) -> type[Shape] | None:
    if isinstance(annotation, type) and issubclass(annotation, Shape):
        return annotation
    return next((found for part in get_args(annotation) if (found := _shape_in(part))), None)
