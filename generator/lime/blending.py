"""Blending the sands on offer, in whole boxes, towards the grading of an old mortar.

Boxes of equal volume are blended; each sand counts by the dry sand that its box holds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from generator.lime.limits import positive
from generator.lime.sand import Grading
from generator.values import Struct

BOXES_LIMIT: Final = 20
TRIALS_LIMIT: Final = 50_000  # keeps the search under a few seconds; seven sands in up to ten boxes fit
LEAST_SIEVES: Final = 3


class SandOnOffer(Struct, frozen=True):
    """A sand that can be had: its grading, and dry kg in a litre of box.

    Equal `dry_kg_per_l` blends by volume alone; give each its own where the sands weigh or bulk differently.
    """

    name: str
    grading: Grading
    dry_kg_per_l: float = 1.0

    def __post_init__(self) -> None:
        positive(f"dry_kg_per_l of {self.name}", self.dry_kg_per_l)


class SieveResidual(Struct, frozen=True):
    """What a blend passes on one sieve less what was wanted, in percentage points."""

    sieve_mm: float
    residual_per_cent: float


class Blend(Struct, frozen=True):
    """Whole boxes of each sand in the order on offer, and how far they miss the target on each sieve compared.

    `sieves_left_out_mm` are sieves of the target that some sand was not tested on.
    """

    names: tuple[str, ...]
    boxes: tuple[int, ...]
    residuals: tuple[SieveResidual, ...]
    sieves_left_out_mm: tuple[float, ...]

    @property
    def largest_residual(self) -> SieveResidual:
        """The sieve on which the blend misses the target most."""
        return max(self.residuals, key=lambda residual: abs(residual.residual_per_cent))


def choose_blend(sands: Sequence[SandOnOffer], target: Grading, *, boxes_at_most: int) -> Blend:
    """The whole boxes of each sand that best fit a target grading.

        least sum over the sieves of (blend passing - target passing)^2
        blend passing = sum over the sands of mass share * passing

    mm and % passing; every total of boxes from 1 to `boxes_at_most` is tried. Ties go to fewer sands, then
    fewer boxes, then the sand offered first. Colour plays no part: it alone leads to too fine a sand (NHL
    producer's sheet, r).

    ValueError for no sands or two of one name, boxes outside 1 to 20, a search over 50 000 trials, or fewer
    than 3 shared sieves. Source: least squares (X), no published case. Worked: half and half of two sands is
    found exactly.

    >>> coarse = SandOnOffer("coarse", Grading.of({2.0: 100, 1.0: 60, 0.5: 20, 0.25: 5}))
    >>> fine = SandOnOffer("fine", Grading.of({2.0: 100, 1.0: 100, 0.5: 80, 0.25: 25}))
    >>> wanted = Grading.of({2.0: 100, 1.0: 80, 0.5: 50, 0.25: 15})
    >>> best = choose_blend([coarse, fine], wanted, boxes_at_most=6)
    >>> best.boxes, best.largest_residual.residual_per_cent
    ((1, 1), 0.0)
    """
    _check_offer(sands, boxes_at_most)
    sieves = [s for s in target.sieves_mm if all(sand.grading.reaches(s) for sand in sands)]
    if len(sieves) < LEAST_SIEVES:
        raise ValueError(f"{len(sieves)} sieves are shared with the target: valid from {LEAST_SIEVES} up")
    return min((_blend(sands, boxes, target, sieves) for boxes in _box_sets(len(sands), boxes_at_most)), key=_rank)


def _check_offer(sands: Sequence[SandOnOffer], boxes_at_most: int) -> None:
    names = [sand.name for sand in sands]
    if not names or len(set(names)) != len(names):
        raise ValueError(f"the sands on offer are {names}: valid with one at least, each name once")
    if not 1 <= boxes_at_most <= BOXES_LIMIT:
        raise ValueError(f"boxes_at_most is {boxes_at_most}: valid from 1 to {BOXES_LIMIT}")
    trials = math.comb(boxes_at_most + len(sands), len(sands))
    if trials > TRIALS_LIMIT:
        raise ValueError(f"{trials} ways to share {boxes_at_most} boxes: valid up to {TRIALS_LIMIT}")


def _box_sets(kinds: int, boxes_at_most: int) -> Iterator[tuple[int, ...]]:
    """Every way to share out up to so many boxes, each proportion once, in its smallest numbers."""
    for total in range(1, boxes_at_most + 1):
        for boxes in _shared_out(kinds, total):
            if math.gcd(*boxes) == 1:
                yield boxes


def _shared_out(kinds: int, total: int) -> Iterator[tuple[int, ...]]:
    if kinds == 1:
        yield (total,)
        return
    for first in range(total, -1, -1):
        for rest in _shared_out(kinds - 1, total - first):
            yield (first, *rest)


def _rank(blend: Blend) -> tuple[float, int, int, tuple[int, ...]]:
    """The less, the better; rounding keeps the dust of binary fractions from settling a tie."""
    miss = math.fsum(residual.residual_per_cent**2 for residual in blend.residuals)
    used = sum(1 for count in blend.boxes if count)
    return round(miss, 9), used, sum(blend.boxes), tuple(-count for count in blend.boxes)


def _blend(sands: Sequence[SandOnOffer], boxes: tuple[int, ...], target: Grading, sieves: Sequence[float]) -> Blend:
    masses = [count * sand.dry_kg_per_l for count, sand in zip(boxes, sands, strict=True)]
    shares = tuple(mass / math.fsum(masses) for mass in masses)
    return Blend(
        names=tuple(sand.name for sand in sands),
        boxes=boxes,
        residuals=tuple(_residual(sands, shares, target, sieve) for sieve in sieves),
        sieves_left_out_mm=tuple(sieve for sieve in target.sieves_mm if sieve not in sieves),
    )


def _residual(sands: Sequence[SandOnOffer], shares: Sequence[float], target: Grading, sieve_mm: float) -> SieveResidual:
    pairs = zip(shares, sands, strict=True)
    passing = math.fsum(share * sand.grading.passing_per_cent_at(sieve_mm) for share, sand in pairs)
    return SieveResidual(sieve_mm, passing - target.passing_per_cent_at(sieve_mm))
