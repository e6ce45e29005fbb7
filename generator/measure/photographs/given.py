"""What photographs give walls and works: values with their reasons, ready to be added to the facts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from generator.decide.model import Reason
from generator.library.model import Library
from generator.lime.plane_limits import refuses
from generator.lime.plane_reckoning import Length, Quantity
from generator.measure.photographs.model import AREA, JOINT, ON
from generator.measure.photographs.reckoning import PhotographFigures, WorkArea, area_range
from generator.measure.photographs.told import letters_told, per_cent
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, Value, joined, rounded, spoken

# What the reckoning rests on.
_SOURCES: Final = ("criminisi-1997", "hartley-zisserman-2004", "jcgm-100", "tommaselli-2000")

Given = tuple[ScopePath, dict[str, Value], Reason]
"""Values of a scope, and why they are what they are."""


def given(found: Sequence[PhotographFigures], works: Sequence[WorkArea], library: Library) -> Iterator[Given]:
    """What photographs give, scope by scope."""
    yield from _of_works(works, found, library)
    yield from _of_joints(found, library)


def length_range(length: Length) -> Range[Decimal]:
    """A length with twice its uncertainty either way, to a tenth of a millimetre."""
    ends = (length.length_mm + way * 2.0 * length.sigma_mm for way in (-1, 0, 1))
    low, likely, high = (max(Decimal(0), rounded(end, 1)) for end in ends)
    return Range(low, likely, high)


def _of_works(works: Sequence[WorkArea], found: Sequence[PhotographFigures], library: Library) -> Iterator[Given]:
    for work in works:
        on = told_on(work.on, library)
        facts = tuple(line for one in found for line in _told(one, work.work, library))
        because = library.reckoned[AREA].how
        values: dict[str, Value] = {ON: on}
        if work.spread is not None:
            values[AREA] = work.spread
        yield work.work, values, Reason("photographs", because, _SOURCES, "derived", "", facts)


def told_on(on: Sequence[tuple[str, tuple[str, ...]]], library: Library) -> str:
    """Photographs with the letters of areas on them: `F1 (A and B) and F2 (A)`."""
    told = [library.phrase("photograph-letters", photograph=key, letters=letters_told(them)) for key, them in on]
    return joined(told)


def _told(one: PhotographFigures, path: ScopePath, library: Library) -> Iterator[str]:
    """What one photograph gives a work, with what its doubt is made of."""
    reckoned = one.works.get(path)
    if reckoned is None or reckoned.offered is None:
        return
    letters = letters_told(area.letter for area in one.picture.asked.of_work(path))
    spread = area_range(reckoned.offered)
    yield library.phrase(
        "photograph-gives",
        photograph=one.id,
        letters=letters,
        area=spoken(spread.likely, "m²"),
        range=spoken(spread, "m²"),
        **doubts(reckoned.offered),
    )


def doubts(quantity: Quantity) -> dict[str, str]:
    """What the doubt of an area is made of, each spelt: picks and tape one sigma, lens and depth bounds."""
    parts = quantity.parts
    shares = {name: getattr(parts, name) for name in ("corners", "vertices", "tape", "lens", "depth")}
    return {name: per_cent(share) for name, share in {**shares, "sigma": quantity.sigma_share}.items()}


def _of_joints(found: Sequence[PhotographFigures], library: Library) -> Iterator[Given]:
    """The joint of a wall by the surest of its figures."""
    best: dict[ScopePath, tuple[float, PhotographFigures, Length]] = {}
    for one in found:
        for joint in one.joints:
            if joint.width is None or refuses(joint.width.told):
                continue
            path = one.picture.asked.element
            if path not in best or joint.width.sigma_mm < best[path][0]:
                best[path] = (joint.width.sigma_mm, one, joint.width)
    for path, (_, one, width) in best.items():
        told = library.phrase("photograph-joint", photograph=one.id, width=spoken(length_range(width), "mm"))
        yield (
            path,
            {JOINT: length_range(width)},
            Reason("photographs", library.reckoned[JOINT].how, _SOURCES, "derived", "", (told,)),
        )
