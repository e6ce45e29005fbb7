"""Comparing records: each kind of difference told once, and records that are not as written refused."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from answers_text import answers as answers_of
from answers_text import one_wall, wall, work
from jobs import after, job, shipped, telling
from recorded import in_full

from generator.document.model import Document
from generator.document.outline import outline
from generator.files.errors import InputInvalid
from generator.job.numbers import order
from generator.record.record import record
from generator.record.revisions.addendum import addendum
from generator.record.revisions.compare import Comparison, compare
from generator.record.revisions.issued import Issued, read_issued
from generator.record.revisions.telling import as_data, told


def issued(text: str) -> Issued:
    return Issued(Path("record.json"), record(job(text), "answers.yaml", b"", {}))


def addendum_of(found: Comparison, number: int = 1) -> Document:
    return addendum(found, telling(), shipped().templates["addendum"], number)


def between(old: str, new: str) -> Comparison:
    return compare(issued(old), issued(new))


def test_the_same_answers_differ_in_nothing_whatever_the_revision() -> None:
    found = between(one_wall(), one_wall(revision='"9"'))
    assert found.changes == ()
    assert told(found, telling())[1:] == [shipped().words["compare-same"]]


def test_a_record_of_the_first_schema_is_compared_as_it_was() -> None:
    old, new = answers_of(wall(work("a"), work("b"))), answers_of(wall(work("a", face_area_m2="30"), work("b")))
    first = Issued(Path("record.json"), {**in_full(issued(old).record), "schema": 1})
    assert "elements" not in first.record
    assert compare(first, issued(old)).changes == ()
    assert compare(first, issued(new)).changes == between(old, new).changes != ()


def test_a_larger_wall_tells_its_area_and_the_quantities_that_follow_with_their_differences() -> None:
    found = between(one_wall(face_area_m2="12"), one_wall(face_area_m2="20"))
    assert "face_area_m2" in {change.name for change in found.of("values")}
    quantities = found.of("quantities")
    assert quantities
    assert all(change.kind == "changed" and change.difference and change.difference > 0 for change in quantities)
    assert not found.of("clauses")
    assert all("(+" in telling().line(change) for change in quantities)


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
    text = outline(addendum_of(found))
    assert (telling().label("asked_binder") in text, telling().label("duration_days") in text) == (False, False)
    assert telling().label("face_area_m2") in text


def test_a_wall_that_is_new_or_gone_is_told_once_by_its_name_and_not_answer_by_answer() -> None:
    one, two = wall(id_="a", name="North wall"), wall(id_="b", name="South wall")
    less, more = answers_of(one), answers_of(one, two)
    for old, new, kind in ((less, more, "added"), (more, less, "removed")):
        found = between(old, new)
        (change,) = [change for change in found.of("values") if change.where[:1] == ("b",)]
        assert (change.name, change.kind) == ("element", kind)
        assert f"  {kind}: South wall, with all that belongs to it" in told(found, telling())
        assert "South wall" in outline(addendum_of(found))


def test_a_work_that_is_new_is_told_by_the_names_of_its_wall_and_its_own() -> None:
    both = wall(work("one"), work("two", extent="the plinth"), id_="a", name="North wall")
    found = between(answers_of(wall(work("one"), id_="a", name="North wall")), answers_of(both))
    lines = told(found, telling())
    assert "  added: North wall, repointing (the plinth), with all that belongs to it" in lines


def test_places_are_told_by_name_and_no_id_is_told_where_there_is_one() -> None:
    old = answers_of(wall(work("zz-work", asked_binder="putty"), id_="zz-wall", name="North wall"))
    new = answers_of(wall(work("zz-work", asked_binder="hot-mix", face_area_m2="30"), id_="zz-wall", name="North wall"))
    found = between(old, new)
    text = "\n".join(told(found, telling())) + outline(addendum_of(found))
    assert found.of("mixes")
    assert "(North wall, repointing)" in text
    assert "zz-" not in text
    assert "lime-putty" not in text


def test_answers_stand_apart_from_what_follows_from_them() -> None:
    lines = told(between(one_wall(face_area_m2="12"), one_wall(face_area_m2="20")), telling())
    answers, follows = (lines.index(telling().word(f"compare-section-{key}")) for key in ("values", "worked-out"))
    assert [line for line in lines[answers:follows] if "12 m²" in line and "20 m²" in line]
    assert [line for line in lines[follows:] if "Area treated" in line]


def test_a_value_that_holds_for_every_work_of_a_wall_is_told_once_of_the_wall() -> None:
    def two_works(exposure: str) -> str:
        return answers_of(wall(work("one"), work("two"), id_="a", name="A", exposure=exposure))

    changes = between(two_works("moderate"), two_works("severe")).of("values")
    assert [change.where for change in changes if change.name == "exposure_reckoned"] == [("a",)]
    assert len({(change.name, change.where) for change in changes}) == len(changes)


def test_a_mix_that_changes_is_another_mix_told_with_its_figures_and_where_it_goes() -> None:
    first = job(one_wall(joint_width_mm="9 - 12 (10)"))
    second = after(first, one_wall(joint_width_mm="4 - 6 (5)"))
    old, new = (Issued(Path("record.json"), record(made, "answers.yaml", b"", {})) for made in (first, second))
    found = compare(old, new)
    added, removed = found.of("mixes")
    assert (added.kind, added.number, removed.kind, removed.number) == ("added", "M2", "removed", "M1")
    assert added.new.endswith("0–1 mm; Front wall, repointing, pointing")
    assert removed.old.endswith("0–3 mm; Front wall, repointing, pointing")
    assert telling().word("addendum-removed-mixes") in outline(addendum_of(found))


def test_lines_are_told_in_the_order_of_their_numbers() -> None:
    one, two = wall(id_="a", name="A"), wall(id_="b", name="B")
    found = between(answers_of(one), answers_of(wall(work(face_area_m2="30"), id_="a", name="A"), two))
    for section in ("quantities", "items"):
        numbers = [order(change.number) for change in found.of(section)]
        assert len(numbers) > 2
        assert numbers == sorted(numbers)


def test_a_clause_that_applies_to_another_wall_too_is_told_with_both() -> None:
    old = issued(one_wall())
    made = copy.deepcopy(dict(old.record))
    for number, text in ((0, "North wall"), (1, "North wall; South wall")):
        side = copy.deepcopy(made) if number == 0 else made
        clause = next(item for item in side["clauses"] if item["included"])
        clause.update(text=f"1.1 T\n{text}", values=[{"name": "element_name", "scope": ["front"], "text": text}])
        if number == 0:
            old = Issued(Path("a.json"), side)
    (change,) = compare(old, Issued(Path("b.json"), made)).changes
    line = telling().line(change)
    assert line == f"changed: where clause {change.clauses[0]} applies: was North wall, is now North wall; South wall"


def test_an_addendum_is_set_out_as_the_papers_are() -> None:
    new = one_wall(paper="letter", language="en-us", date_form="month-day-year", revision='"2"')
    identity = addendum_of(between(one_wall(), new)).identity
    assert (identity.paper, identity.language, identity.issued) == ("letter", "en-US", "February 1, 2027")


def test_a_library_of_another_edition_is_told() -> None:
    old = issued(one_wall())
    new = Issued(Path("b.json"), {**old.record, "library": {**old.record["library"], "edition": "next"}})
    assert [line for line in told(compare(old, new), telling()) if "next; before from" in line]


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
    assert "renumbered" in telling().line(change)


def test_every_change_is_told_in_words_and_as_data_and_stands_in_the_addendum() -> None:
    pairs = [
        (one_wall(), one_wall(asked_binder="hot-mix", face_area_m2="30")),
        (answers_of(wall(id_="a", name="A")), answers_of(wall(id_="a", name="A"), wall(id_="b", name="B"))),
    ]
    for old, new in [*pairs, *((new, old) for old, new in pairs)]:
        found = between(old, new)
        lines = [line for line in told(found, telling()) if line.startswith("  ")]
        assert len(lines) == len(found.changes) == len(as_data(found)["changes"])
        assert not [line for line in lines if "{" in line]
        assert json.loads(json.dumps(as_data(found))) == as_data(found)
        assert addendum_of(found, 3).identity.title == "Addendum no. 3"


@pytest.mark.parametrize(
    ("content", "words_"),
    [
        ("{}", "is not a record"),
        ("[]", "is not a record"),
        ('{"schema": 3}', "is a record of schema 3, and this program reads 1 and 2"),
        ('{"schema": 1}', "its 'mixes' is amiss"),
        ("{", "is not JSON, or breaks off"),
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
        with pytest.raises(InputInvalid, match="not as it was written"):
            compare(old, broken)
