"""A wall, a mix or the whole job in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from generator.document.model import plain_text
from generator.job.job import Job
from generator.questionnaire.scopes import ScopePath
from generator.record.explain import Explanation
from generator.record.sentences.parts import INDENT, Line, Teller, figures, reason_told, sources, stopped
from generator.values import capital


def _job(job: Job, found: Explanation) -> Iterator[Line]:
    yield f"{found['job']}. {job.word(f'status-{job.status}')}.", 0
    for wall in found["elements"]:
        yield wall["name"], 0
        for work in wall["works"]:
            yield _work_head(job, (work["element"], work["work"])), INDENT
    yield from _findings(job, ())
    yield job.word("explain-ask", wall=next((wall["element"] for wall in found["elements"]), "")), 0


def _work_head(job: Job, path: ScopePath) -> str:
    """A work with how much of it there is, and its mixes."""
    told = {"work": capital(job.facts.scopes[path].title), "quantity": plain_text((job.work_quantity(path),))}
    mixes = "; ".join(plain_text(job.mix_named(mix)) for mix in job.mixes_placed(path))
    return job.word("explain-work-mixes", mixes=mixes, **told) if mixes else job.word("explain-work", **told)


# --- a wall -----------------------------------------------------------------------------------------------


def _wall(job: Job, found: Explanation) -> Iterator[Line]:
    path = (found["element"],)
    yield found["name"], 0
    if found["works"]:
        yield from figures(job, found["works"][0]["values"], "explain-wall-values", INDENT)
    for work in found["works"]:
        yield from _work(job, (work["element"], work["work"]), work["values"])
    yield from _findings(job, path)
    numbers = job.number_runs(line.partition(" ")[2] for line in found["clauses"])
    if numbers:
        yield job.word("explain-clauses", numbers=numbers), 0


def _work(job: Job, path: ScopePath, values: Explanation) -> Iterator[Line]:
    yield _work_head(job, path), 0
    dates = {name: value["value"] for name, value in values.items() if name.endswith("_date")}
    if {"work_start_date", "work_finish_date", "last_start_date"} <= dates.keys():
        yield job.word("explain-dates", **dates), INDENT
    yield from figures(job, values, "explain-work-values", INDENT)
    for coat in job.facts.inside(path, "coat"):
        yield from _coat(job, coat.path, values)


def _coat(job: Job, path: ScopePath, values: Explanation) -> Iterator[Line]:
    prefix = f"{path[-1]}/"
    own = {name.removeprefix(prefix): value for name, value in values.items() if name.startswith(prefix)}
    binder = own.get("binder")
    if binder is not None:
        told = {"coat": capital(job.facts.scopes[path].title), "binder": binder["value"]}
        yield job.word("explain-binder", because=binder["reason"]["because"], **told), INDENT
        yield from reason_told(job, binder["reason"], 2 * INDENT)
    for item in job.decisions.considered:
        if item.path == path:
            left = job.facts.say("binder", item.binder)
            yield job.word("explain-not-taken", binder=left, why=job.word(item.why_not)), 2 * INDENT
    yield from figures(job, own, "explain-coat-values", 2 * INDENT)


def _findings(job: Job, path: ScopePath) -> Iterator[Line]:
    """What is to settle and to know of a wall, or of the whole job, the gravest first; each with what to do."""
    told = [item for item in job.findings if item.scope[:1] == path and (path or item.level != "note")]
    if told:
        yield job.word("explain-findings"), 0
    for level, message, action in dict.fromkeys((item.level, item.message, item.action) for item in told):
        text = job.word("explain-finding", level=job.word(f"page-level-{level}"), message=message)
        yield (text if level == "note" or not action else f"{text} {action}"), INDENT


# --- a mix ------------------------------------------------------------------------------------------------


def _mix(job: Job, found: Explanation) -> Iterator[Line]:
    yield f"{found['ref']}, {found['name']}", 0
    places = [tuple(place[level] for level in ("element", "work", "coat")) for place in found["used_for"]]
    yield job.word("explain-mix-for", places="; ".join(job.facts.title(path) for path in places)), 0
    yield from figures(job, found["figures"], "explain-mix-values", INDENT)
    yield job.word("explain-mix-recipe", because=stopped(found["because"])), 0
    low, high = found["ratio_range"]
    ratio = {"ratio": found["ratio"], "basis": found["basis"], "low": low, "high": high}
    yield job.word("explain-mix-ratio", because=stopped(found["ratio_because"]), **ratio), 0
    for reason in {reason["because"]: reason for reason in found["reasons"]}.values():
        yield job.word("explain-mix-lime", because=stopped(reason["because"])), 0
        yield from reason_told(job, reason, INDENT)
    yield from _in_hand(job, found)
    for line in found["order"]:
        amount = " – ".join(dict.fromkeys((line["amount"][0], line["amount"][-1])))
        order = " + ".join(f"{one['packages']} × {one['package']}" for one in line["order"])
        told = {"material": capital(line["name"]), "amount": f"{amount} {line['unit']}", "order": order}
        yield job.word("explain-order-line", **told), 0
    yield from sources(job, found["sources"], 0)


def _in_hand(job: Job, found: Explanation) -> Iterator[Line]:
    """How a mix is used and judged, and what its lime does."""
    for key in ("used", "water", "signs"):
        if found[key]:
            yield job.word(f"explain-mix-{key}", told=stopped(found[key])), 0
    if found["putty"]:
        yield job.word("explain-mix-putty", band=found["putty"]["band"], reckoned=found["putty"]["reckoned"]), 0
    if found["carbonation"]:
        yield stopped(capital(found["carbonation"]["depth"])) + " " + found["carbonation"]["how"], 0
    yield job.word("explain-mix-carbon", emitted=found["carbon"]["emitted_kgco2e_per_m3"]), 0


TELLERS: Final[Mapping[str, Teller]] = {"job": _job, "element": _wall, "mix": _mix}
"""How each kind of thing is told, by what its explanation begins with."""
