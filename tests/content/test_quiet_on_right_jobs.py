"""A right job is not warned of what it has already arranged."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import example, job

from generator.papers.steps import all_steps

ENABLING: dict[str, str | None] = dict.fromkeys(
    ("treated_per_cent", "treated_how", "joint_depth_lost_mm", "cement_area_m2", "joint_finish", "face_area_m2")
)


def codes(causes: str, *, cured: str = "in-this-work", tasks: str = "", **more: str) -> set[str]:
    """The findings of one wall whose causes are cured so, by enabling work of these tasks where it has any."""
    mends = (work("mend", **{**ENABLING, "work": "enabling", "enabling_tasks": tasks, **more}),) if tasks else ()
    made = job(answers(wall(work(), *mends, decay_causes=causes, causes_cured=cured)))
    return {found.code for found in made.findings}


@pytest.mark.parametrize(
    ("cause", "task", "code"),
    [
        ("gutter", "gutters", "gutter-first"),
        ("plants", "plants", "plants-first"),
    ],
)
def test_a_cause_that_enabling_work_of_the_wall_mends_is_not_asked_after_again(
    cause: str, task: str, code: str
) -> None:
    assert code not in codes(f"[{cause}]", tasks=f"[{task}]")
    assert code in codes(f"[{cause}]")
    assert code in codes(f"[{cause}]", tasks="[coping]")


def test_a_gutter_that_is_mended_on_another_wall_of_the_job_is_asked_after_on_neither() -> None:
    made = example("mill-house")
    assert "gutter-first" not in {found.code for found in made.findings}
    for room in ("front", "dining-room"):
        assert any("causes" in told.entry.holds for told in all_steps(made, (room,)))


@pytest.mark.parametrize("source", ["gutter", "leak", "high-ground", "cement"])
def test_frost_asks_for_the_source_of_its_water_only_where_none_is_named(source: str) -> None:
    assert "frost-means-water" in codes("[age, frost]", cured="done")
    assert "frost-means-water" not in codes(f"[{source}, frost]", cured="done")
