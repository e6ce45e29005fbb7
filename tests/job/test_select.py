"""Which clauses are in, for which walls, and by which facts; those left out are told too."""

from __future__ import annotations

import pytest
from answers_text import answers, one_wall, wall
from small_library import clause, job_of

BRICK_AND_FLINT = answers(wall(id_="a", name="A"), wall(id_="b", name="B", masonry="flint", hardness=None, bond=None))


def test_a_clause_without_a_condition_is_in_for_every_scope_it_is_written_for() -> None:
    made = job_of(BRICK_AND_FLINT, clause("first.walls", per="element"), clause("first.job"))
    assert made.selections["first.walls"].paths == (("a",), ("b",))
    assert made.selections["first.job"].paths == ((),)
    assert made.selections["first.walls"].everywhere


def test_a_clause_is_in_only_where_its_condition_holds_and_tells_the_facts_of_both() -> None:
    found = job_of(BRICK_AND_FLINT, clause("first.flint", per="element", when="masonry == 'flint'")).selections
    chosen = found["first.flint"]
    assert chosen.paths == (("b",),)
    assert not chosen.everywhere
    assert [(path, holds) for path, holds, _ in chosen.tried] == [(("a",), False), (("b",), True)]
    assert "brick" in str(chosen.tried[0][2][0])


def test_a_clause_that_is_in_nowhere_is_told_with_the_facts_that_kept_it_out() -> None:
    chosen = job_of(one_wall(), clause("first.flint", per="element", when="masonry == 'flint'")).selections[
        "first.flint"
    ]
    assert not chosen.included
    assert chosen.tried


@pytest.mark.parametrize(("wish", "included"), [("include", True), ("exclude", False)])
def test_an_unknown_fact_includes_the_clause_only_where_it_says_so(wish: str, included: bool) -> None:
    own = clause("first.salts", per="element", when="salts == 'heavy'", if_unknown=wish)
    assert job_of(one_wall(salts="not known"), own).selections["first.salts"].included is included


def test_a_condition_may_look_inward_with_any() -> None:
    own = clause("first.pointing", when="any(work == 'repoint')")
    assert job_of(one_wall(), own).selections["first.pointing"].included
