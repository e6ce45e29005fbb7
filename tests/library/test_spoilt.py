"""A spoilt library file is told with its place and what to do, or does no harm; it never ends in a traceback."""

from __future__ import annotations

import copy
import random
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from helpers import slow_but
from jobs import EXAMPLES
from plain_yaml import as_yaml, from_yaml

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.files.errors import InputInvalid, Problem
from generator.files.limits import MOST_YAML_BYTES
from generator.files.source import read_file
from generator.library.load import read_library
from generator.library.locate import shipped
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.record.record import record

SHIPPED = shipped("clauses", "library.yaml").parent
PAPERS = [f"templates/{name}.yaml" for name in ("specification", "mix-schedule", "owner-page", "words")]
KINDS = [
    "questions/30-work.yaml", "names.yaml", "recipes/hot-mix.yaml", "materials.yaml", "tables/curing.yaml",
    "tables/making.yaml", "tables/binder-by-wall.yaml", "findings/binder.yaml", "items/20-repointing.yaml",
    "operations/repointing.yaml", "parts/06-mortars.yaml", "sources.yaml", "hold-points.yaml",
]  # fmt: skip
FILES = [*(f"clauses/{name}" for name in KINDS), *PAPERS]
JUNK: list[Any] = [
    "", "-1", "0", "99999999999999999999", "nan", "true", "any", "{{ x }}", [], {}, [["a"]], {"a": "b"}, ["a", "b"],
]  # fmt: skip
BYTES = {
    "empty": lambda good: b"",
    "binary": lambda good: bytes(range(256)) * 8,
    "too large": lambda good: good + b"#" * MOST_YAML_BYTES,
    "anchored": lambda good: b"a: &b 1\n" + good,
    "tagged": lambda good: b"!!python/name:os.system\n" + good,
    "twice": lambda good: good + b"\n" + good,
}


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the shipped clauses and templates side by side, to be spoilt and mended."""
    folder = tmp_path_factory.mktemp("spoilt")
    for name in ("clauses", "templates"):
        shutil.copytree(SHIPPED / name, folder / name)
    return folder


def places(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    for step in list(node) if isinstance(node, dict) else range(len(node)) if isinstance(node, list) else ():
        yield (*path, step)
        yield from places(node[step], (*path, step))


def spoilt(data: Any, dice: random.Random) -> Any:
    """The data with one thing in it dropped, added to or made junk."""
    data = copy.deepcopy(data)
    *way, last = dice.choice(list(places(data)))
    node = data
    for step in way:
        node = node[step]
    if dice.random() < 0.25:
        del node[last]
    elif isinstance(node, dict) and dice.random() < 0.15:
        node["strange"] = "1"
    else:
        node[last] = copy.deepcopy(dice.choice(JUNK))
    return data


def outcome(library: Path) -> str:
    """`papers`, or `refused`; each mistake says where, what and what to do."""
    source = read_file(EXAMPLES[0], typed=False)
    problems: tuple[Problem, ...] = ()
    try:
        words = read_library(library / "clauses")
        job = pipeline.settled(pipeline.read(source, words), words)
        assert assemble(job)
        assert companions(job, list(COMPANIONS))
        assert record(job, "answers.yaml", source.raw, {})
    except InputInvalid as refused:
        problems = refused.problems
    assert all(problem.mark.file and problem.what and problem.to_do for problem in problems)
    return "refused" if problems else "papers"


@pytest.mark.parametrize("seed", slow_but(1, range(3)))
@pytest.mark.parametrize("name", FILES)
def test_a_spoilt_file_ends_in_papers_or_in_a_refusal(library: Path, name: str, seed: int) -> None:
    good = (SHIPPED / name).read_text(encoding="utf-8")
    dice = random.Random(f"{name}{seed}")
    try:
        # numbers and true must stay plain for the typed reader
        text = as_yaml(spoilt(from_yaml(good), dice))
        (library / name).write_text(plain(text), encoding="utf-8")
        assert outcome(library) in {"papers", "refused"}
    finally:
        (library / name).write_text(good, encoding="utf-8")


def plain(text: str) -> str:
    """YAML in which what looks like a number or a truth is not quoted."""
    return re.sub(r"'(-?[0-9]+(?:\.[0-9]+)?|true|false|nan)'", r"\1", text)


@pytest.mark.parametrize("file", ["clauses/recipes/hot-mix.yaml", "templates/owner-page.yaml"])
@pytest.mark.parametrize("spoil", BYTES.values(), ids=BYTES)
def test_a_file_that_is_no_plain_data_is_refused(library: Path, spoil: Callable[[bytes], bytes], file: str) -> None:
    path = library / file
    good = path.read_bytes()
    try:
        path.write_bytes(spoil(good))
        assert outcome(library) == "refused"
    finally:
        path.write_bytes(good)
