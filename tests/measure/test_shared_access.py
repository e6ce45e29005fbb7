"""One access for several walls: priced, hired and put up once, and told alike wherever it is told."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import job
from timed_jobs import codes, keys, planned, scaffolded, task, told

from generator.document.model import plain_text
from generator.job.job import Job
from generator.measure.model import Item
from generator.papers.schedule import description, rules
from generator.papers.steps import all_steps
from generator.record.programme import programme_told

LOWER, UPPER = ("lower",), ("upper",)


@pytest.fixture(scope="module")
def shared() -> Job:
    """A front of two zones behind one scaffold, and a wall round its corner that is worked from it too."""
    return planned(
        scaffolded(work(face_area_m2="40"), id_="lower", name="Lower front", height_m="4"),
        scaffolded(work(face_area_m2="60"), id_="upper", name="Upper front", height_m="9", access_with="lower"),
        scaffolded(work(face_area_m2="20"), id_="corner", name="Corner", access_with="lower"),
        finish_date="2027-09-24",
    )


def lines(made: Job, rule: str) -> list[Item]:
    return [item for item in made.measured.items() if item.entry.id == rule]


def test_access_that_serves_several_walls_is_erected_and_hired_in_one_line_of_one_wall(shared: Job) -> None:
    (erected,), (hired,) = lines(shared, "prelims.access-shared"), lines(shared, "prelims.access-weeks")
    assert erected.path == hired.path == LOWER
    assert lines(shared, "prelims.access") == []
    assert [line.path for line in lines(shared, "rates.access-week")] == [LOWER]
    said = plain_text(description(shared, erected))
    assert "serves besides this wall: Upper front and Corner" in said
    assert "9 m high" in said
    altered = lines(shared, "prelims.access-of-other")
    assert [line.path for line in altered] == [UPPER, ("corner",)]
    assert all("priced with Lower front" in plain_text(description(shared, line)) for line in altered)


def test_access_that_serves_several_walls_stands_from_the_first_to_the_last_of_their_works(shared: Job) -> None:
    found = shared.programme
    assert [key for key in keys(found) if key.endswith(("access-up", "access-down"))] == [
        "lower/access-up", "lower/access-down",
    ]  # fmt: skip
    up, down = task(found, "lower/access-up"), task(found, "lower/access-down")
    for one in ("lower", "upper", "corner"):
        assert task(found, f"{one}/pictures").start > up.finish
        assert task(found, f"{one}/strike-passed").finish < down.start
    assert up.why.amount is not None
    assert up.why.amount.likely == 120  # all that it reaches
    (hired,) = lines(shared, "prelims.access-weeks")
    assert hired.quantity == -(-(down.finish - up.finish).days // 7)


def test_sheets_and_record_tell_whose_the_access_is(shared: Job) -> None:
    dates = [(wall_.day("access_up_date"), wall_.day("access_down_date")) for wall_ in shared.facts.views("element")]
    assert len(set(dates)) == 1
    steps = {path: [step.entry.id for step in all_steps(shared, path)] for path in (LOWER, UPPER)}
    assert "wall.access" in steps[LOWER]
    assert "wall.access-shared" in steps[UPPER]
    assert "wall.access" not in steps[UPPER]
    for ids in steps.values():
        assert ids[-1] == "wall.look-shared"  # it stays for the others
    own, *served = shared.programme.walls
    assert own.access_weeks is not None
    assert [(each.access, each.access_weeks) for each in served] == [(own.access, None)] * 2
    assert "that of Lower front" in str(programme_told(shared))
    assert any("serves further walls" in rule for rule in rules(shared))


def test_access_of_one_wall_alone_is_told_as_before() -> None:
    made = job(answers(wall(access="scaffold")))
    assert len(lines(made, "prelims.access")) == 1
    assert not any("serves further walls" in rule for rule in rules(made))


def test_a_wall_that_names_itself_has_its_own_so_that_zones_answer_together() -> None:
    made = planned(
        scaffolded(id_="lower", name="Lower", access_with="lower"),
        scaffolded(id_="upper", name="Upper", access_with="lower"),
    )
    assert [line.path for line in lines(made, "prelims.access-shared")] == [LOWER]
    assert not {code for code in codes(made) if code.startswith("access-with")}


@pytest.mark.parametrize(
    ("code", "first", "second"),
    [
        ("access-with-no-wall", {}, {"access_with": "loft"}),
        ("access-with-none", {"access": "ground"}, {"access_with": "a"}),
        ("access-with-a-guest", {"access_with": "b"}, {"access_with": "a"}),
        ("access-of-another-kind", {"access": "tower"}, {"access_with": "a"}),
    ],
)
def test_an_access_that_cannot_be_shared_so_is_told(code: str, first: dict[str, str], second: dict[str, str]) -> None:
    base = {"access": "scaffold"}
    made = planned(wall(id_="a", name="A", **base | first), wall(id_="b", name="B", **base | second))
    (found,) = [item for item in made.findings if item.code == code][:1]
    assert {mark.line for mark in found.marks}
    assert told(made, code)
    if code != "access-of-another-kind":
        assert found.level == "block"
        assert lines(made, "prelims.access-of-other") == []
