"""What stands beside the works of a wall's sheet: their dates in one table, and what was found of each."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from generator.document.model import Block, Column, Inlines, Pairs, Row, Table, Value, plain_text
from generator.document.template import PaperPart, Shown
from generator.job.job import Job, words
from generator.papers.making import answered, last_coat
from generator.questionnaire.scopes import ScopePath
from generator.values import capital, month_day_short

StepsOf = Mapping[ScopePath, str]
"""The works of a sheet in the order in which they are done, each by the numbers of its steps."""

_MOST_ABREAST: Final = 3
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
            heading = part.heading if len(by_steps) == 1 else _of_work(job, part.heading, path, by_steps)
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
    """The dates of works side by side, each column headed by its work in a word: more would narrow their labels."""
    share = (1 - _LABEL_SHARE) / len(told)
    names = {path: job.word(f"sheet-work-{job.facts.at_scope(path).text('work')}") for path in told}
    heads = (
        Column(job.word("sheet-works-head"), _LABEL_SHARE),
        *(Column(name, share, "right") for name in _told_apart(names, lambda path: f"{names[path]} {by_steps[path]}")),
    )
    rows = [
        Row((words(shown.label), *(_short(job, path, shown.shows, told[path]) for path in told)))
        for shown in _shown(part, *told.values())
    ]
    return Table(heads, tuple(rows), description=part.heading, small=True)


def _told_apart(names: Mapping[ScopePath, str], otherwise: Callable[[ScopePath], str]) -> Iterator[str]:
    """The names of works, those that two of them have told otherwise."""
    often = Counter(names.values())
    return (name if often[name] == 1 else otherwise(path) for path, name in names.items())


def work_labels(job: Job, by_steps: StepsOf) -> dict[ScopePath, str]:
    """What a line beside the works begins with for each of them: its name, or its steps where another has that name."""
    names = {path: capital(job.facts.scopes[path].title) for path in by_steps}
    apart = _told_apart(names, lambda path: job.word("sheet-steps", steps=by_steps[path]))
    return dict(zip(names, apart, strict=True))


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
            label = shown.label if alike else _of_work(job, shown.label, path, by_steps)
            rows.append((words(label), value))
    if rows:
        yield Pairs(part.heading, tuple(rows))


def _of_work(job: Job, label: str, path: ScopePath, by_steps: StepsOf) -> str:
    return job.word("sheet-of-work", what=label, work=work_labels(job, by_steps)[path])
