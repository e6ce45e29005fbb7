# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Declared look-ups: the order in which they hang together, and each mistake in one at its place."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from helpers import library_tree

from generator.files.errors import InputInvalid
from generator.library.load import load

TABLE = """\
    id: {id}
    title: A table
    keys: [{keys}]
    values: {{{values}}}
    rows:
    - {{keys: {{}}, values: {{{row}}}, sources: [a], confidence: memory}}
    """
QUESTIONS = """\
    questions:
    - {name: lost_mm, scope: work, kind: number, label: Lost, why: It is filled.}
    - {name: found, scope: work, kind: text, label: Found, why: It is told.}
    """
COAT = "- {name: coat, scope: coat, kind: choice, label: Coat, choices: [{is: bedding, says: bedding}, {is: wash, says: wash}]}"
PLAIN = {
    "questions/40-more.yaml": QUESTIONS,
    "tables/depth.yaml": TABLE.format(
        id="depth", keys="masonry", values="depth_mm: {kind: number}, least_mm: {kind: number}, most_mm: {kind: number}, how: {kind: text}",
        row="depth_mm: 25, least_mm: 20, most_mm: 40, how: by hand",
    ),
    "tables/by-coat.yaml": TABLE.format(id="by-coat", keys="coat", values="lift_mm: {kind: number}", row="lift_mm: 600"),
}  # fmt: skip


def named(*entries: str) -> str:
    return "names:\n" + "".join(f"{entry}\n" for entry in (COAT, *entries))


def number(name: str, *rows: str, scope: str = "work", kind: str = "number", more: str = "") -> str:
    """An entry of the names file that looks rows up; its rows on lines of their own, from the second line on."""
    lines = [f"- {{name: {name}, scope: {scope}, kind: {kind}, label: L{more}, from: ["]
    return "\n".join([*lines, *(f"  {{{row}}}," for row in rows), "  ]}"])


def library(root: Path, names: str, changes: Mapping[str, str | None] | None = None) -> Path:
    return library_tree(root, {**PLAIN, "names.yaml": names, **(changes or {})})


def said(root: Path, names: str, changes: Mapping[str, str | None] | None = None) -> list[str]:
    """What is said of the small library with these names, without the folder's name."""
    folder = library(root, names, changes)
    with pytest.raises(InputInvalid) as caught:
        load(folder)
    return [str(problem).replace(f"{folder}/", "") for problem in caught.value.problems]


def keyed(id_: str, key: str) -> str:
    """A table of one number, `NAME_mm`, found by one key."""
    return TABLE.format(id=id_, keys=key, values=f"{id_}: {{kind: text, of: {id_}}}", row=f"{id_}: a")


def choice(name: str, row: str, scope: str = "element") -> str:
    return (
        f"- {{name: {name}, scope: {scope}, kind: choice, label: L, choices: [{{is: a, says: a}}], from: [{{{row}}}]}}"
    )


class TestOrder:
    def test_each_comes_after_what_it_is_found_by_however_they_are_written(self, tmp_path: Path) -> None:
        tables = {
            f"tables/{id_}.yaml": keyed(id_, key)
            for id_, key in (("third", "second"), ("second", "first"), ("first", "masonry"))
        }
        names = named(*(choice(name, f"table: {name}") for name in ("third", "first", "second")))
        made = load(library(tmp_path, names, tables))
        assert [wanted.name.name for wanted in made.look_ups] == ["first", "second", "third"]

    def test_each_comes_after_what_its_condition_reads(self, tmp_path: Path) -> None:
        names = named(
            number("late_mm", "table: depth, value: depth_mm, when: early_mm > 3"),
            number("early_mm", "table: depth, value: depth_mm"),
        )
        made = load(library(tmp_path, names))
        assert [wanted.name.name for wanted in made.look_ups] == ["early_mm", "late_mm"]

    def test_whatever_is_of_a_coat_comes_after_the_coats(self, tmp_path: Path) -> None:
        made = load(
            library(
                tmp_path,
                named(
                    number("depth_mm", "table: depth", scope="coat"), number("lift_mm", "table: by-coat, coat: bedding")
                ),
            )
        )
        assert all("coat" in wanted.rests_on for wanted in made.look_ups)

    @pytest.mark.parametrize(
        ("keys", "circle"),
        [
            ({"first": "first"}, "name 'first' rests on itself: take"),
            ({"first": "second", "second": "first"}, "name 'first' rests on itself, by way of second: take"),
            ({"first": "third", "second": "first", "third": "second"}, "name 'first' rests on itself, by way of "),
        ],
    )
    def test_a_circle_is_told_where_one_of_it_stands(
        self, keys: Mapping[str, str], circle: str, tmp_path: Path
    ) -> None:
        tables = {f"tables/{id_}.yaml": keyed(id_, key) for id_, key in keys.items()}
        (found,) = said(tmp_path, named(*(choice(name, f"table: {name}") for name in keys)), tables)
        assert found.startswith(f"names.yaml:3:3: {circle}")

    def test_a_circle_through_the_table_of_a_rule_is_told_too(self, tmp_path: Path) -> None:
        names = named(
            "- {name: second, scope: element, kind: choice, label: L, choices: [{is: a, says: a}], tables: [second]}",
            choice("first", "table: first"),
        )
        tables = {"tables/first.yaml": keyed("first", "second"), "tables/second.yaml": keyed("second", "first")}
        (found,) = said(tmp_path, names, tables)
        assert "rests on itself, by way of" in found


class TestMistakes:
    @pytest.mark.parametrize(
        ("entry", "column", "problem"),
        [
            (number("depth_mm", "table: dept"), 11, "name 'depth_mm' looks up the table 'dept', which is not there: did you mean 'depth'?"),
            (number("deep_mm", "table: depth"), 3, "name 'deep_mm' takes 'deep_mm' from the table 'depth', which has no such value: did you mean 'depth_mm'?"),
            (number("deep_mm", "table: depth, value: dept_mm"), 25, "name 'deep_mm' takes 'dept_mm' from the table 'depth', which has no such value: did you mean 'depth_mm'?"),
            (number("depth_mm", "table: depth, value: how"), 25, "name 'depth_mm' is a number, and takes 'how' from the table 'depth', which is a text: take a value of its kind"),
            (number("way", "table: depth, value: how", kind="choice", more=", choices: [{is: a, says: a}]"), 25, "name 'way' takes 'how' from the table 'depth', whose words are not held to its choices: add 'of: way' to the value in the table"),
            (number("depth_mm", "table: depth, unknown: [masonri]"), 27, "name 'depth_mm' need not know 'masonri', which is no key of the table 'depth': did you mean 'masonry'?"),
            (number("lift_mm", "table: by-coat"), 11, "name 'lift_mm' looks up the table 'by-coat', whose key 'coat' belongs to a coat: a work cannot see it; give the name the scope of its keys"),
            (number("depth_mm", "table: depth", scope="mix"), 3, "name 'depth_mm' is of a mix, and mixes are known only after rows are looked up: give it another scope"),
            (number("lift_mm", "table: by-coat, coat: beding"), 26, "name 'lift_mm' looks a row up for the coat 'beding', which is not known: did you mean 'bedding'?"),
            (number("lift_mm", "table: by-coat, coat: wash", scope="coat"), 26, "name 'lift_mm' looks a row up for a coat, and is of a coat: take 'coat' out"),
            (number("depth_mm", "table: depth, when: work = 'repoint'"), 29, "name 'depth_mm': its 'when' is not a condition: write == to compare"),
            (number("depth_mm", "table: depth, when: wrk == 'repoint'"), 24, "name 'depth_mm': its 'when' "),
            (number("depth_mm", "table: depth, answered: lost, least: least_mm, most: most_mm"), 28, "name 'depth_mm' takes the answer 'lost', which is no number that a work can see: did you mean 'lost_mm'?"),
            (number("depth_mm", "table: depth, answered: lost_mm, least: last_mm, most: most_mm"), 44, "name 'depth_mm' takes the limit 'last_mm' from the table 'depth', which has no such number: did you mean 'least_mm'?"),
            (number("depth_mm", "table: depth, answered: lost_mm, least: least_mm"), 3, "name 'depth_mm' takes the limit '' from the table 'depth', which has no such number: use one of: depth_mm, least_mm, most_mm"),
            (number("depth_mm", "tabel: depth"), 3, "lacks 'table': add 'table: …'"),
        ],
    )  # fmt: skip
    def test_a_mistake_is_told_at_its_place(self, entry: str, column: int, problem: str, tmp_path: Path) -> None:
        found = said(tmp_path, named(entry))
        assert [line for line in found if line.startswith(f"names.yaml:4:{column}: {problem}")], found

    @pytest.mark.parametrize(
        ("key", "told"),
        [
            ("masonri", "whose key 'masonri' is no name: did you mean 'masonry'?"),
            ("lost_mm", "whose key 'lost_mm' is a number: give the table keys that are choices"),
            ("lived_in", "whose key 'lived_in' is a yes_no: give the table keys that are choices"),
        ],
    )
    def test_a_key_that_no_row_can_be_found_by_is_told(self, key: str, told: str, tmp_path: Path) -> None:
        table = TABLE.format(id="other", keys=key, values="depth_mm: {kind: number}", row="depth_mm: 1")
        (found,) = said(tmp_path, named(number("depth_mm", "table: other")), {"tables/other.yaml": table})
        assert found == f"names.yaml:4:11: name 'depth_mm' looks up the table 'other', {told}"

    def test_what_is_reckoned_after_rows_are_looked_up_cannot_be_rested_on(self, tmp_path: Path) -> None:
        measured = "- {name: area_m2, scope: work, kind: number, label: Area, how: 'It is measured.'}"
        entry = number("depth_mm", "table: depth, when: area_m2 > 3")
        (found,) = said(tmp_path, named(entry, measured))
        assert (
            found
            == "names.yaml:4:3: name 'depth_mm' rests on 'area_m2', which is reckoned only after rows are looked up: take another name"
        )

    def test_a_table_that_cannot_be_read_is_told_once_at_its_own_place(self, tmp_path: Path) -> None:
        (found,) = said(
            tmp_path, named(number("depth_mm", "table: depth")), {"tables/depth.yaml": "id: depth\ntitle: [\n"}
        )
        assert found.startswith("tables/depth.yaml:")
