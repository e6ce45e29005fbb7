"""Writes entries of a library as YAML that a person would have written: short fields on a line, texts as blocks."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

_MOST: Final = 110
_PLAIN: Final = re.compile(r"[A-Za-z]([\w ,.;()'/-]*[\w.)])?")
_PLAIN_IN_LIST: Final = re.compile(r"[A-Za-z]([\w .-]*\w)?")
_NO_TEXTS: Final = frozenset({"true", "false", "null", "yes", "no", "on", "off", "y", "n"})


def entry_lines(fields: Mapping[str, Any]) -> list[str]:
    """An entry of a list as lines, the first with its dash."""
    lines = [line for name, value in fields.items() for line in field_lines(name, value)]
    return [f"{'- ' if number == 0 else '  '}{line}" if line else "" for number, line in enumerate(lines)]


def field_lines(name: str, value: Any) -> list[str]:
    """A field as lines, without their indentation."""
    if isinstance(value, str):
        return _text(name, value)
    return [f"{name}: {_flow(value)}"]


def _text(name: str, value: str) -> list[str]:
    body = value.removesuffix("\n")
    short = "\n" not in value and len(value) < _MOST
    if short or value.strip(" \n") != body or "\t" in value:
        return [f"{name}: {_scalar(value, _PLAIN)}"]
    style = "|" if value.endswith("\n") else "|-"
    return [f"{name}: {style}", *(f"  {line}" if line else "" for line in body.split("\n"))]


def _flow(value: Any) -> str:
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{key}: {_flow(inner)}' for key, inner in value.items())}}}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_flow, value))}]"
    if isinstance(value, Decimal):
        return f"{value:f}"
    return _scalar(value, _PLAIN_IN_LIST) if isinstance(value, str) else json.dumps(value)


def _scalar(text: str, plain: re.Pattern[str]) -> str:
    """A text without quotes where no reader of YAML takes it for anything else."""
    bare = plain.fullmatch(text) and text.lower() not in _NO_TEXTS
    return text if bare else json.dumps(text, ensure_ascii=False)
