"""The specifier's own estimate: a job's lines at rates from a file, as a range, with hours; never in tender papers."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Final

from generator.document.job import Job
from generator.errors import InputInvalid, did_you_mean
from generator.lime.labour import labour_hours
from generator.measure.model import Item
from generator.source import Source
from generator.values import Range, plain, rounded

CONSERVATION: Final = Range(1.0, 1.5, 3.0)  # times plain work; judgement without a source
_TASKS: Final = {
    "rubble": ("rubble: raking out", "rubble: pointing", "rubble: finishing", "rubble: mixing"),
    "squared-rubble": ("rubble: raking out", "rubble: pointing", "rubble: finishing", "rubble: mixing"),
    "brick": ("brick: raking and pointing, mason", "brick: raking and pointing, labourer"),
}


@dataclass(frozen=True, slots=True)
class Estimate:
    """Amounts by line, low and high; lines without a rate; hours of repointing by wall."""

    lines: tuple[tuple[Item, Range[Decimal]], ...]
    without_rate: tuple[Item, ...]
    hours: tuple[tuple[str, Range[float]], ...]

    @property
    def total(self) -> Range[Decimal]:
        """The sum of the lines that have a rate and count in the total."""
        counted = [amount for item, amount in self.lines if item.kind not in ("rate only", "optional")]
        return Range(
            sum((a.low for a in counted), Decimal(0)),
            sum((a.likely for a in counted), Decimal(0)),
            sum((a.high for a in counted), Decimal(0)),
        )


def estimate(job: Job, rates: dict[str, Range[Decimal]]) -> Estimate:
    """The job's lines at the rates given by rule, each line's amount to the penny."""
    lines: list[tuple[Item, Range[Decimal]]] = []
    without: list[Item] = []
    for item in job.measured.items():
        if item.amount is not None:
            lines.append((item, Range(item.amount, item.amount, item.amount)))
        elif item.quantity is not None and item.entry.id in rates:
            rate = rates[item.entry.id]
            low, likely, high = (rounded(item.quantity * value, 2) for value in (rate.low, rate.likely, rate.high))
            lines.append((item, Range(low, likely, high)))
        elif item.kind != "rate only":
            without.append(item)
    return Estimate(tuple(lines), tuple(without), tuple(_hours(job)))


def _hours(job: Job) -> list[tuple[str, Range[float]]]:
    """Hours of repointing by wall: published outputs on plain work, times the spread of conservation work."""
    found: list[tuple[str, Range[float]]] = []
    for scope in job.facts.at("work"):
        area, masonry = job.facts.get(scope.path, "treated_area_m2"), job.facts.get(scope.path, "masonry")
        tasks = _TASKS.get(str(masonry), ())
        if job.facts.get(scope.path, "work") != "repoint" or not isinstance(area, Decimal) or not tasks:
            continue
        hours = [labour_hours(task, float(area)) for task in tasks]
        low, likely, high = sum(h.low for h in hours), sum(h.likely for h in hours), sum(h.high for h in hours)
        spread = Range(low * CONSERVATION.low, likely * CONSERVATION.likely, high * CONSERVATION.high)
        found.append((job.filling.place(scope.path), spread))
    return found


def read_rates(source: Source, job: Job) -> dict[str, Range[Decimal]]:
    """The rates of a file read untyped, by item rule. Raises `InputInvalid` with every mistake in it."""
    data = source.data.get("rates") if isinstance(source.data, dict) else None
    if not isinstance(data, dict) and not source.problems:
        to_do = "write 'rates:' and below it lines such as 'repoint.brick: 70 - 95'"
        source.problem((), "has no mapping 'rates:'", to_do)
    found: dict[str, Range[Decimal]] = {}
    for key, text in (data if isinstance(data, dict) else {}).items():
        rate = _rate(text)
        if key not in job.library.items:
            hint = did_you_mean(key, job.library.items)
            source.problem(("rates", key), f"'{key}' is not a line of the library", hint)
        elif rate is None:
            source.problem(("rates", key), f"'{key}' has no rate that can be read", "write one number, or low - high")
        else:
            found[key] = rate
    if source.problems:
        raise InputInvalid(source.problems)
    return found


def _rate(text: object) -> Range[Decimal] | None:
    parts = [part.strip() for part in text.split("-")] if isinstance(text, str) else []
    try:
        values = [Decimal(part) for part in parts]
    except InvalidOperation:
        return None
    if not 1 <= len(values) <= 2 or not all(value.is_finite() and value >= 0 for value in values):
        return None
    low, high = values[0], values[-1]
    return Range(low, (low + high) / 2, high) if low <= high else None


def as_text(job: Job, found: Estimate) -> str:
    """The estimate as lines: amounts, total, what has no rate, and hours."""
    currency = job.said("currency")
    lines = [job.word("estimate-title", currency=currency)]
    lines += [f"{item.ref:>6}  {_span(amount)}  {item.entry.id}" for item, amount in found.lines]
    lines.append(job.word("estimate-total", total=_span(found.total), currency=currency))
    if found.without_rate:
        refs = ", ".join(f"{item.ref} ({item.entry.id})" for item in found.without_rate)
        lines.append(job.word("estimate-without", lines=refs))
    for place, hours in found.hours:
        lines.append(job.word("estimate-hours", place=place, low=f"{hours.low:.0f}", high=f"{hours.high:.0f}"))
    return "".join(f"{line}\n" for line in lines)


def _span(amount: Range[Decimal]) -> str:
    low, high = plain(amount.low), plain(amount.high)
    return low if amount.single else f"{low} to {high}"
