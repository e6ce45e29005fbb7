"""True gauges in whole steps of a measure: the boxes or jugs of a batch, and the mortar that they make.

Steps are whole, half and quarter boxes, by lines in the box, then a jug of a litre with half lines. Counts are
exact fractions, since they are counted on site; everything else is float. Confidence of a source: R read,
P common practice without a published source, X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import ClassVar, Final, Literal

from generator.lime.limits import checked, positive
from generator.lime.mortar import void_filling_yield
from generator.lime.sand import BULKING_SHARE_LIMITS, loose_dry_l
from generator.values import Range, Struct

Measure = Literal["whole", "half", "quarter", "jug"]
SandState = Literal["damp", "dry", "flooded"]
YieldBy = Literal["published", "voids", "volumes"]

STEP_OF: Final[dict[Measure, Fraction]] = {
    "whole": Fraction(1), "half": Fraction(1, 2), "quarter": Fraction(1, 4), "jug": Fraction(1, 2),
}  # fmt: skip
"""The least step of a measure: in boxes, of the jug in jugs (P), from the coarsest to the finest."""

LEAST_BATCH_L: Final = 6.0  # P: bucket and whisk; below it half a jug line errs by over a tenth of the lime
GAUGE_ERROR_SHARE: Final = 0.015  # D: how far a gauge may be neared where no small numbers are it exactly
PARTS_AT_MOST: Final = 20
JUG_L: Final = 1.0  # P: a quart where litres are not measured by
DUST: Final = 1e-9  # of binary fractions


class BatchError(ValueError):
    """Why nothing can be counted; `code` names it, the message tells the figures."""

    code: ClassVar[str] = "not-counted"


class GaugeNotCounted(BatchError):
    """No small numbers of parts come near the gauge."""

    code = "gauge-not-counted"


class MixerTooSmall(BatchError):
    """The mixer does not hold the gauge once, even by the jug."""

    code = "mixer-too-small"


def simplest_fraction(value: float) -> Fraction:
    """The fraction in the smallest numbers that is a value exactly or, where none is, within 1.5 % of it.

    Valid above 0; GaugeNotCounted where no denominator up to 20 comes as near. Source: arithmetic (X), the
    1.5 % a rule proposed here (D). Worked: a recipe's 0.33 boxes of sand are a third.

    >>> simplest_fraction(2.5), simplest_fraction(1.6), simplest_fraction(0.33)
    (Fraction(5, 2), Fraction(8, 5), Fraction(1, 3))
    """
    wanted = positive("value", value)
    near = [Fraction(round(wanted * below), below) for below in range(1, PARTS_AT_MOST + 1)]
    for most in (1e-6, GAUGE_ERROR_SHARE):
        for fraction in near:
            if abs(float(fraction) / wanted - 1.0) <= most:
                return fraction
    raise GaugeNotCounted(f"no fraction of {PARTS_AT_MOST} parts or fewer is within 1.5 % of {value:g}")


class TrueGauge(Struct, frozen=True):
    """A gauge in its smallest whole numbers of one measure: lime, pozzolan within the binder, each sand in turn.

    `error_share` is how far the sand to the binder lies from the ratio wanted, 0 where it is kept.
    """

    lime: int
    sands: tuple[int, ...]
    pozzolan: int = 0
    error_share: float = 0.0


def true_gauge(sand_parts: float, *, blend: Sequence[int] = (1,), pozzolan_share_of_binder: float = 0.0) -> TrueGauge:
    """A gauge of so many parts of sand to one of binder, in the smallest whole numbers that split every part.

        lime = 1 - pozzolan share;   each sand = parts * its blend part / all blend parts;   times their common
        multiple

    Parts by volume, all in one state of the sand; `blend` shares the sand out, as (3, 2). Valid for parts
    above 0, blend parts of at least 1, a pozzolan of 0 to half the binder; ValueError outside, GaugeNotCounted
    where no small numbers come near. Source: arithmetic (X). Worked: 1 : 2.5 is 2 : 5, with sands 3 : 2
    2 : (3 + 2); a binder that is an eighth pozzolan is 7 lime, 1 pozzolan to 20 sand.

    >>> true_gauge(2.5, blend=(3, 2)).sands, true_gauge(2.0, blend=(3, 2)).sands
    ((3, 2), (6, 4))
    >>> true_gauge(2.5, pozzolan_share_of_binder=0.125)
    TrueGauge(lime=7, sands=(20,), pozzolan=1, error_share=0.0)
    """
    if not blend or min(blend) < 1:
        raise ValueError(f"blend is {tuple(blend)}: valid with one part at least for each sand")
    share = checked("pozzolan_share_of_binder", pozzolan_share_of_binder, 0.0, 0.5)
    sand, pozzolan = simplest_fraction(sand_parts), simplest_fraction(share) if share else Fraction(0)
    parts = [1 - pozzolan, pozzolan, *(sand * part / sum(blend) for part in blend)]
    multiple = math.lcm(*(part.denominator for part in parts))
    whole = [int(part * multiple) for part in parts]
    lime, gauged_pozzolan, *sands = (part // math.gcd(*whole) for part in whole)
    return TrueGauge(lime, tuple(sands), gauged_pozzolan, _less_dust(float(sand) / sand_parts - 1.0))


def _less_dust(share: float) -> float:
    return share if abs(share) > 1e-6 else 0.0


class PublishedYield(Struct, frozen=True):
    """Mortar to one volume of loose dry sand as published, and the boxes of damp sand to one of lime it holds for."""

    mortar_per_sand: Range[float]
    from_damp_parts: float
    to_damp_parts: float


class SandYield(Struct, frozen=True):
    """Mortar to one volume of loose dry sand, and by what: a published yield, the voids, or volumes that add."""

    mortar_per_sand: Range[float]
    by: YieldBy


def sand_yield(
    damp_parts: float,
    bulking_share: float,
    *,
    void_share: Range[float],
    published: PublishedYield | None = None,
    paste_per_lime: float = 1.0,
) -> SandYield:
    """The mortar made by one volume of loose dry sand: as published where that holds, else by filling the voids.

        mortar = lime paste + sand * (1 - voids)

    Volume by volume. `published` is None for putty stuff, whose paste fills the voids; `paste_per_lime` is what
    a volume of lime grows to (quicklime; 1 otherwise). Valid for parts above 0, bulking 0 to 0.50, voids 0.20 to
    0.60; ValueError outside. Source: published yields hold for 2 to 3 boxes (r, computed X), voids by arithmetic
    (X). Loose powder counts as paste of its own volume, which is proposed here (D) and jumps at the limit.
    Worked: putty 1 : 2.5 damp on voids of 0.41 makes 1.09.

    >>> round(sand_yield(2.5, 0.25, void_share=Range(0.36, 0.41, 0.45)).mortar_per_sand.likely, 3)
    1.09
    """
    damp = positive("damp_parts", damp_parts)
    if published is not None and published.from_damp_parts - DUST <= damp <= published.to_damp_parts + DUST:
        return SandYield(published.mortar_per_sand, "published")
    dry = loose_dry_l(damp, bulking_share)
    return SandYield(void_filling_yield(paste_per_lime, dry, void_share), "voids")


def wash_yield(water_parts: float) -> SandYield:
    """The limewash made by one volume of water with its putty: volumes add.

        wash = (1 + parts) / parts

    Volume by volume, within a few in a hundred. Valid above 0; ValueError outside. Source: arithmetic (X).

    >>> wash_yield(5.0).mortar_per_sand.likely
    1.2
    """
    made = (1.0 + positive("water_parts", water_parts)) / water_parts
    return SandYield(Range(made, made, made), "volumes")


class GaugedMix(Struct, frozen=True):
    """A mix as it is measured: its true gauge in the sand as found, how far that sand bulks, its yield; its jug, l."""

    gauge: TrueGauge
    sand: SandState
    bulking_share: float
    sand_yield: SandYield
    jug_l: float = JUG_L

    def made_l(self, sand_l: float) -> float:
        """The mortar that so many litres of sand as measured make."""
        return loose_dry_l(sand_l, self.bulking_share) * self.sand_yield.mortar_per_sand.likely

    def sand_l_for(self, mortar_l: float) -> float:
        """The litres of sand as measured, all sands together, for so much mortar."""
        return mortar_l / self.made_l(1.0)


def gauged_mix(
    damp_sand_parts: float,
    bulking_share: float,
    yields: SandYield,
    *,
    sand: SandState = "damp",
    blend: Sequence[int] = (1,),
    pozzolan_share_of_binder: float = 0.0,
    jug_l: float = JUG_L,
) -> GaugedMix:
    """A mix in the counts that keep its gauge in the sand as it is found.

        dry or flooded sand: parts = damp parts / (1 + bulking)

    `damp_sand_parts` is the recipe's, never rounded. Kiln-dried sand does not bulk and flooded sand stands as dry
    sand does, so both take the dry counts; damp counts on them would be lean by a fifth. Limewash has water for
    sand and no bulking. Valid as `true_gauge`, bulking 0 to 0.50; ValueError outside. Source: cement technical
    note T-15 (R), arithmetic (X). Worked: 1 : 2.5 damp at 25 % is 1 : 2 on kiln-dried sand.

    >>> dry = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"), sand="dry")
    >>> dry.gauge.lime, dry.gauge.sands, round(dry.made_l(14.0), 2)
    (1, (2,), 14.98)
    """
    bulking = checked("bulking_share", bulking_share, *BULKING_SHARE_LIMITS)
    if sand not in ("damp", "dry", "flooded"):
        raise ValueError(f"sand is {sand!r}: valid are damp, dry, flooded")
    found_bulking = bulking if sand == "damp" else 0.0
    parts = damp_sand_parts * (1.0 + found_bulking) / (1.0 + bulking)
    gauge = true_gauge(parts, blend=blend, pozzolan_share_of_binder=pozzolan_share_of_binder)
    return GaugedMix(gauge, sand, found_bulking, yields, positive("jug_l", jug_l))


class Kit(Struct, frozen=True):
    """The box and the mixer of one mixing place, l: the mixer by the loose material it takes; the least batch.

    `most_a_day` is how many batches one mixer makes in a day of what is made fresh; None where nobody asks.
    """

    box_l: float
    mixer_l: float
    least_l: float = LEAST_BATCH_L
    most_a_day: int | None = None

    def __post_init__(self) -> None:
        positive("box_l", self.box_l)
        positive("mixer_l", self.mixer_l)
        checked("least_l", self.least_l, 0.0)
        if self.most_a_day is not None:
            positive("most_a_day", self.most_a_day)

    def mixers_nr(self, batches_nr: Fraction) -> int:
        """The mixers that make so many batches in a day; half a load takes one as long as a whole.

        Source: arithmetic (X). Worked: 21 1/2 batches, where one makes 15, take 2.

        >>> [Kit(14.0, 100.0, most_a_day=15).mixers_nr(Fraction(43, halves)) for halves in (1, 2, 4)]
        [3, 2, 1]
        """
        return 1 if self.most_a_day is None else max(1, math.ceil(math.ceil(batches_nr) / self.most_a_day))


class Counted(Struct, frozen=True):
    """What goes into one batch in a measure: counts in boxes or jugs; litres; and mortar made."""

    measure: Measure
    lime: Fraction
    pozzolan: Fraction
    sands: tuple[Fraction, ...]
    lime_l: float
    pozzolan_l: float
    sands_l: tuple[float, ...]
    makes_l: float

    @property
    def counts(self) -> tuple[Fraction, ...]:
        """Every count: lime, pozzolan where there is one, each sand."""
        return (self.lime, *((self.pozzolan,) if self.pozzolan else ()), *self.sands)

    @property
    def loose_l(self) -> float:
        """The litres that all of it fills before it is mixed."""
        return self.lime_l + self.pozzolan_l + sum(self.sands_l)


def counted(mix: GaugedMix, box_l: float, measure: Measure, amount: Fraction) -> Counted:
    """The gauge taken so many times, in boxes or by the jug: counts, litres and mortar made.

    Boxes or jugs for one part of the gauge. Source: arithmetic (X). Worked: NHL 1 : 2.5, a quarter box.

    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> batch = counted(mix, 14.0, "quarter", Fraction(1, 4))
    >>> batch.lime, batch.sands, round(batch.makes_l, 2)
    (Fraction(1, 2), (Fraction(5, 4),), 14.98)
    """
    step_l = mix.jug_l if measure == "jug" else positive("box_l", box_l)
    lime, pozzolan = mix.gauge.lime * amount, mix.gauge.pozzolan * amount
    sands = tuple(part * amount for part in mix.gauge.sands)
    sands_l = tuple(float(count) * step_l for count in sands)
    made = mix.made_l(sum(sands_l))
    return Counted(measure, lime, pozzolan, sands, float(lime) * step_l, float(pozzolan) * step_l, sands_l, made)


def least_counted(mix: GaugedMix, box_l: float, measure: Measure, mortar_l: float) -> Counted:
    """The fewest steps of a measure, in true gauge, that make at least so much mortar; one set at least."""
    once = counted(mix, box_l, measure, STEP_OF[measure])
    times = max(1, math.ceil(mortar_l / once.makes_l - DUST))
    return counted(mix, box_l, measure, STEP_OF[measure] * times)


def full_load(mix: GaugedMix, kit: Kit) -> Counted:
    """The most that the mixer holds in true gauge: of whole boxes or, where none fits, of the next finer measure.

    l; all loose boxes together never above the mixer. MixerTooSmall where the gauge does not go in once by the
    jug. Source: common practice (P), arithmetic (X). Worked: 1 : 2.5 is 2 + 5 boxes of 14 l, 98 l of 120.

    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> load = full_load(mix, Kit(14.0, 120.0))
    >>> load.measure, str(load.lime), str(load.sands[0]), round(load.makes_l, 2)
    ('whole', '2', '5', 59.92)
    """
    return full_loads(mix, kit)[0]


@lru_cache(maxsize=64)  # asked for over and over of the few mixes of a job
def full_loads(mix: GaugedMix, kit: Kit) -> tuple[Counted, ...]:
    """The most that the mixer holds in whole, half and quarter boxes, those that fit; by the jug where none does.

    A finer one is never the smaller. Valid as `full_load`. Source: arithmetic (X). Worked: 1 : 3 in a mixer of 100 l
    is 1 + 3 boxes of 14 l, 1 1/2 + 4 1/2 or 1 3/4 + 5 1/4.

    >>> mix = gauged_mix(3.0, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> [str(load.lime) for load in full_loads(mix, Kit(14.0, 100.0))]
    ['1', '3/2', '7/4']
    """
    found: list[Counted] = []
    for measure, step in STEP_OF.items():
        once = counted(mix, kit.box_l, measure, step)
        times = int(kit.mixer_l / once.loose_l + DUST)
        if times and not (found and measure == "jug"):
            found.append(counted(mix, kit.box_l, measure, step * times))
    if not found:
        raise MixerTooSmall(f"mixer_l is {kit.mixer_l:g}: valid from {once.loose_l:g}, the gauge once by the jug")
    return tuple(found)


def halved(mix: GaugedMix, box_l: float, load: Counted) -> Counted | None:
    """Half a load, where its counts are still whole steps of a measure; None where they are not."""
    amount = load.lime / mix.gauge.lime / 2
    measures: tuple[Measure, ...] = ("jug",) if load.measure == "jug" else ("whole", "half", "quarter")
    for measure in measures:
        if all((count / 2 / STEP_OF[measure]).denominator == 1 for count in load.counts):
            return counted(mix, box_l, measure, amount)
    return None


def boxes_and_jugs(jugs: float, box_jugs: float) -> tuple[int, Fraction]:
    """Jugs as a person measures them: whole boxes first, the rest in half jugs.

    Jugs, of a litre say; the rest is the nearest half. Source: common practice (P). Worked: 37.5 l are 2 boxes and
    9 1/2 l.

    >>> boxes_and_jugs(37.5, 14.0), boxes_and_jugs(4.5, 14.0)
    ((2, Fraction(19, 2)), (0, Fraction(9, 2)))
    """
    whole = int(checked("jugs", jugs, 0.0) / positive("box_jugs", box_jugs) + DUST)
    return whole, Fraction(round((jugs - whole * box_jugs) * 2), 2)
