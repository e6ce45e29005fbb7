"""The dates of the programme in words."""

from __future__ import annotations

import re

from jobs import example
from told_papers import specification


def test_waits_in_working_days_are_told_apart_from_those_in_days() -> None:
    found = example("mill-house")
    (told,) = re.findall(r"The slowest waits longer too, (.*?)\. ", specification("mill-house"))
    days, worked = told.split("; in working days: ")
    kinds = {task.label: task.kind for task in found.programme.tasks()}
    assert kinds["causes put right under the sum, and proved"] == "hold"
    assert "causes put right under the sum, and proved" in worked
    assert not any(label in days for label, kind in kinds.items() if kind == "hold")


def test_the_wait_of_a_coat_is_told_as_long_as_its_sheet_tells_it() -> None:
    found = example("mill-house")
    (coat,) = (view for view in found.facts.views("coat") if view.text("coat") == "render-base")
    told = coat.spoken("next_coat_days").split()[0]
    assert coat.number("next_coat_days") > coat.number("wait_days")  # type: ignore[operator]
    assert re.search(rf"for {told}, the coat stiffens, base coat stiffens", specification("mill-house"))


def test_two_paces_of_an_operation_on_one_wall_name_its_works() -> None:
    text = specification("mill-house")
    lines = re.findall(r"^preparing the face: (.*?) \|", text, re.M)
    assert len(lines) == len(set(lines)) == 2
    assert all("Rear wall, " in line for line in lines)
