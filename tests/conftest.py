"""Fixtures that several rooms share; none is used without being asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def shipped_clauses() -> Path:
    """The folder of the shipped clause library, in this checkout."""
    return ROOT / "clauses"


@pytest.fixture(scope="session")
def toll_house() -> Path:
    """The answers of the invented toll house."""
    return ROOT / "examples" / "toll-house" / "answers.yaml"
