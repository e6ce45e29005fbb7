"""Blending the sands on offer, in whole boxes, towards the grading of an old mortar.

Boxes of equal volume are blended; each sand counts by the dry sand that its box holds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.lime.limits import positive
from generator.lime.sand import Grading

Lab = tuple[float, float, float]

BOXES_LIMIT: Final = 20
TRIALS_LIMIT: Final = 50_000  # keeps the search under a few seconds; seven sands in up to ten boxes fit
LEAST_SIEVES: Final = 3


@dataclass(frozen=True, slots=True)
class SandOnOffer:
    """A sand that can be had: its grading, colour as L*, a*, b* where measured, and dry kg in a litre of box.

    Equal `dry_kg_per_l` blends by volume alone; give each its own where the sands weigh or bulk differently.
    """

    name: str
    grading: Grading
    lab: Lab | None = None
    dry_kg_per_l: float = 1.0

    def __post_init__(self) -> None:
        positive(f"dry_kg_per_l of {self.name}", self.dry_kg_per_l)


@dataclass(frozen=True, slots=True)
class SieveResidual:
    """What a blend passes on one sieve, what was wanted, and blend less target in percentage points."""

    sieve_mm: float
    target_per_cent: float
    blend_per_cent: float
    residual_per_cent: float


@dataclass(frozen=True, slots=True)
class Blend:
    """Whole boxes of each sand in the order on offer, their shares, and how far they miss the target.

    `box_shares` and `mass_shares` each sum to one. `mean_passing_per_cent` is the mean over the sieves used:
    the higher, the finer. `colour_distance` is the straight line in L*, a*, b*, None where not asked.
    """

    names: tuple[str, ...]
    boxes: tuple[int, ...]
    box_shares: tuple[float, ...]
    mass_shares: tuple[float, ...]
    residuals: tuple[SieveResidual, ...]
    largest_residual_per_cent: float
    sum_of_squares: float
    mean_passing_per_cent: float
    lab: Lab | None
    colour_distance: float | None


@dataclass(frozen=True, slots=True)
class BlendChoice:
    """The blend chosen by grading, the one colour alone would choose, and whether that one is the finer.

    `sieves_left_out_mm` are sieves of the target that some sand was not tested on.
    """

    by_grading: Blend
    by_colour: Blend | None
    colour_picks_finer: bool
    sieves_left_out_mm: tuple[float, ...]


def choose_blend(
    sands: Sequence[SandOnOffer], target: Grading, *, boxes_at_most: int, target_lab: Lab | None = None
) -> BlendChoice:
    """The whole boxes of each sand that best fit a target grading, and what colour alone would choose.

        least sum over the sieves of (blend passing - target passing)^2
        blend passing = sum over the sands of mass share * passing

    mm and % passing; every total of boxes from 1 to `boxes_at_most` is tried. Ties go to fewer sands, then
    fewer boxes, then the sand offered first. The blend's colour is the mean of L*, a*, b* by mass and its
    distance is straight-line: a rough guide, since colour lies in the fines and a coarse sand counts for too
    much; judge by a panel. Colour alone leads to too fine a sand (NHL producer's sheet, r), hence the flag.

    ValueError for no sands or two of one name, boxes outside 1 to 20, a search over 50 000 trials, fewer than
    3 shared sieves, or a target colour with a sand whose colour is not known. Source: least squares (X), no
    published case. Worked: half and half of two sands is found exactly.

    >>> coarse = SandOnOffer("coarse", Grading.of({2.0: 100, 1.0: 60, 0.5: 20, 0.25: 5}))
    >>> fine = SandOnOffer("fine", Grading.of({2.0: 100, 1.0: 100, 0.5: 80, 0.25: 25}))
    >>> wanted = Grading.of({2.0: 100, 1.0: 80, 0.5: 50, 0.25: 15})
    >>> best = choose_blend([coarse, fine], wanted, boxes_at_most=6).by_grading
    >>> best.boxes, best.largest_residual_per_cent
    ((1, 1), 0.0)
    """
    _check_offer(sands, boxes_at_most, target_lab)
    sieves = [s for s in target.sieves_mm if all(sand.grading.reaches(s) for sand in sands)]
    if len(sieves) < LEAST_SIEVES:
        raise ValueError(f"{len(sieves)} sieves are shared with the target: valid from {LEAST_SIEVES} up")
    box_sets = _box_sets(len(sands), boxes_at_most)
    blends = [_blend(sands, boxes, target, sieves, target_lab) for boxes in box_sets]
    by_grading = _least(blends, lambda blend: blend.sum_of_squares)
    by_colour = None if target_lab is None else _least(blends, _colour_distance)
    return BlendChoice(
        by_grading=by_grading,
        by_colour=by_colour,
        colour_picks_finer=by_colour is not None
        and by_colour.mean_passing_per_cent > by_grading.mean_passing_per_cent + 1e-9,
        sieves_left_out_mm=tuple(s for s in target.sieves_mm if s not in sieves),
    )


def _check_offer(sands: Sequence[SandOnOffer], boxes_at_most: int, target_lab: Lab | None) -> None:
    names = [sand.name for sand in sands]
    if not names or len(set(names)) != len(names):
        raise ValueError(f"the sands on offer are {names}: valid with one at least, each name once")
    if not 1 <= boxes_at_most <= BOXES_LIMIT:
        raise ValueError(f"boxes_at_most is {boxes_at_most}: valid from 1 to {BOXES_LIMIT}")
    trials = math.comb(boxes_at_most + len(sands), len(sands))
    if trials > TRIALS_LIMIT:
        raise ValueError(f"{trials} ways to share {boxes_at_most} boxes: valid up to {TRIALS_LIMIT}")
    unmeasured = [sand.name for sand in sands if sand.lab is None]
    if target_lab is not None and unmeasured:
        raise ValueError(f"no colour is known for {unmeasured}: valid with one for every sand, or none asked")


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


def _least(blends: Sequence[Blend], miss: Callable[[Blend], float]) -> Blend:
    """The blend that misses least; rounding keeps the dust of binary fractions from settling a tie."""

    def rank(blend: Blend) -> tuple[float, int, int, tuple[int, ...]]:
        used = sum(1 for count in blend.boxes if count)
        return round(miss(blend), 9), used, sum(blend.boxes), tuple(-count for count in blend.boxes)

    return min(blends, key=rank)


def _colour_distance(blend: Blend) -> float:
    return math.inf if blend.colour_distance is None else blend.colour_distance


def _blend(
    sands: Sequence[SandOnOffer],
    boxes: tuple[int, ...],
    target: Grading,
    sieves: Sequence[float],
    target_lab: Lab | None,
) -> Blend:
    masses = [count * sand.dry_kg_per_l for count, sand in zip(boxes, sands, strict=True)]
    shares = tuple(mass / math.fsum(masses) for mass in masses)
    residuals = tuple(_residual(sands, shares, target, sieve) for sieve in sieves)
    lab = None if target_lab is None else _mixed_lab(sands, shares)
    return Blend(
        names=tuple(sand.name for sand in sands),
        boxes=boxes,
        box_shares=tuple(count / sum(boxes) for count in boxes),
        mass_shares=shares,
        residuals=residuals,
        largest_residual_per_cent=max((r.residual_per_cent for r in residuals), key=abs),
        sum_of_squares=math.fsum(r.residual_per_cent**2 for r in residuals),
        mean_passing_per_cent=math.fsum(r.blend_per_cent for r in residuals) / len(residuals),
        lab=lab,
        colour_distance=None if lab is None or target_lab is None else math.dist(lab, target_lab),
    )


def _residual(
    sands: Sequence[SandOnOffer], shares: Sequence[float], target: Grading, sieve_mm: float
) -> SieveResidual:
    pairs = zip(shares, sands, strict=True)
    passing = math.fsum(share * sand.grading.passing_per_cent_at(sieve_mm) for share, sand in pairs)
    wanted = target.passing_per_cent_at(sieve_mm)
    return SieveResidual(sieve_mm, wanted, passing, passing - wanted)


def _mixed_lab(sands: Sequence[SandOnOffer], shares: Sequence[float]) -> Lab:
    known = [(share, sand.lab) for share, sand in zip(shares, sands, strict=True) if sand.lab is not None]
    lightness, red, yellow = (math.fsum(share * lab[axis] for share, lab in known) for axis in range(3))
    return lightness, red, yellow
