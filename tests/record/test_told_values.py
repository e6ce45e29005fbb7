"""What was worked out for walls answered alike is told as if each were told alone."""

from __future__ import annotations

from answers_text import answers, wall
from jobs import job

from generator.decide.model import Reason
from generator.record.record import reason_data
from generator.record.told_values import ToldValues


def reasoned(reason: Reason) -> dict[str, object]:
    return reason_data(reason)


def test_each_wall_is_told_as_it_is_alone_its_dates_too() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(3)]
    walls[2] = walls[2].replace("exposure: moderate", "exposure: severe")
    found = job(answers(*walls))
    told = ToldValues(found, reasoned)
    for scope in (*found.facts.at("element"), *found.facts.at("work"), *found.facts.at("coat")):
        assert told.at(scope.path) == ToldValues(found, reasoned).at(scope.path), scope.path
    first, second, third = (told.of_work((f"w{number}", "repoint")) for number in range(3))
    differing = {key for key in first if first[key] != second[key]}
    assert {key.rpartition("/")[2] for key in differing} >= {"placing_start_date"}
    assert "exposure_reckoned" in told.at(("w2",))
    assert told.at(("w2",))["exposure_reckoned"] != told.at(("w0",))["exposure_reckoned"]
    assert second.keys() - first.keys() == {"panel_of"}  # the first wall makes the panel of all
    assert first.keys() == second.keys() - {"panel_of"} == third.keys() - {"panel_of"}
