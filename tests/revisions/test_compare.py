"""Comparing records: each kind of difference told once, and records that are not as written refused."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from answers_text import answers as answers_of
from answers_text import one_wall, wall
from jobs import job, shipped

from generator.document.outline import outline
from generator.errors import InputInvalid
from generator.record import record
from generator.revisions.addendum import addendum
from generator.revisions.compare import Comparison, compare
from generator.revisions.issued import Issued, read_issued
from generator.revisions.telling import Telling, as_data, told


def issued(text: str) -> Issued:
    return Issued(Path("record.json"), record(job(text), "answers.yaml", b"", {}))


def words() -> Telling:
    library = shipped().library
    return Telling(library.words, {name: library.names[name].label for name in library.names})


def between(old: str, new: str) -> Comparison:
    return compare(issued(old), issued(new))


def test_the_same_answers_differ_in_nothing_whatever_the_revision() -> None:
    found = between(one_wall(), one_wall(revision='"9"'))
    assert found.changes == ()
    assert told(found, words())[1:] == [shipped().library.words["compare-same"]]


def test_a_larger_wall_tells_its_area_and_the_quantities_that_follow_with_their_differences() -> None:
    found = between(one_wall(face_area_m2="12"), one_wall(face_area_m2="20"))
    assert "face_area_m2" in {change.name for change in found.of("values")}
    quantities = found.of("quantities")
    assert quantities
    assert all(change.kind == "changed" and change.difference and change.difference > 0 for change in quantities)
    assert not found.of("clauses")
    assert all("(+" in words().line(change) for change in quantities)


def test_another_wall_adds_its_lines_and_takes_none_away() -> None:
    one, two = wall(id_="a", name="A"), wall(id_="b", name="B")
    found = between(answers_of(one), answers_of(one, two))
    assert {change.kind for change in found.of("items") if change.where[:1] == ("b",)} == {"added"}
    assert not [change for change in found.changes if change.kind == "removed"]
    back = between(answers_of(one, two), answers_of(one))
    assert len(back.of("items", "quantities")) == len(found.of("items", "quantities"))
    assert not [change for change in back.changes if change.kind == "added"]


def test_another_binder_changes_the_mix_and_the_clauses_on_its_material() -> None:
    found = between(one_wall(asked_binder="putty"), one_wall(asked_binder="hot-mix"))
    assert found.of("mixes")
    kinds = {change.key: change.kind for change in found.of("clauses")}
    assert (kinds.get("materials.putty"), kinds.get("materials.quicklime")) == ("removed", "added")


def test_an_addendum_keeps_to_what_tender_papers_show() -> None:
    found = between(one_wall(), one_wall(asked_binder="cement", face_area_m2="30"))
    assert {"asked_binder", "duration_days"} <= {change.name for change in found.of("values")}
    text = outline(addendum(found, words(), 1))
    assert (words().label("asked_binder") in text, words().label("duration_days") in text) == (False, False)
    assert words().label("face_area_m2") in text


def changed(data: dict[str, Any], **fields: Any) -> Issued:
    made = copy.deepcopy(data)
    clause = next(item for item in made["clauses"] if item["included"])
    clause.update(fields)
    return Issued(Path("record.json"), made)


def test_a_clause_of_other_words_is_changed_with_old_and_new() -> None:
    old = issued(one_wall())
    new = changed(dict(old.record), wording="0", text="1.1 Title\nOther words.")
    (change,) = compare(old, new).changes
    assert (change.about, change.kind, change.new) == ("clauses", "changed", "Title\nOther words.")


def test_a_clause_that_was_renumbered_by_hand_is_told() -> None:
    old = issued(one_wall())
    (change,) = compare(old, changed(dict(old.record), number="99.9")).changes
    assert "renumbered" in words().line(change)


def test_every_change_is_told_in_words_and_as_data_and_stands_in_the_addendum() -> None:
    pairs = [
        (one_wall(), one_wall(asked_binder="hot-mix", face_area_m2="30")),
        (answers_of(wall(id_="a", name="A")), answers_of(wall(id_="a", name="A"), wall(id_="b", name="B"))),
    ]
    for old, new in [*pairs, *((new, old) for old, new in pairs)]:
        found = between(old, new)
        lines = [line for line in told(found, words()) if line.startswith("  ")]
        assert len(lines) == len(found.changes) == len(as_data(found)["changes"])
        assert not [line for line in lines if "{" in line]
        assert json.loads(json.dumps(as_data(found))) == as_data(found)
        assert addendum(found, words(), 3).identity.title == "Addendum no. 3"


@pytest.mark.parametrize(
    ("content", "words_"),
    [
        ("{}", "is not a record"),
        ("[]", "is not a record"),
        ('{"schema": 2}', "is a record of schema 2, and this program reads 1"),
        ('{"schema": 1}', "its 'mixes' is amiss"),
        ("{", "is not JSON"),
        ("[" * 100_000, "is not JSON"),
    ],
)
def test_what_is_not_a_record_is_refused_with_its_name(content: str, words_: str, tmp_path: Path) -> None:
    path = tmp_path / "record.json"
    path.write_text(content)
    with pytest.raises(InputInvalid, match=r"record\.json") as caught:
        read_issued(path)
    assert words_ in str(caught.value)


def test_a_record_mangled_inside_is_refused() -> None:
    old = issued(one_wall())
    for key in ("clauses", "items", "works", "mixes"):
        broken = Issued(Path("b.json"), {**old.record, key: [{"id": 1}]})
        with pytest.raises(InputInvalid, match="not a record as it was written"):
            compare(old, broken)
