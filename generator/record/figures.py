"""Where a figure or value is printed in the papers of a job, what it rests on, and where it can be changed."""

from __future__ import annotations

from typing import Any

from generator.document.files import COMPANIONS
from generator.files.errors import Mark
from generator.job.job import Job
from generator.library.figures import Figure
from generator.library.told_figures import figure_places
from generator.papers.agreement.printed import Printed
from generator.papers.agreement.whole import whole
from generator.record.how import reason_of


def figure_data(job: Job, name: str) -> dict[str, Any] | None:
    """What there is to tell about a figure of the library or a declared name; None for what is neither."""
    figure = job.library.figures.get(name)
    if figure is None and name not in job.facts.names:
        return None
    found = whole(job, list(COMPANIONS))
    return _figure(job, figure, found) if figure is not None else _named(job, name, found)


def _figure(job: Job, figure: Figure, found: Printed) -> dict[str, Any]:
    return {
        "figure": figure.name,
        "value": figure.spelt(),
        "confidence": figure.confidence,
        "range": figure.range,
        "because": figure.because,
        "sources": [_source(job, key) for key in figure.told_by()],
        "stands": str(figure.mark),
        "printed": [*_places(found, figure.name), *_in_words(job, figure.name)],
    }


def _named(job: Job, name: str, found: Printed) -> dict[str, Any]:
    """A name with its value in each scope, why it is so, and where it is printed."""
    entry = job.facts.names[name]
    values = [
        {
            "where": job.filling.place(path) if path else job.word("whole-job"),
            "value": job.facts.say(name, held.value),
            "because": reason_of(job, path, name, held.origin).because,
            "sources": [_source(job, key) for key in reason_of(job, path, name, held.origin).sources],
            "stands": str(held.mark) if held.mark.line else "",
        }
        for path, known, held in job.facts.every()
        if known == name
    ]
    return {"name": name, "label": entry.label, "values": values, "printed": _places(found, name)}


def _source(job: Job, key: str) -> str:
    source = job.library.sources.get(key)
    return ", ".join(filter(None, (source.title, source.edition))) if source else key


def _places(found: Printed, name: str) -> list[str]:
    """The places where a value is printed, each once, with what it says there."""
    told = ((str(place), value.text) for place, value in found.values if value.name == name)
    return [f"{place}: {text}" for place, text in dict.fromkeys(told)]


def _in_words(job: Job, name: str) -> list[str]:
    """The words, papers and hold points that a figure is put in."""
    places = {f"{{{place}}}" for place in figure_places({name: job.library.figures[name]})}
    marks = job.library.marks
    return [
        str(marks.get(key, Mark(key[1])))
        for key, texts in job.library.unfilled.texts().items()
        if any(place in text for place in places for text in texts)
    ]
