"""A room that is the only way through is not sealed in a building in use before it is said how people pass."""

from __future__ import annotations

import pytest
from answers_text import answers, wall, work
from jobs import job
from order_of_work import undated
from timed_jobs import codes, surface

from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.companions import companions
from generator.papers.steps import all_steps

CLAUSES = {"other": "site.way-other", "screened": "site.way-screened", "emptied": "site.way-emptied"}
NOT_SAID = "site.way-not-said"

PLASTER = surface("coat", "plaster", plaster_coats="two", plaster_surface="floated", old_plaster_beside="no")


def hall(way: str | None, lived_in: str = "yes", done: str = PLASTER, lead: str | None = "none") -> Job:
    room = wall(
        done, id_="hall", name="Stair hall", position="indoors", exposure="internal", way_through=way,
        heating_indoors="low", air_indoors="open", lead_paint=lead, wall_painting="none",
    )  # fmt: skip
    return job(answers(room, lived_in=lived_in))


def test_the_only_way_is_not_closed_before_it_is_agreed_how_people_pass() -> None:
    assert "only-way-closed" in codes(hall("only"))
    assert "only-way-closed" not in codes(hall("screened"))


@pytest.mark.parametrize("way", [None, "none", *CLAUSES])
def test_each_way_past_has_its_clause_and_step_and_the_screen_its_line(way: str | None) -> None:
    made = hall(way)
    expected = {CLAUSES[way]} if way in CLAUSES else set()
    assert {key for key in CLAUSES.values() if made.in_papers(key)} == expected
    assert made.in_papers(NOT_SAID) == (way is None)
    told = [step.entry.id for step in all_steps(made, ("hall",))]
    assert ("wall.way-past" in told) == (way in CLAUSES)
    assert way not in CLAUSES or told.index("wall.way-past") < told.index("wall.room")
    assert made.in_papers("site.rooms") != made.in_papers("site.rooms-screened")
    lines = {item.entry.id for item in made.measured.items()}
    assert ("prelims.way-screen" in lines) == (way == "screened")
    (owner,) = companions(made, ["owner"]).values()
    of_hall = [line for line in outline(owner).splitlines() if "Stair hall" in line]
    assert any("way" in line or "behind it" in line for line in of_hall) == (way in CLAUSES)


def test_a_room_of_which_nobody_has_said_whether_it_is_a_way_is_closed_on_a_written_answer_alone() -> None:
    """Two rooms of a house lived in were sealed for months, and nobody was asked who sleeps behind them."""
    made = hall(None)
    assert "way-not-said" in codes(made)
    told = [step.entry.id for step in all_steps(made, ("hall",))]
    assert told.index("wall.way-not-said") < told.index("wall.room")
    assert "way-not-said" not in codes(hall("none"))
    assert "way-not-said" not in codes(hall(None, lived_in="no"))


@pytest.mark.parametrize("kind", ["repoint", "desalt"])
def test_a_room_is_closed_and_has_its_screen_whatever_is_cut_or_laid_there(kind: str) -> None:
    """Joints raked dry fill a house with dust as plaster does; a poultice was behind a screen that nobody ordered."""
    made = hall("screened", done=work("p") if kind == "repoint" else surface("salts", "desalt"))
    assert {"site.way-screened", "site.rooms-screened"} <= {key for key in made.library.clauses if made.in_papers(key)}
    assert "prelims.way-screen" in {item.entry.id for item in made.measured.items()}
    told = [step.entry.id for step in all_steps(made, ("hall",))]
    assert told.index("wall.way-past") < told.index("wall.room")
    assert any(task.entry == "room-closed" for task in made.programme.tasks())


def test_nobody_is_asked_it_of_a_building_that_stands_empty() -> None:
    assert any("Is the room a way through" in item.message for item in hall("only", lived_in="no").findings)


@pytest.mark.parametrize("lead", ["found", "not-tested", "none", None])
def test_a_way_past_paint_that_may_hold_lead_is_given_back_on_a_test_alone_and_one_without_each_evening(
    lead: str | None,
) -> None:
    made = hall("screened", lead=lead)
    assert made.in_papers("safety.lead-way") == ("way-past-lead" in codes(made)) == (lead != "none")
    assert made.in_papers("site.way-worked") == (lead == "none")
    assert ("rates.way-wiped" in {item.entry.id for item in made.measured.items()}) == (lead != "none")
    told = [step.entry.id for step in all_steps(made, ("hall",))]
    assert ("wall.way-lead" in told) == (lead != "none")
    assert list(undated(made)) == []
    (owner,) = companions(made, ["owner"]).values()
    assert ("has tested clear" in outline(owner)) == (lead != "none")


@pytest.mark.parametrize("way", ["other", "emptied", "none"])
def test_a_room_that_nobody_passes_has_no_tests_of_a_way(way: str) -> None:
    assert not hall(way, lead="found").in_papers("safety.lead-way")
