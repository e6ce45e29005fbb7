"""On how many days the lime of a work is damped or covered, panels and fillings too: a line of its log for each."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Final

from generator.job.job import Job
from generator.questionnaire.facts import View
from generator.questionnaire.scopes import ScopePath

_DAY: Final = datetime.timedelta(days=1)
Span = tuple[datetime.date | None, int]
"""The day from which something is kept, where it is known, and for how many days."""


def days_kept(job: Job, path: ScopePath) -> int:
    """The days on which anything of a work is kept, each once; what has no date yet is counted by itself."""
    spans = [*_spans(job, path)]
    dated = {first + number * _DAY for first, days in spans if first is not None for number in range(days)}
    return len(dated) + sum(days for first, days in spans if first is None)


def _spans(job: Job, path: ScopePath) -> Iterator[Span]:
    work = job.facts.at_scope(path)
    coats = [coat for coat in work.inside("coat") if coat.number("kept_damp_days")]
    yield from _of_panel(work, coats)
    yield from map(_of_coat, coats)
    yield from _of_fillings(job, work, coats)


def _of_fillings(job: Job, work: View, coats: list[View]) -> Iterator[Span]:
    """What is laid before the first coat, until that; copings until their covers go; else fillings."""
    first, last, lifted = map(work.day, ("lime_start_date", "lime_finish_date", "copings_covered_date"))
    coated = coats[0].day("placing_start_date") if coats else None
    if first is None or last is None:
        return
    if coated is not None:
        longest = max(_whole(coat, "kept_damp_days") for coat in coats)
        yield first, min((coated - first).days, longest)
    elif lifted is not None:
        yield first, (lifted - first).days + 1
    else:
        yield first, (last - first).days + 1 + int(job.library.number("filling_damp_days") or 0)


def _of_panel(work: View, coats: list[View]) -> Iterator[Span]:
    of_coats = [(coat.day("panel_coat_date"), _whole(coat, "panel_coat_damp_days")) for coat in coats]
    of_one = (work.day("panel_begun_date") or work.day("panel_made_date"), _whole(work, "panel_damp_days"))
    yield from of_coats if len(coats) > 1 else [of_one]


def _of_coat(coat: View) -> Span:
    """From the first day on which a coat is laid until it is neither damped nor covered any more."""
    first, laid = coat.day("placing_start_date"), coat.day("placing_end_date")
    days = max(_whole(coat, "kept_damp_days"), _whole(coat, "kept_covered_days"))
    return first, days if first is None or laid is None else (laid - first).days + 1 + days


def _whole(view: View, name: str) -> int:
    return int(view.likely(name) or 0)
