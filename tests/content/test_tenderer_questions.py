"""What the tenderers of a big example would have to ask stands answered in its papers, the same in each of them."""

from __future__ import annotations

import re
from typing import Final

from jobs import example
from told_papers import specification

BIG: Final = "mill-house"


def test_layers_of_a_flaunching_are_told_as_one_days_work_wherever_they_are_told() -> None:
    found = example(BIG)
    (work,) = [view for view in found.facts.views("work") if view.text("work") == "flaunching"]
    (coat,) = work.inside("coat")
    (made,) = [lime for wall in found.programme.walls for lime in wall.lime if lime.path == coat.path]
    assert made.first == made.last
    clause = specification(BIG).partition("Laying flaunching\n")[2].partition("\nCheck:")[0]
    layer = coat.spoken("layer_mm")
    assert [
        words for words in ("all in one day", f"in layers of {layer} or less", "at once") if words not in clause
    ] == []
    assert f"no layer thicker than {layer}" in specification(BIG)


def test_days_of_a_scaffold_have_an_output_that_is_told_and_the_least_that_they_are() -> None:
    rows = specification(BIG).partition("[table] Outputs that the days")[2].partition("\n[table]")[0]
    for task in example(BIG).programme.tasks():
        if task.kind == "access":
            least = f", {task.why.least_days} days or more" if task.why.least_days > 1 else ""
            assert re.search(rf"^{task.label}{least}\b.* \| {task.why.people_nr}$", rows, re.M), task.key
            assert task.why.days.likely >= task.why.least_days


def test_a_stage_on_a_roof_says_what_carries_it_how_long_and_in_whose_price() -> None:
    clause = specification(BIG).partition("Stage on the roof\n")[2].partition("\nCheck:")[0]
    assert "bays of scaffold on the ground" in clause
    assert (
        "part of this access, stay as long as the stage, and serve besides any wall before which they stand" in clause
    )
