"""A layer's clauses handed on in one file and taken into another layer; nothing of a client's goes with them."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

import pytest
from failing import counted, full_disk, killed_at, steps_of
from helpers import build_tree
from jobs import EXAMPLES, ROOT, shipped

from generator.files.errors import CannotWrite, InputInvalid
from generator.files.limits import MOST_YAML_BYTES
from generator.files.lock import LOCK_FILE
from generator.files.source import read_file
from generator.files.writing import only_writer
from generator.library.layers.authoring import NewClause, adopt_clause, drop_clause, new_clause
from generator.library.layers.bundle import bring_in, export, read_bundle
from generator.library.layers.client_words import client_words
from generator.library.load import load

ANSWERS = """\
project:
  title: Glebe barn, new mortar
  place: Glebe Barn, Upper Thrupp
  client: Ms J. Thistlewood
  specifier_contact: 01 555 0199, j@example.org
  reference: GB-77/2
  protection: listed
elements:
- id: n
  name: North wall
  description: Rubble of pale stone
  works: [{id: w, work: repoint, extent: the whole wall}]
"""
CLAUSE = """\
clauses:
- id: house.a
  part: completion
  title: Photographs
  text: |
    Photograph each wall.
    {text}
  cost: {preliminaries: prelims.records}
  sources: [common-practice]
"""
QUESTION = """\
questions:
- name: archive_wanted
  scope: project
  kind: choice
  label: Archive
  why: "House: rule"
  choices: [{is: on, says: "on"}, {is: off, says: no archive}]
  least: 0.50
"""


def check(folder: Path) -> object:
    return load(ROOT / "clauses", layers=[folder])


def house(folder: Path, text: str = "Keep the files.", **files: str) -> Path:
    """A layer with one clause, whose text ends in a line, and other files by name."""
    clause = {"clauses/house.a.yaml": CLAUSE.replace("{text}", text)}
    return build_tree(folder, {"layer.yaml": "{name: house, edition: '3'}\n", **clause, **files})


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


class TestHandingOn:
    def test_what_is_exported_and_brought_in_is_the_same_clause_for_clause_in_a_file_each(self, tmp_path: Path) -> None:
        library = shipped()
        one = house(tmp_path / "one", **{"questions/q.yaml": QUESTION})
        for key in library.clauses:
            if key != "site.hours":
                adopt_clause(one, key, library)
        drop_clause(one, "site.hours", "The client's: it is theirs", library)
        begun = load(ROOT / "clauses", layers=[one])
        new_clause(one, NewClause("house.b", "completion", "It's: new", "house.a"), begun)
        done = export(one, tmp_path / "b.yaml", None)
        two = tmp_path / "two"
        written = bring_in(read_bundle(tmp_path / "b.yaml"), two, check)
        assert done.count == len(written) == len(library.clauses) + 3
        assert {path.name for path in written} >= {"house.a.yaml", "site.hours.drop.yaml", "archive_wanted.yaml"}
        first, second = (load(ROOT / "clauses", layers=[folder]) for folder in (one, two))
        assert dict(first.clauses) == dict(second.clauses)
        assert first.questionnaire.questions == second.questionnaire.questions
        assert [(gone.because, key) for key, gone in first.dropped.items()] == [
            (gone.because, key) for key, gone in second.dropped.items()
        ]

    def test_comments_templates_and_readings_stay_behind(self, tmp_path: Path) -> None:
        words = {"templates/specification.yaml": "words: {not-used: Left out}\n"}
        drops = {"clauses/z.yaml": "# for Ms Thistlewood\ndrops: []\n"}
        left = export(house(tmp_path / "h", **words, **drops), tmp_path / "b.yaml", None).left
        assert left == ("templates",)
        text = (tmp_path / "b.yaml").read_text(encoding="utf-8")
        assert ("Thistlewood" in text, "Left out" in text) == (False, False)

    def test_a_file_that_is_there_is_not_overwritten(self, tmp_path: Path) -> None:
        (tmp_path / "b.yaml").write_text("mine")
        with pytest.raises(CannotWrite, match="is there already"):
            export(house(tmp_path / "h"), tmp_path / "b.yaml", None)
        assert (tmp_path / "b.yaml").read_text() == "mine"


class TestClientWords:
    @pytest.mark.parametrize(
        ("text", "words", "column"),
        [
            ("Send them to Upper Thrupp.", "Upper Thrupp", 18),
            ("As at Thrupp.", "Thrupp", 11),
            ("Ask Ms J. Thistlewood first.", "Ms J. Thistlewood", 9),
            ("The Thistlewood rule holds.", "Thistlewood", 9),
            ("Ring 01 555 0199.", "01 555 0199", 10),
            ("Write to j@example.org.", "j@example.org", 14),
            ("See GB-77/2.", "GB-77/2", 9),
            ("As for the glebe barn, new mortar.", "Glebe barn, new mortar", 16),
        ],
    )
    def test_a_clause_that_holds_a_name_of_the_answers_is_refused_at_its_line(
        self, text: str, words: str, column: int, tmp_path: Path
    ) -> None:
        answers = build_tree(tmp_path, {"answers.yaml": ANSWERS}) / "answers.yaml"
        client = client_words([read_file(answers, typed=False).data], shipped())
        with pytest.raises(InputInvalid) as caught:
            export(house(tmp_path / "h", text), tmp_path / "b.yaml", client)
        place = f"{tmp_path}/h/clauses/house.a.yaml:7:{column}"
        assert str(caught.value).startswith(f"{place}: 'house.a' holds '{words}', which is of the answers")
        assert not (tmp_path / "b.yaml").exists()

    @pytest.mark.parametrize("text", ["Point the whole wall.", "The North wall is first.", "Rubble is listed."])
    def test_ordinary_words_that_answers_use_too_are_no_names(self, text: str, tmp_path: Path) -> None:
        answers = build_tree(tmp_path, {"answers.yaml": ANSWERS}) / "answers.yaml"
        client = client_words([read_file(answers, typed=False).data], shipped())
        assert export(house(tmp_path / "h", text), tmp_path / "b.yaml", client).count == 1

    def test_words_that_are_allowed_by_name_pass(self, tmp_path: Path) -> None:
        answers = build_tree(tmp_path, {"answers.yaml": ANSWERS}) / "answers.yaml"
        data = [read_file(answers, typed=False).data]
        layer = house(tmp_path / "h", "As at Thrupp.")
        assert export(layer, tmp_path / "b.yaml", client_words(data, shipped(), ["thrupp"])).count == 1

    @pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
    def test_no_shipped_clause_holds_a_name_of_an_example(self, path: Path) -> None:
        library = shipped()
        found = client_words([read_file(path, typed=False).data], library)
        assert found.phrases
        for key, clause in library.clauses.items():
            assert found.found_in("\n".join((clause.title, clause.text, clause.check, clause.because))) == "", key


HEAD = "bundle: 1\nlayer: {name: other, edition: '1'}\n"
ONE = HEAD + CLAUSE.replace("{text}", "Keep the files.")
BAD = {
    "not a bundle": ("clauses: []\n", "is not a bundle of clauses"),
    "a list": ("- 1\n", "is not a bundle of clauses"),
    "not YAML": ("bundle: [1\n", "b.yaml:1:9: opens a [ … ]"),
    "another schema": (HEAD.replace("1", "2", 1), "is a bundle of schema 2, and this program reads 1"),
    "no layer": ("bundle: 1\n", "b.yaml"),
    "an unknown list": (HEAD + "clause: []\n", "did you mean 'clauses'?"),
    "no list": (HEAD + "clauses: {id: a}\n", "'clauses' is not a list"),
    "a path for an id": (ONE.replace("house.a", "../../a"), "b.yaml:4:7"),
    "twice": (
        ONE + "- {id: house.a, part: completion, title: T, text: X., cost: information, sources: []}\n",
        "a second time",
    ),
    "an anchor": (ONE.replace("title: Photo", "title: &x Photo"), "sets an anchor"),
    "a part that is not there": (ONE.replace("part: completion", "part: completon"), "did you mean 'completion'?"),
    "a clause of the library": (ONE.replace("house.a", "completion.records"), "has the id of a clause that is there"),
    "a condition on nothing": (ONE + "  when: lived_im\n", "house.a.yaml"),
    "a text that runs something": (ONE.replace("Keep", "{{ 1 + 1 }} Keep"), "house.a.yaml"),
}


class TestTakingIn:
    @pytest.mark.parametrize("case", BAD)
    def test_what_would_not_read_is_told_and_nothing_is_written(self, case: str, tmp_path: Path) -> None:
        from generator.library.load import read_library

        text, words = BAD[case]
        (tmp_path / "b.yaml").write_text(text, encoding="utf-8")
        there = build_tree(tmp_path / "there", {"layer.yaml": "{name: there, edition: '1'}\n"})
        before = contents(there)
        for into in (there, tmp_path / "new"):
            with pytest.raises(InputInvalid) as caught:
                bring_in(read_bundle(tmp_path / "b.yaml"), into, lambda copy: read_library(ROOT / "clauses", [copy]))
            assert words in str(caught.value)
            assert "/tmp/tmp" not in str(caught.value)
        assert contents(there) == before
        assert not (tmp_path / "new").exists()

    def test_a_huge_file_is_refused(self, tmp_path: Path) -> None:
        (tmp_path / "b.yaml").write_text(HEAD + "#" * MOST_YAML_BYTES, encoding="utf-8")
        with pytest.raises(InputInvalid, match="too large"):
            read_bundle(tmp_path / "b.yaml")

    def test_an_id_that_is_there_with_other_words_is_refused_with_both_places(self, tmp_path: Path) -> None:
        export(house(tmp_path / "one"), tmp_path / "b.yaml", None)
        two = house(tmp_path / "two", "Keep the files for ten years.")
        before = contents(two)
        with pytest.raises(InputInvalid) as caught:
            bring_in(read_bundle(tmp_path / "b.yaml"), two, check)
        place = f"{two}/clauses/house.a.yaml:2:3"
        assert f"b.yaml:4:3: 'house.a' is in the layer with other words (at {place})" in str(caught.value)
        assert contents(two) == before

    def test_what_is_there_in_the_same_words_is_left_as_it_is(self, tmp_path: Path) -> None:
        export(house(tmp_path / "one"), tmp_path / "b.yaml", None)
        two = house(tmp_path / "two")
        before = contents(two)
        assert bring_in(read_bundle(tmp_path / "b.yaml"), two, check) == []
        assert contents(two) == before


def pieces(count: int) -> str:
    """A bundle of so many clauses."""
    entry = (
        "- {id: house.n%d, part: completion, title: T, text: Sweep., cost: information, sources: [common-practice]}\n"
    )
    return HEAD + "clauses:\n" + "".join(entry % number for number in range(count))


class TestAnImportThatFails:
    @pytest.mark.skipif(sys.platform == "win32", reason="forks")
    @pytest.mark.parametrize("begun", [False, True], ids=["into a new layer", "into one that is begun"])
    def test_killed_at_any_step_leaves_the_layer_as_it_was_or_all_in(self, begun: bool, tmp_path: Path) -> None:
        (tmp_path / "b.yaml").write_text(pieces(3), encoding="utf-8")
        found = read_bundle(tmp_path / "b.yaml")
        failing, ways = 0, set()
        while True:
            folder = tmp_path / f"house{failing}"
            if begun:
                house(folder)
            before = contents(folder) if begun else {}
            if not killed_at(failing, partial(bring_in, found, folder, lambda trial: None)):
                break
            with only_writer(folder, "no"):
                after = contents(folder)
            after.pop(LOCK_FILE, None)
            assert after == before or len(after) == len(before) + (3 if begun else 4)
            ways.add(after == before)
            assert not after or read_layer_whole(folder)
            failing += 1
        assert ways == {False, True}

    def test_on_a_full_disk_leaves_the_layer_as_it_was(self, tmp_path: Path) -> None:
        (tmp_path / "b.yaml").write_text(pieces(3), encoding="utf-8")
        found, told = read_bundle(tmp_path / "b.yaml"), 0
        count = steps_of(partial(bring_in, found, tmp_path / "all", lambda trial: None))
        for failing in range(count):
            folder = house(tmp_path / f"house{failing}")
            before = contents(folder)
            try:
                with counted(full_disk(failing)):
                    bring_in(found, folder, lambda trial: None)
            except CannotWrite:
                told += 1
                assert contents(folder) == before
            assert read_layer_whole(folder)
        assert told > count / 3


def read_layer_whole(folder: Path) -> bool:
    return bool(export(folder, folder.parent / f"{folder.name}-{len(list(folder.parent.iterdir()))}.yaml", None).count)


def test_a_layer_whose_folder_is_a_link_is_told_and_not_read_as_empty(tmp_path: Path) -> None:
    shared = house(tmp_path / "shared")
    build_tree(tmp_path / "mine", {"layer.yaml": "{name: mine, edition: '1'}\n"})
    (tmp_path / "mine" / "clauses").symlink_to(shared / "clauses")
    with pytest.raises(InputInvalid, match="mine/clauses: is a link to a folder, which is not followed"):
        check(tmp_path / "mine")


def test_words_of_answers_without_end_are_compared_too() -> None:
    """Each was once compared with itself from every letter: it would take hours."""
    for title in ("a1" * 90_000, "a. " * 60_000, "A. " * 60_000, "Ab " * 60_000):
        assert client_words([{"project": {"title": title}}], shipped()).found_in("Sweep up.") == ""
    client = client_words([{"project": {"title": "x" * 150}}], shipped())
    assert client.found_in(f"As at {'x' * 150}.") == "x" * 150
