"""The specifier's own estimate: a job's lines at rates from a file, as a range, with hours; never in tender papers."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from generator.files.errors import shown
from generator.files.source import Source, require
from generator.job.job import Job
from generator.library.tables import TableRow, fits
from generator.lime.labour import labour_hours
from generator.measure.model import Item
from generator.questionnaire.facts import View
from generator.questionnaire.reading import read_range
from generator.values import Range, Struct, plain, rounded, total

HIGHEST_RATE: Final = 10_000_000


class Hours(Struct, frozen=True):
    """The hours of one person for the tasks of a work, and how often plain work's they are taken to be."""

    place: str
    tasks: tuple[str, ...]
    times: Range[float]
    spent: Range[float]


class Estimate(Struct, frozen=True):
    """Amounts by line, low and high; lines without a rate; hours by work, where outputs are published."""

    lines: tuple[tuple[Item, Range[Decimal]], ...]
    without_rate: tuple[Item, ...]
    hours: tuple[Hours, ...]

    @property
    def total(self) -> Range[Decimal]:
        """The sum of the lines that have a rate and count in the total."""
        counted = (amount for item, amount in self.lines if item.kind not in ("rate only", "optional"))
        return total(counted, Decimal(0))


def estimate(job: Job, rates: dict[str, Range[Decimal]]) -> Estimate:
    """The job's lines at the rates given by rule, each line's amount to the penny."""
    lines: list[tuple[Item, Range[Decimal]]] = []
    without: list[Item] = []
    for item in job.measured.items():
        if item.amount is not None:
            lines.append((item, Range(item.amount, item.amount, item.amount)))
        elif item.quantity is not None and item.entry.id in rates:
            lines.append((item, rates[item.entry.id].times(item.quantity).each(_to_the_penny)))
        elif item.kind != "rate only":
            without.append(item)
    return Estimate(tuple(lines), tuple(without), tuple(_hours(job)))


def _to_the_penny(amount: Decimal) -> Decimal:
    return rounded(amount, 2)


def _hours(job: Job) -> list[Hours]:
    """Hours by work: published outputs on plain work, times the spread of conservation work."""
    found: list[Hours] = []
    for work in job.facts.views("work"):
        for row in job.library.tables["labour"].rows:
            quantity = work.real(row.text("quantity")) if _holds(row, work) else None
            if quantity:
                found.append(_hours_of(row, job.filling.place(work.path), quantity))
    return found


def _holds(row: TableRow, work: View) -> bool:
    """Whether a row is of a work: laths and their plaster have a row each."""
    return all(fits(cell, work.text(name)) for name, cell in row.keys.items())


def _hours_of(row: TableRow, place: str, quantity: float) -> Hours:
    tasks, times = row.texts("tasks"), row.spread("times")
    plain_work = total((labour_hours(task, quantity) for task in tasks), 0.0)
    spent = Range(plain_work.low * times.low, plain_work.likely * times.likely, plain_work.high * times.high)
    return Hours(place, tasks, times, spent)


def read_rates(source: Source, job: Job) -> dict[str, Range[Decimal]]:
    """The rates of a file read untyped, by item rule; a blank one is none. Raises `InputInvalid` with every mistake."""
    whole = source.data if isinstance(source.data, dict) else {}
    data = whole.get("rates")
    if not isinstance(data, dict) and not source.broken:
        to_do = "write 'rates:' and below it lines such as 'repoint.brick: 70 - 95'"
        source.problem((), "has no mapping 'rates:'", to_do)
    for key in whole:
        if key != "rates":
            source.key_problem((key,), f"has an unknown key '{shown(key)}'", source.problems.near(key, ["rates"]))
    found: dict[str, Range[Decimal]] = {}
    for key, text in (data if isinstance(data, dict) else {}).items():
        if key not in job.library.items:
            hint = source.problems.near(key, job.library.items)
            source.key_problem(("rates", key), f"'{shown(key)}' is not a line of the library", hint)
            continue
        if text is None:
            continue
        rate = read_range(key, text, ("rates", key), source, HIGHEST_RATE)
        if rate is not None:
            found[key] = rate
    require(source)
    return found


def as_text(job: Job, found: Estimate) -> str:
    """The estimate as lines: amounts, total, what has no rate, and hours."""
    currency = job.said("currency")
    lines = [job.word("estimate-title", currency=currency)]
    lines += [f"{item.ref:>6}  {_span(amount)}  {item.entry.id}" for item, amount in found.lines]
    lines.append(job.word("estimate-total", total=_span(found.total), currency=currency))
    if found.without_rate:
        refs = ", ".join(f"{item.ref} ({item.entry.id})" for item in found.without_rate)
        lines.append(job.word("estimate-without", lines=refs))
    for hours in found.hours:
        told = {
            "place": hours.place,
            "tasks": "; ".join(hours.tasks),
            "low": f"{hours.spent.low:.0f}",
            "high": f"{hours.spent.high:.0f}",
            "least": f"{hours.times.low:g}",
            "most": f"{hours.times.high:g}",
        }
        lines.append(job.word("estimate-hours", **told))
    return "".join(f"{line}\n" for line in lines)


def _span(amount: Range[Decimal]) -> str:
    low, high = plain(amount.low), plain(amount.high)
    return low if amount.single else f"{low} to {high}"
