"""Layers: a practice's clauses over the library, by id, the same whatever the order of files, and told when stale."""

from __future__ import annotations

import itertools
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
from helpers import build_tree, library_tree

from generator.files.errors import InputInvalid
from generator.library.entries import clause_hash
from generator.library.layers.authoring import NewClause, Reader, adopt_clause, drop_clause, new_clause, record_review
from generator.library.load import load
from generator.library.model import Library
from generator.values import replace

PARTS = """\
    part: {id: walls, title: Walls}
    clauses:
    - {id: walls.first, title: First, text: "Do it.", cost: information, sources: []}
    - {id: walls.kept, title: Kept, text: "Keep out.", when: "lived_in", cost: information, sources: [], keep: true}
    - {id: walls.last, title: Last, text: "Sweep up.", cost: information, sources: []}
    """
FINDINGS = "findings:\n" + "".join(
    f"- {{code: {code}, level: {level}, message: m, action: a, sources: []}}\n"
    for code, level in (
        ("keep-clause-dropped", "block"),
        ("keep-clause-narrowed", "warning"),
        ("clause-not-written", "block"),
        ("clause-base-changed", "warning"),
        ("clause-replaced-twice", "note"),
    )
)
WORDS = "words:\n  greeting: Hello {name}\n  farewell: Goodbye\n"


def base(tmp: Path, **changes: str) -> Path:
    build_tree(tmp, {"templates/words.yaml": WORDS})
    files: dict[str, str | None] = {"parts/01-walls.yaml": PARTS, "findings/layers.yaml": FINDINGS, **changes}
    return library_tree(tmp / "base", files)


def layer(folder: Path, name: str = "house", **files: str) -> Path:
    """A layer folder: files of `clauses/` by their name without its ending, in a readable form."""
    written = {f"clauses/{key}.yaml": text for key, text in files.items()}
    return build_tree(folder, {"layer.yaml": f"{{name: {name}, edition: '2027.1'}}\n", **written})


def new(key: str, **more: str) -> str:
    fields = "".join(f", {name}: {value}" for name, value in more.items())
    return f"- {{id: {key}, part: walls, title: T, text: 'Text of {key}.', cost: information, sources: []{fields}}}\n"


def over(base_folder: Path, *layers: Path) -> Library:
    return load(base_folder, "lib", layers)


def mistakes(base_folder: Path, *layers: Path) -> list[str]:
    with pytest.raises(InputInvalid) as caught:
        over(base_folder, *layers)
    return [str(problem) for problem in caught.value.problems]


class TestAdding:
    def test_a_new_clause_stands_behind_the_one_it_names_and_else_at_the_end_of_its_part(self, tmp_path: Path) -> None:
        text = "clauses:\n" + new("house.z") + new("house.b", after="walls.first") + new("house.a", after="house.b")
        found = over(base(tmp_path), layer(tmp_path / "h", a=text))
        assert list(found.clauses) == ["walls.first", "house.b", "house.a", "walls.kept", "walls.last", "house.z"]
        assert found.part_of["house.a"] == "walls"
        assert (found.origin("house.a").layer, found.origin("house.a").edition) == ("house", "2027.1")
        assert (found.origin("walls.first").layer, found.origin("walls.first").edition) == ("shipped", "1")

    def test_clauses_come_out_the_same_whatever_file_they_are_in(self, tmp_path: Path) -> None:
        lines = [new("house.c"), new("house.a", after="house.c"), new("house.b", after="house.c"), new("house.d")]
        folder = base(tmp_path)
        orders = set()
        for number, order in enumerate(itertools.permutations(lines)):
            files = {name: f"clauses:\n{line}" for name, line in zip("wxyz", order, strict=True)}
            found = over(folder, layer(tmp_path / str(number), **files))
            orders.add((tuple(found.clauses), tuple(found.origins)))
        assert len(orders) == 1

    def test_a_question_and_a_word_of_its_own_are_used(self, tmp_path: Path) -> None:
        asked = "questions:\n- {name: archive_wanted, scope: project, kind: yes_no, label: Archive, why: House.}\n"
        house = layer(tmp_path / "h", a="clauses:\n" + new("house.a", when="archive_wanted"))
        build_tree(house, {"questions/10.yaml": asked, "templates/words.yaml": "words: {greeting: 'Hi {name}'}\n"})
        found = over(base(tmp_path), house)
        assert "archive_wanted" in found.questionnaire.questions
        assert (found.words["greeting"], found.words["farewell"]) == ("Hi {name}", "Goodbye")

    def test_it_has_the_digest_of_its_files_in_the_library(self, tmp_path: Path) -> None:
        folder, house = base(tmp_path), layer(tmp_path / "h", a="clauses:\n" + new("house.a"))
        before = over(folder, house)
        layer(house, a="clauses:\n" + new("house.b"))
        after = over(folder, house)
        assert before.digest == after.digest == load(folder, "lib").digest
        assert before.layers[0].digest != after.layers[0].digest


def replacing(folder: Path, key: str = "walls.first", **more: str) -> str:
    fields = {"based_on": f"'{clause_hash(load(folder, 'lib').clauses[key])}'", **more}
    return "clauses:\n" + new(key, **fields)


class TestReplacing:
    def test_a_replacement_takes_the_place_and_remembers_its_base(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        found = over(folder, layer(tmp_path / "h", a=replacing(folder)))
        assert list(found.clauses) == ["walls.first", "walls.kept", "walls.last"]
        assert found.clauses["walls.first"].text == "Text of walls.first."
        origin = found.origin("walls.first")
        assert origin.base is not None
        assert (origin.base.text, origin.stale) == ("Do it.", False)
        assert found.raised == ()

    def test_a_base_that_changed_since_is_a_warning_at_the_hash(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        house = layer(tmp_path / "h", a=replacing(folder))
        base(tmp_path, **{"parts/01-walls.yaml": PARTS.replace("Do it.", "Do it twice.")})
        found = over(folder, house)
        assert found.origin("walls.first").stale
        (raised,) = found.raised
        assert raised.code == "clause-base-changed"
        assert ("name", "walls.first") in raised.fills
        mark = raised.marks[0]
        line = (house / "clauses" / "a.yaml").read_text().splitlines()[mark.line - 1]
        assert line[mark.column - 1 :].startswith(f"'{found.origin('walls.first').based_on}'")

    @pytest.mark.parametrize("field", ["title", "text", "check", "because", "when"])
    def test_any_word_of_the_base_counts(self, field: str, tmp_path: Path) -> None:
        clause = load(base(tmp_path), "lib").clauses["walls.first"]
        changed: dict[str, Any] = {field: "lived_in"}
        assert clause_hash(clause) != clause_hash(replace(clause, **changed))

    def test_where_two_layers_replace_one_clause_the_later_wins_and_a_note_says_so(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        text = replacing(folder)
        one = layer(tmp_path / "one", "one", a=text)
        two = layer(tmp_path / "two", "two", a=text.replace("Text of", "Words of"))
        found = over(folder, one, two)
        assert found.clauses["walls.first"].text == "Words of walls.first."
        assert [(item.code, dict(item.fills)["second"]) for item in found.raised] == [("clause-replaced-twice", "one")]
        assert over(folder, two, one).clauses["walls.first"].text == "Text of walls.first."

    def test_a_replacement_of_a_replacement_on_purpose_is_no_clash(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        one = layer(tmp_path / "one", "one", a=replacing(folder))
        hashed = clause_hash(over(folder, one).clauses["walls.first"])
        two = layer(tmp_path / "two", "two", a="clauses:\n" + new("walls.first", based_on=f"'{hashed}'", check="C."))
        assert over(folder, one, two).raised == ()

    def test_a_protecting_clause_that_is_narrowed_is_a_warning(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        text = replacing(folder, "walls.kept", keep="true", when="not lived_in")
        found = over(folder, layer(tmp_path / "h", a=text))
        assert [item.code for item in found.raised] == ["keep-clause-narrowed"]
        same = replacing(folder, "walls.kept", keep="true", when="lived_in")
        assert over(folder, layer(tmp_path / "i", a=same)).raised == ()


DROP = "drops:\n- {id: %s, because: Not our practice.}\n"


class TestDropping:
    def test_a_dropped_clause_is_gone_and_remembered_with_its_reason(self, tmp_path: Path) -> None:
        found = over(base(tmp_path), layer(tmp_path / "h", a=DROP % "walls.first"))
        assert list(found.clauses) == ["walls.kept", "walls.last"]
        assert (found.dropped["walls.first"].layer, found.dropped["walls.first"].because) == (
            "house",
            "Not our practice.",
        )
        assert found.raised == ()

    def test_dropping_what_protects_blocks(self, tmp_path: Path) -> None:
        found = over(base(tmp_path), layer(tmp_path / "h", a=DROP % "walls.kept"))
        assert [item.code for item in found.raised] == ["keep-clause-dropped"]
        assert ("reason", "Not our practice.") in found.raised[0].fills

    def test_taking_the_mark_away_first_does_not_help(self, tmp_path: Path) -> None:
        folder = base(tmp_path)
        one = layer(tmp_path / "one", "one", a=replacing(folder, "walls.kept"))
        two = layer(tmp_path / "two", "two", a=DROP % "walls.kept")
        assert "keep-clause-dropped" in [item.code for item in over(folder, one, two).raised]

    def test_lines_that_pay_for_it_alone_fall_with_it(self, tmp_path: Path) -> None:
        item = (
            "items:\n- {id: line, group: preliminaries, per: project, description: Line, unit: item, quantity: '1'}\n"
            "- {id: more, group: rate-only, per: project, description: More, unit: item, kind: rate only,"
            " besides: [line]}\n"
        )
        parts = PARTS.replace('"Do it.", cost: information', '"Do it.", cost: {preliminaries: line}')
        folder = base(tmp_path, **{"items/10.yaml": item, "parts/01-walls.yaml": parts})
        assert set(over(folder).items) == {"line", "more"}
        assert over(folder, layer(tmp_path / "h", a=DROP % "walls.first")).items == {}

    def test_a_line_that_pays_for_another_clause_too_stays(self, tmp_path: Path) -> None:
        item = "items:\n- {id: line, group: preliminaries, per: project, description: L, unit: item, quantity: '1'}\n"
        paid = "cost: {preliminaries: line}"
        folder = base(
            tmp_path, **{"items/10.yaml": item, "parts/01-walls.yaml": PARTS.replace("cost: information", paid)}
        )
        found = over(folder, layer(tmp_path / "h", a=DROP % "walls.first"))
        assert found.duties == {"line": ("walls.kept", "walls.last")}


BAD: Mapping[str, tuple[str, str]] = {
    "no part": (
        "clauses:\n- {id: a, title: T, text: X., cost: information, sources: []}\n",
        "a.yaml:2:3: lacks 'part'",
    ),
    "part not there": ("clauses:\n" + new("a").replace("part: walls", "part: wals"), "did you mean 'walls'?"),
    "after what is not there": ("clauses:\n" + new("a", after="walls.frist"), "did you mean 'walls.first'?"),
    "a ring": (
        "clauses:\n" + new("a", after="b") + new("b", after="a"),
        "a.yaml:3:93: the clause 'b' comes after itself in a ring (b, a)",
    ),
    "after one that has no place": (
        "clauses:\n" + new("a", after="b") + new("b", after="walls.frist"),
        "a.yaml:3:93: comes after the clause 'walls.frist', which is not there",
    ),
    "replaces what is not there": ("clauses:\n" + new("walls.frist", based_on="'0'"), "which is not there"),
    "an id that is taken": ("clauses:\n" + new("walls.first"), "or replace that clause: 'based_on: "),
    "drops what is not there": (DROP % "walls.frist", "a.yaml:2:8: drops the clause 'walls.frist', which is not"),
    "a drop without a reason": ("drops:\n- {id: walls.first}\n", "lacks 'because'"),
    "neither list": ("claus: []\n", "has no list 'clauses:'"),
    "one clause twice": ("clauses:\n" + new("a") + new("a"), "a second time in one layer"),
    "written and dropped": ("clauses:\n" + new("a") + DROP % "a", "which the same layer writes"),
    "an unknown key": ("clauses:\n" + new("a", wehn="x"), "did you mean 'when'?"),
    "a condition on nothing": ("clauses:\n" + new("a", when="lived_im"), "a.yaml:2:"),
}


@pytest.mark.parametrize("case", BAD)
def test_a_mistake_in_a_layer_is_told_at_its_place(case: str, tmp_path: Path) -> None:
    text, words = BAD[case]
    found = mistakes(base(tmp_path), layer(tmp_path / "h", a=text))
    assert any(words in line for line in found), found
    assert all("a.yaml:" in line for line in found)
    assert len(found) == 1


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("recipes/strength.yaml", "{}", "is not a file of a layer"),
        ("parts/01.yaml", "{}", "is not a file of a layer"),
        ("clauses/a.yml", "{}", "is not a file of a layer"),
        ("layer.yaml", "{name: shipped, edition: '1'}", "which another layer has"),
        ("layer.yaml", "{name: house}", "lacks 'edition'"),
        ("words.yaml", "words: {greeting: Hi}", "is not a file of a layer"),
        ("templates/words.yaml", "words: {greting: Hi}", "did you mean 'greeting'?"),
        ("templates/words.yaml", "words: {greeting: 'Hi {nam}'}", "did you mean 'name'?"),
        ("templates/words.yaml", "words: {greeting: ''}", "is not a text"),
        ("templates/words.yaml", "words: [greeting]", "has no mapping 'words:'"),
        ("templates/word.yaml", "words: {greeting: Hi}", "did you mean 'words.yaml'?"),
        ("questions/1.yaml", "questions: [{name: title, scope: project, kind: text, label: T, why: W}]", "second time"),
    ],
)
def test_a_file_that_a_layer_may_not_have_or_that_is_amiss_is_told(
    name: str, text: str, words: str, tmp_path: Path
) -> None:
    house = build_tree(layer(tmp_path / "h"), {name: text})
    found = mistakes(base(tmp_path), house)
    assert any(words in line for line in found), found
    assert all(line.startswith(str(house)) for line in found)


def test_what_is_hidden_in_the_folder_of_a_layer_is_no_part_of_it(tmp_path: Path) -> None:
    folder, house = base(tmp_path), layer(tmp_path / "h", a="clauses:\n" + new("house.a"))
    before = over(folder, house).layers
    build_tree(house, {".git/x.yaml": "{", ".github/workflows/ci.yml": "on: push", "clauses/._a.yaml": "{"})
    assert over(folder, house).layers == before


def test_a_reading_that_says_too_little_is_told_at_its_place(tmp_path: Path) -> None:
    review = "reviews:\n- {clause: walls.first, base: abc, by: A, date: 1 March}\n"
    found = mistakes(base(tmp_path), build_tree(layer(tmp_path / "h"), {"reviews/walls.first.yaml": review}))
    assert [line.partition("walls.first.yaml:")[2][:4] for line in found] == ["2:31", "2:49"]


def test_a_folder_that_is_no_layer_and_one_named_twice_are_told(tmp_path: Path) -> None:
    folder, house = base(tmp_path), layer(tmp_path / "h")
    assert "is no folder" in mistakes(folder, tmp_path / "none")[0]
    assert "holds no layer.yaml" in mistakes(folder, tmp_path)[0]
    assert "is named a second time as a layer" in mistakes(folder, house, tmp_path / "h" / ".." / "h")[0]


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not on the path")
def test_two_peoples_changes_to_different_clauses_merge_without_conflict(tmp_path: Path) -> None:
    def git(*words: str) -> None:
        named = ["-c", "user.name=n", "-c", "user.email=n@example.org", "-c", "init.defaultBranch=main"]
        subprocess.run(["git", *named, *words], cwd=house, check=True, capture_output=True)

    folder, house = base(tmp_path), layer(tmp_path / "h", a=replacing(base(tmp_path)))
    base(tmp_path, **{"parts/01-walls.yaml": PARTS.replace("Do it.", "Do it twice.")})
    git("init")
    git("add", ".")
    git("commit", "-m", "start")
    git("checkout", "-b", "other")
    new_clause(house, NewClause("house.b", "walls", "B"), load(folder, "lib"))
    record_review(["walls.first"], Reader("A. Sample", "2027-03-01"), over(folder, house))
    git("add", ".")
    git("commit", "-m", "one")
    git("checkout", "main")
    new_clause(house, NewClause("house.c", "walls", "C"), load(folder, "lib"))
    adopt_clause(house, "walls.kept", load(folder, "lib"))
    drop_clause(house, "walls.last", "Not ours.", load(folder, "lib"))
    git("add", ".")
    git("commit", "-m", "two")
    git("merge", "--no-edit", "other")
    found = over(folder, house)
    assert list(found.clauses) == ["walls.first", "walls.kept", "house.b", "house.c"]
    assert found.origin("walls.first").read == "A. Sample, 2027-03-01"
    assert [(item.code, dict(item.fills)["name"]) for item in found.raised] == [
        ("clause-not-written", "house.b"), ("clause-not-written", "house.c"),
    ]  # fmt: skip


def large_layer(folder: Path, clauses: int) -> Path:
    """A layer of so many clauses, a hundred to a file, each with a condition, a value and a reference."""
    house = layer(folder)
    for start in range(0, clauses, 100):
        body = "".join(
            dedent(f"""\
                - id: many.c{number}
                  part: walls
                  title: Clause {number}
                  per: element
                  cost: information
                  when: masonry == 'brick' and joint_width_mm >= {number % 20 + 1}
                  text: |
                    Rake joints of {{{{ joint_width_mm }}}} clean, in the order of lift {number}. Leave no dust in them.
                    [](clause:walls.first) holds as well.
                  check: The foreman looks at ten joints of each lift.
                  because: Dust keeps new mortar off the old.
                  sources: []
                """)
            for number in range(start, min(start + 100, clauses))
        )
        build_tree(house, {f"clauses/{start:05d}.yaml": "clauses:\n" + body})
    return house


def test_a_layer_of_a_thousand_clauses_is_read_whole(tmp_path: Path) -> None:
    found = over(base(tmp_path), large_layer(tmp_path / "h", 1000))
    assert len(found.clauses) == 1003
    assert len(found.conditions) >= 1000
