"""Old plaster that sags is raised a turn a day before it is screwed, and its props and deck stand as long."""

from __future__ import annotations

import pytest
from answers_text import wall
from timed_jobs import codes, keys, planned, span, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions

ROOM = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open", "access": "deck",
    "lead_paint": "none", "wall_painting": "none", "masonry": "laths", "overhead": "yes",
}  # fmt: skip


def held(sagged_mm: str | None, from_above: str = "yes", **project: str) -> Job:
    refix = surface("held", "refix", refix_from_above=from_above, sagged_mm=sagged_mm, cornice_m="0")
    return planned(wall(refix, **ROOM), finish_date="2028-09-29", **project)


@pytest.mark.parametrize(
    ("sagged_mm", "week", "days"), [("15", "5", 12), ("15", "7", 8), ("16", "5", 12), ("2", "5", 2), (None, "5", 7)]
)
def test_a_sag_is_raised_a_turn_a_worked_day_before_it_is_screwed(sagged_mm: str | None, week: str, days: int) -> None:
    made = held(sagged_mm, working_days_per_week=week)
    props, raised, screwed = (span(made.programme, f"front/{key}") for key in ("props", "held/raised", "held/refix"))
    assert props[1] <= raised[0]
    assert (raised[1] - raised[0]).days == days
    assert raised[1] <= screwed[0]
    assert ("sag-not-measured" in codes(made)) == (sagged_mm is None)


@pytest.mark.parametrize("from_above", ["yes", "no"])
def test_the_room_above_a_ceiling_held_from_there_is_emptied_and_the_owner_is_told(from_above: str) -> None:
    made = held("6", from_above)
    (owner,) = companions(made, ["owner"]).values()
    assert ("room above it empty" in outline(owner)) == (from_above == "yes")
    assert "Empty the room above" in made.library.clauses["refix.from-above"].text


def test_what_does_not_sag_or_is_reached_from_below_alone_is_raised_by_nobody() -> None:
    assert "front/held/raised" not in keys(held("0").programme)
    assert "front/held/raised" not in keys(held(None, from_above="no").programme)
