"""What structures and dataclasses are made of, for those who walk through them."""

from __future__ import annotations

from dataclasses import fields, is_dataclass

from generator.values import Struct


def field_names(value: object) -> tuple[str, ...]:
    """The fields that a structure or a dataclass is made with; none of anything else."""
    if isinstance(value, Struct):
        return value.__struct_fields__
    if is_dataclass(value) and not isinstance(value, type):
        return tuple(field.name for field in fields(value) if field.init)
    return ()
