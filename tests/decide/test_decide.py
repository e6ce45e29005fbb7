"""Deciding as a whole: the rules in order, and equal recipes gathered into mixes."""

from __future__ import annotations

from decimal import Decimal

import pytest
from answers_text import answers, one_wall, wall, work
from jobs import shipped
from small_library import job

from generator.decide.decide import WALL_RULES, WORK_RULES
from generator.job.job import Job

LIBRARY = shipped()


def uses(made: Job) -> dict[str, list[str]]:
    return {mix.ref: [path[0] for path in mix.used_for] for mix in made.decisions.mixes}


def test_each_rule_runs_once_at_one_level() -> None:
    rules = [rule.decide for rule in (*WALL_RULES, *WORK_RULES)]
    assert len(rules) == len(set(rules))
    assert {rule.level for rule in (*WALL_RULES, *WORK_RULES)} <= {"project", "element", "work", "coat"}


def test_mixes_are_numbered_from_one_in_the_order_of_the_answers() -> None:
    walls = [wall(id_="a", name="A"), wall(id_="b", name="B", hardness="hard"), wall(id_="c", name="C")]
    assert uses(job(answers(*walls))) == {"M1": ["a", "c"], "M2": ["b"]}
    assert uses(job(answers(*reversed(walls)))) == {"M1": ["c", "a"], "M2": ["b"]}


def test_one_recipe_with_two_grains_makes_two_mixes() -> None:
    fine = wall(id_="fine", name="Fine", joint_width_mm="6 - 9 (8)")
    made = job(answers(wall(), fine))
    first, second = made.decisions.mixes
    assert first.recipe is second.recipe
    assert (first.grain_mm, second.grain_mm) == (Decimal(3), Decimal(2))


def test_a_wall_may_be_worked_in_two_ways() -> None:
    high, low = work("high"), work("low", extent="the lowest metre", asked_binder="nhl-2")
    made = job(answers(wall(high, low)))
    taken = {scope.path[1]: made.facts.get(scope.path, "binder") for scope in made.facts.at("coat")}
    assert taken == {"high": "putty", "low": "nhl-2"}


def test_every_coat_is_told_its_mix_and_every_mix_is_a_scope() -> None:
    made = job(one_wall())
    assert made.facts.get(("front", "repoint", "pointing"), "mix_used") == "M1"
    assert made.facts.get(("M1",), "mix_ref") == "M1"
    assert made.facts.get(("M1",), "mix_hair") is False
    mix = made.decisions.mix_of(("front", "repoint", "pointing"))
    assert mix is made.decisions.mixes[0]
    assert made.decisions.mix_of(("front", "repoint")) is None


def test_every_value_decided_has_a_reason_with_sources_that_are_listed() -> None:
    made = job(one_wall())
    decided = {
        (path, name)
        for path, name, held in made.facts.every()
        if held.origin == "<decide>"
        and not name.startswith(("mix_", "coat", "sand_"))
        and name not in ("total_mm", "last_coat")
    }
    assert decided
    assert decided <= set(made.decisions.reasons)
    for reason in made.decisions.reasons.values():
        assert reason.because
        assert reason.sources
        assert set(reason.sources) <= set(LIBRARY.sources)


def test_a_coat_whose_binder_is_not_decided_is_in_no_mix_and_its_wall_still_stands() -> None:
    made = job(answers(wall(id_="a", name="A", hardness="not known"), wall(id_="b", name="B")))
    assert uses(made) == {"M1": ["b"]}
    assert [scope.path for scope in made.facts.at("element")] == [("a",), ("b",)]


@pytest.mark.parametrize(
    ("code", "names", "changes"),
    [
        ("asked-cement-refused", {"asked_binder"}, {"asked_binder": "cement"}),
        ("asked-binder-refused", {"asked_binder"}, {"asked_binder": "nhl-5"}),
        ("asked-grain-refused", {"asked_grain_mm", "joint_width_mm"}, {"asked_grain_mm": "6"}),
        ("joint-finer-than-sand", {"joint_width_mm"}, {"joint_width_mm": "0.6 - 2 (1)"}),
        ("last-placing-passed", {"start_date", "early_frost"}, {"start_date": "2027-09-20", "finish_date": None}),
        ("mixer-too-small", {"mixer_l", "gauge_box_l"}, {"mixer_l": "60", "gauge_box_l": "14"}),
        ("work-takes-years", {"output_m2_per_day", "face_area_m2"},
         {"output_m2_per_day": "0.1", "face_area_m2": "500"}),
        ("grading-not-read", {"old_sand_passing", "sands_on_offer"},
         {"old_sand_passing": '"coarse"', "sands_on_offer": '[{name: pit, passing: "4 100, 1 50"}]'}),
    ],
)  # fmt: skip
def test_what_rests_on_answers_tells_the_line_and_column_of_each(
    code: str, names: set[str], changes: dict[str, str | None]
) -> None:
    text = one_wall(**changes)
    (found,) = [item for item in job(text).findings if item.code == code]
    lines = text.splitlines()
    assert {lines[mark.line - 1].strip(" -").split(":")[0] for mark in found.marks} == names
    assert all(mark.column for mark in found.marks)
