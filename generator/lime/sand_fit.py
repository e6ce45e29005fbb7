"""Sands held against the greatest grain that a joint or a coat takes.

Which sand fails, by what, and what mends it. Confidence of a source: R read, D a rule proposed here.
"""

from __future__ import annotations

from typing import Final, Literal

from generator.lime.limits import positive
from generator.lime.sand import Grading
from generator.values import Struct

GrainVerdict = Literal["fits", "too-coarse", "not-known"]
Remedy = Literal["none", "sieve", "other-source", "ask"]

SIEVED_SHARE_AT_LEAST: Final = 2.0 / 3.0  # D: where more than a third is sieved off, another sand is cheaper
SIEVED_GRAIN_AT_MOST: Final = 2.0  # D: without a grading, a sand up to twice too coarse may be sieved


class OfferedSand(Struct, frozen=True):
    """A sand on offer: its name, the greatest grain stated for it and its grading, either of them None."""

    name: str
    greatest_mm: float | None = None
    grading: Grading | None = None


class GrainHeld(Struct, frozen=True):
    """A sand against the greatest grain allowed.

    `over_mm` is the greatest grain less the one allowed, `over_per_cent` what does not pass it; None where not
    known. `order_factor` is what is ordered for one part left after sieving; 1 where nothing is sieved.
    """

    sand: str
    allowed_mm: float
    greatest_mm: float | None
    over_mm: float | None
    over_per_cent: float | None
    verdict: GrainVerdict
    remedy: Remedy
    order_factor: float


def greatest_grain_of(grading: Grading) -> float | None:
    """The smallest sieve that all of a sand passes, mm; None where some is kept on its widest.

    >>> greatest_grain_of(Grading.of({4.0: 100, 2.0: 90})), greatest_grain_of(Grading.of({4.0: 95, 2.0: 90}))
    (4.0, None)
    """
    return next((sieve for sieve, passing in grading.points if passing == 100.0), None)


def grain_held(sand: OfferedSand, allowed_mm: float) -> GrainHeld:
    """Whether a sand has a grain larger than is allowed, by how much, and what mends it.

    mm. The grading is believed before the grain stated. Remedy `sieve` where two thirds at least pass or, without
    a grading, where the grain is at most twice too coarse; `other-source` beyond; `ask` where neither is known.
    Valid for a grain above 0; ValueError outside. Source: a sand has no grain over what the joint takes (INFORM
    Repointing Ashlar Masonry, R, as the clause prints it); remedies proposed here (D). Worked: a sand of 0-4 mm of
    which 85 % passes 2 mm is sieved, and 1.18 times as much of it ordered.

    >>> held = grain_held(OfferedSand("pit", 4.0, Grading.of({4.0: 100, 2.0: 85, 1.0: 60})), 2.0)
    >>> held.verdict, held.over_mm, held.over_per_cent, held.remedy, round(held.order_factor, 2)
    ('too-coarse', 2.0, 15.0, 'sieve', 1.18)
    """
    allowed, grading = positive("allowed_mm", allowed_mm), sand.grading
    greatest = sand.greatest_mm if grading is None else greatest_grain_of(grading) or sand.greatest_mm
    over_mm = None if greatest is None else max(0.0, positive("greatest_mm", greatest) - allowed)
    passing = None if grading is None or not grading.reaches(allowed) else grading.passing_per_cent_at(allowed)
    over_per_cent = None if passing is None else 100.0 - passing
    if passing is None and over_mm is None:
        return GrainHeld(sand.name, allowed, greatest, None, None, "not-known", "ask", 1.0)
    if passing == 100.0 or (passing is None and not over_mm):
        return GrainHeld(sand.name, allowed, greatest, 0.0, over_per_cent, "fits", "none", 1.0)
    remedy: Remedy = "sieve" if _worth_sieving(passing, greatest, allowed) else "other-source"
    factor = 100.0 / passing if remedy == "sieve" and passing else 1.0
    return GrainHeld(sand.name, allowed, greatest, over_mm, over_per_cent, "too-coarse", remedy, factor)


def _worth_sieving(passing: float | None, greatest_mm: float | None, allowed_mm: float) -> bool:
    if passing is not None:
        return passing / 100.0 >= SIEVED_SHARE_AT_LEAST
    return greatest_mm is not None and greatest_mm <= SIEVED_GRAIN_AT_MOST * allowed_mm
