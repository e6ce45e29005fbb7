"""Runs the way in process, for tests: answers as text or file, to the job and all that the papers say."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from plain_yaml import as_yaml, from_yaml

from generator import pipeline
from generator.document.files import COMPANIONS
from generator.document.outline import outline
from generator.document.template import PaperPart
from generator.files.source import read_bytes
from generator.job.job import Job
from generator.library.load import read_library
from generator.library.model import Library
from generator.papers.assemble import assemble
from generator.papers.companions import companions
from generator.questionnaire.customary import UNITS
from generator.record.revisions.telling import Telling

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = sorted((ROOT / "examples").glob("*/answers.yaml"))
PICTURES = ROOT / "examples" / "garden-front"
"""Where the photographs lie that answers of examples name."""


@functools.cache
def shipped() -> Library:
    """The shipped library, read once."""
    return read_library(ROOT / "clauses")


@functools.cache
def example(name: str) -> Job:
    """The job of an example, settled once however many tests read it."""
    return job((ROOT / "examples" / name / "answers.yaml").read_text(encoding="utf-8"))


AMERICAN: Final = {
    "units": UNITS, "paper": "letter", "language": "en-us", "date_form": "month-day-year", "currency": "usd",
}  # fmt: skip
"""The form of papers for the United States."""


def americanised(text: str) -> str:
    """An answers text with its papers in the form of the United States."""
    data: dict[str, Any] = from_yaml(text)
    data["project"] |= AMERICAN
    return as_yaml(data)


def american(name: str) -> Job:
    """An example as somebody in the United States would have it."""
    return job(americanised((ROOT / "examples" / name / "answers.yaml").read_text(encoding="utf-8")))


@functools.lru_cache(maxsize=64)
def job(text: str, label: str = "answers.yaml", folder: Path = PICTURES) -> Job:
    """The job of an answers text; one that several tests in a row ask for is settled once."""
    library = shipped()
    answers = pipeline.read(read_bytes(text.encode(), label, typed=False), library)
    return pipeline.settled(answers, library, folder=folder)


def after(last: Job, text: str) -> Job:
    """The job of an answers text issued after another, as revision 1."""
    library = shipped()
    source = read_bytes(text.encode(), "answers.yaml", typed=False)
    return pipeline.settled(pipeline.read(source, library), library, last.numbers, "1")


def part(found: Job, name: str, paper: str = "specification") -> PaperPart:
    """A part of a paper, as the template of the job's library says."""
    return found.paper(paper).part(name)


def said(found: Job) -> Iterator[str]:
    """All that is told of a job, what is told soonest first: findings, reasons, papers; not the answers themselves."""
    yield repr((found.findings, found.decisions.reasons, found.decisions.considered, found.measured.materials))
    papers = assemble(found)
    yield repr(papers.book) + repr(papers.sheet)
    yield outline(papers.specification)
    for paper in companions(found, list(COMPANIONS)).values():
        yield outline(paper)


def telling() -> Telling:
    """How the shipped library tells changes."""
    library = shipped()
    labels = {name: library.names[name].label for name in library.names}
    return Telling(library.words, labels, {key: material.short for key, material in library.materials.items()})
