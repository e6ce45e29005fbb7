"""The way from answers to papers, as a whole: what may not change a decision does not."""

from __future__ import annotations

from pathlib import Path

import pytest
from answers_text import answers, one_wall, quoted, wall, work
from bench_estate import estate
from jobs import EXAMPLES, job

from generator import pipeline
from generator.job.job import Job

SOFT = wall(work("a", asked_binder="putty"), id_="one", name="One")
HARD = wall(work("b"), id_="two", name="Two", hardness="hard", exposure="severe")
RUBBLE = wall(
    work("c", joint_finish="as-found"), id_="three", name="Three", masonry="rubble", hardness="medium", bond=None,
    unit_length_mm=None, unit_width_mm=None, unit_height_mm=None, joint_width_mm="15 - 40 (25)",
)  # fmt: skip


def decided(found: Job, name: str = "binder") -> dict[str, object]:
    """What was decided by the last id of each work, whatever the walls are called."""
    return {scope.path[1]: found.facts.get(scope.path, name) for scope in found.facts.at("coat")}


def test_reordering_walls_changes_no_decision() -> None:
    one, other = job(answers(SOFT, HARD, RUBBLE)), job(answers(RUBBLE, SOFT, HARD))
    for name in ("binder", "greatest_grain_mm", "layer_mm", "damp_days", "season_last_placing_date"):
        assert decided(one, name) == decided(other, name)


def test_renaming_walls_and_scrambling_free_text_changes_no_decision() -> None:
    scrambled = {
        "name": "Cement NHL 5",
        "description": quoted("flint, granite, putty"),
        "condition": "chimney in salt spray",
    }
    plain, other = job(one_wall()), job(one_wall(**scrambled, extent="all in NHL 5", significance="none"))
    for name in ("binder", "greatest_grain_mm", "layer_mm", "damp_days"):
        assert decided(plain, name) == decided(other, name)


def test_walls_of_one_recipe_and_grain_share_a_mix() -> None:
    found = job(answers(SOFT, wall(work("d"), id_="four", name="Four"), HARD))
    assert found.facts.get(("one", "a", "pointing"), "mix_used") == found.facts.get(
        ("four", "d", "pointing"), "mix_used"
    )
    assert len(found.decisions.mixes) == 2


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_every_example_is_for_tender(path: Path) -> None:
    assert job(path.read_text(encoding="utf-8")).status == "tender"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_the_walls_of_an_example_twice_over_make_one_set_whose_papers_agree(path: Path) -> None:
    walls = len(job(path.read_text(encoding="utf-8")).facts.at("element"))
    found = job(estate(2 * walls, path))
    assert len(found.facts.at("element")) == 2 * walls
    assert pipeline.assembled(found).documents


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_every_mix_is_used_and_every_line_names_a_mix_and_clauses_that_are_there(path: Path) -> None:
    found = job(path.read_text(encoding="utf-8"))
    refs = {mix.ref for mix in found.decisions.mixes}
    assert all(mix.used_for for mix in found.decisions.mixes)
    for item in found.measured.items():
        assert set(filter(None, item.mix.split(", "))) <= refs
        assert found.clause_numbers(found.library.duties[item.entry.id]), item.entry.id
