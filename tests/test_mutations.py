"""Spoilt answers end in papers, a draft or a refusal with what to do; never in a traceback."""

from __future__ import annotations

import copy
import random
from typing import Any

import pytest
from jobs import ROOT, job
from plain_yaml import as_yaml, from_yaml

from generator.document.assemble import assemble
from generator.document.outline import outline
from generator.errors import InputInvalid
from generator.record import dumped, record

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


@pytest.mark.parametrize("seed", range(200))
def test_a_spoilt_answers_file_never_ends_in_a_traceback(seed: int) -> None:
    dice = random.Random(seed)
    answers = from_yaml(dice.choice(BASES).read_text(encoding="utf-8"))
    for _ in range(dice.randint(1, 6)):
        spoil(answers, dice)
    assert outcome(as_yaml(answers)) in {"tender", "draft", "refused"}
