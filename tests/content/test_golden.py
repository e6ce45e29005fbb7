"""The papers of the examples say what their golden files say: a change of words is seen, and committed on purpose."""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterator
from pathlib import Path

import pytest
from golden import FOLDER, Golden, golden
from jobs import EXAMPLES

SHOWN = 24


@functools.cache
def made(path: Path) -> Golden:
    return golden(path)


def kept(path: Path) -> Golden:
    folder = path.parent / FOLDER
    return {
        file.relative_to(folder).as_posix(): file.read_text(encoding="utf-8") for file in sorted(folder.rglob("*.txt"))
    }


def differences(was: Golden, now: Golden) -> Iterator[str]:
    """What differs, line by line, as one reads a difference; nothing where nothing does."""
    for name in sorted({*was, *now}):
        old, new = was.get(name, "").splitlines(), now.get(name, "").splitlines()
        yield from difflib.unified_diff(old, new, f"golden/{name}", f"now/{name}", n=0, lineterm="")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_every_paper_says_what_its_golden_file_says(path: Path) -> None:
    found = list(differences(kept(path), made(path)))
    more = [f"... and {len(found) - SHOWN} lines more"] if len(found) > SHOWN else []
    told = "\n".join(line[:300] for line in (*found[:SHOWN], *more))
    assert not found, f"papers changed; where that is meant: python tests/golden.py\n{told}"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_no_golden_file_holds_what_changes_from_run_to_run_or_with_the_layout_of_pages(path: Path) -> None:
    """Digests of files and of the library, and the empty lines of forms."""
    texts = list(made(path).values())
    assert all(line.strip(" |\N{NO-BREAK SPACE}") for text in texts for line in text.splitlines())
    assert not any("sha256" in text for text in texts)


def test_among_the_golden_papers_are_a_draft_and_an_addendum() -> None:
    found = {name: text for path in EXAMPLES for name, text in kept(path).items()}
    assert "DRAFT" in found["draft/specification.txt"]
    assert "Addendum no. 1" in found["issued-again/addendum.txt"]


@pytest.mark.parametrize(
    ("was", "now", "told"),
    [
        ({"a.txt": "one\ntwo\n"}, {"a.txt": "one\ntwo\n"}, []),
        ({"a.txt": "one\ntwo\n"}, {"a.txt": "one\nthree\n"}, ["-two", "+three"]),
        ({"a.txt": "one\n"}, {}, ["-one"]),
        ({}, {"a.txt": "one\n"}, ["+one"]),
    ],
)
def test_a_changed_line_a_lost_paper_and_a_new_one_are_told(was: Golden, now: Golden, told: list[str]) -> None:
    heads = ("---", "+++", "@@")
    assert [line for line in differences(was, now) if not line.startswith(heads)] == told
