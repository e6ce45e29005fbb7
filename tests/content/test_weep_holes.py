"""Weep holes of a wall that holds back ground: ordered, placed on its sheet, held, dated and priced, with or without
enabling work."""

from __future__ import annotations

import pytest
from answers_text import wall, work
from timed_jobs import keys, planned, scaffolded, surface, task

from generator.job.job import Job
from generator.papers.steps import all_steps

DRAIN = {"enabling_tasks": "[drain]", "face_area_m2": None, "quantity_sure": None}
SOAKED = {"wall_wet": "soaked", "decay_causes": "[high-ground]", "causes_cured": "in-this-work"}
HELD = ("front/weep-holes", "front/weep-holes-seen")


def retaining(*works: str, **changes: str) -> Job:
    return planned(wall(*works, **{"position": "retaining", **changes}))


@pytest.mark.parametrize("works", [(work(),), (surface("g", "enabling", **DRAIN), work())])
def test_weep_holes_are_cleared_seen_and_paid_for_before_a_joint_is_opened(works: tuple[str, ...]) -> None:
    found = retaining(*works, **SOAKED)
    assert found.in_papers("enabling.weep-holes")
    assert [item.entry.id for item in found.measured.items() if "weep" in item.entry.id] == ["enabling.weep-holes"]
    cleared, seen = (task(found.programme, key) for key in HELD)
    marked, dries = task(found.programme, "front/repoint/mark"), task(found.programme, "front/dry-out")
    assert cleared.finish < seen.start
    assert seen.hold == "weep-holes"
    assert seen.finish < marked.start
    assert seen.finish <= dries.start
    steps = [told.entry.id for told in all_steps(found, ("front",))]
    assert steps.count("wall.weep-holes") == 1
    assert steps.index("wall.weep-holes") < steps.index("wall.causes") < steps.index("repoint.loose")


def test_a_retaining_wall_behind_a_scaffold_has_its_weep_holes_cleared_from_it() -> None:
    found = planned(scaffolded(work(), position="retaining"))
    assert task(found.programme, HELD[0]).start > task(found.programme, "front/access-up").finish


def test_render_on_a_retaining_wall_closes_no_weep_hole() -> None:
    render = surface("r", "render", render_kind="flat")
    found = retaining(render)
    assert task(found.programme, HELD[1]).finish < task(found.programme, "front/r/prepare").start


def test_a_wall_that_holds_back_no_ground_has_none() -> None:
    found = planned(scaffolded(work()))
    assert not found.in_papers("enabling.weep-holes")
    assert not [key for key in keys(found.programme) if "weep" in key]
