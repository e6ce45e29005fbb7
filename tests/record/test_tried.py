"""Where a condition came out how: scopes that answer alike are tried once, and what differs is told by itself."""

from __future__ import annotations

from answers_text import answers, wall
from jobs import job

from generator.record.tried import tried

INSIDE = "render.then-limewash"
"""A clause of a wall that asks `any(...)` of the works in it."""


def test_walls_alike_in_all_that_is_asked_inside_them_are_told_together_and_one_that_differs_by_itself() -> None:
    walls = [wall(id_=f"w{number}", name=f"Wall {number}") for number in range(4)]
    walls[2] = walls[2].replace("work: repoint", "work: limewash")
    found = job(answers(*walls))
    selection = found.selections[INSIDE]
    assert selection.condition is not None
    assert selection.condition.inside()
    told = {one.scopes: one for one in tried(found, selection)}
    assert set(told) == {(("w0",), ("w1",), ("w3",)), (("w2",),)}
    for scopes, one in told.items():
        for path in scopes:
            verdict = selection.condition.evaluate(found.facts, path)
            assert (verdict.holds, tuple(map(str, verdict.facts))) == (one.holds, one.facts)
