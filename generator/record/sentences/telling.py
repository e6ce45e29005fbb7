"""An explanation in sentences: what `explain` found, in the words of its readers; the data behind it on request."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from generator.job.job import Job
from generator.record.explain import Explanation
from generator.record.sentences import papers, time, walls
from generator.record.sentences.parts import Line, Teller

_TELLERS: Final[Mapping[str, Teller]] = {**walls.TELLERS, **papers.TELLERS, **time.TELLERS}


def sentences(job: Job, found: Explanation) -> list[Line]:
    """What was found of a thing as paragraphs, each with its indent; nothing is decided or reckoned again."""
    return [*_TELLERS[next(iter(found))](job, found), (job.word("explain-data"), 0)]
