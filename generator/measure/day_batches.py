"""The day's batch of each mix: its counts, how often it is made, what each work's day takes of it, and what is left."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from generator.decide.model import Mix
from generator.lime.batch import Batches, left_at_most_l
from generator.lime.gauging import DUST, GaugedMix, Kit, full_load
from generator.lime.hair import hair_g_per_batch
from generator.lime.job_batches import Cases, Work, amounts_of, summed
from generator.lime.panel_batch import SMALL_SHARE, panel_batch, with_panels
from generator.lime.shared_batch import SharedCase, SharedDay, shared_batches
from generator.lime.stuff import (
    HALF_BOX,
    Dose,
    Draw,
    DrawnCoat,
    StuffCase,
    hair_said_g,
    pozzolan_said_l,
    pozzolan_share_of_mortar,
    stuff_for,
)
from generator.lime.wash_lot import SharedLot, shared_lot
from generator.measure.gauged import Sands, gauged, kit_for
from generator.measure.model import FRESH, DayFacts, Made
from generator.measure.outputs import Outputs
from generator.measure.placing import Placed, works_of
from generator.questionnaire.facts import Facts
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import ScopePath
from generator.values import Range, replace

VESSEL_AT_MOST_L: Final = 200.0  # P: the largest lidded drum in common use


def made(mix: Mix, sands: Sands, facts: Facts, outputs: Outputs, kept: Kept = AFRESH) -> Made:
    """The day's batch of a mix; where no work of it can be reckoned, a full load and nothing made of it."""
    gauge, kit = gauged(mix, sands, facts, outputs.library), kit_for(mix, facts, outputs.library)
    placed = works_of(mix, facts, outputs)
    coats = [facts.at_scope(one.path).real("wash_coats_chosen_nr") or 1.0 for one in placed]
    rests_on = (mix, gauge, kit, placed, coats)
    return kept.of(("batch", mix.ref), rests_on, partial(_made, *rests_on))


def _made(mix: Mix, gauge: GaugedMix, kit: Kit, placed: Sequence[Placed], coats: Sequence[float]) -> Made:
    if not placed:
        nothing = amounts_of(gauge, 0.0, in_place_l=0.0, dropped_l=0.0)
        none = Cases(Fraction(0), Fraction(0), Fraction(0))
        unused = Made(gauge, full_load(gauge, kit), None, none, (), Cases(nothing, nothing, nothing))
        return _dosed_unused(unused, mix, kit)
    how: dict[str, Callable[..., Made]] = {FRESH: _fresh, "limewash": partial(_wash, coats=coats)}
    return how.get(mix.recipe.making, _stuff)(mix, gauge, kit, placed)


def _dose(mix: Mix, gauge: GaugedMix) -> Dose:
    """Hair and pozzolan of a mix, the pozzolan as a share of the mortar whatever its recipe states it of."""
    recipe = mix.recipe
    share = float(recipe.pozzolan_per_cent) / 100
    return Dose(
        hair_kg_per_m3=float(mix.hair_kg_per_m3),
        pozzolan_share_of_mortar=pozzolan_share_of_mortar(gauge, share) if recipe.pozzolan_of == "binder" else share,
        pozzolan_is_most=recipe.pozzolan_is_most,
        life_h=float(recipe.use_within_hours) if recipe.pozzolan else None,
    )


def _dosed_unused(found: Made, mix: Mix, kit: Kit) -> Made:
    """The doses of what nothing is made of, which the page at the mixing place shows all the same."""
    if mix.recipe.making == FRESH:
        return _dosed(found, mix)
    if mix.recipe.making == "limewash":
        return found
    any_work = Work(Range(1.0, 1.0, 1.0), {"": 1.0}, Range(1.0, 1.0, 1.0))
    draw = stuff_for([(any_work, _dose(mix, found.gauged))], found.gauged, kit).likely.coats[0].at[""]
    return replace(found, hair_g=draw.hair_said_g_per_box, pozzolan_l=draw.pozzolan_said_l_per_box)


# --- made fresh -------------------------------------------------------------------------------------------


def _fresh(mix: Mix, gauge: GaugedMix, kit: Kit, placed: Sequence[Placed]) -> Made:
    life_h = float(mix.recipe.use_within_hours)
    one_batch = bool(mix.hair_kg_per_m3 or mix.recipe.pozzolan)  # a dose is told for one batch alone
    found = _mixed(placed, gauge, kit, life_h, panel_too=not one_batch)
    fillings = [one for one in placed if one.task and not one_batch]
    coated = [one for one in placed if not one.task]
    if fillings and coated:
        coats = _mixed(coated, gauge, kit, life_h, panel_too=True)
        apart = _mixed(fillings, gauge, kit, life_h, panel_too=False)
        least_l = (coats.half_load or coats.batch).makes_l
        if found.batch.makes_l < coats.batch.makes_l - DUST or apart.batch.makes_l <= SMALL_SHARE * least_l:
            found = _beside(coats, apart)
    return _dosed(found, mix)


def _beside(coats: Made, fillings: Made) -> Made:
    """Coats with what fills beside them in a batch of its own: one for both would be smaller than theirs, or waste."""
    both = zip(coats.amounts.all(), fillings.amounts.all(), strict=True)
    amounts = Cases(*(summed(each) for each in both))
    by_jug = fillings.batch.measure == "jug"  # none smaller can be counted, whatever it leaves
    days = [replace(day, much_left=day.much_left and not by_jug) for day in fillings.days]
    return replace(coats, filling=fillings.batch, days=(*days, *coats.days), amounts=amounts)


def _mixed(placed: Sequence[Placed], gauge: GaugedMix, kit: Kit, life_h: float, *, panel_too: bool) -> Made:
    """Works that are made in one batch, and their panels in a smaller one, if that may be."""
    works = [one.work for one in placed]
    cases = shared_batches(works, gauge, kit, life_h)
    amounts, panel = cases.each(lambda case: case.amounts), None
    if panel_too:
        panel = panel_batch(works, gauge, kit, (cases.likely.half_load or cases.likely.batch).makes_l)
    if panel is not None:
        cases = shared_batches([replace(work, panels_m2=()) for work in works], gauge, kit, life_h)
        amounts = with_panels(cases.each(lambda case: case.amounts), works, gauge, panel)
    likely = cases.likely
    days = tuple(_fresh_day(one, day, likely, kit) for one, day in zip(placed, likely.days, strict=True))
    return Made(
        gauge, likely.batch, likely.half_load, cases.each(lambda case: case.batches_nr), days, amounts, likely.notes,
        panel=panel, panel_nr=max((day.panels_nr for day in likely.days if day.panels_nr), default=None),
    )  # fmt: skip


def _fresh_day(placed: Placed, day: SharedDay, case: SharedCase, kit: Kit) -> DayFacts:
    return DayFacts(
        path=placed.path,
        days=day.days,
        takes_l=day.need.need_l,
        a_day=day.a_day,
        of="batch",
        left_l=day.left_l,
        left_goes="thrown-away",
        covers_m2=placed.covers_m2(case.batch.makes_l),
        much_left=day.left_l > left_at_most_l(day.need.need_l),
        task=placed.task,
        mixers_nr=kit.mixers_nr(day.a_day),
    )


def _dosed(found: Made, mix: Mix) -> Made:
    """What is made fresh with the hair and the pozzolan of each batch, as they are measured, and of all of them."""
    makes_l, dose = found.batch.makes_l, _dose(mix, found.gauged)
    if dose.hair_kg_per_m3:
        exact = hair_g_per_batch(makes_l, dose.hair_kg_per_m3)
        hair_g = hair_said_g(exact)
        kg_per_l = max(exact, hair_g) / makes_l / 1000
        amounts = found.amounts.each(lambda amount: replace(amount, hair_kg=amount.made_l * kg_per_l))
        found = replace(found, hair_g=hair_g, amounts=amounts)
    if dose.pozzolan_share_of_mortar:
        said = pozzolan_said_l(makes_l * dose.pozzolan_share_of_mortar, is_most=dose.pozzolan_is_most)
        share = max(said / makes_l, dose.pozzolan_share_of_mortar)
        amounts = found.amounts.each(lambda amount: replace(amount, pozzolan_l=amount.made_l * share))
        found = replace(found, pozzolan_l=said, amounts=amounts)
    return found


# --- made before, and drawn by the day --------------------------------------------------------------------


def _stuff(mix: Mix, gauge: GaugedMix, kit: Kit, placed: Sequence[Placed]) -> Made:
    dose = _dose(mix, gauge)
    cases = stuff_for([(one.work, dose) for one in placed], gauge, kit)
    likely = cases.likely
    assert likely.loads is not None, "a work takes something"
    draws = [next(iter(coat.at.values())) for coat in likely.coats]
    days = tuple(
        _drawn_day(one, coat, draw, kit.box_l) for one, coat, draw in zip(placed, likely.coats, draws, strict=True)
    )
    return Made(
        gauge, likely.loads.batch, likely.loads.half_load, cases.each(_loads_nr), days,
        cases.each(lambda case: case.amounts), (), draws[0].hair_said_g_per_box, draws[0].pozzolan_said_l_per_box,
        panel_nr=max((one.boxes_each * one.draws_nr for coat in likely.coats for one in coat.panels), default=None),
        panel_coats_nr=_coats_of_a_panel(placed),
    )  # fmt: skip


def _coats_of_a_panel(placed: Sequence[Placed]) -> int:
    """How many coats of one mix the panel has that has most."""
    return max(Counter(one.path[:2] for one in placed if one.work.panels_m2).values(), default=1)


def _loads_nr(case: StuffCase) -> Fraction:
    return case.loads.batches_nr if case.loads else Fraction(0)


def _drawn_day(placed: Placed, coat: DrawnCoat, draw: Draw, box_l: float) -> DayFacts:
    boxes = draw.boxes_each * draw.draws_nr
    return DayFacts(
        path=placed.path,
        days=coat.days,
        takes_l=draw.need.need_l,
        a_day=boxes,
        of="box",
        left_l=draw.left_l,
        left_goes=draw.left_goes,
        covers_m2=placed.covers_m2(box_l),
        much_left=not coat.keeps and draw.boxes_each > HALF_BOX and draw.left_l > left_at_most_l(draw.need.need_l),
        draws_nr=draw.draws_nr,
        task=placed.task,
    )


# --- limewash ---------------------------------------------------------------------------------------------


def _wash(mix: Mix, gauge: GaugedMix, kit: Kit, placed: Sequence[Placed], *, coats: Sequence[float]) -> Made:
    parts = float(mix.recipe.ratio.chosen)
    works = [one.work for one in placed]
    cases = shared_lot(works, parts, box_l=kit.box_l, jug_l=gauge.jug_l, vessel_at_most_l=VESSEL_AT_MOST_L)
    lot = cases.likely.lot
    assert lot is not None, "a face takes something"
    days = tuple(_washed_day(one.path, one.work, nr) for one, nr in zip(placed, coats, strict=True))
    return Made(
        gauge, lot.batch, None, cases.each(_lots_nr), days, cases.each(lambda case: case.amounts),
        vessel_l=cases.likely.vessel_l, panel_nr=_washed_panel(works, gauge.jug_l),
    )  # fmt: skip


def _washed_panel(works: Sequence[Work], jug_l: float) -> Fraction | None:
    """What the panel that takes most takes of a wash in all its coats, by the jug, in half measures up."""
    needs = [need_l for work in works for need_l in work.panels_need_l(work.in_place_l_per_m2.likely)]
    return Fraction(math.ceil(2 * max(needs) / jug_l - DUST), 2) if needs else None


def _lots_nr(case: SharedLot) -> Fraction:
    lot: Batches | None = case.lot
    return lot.batches_nr if lot else Fraction(0)


def _washed_day(path: ScopePath, work: Work, coats_nr: float) -> DayFacts:
    """A coat's litres shared over its days; what a day leaves goes back into the vessel."""
    area, output = work.area_m2.likely, sum(work.output_m2.values())
    days_a_coat = max(1, math.ceil(area / output - 1e-9))
    a_coat_l_per_m2 = work.in_place_l_per_m2.likely / coats_nr * (1 + work.dropped_share)
    coat_l = area * a_coat_l_per_m2
    drawn = math.ceil(coat_l / days_a_coat - 1e-9)
    return DayFacts(
        path=path,
        days=days_a_coat * int(coats_nr),
        takes_l=coat_l / days_a_coat,
        a_day=Fraction(drawn),
        of="litre",
        left_l=drawn - coat_l / days_a_coat,
        left_goes="kept",
        covers_m2=1 / a_coat_l_per_m2,
        much_left=False,
    )
