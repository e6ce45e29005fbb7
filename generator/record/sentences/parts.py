"""What sentences about any part of a job share: values under their labels, sources, reasons, days."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, Final

from generator.job.job import Job
from generator.record.explain import Explanation

Line = tuple[str, int]
"""A text and how far it is indented."""

INDENT: Final = 2
Teller = Callable[[Job, Explanation], Iterator[Line]]
"""What tells an explanation of one kind of thing."""


def stopped(text: str) -> str:
    """A sentence with its full stop."""
    return text if not text or text.endswith((".", "?", "!")) else f"{text}."


def day(job: Job, iso: str | None) -> str:
    """A day as the papers of the job spell it; "" for none."""
    return job.facts.say("start_date", datetime.date.fromisoformat(iso)) if iso else ""


def reason_told(job: Job, reason: Mapping[str, Any], indent: int) -> Iterator[Line]:
    """What a reason rests on, and who published it."""
    facts = answers_in(job, reason["facts"])
    if facts:
        yield job.word("explain-rests", facts="; ".join(facts)), indent
    if reason["range"]:
        yield job.word("explain-published", range=stopped(reason["range"])), indent
    yield from sources(job, reason["sources"], indent)


def answers_in(job: Job, facts: Iterable[str]) -> list[str]:
    """Those facts of a reason that are values under their labels, and no rows of tables."""
    return [fact for fact in facts if ": " in fact and fact.partition(": ")[0] not in job.library.tables]


def sources(job: Job, keys: Iterable[str], indent: int) -> Iterator[Line]:
    """Who published something, by title and edition."""
    known = [job.library.sources[key] for key in dict.fromkeys(keys) if key in job.library.sources]
    if known:
        titles = "; ".join(", ".join(filter(None, (one.title, one.edition))) for one in known)
        yield job.word("explain-sources", titles=titles), indent


def figures(job: Job, values: Explanation, key: str, indent: int) -> Iterator[Line]:
    """The values that a word of the library lists, each under its label with why; those of one reason together."""
    alike: dict[tuple[str, ...], list[str]] = {}
    for name in job.listed(key):
        held = values.get(name)
        if held is not None and held["value"]:
            reason = held["reason"]
            told = job.word("explain-value", label=job.facts.names[name].label, value=held["value"])
            why = (stopped(reason["because"]), *answers_in(job, reason["facts"]))
            alike.setdefault(why, []).append(told)
    for (because, *facts), told_ in alike.items():
        said = job.word("explain-figures", figures="; ".join(told_), because=because)
        yield (job.word("explain-figures-from", told=said, facts="; ".join(facts)) if facts else said), indent
