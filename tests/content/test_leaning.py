"""A wall that leans: the engineer's props stand before it is dug along, before its copings come off and its panels."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import pytest
from answers_text import work
from order_of_work import (
    begun_too_soon,
    days_of,
    held_back,
    ordered_steps,
    out_of_order,
    standing,
    undated,
    unpictured,
)
from timed_jobs import codes, planned, scaffolded, surface

from generator.job.job import Job

LEANS: Final = {"leaning": "yes", "engineer_says": "with-care", "causes_cured": "in-this-work", "wall_wet": "damp"}


def enabled(*tasks: str) -> str:
    amounts = {"ground": {"ground_m": "9"}, "coping": {"coping_m": "5"}}
    told = {name: value for task in tasks for name, value in amounts.get(task, {}).items()}
    return surface(
        "e", "enabling", enabling_tasks=f"[{', '.join(tasks)}]", quantity_sure=None, face_area_m2=None, **told
    )


def facing(panel_place: str = "access") -> str:
    return surface(
        "r", "rebuild", rebuild_what="facing", rebuild_thickness_mm="250", rebuild_height_m="1.1", face_area_m2="1.6",
        replaced_units_nr="6", units_source="the yard", panel_place=panel_place,
    )  # fmt: skip


def leaning(causes: str, *works: str, **changes: str) -> Job:
    told = {**LEANS, "decay_causes": causes, **changes}
    return planned(scaffolded(*works, **told), finish_date="2028-09-29", ground_remains="none-expected")


def in_turn(made: Job, *names: str) -> bool:
    found = days_of(made, "front", *names)
    return all(earlier.finish < later.start for earlier, later in pairwise(found))


def told(made: Job) -> list[str]:
    return [*out_of_order(made), *begun_too_soon(made), *held_back(made), *undated(made), *unpictured(made)]


@pytest.mark.parametrize(
    ("causes", "tasks", "spade"),
    [
        ("[movement, high-ground]", ("ground",), "trial-holes"),
        ("[movement]", ("drain",), "enable-drains"),
        ("[movement, high-ground]", (), "holes-under-sum"),
    ],
)
def test_a_wall_that_moves_is_held_by_ties_or_props_before_a_spade_goes_in_at_its_foot(
    causes: str, tasks: tuple[str, ...], spade: str
) -> None:
    """A gable 60 mm out of plumb was dug along in April, and the engineer's props were put in in May."""
    made = leaning(causes, *([enabled(*tasks)] if tasks else []), work(panel_place="access"))
    assert in_turn(made, "engineer", "pictures-below", "movement-mended", spade, "access-up")
    dug = ("enabling.trial-holes", "enabling.drains", "wall.cause-ground")
    steps = ordered_steps(made, "front", "wall.cause-movement-first", "wall.cause-movement", *dug, "wall.access")
    assert (steps[0], steps[-1], len(steps)) == ("wall.cause-movement-first", "wall.access", 3)
    assert told(made) == []


def test_copings_of_a_wall_that_moves_come_off_and_joints_are_raked_for_a_panel_once_it_is_held() -> None:
    made = leaning("[movement, leak]", enabled("coping"), facing(), work(panel_place="access"))
    assert in_turn(made, "access-up", "pictures", "movement-mended", "top-sheeted")
    (held,) = days_of(made, "front", "movement-mended")
    assert all(task.start > held.finish for task in standing(made, ("panel-coat",), ("front",)))
    steps = ("wall.access", "wall.cause-movement", "enabling.copings", "rebuild.panel", "repoint.panel")
    assert ordered_steps(made, "front", *steps) == list(steps)


@pytest.mark.parametrize("says", ["with-care", "sound"])
@pytest.mark.parametrize("how", ["by the metre", "under a sum", "not at all"])
def test_whoever_digs_along_a_wall_that_leans_waits_for_the_engineer_whatever_was_said_of_its_joints(
    how: str, says: str
) -> None:
    works = [enabled("ground")] if how == "by the metre" else []
    causes = "[leak]" if how == "not at all" else "[high-ground]"
    made = leaning(causes, *works, work(), engineer_says=says)
    asked = how != "not at all"
    assert made.serves("enabling.digging-leaning", ("front",)) is asked
    assert ("leaning-dug" in codes(made)) is asked
    upright = leaning(causes, *works, work(), leaning="no")
    assert not upright.in_papers("enabling.digging-leaning")


def test_the_panel_of_pointing_is_made_with_that_of_what_is_rebuilt_and_not_once_it_stands_again() -> None:
    """The step stood after the rebuilding, in July, and its date was the fifth of May."""
    made = leaning("[leak]", enabled("ground"), facing(), work(panel_place="access"))
    steps = (
        "wall.covers", "rebuild.panel", "repoint.panel", "enabling.dry", "rebuild.approved", "rebuild.down-facing",
        "repoint.approved",
    )  # fmt: skip
    assert ordered_steps(made, "front", *steps) == list(steps)
    assert [*begun_too_soon(made), *held_back(made)] == []


def test_a_wall_that_moves_is_held_before_a_panel_is_raked_into_it_from_the_ground() -> None:
    made = leaning("[movement]", work(panel_place="ground"))
    assert in_turn(made, "pictures-below", "movement-mended", "panel-coat", "access-up")
    steps = ("wall.cause-movement-first", "repoint.ground.panel", "wall.access")
    assert ordered_steps(made, "front", *steps) == list(steps)
    assert told(made) == []


@pytest.mark.parametrize("evidence", ["[]", "[crevices, roof]"])
@pytest.mark.parametrize("leans", ["no", "yes"])
def test_a_panel_from_the_ground_is_made_before_the_scaffold_stands_where_a_sum_cures_its_wall(
    evidence: str, leans: str
) -> None:
    """The scaffold went up on 20 April for a leak under a sum, and the panel of the step before it on 6 May."""
    bats = {"species_evidence": evidence} | ({} if evidence == "[]" else {"ecologist_says": "licence"})
    made = leaning("[leak]", work(panel_place="ground"), leaning=leans, **bats)
    assert in_turn(made, "panel-coat", "access-up", "causes-mended")
    assert told(made) == []
