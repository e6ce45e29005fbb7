"""A file of rates to fill in, from the lines of a job: what each line is, its unit, and a blank for its rate."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Final

from generator.document.model import plain_text
from generator.files.spelling import remark_of
from generator.job.job import Job
from generator.measure.model import Item
from generator.papers.schedule import description

_WIDTH: Final = 100


def rates_file(job: Job, answers: str, rates: str) -> str:
    """The file as text: a blank rate for each rule by which lines of the job are priced, its lines above it as remarks.

    `answers` and `rates` are the names of the two files, as `estimate` is to be asked for them.
    """
    told = {"title": job.said("title"), "reference": job.said("reference"), "currency": job.said("currency")}
    lines = [*_remark(job.word("rates-top", answers=answers, rates=rates, **told), 0), "rates:"]
    priced: dict[str, list[Item]] = {}
    for item in job.measured.items():
        if item.amount is None and item.kind != "rate only":
            priced.setdefault(item.entry.id, []).append(item)
    for key, items in priced.items():
        lines += [line for item in items for line in _remark(_line(job, item), 2)]
        unit = job.word("rates-unit", currency=told["currency"], unit=items[0].entry.unit)
        lines.append(f"  {key}:  # {remark_of(unit)}")
    if not priced:
        lines[-1] = "rates: {}"
    left = [item.ref for item in job.measured.items() if item.entry.id not in priced]
    if left:
        lines += _remark(job.word("rates-left", lines=", ".join(left)), 0)
    return "".join(f"{line}\n" for line in lines)


def _line(job: Job, item: Item) -> str:
    quantity = job.word("quantity-to-follow") if item.quantity is None else f"{item.quantity} {item.entry.unit}"
    told = {"ref": item.ref, "place": job.filling.place(item.path), "quantity": quantity}
    return job.word("rates-line", description=plain_text(description(job, item)).rstrip("."), **told)


def _remark(text: str, indent: int) -> Iterator[str]:
    """A text as lines of remark."""
    begin = f"{' ' * indent}# "
    for line in text.splitlines() or [""]:
        yield from textwrap.wrap(remark_of(line), _WIDTH, initial_indent=begin, subsequent_indent=f"{begin}  ")
