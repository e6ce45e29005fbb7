"""Daub pressed on wattle: its panel, what lies on it, and who stands on its other side."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import pytest
from timed_jobs import codes, planned, scaffolded, span, surface

from generator.job.job import Job
from generator.papers.steps import all_steps

WATTLE: Final = {"masonry": "earth", "earth_kind": "wattle", "in_frame": "yes"}
WHOLE: Final = {"rebuild_what": "whole", "rebuild_thickness_mm": "90", "replaced_units_nr": "0"}


def walled(*works: str, **changes: str) -> str:
    """A wall of earth, which has no units."""
    return scaffolded(
        *works,
        hardness=None, bond=None, unit_length_mm=None, unit_width_mm=None, unit_height_mm=None, joint_width_mm=None,
        **{**WATTLE, **changes},
    )  # fmt: skip


def daubed(**changes: str) -> Job:
    """Panels of daub rebuilt and rendered."""
    rebuild = surface("daub", "rebuild", **{**WHOLE, **changes})
    coat = surface("coat", "render", render_kind="flat", dubbing_mm="0", decoration="bare")
    return planned(walled(rebuild, coat), finish_date="2028-09-29")


def steps(made: Job, *wanted: str) -> list[str]:
    return [told.entry.id for told in all_steps(made, ("front",)) if told.entry.id in wanted]


@pytest.mark.parametrize("place", ["access", "ground", "frame"])
def test_daub_is_shown_in_a_panel_dried_through_before_the_rest_and_coats_are_tried_on_that_panel(place: str) -> None:
    made = daubed(panel_place=place)
    names = ("panel-earth", "panel-daub-dries", "panel-answer", "take-down", "rebuild-earth")
    found = [span(made.programme, f"front/daub/{name}") for name in names]
    assert all(later[0] >= one[1] for one, later in pairwise(found))
    assert span(made.programme, "front/coat/render-base/panel-coat")[0] > found[2][1]
    assert made.in_papers("approvals.panel-daub")
    assert "prelims.panel-daub" in {item.entry.id for item in made.measured.items()}
    panel = "rebuild.earth.panel" if place == "access" else "rebuild.earth-early.panel"
    order = [panel, "rebuild.approved", "wall.covers", "render.panel", "rebuild.daub", "render.approved"]
    assert steps(made, *order) == order
    assert "approvals.panel-daub" in made.library.hold_points["panel"].clauses
    assert ("daub-panel-holds-access" in codes(made)) == (place == "access")


def test_a_rebuilt_wall_of_which_no_panel_is_made_is_not_asked_for_its_place() -> None:
    made = planned(walled(surface("up", "rebuild", **WHOLE), earth_kind="cob"))
    assert made.library.questionnaire.applies(made.facts, ("front", "up"), "panel_place") is False


def test_daub_without_hollows_has_no_step_that_fills_and_dries_them() -> None:
    assert steps(daubed(), "render.earth-hollows", "render.prepare") == ["render.prepare"]
