"""What is decided of a wall, beside its answers: cards of mixes, figures, findings; and what the last deed changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from generator.decide.model import Mix
from generator.document.model import plain_text
from generator.drawing.measures import Fill, Ground
from generator.job.job import Job, grouped
from generator.library.findings import LEVELS, Finding
from generator.papers.mix_cards import Heaps, card, ground_of
from generator.questionnaire.scopes import PROJECT, ScopePath
from generator.values import Value

_INNER: Final = ("element", "work", "coat")
_MIX: Final = "mix_used"


@dataclass(frozen=True, slots=True)
class Mark:
    """What a mix is called, and the ground that tells its lime: `putty`, `hydraulic` or `quicklime`."""

    ref: str
    ground: Ground
    name: str


@dataclass(frozen=True, slots=True)
class Part:
    """One thing in a batch: its count in boxes or litres, spelt, and how its boxes are drawn."""

    count: str
    unit: str
    name: str
    told: str
    fill: Fill
    boxes: Decimal | None


@dataclass(frozen=True, slots=True)
class MixCard:
    """A mix as it is mixed, and the figures of the coats that take it on one wall."""

    mark: Mark
    parts: tuple[Part, ...]
    makes: str
    figures: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Why:
    """Why the binder of a coat was taken: the reason, the answers it rests on, and what was weighed and left."""

    where: str
    because: str
    sources: tuple[str, ...]
    others: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Changed:
    """A figure that the last deed changed: where, what, what it is now and what it was; "" where it is none."""

    where: str
    label: str
    now: str
    was: str


def mark_of(mix: Mix) -> Mark:
    """The mark of a mix."""
    return Mark(mix.ref, ground_of(mix), mix.name)


def marks_of(job: Job, path: ScopePath) -> list[Mark]:
    """The marks of the mixes of an element, each once."""
    found = {mix.ref: mark_of(mix) for work in job.facts.inside(path, "work") for mix in job.mixes_of(work.path)}
    return list(found.values())


def cards(job: Job, path: ScopePath) -> list[MixCard]:
    """A card for each mix of an element."""
    heaps = Heaps(job)
    found = []
    for made in job.measured.batches:
        coats = [coat for coat in made.mix.used_for if coat[: len(path)] == path]
        if not coats:
            continue
        told = card(job, made, heaps)
        parts = tuple(
            Part(one.number, one.unit, one.name, plain_text(one.told), one.fill, one.boxes) for one in told.counts
        )
        makes = plain_text(told.makes)
        found.append(MixCard(mark_of(made.mix), parts, makes, tuple(_figures(job, coats))))
    return found


def _figures(job: Job, coats: list[ScopePath]) -> Iterator[tuple[str, str]]:
    """The figures of coats that the words name, each under its label; where coats differ, all that they are."""
    for name in job.listed("page-figures"):
        said = dict.fromkeys(job.facts.spoken(coat, name) for coat in coats)
        said.pop("", None)
        if said:
            yield job.facts.names[name].label, "; ".join(said)


def work_figures(job: Job, path: ScopePath) -> list[tuple[str, str]]:
    """The figures of a work that the words name, each under its label."""
    found = ((job.facts.names[name].label, job.facts.spoken(path, name)) for name in job.listed("page-work-figures"))
    return [(label, said) for label, said in found if said]


def whys(job: Job, path: ScopePath) -> list[Why]:
    """Why each binder of an element was taken, equal reasons once."""
    found: dict[str, Why] = {}
    for coat in job.facts.inside(path, "coat"):
        reason = job.decisions.reasons.get((coat.path, "binder"))
        if reason is None:
            continue
        others = tuple(
            (job.facts.say("binder", item.binder), job.word(item.why_not))
            for item in job.decisions.considered
            if item.path == coat.path
        )
        found.setdefault(reason.because, Why(job.facts.title(coat.path), reason.because, reason.sources, others))
    return list(found.values())


# --- findings ---------------------------------------------------------------------------------------------


def findings(job: Job, path: ScopePath) -> list[Finding]:
    """The findings of a wall, or with `()` those of the whole job alone, the gravest first; notes are left out."""
    found = [item for item in job.findings if item.level != "note"]
    return [item for item in found if (item.scope[:1] == path if path else not item.scope)]


def resting_on(job: Job, path: ScopePath, name: str) -> list[Finding]:
    """The findings that rest on an answer, the gravest first."""
    held = job.facts.values.get(path, {}).get(name)
    if held is None or not held.mark.line:
        return []
    return [item for item in job.findings if held.mark in item.marks and item.level != "note"]


def counted(found: list[Finding]) -> dict[str, int]:
    """How many findings there are of each level, the gravest first."""
    return {level: count for level in reversed(LEVELS) if (count := sum(item.level == level for item in found))}


@dataclass(frozen=True, slots=True)
class Alike:
    """A finding with all the scopes at which it says the same."""

    item: Finding
    paths: tuple[ScopePath, ...]


def alike(found: list[Finding]) -> list[Alike]:
    """Findings, those that say the same as one, in the order in which they first come."""
    same = grouped(found, lambda item: (item.words, item.question and item.scope))
    return [Alike(items[0], tuple(dict.fromkeys(item.scope for item in items))) for items in same.values()]


def by_use(found: list[Finding]) -> dict[str, list[Alike]]:
    """What does not hold the tender back, by what it is for; nothing for which there is nothing.

    `settle`: warned of, and said nowhere in the papers; `told`: the papers tell tenderers what to do; `know`: notes.
    """
    uses: dict[str, list[Finding]] = {"settle": [], "told": [], "know": []}
    for item in found:
        if item.level != "block":
            uses["know" if item.level == "note" else "told" if item.instruction else "settle"].append(item)
    return {use: alike(items) for use, items in uses.items() if items}


def by_sheet(found: list[Alike]) -> list[tuple[ScopePath | None, list[Alike]]]:
    """Findings by the sheet that all their scopes are on, those of the whole job first, then those of several: None."""

    def sheet(one: Alike) -> ScopePath | None:
        first, *others = {path[:1] for path in one.paths}
        return None if others else first

    parted = grouped(found, sheet)
    return sorted(parted.items(), key=lambda part: 0 if part[0] == PROJECT else 1 if part[0] is None else 2)


def by_who(found: list[Finding]) -> dict[str, list[Finding]]:
    """Findings by who must answer them, in the order in which they first come."""
    return grouped(found, lambda item: item.answer_by)


# --- what changed -----------------------------------------------------------------------------------------


def changes(before: Job, now: Job) -> list[Changed]:
    """What became otherwise from one job to another, not the answers: what the cards show first, then findings."""
    figures = list(_figures_changed(before, now))
    shown = {_MIX, *now.listed("page-figures"), *now.listed("page-work-figures")}
    first, others = ([one for name, one in figures if (name in shown) is is_shown] for is_shown in (True, False))
    return [*first, *_findings_changed(before, now), *others]


def _figures_changed(before: Job, now: Job) -> Iterator[tuple[str, Changed]]:
    paths = dict.fromkeys((*now.facts.scopes, *before.facts.scopes))
    # what is worth the same is put into words only where those may have become others
    same_words = before.facts.names is now.facts.names and before.facts.spelling == now.facts.spelling
    for path in paths:
        level = (now.facts.scopes.get(path) or before.facts.scopes[path]).level
        if level not in _INNER and path != PROJECT:
            continue
        olds, news = (_worked_out(job, path) for job in (before, now))
        for name in dict.fromkeys((*news, *olds)):
            if same_words and olds.get(name) == news.get(name):
                continue
            was, is_ = _told(before, name, olds.get(name)), _told(now, name, news.get(name))
            if was != is_:
                where = (now if path in now.facts.scopes else before).facts.title(path) if path else ""
                yield name, Changed(where, now.facts.names[name].label, is_, was)


def _worked_out(job: Job, path: ScopePath) -> dict[str, Value | Mix]:
    held = job.facts.values.get(path, {}).items()
    found: dict[str, Value | Mix] = {
        name: value.value for name, value in held if value.origin not in ("given", "default")
    }
    mix = job.decisions.mix_of(path)
    return found if mix is None else {**found, _MIX: mix}


def _told(job: Job, name: str, found: Value | Mix | None) -> str:
    if isinstance(found, Mix):
        return f"{found.ref}, {found.name}"
    return "" if found is None else job.facts.say(name, found)


def _findings_changed(before: Job, now: Job) -> Iterator[Changed]:
    told = {(item.code, item.scope, item.message) for item in before.findings}
    still = {(item.code, item.scope, item.message) for item in now.findings}
    for item in now.findings:
        if item.level != "note" and (item.code, item.scope, item.message) not in told:
            yield Changed(_where(now, item), now.word(f"page-level-{item.level}"), item.message, "")
    for item in before.findings:
        # that an answer is no longer lacking is what was just done, and no news
        if item.level != "note" and not item.question and (item.code, item.scope, item.message) not in still:
            yield Changed(_where(before, item), now.word(f"page-level-{item.level}"), "", item.message)


def _where(job: Job, item: Finding) -> str:
    return job.facts.title(item.scope) if item.scope in job.facts.scopes and item.scope else ""
