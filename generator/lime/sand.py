"""Sand: bulking, dry and damp volumes, voids, gradings and the greatest grain for a joint.

Confidence of a source: R read, r read in a weak copy, M from memory, X computed from the figures named.
Bulking is the growth of damp sand over the same sand loose and dry, as a share of the dry volume.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final, Literal

from generator.lime.limits import checked, positive
from generator.values import Struct

BULKING_SHARE_LIMITS: Final = (0.0, 0.50)
MOISTURE_SHARE_LIMITS: Final = (0.0, 0.20)
VOID_SHARE_LIMITS: Final = (0.20, 0.60)

# The nest on which a fineness modulus is summed: the metric base set (M).
METRIC_SIEVES_MM: Final = (4.0, 2.0, 1.0, 0.50, 0.25, 0.125)


def bulking_share(damp_height_mm: float, flooded_height_mm: float) -> float:
    """The bulking of a sand from the jar test: its height damp and loose, then flooded and stirred.

        bulking = (damp - flooded) / flooded

    A share; any one unit of height. Valid for flooded above 0 and bulking 0 to 0.50; ValueError outside.
    Source: three handbooks (R); flooded sand stands as dry sand does (cement technical note T-15, R).

    >>> bulking_share(125.0, 100.0)
    0.25
    """
    flooded = positive("flooded_height_mm", flooded_height_mm)
    share = (positive("damp_height_mm", damp_height_mm) - flooded) / flooded
    return checked("bulking_share", share, *BULKING_SHARE_LIMITS)


def _grown(share: float) -> float:
    return 1.0 + checked("bulking_share", share, *BULKING_SHARE_LIMITS)


def loose_dry_l(damp_l: float, bulking_share: float) -> float:
    """The litres of loose dry sand that damp sand holds.

        dry = damp / (1 + bulking)

    l. Valid for bulking 0 to 0.50; ValueError outside. Source: arithmetic (X). Worked: 3 l at 25 % are 2.4 l.

    >>> round(loose_dry_l(3.0, 0.25), 3)
    2.4
    """
    return checked("damp_l", damp_l, 0.0) / _grown(bulking_share)


def damp_l(loose_dry_l: float, bulking_share: float) -> float:
    """The litres that loose dry sand fills when damp.

        damp = dry * (1 + bulking)

    l. Valid for bulking 0 to 0.50; ValueError outside. Source: cement technical note T-15 (R).

    >>> damp_l(2.4, 0.25)
    3.0
    """
    return checked("loose_dry_l", loose_dry_l, 0.0) * _grown(bulking_share)


def true_sand_parts(binder_boxes: float, damp_sand_boxes: float, bulking_share: float) -> float:
    """The parts of loose dry sand to one of binder that a gauge of damp boxes truly is.

        parts = damp boxes / (1 + bulking) / binder boxes

    Parts by volume. Valid for binder above 0, bulking 0 to 0.50; ValueError outside. Source: arithmetic (X).
    Worked: nominal 1 : 3 is truly 1 : 2.6, 2.4, 2.3 at 15, 25, 30 %.

    >>> true_sand_parts(2.0, 5.0, 0.25)
    2.0
    """
    return loose_dry_l(damp_sand_boxes, bulking_share) / positive("binder_boxes", binder_boxes)


def void_share(bulk_kg_per_l: float, particle_kg_per_l: float) -> float:
    """The share of a volume of dry sand that is void, from its weight.

        voids = 1 - bulk / particle

    A share; kg/l. Valid for bulk above 0 and below the particle density; ValueError outside. Source:
    arithmetic (X). Worked: 1.55 against 2.65 is 41.5 % void.

    >>> round(void_share(1.55, 2.65), 3)
    0.415
    """
    bulk = positive("bulk_kg_per_l", bulk_kg_per_l)
    if not bulk < particle_kg_per_l < math.inf:
        raise ValueError(f"particle_kg_per_l is {particle_kg_per_l}: valid above the bulk density of {bulk}")
    return 1.0 - bulk / particle_kg_per_l


def void_share_by_water(water_l: float, vessel_l: float) -> float:
    """The void share of dry sand sprinkled into water until both reach the brim.

        voids = water / vessel

    A share; l. Valid for 0 < water < vessel; ValueError outside. Pouring water on sand traps air and reads
    low. Source: Treatise on Masonry Construction 1909 (R).

    >>> void_share_by_water(0.4, 1.0)
    0.4
    """
    share = positive("water_l", water_l) / positive("vessel_l", vessel_l)
    if share >= 1.0:
        raise ValueError(f"water_l is {water_l}: valid above 0 and below the vessel of {vessel_l}")
    return share


def lean_limit_sand_parts(void_share: float) -> float:
    """The parts of dry sand to one of lime paste at which the paste just fills the voids.

        parts = 1 / voids

    Parts by volume: the most sand, so the least lime; leaner leaves holes. Valid for voids 0.20 to
    0.60; ValueError outside. Source: arithmetic (X). Worked: 40 % voids, 1 : 2.5; 33 %, 1 : 3.

    >>> lean_limit_sand_parts(0.40)
    2.5
    """
    return 1.0 / checked("void_share", void_share, *VOID_SHARE_LIMITS)


class Grading(Struct, frozen=True):
    """The % of a sand that passes each sieve, sieves from fine to coarse; never less through the wider."""

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError(f"a grading has {len(self.points)} sieves: valid with 2 or more")
        for sieve_mm, per_cent in self.points:
            positive("sieve_mm", sieve_mm)
            checked(f"passing_per_cent at {sieve_mm:g} mm", per_cent, 0.0, 100.0)
        for (finer_mm, below), (wider_mm, above) in pairwise(self.points):
            if not finer_mm < wider_mm:
                raise ValueError(f"sieve {wider_mm:g} mm follows {finer_mm:g} mm: valid from fine to coarse")
            if below > above:
                raise ValueError(
                    f"{below:g} % passes {finer_mm:g} mm: valid up to {above:g}, what passes {wider_mm:g} mm"
                )

    @classmethod
    def of(cls, passing_per_cent: Mapping[float, float]) -> Grading:
        """A grading from sieve in mm -> % passing, in any order."""
        return cls(tuple(sorted(passing_per_cent.items())))

    @property
    def sieves_mm(self) -> tuple[float, ...]:
        """The sieves from fine to coarse."""
        return tuple(sieve for sieve, _ in self.points)

    def reaches(self, sieve_mm: float) -> bool:
        """Whether the passing of a sieve can be told: on or between sieves, or above one that all passes."""
        least, (widest, most) = self.points[0][0], self.points[-1]
        return least <= sieve_mm <= widest or (sieve_mm > widest and most == 100.0)

    def passing_per_cent_at(self, sieve_mm: float) -> float:
        """The % passing a sieve, read on a straight line over the logarithm of size between two sieves.

        Above the widest sieve it is 100 where all passes that; ValueError where the grading does not reach.
        """
        if not self.reaches(sieve_mm):
            low, high = self.sieves_mm[0], self.sieves_mm[-1]
            raise ValueError(f"sieve_mm is {sieve_mm}: valid from {low:g} to {high:g}, its sieves")
        for (finer, below), (wider, above) in pairwise(self.points):
            if sieve_mm == finer:
                return below
            if finer < sieve_mm < wider:
                return below + (above - below) * math.log(sieve_mm / finer) / math.log(wider / finer)
        return self.points[-1][1]


def fineness_modulus(grading: Grading, sieves_mm: Sequence[float]) -> float:
    """The fineness modulus of a sand on the nest named: the higher, the coarser.

        modulus = sum of (100 - % passing) over the sieves / 100

    No unit; only figures on one nest compare. A sieve between two of the grading is read by interpolation.
    ValueError where the grading does not reach a sieve. Worked (X): the middle of the general sand of BS 1200.

    >>> general = Grading.of({5.0: 100, 2.36: 95, 1.18: 85, 0.60: 70, 0.30: 37.5, 0.15: 7.5})
    >>> fineness_modulus(general, general.sieves_mm)
    2.05
    """
    if len(set(sieves_mm)) != len(sieves_mm) or not sieves_mm:
        raise ValueError(f"sieves_mm is {tuple(sieves_mm)}: valid with each sieve once, one at least")
    return sum(100.0 - grading.passing_per_cent_at(sieve) for sieve in sieves_mm) / 100.0


def greatest_grain_mm(least_joint_width_mm: float, share_of_joint: float) -> float:
    """The greatest grain that a joint takes, from its least width.

        grain = share * least width

    mm. The rule is the caller's: a third (INFORM Repointing Ashlar Masonry, R; general rule of thumb, r) or
    a half (wide rubble joints, M). Valid for width above 0, share above 0 to 0.5; ValueError outside. Worked:
    a least width of 9 mm takes 3 mm.

    >>> round(greatest_grain_mm(9.0, 1 / 3), 3)
    3.0
    """
    share = checked("share_of_joint", positive("share_of_joint", share_of_joint), 0.0, 0.5)
    return share * positive("least_joint_width_mm", least_joint_width_mm)


class Envelope(Struct, frozen=True):
    """A published grading: the least and most % passing for each sieve, and where it is printed."""

    name: str
    source: str
    limits: tuple[tuple[float, float, float], ...]

    def __post_init__(self) -> None:
        for sieve_mm, low, high in self.limits:
            positive("sieve_mm", sieve_mm)
            if not 0.0 <= low <= high <= 100.0:
                raise ValueError(f"{sieve_mm:g} mm passes {low:g} to {high:g} %: valid 0 to 100, low first")


EnvelopeVerdict = Literal["within", "too coarse", "too fine", "not sieved"]


class EnvelopeRow(Struct, frozen=True):
    """One sieve of a grading against an envelope."""

    sieve_mm: float
    passing_per_cent: float | None
    low_per_cent: float
    high_per_cent: float
    verdict: EnvelopeVerdict


def check_envelope(grading: Grading, envelope: Envelope) -> tuple[EnvelopeRow, ...]:
    """A grading against a published envelope, sieve by sieve, limits included.

    mm and % passing. A sieve that the grading does not reach is "not sieved", never taken as within. A sand
    outside may still be accepted on its mortar's tests (Masonry Construction magazine, R). Worked (X):

    >>> sand = Grading.of({2.36: 100, 0.60: 80, 0.15: 20})
    >>> [row.verdict for row in check_envelope(sand, Envelope("x", "x", ((0.60, 40, 100), (0.15, 0, 15))))]
    ['within', 'too fine']
    """
    return tuple(_envelope_row(grading, *limit) for limit in envelope.limits)


def _envelope_row(grading: Grading, sieve_mm: float, low: float, high: float) -> EnvelopeRow:
    if not grading.reaches(sieve_mm):
        return EnvelopeRow(sieve_mm, None, low, high, "not sieved")
    passing = grading.passing_per_cent_at(sieve_mm)
    verdict: EnvelopeVerdict = "within"
    if passing < low:
        verdict = "too coarse"
    elif passing > high:
        verdict = "too fine"
    return EnvelopeRow(sieve_mm, passing, low, high, verdict)
