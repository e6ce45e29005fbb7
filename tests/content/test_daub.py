"""Daub pressed on wattle: its panel, what lies on it, and who stands on its other side."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import pytest
from answers_text import answers, wall
from jobs import job, shipped
from order_of_work import ordered_steps
from timed_jobs import codes, planned, span, surface

from generator import pipeline
from generator.document.outline import outline
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.papers.assemble import assemble
from generator.questionnaire.keeping import Kept

WATTLE: Final = {"masonry": "earth", "earth_kind": "wattle", "in_frame": "yes"}
WHOLE: Final = {"rebuild_what": "whole", "rebuild_thickness_mm": "90", "replaced_units_nr": "0"}


def walled(*works: str, **changes: str) -> str:
    """A wall of earth, which has no units."""
    return wall(
        *works,
        hardness=None, bond=None, unit_length_mm=None, unit_width_mm=None, unit_height_mm=None, joint_width_mm=None,
        **{**WATTLE, "access": "scaffold", **changes},
    )  # fmt: skip


def daubed(**changes: str) -> Job:
    """Panels of daub rebuilt and rendered."""
    rebuild = surface("daub", "rebuild", **{**WHOLE, **changes})
    coat = surface("coat", "render", render_kind="flat", dubbing_mm="0", decoration="bare")
    return planned(walled(rebuild, coat), finish_date="2028-09-29")


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
    assert ordered_steps(made, "front", *order) == order
    assert "approvals.panel-daub" in made.library.hold_points["panel"].clauses
    assert ("daub-panel-holds-access" in codes(made)) == (place == "access")


def test_wattle_is_ordered_in_time_from_where_the_answers_say_and_is_no_heavy_stone() -> None:
    made = daubed(units_source="cleft staves from an invented coppice")
    (order,) = [order for order in made.programme.orders if order.thing == "wattle"]
    assert order.first_use == span(made.programme, "front/daub/panel-earth")[0]
    assert "cleft staves from an invented coppice" in outline(assemble(made).specification)
    assert not made.in_papers("safety.pots")
    assert "coats-tried-on-new-daub" in codes(made)


def test_a_rebuilt_wall_of_which_no_panel_is_made_is_not_asked_for_its_place() -> None:
    made = planned(walled(surface("up", "rebuild", **WHOLE), earth_kind="cob"))
    assert made.library.questionnaire.applies(made.facts, ("front", "up"), "panel_place") is False


def test_daub_without_hollows_has_no_step_that_fills_and_dries_them() -> None:
    assert ordered_steps(daubed(), "front", "render.earth-hollows", "render.prepare") == ["render.prepare"]


def with_room(other_side: str, **inner: str) -> Job:
    """Daub rebuilt from outside, and the inner faces of its panels plastered from a tower."""
    return job(with_rooms(other_side, "hall", **inner))


def with_rooms(other_side: str, *rooms: str, **inner: str) -> str:
    """The answers of daub rebuilt from outside, and of inner faces alike, plastered from a tower."""
    rebuild = surface("daub", "rebuild", **WHOLE)
    coats = {"plaster_coats": "two", "plaster_surface": "floated", "dubbing_mm": "0", "cornice_m": "0"}
    room = {"position": "indoors", "exposure": "internal", "heating_indoors": "low", "air_indoors": "open"}
    inside = {**room, "lead_paint": "none", "wall_painting": "none", "access": "tower", **inner}
    return answers(
        walled(rebuild, id_="front", name="Front", other_side=other_side),
        *(walled(surface("coats", "plaster", **coats), id_=id_, name=id_.title(), **inside) for id_ in rooms),
        finish_date="2028-09-29",
    )


@pytest.mark.parametrize("access", ["tower", "ground"])
def test_the_other_side_of_daub_is_reached_and_its_room_closed_before_the_first_of_it(access: str) -> None:
    made = with_room("hall", access=access)
    first = span(made.programme, "front/daub/panel-earth")[0]
    wanted = ["room-closed", *(["access-up"] if access == "tower" else [])]
    assert all(span(made.programme, f"hall/{name}")[1] < first for name in wanted)
    assert made.in_papers("rebuilding.daub-inside")
    assert not made.in_papers("rebuilding.daub-beside")
    order = ["rebuild.daub-inside", "rebuild.earth.panel", "rebuild.daub"]
    assert ordered_steps(made, "front", *order) == order
    assert "rebuild.daub-beside" not in {item.entry.id for item in made.measured.items()}


def test_where_the_other_side_is_no_wall_of_the_job_its_access_and_covers_are_priced() -> None:
    made = with_room("front")
    assert made.in_papers("rebuilding.daub-beside")
    assert not made.in_papers("rebuilding.daub-inside")
    assert "rebuild.daub-beside" in {item.entry.id for item in made.measured.items()}
    assert "rebuild.daub-beside" in ordered_steps(made, "front", "rebuild.daub-beside")


def test_another_side_that_is_no_wall_is_told() -> None:
    assert "other-side-no-wall" in codes(with_room("cellar"))
    assert "other-side-no-wall" not in codes(with_room("hall"))


def test_an_other_side_that_is_answered_anew_is_reached_first_though_all_else_is_kept() -> None:
    kept, library = Kept(), shipped()
    for room in ("hall", "attic"):
        source = read_bytes(with_rooms(room, "hall", "attic").encode(), "answers.yaml", typed=False)
        made = pipeline.settled(pipeline.read(source, library), library, kept=kept)
        (panel,) = (task for task in made.programme.tasks() if task.key == "front/daub/panel-earth")
        assert (room, "access-up") in panel.after
