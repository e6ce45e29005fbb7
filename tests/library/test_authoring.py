"""A practice's own clauses: started, adopted, dropped, looked up, and read again when the base has changed."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers import library_tree
from jobs import ROOT, shipped

from generator.errors import CannotWrite, InputInvalid
from generator.library.authoring import (
    NewClause,
    adopt_clause,
    drop_clause,
    new_clause,
    review,
    search,
    seen,
    where_used,
)
from generator.library.layers import clause_hash
from generator.library.load import load

PARTS = """\
    part: {id: walls, title: Walls}
    clauses:
    - {id: walls.first, title: First, text: "Do it, as [](clause:walls.last).", sources: []}
    - {id: walls.last, title: Last, text: "Sweep up.", sources: []}
    """
FINDING = "findings:\n- {code: clause-base-changed, level: warning, message: m, action: a, sources: []}\n"


def base(tmp: Path, parts: str = PARTS) -> Path:
    return library_tree(tmp / "base", {"parts/01-walls.yaml": parts, "findings/f.yaml": FINDING})


def test_a_started_clause_makes_its_layer_and_reads_without_a_mistake(tmp_path: Path) -> None:
    folder = base(tmp_path)
    path = new_clause(tmp_path / "Our House", NewClause("house.a", "walls", "It's: new", "walls.first"), load(folder))
    assert path == tmp_path / "Our House" / "clauses" / "house.a.yaml"
    found = load(folder, layers=[tmp_path / "Our House"])
    assert list(found.clauses) == ["walls.first", "house.a", "walls.last"]
    assert found.clauses["house.a"].title == "It's: new"
    assert found.layers[0].name == "our-house"


def test_every_shipped_clause_adopted_is_its_base_word_for_word(tmp_path: Path) -> None:
    library = shipped().library
    for key in library.clauses:
        adopt_clause(tmp_path, key, library)
    found = load(ROOT / "clauses", layers=[tmp_path])
    assert list(found.clauses) == list(library.clauses)
    for key, clause in library.clauses.items():
        assert clause_hash(found.clauses[key]) == clause_hash(clause), key
    assert found.raised == ()


def test_reading_a_clause_whose_base_changed_records_the_new_hash_and_nothing_else(tmp_path: Path) -> None:
    folder, house = base(tmp_path), tmp_path / "house"
    path = adopt_clause(house, "walls.last", load(folder))
    before = path.read_text()
    base(tmp_path, PARTS.replace("Sweep up.", "Sweep up twice."))
    stale = load(folder, layers=[house])
    assert [(key, origin.stale) for key, origin in review(stale)] == [("walls.last", True)]
    assert seen("walls.last", stale) == path
    after = load(folder, layers=[house])
    assert [origin.stale for _, origin in review(after)] == [False]
    changed = [
        pair for pair in zip(before.splitlines(), path.read_text().splitlines(), strict=True) if pair[0] != pair[1]
    ]
    assert len(changed) == 1
    assert "based_on" in changed[0][0]


def test_what_cannot_be_done_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    library, house = load(base(tmp_path)), tmp_path / "house"
    for step, words in (
        (lambda: new_clause(house, NewClause("walls.first", "walls", "T"), library), "is a clause already"),
        (lambda: new_clause(house, NewClause("a", "wals", "T"), library), "did you mean 'walls'?"),
        (lambda: new_clause(house, NewClause("../a", "walls", "T"), library), "cannot be a clause's id"),
        (lambda: new_clause(house, NewClause("a", "walls", "T", "walls.frist"), library), "'walls.first'?"),
        (lambda: adopt_clause(house, "walls.frist", library), "did you mean 'walls.first'?"),
        (lambda: drop_clause(house, "walls.first", " ", library), "without a reason"),
        (lambda: seen("walls.first", library), "is not a replaced clause"),
        (lambda: where_used("walls.frist", library), "did you mean 'walls.first'?"),
    ):
        with pytest.raises(InputInvalid) as caught:
            step()
        assert words in str(caught.value)
    assert not house.exists()


def test_a_file_that_is_there_is_never_overwritten(tmp_path: Path) -> None:
    library = load(base(tmp_path))
    path = adopt_clause(tmp_path / "house", "walls.first", library)
    path.write_text("mine")
    with pytest.raises(CannotWrite, match="is there already"):
        adopt_clause(tmp_path / "house", "walls.first", library)
    assert path.read_text() == "mine"


def test_where_a_clause_is_used_and_which_hold_a_word(tmp_path: Path) -> None:
    library = load(base(tmp_path))
    assert [(use.kind, use.key) for use in where_used("walls.last", library)] == [("clause", "walls.first")]
    assert where_used("walls.first", library) == []
    assert search(["SWEEP"], library) == ["walls.last"]
    assert search(["do", "sweep"], library) == []
    assert {use.kind for use in where_used("pointing.layers", shipped().library)} >= {"item", "operation"}
