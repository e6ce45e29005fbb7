"""A day's batch: what a day takes, how often it is mixed, in which measure, and what is left at its end.

Lime and sand are rounded up together, in sets of true gauge. What is left over is counted by batches, so the
share dropped never holds it a second time. Confidence of a source: R read, P common practice without a published
source, X computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Final, Literal

from generator.lime.gauging import (
    DUST,
    STEP_OF,
    BatchError,
    Counted,
    GaugedMix,
    Kit,
    Measure,
    TrueGauge,
    full_load,
    full_loads,
    halved,
    least_counted,
)
from generator.lime.limits import checked, positive
from generator.values import Struct

PLACING_HOURS: Final = 7.0  # of a working day of 8 (P)
CARRYING_HOURS: Final = 0.25  # of the life, for mixing and carrying (P)
DROPPED_SHARE: Final = 0.10  # site-mixed mortar in laying (R); in other work P
LEFT_SHARE_AT_MOST: Final = 0.20  # of the day's need (D)
LEFT_L_AT_MOST: Final = 2.0  # where a fifth of the need is less than that (D)
BY_HAND_SHARE: Final = 0.1  # of what the mixer takes (D)
LEAST_LIME_L: Final = 2.5  # half a jug line, a quarter of a litre, errs it by a tenth (X)

Why = Literal["full-loads", "little-left", "least", "set"]
Verdict = Literal["taken", "left-too-much", "over-the-mixer"]
Note = Literal[
    "by-hand", "drain-or-less-water", "fewer-than-life-asks", "gauge-neared", "mixer-under-least", "mixer-under-set"
]


class LifeTooShort(BatchError):
    """The mortar is past its life before it is carried to the wall."""

    code = "life-too-short"


class DayNeed(Struct, frozen=True):
    """What one placing day takes: m2 finished, litres in place for a m2, and the share of it dropped."""

    output_m2: float
    in_place_l_per_m2: float
    dropped_share: float = DROPPED_SHARE

    def __post_init__(self) -> None:
        positive("output_m2", self.output_m2)
        positive("in_place_l_per_m2", self.in_place_l_per_m2)
        checked("dropped_share", self.dropped_share, 0.0, 1.0)

    @property
    def in_place_l(self) -> float:
        """The mortar that stays in the wall."""
        return self.output_m2 * self.in_place_l_per_m2

    @property
    def dropped_l(self) -> float:
        """The mortar that falls."""
        return self.in_place_l * self.dropped_share

    @property
    def l_per_m2(self) -> float:
        """In place and dropped, for a m2."""
        return self.in_place_l_per_m2 * (1.0 + self.dropped_share)

    @property
    def need_l(self) -> float:
        """In place and dropped, for the day."""
        return self.output_m2 * self.l_per_m2


def day_need(
    output_m2: float, in_place_l_per_m2: float, *, area_m2: float, dropped_share: float = DROPPED_SHARE
) -> DayNeed:
    """What a day takes of one mix at one place: its output, or all there is where that is less than a day.

        need = output * litres in place * (1 + dropped)

    l from m2, l/m2 (unrounded) and a share. Valid above 0,
    dropped 0 to 1; ValueError outside. Source: 10 % dropped in laying (R), elsewhere P; arithmetic (X). Worked:
    3 m2 at 4.1603 l/m2 take 13.73 l.

    >>> round(day_need(3.0, 4.1603, area_m2=13.5).need_l, 2)
    13.73
    """
    return DayNeed(min(output_m2, positive("area_m2", area_m2)), in_place_l_per_m2, dropped_share)


def batches_by_life(life_h: float | None) -> int:
    """The batches that a placing day takes so that each is placed within its life; None has no such life.

        batches = 7 / (life - 1/4), rounded up

    Hours from first water. Valid above a quarter of an hour; LifeTooShort below. Source: 7 hours of placing and
    15 minutes for mixing and carrying are common practice (P).

    >>> [batches_by_life(hours) for hours in (2.0, 3.0, 4.0, 6.0, 8.0, None)]
    [4, 3, 2, 2, 1, 1]
    """
    if life_h is None:
        return 1
    left = positive("life_h", life_h) - CARRYING_HOURS
    if left <= 0.0:
        raise LifeTooShort(f"life_h is {life_h:g}: valid above {CARRYING_HOURS:g}, mixing and carrying")
    return max(1, math.ceil(PLACING_HOURS / left - DUST))


def batches_by_mixer(minutes: float) -> int:
    """The batches that one mixer makes in a day, each of which takes it so long: it runs as long as mortar is placed.

        batches = 7 * 60 / minutes, rounded down; one at least

    Minutes. Source: 7 hours of placing are common practice (P), arithmetic (X). Worked: at 27 minutes 15.

    >>> batches_by_mixer(27.0), batches_by_mixer(500.0)
    (15, 1)
    """
    return max(1, int(PLACING_HOURS * 60 / positive("minutes", minutes) + DUST))


class Tried(Struct, frozen=True):
    """A measure tried for equal batches: the smallest in it that is enough, what all make, what would be left."""

    measure: Measure
    batch: Counted
    made_l: float
    left_l: float
    left_share: float
    verdict: Verdict


class Batches(Struct, frozen=True):
    """How so much mortar is made: the batch, how many (the last may be half a load), what all make and leave.

    `left_share` is of the need. `why`: `full-loads`, `little-left` (the first measure that leaves little), `least`
    (the least batch governs), `set` (no measure leaves little: the least set of the finest governs).
    """

    need_l: float
    batch: Counted
    batches_nr: Fraction
    half_load: Counted | None
    made_l: float
    left_l: float
    left_share: float
    why: Why
    tried: tuple[Tried, ...]


class DayBatch(Struct, frozen=True):
    """A day's batches of one mix at one place, with the figures that led to them."""

    need: DayNeed
    by_life_nr: int
    batches: Batches
    full_load: Counted
    covers_m2: float
    notes: tuple[Note, ...]


class RatioOnly(Struct, frozen=True):
    """A day's need where no box is known: nothing is counted, the gauge alone is told."""

    need: DayNeed
    gauge: TrueGauge
    why: Literal["box-not-known"] = "box-not-known"


def left_at_most_l(need_l: float) -> float:
    """The mortar that may be left of a day's need: a fifth of it or 2 l, whichever is more (D).

    >>> left_at_most_l(7.337), left_at_most_l(40.0)
    (2.0, 8.0)
    """
    return max(LEFT_SHARE_AT_MOST * need_l, LEFT_L_AT_MOST)


def equal_batches(
    mix: GaugedMix, box_l: float, need_l: float, *, batches_nr: int, least_l: float, mixer_l: float | None = None
) -> Batches:
    """So many equal batches for a need, in the first measure that leaves little.

        each = the greater of need / batches and the least batch, up to whole steps in true gauge
        taken: whole, half, quarter boxes, jug, the first with made - need <= max(20 %, 2 l)

    l. Coarse steps first, for boxes are counted and lines are judged (P). Where none leaves little, the one that
    leaves least. Valid for a need above 0; ValueError outside. Source: proposed here (D).

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> made = equal_batches(mix, 14.0, 13.729, batches_nr=1, least_l=6.0)
    >>> made.batch.measure, [round(tried.left_l, 2) for tried in made.tried]
    ('quarter', [46.19, 16.23, 1.25])
    """
    each_l = positive("need_l", need_l) / batches_nr
    tried: list[Tried] = []
    for measure in STEP_OF:
        found = _tried(mix, box_l, measure, max(each_l, least_l), need_l, batches_nr, mixer_l)
        tried.append(found)
        if found.verdict == "taken":
            break
    chosen = min((t for t in tried if t.verdict != "over-the-mixer"), key=lambda t: (t.verdict != "taken", t.left_l))
    why: Why = "least" if least_l > each_l else "little-left" if chosen.verdict == "taken" else "set"
    return Batches(
        need_l, chosen.batch, Fraction(batches_nr), None, chosen.made_l, chosen.left_l, chosen.left_share, why,
        tuple(tried),
    )  # fmt: skip


def _tried(
    mix: GaugedMix, box_l: float, measure: Measure, each_l: float, need_l: float, batches_nr: int, mixer_l: float | None
) -> Tried:
    batch = least_counted(mix, box_l, measure, each_l)
    made = batch.makes_l * batches_nr
    left = max(0.0, made - need_l)
    verdict: Verdict = "taken" if left <= left_at_most_l(need_l) + DUST else "left-too-much"
    if mixer_l is not None and batch.loose_l > mixer_l + DUST:
        verdict = "over-the-mixer"
    return Tried(measure, batch, made, left, left / need_l, verdict)


def loads(mix: GaugedMix, kit: Kit, need_l: float) -> Batches:
    """Full loads for a need, counted up to the half load where half a load can be measured.

    l. Half a load counts where its parts are whole steps and it makes the least batch at least; else whole loads. Of
    what is made fresh in more loads than a mixer makes in a day, loads are fuller, of half boxes, or of quarters where
    that saves a mixer. Valid for a need above 0; ValueError outside, MixerTooSmall as `full_load`. Source: proposed
    here (D). Worked: 211.2 l are 3.52 loads of 59.92 l, so 4; 1158 l of 1 : 3 are 32 1/2 of 35.95 l, or 21 1/2 of
    53.93 l.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.5, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> [str(loads(mix, Kit(14.0, 120.0), need).batches_nr) for need in (200.0, 211.2)]
    ['7/2', '4']
    >>> mix = gauged_mix(3.0, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> kits = Kit(14.0, 100.0), Kit(14.0, 100.0, most_a_day=15)
    >>> [(str(made.batch.lime), str(made.batches_nr)) for made in (loads(mix, kit, 1158.0) for kit in kits)]
    [('1', '65/2'), ('3/2', '43/2')]
    """
    first, *finer = [_loads_of(load, mix, kit, need_l) for load in full_loads(mix, kit)]
    if kit.mixers_nr(first.batches_nr) == 1:
        return first
    fuller = [made for made in finer if made.batch.makes_l > first.batch.makes_l + DUST]
    return min(fuller or [first], key=lambda made: kit.mixers_nr(made.batches_nr))  # the coarsest of equal ones


def _loads_of(load: Counted, mix: GaugedMix, kit: Kit, need_l: float) -> Batches:
    half = halved(mix, kit.box_l, load)
    if half is not None and half.makes_l < kit.least_l:
        half = None
    step = Fraction(1) if half is None else Fraction(1, 2)
    count = step * math.ceil(positive("need_l", need_l) / load.makes_l / float(step) - DUST)
    made = load.makes_l * float(count)
    left = max(0.0, made - need_l)
    return Batches(need_l, load, count, half, made, left, left / need_l, "full-loads", ())


def made_for(mix: GaugedMix, kit: Kit, need_l: float, batches_nr: int = 1) -> Batches:
    """Full loads where each batch would be one or more; else so many equal batches.

    l. Source: proposed here (D). The least batch gives way to a mixer that holds less.
    """
    load = full_load(mix, kit)
    if positive("need_l", need_l) / batches_nr >= load.makes_l - DUST:
        return loads(mix, kit, need_l)
    least = min(kit.least_l, load.makes_l)
    return equal_batches(mix, kit.box_l, need_l, batches_nr=batches_nr, least_l=least, mixer_l=kit.mixer_l)


def day_batch(need: DayNeed, mix: GaugedMix, kit: Kit | None, life_h: float | None) -> DayBatch | RatioOnly:
    """A day's batches: by the life of the mortar, never under the need, never above the mixer.

        batches = 7 / (life - 1/4), up; one fewer while need / batches is under the least batch

    l and hours; `kit` is None where no box is known. Where fewer are made than the life asks for, they are placed
    within their life and the rest of the day is raking. Valid as `batches_by_life` and `full_load`; typed errors
    otherwise. Source: life by the recipe; rules of counting proposed here (D). Worked (X): NHL 3.5, 1 : 2, 6 h,
    7.337 l a day: one batch by the jug, 4 1/2 l of lime and 9 l of sand.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.0, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> day = day_batch(DayNeed(2.0, 3.3348), mix, Kit(14.0, 120.0), 6.0)
    >>> day.by_life_nr, str(day.batches.batches_nr), str(day.batches.batch.lime), round(day.batches.left_l, 2)
    (2, '1', '9/2', 0.37)
    """
    by_life = batches_by_life(life_h)
    if kit is None:
        return RatioOnly(need, mix.gauge)
    number = by_life
    while number > 1 and need.need_l / number < kit.least_l - DUST:
        number -= 1
    batches, load = made_for(mix, kit, need.need_l, number), full_load(mix, kit)
    notes = _notes(mix, kit, load, batches, fewer=number < by_life)
    return DayBatch(need, by_life, batches, load, batches.batch.makes_l / need.l_per_m2, notes)


def least_batch_l(mix: GaugedMix, kit: Kit) -> float:
    """The least batch of a mix: what the kit says, or what as much lime as a jug still tells makes, if that is less.

    l of mortar. Source: a tenth of the lime is what may be misread (P), arithmetic (X). Worked: at 1 : 2 damp
    2 1/2 l of lime make 4.28 l.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.0, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> round(least_batch_l(mix, Kit(14.0, 120.0)), 2)
    4.28
    """
    return min(kit.least_l, mix.made_l(LEAST_LIME_L * sum(mix.gauge.sands) / mix.gauge.lime))


def as_life_asks(need_l: float, by_life_nr: int, mix: GaugedMix, kit: Kit) -> Batches | None:
    """A day's need in as many small batches as the life of the mortar asks for, or as near as leaves little.

        each = need / batches or the least that a jug tells, up; left <= max(20 %, 2 l)

    l; None where one batch alone leaves little. For a need too small for batches as `day_batch` counts them: mortar
    that is past its life in the afternoon is thrown away or, worse, used. Valid for a need above 0. Source: life by
    the recipe; proposed here (D). Worked: 7.337 l of 1 : 2 that lives 6 h are two batches of 2 1/2 + 5 l.

    >>> from generator.lime.gauging import SandYield, gauged_mix
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.0, 0.25, SandYield(Range(1.0, 1.07, 1.15), "published"))
    >>> found = as_life_asks(7.337, 2, mix, Kit(14.0, 120.0))
    >>> str(found.batches_nr), str(found.batch.lime), round(found.left_l, 2)
    ('2', '5/2', 1.22)
    """
    least = least_batch_l(mix, kit)
    for number in range(by_life_nr, 1, -1):
        found = equal_batches(mix, kit.box_l, need_l, batches_nr=number, least_l=least, mixer_l=kit.mixer_l)
        if found.left_l <= left_at_most_l(need_l) + DUST:
            return found
    return None


def _notes(mix: GaugedMix, kit: Kit, load: Counted, batches: Batches, *, fewer: bool) -> tuple[Note, ...]:
    told: dict[Note, bool] = {
        "by-hand": batches.batch.loose_l < BY_HAND_SHARE * kit.mixer_l,
        "drain-or-less-water": mix.sand == "flooded",
        "fewer-than-life-asks": fewer,
        "gauge-neared": bool(mix.gauge.error_share),
        "mixer-under-least": load.makes_l < kit.least_l,
        "mixer-under-set": load.measure != "whole",
    }
    return tuple(note for note, holds in told.items() if holds)
