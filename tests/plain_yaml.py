"""YAML for tests as plain text values, by the C parser: a big answers file takes 2 ms and not 80."""

from __future__ import annotations

from typing import Any

import yaml


def from_yaml(text: str) -> Any:
    """Mappings, lists and texts as spelt; nothing is guessed."""
    return yaml.load(text, Loader=yaml.CBaseLoader)


def as_yaml(data: Any) -> str:
    """Plain data as YAML in the order it has."""
    return str(yaml.dump(data, Dumper=yaml.CSafeDumper, allow_unicode=True, sort_keys=False))


def typed(data: Any) -> set[str]:
    """Every text that was answered, which papers print as it was typed."""
    if isinstance(data, dict):
        return set().union(*map(typed, data.values()), set())
    if isinstance(data, list):
        return set().union(*map(typed, data), set())
    return {" ".join(str(data).split())}
