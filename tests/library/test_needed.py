"""What the program asks of a library by name and does not find is a mistake in the library, never a traceback."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from answers_text import one_wall
from jobs import ROOT, shipped

from generator import pipeline
from generator.files.errors import InputInvalid
from generator.files.source import read_bytes
from generator.library.load import load
from generator.library.model import Library
from generator.library.needed import needing
from generator.papers.assemble import assemble
from generator.questionnaire.names import Names
from generator.values import replace


def without(library: Library, kind: str, key: str) -> Library:
    """A library without one of its entries."""
    rest = {name: entry for name, entry in getattr(library, kind).items() if name != key}
    short: dict[str, Any] = {kind: Names(rest) if kind == "names" else rest}
    return replace(library, **short)


@pytest.mark.parametrize(
    ("kind", "told", "key", "folder"),
    [
        ("tables", "table", "grain", "clauses/tables"),
        ("words", "word", "sheet-tally", "templates"),
        ("templates", "paper", "owner-page", "templates"),
        ("findings", "finding", "half-brick-depth", "clauses/findings"),
        ("materials", "material", "lime-putty", "clauses"),
        ("names", "name", "mix_ref", "clauses"),
    ],
)
def test_a_lack_is_told_with_the_folder_and_what_to_do(
    kind: str, told: str, key: str, folder: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    needed = needing(without(load(Path("clauses")), kind, key))
    with pytest.raises(InputInvalid) as caught:
        getattr(needed, kind)[key]
    (problem,) = caught.value.problems
    assert str(problem) == (
        f"{folder}: lacks the {told} '{key}', which the program asks for: "
        "write it, or take it over from the shipped library"
    )


@pytest.mark.parametrize(
    ("kind", "key"), [("tables", "curing"), ("words", "card-issue"), ("templates", "mix-schedule")]
)
def test_a_run_with_a_library_that_lacks_something_ends_in_its_mistake(kind: str, key: str) -> None:
    cut = needing(without(shipped(), kind, key))
    answers = pipeline.read(read_bytes(one_wall().encode(), "answers.yaml", typed=False), cut)
    with pytest.raises(InputInvalid, match=key):
        assemble(pipeline.settled(answers, cut))


def test_what_is_there_is_found_as_before() -> None:
    library = shipped()
    assert needing(library).tables == library.tables
    assert "no-such-word" not in needing(library).words
    assert needing(library).tables.get("no-such-table") is None
