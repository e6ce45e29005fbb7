"""Answers that do not go together: each finding names both and the lines they stand on."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from decimal import Decimal
from math import prod
from typing import Final

from generator.decide.model import Outcome, marks_of
from generator.errors import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Facts, ScopePath
from generator.values import Range, spoken

# The first of each pair comes before the second, or on the same day.
_IN_ORDER: Final = (
    ("issue_date", "tender_return_date"),
    ("issue_date", "query_date"),
    ("query_date", "tender_return_date"),
    ("tender_return_date", "start_date"),
    ("start_date", "finish_date"),
    ("late_frost_date", "early_frost_date"),
)
# A day of work, and the frost that it may fall into.
_IN_FROST: Final = (
    ("finish_date", "early_frost_date"),
    ("start_date", "early_frost_date"),
    ("start_date", "late_frost_date"),
)
_OPENING: Final = ("width_m", "height_m", "count_nr")


def dates(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """Dates that run the wrong way."""
    raised: list[Raised] = []
    for first, second in _IN_ORDER:
        one, two = facts.get(path, first), facts.get(path, second)
        if isinstance(one, datetime.date) and isinstance(two, datetime.date) and one > two:
            raised.append(_both("dates-contradict", facts, path, first, second))
    return Outcome(raised=(*raised, *_barred(facts, path), *_frost(facts, path)))


def _barred(facts: Facts, path: ScopePath) -> Iterator[Raised]:
    """Barred dates that end before they begin."""
    name = "barred_dates"
    held = facts.held(path, name)
    for item in held.value if held is not None and isinstance(held.value, tuple) else ():
        if not isinstance(item, dict):
            continue
        first, last = item.get("from"), item.get("to")
        if isinstance(first, datetime.date) and isinstance(last, datetime.date) and first > last:
            label = facts.names[name].label
            fills = (("first", f"{label} ({facts.say(name, first)})"), ("second", facts.say(name, last)))
            yield Raised("dates-contradict", path, fills, (), marks_of(facts, path, name))


def _frost(facts: Facts, path: ScopePath) -> tuple[Raised, ...]:
    start, thaw = facts.get(path, "start_date"), facts.get(path, "late_frost_date")
    if isinstance(start, datetime.date) and isinstance(thaw, datetime.date) and start < thaw:
        return (_both("start-before-late-frost", facts, path, "start_date", "late_frost_date"),)
    return ()


def cold_room(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """Lime placed in an unheated room while frost is reckoned with outside."""
    if facts.get(path, "heating_indoors") != "none" or not facts.inside(path, "coat"):
        return Outcome()
    frosty = next((pair for pair in _IN_FROST if _in_frost(facts, path, *pair)), None)
    return Outcome(raised=(_both("unheated-room", facts, path, *frosty),) if frosty else ())


def _in_frost(facts: Facts, path: ScopePath, worked: str, frost: str) -> bool:
    """Whether a day of work falls on or after the first frost of autumn, or before the last one of spring."""
    day, limit = facts.get(path, worked), facts.get(path, frost)
    if not isinstance(day, datetime.date) or not isinstance(limit, datetime.date):
        return False
    return day < limit if frost == "late_frost_date" else day >= limit


def shares(facts: Facts, path: ScopePath, library: Library) -> Outcome:
    """Parts of a face that are larger than the face itself."""
    face = facts.get(path, "face_area_m2")
    if not isinstance(face, Decimal) or face == 0:
        return Outcome()
    larger = [name for name in ("cement_area_m2", "deep_voids_m2") if _exceeds(facts, path, name, face)]
    raised = [_both("share-contradicts", facts, path, name, "face_area_m2") for name in larger]
    opened = _openings_m2(facts, path)
    if opened > face:
        raised.append(_both("share-contradicts", facts, path, "openings", "face_area_m2", spoken(opened, "m²")))
    return Outcome(raised=tuple(raised))


def _openings_m2(facts: Facts, path: ScopePath) -> Decimal:
    """The area of all openings, whatever their size."""
    total, listed = Decimal(0), facts.get(path, "openings")
    for item in listed if isinstance(listed, tuple) else ():
        sides = [item.get(name, Decimal(1)) for name in _OPENING] if isinstance(item, dict) else []
        numbers = [side for side in sides if isinstance(side, Decimal)]
        if len(numbers) == len(_OPENING):
            total += prod(numbers)
    return total


def _exceeds(facts: Facts, path: ScopePath, name: str, face: Decimal) -> bool:
    part = facts.get(path, name)
    share = facts.get(path, "treated_per_cent") if name == "deep_voids_m2" else None
    limit = face * share.high / 100 if isinstance(share, Range) else face
    return isinstance(part, Decimal) and part > limit


def _both(code: str, facts: Facts, path: ScopePath, first: str, second: str, first_said: str = "") -> Raised:
    said = (first_said or facts.spoken(path, first), facts.spoken(path, second))
    told = [f"{facts.names[name].label} ({text})" for name, text in zip((first, second), said, strict=True)]
    marks = marks_of(facts, path, first, second)
    return Raised(code, path, (("first", told[0]), ("second", told[1])), tuple(told), marks)
