"""What the one mixing place makes on a day on which several works lay what is made fresh, by the dates."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import accumulate

from generator.library.findings import Raised
from generator.library.model import Library
from generator.measure.gauged import kit_for
from generator.measure.model import DayFacts, Measured, MixSheetFacts
from generator.programme.model import Programme
from generator.questionnaire.scopes import PROJECT
from generator.values import Struct, joined


class _Laid(Struct, frozen=True):
    """A mix laid on the days of a work: from when to when, both in, and how many batches it takes the mixer a day."""

    mix: str
    start: datetime.date
    finish: datetime.date
    batches_nr: int


def crowded(measured: Measured, programme: Programme, library: Library) -> Iterator[Raised]:
    """The first of the days on which works together take most mixers, where none of them takes so many alone."""
    fresh = [batch for batch in measured.batches if not batch.keeps]
    laid = list(_laid(fresh, programme))
    if not laid:
        return
    facts = programme.facts
    kit = kit_for(fresh[0].mix, facts, library)
    day, batches_nr = _fullest(laid, lambda batches: kit.mixers_nr(Fraction(batches)))
    there = [one for one in laid if one.start <= day <= one.finish]
    mixers = kit.mixers_nr(Fraction(batches_nr))
    if mixers > max(kit.mixers_nr(Fraction(one.batches_nr)) for one in there):
        mixes = joined(list(dict.fromkeys(one.mix for one in there)))
        counts = ("number", str(batches_nr)), ("most", str(kit.most_a_day)), ("mixers", str(mixers))
        fills = ("first", facts.say("start_date", day)), ("mixes", mixes), *counts
        yield Raised("mixers-short-together", PROJECT, fills, (), facts.at_scope(PROJECT).marks("mixer_l", "gangs"))


def _laid(fresh: list[MixSheetFacts], programme: Programme) -> Iterator[_Laid]:
    tasks = {task.key: task for task in programme.tasks()}
    for batch in fresh:
        for day in batch.made.days:
            task = tasks.get(_task_of(day))
            if task is not None:
                yield _Laid(batch.mix.ref, task.start, task.finish, math.ceil(day.a_day))


def _task_of(day: DayFacts) -> str:
    """The task of the programme in which the mortar of a day is laid."""
    return "/".join((*day.path[:2], day.task) if day.task else (*day.path, "lay"))


def _fullest(laid: list[_Laid], mixers_nr: Callable[[int], int]) -> tuple[datetime.date, int]:
    """The first day on which most mixers are at work, and its batches."""
    changes: dict[datetime.date, int] = {}
    for one in laid:
        ends = one.finish + datetime.timedelta(days=1)
        changes[one.start] = changes.get(one.start, 0) + one.batches_nr
        changes[ends] = changes.get(ends, 0) - one.batches_nr
    days = sorted(changes)
    sums = accumulate(changes[day] for day in days)
    return max(zip(days, sums, strict=True), key=lambda found: mixers_nr(found[1]))
