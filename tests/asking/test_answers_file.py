"""Changing an answers file as text: one answer in, nothing else moved, and the file replaced whole."""

from __future__ import annotations

import difflib
import os
import stat
import sys
from functools import partial
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
from failing import at_once, killed_at
from hypothesis import given
from hypothesis import strategies as st

from generator.asking.answers_file import (
    AnswersFile,
    CannotChange,
    Change,
    Dropped,
    Raw,
    Zoned,
    changed,
)
from generator.files.errors import CannotWrite
from generator.files.limits import MOST_YAML_BYTES
from generator.files.source import NO_TEXT, read_bytes

PROJECT, FIRST = ("project",), ("elements", 0)
# a line with controls or marks that nobody sees is no answer: `ask` tells so and asks again
LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")).filter(lambda char: not NO_TEXT.match(char))
TEXTS = st.text(LETTERS)


def data(text: str) -> Any:
    return read_bytes(text.encode(), "", typed=False).data


def diff(before: str, after: str) -> list[str]:
    """The lines taken out and put in, marked - and +."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    return [f"{line[0]} {line[1:]}" for line in lines if line[0] in "+-" and line[:3] not in ("---", "+++")]


def put(text: str, *changes: Change) -> list[str]:
    """What changes do to a text, without its common indentation."""
    before = dedent(text)
    return diff(before, changed(before, changes))


# --- where an answer goes -----------------------------------------------------------------------------------


def test_a_new_answer_stands_after_the_last_of_the_keys_that_come_before_it() -> None:
    text = "project:\n  title: Barn\n  place: Hill\n  client: Trust\n"
    after = ("title", "reference", "place")
    assert changed(text, [Change(PROJECT, "building", "Barn of 1790", after)]) == (
        "project:\n  title: Barn\n  place: Hill\n  building: Barn of 1790\n  client: Trust\n"
    )


def test_a_new_answer_before_all_others_stands_first() -> None:
    assert put("project:\n  place: Hill\n", Change(PROJECT, "title", "Barn", ("id",))) == ["+   title: Barn"]


def test_an_answer_of_an_element_stands_before_its_works() -> None:
    text = "elements:\n- id: front\n  name: Front\n  works:\n  - work: repoint\n"
    assert changed(text, [Change(FIRST, "masonry", "brick", ("id", "name"))]) == (
        "elements:\n- id: front\n  name: Front\n  masonry: brick\n  works:\n  - work: repoint\n"
    )


def test_comments_beside_and_above_stay_with_what_they_tell_of() -> None:
    text = """\
        # the job
        project:
          title: Barn  # as on the letter
          # who it is for
          client: Trust
        # walls
        elements:
        - id: front
          name: Front
          works:
          - id: repoint  # low down
            work: repoint

        # the other side
        - id: rear
          name: Rear
          works: []
        """
    changes = (
        Change(PROJECT, "reference", "B-1", ("title",)),
        Change(PROJECT, "title", "Old barn"),
        Change((*FIRST, "works", 0), "face_area_m2", "20", ("id", "work")),
        Change(("elements", 1, "works"), None, {"id": "render", "work": "render"}),
    )
    assert put(text, *changes) == [
        "-   title: Barn  # as on the letter",
        "+   title: Old barn  # as on the letter",
        "+   reference: B-1",
        "+     face_area_m2: 20",
        "-   works: []",
        "+   works:",
        "+   - id: render",
        "+     work: render",
    ]


def test_a_text_over_several_lines_is_replaced_whole() -> None:
    text = "project:\n  building: >-\n    Barn\n    of 1790\n\n  # next\n  client: Trust\n"
    assert changed(text, [Change(PROJECT, "building", "Mill")]) == (
        "project:\n  building: Mill\n\n  # next\n  client: Trust\n"
    )


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "project:\n  title: Barn\n"),
        ("# mine\n", "# mine\nproject:\n  title: Barn\n"),
        ("# mine", "# mine\nproject:\n  title: Barn\n"),
        ("project:\n", "project:\n  title: Barn\n"),
        ("project: # to do\n# end\n", "project:\n  title: Barn # to do\n# end\n"),
        ("elements: []\n", "elements: []\nproject:\n  title: Barn\n"),
        ("project: {client: Trust}\n", "project: {client: Trust, title: Barn}\n"),
        ("project: {}\n", "project: {title: Barn}\n"),
        ("project:\n    client: Trust", "project:\n    client: Trust\n    title: Barn\n"),
        ("project:\r\n  client: Trust\r\n", "project:\r\n  client: Trust\r\n  title: Barn\r\n"),
        ("project:\n  title:\n  client: T\n", "project:\n  title: Barn\n  client: T\n"),
    ],
)
def test_an_answer_finds_its_place_in_files_however_laid_out(text: str, expected: str) -> None:
    assert changed(text, [Change(PROJECT, "title", "Barn")]) == expected


def test_answers_on_one_line_stay_on_one_line() -> None:
    text = "elements:\n- {id: a, name: A, works: [{id: low, work: repoint}]}  # small\n"
    changes = [
        Change((*FIRST, "works", 0), "face_area_m2", "64", ("id", "work")),
        Change((*FIRST, "works"), None, {"id": "wash", "work": "limewash"}),
        Change(FIRST, "name", "Wall, front"),
        Change(FIRST, "decay_causes", ["gutter", "age"], ("id", "name")),
    ]
    assert changed(text, changes) == (
        'elements:\n- {id: a, name: "Wall, front", works: [{id: low, work: repoint, face_area_m2: 64}, '
        "{id: wash, work: limewash}], decay_causes: [gutter, age]}  # small\n"
    )


def test_walls_works_and_lists_are_added_below_the_last() -> None:
    text = ""
    for change in (
        Change(("elements",), None, {"id": "front", "name": "Front"}),
        Change((*FIRST, "works"), None, {"id": "repoint", "work": "repoint"}),
        Change((*FIRST, "works", 0), "openings", [{"width_m": "1", "height_m": "2"}]),
        Change((*FIRST, "works", 0, "openings"), None, {"width_m": "2", "height_m": "2"}),
        Change((*FIRST, "works", 0), "extent", "low down", ("id", "work")),
        Change((*FIRST, "works"), None, {"id": "wash", "work": "limewash"}),
        Change(("elements",), None, {"id": "rear", "name": "Rear", "features": ["old sill", "arch"], "works": [
            {"id": "render", "work": "render"}]}),
    ):  # fmt: skip
        text = changed(text, [change])
    assert text == dedent("""\
        elements:
        - id: front
          name: Front
          works:
          - id: repoint
            work: repoint
            extent: low down
            openings:
            - {width_m: 1, height_m: 2}
            - {width_m: 2, height_m: 2}
          - id: wash
            work: limewash
        - id: rear
          name: Rear
          features:
          - old sill
          - arch
          works:
          - id: render
            work: render
        """)


def test_any_answer_of_the_example_can_be_changed_with_no_other_line_touched(toll_house: Path) -> None:
    text = toll_house.read_text(encoding="utf-8")
    answers = data(text)
    for place in (PROJECT, FIRST, (*FIRST, "works", 0)):
        scope = answers
        for step in place:
            scope = scope[step]
        for key, value in scope.items():
            if isinstance(value, str):
                lines = diff(text, changed(text, [Change(place, key, "other words")]))
                assert len([line for line in lines if line[0] == "+"]) == 1, key
                assert f"{key}: other words" in "".join(lines)


# What follows a key, and what of it is left once the answer is another.
SPELT = [
    pytest.param(" |\n    one\n\n    two\n\n\n", "\n\n\n", id="a text over lines"),
    pytest.param(" |-\n    one\n\n", "\n\n", id="a text without its last line end"),
    pytest.param(" >2-\n      one\n    two\n", "\n", id="a text that is indented twice"),
    pytest.param(" |\n    # one\n  # below\n", "\n  # below\n", id="a text that looks like a comment"),
    pytest.param(" one\n    two  # beside\n", "  # beside\n", id="words over lines"),
    pytest.param(" 'one\n    # two'  # beside\n", "  # beside\n", id="quoted words over lines"),
    pytest.param("\n", "\n", id="nothing"),
    pytest.param("  # not known yet\n", "  # not known yet\n", id="nothing, with a comment"),
    pytest.param(" ~ # not known yet\n", " # not known yet\n", id="a blank that is spelt"),
    pytest.param(" [a, # first ]\n    'b]'\n  ] # beside\n", " # beside\n", id="a list in brackets over lines"),
    pytest.param(" {k: '}', l: }   # beside\n", "   # beside\n", id="a mapping in braces"),
    pytest.param("\n  - a\n  - # none\n  # below\n", " # none\n  # below\n", id="a list below its key"),
    pytest.param(" 🧱🧱 ä  # 🧱\n", "  # 🧱\n", id="characters of two units"),
    pytest.param("\tone two\t# beside\t\n", "\t# beside\t\n", id="tabs"),
]


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize(("spelt", "rest"), SPELT)
def test_a_new_answer_takes_the_place_of_just_the_old_one(spelt: str, rest: str, newline: str) -> None:
    before = f"project:\n  id: 🧱\n  title:{spelt}  client: T\n"
    after = f"project:\n  id: 🧱\n  title: Barn{rest}  client: T\n"
    found = changed(before.replace("\n", newline), [Change(PROJECT, "title", "Barn")])
    assert found == after.replace("\n", newline)


@pytest.mark.parametrize(("spelt", "rest"), SPELT)
def test_an_answer_after_another_leaves_that_as_it_stood(spelt: str, rest: str) -> None:
    text = f"project:\n  title:{spelt}"
    found = changed(text, [Change(PROJECT, "client", "T", ("title",))])
    assert found.replace("  client: T\n", "") == text
    assert found.index("  client") <= len(text) - len(rest) + rest.index("\n") + 1


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("spelt", "value", "after"),
    [
        (" >-  # as told\n    Barn\n    of 1790\n", "Mill", " Mill  # as told\n"),
        (" |  # as told # twice\n    x\n", ["old sill", "arch"], "  # as told # twice\n  - old sill\n  - arch\n"),
        ("  # seen in May\n  - age\n  - gutter  # east\n", ["age"], " [age]  # seen in May  # east\n"),
        ("\n  # seen\n    # in May\n  - old sill\n", ["new sill"], "\n  # seen\n    # in May\n  - new sill\n"),
        ("\n    # as told\n    Barn # beside\n", "Mill", " Mill\n    # as told # beside\n"),
        (" '# 1'  # beside\n", "# 2", ' "# 2"  # beside\n'),
    ],
)
def test_comments_between_a_key_and_its_value_stay_when_it_changes(
    spelt: str, value: Raw, after: str, newline: str
) -> None:
    found = changed(f"project:\n  title:{spelt}".replace("\n", newline), [Change(PROJECT, "title", value)])
    assert found == f"project:\n  title:{after}".replace("\n", newline)


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("project:\n  client: T\n  title: |\n    one\n\n    two\n\n# end\n", "project:\n  client: T\n\n# end\n"),
        ("project:\n  title:  # none\n  client: T\n", "project:\n  client: T\n"),
        ("project:\n  client: T\n  title: [a,\n    b]  # c", "project:\n  client: T\n"),
        ("project: {client: T, title: }  # c\n", "project: {client: T }  # c\n"),
    ],
)
def test_an_answer_is_taken_out_with_all_its_lines_and_no_others(before: str, after: str) -> None:
    assert changed(before, [Dropped((*PROJECT, "title"))]) == after


# --- spelling -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "spelt"),
    [
        ("8 - 12 (10)", "8 - 12 (10)"),
        ("2027-03-01", "2027-03-01"),
        ("no", "no"),
        ("null", '"null"'),
        ("Barn: old", '"Barn: old"'),
        ("# 4", '"# 4"'),
        ("- x", '"- x"'),
        ('12" sill', '"12\\" sill"'),
        ("Mühle, 3 m²", '"Mühle, 3 m²"'),
        ([], "[]"),
        (["old sill", "arch"], "\n  - old sill\n  - arch"),
    ],
)
def test_answers_are_spelt_plainly_where_they_can_be(value: Raw, spelt: str) -> None:
    found = changed("project:\n  client: T\n", [Change(PROJECT, "title", value)])
    assert found.removeprefix("project:\n  client: T\n  title:").strip(" ") == f"{spelt}\n".lstrip(" ")


@given(TEXTS, st.sampled_from(["project:\n  title: x  # c\n  client: T\n", "project: {client: T}\n", "# x"]))
def test_any_text_that_can_be_typed_reads_back_as_typed(text: str, before: str) -> None:
    assert data(changed(before, [Change(PROJECT, "title", text)]))["project"]["title"] == text


KEYS = st.sampled_from(["a", "b", "c", "d"])
VALUES = st.one_of(TEXTS, st.lists(TEXTS, max_size=3), st.lists(st.dictionaries(KEYS, TEXTS, min_size=1), max_size=2))
CHANGES = st.one_of(
    st.builds(Change, st.just(PROJECT), KEYS, VALUES, st.sampled_from([(), ("a",), ("a", "b", "c")])),
    st.builds(Change, st.just(FIRST), KEYS, VALUES, st.sampled_from([(), ("id",), ("id", "b")])),
    st.builds(Change, st.just(("elements",)), st.none(), st.just({"id": "n", "name": "N"})),
    st.builds(Change, st.just((*FIRST, "works")), st.none(), st.just({"id": "w", "work": "repoint"})),
)


@given(st.lists(CHANGES, max_size=8))
def test_changes_in_any_order_come_to_the_answers_meant_and_keep_every_comment(changes: list[Change]) -> None:
    text = "# top\nproject:\n  a: 1  # one\n# walls\nelements:\n- id: x\n  # what it is\n  b: [q]\n# end\n"
    for change in changes:
        text = changed(text, [change])  # refused where the text does not read back as meant
    comments = [line.strip() for line in text.splitlines() if line.strip().startswith("#")]
    assert [line for line in comments if line in ("# top", "# walls", "# what it is", "# end")] == [
        "# top", "# walls", "# what it is", "# end",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "change"),
    [
        ("elements: 5\n", Change(("elements",), None, {"id": "a"})),
        ("project: words\n", Change(PROJECT, "title", "Barn")),
        ("project: &p {client: T}\n", Change(PROJECT, "title", "Barn")),
        ("project:\n  title: Barn\n", Change(PROJECT, "client", "a\x07b")),
        ("- a\n", Change(PROJECT, "title", "Barn")),
        ("project:\n  title: |+\n    Barn\n\n", Change(PROJECT, "client", "T", ("title",))),  # the open line is its own
        ("project:\n  title: Barn\nelements: [\n", Change(PROJECT, "title", "Mill")),
        ("project:\n  ? title # of the job\n", Change(PROJECT, "title", "Mill")),
        ("project:\n  title: Barn\n---\n", Change(PROJECT, "title", "Mill")),
        ("project:\n  title: Barn\n  client: !t T\n", Change(PROJECT, "client", "T")),
        pytest.param("#" * MOST_YAML_BYTES, Change(PROJECT, "title", "Barn"), id="as large as can be"),
    ],
)
def test_what_cannot_be_changed_safely_is_refused(text: str, change: Change) -> None:
    with pytest.raises(CannotChange, match="write it there by hand"):
        changed(text, [change])


# --- the file on disk ---------------------------------------------------------------------------------------


def test_a_new_file_starts_with_its_top_lines_once_an_answer_is_saved(tmp_path: Path) -> None:
    file = AnswersFile(tmp_path / "a.yaml", "# schema\n")
    assert file.read().data is None
    assert not file.path.exists()
    assert file.change([Change(PROJECT, "title", "Barn")]).data == {"project": {"title": "Barn"}}
    assert file.path.read_text() == "# schema\nproject:\n  title: Barn\n"


def test_what_an_editor_saved_meanwhile_is_kept(tmp_path: Path) -> None:
    file = AnswersFile(tmp_path / "a.yaml", "")
    file.change([Change(PROJECT, "title", "Barn")])
    file.path.write_text("project:\n  title: Mill  # renamed\n")
    file.change([Change(PROJECT, "client", "Trust")])
    assert file.path.read_text() == "project:\n  title: Mill  # renamed\n  client: Trust\n"


@pytest.mark.skipif(sys.platform == "win32", reason="forks")
def test_two_who_answer_at_once_lose_no_answer_of_either(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"

    def answering(who: str) -> None:
        for number in range(12):
            AnswersFile(path, "").change([Change(PROJECT, f"{who}{number}", "yes")])

    assert at_once([partial(answering, who) for who in "abc"]) == [True] * 3
    assert len(read_bytes(path.read_bytes(), "", typed=False).data["project"]) == 36
    assert [left.name for left in tmp_path.iterdir()] == ["a.yaml"]


@pytest.mark.skipif(sys.platform == "win32", reason="forks")
def test_one_who_is_killed_while_an_answer_is_saved_leaves_the_file_whole(tmp_path: Path) -> None:
    before, after, failing = "project:\n  title: Barn\n", "project:\n  title: Barn\n  client: Trust\n", 0
    while True:
        path = tmp_path / str(failing) / "a.yaml"
        path.parent.mkdir()
        path.write_text(before)
        if not killed_at(failing, partial(AnswersFile(path, "").change, [Change(PROJECT, "client", "Trust")])):
            break
        assert path.read_text() in (before, after)
        AnswersFile(path, "").change([Change(PROJECT, "client", "Trust")])
        assert path.read_text() == after
        assert [left.name for left in path.parent.iterdir()] == ["a.yaml"]
        failing += 1
    assert failing > 5


def test_answers_in_an_issue_and_those_that_are_read_only_are_left(tmp_path: Path) -> None:
    for name, words in (("issue.json", "which are never rewritten"), ("", "is read-only")):
        path = tmp_path / (name or "kept") / "a.yaml"
        path.parent.mkdir()
        path.write_text("project: {title: Barn}\n")
        if name:
            for file in (name, "record.json"):
                (path.parent / file).write_text("{}")
        else:
            path.chmod(0o444)
        with pytest.raises(CannotWrite, match=words):
            AnswersFile(path, "").change([Change(PROJECT, "client", "Trust")])
        assert path.read_text() == "project: {title: Barn}\n"


def test_a_byte_order_mark_and_line_ends_stay(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes("\ufeffproject:\r\n  title: Barn\r\n".encode())
    AnswersFile(path, "").change([Change(PROJECT, "client", "Trust")])
    assert path.read_bytes() == "\ufeffproject:\r\n  title: Barn\r\n  client: Trust\r\n".encode()


def test_permissions_stay_and_links_are_followed(tmp_path: Path) -> None:
    real = tmp_path / "real.yaml"
    real.write_text("old")
    real.chmod(0o640)
    link = tmp_path / "link.yaml"
    link.symlink_to(real)
    assert AnswersFile(link, "").put_back(b"old", b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_save_that_fails_leaves_the_old_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yaml"
    path.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotWrite, match="No space left"):
        AnswersFile(path, "").put_back(b"old", b"new")
    assert path.read_text() == "old"
    assert [left.name for left in tmp_path.iterdir()] == ["a.yaml"]


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match=r"make the folder .*nowhere first"):
        AnswersFile(tmp_path / "nowhere" / "a.yaml", "").put_back(b"", b"")


def test_a_folder_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="cannot be opened"):
        AnswersFile(tmp_path, "").read()


def test_a_file_without_end_is_refused_as_too_large_and_not_read_on() -> None:
    file = AnswersFile(Path("/dev/zero"), "")
    assert [problem.what for problem in file.read().problems] == ["is too large to be answers or clauses"]
    with pytest.raises(CannotChange):
        file.change([Change(PROJECT, "title", "Barn")])


# --- zones --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (
            "elements:\n- id: a\n  name: A\n  works:\n  - {work: render}\n  # the end\n- id: b\n",
            'elements:\n- id: a\n  name: A\n  zones:\n  - id: low\n    name: "Low, wet"\n    works:\n'
            "    - {work: render}\n  # the end\n- id: b\n",
        ),
        (
            "elements:\n- works:\n    - work: render\n\n      extent: >-\n        all\n        of it\n  id: a\n",
            'elements:\n- zones:\n  - id: low\n    name: "Low, wet"\n    works:\n      - work: render\n\n'
            "        extent: >-\n          all\n          of it\n  id: a\n",
        ),
        (
            "elements: [{id: a, works: [{work: render}], name: A}]\n",
            'elements: [{id: a, zones: [{id: low, name: "Low, wet", works: [{work: render}]}], name: A}]\n',
        ),
    ],
    ids=["block", "block with an open line", "flow"],
)
def test_works_become_those_of_a_first_zone_as_they_stand(before: str, after: str) -> None:
    for newline in ("\n", "\r\n"):
        found = changed(before.replace("\n", newline), [Zoned(("elements", 0), "low", "Low, wet")])
        assert found == after.replace("\n", newline)


@pytest.mark.parametrize(
    "text", ["elements:\n- id: a\n", "elements:\n- {id: a, works: [], zones: []}\n", "elements: a\n"]
)
def test_an_element_that_cannot_get_a_zone_is_refused(text: str) -> None:
    with pytest.raises(CannotChange):
        changed(text, [Zoned(("elements", 0), "low", "Low")])


# --- taking out ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("before", "place", "after"),
    [
        ("project:\n  a: 1\n  # why\n  b: 2  # so\n  c: 3\n", ("project", "b"), "project:\n  a: 1\n  # why\n  c: 3\n"),
        ("project:\n  a: 1\n  b: >-\n    two\n    lines\n", ("project", "b"), "project:\n  a: 1\n"),
        ("project: {a: 1, b: 2, c: 3}\n", ("project", "b"), "project: {a: 1, c: 3}\n"),
        ("project: {a: 1, b: 2}\n", ("project", "b"), "project: {a: 1}\n"),
        ("project: {a: 1, b: 2}\n", ("project", "a"), "project: {b: 2}\n"),
        (
            "elements:\n- id: a\n  works:\n  - work: x\n- id: b\n  works:\n  - work: y\n",
            ("elements", 0),
            "elements:\n- id: b\n  works:\n  - work: y\n",
        ),
        (
            "elements:\n- id: a\n  works:\n  - work: x\n  - id: low\n    work: y\n",
            ("elements", 0, "works", 1),
            "elements:\n- id: a\n  works:\n  - work: x\n",
        ),
        ("elements:\n- id: a\n  works:\n  - work: x\n", ("elements", 0, "works", 0), "elements:\n- id: a\n"),
        ("elements: [{id: a}, {id: b}]", ("elements", 1), "elements: [{id: a}]"),
        ("project: {a: 1}\nelements:\n- id: a\n", ("elements", 0), "project: {a: 1}\n"),
    ],
)
def test_an_answer_or_an_item_is_taken_out_and_the_rest_stays_as_it_stood(
    before: str, place: tuple[str | int, ...], after: str
) -> None:
    assert changed(before, [Dropped(place)]) == after


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("elements:\n- masonry: brick\n  id: a\n", ("elements", 0, "masonry")),  # it stands beside the dash
        ("project:\n  a: 1\n", ("project", "a")),  # nothing would be left to hold the mapping
        ("project:\n  a: 1\n", ("project", "b")),
        ("elements: words\n", ("elements", 0)),
    ],
)
def test_what_cannot_be_taken_out_without_disturbing_the_rest_is_refused(
    text: str, place: tuple[str | int, ...]
) -> None:
    with pytest.raises(CannotChange):
        changed(text, [Dropped(place)])
