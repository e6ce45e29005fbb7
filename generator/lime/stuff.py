"""Stuff that is made before and rests: full loads into store, and what is drawn from it by the day.

Putty stuff and banked hot mix keep under cover. Hair and pozzolan go into the draw and never into store, so what
is left of such a draw is thrown away. Confidence of a source: P common practice without a published source, X
computed, D a rule proposed here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import partial
from typing import ClassVar, Final, Literal

from generator.lime.batch import Batches, DayNeed, batches_by_life, day_need, loads, made_for
from generator.lime.gauging import DUST, BatchError, GaugedMix, Kit, full_load
from generator.lime.hair import hair_g_per_batch
from generator.lime.job_batches import Amounts, Cases, Work, amounts_of, last_day_m2, placing_days
from generator.lime.limits import checked, positive
from generator.values import Struct, replace

HAIR_STEP_G: Final = 10  # as it can be weighed on site (P)
POZZOLAN_MEASURE_L: Final = 0.1  # a half-litre line would err by a fifth of so small a dose (X)
HALF_BOX: Final = Fraction(1, 2)


class PozzolanInStore(BatchError):
    """The gauge of a stuff has a pozzolan, which would be spent before it is drawn."""

    code: ClassVar[str] = "pozzolan-in-store"


class Dose(Struct, frozen=True):
    """What goes into a draw: hair; pozzolan as a share of the mortar, and whether that is a most; its life then."""

    hair_kg_per_m3: float = 0.0
    pozzolan_share_of_mortar: float = 0.0
    pozzolan_is_most: bool = False
    life_h: float | None = None

    def __post_init__(self) -> None:
        checked("pozzolan_share_of_mortar", self.pozzolan_share_of_mortar, 0.0, 0.5)

    @property
    def keeps(self) -> bool:
        """Whether what is left of a draw goes back under cover: not with hair or pozzolan in it, nor with a life."""
        return not (self.hair_kg_per_m3 or self.pozzolan_share_of_mortar or self.life_h)


NO_DOSE: Final = Dose()


def hair_said_g(hair_g: float) -> int:
    """The hair that is said, to ten grams and never none.

    g. Source: what can be weighed on site (P). Worked: 98 g are said as 100.

    >>> hair_said_g(98.0), hair_said_g(3.0)
    (100, 10)
    """
    return max(HAIR_STEP_G, math.floor(positive("hair_g", hair_g) / HAIR_STEP_G + 0.5 + DUST) * HAIR_STEP_G)


def pozzolan_said_l(dose_l: float, *, is_most: bool) -> float:
    """The pozzolan that is said, in measures of 0.1 l: down where the dose is the most there may be, else nearest.

    l, never none. Source: more makes the mortar stronger than was chosen (R); the measure is proposed here (D).
    Worked: 1.83 l of metakaolin are said as 1.8.

    >>> pozzolan_said_l(1.83, is_most=True), pozzolan_said_l(0.28, is_most=False)
    (1.8, 0.3)
    """
    measures = positive("dose_l", dose_l) / POZZOLAN_MEASURE_L
    whole = math.floor(measures + DUST) if is_most else math.floor(measures + 0.5 + DUST)
    return round(max(1, whole) * POZZOLAN_MEASURE_L, 1)


def pozzolan_share_of_mortar(mix: GaugedMix, share_of_binder: float) -> float:
    """The share of the mortar's volume that a pozzolan is, where it is a share of the binder by volume.

        share = share of binder * binder / mortar

    Source: arithmetic (X). Worked: of 1 : 2.5 in putty, an eighth of the binder is under 6 % of the mortar, and
    10 % of the mortar would be 22 % of the binder, so a recipe names its basis.

    >>> from generator.lime.gauging import gauged_mix, sand_yield
    >>> from generator.values import Range
    >>> mix = gauged_mix(2.5, 0.25, sand_yield(2.5, 0.25, void_share=Range(0.36, 0.41, 0.45)))
    >>> round(pozzolan_share_of_mortar(mix, 0.125), 4), round(0.1 / pozzolan_share_of_mortar(mix, 1.0), 2)
    (0.0573, 0.22)
    """
    gauge, share = mix.gauge, checked("share_of_binder", share_of_binder, 0.0, 1.0)
    return share * (gauge.lime + gauge.pozzolan) / mix.made_l(float(sum(gauge.sands)))


class Draw(Struct, frozen=True):
    """What is drawn from store in a day, in half boxes up, and what goes into each box of it.

    `_per_box` figures are exact, `_said_` ones as weighed or measured; None where there is none. `hair_g` and
    `pozzolan_l` are of all that is drawn, the hair exact, `hair_order_g` by the greater of exact and said.
    """

    need: DayNeed
    by_life_nr: int
    draws_nr: int
    boxes_each: Fraction
    drawn_l: float
    left_l: float
    left_goes: Literal["kept", "thrown-away"]
    hair_g_per_box: float | None
    hair_said_g_per_box: int | None
    hair_g: float
    hair_order_g: float
    pozzolan_l_per_box: float | None
    pozzolan_said_l_per_box: float | None
    pozzolan_l: float


def day_draw(need: DayNeed, kit: Kit, dose: Dose = NO_DOSE) -> Draw:
    """What a day draws from store, in half boxes up, in one draw or as many as the life of a dosed one asks for.

        half boxes = need / draws / (box / 2), rounded up;   hair a box = kg/m3 * box;   pozzolan a box = share * box

    l, g. One draw fewer while need / draws is under the least batch. Valid as `batches_by_life`; typed errors
    otherwise. Source: counting proposed here (D), doses by the recipe. Worked (X): 75.9 l with hair at 7 kg/m3
    are 5 1/2 boxes of 14 l with 98 g in each.

    >>> draw = day_draw(DayNeed(6.0, 11.5), Kit(14.0, 120.0), Dose(hair_kg_per_m3=7.0))
    >>> str(draw.boxes_each), round(draw.left_l, 1), draw.hair_said_g_per_box, round(draw.hair_g)
    ('11/2', 1.1, 100, 539)
    """
    by_life = number = batches_by_life(dose.life_h)
    while number > 1 and need.need_l / number < kit.least_l - DUST:
        number -= 1
    each = HALF_BOX * math.ceil(need.need_l / number / (kit.box_l / 2) - DUST)
    boxes = float(each * number)
    hair = hair_g_per_batch(kit.box_l, dose.hair_kg_per_m3)
    said = hair_said_g(hair) if hair else None
    pozzolan = dose.pozzolan_share_of_mortar * kit.box_l
    pozzolan_said = pozzolan_said_l(pozzolan, is_most=dose.pozzolan_is_most) if pozzolan else None
    return Draw(
        need=need,
        by_life_nr=by_life,
        draws_nr=number,
        boxes_each=each,
        drawn_l=boxes * kit.box_l,
        left_l=max(0.0, boxes * kit.box_l - need.need_l),
        left_goes="kept" if dose.keeps else "thrown-away",
        hair_g_per_box=hair or None,
        hair_said_g_per_box=said,
        hair_g=hair * boxes,
        hair_order_g=max(hair, said or 0) * boxes,
        pozzolan_l_per_box=pozzolan or None,
        pozzolan_said_l_per_box=pozzolan_said,
        pozzolan_l=max(pozzolan, pozzolan_said or 0.0) * boxes,
    )


class DrawnCoat(Struct, frozen=True):
    """A work or a coat that is drawn for, at one end of its measures: days, a day's draw at each place, panels.

    `last` are the draws of its last day, which may have less to do; none where nothing is placed.

    `taken_l` is what leaves the store for good: every draw of dosed stuff; of stuff that keeps, only what is placed
    and dropped, up to the half box, for what a draw leaves goes back and is drawn again.
    """

    area_m2: float
    in_place_l_per_m2: float
    days: int
    at: Mapping[str, Draw]
    last: tuple[Draw, ...]
    panels: tuple[Draw, ...]
    in_place_l: float
    dropped_l: float
    taken_l: float
    keeps: bool

    @property
    def draws(self) -> tuple[Draw, ...]:
        """Every draw, days and panels."""
        return (*(draw for draw in self.at.values() for _ in range(self.days - 1)), *self.last, *self.panels)

    @property
    def left_l(self) -> float:
        """What is taken and neither placed nor dropped: left of draws and of panels."""
        return max(0.0, self.taken_l - self.in_place_l - self.dropped_l)


class StuffCase(Struct, frozen=True):
    """All that is taken of one stuff, at one end of its measures, the loads it is made in, and what stays in store.

    `loads` is None where that end takes nothing.
    """

    coats: tuple[DrawnCoat, ...]
    taken_l: float
    loads: Batches | None
    in_store_l: float
    amounts: Amounts


def stuff_for(coats: Sequence[tuple[Work, Dose]], mix: GaugedMix, kit: Kit) -> Cases[StuffCase]:
    """The loads of one stuff for all the works and coats that draw on it, panels too.

        loads = all that is taken / full load, up to the half load;   under half a load, one batch as `stored`

    l. What a load makes beyond that stays in store. Valid as `day_draw` and `full_load`, for a gauge without
    pozzolan, which is a dose of the draw; typed errors otherwise.
    Source: proposed here (D). Worked (X): a ceiling's two coats and their panels draw 161 l of 1 : 2.5, so 3 loads
    of 2 + 5 boxes; `tests/lime/test_stuff.py` has it whole.
    """
    if mix.gauge.pozzolan:
        raise PozzolanInStore(f"the gauge has {mix.gauge.pozzolan} of pozzolan: valid with none, as a dose of the draw")
    drawn = [work.cases().each(partial(_drawn, work, dose, kit)) for work, dose in coats]
    return Cases(
        _stuff_case(tuple(coat.low for coat in drawn), mix, kit),
        _stuff_case(tuple(coat.likely for coat in drawn), mix, kit),
        _stuff_case(tuple(coat.high for coat in drawn), mix, kit),
    )


def _drawn(work: Work, dose: Dose, kit: Kit, end: tuple[float, float]) -> DrawnCoat:
    (area_m2, per_m2), output = end, sum(work.output_m2.values())
    at = {}
    for place, here in work.output_m2.items():
        share_m2 = area_m2 * here / output or here
        need = day_need(here, per_m2, area_m2=share_m2, dropped_share=work.dropped_share)
        at[place] = day_draw(need, kit, dose)
    panels = tuple(day_draw(DayNeed(panel, per_m2, work.dropped_share), kit, dose) for panel in work.panels_m2)
    left_m2, dropping = last_day_m2(area_m2, output), work.dropped_share
    last = tuple(
        day_draw(DayNeed(left_m2 * here / output, per_m2, dropping), kit, dose)
        for here in work.output_m2.values() if left_m2
    )  # fmt: skip
    in_place = (area_m2 + sum(work.panels_m2)) * per_m2
    dropped = in_place * work.dropped_share
    coat = DrawnCoat(
        area_m2, per_m2, placing_days(area_m2, output), at, last, panels, in_place, dropped, 0.0, dose.keeps
    )
    drawn = sum(draw.drawn_l for draw in coat.draws)
    half_boxes = math.ceil((in_place + dropped) / (kit.box_l / 2) - DUST)
    taken = min(drawn, half_boxes * kit.box_l / 2) if dose.keeps else drawn
    return replace(coat, taken_l=taken)


def stored(mix: GaugedMix, kit: Kit, taken_l: float) -> Batches:
    """How stuff that keeps is made: full loads, to the half; under half a load one batch, in boxes and not by the jug.

    l. What is over stays in store and loses nothing, so the finest measure is not worth its trouble; the jug serves
    only where no part of a box goes into the mixer. Valid as `made_for`. Source: proposed here (D).
    """
    load = full_load(mix, kit)
    if taken_l > load.makes_l / 2 + DUST:
        return loads(mix, kit, taken_l)
    made = made_for(mix, kit, taken_l)
    boxed = [tried for tried in made.tried if tried.measure != "jug" and tried.verdict != "over-the-mixer"]
    if made.batch.measure != "jug" or not boxed:
        return made
    least = min(boxed, key=lambda tried: tried.left_l)
    return replace(
        made, batch=least.batch, made_l=least.made_l, left_l=least.left_l, left_share=least.left_share, why="set"
    )


def _stuff_case(coats: tuple[DrawnCoat, ...], mix: GaugedMix, kit: Kit) -> StuffCase:
    draws = [draw for coat in coats for draw in coat.draws]
    taken = sum(coat.taken_l for coat in coats)
    store = stored(mix, kit, taken) if taken else None
    made = store.made_l if store else 0.0
    in_store = max(0.0, made - taken)
    amounts = amounts_of(
        mix,
        made,
        in_place_l=sum(coat.in_place_l for coat in coats),
        dropped_l=sum(coat.dropped_l for coat in coats),
        kept_l=in_store + sum(coat.left_l for coat in coats if coat.keeps),
        pozzolan_l=sum(draw.pozzolan_l for draw in draws),
        hair_kg=sum(draw.hair_order_g for draw in draws) / 1000.0,
    )
    return StuffCase(coats, taken, store, in_store, amounts)
