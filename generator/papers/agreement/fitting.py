"""Clause and mix fit: what is said of a mortar is true of the one that goes there."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from generator.decide.model import Mix
from generator.files.errors import Mark, Problem
from generator.measure.model import FRESH
from generator.papers.agreement.printed import MIX_SCHEDULE, SPECIFICATION, Place, Printed
from generator.questionnaire.scopes import ScopePath

_TO_DO: Final = "give it a condition that holds only for the mortars it is written for"
_HOURS_A_DAY: Final = 24


def unfit(found: Printed) -> Iterator[Problem]:
    """Each clause, step or value that does not fit the mix of its coat."""
    for key, (place, block) in found.clauses.items():
        if block.used and key in found.job.selections:
            yield from _written_for(found, key, place)
    yield from _steps(found)
    yield from _rested(found)
    yield from _grains(found)
    yield from _goes(found)


def _written_for(found: Printed, key: str, place: Place) -> Iterator[Problem]:
    """A clause that is written for some ways of making against the mixes that it speaks of."""
    clause = found.job.library.clauses[key]
    if not clause.makings:
        return
    for path in found.job.selections[key].paths:
        mixes = _mixes(found, path)
        strange = [mix for mix in mixes if mix.recipe.making not in clause.makings]
        alone = clause.per in ("coat", "mix")
        if strange and (alone or len(strange) == len(mixes)):
            where = found.job.facts.title(path)
            written = " or ".join(clause.makings)
            what = (
                f"{place} is written for mixes made as {written}, and {where} takes {strange[0].ref}, "
                f"{strange[0].name}, made as {strange[0].recipe.making} ({MIX_SCHEDULE}, '{strange[0].ref}')"
            )
            yield found.problem(place, what, _TO_DO)


def _mixes(found: Printed, path: ScopePath) -> list[Mix]:
    """The mixes of a scope: itself, or those of the coats in it."""
    decisions = found.job.decisions
    if path in found.job.facts.scopes and found.job.facts.scopes[path].level == "mix":
        return [mix for mix in decisions.mixes if mix.path == path]
    coats = (decisions.mix_of(coat.path) for coat in found.job.facts.inside(path, "coat"))
    return [mix for mix in coats if mix is not None]


def _steps(found: Printed) -> Iterator[Problem]:
    """The steps on the card of a mix rest on clauses that speak to that mix."""
    job = found.job
    steps = [entry for entry in job.library.operations.values() if entry.per == "mix"]
    for card in found.sheet.cards:
        path = (card.ref,)
        for entry in steps:
            condition = job.library.condition("operation", entry.id).when
            if condition is not None and condition.holds(job.facts, path) is False:
                continue
            for key in entry.clauses:
                chosen = job.selections.get(key)
                if chosen is not None and not _speaks(chosen.paths, path, job.library.clauses[key].per):
                    mark = job.library.marks.get(("operation", entry.id), Mark(entry.id))
                    what = f"the step '{entry.id}' stands on the card of {card.ref} in {MIX_SCHEDULE}"
                    other = f"and clause '{key}' in {SPECIFICATION} does not speak to {card.ref}"
                    yield Problem(mark, f"{what}, {other}", _TO_DO)


def _speaks(paths: tuple[ScopePath, ...], mix: ScopePath, per: str) -> bool:
    return mix in paths if per == "mix" else bool(paths)


def _rested(found: Printed) -> Iterator[Problem]:
    """No rest is asked of a mix that is spent before it is over."""
    facts = found.job.facts
    fresh = {made.mix.path for made in found.job.measured.batches if made.mix.recipe.making == FRESH}
    told: set[tuple[ScopePath, str]] = set()
    for place, value in found.values:
        if value.name != "mix_rest_days" or value.scope not in fresh or (value.scope, place.part) in told:
            continue
        told.add((value.scope, place.part))
        rest, within = (facts.get(value.scope, name) for name in ("mix_rest_days", "mix_use_within_hours"))
        if isinstance(rest, Decimal) and isinstance(within, Decimal) and rest * _HOURS_A_DAY > within:
            card = Place(MIX_SCHEDULE, value.scope[0])
            spent = facts.spoken(value.scope, "mix_use_within_hours")
            what = f"{place} rests {value.scope[0]} for {value.text}, and it is used within {spent} in {card}"
            yield found.problem(place, what, _TO_DO)


def _grains(found: Printed) -> Iterator[Problem]:
    """The grain that a coat allows is that of the mix it takes."""
    facts = found.job.facts
    for mix in found.job.decisions.mixes:
        grain = facts.get(mix.path, "mix_grain_mm")
        for path in mix.used_for:
            own = facts.get(path, "greatest_grain_mm")
            if own is not None and grain is not None and own != grain:
                place = Place(MIX_SCHEDULE, mix.ref)
                where, told = facts.title(path), facts.spoken(path, "greatest_grain_mm")
                what = f"{mix.ref} has grains to {facts.spoken(mix.path, 'mix_grain_mm')} in {place}"
                yield found.problem(place, f"{what}, and {where}, {path[-1]}, allows {told} in {SPECIFICATION}", _TO_DO)


def _goes(found: Printed) -> Iterator[Problem]:
    """The mix that a coat is told to take is the one that goes there."""
    facts = found.job.facts
    for coat in facts.at("coat"):
        mix, told = found.job.decisions.mix_of(coat.path), facts.spoken(coat.path, "mix_used")
        if mix is not None and told and told != mix.ref:
            place = Place(MIX_SCHEDULE, mix.ref)
            what = f"{facts.title(coat.path)}, {coat.title}, takes {told} in {SPECIFICATION} and {mix.ref} in {place}"
            yield found.problem(place, what, "gather the mixes once")
