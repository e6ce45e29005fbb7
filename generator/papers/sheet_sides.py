"""What stands beside the works of a wall's sheet: their dates in one table, and what was found of each."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Final

from generator.document.model import Block, Column, Inlines, Pairs, Row, Table, Value, plain_text
from generator.document.template import PaperPart, Shown
from generator.job.job import Job, words
from generator.papers.making import answered, last_coat
from generator.questionnaire.facts import ScopePath
from generator.values import month_day_short

StepsOf = Mapping[ScopePath, str]
"""The works of a sheet in the order in which they are done, each by the numbers of its steps."""

_MOST_ABREAST: Final = 3
_MOST_NAMED: Final = 2
_LABEL_SHARE: Final = 0.4


def work_dates(job: Job, part: PaperPart, by_steps: StepsOf) -> Iterator[Block]:
    """When each work is done: of one a list, of several a table with a column for each.

    Where all lies in one year its heading tells it for them all.
    """
    told = {path: _told(job, part, path, by_steps) for path in by_steps}
    dated = [path for path, found in told.items() if found]
    years = {day.year for path in dated for name in told[path] if (day := _day(job, path, name)) is not None}
    if len(by_steps) == 1 or len(years) > 1:
        for path in dated:
            heading = part.heading if len(by_steps) == 1 else _by_steps(job, part.heading, by_steps[path])
            yield Pairs(
                heading, tuple((words(shown.label), told[path][shown.shows]) for shown in _shown(part, told[path]))
            )
        return
    if dated:
        yield Pairs(" ".join((part.heading, *map(str, years))), ())
    for at in range(0, len(dated), _MOST_ABREAST):
        yield _abreast(job, part, {path: told[path] for path in dated[at : at + _MOST_ABREAST]}, by_steps)


def _told(job: Job, part: PaperPart, path: ScopePath, by_steps: StepsOf) -> dict[str, Inlines]:
    """What is told of a work and of its last coat, by name; what is of the whole wall, with the first of its works."""
    found = answered(job, part.rows, last_coat(job, path))
    is_first = path == next(iter(by_steps))
    return {shown.shows: value for shown, value in found if is_first or _is_of_works(job, shown.shows)}


def _is_of_works(job: Job, name: str) -> bool:
    return job.facts.names[name].scope != "element"


def _shown(part: PaperPart, *told: Mapping[str, Inlines]) -> Iterator[Shown]:
    """The rows of a part of which something is told."""
    return (shown for shown in part.rows if any(shown.shows in found for found in told))


def _day(job: Job, path: ScopePath, name: str) -> datetime.date | None:
    value = job.facts.get(last_coat(job, path), name)
    return value if isinstance(value, datetime.date) else None


def _abreast(job: Job, part: PaperPart, told: Mapping[ScopePath, Mapping[str, Inlines]], by_steps: StepsOf) -> Table:
    """The dates of works side by side, each column headed by the name of its work.

    Where its columns are too narrow for names, or two works have one, by the numbers of their steps.
    """
    share = (1 - _LABEL_SHARE) / len(told)
    names = [job.facts.scopes[path].title for path in told]
    is_named = len(told) <= _MOST_NAMED and len(set(names)) == len(names)
    heads = (
        Column(job.word("sheet-works-head" if is_named else "sheet-steps-head"), _LABEL_SHARE),
        *(Column(name if is_named else by_steps[path], share, "right") for path, name in zip(told, names, strict=True)),
    )
    rows = [
        Row((words(shown.label), *(_short(job, path, shown.shows, told[path]) for path in told)))
        for shown in _shown(part, *told.values())
    ]
    return Table(heads, tuple(rows), description=part.heading, small=True)


def _short(job: Job, path: ScopePath, name: str, told: Mapping[str, Inlines]) -> Inlines:
    """What is told of a name, a day without its year."""
    day = _day(job, path, name) if name in told else None
    short = (Value(name, last_coat(job, path), month_day_short(day, job.facts.date_form)),) if day else ()
    return short or told.get(name, ())


def work_facts(job: Job, part: PaperPart, by_steps: StepsOf) -> Iterator[Block]:
    """What was found of each work, and the access to the wall; by their steps where works differ in it."""
    rows: list[tuple[Inlines, Inlines]] = []
    told = {path: _told(job, part, path, by_steps) for path in by_steps}
    for shown in _shown(part, *told.values()):
        values = {path: found[shown.shows] for path, found in told.items() if shown.shows in found}
        alike = len({plain_text(value) for value in values.values()}) == 1
        for path, value in list(values.items())[: 1 if alike else None]:
            label = shown.label if alike else _by_steps(job, shown.label, by_steps[path])
            rows.append((words(label), value))
    if rows:
        yield Pairs(part.heading, tuple(rows))


def _by_steps(job: Job, label: str, steps: str) -> str:
    return job.word("sheet-of-steps", what=label, steps=steps)
