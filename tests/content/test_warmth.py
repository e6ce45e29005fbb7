"""A room is at its warmth a week before its panel and before its first lime, on days that its owner reads."""

from __future__ import annotations

from datetime import timedelta

import pytest
from jobs import example
from order_of_work import standing

from generator.document.outline import outline
from generator.papers.companions import companions


@pytest.mark.parametrize(("name", "wall"), [("winter-plaster", "schoolroom"), ("mill-house", "dining-room")])
def test_the_owner_reads_from_which_days_a_room_is_warm_a_week_before_its_panel_and_its_first_filling(
    name: str, wall: str
) -> None:
    """Hollows were filled in January, days before anybody was to heat: filling is no first coat."""
    made = example(name)
    room = made.facts.at_scope((wall,))
    panel = min(task.start for task in standing(made, ("panel-coat",), (wall,)))
    lime = min(task.start for task in standing(made, ("dub", "lay"), (wall,)))
    days = [room.day(day) for day in ("warmed_panel_date", "warmed_lime_date")]
    assert days == [panel - timedelta(weeks=1), lime - timedelta(weeks=1)]
    (page,) = companions(made, ["owner"]).values()
    told = [room.spoken(day) for day in ("warmed_panel_date", "warmed_lime_date")]
    assert f"Warm from {told[0]} for a panel, and from {told[1]}." in outline(page)
    assert "from the work's first lime until" in made.library.clauses["curing.heating-low"].text


def test_no_wall_outdoors_has_a_day_from_which_it_is_warm() -> None:
    walls = example("mill-house").facts.views("element")
    warm = {wall.text("position") for wall in walls if wall.known("warmed_lime_date")}
    assert warm == {"indoors"}
