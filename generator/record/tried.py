"""Where the condition of a clause came out how, and by which facts: scopes that answer alike told together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from generator.job.job import Job
from generator.job.select import Selection
from generator.questionnaire.columns import Truth
from generator.questionnaire.condition import Condition, Fact
from generator.questionnaire.facts import Facts
from generator.questionnaire.kinds import known_by
from generator.questionnaire.scopes import ScopePath


class Tried(NamedTuple):
    """What a condition came to at some scopes, with the facts in words."""

    scopes: tuple[ScopePath, ...]
    holds: Truth
    facts: tuple[str, ...]


def tried(job: Job, selection: Selection) -> Iterator[Tried]:
    """The facts that a clause was tried by, each once with all the scopes where they came out so."""
    condition, seen, at = selection.condition, selection.seen, selection.tried_at
    if condition is None or seen is None:
        return
    said: dict[object, str] = {}
    found: dict[tuple[Truth, tuple[str, ...]], list[int]] = {}
    for places in _alike(job, condition, seen, selection.clause.per, at):
        verdict = condition.evaluate(seen, at[places[0]])
        found.setdefault((verdict.holds, tuple(_fact(fact, said) for fact in verdict.facts)), []).extend(places)
    for (holds, facts), places in found.items():
        yield Tried(tuple(at[place] for place in sorted(places)), holds, facts)


def _alike(job: Job, condition: Condition, seen: Facts, level: str, at: tuple[ScopePath, ...]) -> Iterable[list[int]]:
    """The places of scopes that answer alike, with all inside them that is looked at, and so come out alike."""
    if len(at) == 1:
        return ([0],)
    columns = [_column(job, seen, level, name) for name in sorted(condition.names())]
    columns += [_column_inside(job, seen, level, *read) for read in sorted(condition.inside())]
    found: dict[object, list[int]] = {}
    for place, met in enumerate(zip(*columns, strict=True)):
        found.setdefault(met, []).append(place)
    return found.values()


def _column(job: Job, seen: Facts, level: str, name: str) -> Sequence[object]:
    """What is known of a name at each scope of a level."""
    found: list[object] = job.kept(
        f"met {level} {name}", lambda: [known_by(seen.held(path, name)) for path, _ in seen.seen_at(level)]
    )
    return found


def _column_inside(job: Job, seen: Facts, level: str, inner: str, name: str) -> Sequence[object]:
    """What is known of a name at all scopes of an inner level in each of a level."""

    def made() -> list[tuple[object, ...]]:
        known = dict(zip((path for path, _ in seen.seen_at(inner)), _column(job, seen, inner, name), strict=True))
        return [tuple(known[scope.path] for scope in seen.inside(path, inner)) for path, _ in seen.seen_at(level)]

    found: list[tuple[object, ...]] = job.kept(f"met in {level} {inner} {name}", made)
    return found


def _fact(fact: Fact, said: dict[object, str]) -> str:
    """A fact in words, put together once for each value that it met."""
    key = id(fact.node), known_by(fact.held)
    return said.get(key) or said.setdefault(key, str(fact))
