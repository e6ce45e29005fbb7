"""The shapes of library files, checked by pydantic, with each mistake told at its line."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from generator.errors import did_you_mean
from generator.source import Path_, Source


class Shape(BaseModel):
    """Base of everything read from a library file: no unknown keys, no changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)


AnyShape = TypeVar("AnyShape", bound=Shape)


def shaped(kind: type[AnyShape], value: Any, source: Source, path: Path_ = ()) -> AnyShape | None:
    """The value as `kind`, or None with every mistake noted in the source."""
    try:
        return kind.model_validate(value)
    except ValidationError as error:
        for item in error.errors(include_url=False):
            what, to_do = _words(kind, item)
            place = path + _known_steps(item["loc"])
            source.problem(place, what, to_do)
        return None


def _known_steps(location: tuple[int | str, ...]) -> Path_:
    # pydantic names union members and model classes in a location; the source has no mark for those
    return tuple(step for step in location if not (isinstance(step, str) and step[:1].isupper()))


def _words(kind: type[Shape], item: Any) -> tuple[str, str]:
    where = ".".join(str(step) for step in item["loc"])
    if item["type"] == "extra_forbidden":
        key = str(item["loc"][-1])
        known = kind.model_fields if len(item["loc"]) == 1 else ()
        return f"has an unknown key '{key}'", did_you_mean(key, known) if known else "remove it or mend its spelling"
    if item["type"] == "missing":
        return f"lacks '{where}'", f"add '{item['loc'][-1]}'"
    return f"'{where}' does not fit ({item['msg']})", "mend the value"
