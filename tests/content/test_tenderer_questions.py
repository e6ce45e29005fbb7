"""What the tenderers of a big example would have to ask stands answered in its papers, the same in each of them."""

from __future__ import annotations

from typing import Final

from jobs import example
from told_papers import papers, specification

BIG: Final = "mill-house"


def test_layers_of_a_flaunching_are_told_as_one_days_work_wherever_they_are_told() -> None:
    found = example(BIG)
    (work,) = [view for view in found.facts.views("work") if view.text("work") == "flaunching"]
    (coat,) = work.inside("coat")
    (made,) = [lime for wall in found.programme.walls for lime in wall.lime if lime.path == coat.path]
    assert made.first == made.last
    clause = specification(BIG).partition("Laying flaunching\n")[2].partition("\nCheck:")[0]
    layer = coat.spoken("layer_mm")
    assert [words for words in ("all in one day", f"in layers of {layer} or less", "at once") if words not in clause] == []
    assert f"no layer thicker than {layer}" in specification(BIG)
