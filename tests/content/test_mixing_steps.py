"""The steps of mixing on cards agree with the clauses they tell, in set and order; so do their pictures."""

from __future__ import annotations

import re

import pytest
from jobs import shipped

from generator.drawing.slaking import SCENES
from generator.drawing.step_keys import PICTURES
from generator.library.entries import OperationEntry

NUMBERED = re.compile(r"^(\d+)\. (.*)$", re.MULTILINE)
SPELT = {"five": "5", "twice": "2"}
SEQUENCE = ["ring", "lime", "cover", "sprinkle", "leave", "turn", "screen", "bank"]
"""The order of a hot mix, written down a second time: sand lies over all lime before any water."""


def operations() -> list[OperationEntry]:
    return list(shipped().operations.values())


def telling(clause: str) -> list[OperationEntry]:
    return [entry for entry in operations() if entry.steps and entry.clauses[0] == clause]


def numbered(clause: str) -> dict[int, str]:
    """The numbered steps of a clause."""
    return {int(number): text for number, text in NUMBERED.findall(shipped().clauses[clause].text)}


CLAUSES = sorted({entry.clauses[0] for entry in operations() if entry.steps})


def test_every_way_of_making_is_told_in_steps() -> None:
    assert CLAUSES == ["limewash.making", "mortars.hot-mix", "mortars.nhl", "mortars.putty"]


@pytest.mark.parametrize("clause", CLAUSES)
def test_the_steps_tell_every_numbered_step_of_the_clause_in_its_order(clause: str) -> None:
    told = [step for entry in telling(clause) for step in entry.steps]
    assert told == sorted(told)
    assert set(told) == set(numbered(clause)) == set(range(1, max(told) + 1))


def words(text: str) -> set[str]:
    return {word[:5] for word in re.findall(r"[a-z]{4,}", text.lower())}


@pytest.mark.parametrize("entry", [entry for entry in operations() if entry.steps], ids=lambda entry: entry.id)
def test_a_step_speaks_of_what_its_clause_says_there(entry: OperationEntry) -> None:
    said = " ".join(numbered(entry.clauses[0])[step] for step in entry.steps)
    assert words(entry.text) & words(said), said


@pytest.mark.parametrize("entry", [entry for entry in operations() if entry.steps], ids=lambda entry: entry.id)
def test_no_figure_of_a_step_differs_from_that_of_its_clause(entry: OperationEntry) -> None:
    said = " ".join(numbered(entry.clauses[0])[step] for step in entry.steps).lower()
    for spelt, figure in {**SPELT, "one": "1"}.items():
        said = re.sub(rf"\b{spelt}\b", figure, said)
    assert set(re.findall(r"\d+(?:\.\d+)?", entry.text)) <= set(re.findall(r"\d+(?:\.\d+)?", said))
    named = set(re.findall(r"{{ (\w+) }}", entry.text))
    assert named <= {*re.findall(r"{{ (\w+) }}", said), *({"mix_rest_days"} if "a day or more" in said else ())}


def test_the_pictures_of_a_hot_mix_are_those_of_its_steps_in_their_order() -> None:
    assert [entry.picture for entry in telling("mortars.hot-mix")] == SEQUENCE
    assert set(SEQUENCE) == set(SCENES)


def test_no_water_falls_while_lime_lies_bare() -> None:
    before = "none"
    order = ["none", "bare", "covered", "slaked"]
    for entry in telling("mortars.hot-mix"):
        scene = SCENES[entry.picture]
        assert order.index(scene.lime) - order.index(before) in (0, 1)
        assert not scene.water or (before, scene.lime) == ("covered", "covered")
        before = scene.lime
    assert before == "slaked"


def test_every_picture_is_shown_by_some_step_and_says_what_it_shows() -> None:
    shown = {entry.picture: entry.shows for entry in operations() if entry.picture}
    assert set(shown) == PICTURES
    assert all(told.endswith(".") for told in shown.values())


def test_a_joint_is_shown_wrong_and_right() -> None:
    joints = {entry.picture: entry for entry in operations() if entry.picture.startswith("joint-")}
    assert {key: entry.id for key, entry in joints.items()} == {
        "joint-raked": "repoint.rake", "joint-filled": "repoint.finish",
    }  # fmt: skip
    assert all("Wrong:" in entry.shows and "Right:" in entry.shows for entry in joints.values())


def test_a_card_makes_limewash_as_its_clause_does_putty_into_little_water_and_soaked_pigment_into_that() -> None:
    """Putty whisked into all the water balls, and dry pigment put in last streaks."""
    in_order = re.compile(r"putty into a little of the water.*soaked.*rest", re.IGNORECASE | re.DOTALL)
    assert in_order.search(numbered("limewash.making")[1])
    assert in_order.search(shipped().operations["mixing.wash-whisk"].text)
