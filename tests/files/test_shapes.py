# ruff: noqa: E501 - messages stand on one line, as a user sees them
"""Shapes of library files: each mistake at its place, in plain words."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Literal

import pytest
from helpers import read, told

from generator.files.shapes import Number, Shape, Whole, like
from generator.files.shaping import shaped
from generator.values import field


class Inner(Shape, frozen=True):
    is_: Annotated[str, like(r"^[a-z0-9][a-z0-9.-]*$")] = field(name="is")
    says: str = ""


class Entry(Shape, frozen=True):
    id: Annotated[str, like(r"^[a-z][a-z0-9_]*$")]
    title: str
    level: Literal["", "note", "warning", "block"] = "note"
    share: Number | None = None
    strength: Whole = 0
    keep: bool = False
    sources: tuple[str, ...] = ()
    inner: Inner | None = None
    choices: tuple[Inner, ...] = ()
    values: dict[str, Number] = field(default_factory=dict)


GOOD = "id: one\ntitle: One\n"


def said(text: str) -> list[str]:
    """What is said of an entry, without the name of the file."""
    source = read(text, typed=True)
    assert source.problems == []
    assert shaped(Entry, source.data, source) is None
    return [line.removeprefix("answers.yaml").removeprefix(":") for line in told(source.problems)]


def test_a_good_entry_is_read_with_its_types() -> None:
    source = read(GOOD + "share: 0.50\nstrength: 3\nchoices: [{is: nhl-3.5}]\nsources: [a]\n", typed=True)
    entry = shaped(Entry, source.data, source)
    assert entry is not None
    assert source.problems == []
    assert (str(entry.share), entry.strength, entry.choices[0].is_, entry.sources) == (
        "0.50",
        3,
        "nhl-3.5",
        ("a",),
    )


def test_a_whole_number_serves_as_a_number() -> None:
    source = read(GOOD + "share: 2", typed=True)
    entry = shaped(Entry, source.data, source)
    assert entry is not None
    assert entry.share == Decimal(2)


@pytest.mark.parametrize(
    ("line", "problem"),
    [
        ("titel: One", "3:1: has an unknown key 'titel': did you mean 'title'?"),
        ("inner: {is: a, sasy: b}", "3:16: has an unknown key 'sasy': did you mean 'says'?"),
        ("choices: [{is: a}, {is: b, iss: c}]", "3:28: has an unknown key 'iss': did you mean 'is'?"),
        ("inner: {says: b}", "3:8: lacks 'is': add 'is: …'"),
        ("inner: {is: Big}", "3:13: 'inner.is' cannot be 'Big': write small letters, figures, dots and hyphens only"),
        ("inner: [a]", "3:8: 'inner' is a list, where a mapping is wanted: write 'key: value' on lines below it"),
        ("choices: {is: a}", "3:10: 'choices' is a mapping, where a list is wanted: write it as [a, b], or on lines that start with '-'"),
        ("choices: [a]", "3:11: 'choices' is 'a', where a mapping is wanted: write 'key: value' on lines below it"),
        ("sources: a", "3:10: 'sources' is 'a', where a list is wanted: write it as [a, b], or on lines that start with '-'"),
        ("sources: [1]", "3:11: 'sources' is the number 1, where a text is wanted: put it in quotes"),
        ("level: warnign", "3:8: 'level' cannot be 'warnign': did you mean 'warning'?"),
        ("level: 3", "3:8: 'level' cannot be the number 3: use one of: block, note, warning"),
        ("share: much", "3:8: 'share' is 'much', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("share: 1_000", "3:8: 'share' is '1_000', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("share: 1e400", "3:8: 'share' is '1e400', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("share: .nan", "3:8: 'share' is '.nan', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("share: true", "3:8: 'share' is true, where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("share: '12'", "3:8: 'share' is '12', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("strength: 1.5", "3:11: 'strength' is the number 1.5, where a whole number is wanted: write a whole number alone, such as 12"),
        ("keep: perhaps", "3:7: 'keep' is 'perhaps', where true or false is wanted: write true or false"),
        ("values: {a: b}", "3:13: 'values.a' is 'b', where a number is wanted: write a number alone, such as 12 or 0.5"),
        ("values: 3", "3:9: 'values' is the number 3, where a mapping is wanted: write 'key: value' on lines below it"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_at_its_place(line: str, problem: str) -> None:
    assert said(GOOD + line) == [problem]


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("title: One", ["1:1: lacks 'id': add 'id: …'"]),
        ("id: one\ntitle: 2026", ["2:8: 'title' is the number 2026, where a text is wanted: put it in quotes"]),
        ("id: one\ntitle: true", ["2:8: 'title' is true, where a text is wanted: put it in quotes"]),
        ("id: one\ntitle:", ["2:1: 'title' is blank, where a text is wanted: write it out, or take the key out"]),
        ("id: The One\ntitle: x", ["1:5: 'id' cannot be 'The One': write small letters, figures, underscores only, starting with a letter"]),
        ("- a", ["1:1: is a list, where a mapping is wanted: write 'key: value' on lines below it"]),
        ("words", ["1:1: is 'words', where a mapping is wanted: write 'key: value' on lines below it"]),
        ("", [" is blank, where a mapping is wanted: write it out, or take the key out"]),
    ],
)  # fmt: skip
def test_what_is_missing_or_of_another_kind(text: str, problems: list[str]) -> None:
    assert said(text) == problems


def test_every_mistake_of_an_entry_is_told() -> None:
    assert [problem.split(": ")[0] for problem in said("id: A\nlevel: x\nshare: y\nkeeep: true")] == [
        "1:1",
        "1:5",
        "2:8",
        "3:8",
        "4:1",
    ]


def test_the_place_of_an_entry_in_a_list_is_found() -> None:
    source = read("entries:\n- id: one\n  title: One\n- id: two\n  title: 2\n", typed=True)
    assert shaped(Entry, source.data["entries"][1], source, ("entries", 1)) is None
    assert (source.problems[0].mark.line, source.problems[0].mark.column) == (5, 10)


def test_an_entry_cannot_be_changed_after_reading() -> None:
    source = read(GOOD, typed=True)
    entry = shaped(Entry, source.data, source)
    assert entry is not None
    with pytest.raises(AttributeError, match="immutable"):
        entry.title = "Two"  # type: ignore[misc]
