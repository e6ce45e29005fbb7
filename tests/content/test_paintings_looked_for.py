"""Old decoration is looked for where the face is reached, and before anything touches it."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import pytest
from order_of_work import begun_too_soon, days_of, ordered_steps, out_of_order, undated, unpictured
from timed_jobs import planned, scaffolded, surface

from generator.job.job import Job

ROOM: Final = {
    "position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open",
    "lead_paint": "none", "height_m": "5",
}  # fmt: skip
COATS: Final = {"plaster_coats": "two", "plaster_surface": "floated", "dubbing_mm": "0", "cornice_m": "0"}


def room(panel_place: str, *, painting: str = "not-looked", removed: str | None = "gypsum-plaster") -> Job:
    works = [] if removed is None else [surface("off", "remove", removed=removed, removed_hold="loose")]
    works.append(surface("p", "plaster", panel_place=panel_place, old_plaster_beside="no", **COATS))
    return planned(scaffolded(*works, wall_painting=painting, **ROOM), finish_date="2028-09-29")


@pytest.mark.parametrize("painting", ["not-looked", "found"])
def test_a_conservator_looks_at_a_high_face_from_its_scaffold_before_it_is_marked(painting: str) -> None:
    """Windows were to be opened one for every 5 m², up to 5 m, two days before the tower stood."""
    made = room("access", painting=painting)
    found = days_of(made, "front", "access-up", "paintings", "surface-marked")
    assert all(earlier.finish < later.start for earlier, later in pairwise(found))
    steps = ("wall.room", "wall.access-indoors", "wall.paintings-above", "remove.mark")
    assert ordered_steps(made, "front", "wall.paintings", *steps) == list(steps)
    assert [*out_of_order(made), *begun_too_soon(made), *undated(made), *unpictured(made)] == []


def test_a_face_on_which_a_panel_is_made_from_the_ground_is_looked_at_before_that() -> None:
    made = room("ground", removed=None)
    word, panel, up = days_of(made, "front", "paintings", "panel-coat", "access-up")
    assert word.finish < panel.start < up.start
    steps = ("wall.paintings", "plaster.ground.panel", "wall.access-indoors")
    assert ordered_steps(made, "front", "wall.paintings-above", *steps) == list(steps)


def test_no_step_on_old_decoration_stands_where_it_was_looked_for_and_none_found() -> None:
    made = room("access", painting="none")
    assert ordered_steps(made, "front", "wall.paintings", "wall.paintings-above") == []
