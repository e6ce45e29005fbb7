"""Every value of one name and scope is printed alike: as it was answered or reckoned, in a form that it can have."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from functools import partial

from generator.document.model import CLAUSE_NUMBERS, LINE_NUMBERS, Value
from generator.files.errors import Problem
from generator.library.text import FILTERS
from generator.papers.agreement.printed import MIX_SCHEDULE, Place, Printed
from generator.questionnaire.facts import Facts
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, month_day_short, plain, rounded, spoken

PLACES = ("element_name", "work_name")
"""The names of values that are scopes as a reader finds them."""

_NUMBERS = (CLAUSE_NUMBERS, LINE_NUMBERS)
_FORMS = ("", *FILTERS)
_TO_DO = "have both say what was answered or reckoned, by its name"


def unlike(found: Printed) -> Iterator[Problem]:
    """Each value that is not spelt as its fact is, with another place where it stands."""
    facts, library = found.job.facts, found.job.library
    settled = {library.words.get(key, "") for key in ("to-be-settled", "nothing")}
    figures = library.figures
    alike: dict[tuple[str, ScopePath, str], bool] = {}
    for place, value in found.values:
        if value.name in PLACES or value.name in _NUMBERS or not value.text:
            continue
        key = (value.name, value.scope, value.text)
        if key not in alike:
            figure = figures.get(value.name)
            told = set(map(figure.spelt, _FORMS)) if figure else set()
            alike[key] = value.text in told if figure else _is_alike(facts, value, settled)
        if not alike[key]:
            yield _problem(found, place, value)
    yield from _used_by(found)


def unsettled(found: Printed) -> Iterator[Problem]:
    """Each value worked out that papers for tender leave to be settled; an answer that lacks has its finding."""
    if found.job.status == "draft":
        return
    asked = found.job.library.questionnaire.questions
    for place, name in dict.fromkeys(found.unsettled):
        if name not in asked:
            what = f"{place} is for tender, and tells '{name or 'a value'}' as still to be settled"
            yield found.problem(place, what, "work it out there too, or say it only where it is known")


def _is_alike(facts: Facts, value: Value, settled: set[str]) -> bool:
    if value.name not in facts.names or value.scope not in facts.scopes:
        return False
    if value.text == facts.spoken(value.scope, value.name):
        return True
    open_ = facts.get(value.scope, value.name) is None and value.text in settled
    return open_ or value.text in spellings(facts, value.scope, value.name)


def spellings(facts: Facts, path: ScopePath, name: str) -> set[str]:
    """All the ways in which papers may spell a value seen from a scope: whole, without its unit, an end of a range.

    What belongs to scopes inside is told for all of them in a row. A quantity is told to a tenth of its unit, and a day
    may stand without its year.
    """
    held = facts.held(path, name)
    if held is None:
        inside = (facts.spoken(scope.path, name) for scope in facts.inside(path, facts.names[name].scope))
        told = list(dict.fromkeys(filter(None, inside)))
        return {", ".join(told), " / ".join(told), *_ends(facts, path, name)} if told else set()
    value = held.value
    unit, spelling = facts.names[name].unit, facts.spelling
    found = {facts.say(name, value)}
    if spelling.keeps(unit):
        found.add(spoken(value, spelling=spelling))
    if isinstance(value, tuple):
        found |= {str(field) for item in value if isinstance(item, dict) for field in item.values()}
    if isinstance(value, datetime.date):
        found.add(month_day_short(value, facts.date_form))
    if isinstance(value, Range):
        ends = [facts.say(name, end) for end in (value.low, value.high)]
        found |= {*ends, spelling.run(value, partial(facts.say, name))}
    amount = value.likely if isinstance(value, Range) else value
    if isinstance(amount, Decimal):
        alone = (plain(spelling.quantity(amount, unit)), facts.alone(name, rounded(amount, 1)))
        found |= {*alone, facts.say(name, rounded(amount, 1))}
    return found | {f"{text[:1].upper()}{text[1:]}" for text in found}


def _ends(facts: Facts, path: ScopePath, name: str) -> set[str]:
    """The first and the last of the days of the scopes inside, where they are days: what holds for them all."""
    values = (facts.get(scope.path, name) for scope in facts.inside(path, facts.names[name].scope))
    days = [value for value in values if isinstance(value, datetime.date)]
    return {facts.say(name, end(days)) for end in (min, max)} if days else set()


def _problem(found: Printed, place: Place, value: Value) -> Problem:
    facts, figure = found.job.facts, found.job.library.figures.get(value.name)
    if figure is not None:
        what = (
            f"'{value.name}' is printed as '{value.text}' in {place}, and stands as '{figure.spelt()}' at {figure.mark}"
        )
        return found.problem(place, what, _TO_DO)
    if value.name not in facts.names:
        return found.problem(place, f"{place} prints '{value.text}' as '{value.name}', which is no name", _TO_DO)
    if value.scope not in facts.scopes:
        where = "/".join(value.scope)
        return found.problem(place, f"{place} prints '{value.name}' of '{where}', which is not there", _TO_DO)
    label = f"'{value.name}' of {facts.title(value.scope)}"
    right = facts.spoken(value.scope, value.name) or "nothing"
    other = next((at for at, item in found.values if _same(item, value) and item.text != value.text), None)
    there = f"as '{right}' in {other}" if other else f"and is '{right}' by answers and reckoning"
    return found.problem(place, f"{label} is printed as '{value.text}' in {place}, {there}", _TO_DO)


def _same(item: Value, value: Value) -> bool:
    return item.name == value.name and item.scope == value.scope


def _used_by(found: Printed) -> Iterator[Problem]:
    """The huge words of a card, which are no values: how long its mix may be used."""
    words = {text for key, text in found.job.library.words.items() if key.startswith("card-use-")}
    for card in found.sheet.cards:
        told = found.job.facts.spoken((card.ref,), "mix_use_within_hours")
        if card.use_by != told and card.use_by not in words:
            place = Place(MIX_SCHEDULE, card.ref)
            what = f"{card.ref} is used within '{card.use_by}' in {place}, and 'mix_use_within_hours' is '{told}'"
            yield found.problem(place, what, _TO_DO)
