"""The day's batch of a mix as the papers take it: what it makes, its ratio on dry sand, what its slaking asks for."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Final

from generator.decide.model import Mix
from generator.decide.sands import sands_read
from generator.library.findings import Raised
from generator.library.model import Library
from generator.library.properties import Material
from generator.lime import expansion, slaking
from generator.lime.gauging import Counted, counted, full_load
from generator.lime.job_batches import amounts_of
from generator.lime.sand import true_sand_parts
from generator.measure.day_batches import made
from generator.measure.gauged import (
    Sands,
    blends_of,
    floats,
    kit_for,
    making,
    mix_sands,
    plain_gauge,
    sand_state,
    site_kit,
)
from generator.measure.model import DayFacts, Made, MixSheetFacts, decimal
from generator.measure.offered import sands_held
from generator.measure.outputs import Outputs
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.keeping import AFRESH, Kept
from generator.questionnaire.scopes import PROJECT
from generator.values import Range, plain, replace, rounded, rounded_up

FINE_BELOW_L: Final = 20.0
"""Below this many litres a batch is told to a tenth."""


def batch_of(mix: Mix, facts: Facts, outputs: Outputs, kept: Kept = AFRESH) -> tuple[MixSheetFacts, tuple[Raised, ...]]:
    """The day's batch of a mix in the box and mixer of this site, and the findings it raises."""
    library = outputs.library
    blends = blends_of(mix, facts)
    sands = mix_sands(mix, blends, library)
    found = made(mix, sands, facts, outputs, kept)
    dry_ratio = _dry_ratio(mix, making(mix, library).spread("bulking"))
    box_l = site_kit(facts).box_l
    told = MixSheetFacts(mix, found, sands, box_l, _makes(found), dry_ratio)
    told = replace(told, held=sands_held(told, facts, library))
    if mix.recipe.making == "hot-mix":
        told = _slaked(told, facts, library)
    site = facts.at_scope(PROJECT)
    raised = _left(told, facts, library), _mixers_short(told, facts, library), _voids_unfilled(told, site)
    return told, (*_misfits(told, blends, facts), *(one for each in raised for one in each))


def _makes(found: Made) -> Range[Decimal]:
    """What a batch makes, by the low, likely and high of its yield."""
    yields, likely_l = found.gauged.sand_yield.mortar_per_sand, found.batch.makes_l
    digits = 1 if likely_l < FINE_BELOW_L else 0
    return yields.each(lambda end: rounded(likely_l * end / yields.likely, digits))


def _dry_ratio(mix: Mix, bulking: Range[float]) -> Range[Decimal]:
    chosen = float(mix.recipe.ratio.chosen)
    low, likely, high = (
        rounded(true_sand_parts(1.0, chosen, share), 1) for share in (bulking.high, bulking.likely, bulking.low)
    )
    return Range(low, likely, high)


# --- findings ---------------------------------------------------------------------------------------------


def _misfits(told: MixSheetFacts, blends: set[Sands], facts: Facts) -> Iterator[Raised]:
    """A box and a mixer that do not fit one another, a gauge that small numbers only come near, blends that differ."""
    mix, found, kit = told.mix, told.made, site_kit(facts)
    path, marks = mix.used_for[0], facts.at_scope(PROJECT).marks("mixer_l", "gauge_box_l")
    set_l = counted(found.gauged, kit.box_l, "whole", Fraction(1)).loose_l
    in_mixer = mix.recipe.making not in ("limewash", "hot-mix")  # one is whisked in a tub, the other slaked on a floor
    if in_mixer and full_load(found.gauged, kit).measure != "whole":
        yield Raised("mixer-too-small", path, (("mix", mix.ref), ("litres", f"{set_l:.0f}")), (), marks)
    if "by-hand" in found.notes:
        loose = f"{found.batch.loose_l:.0f}"
        yield Raised("mixer-too-large", path, (("mix", mix.ref), ("litres", loose)), (), marks)
    if found.gauged.gauge.error_share:
        off = f"{abs(100 * found.gauged.gauge.error_share):.1f}"
        yield Raised("gauge-neared", path, (("mix", mix.ref), ("off", off)))
    if len(blends) > 1:
        yield Raised("sand-blends-differ", path, (("mix", mix.ref),))


def _left(told: MixSheetFacts, facts: Facts, library: Library) -> Iterator[Raised]:
    """A day's batch of which much is thrown away, since none smaller can be measured or serves every wall."""
    for day in told.made.days:
        if day.much_left:
            litres = ("takes", f"{day.takes_l:.1f}"), ("left", f"{day.left_l:.1f}")
            yield Raised("batch-thrown-away", day.path, (*_made_on(day, told, facts, library), *litres))


def _mixers_short(told: MixSheetFacts, facts: Facts, library: Library) -> Iterator[Raised]:
    """Days that take more batches than one mixer makes in them, in loads as full as the box allows."""
    most = kit_for(told.mix, facts, library).most_a_day
    marks = facts.at_scope(PROJECT).marks("mixer_l", "gauge_box_l", "gangs")
    for day in told.made.days:
        if day.mixers_nr > 1:
            counts = ("number", facts.spelling.count(decimal(day.a_day))), ("most", str(most))
            fills = *_made_on(day, told, facts, library), *counts, ("mixers", str(day.mixers_nr))
            yield Raised("mixers-short-of-day", day.path, fills, (), marks)


def _made_on(day: DayFacts, told: MixSheetFacts, facts: Facts, library: Library) -> tuple[tuple[str, str], ...]:
    """The mix that is made on a day, and what it is laid as: the coat, or what fills or mends beside it."""
    item = library.tasks[day.task].label if day.task else facts.scopes[day.path].title
    return ("mix", told.mix.ref), ("item", item)


def _voids_unfilled(told: MixSheetFacts, site: View) -> Iterator[Raised]:
    """The sands on offer that, alone, have more voids than the lime of a mix fills; in limewash there is no sand."""
    parts = (told.putty_ratio or told.dry_ratio).likely
    marks = site.marks("sands_on_offer")
    for offer in sands_read(site) if told.mix.recipe.making != "limewash" else ():
        if offer.lean_limit_parts is not None and float(parts) > offer.lean_limit_parts:
            most = f"{offer.lean_limit_parts:.1f}"
            fills = (("mix", told.mix.ref), ("parts", plain(parts)), ("sand", offer.sand.name), ("most", most))
            yield Raised("sand-voids-unfilled", told.mix.used_for[0], fills, (), marks)


# --- slaking ----------------------------------------------------------------------------------------------


def _slaked(told: MixSheetFacts, facts: Facts, library: Library) -> MixSheetFacts:
    """The batch with what it slakes to; its heat, steam and water are upper figures, as cautions."""
    lime, putty = library.materials[told.mix.recipe.lime], library.materials["lime-putty"]
    density, purity, solids = map(floats, (lime.bulk_density_kg_per_l, lime.purity_share, putty.solids_share))
    batch, damp = told.made.batch, sand_state(facts) == "damp"
    sand_l = sum(batch.sands_l)
    ratio = expansion.effective_ratio(
        batch.lime_l,
        sand_l,
        quicklime_kg_per_l=density,
        purity_share=purity,
        putty_solids_share=solids,
        bulking_share=making(told.mix, library).spread("bulking") if damp else Range(0.0, 0.0, 0.0),
    )
    heat = _heat(told, batch, facts, library)
    room = expansion.vessel_l(
        batch.lime_l,
        heat.water_to_add_kg,
        expansion=expansion.expansion_factor(density, purity, solids),
        headroom_share=library.row("slaking-room").spread("headroom"),
    )
    return replace(
        told, putty_ratio=ratio.each(lambda part: rounded(part, 1)), heat_mj=rounded(heat.heat_kj / 1000, 0),
        steam_l=rounded(heat.steam_kg, 1), water_l=rounded(heat.water_to_add_kg, 0),
        room_l=rounded_up(room.high + sand_l, Decimal(10)),
    )  # fmt: skip


def _heat(told: MixSheetFacts, batch: Counted, facts: Facts, library: Library) -> slaking.Slaking:
    """The slaking of a batch at the likely figures, its water there from the start."""
    lime, sand = library.materials[told.mix.recipe.lime], library.materials[told.mix.recipe.sand]
    damp = library.row("damp-sand")
    moisture = {"dry": 0.0, "flooded": float(damp.number("moisture_high"))}
    return slaking.hot_mix(
        batch.lime_l,
        sum(batch.sands_l),
        quicklime_kg_per_l=floats(lime.bulk_density_kg_per_l).likely,
        purity_share=floats(lime.purity_share).likely,
        sand_dry_kg_per_l=floats(sand.bulk_density_kg_per_l).likely,
        sand_moisture_share=moisture.get(sand_state(facts), float(damp.number("moisture_likely"))),
        bulking_share=told.made.gauged.bulking_share,
        putty_solids_share=floats(library.materials["lime-putty"].solids_share).likely,
        start_c=float(damp.number("start_c")),
    )


def kg_per_m3(mix: Mix, library: Library) -> list[tuple[Material, float]]:
    """The dry kilograms of each material in a cubic metre of a mix, no waste counted; hair is left out."""
    recipe, gauge = mix.recipe, plain_gauge(mix, library)
    need = amounts_of(gauge, 1000.0, in_place_l=1000.0, dropped_l=0.0)
    dry_l = sum(need.sands_l) / (1.0 + gauge.bulking_share)
    lime, sand = library.materials[recipe.lime], library.materials[recipe.sand]
    found = [(lime, need.lime_l * floats(lime.bulk_density_kg_per_l).likely)]
    found.append((sand, dry_l * floats(sand.bulk_density_kg_per_l).likely))
    if recipe.pozzolan:
        pozzolan = library.materials[recipe.pozzolan]
        share = 10.0 * float(recipe.pozzolan_per_cent)
        found.append((pozzolan, share * floats(pozzolan.bulk_density_kg_per_l).likely))
    return found
