"""Which clauses speak to a scope is asked once for walls answered alike, and comes to what each is asked alone."""

from __future__ import annotations

from answers_text import answers, wall
from jobs import job

from generator.questionnaire.kinds import TIMED


def test_clauses_speak_to_each_scope_as_they_do_when_each_is_asked_by_itself() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(3)]
    walls[1] = walls[1].replace("leaning: no", "leaning: yes")
    found = job(answers(*walls))
    keys = tuple(found.selections)
    told = {path: found.serving(keys, path) for path in found.facts.scopes}
    for path, served in told.items():
        assert served == tuple(key for key in keys if found.serves(key, path)), path
    assert told[("w0",)] == told[("w2",)]
    assert set(told[("w1",)]) ^ set(told[("w0",)])


def test_what_rests_on_dates_stands_for_its_own_wall_alone() -> None:
    found = job(answers(*(wall(id_=f"w{number}", name=f"Wall {number}") for number in range(2)))).facts
    dated = {name for path, name, held in found.every() if held.origin == TIMED and path[:1] == ("w1",)}
    assert dated
    for name in dated:
        assert found.standing_for(("w1",), {"masonry", name}) == ("w1",)
    assert found.standing_for(("w1",), {"masonry", "exposure"}) == ("w0",)
