"""Plaster in two coats: its first is made plane, for nothing after it can."""

from __future__ import annotations

from typing import Any, Final

import pytest
from timed_jobs import planned, scaffolded, surface

from generator.papers.steps import all_steps

ROOM: Final[dict[str, Any]] = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "wall_painting": "none",
}  # fmt: skip


@pytest.mark.parametrize(
    ("coats", "clause", "other"),
    [("two", "plaster.scratch-ruled", "plaster.scratch"), ("three", "plaster.scratch", "plaster.scratch-ruled")],
)
def test_a_coat_under_the_setting_coat_is_ruled_scoured_and_keyed_shallow(coats: str, clause: str, other: str) -> None:
    plaster = surface("coat", "plaster", plaster_coats=coats, plaster_surface="trowelled", old_plaster_beside="no")
    made = planned(scaffolded(plaster, **ROOM))
    assert made.in_papers(clause)
    assert not made.in_papers(other)
    told = [step.entry.id for step in all_steps(made, ("front",))]
    assert clause in told
    assert other not in told
    below = "plaster.scratch-ruled" if coats == "two" else "plaster.float"
    words = made.library.clauses[below].text
    assert "Rule it off" in words
    assert "nail float, {{ key_mm }} deep" in words
