"""What papers say: those of an example as text, made once however many tests read it; the tables of any job."""

from __future__ import annotations

import functools
import re

from jobs import example

from generator.document.model import Table
from generator.document.outline import outline
from generator.job.job import Job
from generator.papers.assemble import Papers, assemble
from generator.papers.companions import companions
from generator.questionnaire.scopes import ScopePath


@functools.cache
def papers(name: str) -> Papers:
    return assemble(example(name))


@functools.cache
def specification(name: str) -> str:
    return outline(papers(name).specification)


@functools.cache
def companion(name: str, kind: str) -> str:
    (found,) = companions(example(name), [kind]).values()
    return outline(found)


def log(name: str) -> str:
    """The records that are kept on site."""
    return companion(name, "records")


def sheet_of(name: str, wall: ScopePath) -> str:
    """The sheet of a wall that has one of its own."""
    title = re.escape(example(name).facts.title(wall))
    (found,) = re.findall(rf"^# Sheet \d+: {title}\n(.*?)^# ", specification(name), re.M | re.S)
    assert isinstance(found, str)
    return found


def tables_of(found: Job, anchor: str) -> list[Table]:
    """The tables of a specification that have an anchor."""
    blocks = assemble(found).specification.blocks()
    return [block for block in blocks if isinstance(block, Table) and block.anchor == anchor]
