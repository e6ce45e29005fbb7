"""Answers that do not go together: each finding names both and the lines they stand on."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from generator.decide.model import Outcome
from generator.library.findings import Raised
from generator.library.model import Library
from generator.questionnaire.facts import Record, View
from generator.values import spoken

# The first of each pair comes before the second, or on the same day.
_IN_ORDER: Final = (
    ("issue_date", "tender_return_date"),
    ("issue_date", "query_date"),
    ("query_date", "tender_return_date"),
    ("tender_return_date", "start_date"),
    ("start_date", "finish_date"),
)

_NEARLY_ALL: Final = Decimal("0.9")
_COATS: Final = ("lime-plaster", "gypsum-plaster", "cement-render")


def dates(here: View, library: Library) -> Outcome:
    """Dates that run the wrong way."""
    raised = [_both("dates-contradict", here, *pair) for pair in _IN_ORDER if _after(here, *pair)]
    return Outcome(raised=(*raised, *_barred(here)))


def _after(here: View | Record, first: str, second: str) -> bool:
    """Whether the first of two dates comes after the second."""
    one, two = here.day(first), here.day(second)
    return one is not None and two is not None and one > two


def _barred(here: View) -> Iterator[Raised]:
    """Barred dates that end before they begin."""
    name = "barred_dates"
    for item in here.records(name):
        if _after(item, "from", "to"):
            first, second = (here.facts.say(name, item.values[end]) for end in ("from", "to"))
            fills = (("first", f"{here.facts.names[name].label} ({first})"), ("second", second))
            yield Raised("dates-contradict", here.path, fills, (), here.marks(name))


def depths(here: View, library: Library) -> Outcome:
    """Joints all lost deeper than they are raked, of which fewer are to be packed as deep ones."""
    lost, depth, deep = here.span("joint_depth_lost_mm"), here.number("deep_from_mm"), here.number("deep_voids_m2")
    face, share = here.number("face_area_m2"), here.span("treated_per_cent")
    if lost is None or depth is None or deep is None or face is None or share is None or lost.low < depth:
        return Outcome()
    if deep >= face * share.low / 100 * _NEARLY_ALL:
        return Outcome()
    return Outcome(raised=(_both("deep-less-than-lost", here, "joint_depth_lost_mm", "deep_voids_m2"),))


def shares(here: View, library: Library) -> Outcome:
    """Parts of a face that are larger than the face itself."""
    face = here.number("face_area_m2")
    if not face:
        return Outcome()
    larger = [name for name in ("cement_area_m2", "deep_voids_m2", "new_laths_m2") if _exceeds(here, name, face)]
    raised = [_both("share-contradicts", here, name, "face_area_m2") for name in larger]
    opened = openings_m2(here)
    if opened > face:
        raised.append(
            _both("share-contradicts", here, "openings", "face_area_m2", spoken(opened, "m²", here.facts.spelling))
        )
    return Outcome(raised=tuple(raised))


def laths(here: View, library: Library) -> Outcome:
    """New laths all over, where no work of the wall takes off what hangs there."""
    new, area = here.number("new_laths_m2"), here.number("face_area_m2")
    if not new or not area or new < area * _NEARLY_ALL or new > area:
        return Outcome()
    if any(work.text("removed") in _COATS for work in here.around("element").inside("work")):
        return Outcome()
    return Outcome(raised=(_both("laths-under-old-plaster", here, "new_laths_m2", "face_area_m2"),))


def openings_m2(here: View, above_m2: Decimal = Decimal(0)) -> Decimal:
    """The area of the openings of which one is above a size; of all of them without it."""
    total = Decimal(0)
    for item in here.records("openings"):
        width, height, count = (item.number(name) for name in ("width_m", "height_m", "count_nr"))
        if width is not None and height is not None and width * height > above_m2:
            total += width * height * (1 if count is None else count)
    return total


def _exceeds(here: View, name: str, face: Decimal) -> bool:
    part = here.number(name)
    share = here.span("treated_per_cent") if name == "deep_voids_m2" else None
    return part is not None and part > (face if share is None else face * share.high / 100)


def _both(code: str, here: View, first: str, second: str, first_said: str = "") -> Raised:
    said = (first_said or here.spoken(first), here.spoken(second))
    told = [f"{here.facts.names[name].label} ({text})" for name, text in zip((first, second), said, strict=True)]
    marks = here.marks(first, second)
    return Raised(code, here.path, (("first", told[0]), ("second", told[1])), tuple(told), marks)
