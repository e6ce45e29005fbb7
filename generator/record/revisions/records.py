"""Reads records and the descriptions of issues, which anybody may have changed: JSON, checked before it is used."""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final

from generator.files.errors import InputInvalid, Mark, Problem
from generator.files.limits import MOST_RECORD_BYTES
from generator.files.manifest import beyond_records
from generator.job.numbers import is_number
from generator.record.record import SCHEMA

COPY: Final = "take it again from a copy that nobody has changed"
OTHER: Final = "use the program that wrote it"
NAME_ONE: Final = "name a record.json, or the folder of an issue"
READ: Final = (1, SCHEMA)
"""In records of the first schema each entry told its reasons, facts and texts itself; none of these is compared."""

_MIX: Final = re.compile(r"M\d{1,9}")
_LISTS: Final = ("mixes", "works", "items", "clauses", "findings")
_MAPPINGS: Final = ("answers", "issue", "library", "numbers")


def read_record(path: Path) -> dict[str, Any]:
    """A record as it was written. Raises `InputInvalid` where it is none."""
    data = read_json(path)
    found = data.get("schema")
    if found not in READ or isinstance(found, bool):
        if not found:
            raise refused(path, "is not a record", NAME_ONE)
        told = " and ".join(map(str, READ))
        raise refused(path, f"is a record of schema {str(found)[:20]}, and this program reads {told}", OTHER)
    amiss = [key for key in _LISTS if not _is_list_of_mappings(data.get(key))]
    amiss += [key for key in _MAPPINGS if not isinstance(data.get(key), dict)]
    if not amiss and not _is_register(data["numbers"]):
        amiss = ["numbers"]
    if not amiss and not _is_given(data["answers"].get("given")):
        amiss = ["answers"]
    if not amiss and not _is_issue(data["issue"]):
        amiss = ["issue"]
    if amiss:
        raise refused(path, f"is not a record as it was written: its '{amiss[0]}' is amiss", COPY)
    return data


def _is_list_of_mappings(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(item, dict) for item in value)


def _is_register(numbers: Mapping[str, object]) -> bool:
    return all(
        isinstance(text, str) and (_MIX.fullmatch(text) if key.startswith("mix:") else is_number(text))
        for key, text in numbers.items()
    )


def _is_issue(said: Mapping[str, object]) -> bool:
    try:
        datetime.date.fromisoformat(str(said.get("date")))
    except ValueError:
        return False
    return all(isinstance(text, str) for text in said.values())


def _is_given(value: object) -> bool:
    return isinstance(value, dict) and all(
        isinstance(inner, dict) and all(isinstance(text, str) for text in inner.values()) for inner in value.values()
    )


def read_json(path: Path) -> dict[str, Any]:
    """A JSON file that holds a mapping. Raises `InputInvalid`."""
    try:
        with path.open("rb") as stream:
            raw = stream.read(MOST_RECORD_BYTES + 1)
        if why := beyond_records(raw):
            raise refused(path, why, NAME_ONE)
        data = json.loads(raw)
    except OSError as error:
        raise refused(path, f"cannot be read ({error.strerror})", NAME_ONE) from None
    except (ValueError, RecursionError):
        raise refused(path, "is not JSON, or breaks off", COPY) from None
    if not isinstance(data, dict):
        raise refused(path, "is not a record", NAME_ONE)
    return data


def refused(path: Path, what: str, to_do: str) -> InputInvalid:
    """The error of a file that is not what it is taken for."""
    return InputInvalid([Problem(Mark(str(path)), what, to_do)])
