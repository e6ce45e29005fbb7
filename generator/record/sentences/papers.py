"""A line to price, a clause, a figure, a name or a photograph in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from generator.job.job import Job
from generator.questionnaire.condition import Fact
from generator.record.explain import Explanation
from generator.record.photographs_told import photograph_lines
from generator.record.sentences.parts import INDENT, Line, Teller, sources, stopped
from generator.values import capital

_MOST_PLACES: Final = 40


def _line(job: Job, found: Explanation) -> Iterator[Line]:
    item = next(item for item in job.measured.items() if item.ref == found["ref"])
    yield job.word("explain-line-head", ref=found["ref"], place=job.filling.place(item.path)), 0
    yield stopped(found["description"]), INDENT
    if found["quantity"] is not None:
        told = {"quantity": found["quantity"], "unit": found["unit"], "kind": found["kind"]}
        yield job.word("explain-line-quantity", **told), 0
    elif found["amount"] is not None:
        yield job.word("explain-line-sum", amount=found["amount"], kind=found["kind"]), 0
    else:
        yield job.word("explain-line-open", unit=found["unit"], kind=found["kind"]), 0
    for name, held in found["from"].items():
        value = job.word("explain-value", label=job.facts.names[name].label, value=held["value"])
        yield job.word("explain-figures", figures=value, because=stopped(held["reason"]["because"])), INDENT
    yield _since(job, "explain-line-since", "explain-line-always", found["given"]), 0
    if found["mix"]:
        yield job.word("explain-line-mix", mix=found["mix"]), 0
    numbers = job.number_runs(found["clauses"])
    if numbers:
        yield job.word("explain-line-clauses", numbers=numbers), 0
    yield from sources(job, found["sources"], 0)


def _since(job: Job, key: str, always: str, given: Iterable[str]) -> str:
    """What answers brought something in, or that nothing had to."""
    told = list(dict.fromkeys(given))
    return job.word(key, facts="; ".join(told)) if told else job.word(always)


def _clause(job: Job, found: Explanation) -> Iterator[Line]:
    selection = job.selections[found["id"]]
    title = selection.clause.title
    if not found["included"]:
        yield job.word("explain-clause-out", title=title, id=found["id"]), 0
        against = [fact for _, holds, facts in selection.tried if not holds for fact in facts if not fact.holds]
        # that another work is not this one keeps every clause of this one out, and tells nothing
        why = _facts([fact for fact in against if fact.node.name != "work"] or against)
        yield _since(job, "explain-clause-out-since", "explain-clause-out-always", why), 0
    else:
        yield job.word("explain-clause-in", number=found["number"], title=title, id=found["id"]), 0
        walls = [job.facts.title((wall,)) for wall in found["elements"]]
        if walls:
            yield job.word("explain-clause-walls", walls="; ".join(walls)), 0
        why = _facts(fact for _, holds, facts in selection.tried if holds is not False for fact in facts)
        yield _since(job, "explain-clause-since", "explain-clause-always", why), 0
        yield job.word("explain-clause-words"), 0
        yield from ((line, INDENT) for line in found["text"].split("\n") if line.strip())
    yield from sources(job, selection.clause.sources, 0)
    yield job.word("explain-clause-layer", layer=found["layer"], edition=found["edition"]), 0


def _facts(facts: Iterable[Fact]) -> list[str]:
    return [fact.told for fact in facts]


# --- figures and names ------------------------------------------------------------------------------------


def _figure(job: Job, found: Explanation) -> Iterator[Line]:
    yield job.word("explain-value", label=found["figure"], value=found["value"]), 0
    if found["because"]:
        yield stopped(found["because"]), 0
    if found["range"]:
        yield job.word("explain-published", range=stopped(found["range"])), 0
    if found["sources"]:
        yield job.word("explain-sources", titles="; ".join(found["sources"])), 0
    yield job.word(f"explain-confidence-{found['confidence']}"), 0
    yield job.word("explain-figure-stands", mark=found["stands"]), 0
    yield from _printed(job, found)


def _printed(job: Job, found: Explanation) -> Iterator[Line]:
    places = found["printed"]
    if not places:
        yield job.word("explain-printed-nowhere"), 0
        return
    yield job.word("explain-printed"), 0
    yield from ((place, INDENT) for place in places[:_MOST_PLACES])
    if places[_MOST_PLACES:]:
        yield job.word("explain-printed-more", count=str(len(places) - _MOST_PLACES)), INDENT


def _name(job: Job, found: Explanation) -> Iterator[Line]:
    yield job.word("explain-name", label=found["label"], name=found["name"]), 0
    if not found["values"]:
        yield job.word("explain-name-without"), 0
    for value in found["values"]:
        told = job.word("explain-value", label=capital(value["where"]), value=value["value"])
        origin = job.word("explain-answered", mark=value["stands"]) if value["stands"] else value["because"]
        yield job.word("explain-figures", figures=told, because=stopped(origin)).rstrip(), INDENT
        if value["sources"]:
            yield job.word("explain-sources", titles="; ".join(value["sources"])), 2 * INDENT
    yield from _printed(job, found)


def _photograph(job: Job, found: Explanation) -> Iterator[Line]:
    """What a photograph gives."""
    one = next(one for one in job.photographs if one.id == found["photograph"])
    yield from ((line.strip(), INDENT if line.startswith(" ") else 0) for line in photograph_lines(job, one))


TELLERS: Final[Mapping[str, Teller]] = {
    "line": _line, "id": _clause, "figure": _figure, "name": _name, "photograph": _photograph,
}  # fmt: skip
"""How each kind of thing is told, by what its explanation begins with."""
