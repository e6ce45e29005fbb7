"""The dates of the programme on the papers: in words, wall by wall, coat by coat, and what is ordered by when."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from generator.document.model import Block, Inline, Inlines, Paragraph, Row, Text, Value
from generator.document.template import PaperPart
from generator.drawing.measures import signed
from generator.job.job import Job, grouped, words
from generator.measure.outputs import BEFORE_LAYING, TREATED
from generator.papers.alike import sheet_of
from generator.papers.drawn import figure_ref
from generator.papers.figures import PROGRAMME, is_charted, season_figure
from generator.papers.making import Makers, last_coat, made, place_told, row
from generator.programme.model import OrderBy, Task, Wall, Why
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import MonthDay, Range, replace


def programme_tables(job: Job, part: PaperPart) -> Iterator[Block]:
    """When the works end, the dates of each wall and coat, and what to order by when."""
    yield from made(job, part.parts, _PROGRAMME)


def _reckoned(job: Job, part: PaperPart) -> Iterator[Block]:
    """Forward from the start: when the works end, likely, and between which days."""
    end = job.programme.end
    if end is None:
        return
    names = {"start": "start_date", "end": "programme_end_date", "early": "programme_early_end_date"}
    told = {place: job.facts.spoken(PROJECT, name) for place, name in names.items()}
    told["slowest"], told["waits"], told["mixing"] = _slowest(job), _longer_waits(job), _set_up(job)
    told["gangs"] = ", ".join(
        job.word("gangs-of", count=str(gang.gangs_nr), trade=job.facts.say("trade", gang.trade))
        for gang in job.programme.gangs
    )
    *before, last = filter(None, map(str.strip, part.filled(**told).text.split("\n\n")))
    yield from (Paragraph(words(paragraph)) for paragraph in before)
    yield Paragraph((Text(last), *_pictured(job)))


def _slowest(job: Job) -> str:
    """When the works end with the slowest outputs, and that lime outside then waits for its next season, if it does."""
    runs = job.programme.runs
    key = "slowest-stops" if runs is not None and runs.stopped.first else "slowest"
    return job.word(key, late=job.facts.spoken(PROJECT, "programme_late_end_date"))


def _set_up(job: Job) -> str:
    """On which day the mixing place is set up; nothing where no mortar is made."""
    day = job.facts.spoken(PROJECT, "mixing_set_up_date")
    return job.word("mixing-set-up", day=day) if day else ""


def _longer_waits(job: Job) -> str:
    """The waits that are longer with the slowest, in days and in working days; nothing where none is."""
    told = (
        *_longer(job, "longer-waits-days", ("wait", "cover")),
        *_longer(job, "longer-waits-worked", ("hold",)),
    )
    return job.word("longer-waits", waits="; ".join(told)) if told else ""


def _longer(job: Job, word: str, kinds: Sequence[str]) -> Iterator[str]:
    """The waits of such kinds that are longer with the slowest by more than a few days, by those days."""
    waits: dict[tuple[float, float], dict[str, list[Task]]] = {}
    least = float(job.library.number("longer_wait_days") or 0)
    for task in job.programme.tasks():
        longest, likely = task.why.days.high, _likely_days(job, task)
        if task.kind in kinds and longest - likely >= max(least, _DUST):
            waits.setdefault((longest, likely), {}).setdefault(task.label, []).append(task)
    again = {label for label, nr in Counter(label for labels in waits.values() for label in labels).items() if nr > 1}
    told = (
        job.word(
            "longer-wait",
            waits=", ".join(
                _of_mixes(job, label, tasks) if label in again else label for label, tasks in labels.items()
            ),
            longest=f"{longest:g}",
            likely=f"{likely:g}",
        )
        for (longest, likely), labels in sorted(waits.items())
    )
    if waits:
        yield job.word(word, waits="; ".join(told))


def _of_mixes(job: Job, label: str, tasks: Sequence[Task]) -> str:
    """A wait that has other days elsewhere, with the mixes of these."""
    mixes = sorted(
        {job.facts.at_scope(task.path).text("mix_used") for task in tasks} - {""}, key=lambda mix: (len(mix), mix)
    )
    return job.word("longer-wait-of", wait=label, mixes=signed(", ".join(mixes))) if mixes else label


def _likely_days(job: Job, task: Task) -> float:
    """How long a wait is likely to be, as clauses and sheet tell it.

    A cover is never less than its damp days, nor is the wait of a coat for the next.
    """
    here, likely = job.facts.at_scope(task.path), task.why.days.likely
    told = None
    if task.kind == "cover":
        told = here.real("kept_covered_days")
    elif task.kind == "wait" and here.real("wait_days") == likely:
        told = here.real("next_coat_days")
    return likely if told is None else told


def _pictured(job: Job) -> tuple[Inline, ...]:
    """Where its picture stands, if it has one."""
    if PROGRAMME not in job.figures:
        return ()
    return Text(" "), *job.told("programme-pictured", figure=figure_ref(job, PROGRAMME))


def _picture(job: Job, part: PaperPart) -> Iterator[Block]:
    if is_charted(job):
        from generator.papers.programme_figure import programme_figures

        yield from programme_figures(job, part)


def _walls(job: Job, part: PaperPart) -> Iterator[Block]:
    """The dates of walls that share a sheet; those of all others stand on their own."""
    rows = [_wall_row(job, part, wall) for wall in job.programme.walls if sheet_of(job, wall.path).is_shared]
    if rows:
        yield part.table(rows, "table:walls")


def _wall_row(job: Job, part: PaperPart, wall: Wall) -> Row:
    first = _day(job, wall.path, "lime_start_date", wall.first_lime)
    last = _day(job, wall.path, "lime_finish_date", wall.last_lime)
    own: dict[str, Inlines] = {
        "where": place_told(job, wall.path),
        "first-lime": first,
        "last-lime": last,
    }
    return row(job, part, wall.path, own, job.word("nothing"))


def _day(job: Job, path: ScopePath, name: str, day: datetime.date | None) -> Inlines:
    return words(job.word("nothing")) if day is None else (Value(name, path, job.facts.say(name, day)),)


def _curing(job: Job, part: PaperPart) -> Iterator[Block]:
    """The dates of works on walls that share a sheet, or that no picture shows; those of all others stand on theirs."""
    drawn = PROGRAMME in job.figures
    paths = [scope.path for scope in job.facts.at("work") if not drawn or sheet_of(job, scope.path[:1]).is_shared]
    rows = [_curing_row(job, part, path) for path in paths if _is_timed(job, part, path)]
    if rows:
        yield part.table(rows, "table:season")


def _is_timed(job: Job, part: PaperPart, path: ScopePath) -> bool:
    """Whether a work has any of the values shown: all else would be a row of nothing."""
    coat = last_coat(job, path)
    return any(job.facts.spoken(coat, column.shows) for column in part.columns if column.shows != "where")


def _curing_row(job: Job, part: PaperPart, path: ScopePath) -> Row:
    own: dict[str, Inlines] = {"where": place_told(job, path)}
    if covered := job.facts.spoken(path, _COPED):
        told = (Value(_COPED, path, covered),)
        own |= {"damp_until_date": told, "cover_until_date": told}
    return row(job, part, last_coat(job, path), own, job.word("nothing"))


def _gangs(job: Job, part: PaperPart) -> Iterator[Block]:
    """What the days are reckoned with: the output of each operation, and how many people a gang has for it.

    Where all gangs are alike in that, the caption tells it.
    """
    timed = [task for task in job.programme.tasks() if task.why.output is not None and task.kind in ("work", "access")]
    together = grouped((task for task in timed if _is_shared(job, task)), lambda task: task.path[:2])
    places: dict[tuple[str, ...], list[ScopePath]] = {}
    for task in timed:
        alike = together[task.path[:2]] if _is_shared(job, task) else [task]
        operation = [_paced(job, task)] if task is alike[0] else []
        for told in (*operation, *_besides(job, task)):
            places.setdefault(told, []).append(task.path[:2])
    people = {told[-1] for told in places}
    if len(people) == 1:
        caption = job.word("gangs-alike", outputs=part.caption, people=people.pop())
        part = replace(part.without_columns(("people",)), caption=caption)
    paced: dict[tuple[str, ...], list[str]] = {}
    for told, works in places.items():
        paces = [on for it, on in places.items() if it[0] == told[0]]
        lead = _at_least(job, _led(job, told[0], paces, works), told[1])
        # one of some walls, or of least days, has a row of its own
        alone = lead if lead != told[0] or ":" in lead else ""
        paced.setdefault((alone, *told[2:]), []).append(lead)
    rows = [
        row(job, part, PROJECT, dict(zip(_PACED, map(words, ("; ".join(leads), *told[1:])), strict=True)))
        for told, leads in paced.items()
    ]
    if rows:
        yield part.table(rows, "table:gangs")


def _led(job: Job, label: str, paces: Sequence[Sequence[ScopePath]], here: Sequence[ScopePath]) -> str:
    """An operation, with its walls where it goes at another pace on others, and their works where a wall has both."""
    if len(paces) == 1:
        return label
    paced = Counter(wall for works in paces for wall in {path[:1] for path in works})
    named = (job.filling.place(path) if paced[path[:1]] > 1 else job.facts.title(path[:1]) for path in here)
    return f"{label}: {'; '.join(dict.fromkeys(named))}"


def _at_least(job: Job, operation: str, days: str) -> str:
    """An operation, with the days that it takes however little of it there is, where it has such."""
    return job.word("paced-least", operation=operation, days=days) if days else operation


def _is_shared(job: Job, task: Task) -> bool:
    """Whether an output was answered for this operation and the other of its work together: of joints, not of coats."""
    return task.why.answered and job.facts.at_scope(task.path).text("work") in BEFORE_LAYING


def _paced(job: Job, task: Task) -> tuple[str, ...]:
    """An operation, its least days, its likely output in a day, the range, and the people of its gang on a wall.

    Operations of a work for which one output was answered are told as one.
    """
    work = job.facts.at_scope(task.path).text("work")
    answered = job.facts.at_scope(task.path).number("output_m2_per_day") if task.why.answered else None
    if answered is None:
        least = task.why.least_days
        days = job.facts.say("wait_days", Decimal(least)) if least > 1 else ""
        return task.label, days, *_tabled(job, task, task.why)
    label = job.word(f"paced-together-{work}") if work in BEFORE_LAYING else task.label
    output = job.word("paced-answered", output=job.facts.say(TREATED, answered))
    return label, "", output, job.word("nothing"), str(task.why.people_nr)


def _besides(job: Job, task: Task) -> Iterator[tuple[str, ...]]:
    """What is counted in the days of an operation besides it, each with its own output."""
    for part in task.why.joined:
        if part.quantity != task.why.quantity and part.output is not None:
            label = job.facts.names[part.quantity].label
            yield job.word("paced-besides", quantity=label[:1].lower() + label[1:]), "", *_tabled(job, task, part)


def _tabled(job: Job, task: Task, why: Why) -> tuple[str, str, str]:
    """The likely output of one person in a day, its range, and who does it."""
    assert why.output is not None
    likely, low, high = (
        Decimal(str(each)).normalize() for each in (why.output.likely, why.output.low, why.output.high)
    )
    spread = job.facts.say(why.quantity, Range(low, likely, high))
    return job.facts.say(why.quantity, likely), spread, str(task.why.people_nr)


def _orders(job: Job, part: PaperPart) -> Iterator[Block]:
    """What is ordered by when; where all days lie in one year, the caption tells it for them all."""
    orders = job.programme.orders
    years = {day.year for order in orders for day in (order.first_use, order.by)}
    if len(years) == 1:
        part = replace(part, caption=job.word("of-one-year", what=part.caption, year=str(*years)))
    if orders:
        yield part.table((_order_row(job, part, order, is_dated=len(years) > 1) for order in orders), "table:orders")


def _order_row(job: Job, part: PaperPart, order: OrderBy, *, is_dated: bool) -> Row:
    weeks = job.facts.say("offer_open_weeks", order.weeks)
    used, by = (
        job.facts.say("issue_date", day) if is_dated else job.facts.say("early_frost", MonthDay.of(day))
        for day in (order.first_use, order.by)
    )
    own = {"thing": words(order.what), "weeks": words(weeks), "first-use": words(used), "by": words(by)}
    return row(job, part, PROJECT, own)


_DUST: Final = 1e-9
_COPED: Final = "copings_covered_date"
_PACED: Final = ("operation", "likely", "spread", "people")
_PROGRAMME: Final[Makers] = {
    "reckoned": _reckoned, "programme-figure": _picture, "walls": _walls, "curing": _curing,
    "season-figure": season_figure, "orders": _orders, "gangs": _gangs,
}  # fmt: skip
