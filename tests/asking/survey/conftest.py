"""What tests of the survey in a real browser share: the browser of a module, and the answers at `path` served."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from served_survey import Served, chromium, served


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as found:
        yield found


@pytest.fixture
def survey(path: Path) -> Iterator[Served]:
    with served(path) as found:
        yield found
