"""Spoilt answers end in papers, a draft or a refusal with what to do; never in a traceback."""

from __future__ import annotations

import copy
import io
import os
import random
from pathlib import Path
from typing import Any, Final

import pytest
from helpers import slow_but
from jobs import ROOT, job, shipped
from plain_yaml import as_yaml, from_yaml

from generator.asking.terminal.console import Console
from generator.asking.terminal.session import Session
from generator.document.outline import outline
from generator.files.errors import InputInvalid, Problem
from generator.papers.assemble import assemble
from generator.record.record import dumped, record

# More of them on demand: MUTATIONS=2000 python -m pytest -m '' tests/test_mutations.py
MUTATIONS: Final = int(os.environ.get("MUTATIONS", "200"))
USUAL: Final = 40
BASES = [
    ROOT / "examples" / "garden-front" / "answers.yaml",
    ROOT / "examples" / "winter-plaster" / "answers.yaml",
    ROOT / "tests" / "cases" / "c13.yaml",
    ROOT / "tests" / "cases" / "c23.yaml",
]
JUNK: list[Any] = [
    "", "not known", "0", "-1", "1e9", "99999999999", "yes", "[]", "2027-02-30", "cement", "8 - 2", "x" * 6000, "25 mm",
    None, [], {}, ["a", "b"], {"a": "b"}, "{{ title }}", "  ", "0.0000001", "nan", "NHL 5",
    [[]], "laths", "earth", "indoors",
]  # fmt: skip


def spoil(node: Any, dice: random.Random) -> None:
    """One change somewhere below a mapping or list: an answer dropped, doubled, swapped or made junk."""
    places = list(node) if isinstance(node, dict) else list(range(len(node)))
    if not places:
        return
    place = dice.choice(places)
    if isinstance(node[place], dict | list) and dice.random() < 0.75:
        spoil(node[place], dice)
    elif dice.random() < 0.35:
        del node[place]
    elif isinstance(node, dict) and dice.random() < 0.2:
        node[str(place) + dice.choice(["_mm", "x", " "])] = node.pop(place)
    elif dice.random() < 0.2:
        node[place] = copy.deepcopy(node[dice.choice(places)])
    else:
        node[place] = copy.deepcopy(dice.choice(JUNK))


def outcome(text: str) -> str:
    """`tender`, `draft`, or `refused`; every line of a refusal says where, what, and what to do."""
    try:
        found = job(text)
    except InputInvalid as refused:
        for problem in refused.problems:
            assert problem.mark.line
            assert problem.what
            assert problem.to_do
        return "refused"
    assert outline(assemble(found).specification)
    assert dumped(record(found, "answers.yaml", b"", {}))
    return found.status


@pytest.mark.parametrize("seed", slow_but(USUAL, range(MUTATIONS)))
def test_a_spoilt_answers_file_never_ends_in_a_traceback(seed: int) -> None:
    dice = random.Random(seed)
    answers = from_yaml(dice.choice(BASES).read_text(encoding="utf-8"))
    for _ in range(dice.randint(1, 6)):
        spoil(answers, dice)
    assert outcome(as_yaml(answers)) in {"tender", "draft", "refused"}


def refused(path: Path, lines: bytes) -> tuple[Problem, ...]:
    """What a sitting refuses the file for; nothing where it runs."""
    try:
        Session(path, shipped(), Console(io.BytesIO(lines), io.StringIO())).run()
    except InputInvalid as error:
        return error.problems
    return ()


TYPED = [
    "", "yes", "no", "none", "later", "back", "/all", "/clear", "1", "2", "3", "work", "zone", "part", "copy", "drop",
    "brick", "10", "8 - 12", "1 March 2027", "not known", "Wall", "repoint", "?", "5.5",
]  # fmt: skip


@pytest.mark.parametrize("seed", slow_but(USUAL // 5, range(0, MUTATIONS, 5)))
def test_a_sitting_over_a_spoilt_file_ends_without_a_traceback_and_leaves_a_file_that_can_be_gone_on_with(
    seed: int, tmp_path: Path
) -> None:
    dice, path = random.Random(seed), tmp_path / "answers.yaml"
    answers = from_yaml(dice.choice(BASES).read_text(encoding="utf-8"))
    for _ in range(dice.randint(1, 3)):
        spoil(answers, dice)
    path.write_text(as_yaml(answers), encoding="utf-8")
    lines = "".join(f"{dice.choice(TYPED)}\n" for _ in range(60)).encode()
    problems = refused(path, lines)
    assert all(problem.what and problem.to_do for problem in problems)
    assert problems or Session(path, shipped(), Console(io.BytesIO(b""), io.StringIO())).facts.scopes
