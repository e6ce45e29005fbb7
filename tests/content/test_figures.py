"""Figures of the library that hang together are held together."""

from __future__ import annotations

from typing import Final

import pytest
from jobs import shipped

LEAST_EYEWASH_L_PER_MINUTE: Final = 1.5
"""ANSI/ISEA Z358.1, plumbed and portable eyewashes: 0.4 US gallons a minute (from memory)."""


def figure(name: str) -> float:
    return float(str(shipped().figures[name].value))


def test_the_water_kept_for_eyes_lasts_the_rinse_that_is_asked_for() -> None:
    assert figure("eyewash_l") >= LEAST_EYEWASH_L_PER_MINUTE * figure("rinse_minutes")


@pytest.mark.parametrize("use", ["mortar", "setting"])
def test_putty_is_as_old_as_the_table_of_its_age_says(use: str) -> None:
    assert figure(f"putty_{use}_months") == shipped().row("putty-age", use=use).number("months_least")
