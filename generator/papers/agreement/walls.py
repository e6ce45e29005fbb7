"""Nothing is required of a wall, work, coat or mix that is not there, or that the clause does not speak to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.document.model import CLAUSE_NUMBERS, Value
from generator.document.outline import values_of
from generator.files.errors import Problem
from generator.papers.agreement.printed import SPECIFICATION, Place, Printed, numbers_told
from generator.papers.agreement.values import PLACES

_TO_DO: Final = "say it where that wall is, or take it out"


def misplaced(found: Printed) -> Iterator[Problem]:
    """Each place that is named and not there, and each clause, step or line that is asked of the wrong one."""
    yield from _unknown(found)
    for key, (place, block) in found.clauses.items():
        if block.used:
            yield from _clause(found, key, place, values_of(block))
    yield from _steps(found)
    yield from _numbered(found)
    yield from _timed(found)


def _unknown(found: Printed) -> Iterator[Problem]:
    """Places that no wall, work or mix of the job is called by."""
    facts, filling = found.job.facts, found.job.filling
    known: dict[str, None] = {}
    for scope in facts.scopes.values():
        known |= dict.fromkeys((filling.place(scope.path), scope.title, f"{scope.title[:1].upper()}{scope.title[1:]}"))
    known |= dict.fromkeys((found.job.word("nothing"), ""))
    for place, value in found.values:
        if value.name not in PLACES or value.text in known:
            continue
        if _rest(value.text, known):
            yield found.problem(place, f"{place} names '{value.text}', and no wall or work is called so", _TO_DO)
        else:
            known[value.text] = None


def _rest(text: str, known: dict[str, None]) -> str:
    """What is left of a list of places once those that are known are taken away."""
    pieces = [piece for piece in text.split("; ") if piece not in known]
    rest = "; ".join(pieces)
    for name in sorted(known, key=len, reverse=True) if rest else ():
        rest = rest.replace(name, "") if name else rest
    return rest.strip("; ")


def _clause(found: Printed, key: str, place: Place, values: list[Value]) -> Iterator[Problem]:
    """The scopes that a clause's own values and table are of, against those that it speaks to."""
    selection = found.job.selections.get(key)
    if selection is None or not selection.included:
        yield found.problem(place, f"{place} stands in the papers and holds nowhere in the job", _TO_DO)
        return
    reach = found.job.reach(key)
    for value in values:
        if value.name != CLAUSE_NUMBERS and not reach.meets(value.scope):
            where = found.job.facts.title(value.scope) if value.scope in found.job.facts.scopes else value.scope
            what = f"{place} gives '{value.name}' of {where}, which it does not speak to"
            yield found.problem(place, what, _TO_DO)


def _steps(found: Printed) -> Iterator[Problem]:
    """The clauses that the steps of a sheet rest on speak to its wall."""
    job = found.job
    for place, ref in found.refs:
        part = place.part
        kind, _, key = ref.anchor.partition(":")
        if place.paper != SPECIFICATION or place.clause or kind != "clause":
            continue
        for path in found.walls.get(part, ()):
            if path in job.facts.scopes and not job.serves(key, path):
                what = f"{place} rests on clause {ref.text} ({key}), which does not speak to {job.facts.title(path)}"
                yield found.problem(place, what, _TO_DO)


def _numbered(found: Printed) -> Iterator[Problem]:
    """The clauses that a line or an index names for a place speak to it."""
    job = found.job
    by_number = {job.numbers.get(f"clause:{key}", ""): key for key in found.clauses}
    for at, value in found.values:
        if value.name != CLAUSE_NUMBERS or value.scope not in job.facts.scopes:
            continue
        for number in numbers_told(value.text):
            key = by_number.get(number)
            if key is not None and not job.serves(key, value.scope):
                what = (
                    f"{at} names clause {number} ({key}) for {job.facts.title(value.scope)}, which it does not speak to"
                )
                yield found.problem(at, what, _TO_DO)


def _timed(found: Printed) -> Iterator[Problem]:
    """Seasons, mixes and findings are of what is in the job."""
    job = found.job
    used = [("the programme", task.path) for task in job.programme.tasks()]
    used += [(mix.ref, path) for mix in job.decisions.mixes for path in mix.used_for]
    used += [(f"the finding '{item.code}'", item.scope) for item in job.findings]
    for what, path in used:
        if path not in job.facts.scopes:
            told = f"{what} is of '{'/'.join(path)}', which is not there"
            yield found.problem(Place(SPECIFICATION), told, _TO_DO)
