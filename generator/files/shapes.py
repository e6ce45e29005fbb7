"""The shapes of library files, checked by pydantic, with each mistake told at its line in plain words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from typing import Annotated, Any, Final, Literal, Self, TypeVar, get_args

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    ValidationError,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import PydanticCustomError

from generator.errors import did_you_mean, shown
from generator.files.source import Path_, Source

Confidence = Literal["read", "read-trade", "read-second-hand", "derived", "memory", "judgement"]
"""How surely a figure is known, from read in its own text to common judgement."""


class Shape(BaseModel):
    """Base of everything read from a library file: no unknown keys, no changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


def _number(value: Any) -> Decimal:
    # pydantic alone would also take '1_000', '1e400' and other spellings that people do not mean
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise PydanticCustomError("decimal_type", "not a number")
    return Decimal(value)


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise PydanticCustomError("int_type", "not a whole number")
    return value


def within(low: float | Decimal, high: float | Decimal) -> AfterValidator:
    """A check for a number of a shape: from low to high, both included."""

    def check(value: Decimal) -> Decimal:
        if low <= value <= high:
            return value
        raise PydanticCustomError("limits", "out of limits", {"limits": f"from {low:g} to {high:g}"})

    return AfterValidator(check)


def one_of(words: Iterable[str]) -> AfterValidator:
    """A check for a text of a shape: one of some words."""
    known = tuple(words)

    def check(value: str) -> str:
        if value in known:
            return value
        raise PydanticCustomError("literal_error", "not known", {"expected": ", ".join(map(repr, known))})

    return AfterValidator(check)


def amiss(what: str, to_do: str) -> PydanticCustomError:
    """A mistake in a shape in words of its own; `{it}` in them stands for the value as it is told."""
    return PydanticCustomError("amiss", "amiss", {"what": what, "to_do": to_do})


Number = Annotated[Decimal, BeforeValidator(_number), WithJsonSchema({"type": "number"})]
Whole = Annotated[int, BeforeValidator(_whole), WithJsonSchema({"type": "integer"})]
AnyShape = TypeVar("AnyShape", bound=Shape)


class InOrder(Shape):
    """A shape whose ranges run the right way: `low`, `likely` (or `chosen`), `high`, or any name before each."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        names = list(type(self).model_fields)
        for low in (name for name in names if name == "low" or name.endswith("_low")):
            ends = [low.removesuffix("low") + end for end in ("low", "likely", "chosen", "high")]
            run = {name: getattr(self, name) for name in ends if name in names}
            if list(run.values()) != sorted(run.values()):
                told = ", ".join(f"{name}: {value}" for name, value in run.items())
                raise PydanticCustomError("order", "out of order", {"told": told})
        return self


def shaped(kind: type[AnyShape], value: Any, source: Source, path: Path_ = ()) -> AnyShape | None:
    """The value as `kind`, or None with every mistake noted in the source."""
    try:
        return kind.model_validate(value)
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
    field = kind.model_fields.get(str(steps[0])) if len(steps) == 1 else None
    return (field.description or "") if field else ""


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
            found = next((f for name, f in here.model_fields.items() if step in (name, f.alias)), None)
            here = _shape_in(found.annotation) if found else None
    return [field.alias or name for name, field in here.model_fields.items()] if here else []


def _shape_in(annotation: Any) -> type[Shape] | None:
    if isinstance(annotation, type) and issubclass(annotation, Shape):
        return annotation
    return next((found for part in get_args(annotation) if (found := _shape_in(part))), None)
