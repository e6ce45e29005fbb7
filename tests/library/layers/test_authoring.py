"""A practice's own clauses: started, adopted, dropped, looked up, and read again when the base has changed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from helpers import build_tree, library_tree
from jobs import ROOT, shipped

from generator.files.errors import CannotWrite, InputInvalid
from generator.library.entries import clause_hash
from generator.library.layers.authoring import (
    NewClause,
    Reader,
    adopt_clause,
    drop_clause,
    new_clause,
    record_review,
    replacements,
    search,
    where_used,
)
from generator.library.load import load

PARTS = """\
    part: {id: walls, title: Walls}
    clauses:
    - {id: walls.first, title: First, text: "Do it, as [](clause:walls.last).", cost: information, sources: []}
    - {id: walls.last, title: Last, text: "Sweep up.", cost: information, sources: []}
    """
OTHER = "part: {id: other, title: Other}\nclauses: []\n"
WORDS = "words: {starter-title: Ours, starter-text: Write., starter-check: Look., starter-because: Why.}\n"
FINDING = "findings:\n- {code: clause-base-changed, level: warning, message: m, action: a, sources: []}\n"
FINDING += "- {code: clause-not-written, level: block, message: m, action: a, sources: []}\n"


def base(tmp: Path, parts: str = PARTS) -> Path:
    files = {"parts/01-walls.yaml": parts, "parts/02-other.yaml": OTHER, "findings/f.yaml": FINDING}
    build_tree(tmp, {"templates/words.yaml": WORDS})
    return library_tree(tmp / "base", files)


def test_a_started_clause_makes_its_layer_and_reads_without_a_mistake(tmp_path: Path) -> None:
    folder = base(tmp_path)
    path = new_clause(tmp_path / "Our House", NewClause("house.a", "walls", "It's: new", "walls.first"), load(folder))
    assert path == tmp_path / "Our House" / "clauses" / "house.a.yaml"
    found = load(folder, layers=[tmp_path / "Our House"])
    assert list(found.clauses) == ["walls.first", "house.a", "walls.last"]
    assert found.clauses["house.a"].title == "It's: new"
    assert found.layers[0].name == "our-house"


def test_every_shipped_clause_adopted_is_its_base_word_for_word(tmp_path: Path) -> None:
    library = shipped()
    for key in library.clauses:
        adopt_clause(tmp_path, key, library)
    found = load(ROOT / "clauses", layers=[tmp_path])
    assert list(found.clauses) == list(library.clauses)
    for key, clause in library.clauses.items():
        assert clause_hash(found.clauses[key]) == clause_hash(clause), key
    assert found.raised == ()


def test_a_started_clause_holds_the_librarys_words_for_one_and_is_not_written_until_they_are_changed(
    tmp_path: Path,
) -> None:
    library = shipped()
    path = new_clause(tmp_path, NewClause("house.a", "completion", "Our own"), library)
    (raised,) = load(ROOT / "clauses", layers=[tmp_path]).raised
    assert (raised.code, raised.marks[0].file) == ("clause-not-written", str(path))
    text = path.read_text(encoding="utf-8")
    written = {library.words[f"starter-{name}"]: "Do it." for name in ("text", "check", "because")}
    for begun, said in {**written, "cost: open": "cost: information"}.items():
        assert load(ROOT / "clauses", layers=[tmp_path]).raised
        text = text.replace(begun, said)
        path.write_text(text, encoding="utf-8")
    assert load(ROOT / "clauses", layers=[tmp_path]).raised == ()


def changed_beneath(tmp_path: Path) -> tuple[Path, Path, Path]:
    """A library, a layer that replaces one of its clauses, and the replacement's file; the clause has changed since."""
    folder, house = base(tmp_path), tmp_path / "house"
    path = adopt_clause(house, "walls.last", load(folder))
    base(tmp_path, PARTS.replace("Sweep up.", "Sweep up twice."))
    return folder, house, path


def stale(folder: Path, house: Path) -> list[tuple[str, bool, str]]:
    return [(key, origin.stale, origin.read) for key, origin in replacements(load(folder, layers=[house]))]


def test_reading_a_clause_whose_base_changed_is_recorded_with_who_and_when_and_changes_no_word(tmp_path: Path) -> None:
    folder, house, path = changed_beneath(tmp_path)
    before = path.read_bytes()
    assert stale(folder, house) == [("walls.last", True, "")]
    (file,) = record_review(["walls.last"], Reader("A. Sample", "2027-03-01"), load(folder, layers=[house]))
    assert file == house / "reviews" / "walls.last.yaml"
    assert stale(folder, house) == [("walls.last", False, "A. Sample, 2027-03-01")]
    assert path.read_bytes() == before


def test_a_base_that_changes_again_is_read_again_and_earlier_readings_stay(tmp_path: Path) -> None:
    folder, house, _ = changed_beneath(tmp_path)
    (file,) = record_review(["walls.last"], Reader("A. Sample", "2027-03-01"), load(folder, layers=[house]))
    first = file.read_text()
    base(tmp_path, PARTS.replace("Sweep up.", "Sweep up thrice."))
    assert stale(folder, house) == [("walls.last", True, "")]
    record_review(["walls.last"], Reader('B. Other: "him"', "2027-04-02"), load(folder, layers=[house]))
    assert stale(folder, house) == [("walls.last", False, 'B. Other: "him", 2027-04-02')]
    assert file.read_text().startswith(first)


@pytest.mark.parametrize(
    ("ids", "by", "on", "words"),
    [
        (["walls.last"], " ", "2027-03-01", "--by"),
        (["walls.last"], "A", "", "--on"),
        (["walls.last"], "A", "1.3.2027", "--on"),
        (["walls.last"], "A", "2027-02-30", "--on"),
        (["walls.last", "walls.first"], "A", "2027-03-01", "'walls.first': is not a replaced clause"),
    ],
)
def test_a_reading_without_a_name_a_day_or_a_replacement_is_refused_and_nothing_is_recorded(
    ids: list[str], by: str, on: str, words: str, tmp_path: Path
) -> None:
    folder, house, _ = changed_beneath(tmp_path)
    with pytest.raises(InputInvalid, match=words):
        record_review(ids, Reader(by, on), load(folder, layers=[house]))
    assert not (house / "reviews").exists()


def test_a_clause_whose_base_has_not_changed_needs_no_reading(tmp_path: Path) -> None:
    folder, house = base(tmp_path), tmp_path / "house"
    adopt_clause(house, "walls.last", load(folder))
    with pytest.raises(InputInvalid, match="nothing to read again"):
        record_review(["walls.last"], Reader("A", "2027-03-01"), load(folder, layers=[house]))


def test_what_a_layer_holds_itself_is_neither_adopted_nor_dropped_nor_started_by_it_again(tmp_path: Path) -> None:
    folder, house = base(tmp_path), tmp_path / "house"
    path = adopt_clause(house, "walls.last", load(folder))
    library = load(folder, layers=[house])
    steps: tuple[Callable[[], object], ...] = (
        lambda: adopt_clause(house, "walls.last", library),
        lambda: drop_clause(house, "walls.last", "Why.", library),
        lambda: new_clause(house, NewClause("walls.last", "walls"), library),
    )
    for step in steps:
        with pytest.raises(InputInvalid) as caught:
            step()
        assert f"{path}:2:3" in str(caught.value)
    path.unlink()
    drop_clause(house, "walls.last", "Why.", load(folder))
    with pytest.raises(InputInvalid, match=r"is dropped by 'house' \(.*walls\.last\.drop\.yaml:2:3\)"):
        adopt_clause(house, "walls.last", load(folder, layers=[house]))


def test_a_layer_over_another_adopts_and_drops_what_that_one_writes(tmp_path: Path) -> None:
    folder, house, own = base(tmp_path), tmp_path / "house", tmp_path / "project-clauses"
    new_clause(house, NewClause("house.a", "walls", "T"), load(folder))
    drop_clause(own, "house.a", "Not here.", load(folder, layers=[house]))
    new_clause(own, NewClause("job.b", "walls", "T", "house.a"), load(folder, layers=[house]))
    with pytest.raises(InputInvalid, match="comes after the clause 'house"):
        load(folder, layers=[own])
    assert list(load(folder, layers=[house, own]).clauses) == ["walls.first", "walls.last", "job.b"]


def test_what_cannot_be_done_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    library, house = load(base(tmp_path)), tmp_path / "house"
    for step, words in (
        (lambda: new_clause(house, NewClause("walls.first", "walls", "T"), library), "is a clause already"),
        (lambda: new_clause(house, NewClause("a", "wals", "T"), library), "did you mean 'walls'?"),
        (lambda: new_clause(house, NewClause("../a", "walls", "T"), library), "cannot be a clause's id"),
        (lambda: new_clause(house, NewClause("a", "walls", "T", "walls.frist"), library), "'walls.first'?"),
        (lambda: adopt_clause(house, "walls.frist", library), "did you mean 'walls.first'?"),
        (lambda: drop_clause(house, "walls.first", " ", library), "without a reason"),
        (lambda: new_clause(house, NewClause("a", "other", "T", "walls.last"), library), "is of the part 'walls'"),
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
    assert {use.kind for use in where_used("pointing.layers", shipped())} >= {"item", "operation"}
