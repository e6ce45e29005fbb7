"""Walls answered alike are reckoned once; one that differs in a single answer is reckoned by itself."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import job

from generator.job.job import Job
from generator.questionnaire.kinds import CALLED, TIMED, told_apart
from generator.questionnaire.scopes import ScopePath


def walls(*changes: str) -> Job:
    """A job of three walls alike, then one with each of some changes of the text."""
    same = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(3)]
    changed = []
    for number, change in enumerate(changes):
        old, new = change.split(" -> ")
        text = wall(id_=f"x{number}", name=f"Wall {number + 3}")
        assert old in text
        changed.append(text.replace(old, new))
    return job(answers(*same, *changed))


OF_MIXES = ("mix_used",)
"""What a wall is told by the number of its mix, which others of the job count up."""


def known(found: Job, path: ScopePath) -> dict[tuple[ScopePath, str], object]:
    """What is known of a wall and in it but what it is called and the dates, which no two walls share."""
    return {
        (scope.path[1:], name): told_apart(held.value)
        for level in ("element", "work", "coat")
        for scope in found.facts.inside(path, level)
        for name, held in found.facts.values[scope.path].items()
        if held.origin != TIMED and name not in CALLED
    }


def test_walls_alike_in_all_but_their_names_have_one_model_and_come_to_the_same() -> None:
    found = walls()
    assert [found.facts.model((f"w{number}", "repoint")) for number in range(3)] == [("w0", "repoint")] * 3
    assert known(found, ("w1",)) == known(found, ("w0",)) == known(found, ("w2",))


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ("exposure: moderate -> exposure: severe", "exposure"),
        ("masonry: brick -> masonry: rubble", "masonry"),
        ("joint_width_mm: 9 - 12 (10) -> joint_width_mm: 9 - 12 (11)", "joint_width_mm"),
        ("treated_per_cent: 50 - 50 (50) -> treated_per_cent: 50 - 60 (50)", "treated_per_cent"),
        ("hardness: soft -> hardness: not known", "hardness"),
    ],
)
def test_a_wall_that_differs_in_one_answer_is_its_own_model_and_is_reckoned_as_if_it_stood_alone(
    change: str, name: str
) -> None:
    found = walls(change)
    assert found.facts.model(("x0",)) == ("x0",)
    old, new = change.split(" -> ")
    alone = job(answers(wall(id_="x0", name="Wall 3").replace(old, new)))
    mine, apart = known(found, ("x0",)), known(alone, ("x0",))
    assert {key: value for key, value in mine.items() if key[1] not in OF_MIXES} == {
        key: value for key, value in apart.items() if key[1] not in OF_MIXES
    }
    assert name in {key[1] for key in mine}


def test_each_wall_that_raises_something_tells_its_own_lines() -> None:
    asked = [
        wall(work("repoint", asked_binder="cement"), id_=f"w{number}", name=f"Wall {number}") for number in range(3)
    ]
    found = job(answers(*asked))
    refused = [one for one in found.findings if one.code == "asked-cement-refused"]
    assert [one.scope[0] for one in refused] == ["w0", "w1", "w2"]
    assert len({one.marks[0].line for one in refused}) == 3


def test_what_was_weighed_is_told_of_each_wall() -> None:
    found = walls()
    by_wall = [
        [
            (one.path[1:], one.binder, one.why_not, one.because)
            for one in found.decisions.considered
            if one.path[0] == id_
        ]
        for id_ in ("w0", "w1", "w2")
    ]
    assert by_wall[0]
    assert by_wall == [by_wall[0]] * 3
