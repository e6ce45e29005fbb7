"""Sands held against the greatest grain that a joint or a coat takes and against the blend that was chosen.

Which sand fails, by what, and what mends it. Confidence of a source: R read, P common practice without a
published source, X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from generator.lime.limits import checked, positive
from generator.lime.sand import Grading
from generator.values import Struct

GrainVerdict = Literal["fits", "too-coarse", "not-known"]
BlendVerdict = Literal["within", "too-coarse", "too-fine", "not-sieved", "not-known"]
Remedy = Literal["none", "sieve", "other-source", "ask"]

SIEVED_SHARE_AT_LEAST: Final = 2.0 / 3.0  # D: where more than a third is sieved off, another sand is cheaper
SIEVED_GRAIN_AT_MOST: Final = 2.0  # D: without a grading, a sand up to twice too coarse may be sieved
BLEND_WITHIN_PER_CENT: Final = 10.0  # D: percentage points on any sieve


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


def sieved(grading: Grading, sieve_mm: float) -> Grading:
    """What is left of a sand that is passed through a sieve.

        passing = passing / passing of the sieve, on that sieve and finer ones

    mm and %. Valid where the grading reaches the sieve, something passes it and one sieve is finer; ValueError
    otherwise. Source: arithmetic (X).

    >>> sieved(Grading.of({4.0: 100, 2.0: 80, 1.0: 40}), 2.0).points
    ((1.0, 50.0), (2.0, 100.0))
    """
    through = positive(f"passing_per_cent at {sieve_mm:g} mm", grading.passing_per_cent_at(sieve_mm))
    finer = {sieve: passing / through * 100.0 for sieve, passing in grading.points if sieve < sieve_mm}
    return Grading.of({**finer, sieve_mm: 100.0})


class BlendPart(Struct, frozen=True):
    """A sand of a blend and its boxes; None for a sand that is named and not on offer."""

    name: str
    boxes: int
    offered: OfferedSand | None


class SieveHeld(Struct, frozen=True):
    """What a blend passes on one sieve and what is wanted, %; blend less wanted, and the sand that drives it."""

    sieve_mm: float
    blend_per_cent: float
    wanted_per_cent: float
    miss_per_cent: float
    driven_by: str


class BlendHeld(Struct, frozen=True):
    """A blend against the greatest grain, sand by sand, and against the grading wanted, at its worst sieve."""

    grains: tuple[GrainHeld, ...]
    not_on_offer: tuple[str, ...]
    worst: SieveHeld | None
    verdict: BlendVerdict

    @property
    def failing(self) -> tuple[GrainHeld, ...]:
        """The sands that do not fit, or of which it is not known."""
        return tuple(held for held in self.grains if held.verdict != "fits")


def blend_held(
    parts: Sequence[BlendPart],
    allowed_mm: float,
    wanted: Grading | None = None,
    *,
    within_per_cent: float = BLEND_WITHIN_PER_CENT,
) -> BlendHeld:
    """Each sand of a blend against the greatest grain, and the whole blend against the grading wanted.

        blend passing = sum of boxes * passing / all boxes;   miss = blend - wanted at its worst sieve

    mm and %, box for box. `driven_by` is the sand that, left out, would mend the worst sieve most. `not-known`
    where no grading is wanted or a sand has none, `not-sieved` where no sieve is shared. Valid for one part at
    least, each of one box at least; ValueError otherwise. Source: arithmetic (X); within 10 points, D.

    >>> coarse = OfferedSand("grit", None, Grading.of({4.0: 100, 2.0: 60, 1.0: 20}))
    >>> fine = OfferedSand("soft", None, Grading.of({4.0: 100, 2.0: 100, 1.0: 90}))
    >>> held = blend_held([BlendPart("grit", 3, coarse), BlendPart("soft", 2, fine)], 2.0)
    >>> held.verdict, [(grain.sand, grain.over_per_cent, grain.remedy) for grain in held.failing]
    ('not-known', [('grit', 40.0, 'other-source')])
    """
    if not parts or min(part.boxes for part in parts) < 1:
        raise ValueError(f"{len(parts)} parts: valid with one at least, each of one box at least")
    checked("within_per_cent", within_per_cent, 0.0, 100.0)
    grains = tuple(grain_held(part.offered or OfferedSand(part.name), allowed_mm) for part in parts)
    missing = tuple(part.name for part in parts if part.offered is None)
    gradings = [(part, part.offered.grading) for part in parts if part.offered and part.offered.grading]
    if wanted is None or len(gradings) < len(parts):
        return BlendHeld(grains, missing, None, "not-known")
    sieves = [s for s in wanted.sieves_mm if all(grading.reaches(s) for _, grading in gradings)]
    if not sieves:
        return BlendHeld(grains, missing, None, "not-sieved")
    worst = max((_sieve_held(gradings, wanted, sieve) for sieve in sieves), key=lambda held: abs(held.miss_per_cent))
    verdict: BlendVerdict = "too-fine" if worst.miss_per_cent > 0.0 else "too-coarse"
    return BlendHeld(grains, missing, worst, "within" if abs(worst.miss_per_cent) <= within_per_cent else verdict)


def _sieve_held(gradings: Sequence[tuple[BlendPart, Grading]], wanted: Grading, sieve_mm: float) -> SieveHeld:
    passing = [(part, grading.passing_per_cent_at(sieve_mm)) for part, grading in gradings]
    blend = _passing(passing)
    target = wanted.passing_per_cent_at(sieve_mm)

    def without(left_out: BlendPart) -> float:
        rest = [item for item in passing if item[0] is not left_out]
        return abs(_passing(rest) - target) if rest else 0.0

    driver = min((part for part, _ in passing), key=without)
    return SieveHeld(sieve_mm, blend, target, blend - target, driver.name)


def _passing(passing: Sequence[tuple[BlendPart, float]]) -> float:
    boxes = sum(part.boxes for part, _ in passing)
    return math.fsum(part.boxes * per_cent for part, per_cent in passing) / boxes
