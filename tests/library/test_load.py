# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Reading a clause library: every mistake of every file at once, each at its place."""

from __future__ import annotations

import cProfile
from collections.abc import Mapping
from pathlib import Path

import pytest
from helpers import LIBRARY, build_tree, library_tree

from generator.files.errors import InputInvalid
from generator.library.load import load

PART = "part: {id: pointing, title: Pointing}\nclauses:\n"
CLAUSE = "- {id: pointing.layers, title: Layers, per: work, text: Fill in layers., cost: information, sources: [a]}\n"
TABLE = """\
    id: drying
    title: Drying
    keys: [masonry]
    values: {damp_days: {kind: number}}
    rows:
    - {keys: {masonry: any}, values: {damp_days: 7}, sources: [a], confidence: memory}
    """


def said(root: Path, changes: Mapping[str, str | None]) -> list[str]:
    """What is said of the small library with files changed, without the folder's name."""
    folder = library_tree(root, changes)
    with pytest.raises(InputInvalid) as caught:
        load(folder)
    return [str(problem).replace(f"{folder}/", "") for problem in caught.value.problems]


class TestGood:
    def test_the_small_library_is_read(self, tmp_path: Path) -> None:
        library = load(library_tree(tmp_path))
        assert (library.name, library.edition, library.language) == ("Small", "1", "en-GB")
        assert list(library.questionnaire.questions) == [
            "title",
            "lived_in",
            "masonry",
            "joint_width_mm",
            "work",
        ]
        assert library.clauses == {}

    def test_clauses_belong_to_their_part_and_stand_in_the_order_of_the_files(self, tmp_path: Path) -> None:
        other = "part: {id: site, title: Site}\nclauses:\n- {id: site.dust, title: Dust, text: No dust., cost: information, sources: [a]}\n"
        library = load(library_tree(tmp_path, {"parts/08-b.yaml": PART + CLAUSE, "parts/02-a.yaml": other}))
        assert [part.id for part in library.parts] == ["site", "pointing"]
        assert dict(library.part_of) == {"site.dust": "site", "pointing.layers": "pointing"}

    def test_a_condition_is_parsed_for_the_scope_of_its_entry(self, tmp_path: Path) -> None:
        clause = CLAUSE.replace("per: work", "per: work, when: masonry == 'brick' and work == 'repoint'")
        library = load(library_tree(tmp_path, {"parts/08-b.yaml": PART + clause}))
        condition = library.condition("clause", "pointing.layers").when
        assert condition is not None
        assert condition.names() == {"masonry", "work"}

    def test_an_entry_is_marked_where_it_begins(self, tmp_path: Path) -> None:
        library = load(library_tree(tmp_path, {"parts/08-b.yaml": PART + CLAUSE}), "clauses")
        assert str(library.marks["clause", "pointing.layers"]) == "clauses/parts/08-b.yaml:3:3"

    def test_the_digest_follows_names_and_bytes_of_the_files_and_not_the_folder(self, tmp_path: Path) -> None:
        first = load(library_tree(tmp_path / "a")).digest
        assert load(library_tree(tmp_path / "b")).digest == first
        assert load(library_tree(tmp_path / "c", {"sources.yaml": "sources: []\n"})).digest != first
        moved = {"questions/30-work.yaml": None, "questions/31-work.yaml": LIBRARY["questions/30-work.yaml"]}
        assert load(library_tree(tmp_path / "d", moved)).digest != first

    def test_files_that_are_no_yaml_are_left_alone(self, tmp_path: Path) -> None:
        load(library_tree(tmp_path, {"README.md": "# For authors", "parts/notes.txt": "{{"}))


class TestFolder:
    def test_the_path_is_shown_as_it_was_given(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        library_tree(tmp_path / "mine", {"sources.yaml": "sources: 3"})
        monkeypatch.chdir(tmp_path)
        for given, shown in (
            (Path("mine"), "mine"),
            (tmp_path / "mine", "mine"),
            (Path("../") / tmp_path.name / "mine", f"../{tmp_path.name}/mine"),
        ):
            with pytest.raises(InputInvalid) as caught:
                load(given)
            assert str(caught.value).startswith(f"{shown}/sources.yaml:1:10: has no list 'sources:'")

    @pytest.mark.parametrize(
        ("name", "what"),
        [("nowhere", "is no folder"), ("a.txt", "is no folder"), ("", "holds no library.yaml")],
    )
    def test_a_folder_that_is_no_library_is_refused_at_once(self, name: str, what: str, tmp_path: Path) -> None:
        build_tree(tmp_path, {"a.txt": "x", "clauses.yaml": "{{{"})
        with pytest.raises(InputInvalid) as caught:
            load(tmp_path / name)
        assert str(caught.value) == f"{tmp_path / name}: {what}: name the folder of a clause library"

    @pytest.mark.parametrize(
        ("name", "said_"),
        [
            ("part/08-b.yaml", "part/08-b.yaml: is not a file of a clause library: did you mean parts/08-b.yaml?"),
            ("source.yaml", "source.yaml: is not a file of a clause library: did you mean sources.yaml?"),
            ("parts/08-b.yml", "parts/08-b.yml: is not a file of a clause library: end its name in .yaml"),
            ("parts/old/08-b.yaml", "parts/old/08-b.yaml: is not a file of a clause library: did you mean parts/08-b.yaml?"),
        ],
    )  # fmt: skip
    def test_a_file_that_would_be_passed_over_is_told(self, name: str, said_: str, tmp_path: Path) -> None:
        assert said(tmp_path, {name: PART + CLAUSE}) == [said_]


class TestOneMistake:
    @pytest.mark.parametrize(
        ("name", "text", "problem"),
        [
            ("library.yaml", "{name: Small, edition: 2026.1, language: en}", "1:24: 'edition' is the number 2026.1, where a text is wanted: put it in quotes"),
            ("library.yaml", "{name: Small, edition: '1', language: en, by: me}", "1:43: has an unknown key 'by': use one of: edition, language, name"),
            ("sources.yaml", "source: []", "1:1: has no list 'sources:': start the file with 'sources:' and list its entries below"),
            ("sources.yaml", "sources: {}", "1:10: has no list 'sources:': start the file with 'sources:' and list its entries below"),
            ("sources.yaml", "", ": has no list 'sources:': start the file with 'sources:' and list its entries below"),
            ("sources.yaml", "sources: []\nmore: 1", "2:1: has an unknown key 'more': use one of: sources"),
            ("sources.yaml", "sources:\n- {id: a}", "2:3: lacks 'title': add 'title: …'"),
            ("sources.yaml", "sources:\n- {id: A b, title: x}", "2:8: 'id' cannot be 'A b': write small letters, figures, dots and hyphens only, starting with a letter"),
            ("sources.yaml", "sources: [{id: a, title: x}, {id: a, title: y}]", "1:30: declares the source 'a' a second time (first at sources.yaml:1:11): rename one of the two, or take it out"),
            ("sources.yaml", "sources: [a", "1:10: opens a [ … ] that is not closed, or lacks a comma: close it, or put the whole text in quotes"),
            ("parts/1.yaml", "clauses: []", "1:1: lacks 'part:': add 'part: {id: …, title: …}' at the top"),
            ("parts/1.yaml", PART + CLAUSE.replace("title", "titel"), "3:3: lacks 'title': add 'title: …'\nparts/1.yaml:3:25: has an unknown key 'titel': did you mean 'title'?"),
            ("parts/1.yaml", PART + CLAUSE.replace("per: work", "per: wall"), "3:45: 'per' cannot be 'wall': use one of: coat, element, mix, project, work"),
            ("parts/1.yaml", PART + CLAUSE.replace("[a]", "a"), "3:102: 'sources' is 'a', where a list is wanted: write it as [a, b], or on lines that start with '-'"),
            ("parts/1.yaml", PART + CLAUSE + CLAUSE, "4:3: declares the clause 'pointing.layers' a second time (first at parts/1.yaml:3:3): rename one of the two, or take it out"),
            ("names.yaml", "names: [{name: masonry, scope: work, kind: text, label: x}]", "1:9: declares the name 'masonry', which is a question (at questions/20-element.yaml:2:3): rename one of the two"),
            ("names.yaml", "names: [{name: a, scope: work, kind: choice, label: x, choices: [{is: b}]}]", "1:66: lacks 'says': add 'says: …'"),
            ("tables/1.yaml", TABLE.replace("masonry: any", "masonary: any"), "6:11: has 'masonary', which is not among the keys of the table 'drying': did you mean 'masonry'?"),
            ("tables/1.yaml", TABLE.replace("damp_days: 7", "damp_days: 7, hot: 3"), "6:49: has 'hot', which is not among the values of the table 'drying': use one of: damp_days"),
            ("tables/1.yaml", TABLE.replace("{damp_days: 7}", "{}"), "6:34: lacks the value 'damp_days': add 'damp_days: …'"),
            ("tables/1.yaml", TABLE.replace("memory", "mememory"), "6:76: 'rows.confidence' cannot be 'mememory': did you mean 'memory'?"),
            ("tables/1.yaml", "- a", "1:1: is a list, where a mapping is wanted: write 'key: value' on lines below it"),
        ],
    )  # fmt: skip
    def test_is_told_at_its_place(self, name: str, text: str, problem: str, tmp_path: Path) -> None:
        start = f"{name}{problem}" if problem[0] == ":" else f"{name}:{problem}"
        assert "\n".join(said(tmp_path, {name: text})) == start

    @pytest.mark.parametrize(
        ("line", "problem"),
        [
            ("{name: id, scope: element, kind: text, label: A, why: W.}", "2:10: 'id' has a meaning of its own in answers: name it otherwise"),
            ("{name: a, scope: work, kind: choice, label: A, why: W.}", "2:32: 'a' is a choice and has no choices: list them under 'choices:'"),
            ("{name: a, scope: work, kind: text, label: A, why: W., choices: [{is: b, says: b}]}", "2:57: 'a' is a text and has choices: take them out"),
            ("{name: a, scope: work, kind: choice, label: A, why: W., choices: [{is: b, says: b}, {is: b, says: c}]}", "2:92: 'a' has the choice 'b' twice: take one out"),
            ("{name: a, scope: work, kind: records, label: A, why: W.}", "2:32: 'a' is a list of records and has no fields: list its columns under 'fields:'"),
            ("{name: a, scope: work, kind: number, label: A, why: W., least: 3, most: 2}", "2:66: 'a' has a least above its most: mend one of the two"),
            ("{name: a, scope: work, kind: number, label: A, why: W., most: 2, default: 3}", "2:77: 'a' cannot be '3': the most is 2"),
            ("{name: a, scope: work, kind: choice, label: A, why: W., choices: [{is: bb, says: b}], default: bbb}", "2:98: 'a' cannot be 'bbb': did you mean 'bb'?"),
            ("{name: a, scope: work, kind: range, label: A, why: W., default: 8 to}", "2:67: 'a' cannot be '8 to': write low and high, such as 8 - 12, or 8 - 12 (10) with the usual"),
            ("{name: a, scope: work, kind: yes_no, label: A, why: W., need: required, when: lived_in}", "2:81: 'a' is required and asked only sometimes: take 'when' out, or make it 'need: block'"),
            ("{name: a, scope: work, kind: yes_no, label: A, why: W., need: required, default: true}", "2:75: 'a' is required and has a default: take the default out, or make it 'need: none'"),
            ("{name: a, scope: work, kind: photographs, label: A, why: W.}", "2:32: 'a' lists photographs: only 'photographs' of the project does"),
            ("{name: photographs, scope: project, kind: photographs, label: A, why: W., default: []}", "2:77: photographs have a default: take it out"),
            ("{name: title, scope: work, kind: text, label: A, why: W.}", "2:3: declares the question 'title' a second time (first at questions/10-project.yaml:2:3): rename one of the two, or take it out"),
            ("{name: a, scope: wall, kind: texts, label: A, why: W.}", "2:20: 'scope' cannot be 'wall': use one of: coat, element, project, work"),
        ],
    )  # fmt: skip
    def test_a_question_that_makes_no_sense(self, line: str, problem: str, tmp_path: Path) -> None:
        assert said(tmp_path, {"questions/90.yaml": f"questions:\n- {line}\n"}) == [f"questions/90.yaml:{problem}"]


class TestConditions:
    def test_a_broken_condition_is_shown_at_its_place_with_the_part_underlined(self, tmp_path: Path) -> None:
        clause = "- id: pointing.layers\n  title: Layers\n  per: work\n  when: work == 'repoint' and masonry == 'brik'\n  text: Fill.\n  cost: information\n  sources: [a]\n"
        assert said(tmp_path, {"parts/1.yaml": PART + clause}) == [
            "parts/1.yaml:6:42: clause 'pointing.layers': its 'when' has 'brik', which is no choice of 'masonry': did you mean 'brick'?\n"
            "    work == 'repoint' and masonry == 'brik'\n"
            "                                     ~~~~~~"
        ]

    @pytest.mark.parametrize(
        ("written", "place"),
        [
            ("when: work == 'repiont'", "3:17"),
            ("when:   work == 'repiont'", "3:19"),
            ("when: \"work == 'repiont'\"", "3:18"),
            ("when: >-\n    masonry == 'brick' and\n    work == 'repiont'", "3:9"),
            ("when: masonry == 'brick' and\n    work == 'repiont'", "3:9"),
        ],
    )
    def test_its_column_is_that_of_the_file_where_it_stands_on_one_line(
        self, written: str, place: str, tmp_path: Path
    ) -> None:
        clause = f"- {written}\n  id: pointing.layers\n  title: Layers\n  per: work\n  text: Fill.\n  cost: information\n  sources: [a]\n"
        (problem,) = said(tmp_path, {"parts/1.yaml": PART + clause})
        assert problem.split(": ")[0] == f"parts/1.yaml:{place}"
        assert "did you mean 'repoint'?" in problem

    @pytest.mark.parametrize(
        ("name", "entry"),
        [
            ("findings/1.yaml", "findings:\n- {code: a, level: note, per: work, when: wrok, message: m, action: a, sources: [a]}"),
            ("items/1.yaml", "items:\n- {id: a, group: element, per: work, when: wrok, description: d, unit: m²}"),
            ("items/1.yaml", "items:\n- {id: a, group: element, per: work, provisional_when: wrok, description: d, unit: m²}"),
            ("operations/1.yaml", "operations:\n- {id: a, when: wrok, text: t, clauses: []}"),
            ("questions/90.yaml", "questions:\n- {name: a, scope: work, kind: text, label: A, why: W., when: wrok}"),
        ],
    )  # fmt: skip
    def test_each_kind_of_entry_has_its_conditions_checked(self, name: str, entry: str, tmp_path: Path) -> None:
        (problem,) = said(tmp_path, {name: entry})
        assert problem.startswith(f"{name}:2:{entry.splitlines()[1].index('wrok') + 1}: ")
        assert "names 'wrok', which is no question and no reckoned value: did you mean 'work'?" in problem


def test_a_question_that_cannot_be_read_is_not_blamed_on_the_conditions_that_name_it(tmp_path: Path) -> None:
    changes = {
        "questions/30-work.yaml": LIBRARY["questions/30-work.yaml"].replace("need: required", "need: much"),
        "parts/1.yaml": PART + CLAUSE.replace("per: work", "per: work, when: work == 'repoint'"),
    }
    (problem,) = said(tmp_path, changes)
    assert problem.startswith("questions/30-work.yaml:8:9: 'need' cannot be 'much'")


def test_every_mistake_of_every_file_is_told_in_one_go(tmp_path: Path) -> None:
    found = said(
        tmp_path,
        {
            "sources.yaml": "sources: [a\n",
            "parts/1.yaml": PART + CLAUSE.replace("per: work", "per: work, when: wrok == 'x'"),
            "parts/2.yaml": "part: 3\nclauses: 4\n",
            "tables/1.yaml": TABLE.replace("masonry: any", "masonary: any"),
            "questions/90.yaml": "questions:\n- {name: a, scope: work}\n",
        },
    )
    assert [problem.split(": ")[0] for problem in found] == [
        "parts/1.yaml:3:57",
        "parts/2.yaml:1:7",
        "parts/2.yaml:2:10",
        "questions/90.yaml:2:3",
        "questions/90.yaml:2:3",
        "questions/90.yaml:2:3",
        "sources.yaml:1:10",
        "tables/1.yaml:6:11",
    ]


class TestShipped:
    def test_is_read_without_a_mistake(self, shipped_clauses: Path) -> None:
        library = load(shipped_clauses)
        assert len(library.clauses) >= 60
        assert set(library.part_of.values()) == {part.id for part in library.parts}

    def test_is_read_in_a_moment(self, shipped_clauses: Path) -> None:
        load(shipped_clauses)
        counted = cProfile.Profile()
        counted.runcall(load, shipped_clauses)
        # calls of functions, not seconds, which a busy machine draws out; it takes less than half of this
        assert sum(entry.callcount for entry in counted.getstats()) < 1_500_000
