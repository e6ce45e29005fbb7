"""How shapes of library files are declared: structures whose annotations say what each value may be.

Pydantic checks values by them. It is imported where something is checked, not where shapes are held and read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal, Self, TypeVar

from generator.values import NODEFAULT, FieldInfo, Struct, fields

if TYPE_CHECKING:
    from pydantic import BaseModel

Confidence = Literal["read", "read-trade", "read-second-hand", "derived", "memory", "judgement"]
"""How surely a figure is known, from read in its own text to common judgement."""


class Shape(Struct, frozen=True):
    """Base of everything read from a library file: no unknown keys, no changes after reading.

    A field that begins with `_` is none of the file's; `_given`, where a shape has it, holds the fields that it gave.
    """

    def _checked(self) -> None:
        """Raises a `mistake` where the whole is wrong although each part of it is right."""

    @classmethod
    def _made(cls, model: BaseModel) -> Self:
        values = {name: getattr(model, name) for name in model.model_fields_set}
        if "_given" in cls.__struct_fields__:
            values["_given"] = frozenset(values)
        made = cls(**values)
        made._checked()
        return made

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> Any:
        from pydantic_core.core_schema import no_info_after_validator_function

        return no_info_after_validator_function(cls._made, handler.generate_schema(model_of(cls)))


AnyShape = TypeVar("AnyShape", bound=Shape)


def names_of(kind: type[Shape]) -> tuple[str, ...]:
    """What the fields of a shape are called."""
    return tuple(name for name in kind.__struct_fields__ if not name.startswith("_"))


def written(shape: Shape) -> dict[str, Any]:
    """What a shape says under the keys that files have for it, without what goes without saying."""
    said = ((field, getattr(shape, field.name)) for field in fields(type(shape)) if not field.name.startswith("_"))
    return {field.encode_name: _plain(value) for field, value in said if value != _default(field)}


def _plain(value: Any) -> Any:
    if isinstance(value, Shape):
        return written(value)
    return tuple(map(_plain, value)) if isinstance(value, tuple) else value


def _default(field: FieldInfo) -> Any:
    """The value of a field that is not given; `NODEFAULT` where it must be."""
    return field.default if field.default_factory is NODEFAULT else field.default_factory()


@cache
def model_of(kind: type[Shape]) -> type[BaseModel]:
    """What pydantic checks a shape by: its fields under the keys that files have for them."""
    from pydantic import ConfigDict, Field, create_model

    declared: dict[str, Any] = {}
    for name, found in ((field.name, field) for field in fields(kind) if not field.name.startswith("_")):
        told: dict[str, Any] = {"alias": found.encode_name} if found.encode_name != name else {}
        if not found.required:
            told["default"] = _default(found)
        declared[name] = (found.type, Field(**told))
    config = ConfigDict(extra="forbid", arbitrary_types_allowed=True, defer_build=True)
    return create_model(kind.__name__, __config__=config, __doc__=kind.__doc__, **declared)


# --- mistakes -----------------------------------------------------------------------------------------------


def mistake(kind: str, **told: str) -> ValueError:
    """A mistake of a kind that `files.shaping` has words for, with what they tell."""
    from pydantic_core import PydanticCustomError

    return PydanticCustomError(kind, kind, told)


def amiss(what: str, to_do: str) -> ValueError:
    """A mistake in a shape in words of its own; `{it}` in them stands for the value as it is told."""
    return mistake("amiss", what=what, to_do=to_do)


# --- what annotations say of values -------------------------------------------------------------------------


class Before:
    """A check of a value as it was written, which it may make another of."""

    def __init__(self, check: Callable[[Any], Any]) -> None:
        self.check = check

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core.core_schema import no_info_before_validator_function

        return no_info_before_validator_function(self.check, handler(source))


class After:
    """A check of a value that is of its kind, which it may make another of."""

    def __init__(self, check: Callable[[Any], Any]) -> None:
        self.check = check

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        from pydantic_core.core_schema import no_info_after_validator_function

        return no_info_after_validator_function(self.check, handler(source))


class Limited:
    """A limit that pydantic knows: `pattern` of a text, `min_length` of a text or list, `ge` of a number."""

    def __init__(self, **limits: Any) -> None:
        self.limits = limits

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        return {**handler(source), **self.limits}


class InJson:
    """What JSON Schema says of a value."""

    def __init__(self, schema: dict[str, Any]) -> None:
        self.schema = schema

    def __get_pydantic_json_schema__(self, core: Any, handler: Any) -> dict[str, Any]:
        return dict(self.schema)


class Asked:
    """What is to be written where a value is missing."""

    def __init__(self, to_do: str) -> None:
        self.to_do = to_do

    def __get_pydantic_json_schema__(self, core: Any, handler: Any) -> dict[str, Any]:
        return {**handler(core), "description": self.to_do}


def like(pattern: str) -> Limited:
    """A check for a text of a shape: of a pattern."""
    return Limited(pattern=pattern)


FILLED: Final = Limited(min_length=1)
"""A check for a text or list of a shape: it is not empty."""


def _number(value: Any) -> Decimal:
    # pydantic alone would also take '1_000', '1e400' and other spellings that people do not mean
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise mistake("decimal_type")
    return Decimal(value)


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise mistake("int_type")
    return value


def within(low: float | Decimal, high: float | Decimal) -> After:
    """A check for a number of a shape: from low to high, both included."""

    def check(value: Decimal) -> Decimal:
        if low <= value <= high:
            return value
        raise mistake("limits", limits=f"from {low:g} to {high:g}")

    return After(check)


def one_of(words: Iterable[str]) -> After:
    """A check for a text of a shape: one of some words."""
    known = tuple(words)

    def check(value: str) -> str:
        if value in known:
            return value
        raise mistake("literal_error", expected=", ".join(map(repr, known)))

    return After(check)


Number = Annotated[Decimal, Before(_number), InJson({"type": "number"})]
Whole = Annotated[int, Before(_whole), InJson({"type": "integer"})]


class InOrder(Shape, frozen=True):
    """A shape whose ranges run the right way: `low`, `likely` (or `chosen`), `high`, or any name before each."""

    def _checked(self) -> None:
        names = names_of(type(self))
        for low in (name for name in names if name == "low" or name.endswith("_low")):
            ends = [low.removesuffix("low") + end for end in ("low", "likely", "chosen", "high")]
            run = {name: getattr(self, name) for name in ends if name in names}
            if list(run.values()) != sorted(run.values()):
                raise mistake("order", told=", ".join(f"{name}: {value}" for name, value in run.items()))
