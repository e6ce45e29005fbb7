"""What marks on a photograph come to, as its page tells it: by the reckoning of the papers, never by another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from generator.asking.survey.decided import Mark, mark_of
from generator.job.filling import Filling
from generator.job.findings import worded
from generator.job.job import Job
from generator.library.findings import Finding, Raised
from generator.measure.photographs.against import against_work
from generator.measure.photographs.model import Surveyed
from generator.measure.photographs.reckoning import LetterFigure, PhotographFigures, WorkArea, sum_is_surer
from generator.measure.photographs.told import letters_told
from generator.measure.quantities import answered_area, from_photographs
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, spoken

_OFFERED: Final = "photograph-area-offered"
"""What the row of the work with its button tells better."""


@dataclass(frozen=True, slots=True)
class AreaRow:
    """The areas under one letter: their figure and its range, spelt; "" where there is none."""

    letter: str
    work: str
    marks: tuple[Mark, ...]
    area: str
    range_: str
    estimate: bool
    counted: bool


@dataclass(frozen=True, slots=True)
class WorkRow:
    """A work by all photographs together: its figure, what was answered, whether it is taken, and what is told of it.

    `sums` are the letters that it is the sum of, where that is surer than they are.
    """

    path: ScopePath
    title: str
    area: str
    range_: str
    answered: str
    taken: bool
    offered: bool
    sums: str
    told: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class MarkedRows:
    """All that marks on one photograph come to."""

    areas: tuple[AreaRow, ...] = ()
    works: tuple[WorkRow, ...] = ()
    told: tuple[Finding, ...] = ()


def rows(job: Job, surveyed: Surveyed, key: str) -> MarkedRows:
    """What a photograph gives by a survey, which may be of marks that are not saved; the job is the one saved."""
    one = next((one for one in surveyed.photographs if one.id == key), None)
    if one is None:
        return MarkedRows()
    facts, filling = surveyed.facts, Filling(surveyed.facts, job.library)
    here = [raised for raised in surveyed.raised if dict(raised.fills).get("photograph") == key]
    works = [work for work in surveyed.works if work.work in one.picture.asked.works]
    return MarkedRows(
        tuple(_area(job, figure) for figure in one.letters),
        tuple(_work(job, facts, filling, work, _of(here, work.work), one) for work in works),
        tuple(_worded(_of(here, one.picture.asked.element), filling)),
    )


def _of(raised: Iterable[Raised], path: ScopePath) -> list[Raised]:
    return [one for one in raised if one.scope == path]


def _worded(raised: Iterable[Raised], filling: Filling) -> Iterator[Finding]:
    yield from dict.fromkeys(worded(one, filling) for one in raised)


def _area(job: Job, figure: LetterFigure) -> AreaRow:
    marks = tuple(dict.fromkeys(mark_of(mix) for mix in job.mixes_of(figure.work)))
    title = job.facts.scopes[figure.work].title
    return AreaRow(figure.letter, title, marks, *_spelt(figure.spread), figure.is_estimate, figure.counted)


def _work(
    job: Job, facts: Facts, filling: Filling, work: WorkArea, told: list[Raised], one: PhotographFigures
) -> WorkRow:
    here = facts.at_scope(work.work)
    answered = answered_area(here)
    asked = job.library.questionnaire
    letters = [area.letter for area in one.picture.asked.of_work(work.work)]
    return WorkRow(
        work.work,
        job.facts.scopes[work.work].title,
        *_spelt(work.spread),
        "" if answered is None else job.facts.say("marked_area_m2", answered),
        from_photographs(here),
        work.spread is not None and asked.applies(facts, work.work, "treated_area_from") is not False,
        letters_told(letters) if len(work.on) == 1 and sum_is_surer(one, work.work) else "",
        tuple(_worded([*told, *(held for held in against_work(here) if held.code != _OFFERED)], filling)),
    )


def _spelt(spread: Range[Decimal] | None) -> tuple[str, str]:
    return ("", "") if spread is None else (spoken(spread.likely, "m²"), spoken(spread, "m²"))
