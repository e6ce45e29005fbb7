"""The cases under tests/cases, read and decided; a number of theirs."""

from __future__ import annotations

import functools
from decimal import Decimal
from pathlib import Path

from jobs import job

from generator.job.job import Job

HERE = Path(__file__).resolve().parent / "cases"


@functools.cache
def case(name: str) -> Job:
    """The case of a file under tests/cases, decided."""
    return job((HERE / f"{name}.yaml").read_text(encoding="utf-8"), f"{name}.yaml")


def number(found: Job, path: tuple[str, ...], name: str) -> Decimal:
    """A number decided for a scope of a case."""
    value = found.facts.get(path, name)
    assert isinstance(value, Decimal), f"{name} of {'/'.join(path)} is {value}"
    return value
