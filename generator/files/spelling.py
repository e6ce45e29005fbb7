"""Spells plain data and remarks as YAML, so that every reader of YAML reads back just what was meant."""

from __future__ import annotations

from typing import Any, Final

import yaml

_WIDTH: Final = 100


def yaml_text(data: Any) -> str:
    """Plain data as YAML in the order given; what is empty is left out."""
    text: str = yaml.safe_dump(_filled(data), allow_unicode=True, sort_keys=False, width=_WIDTH)
    return text


def remark_of(text: str) -> str:
    """A text on one line, as a remark can hold it: what would end such a line in a reader of YAML is evened out."""
    return " ".join("".join(char if char.isprintable() else " " for char in text).split())


def _filled(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _filled(inner) for key, inner in value.items() if inner not in ("", None, [], {})}
    return [_filled(inner) for inner in value] if isinstance(value, list) else value
