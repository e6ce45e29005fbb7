"""The boxes of a batch, what a mix truly is on dry sand or as putty, and the materials to order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from generator.decide.model import Mix
from generator.decide.sands import sands_read
from generator.errors import Raised
from generator.library.model import Library, LowHigh, Material
from generator.library.tables import TableRow
from generator.lime import expansion, hair, mortar, slaking
from generator.lime.sand import true_sand_parts
from generator.measure.model import MaterialLine, MixSheetFacts
from generator.questionnaire.facts import PROJECT, Facts, View
from generator.values import Range, plain, rounded, rounded_up

BOXES_AT_MOST: Final = 12


def batch_of(
    mix: Mix, facts: Facts, library: Library, volume_l: Range[float]
) -> tuple[MixSheetFacts, tuple[Raised, ...]]:
    """The boxes of one batch in the box and mixer of this site, and how many batches the job takes."""
    making, gauge, site = _making(mix, library), _gauge(mix), facts.at_scope(PROJECT)
    box_l, mixer_l = site.real("gauge_box_l"), site.real("mixer_l")
    assert box_l is not None, "the question has a default"
    assert mixer_l is not None, "the question has a default"
    needed = gauge.all_boxes * box_l
    fills = (("mix", mix.ref), ("litres", f"{needed:g}"))
    marks = site.marks("mixer_l", "gauge_box_l")
    raised = () if mixer_l >= needed else (Raised("mixer-too-small", mix.used_for[0], fills, (), marks),)
    bulking = making.spread("bulking")
    load = mortar.batch(
        gauge,
        box_l=box_l,
        mixer_l=max(mixer_l, needed),
        bulking_share=bulking.likely,
        mortar_per_sand=_yield(mix, library),
    )
    pozzolan_l = float(mix.recipe.pozzolan_per_cent) / 100 * load.mortar_l.likely
    made = MixSheetFacts(
        mix, Decimal(str(load.lime_boxes)), Decimal(str(load.sand_boxes)), rounded(pozzolan_l, 1),
        _decimals(load.mortar_l, 0), _batches(volume_l, load.mortar_l), _decimals(volume_l, 0),
        _dry_ratio(mix, bulking), _pozzolan_measures(pozzolan_l, box_l), hair_g=_hair_g(mix, load.mortar_l.likely),
    )  # fmt: skip
    slaked = _slaked(made, load, library, box_l) if mix.recipe.making == "hot-mix" else made
    return slaked, (*raised, *_voids_unfilled(slaked, site))


def _voids_unfilled(made: MixSheetFacts, site: View) -> Iterator[Raised]:
    """The sands on offer that, alone, have more voids than the lime of a mix fills; in limewash there is no sand."""
    parts = (made.putty_ratio or made.dry_ratio).likely
    marks = site.marks("sands_on_offer")
    for offer in sands_read(site) if made.mix.recipe.making != "limewash" else ():
        if offer.lean_limit_parts is not None and float(parts) > offer.lean_limit_parts:
            most = f"{offer.lean_limit_parts:.1f}"
            fills = (("mix", made.mix.ref), ("parts", plain(parts)), ("sand", offer.sand.name), ("most", most))
            yield Raised("sand-voids-unfilled", made.mix.used_for[0], fills, (), marks)


def _hair_g(mix: Mix, made_l: float) -> Decimal | None:
    """The hair of a batch to ten grams, as it can be weighed on site."""
    dose = float(mix.hair_kg_per_m3)
    return rounded(hair.hair_g_per_batch(made_l, dose) / 10, 0) * 10 if dose else None


def _pozzolan_measures(dose_l: float, box_l: float) -> int:
    return mortar.pozzolan_measure(dose_l, box_l).measures if dose_l else 1


def _making(mix: Mix, library: Library) -> TableRow:
    return library.row("making", making=mix.recipe.making)


def _yield(mix: Mix, library: Library) -> Range[float]:
    """The mortar from one volume of loose dry sand: the table's, or more where the putty overfills the voids."""
    making = _making(mix, library)
    published = making.spread("yield")
    if mix.recipe.making != "putty":
        return published
    dry_parts = true_sand_parts(1.0, float(mix.recipe.ratio.chosen), making.spread("bulking").likely)
    filled = mortar.void_filling_yield(1.0, dry_parts, library.row("damp-sand").spread("void"))
    return Range(max(published.low, filled.low), max(published.likely, filled.likely), max(published.high, filled.high))


def _gauge(mix: Mix) -> mortar.Gauge:
    return mortar.whole_box_gauge(1.0, float(mix.recipe.ratio.chosen), boxes_at_most=BOXES_AT_MOST).gauge


def floats(published: LowHigh | None) -> Range[float]:
    """A published range as floats."""
    assert published is not None
    return Range(float(published.low), float(published.likely), float(published.high))


def _decimals(value: Range[float], digits: int) -> Range[Decimal]:
    return value.each(lambda part: rounded(part, digits))


def _batches(volume_l: Range[float], made_l: Range[float]) -> Range[Decimal]:
    return volume_l.each(lambda volume: Decimal(mortar.batches_to_make(volume, made_l.likely)))


def _dry_ratio(mix: Mix, bulking: Range[float]) -> Range[Decimal]:
    chosen = float(mix.recipe.ratio.chosen)
    low, likely, high = (
        rounded(true_sand_parts(1.0, chosen, share), 1) for share in (bulking.high, bulking.likely, bulking.low)
    )
    return Range(low, likely, high)


def _slaked(made: MixSheetFacts, load: mortar.Batch, library: Library, box_l: float) -> MixSheetFacts:
    """The batch with what it slakes to; its heat, steam and water are upper figures, as cautions."""
    lime, putty = library.materials[made.mix.recipe.lime], library.materials["lime-putty"]
    density, purity, solids = map(floats, (lime.bulk_density_kg_per_l, lime.purity_share, putty.solids_share))
    bulking = _making(made.mix, library).spread("bulking")
    ratio = expansion.effective_ratio(
        load.lime_boxes,
        load.sand_boxes,
        quicklime_kg_per_l=density,
        purity_share=purity,
        putty_solids_share=solids,
        bulking_share=bulking,
    )
    heat = _heat(made.mix, load, library, box_l)
    room = expansion.vessel_l(
        load.lime_boxes * box_l,
        heat.water_to_add_kg,
        expansion=expansion.expansion_factor(density, purity, solids),
        headroom_share=library.row("slaking-room").spread("headroom"),
    )
    return replace(
        made, putty_ratio=_decimals(ratio, 1), heat_mj=rounded(heat.heat_kj / 1000, 0),
        steam_l=rounded(heat.steam_kg, 1), water_l=rounded(heat.water_to_add_kg, 0),
        room_l=rounded_up(room.high + load.sand_boxes * box_l, Decimal(10)),
    )  # fmt: skip


def _heat(mix: Mix, load: mortar.Batch, library: Library, box_l: float) -> slaking.Slaking:
    """The slaking of a batch at the likely figures, its water there from the start."""
    lime, sand = library.materials[mix.recipe.lime], library.materials[mix.recipe.sand]
    damp = library.row("damp-sand")
    return slaking.hot_mix(
        load.lime_boxes * box_l,
        load.sand_boxes * box_l,
        quicklime_kg_per_l=floats(lime.bulk_density_kg_per_l).likely,
        purity_share=floats(lime.purity_share).likely,
        sand_dry_kg_per_l=floats(sand.bulk_density_kg_per_l).likely,
        sand_moisture_share=float(damp.number("moisture_likely")),
        bulking_share=_making(mix, library).spread("bulking").likely,
        putty_solids_share=floats(library.materials["lime-putty"].solids_share).likely,
        start_c=float(damp.number("start_c")),
    )


# --- materials to order -----------------------------------------------------------------------------------


def to_order(mix: Mix, facts: Facts, library: Library, volume_l: Range[float]) -> Iterator[MaterialLine]:
    """Lime, sand, hair and pozzolan for so much mortar, waste counted, in whole packages of the high."""
    recipe, waste = mix.recipe, float(_waste(mix, library)) / 100
    lime, sand = library.materials[recipe.lime], library.materials[recipe.sand]
    needs = [_needs(mix, library, volume, waste) for volume in (volume_l.low, volume_l.likely, volume_l.high)]
    by_volume = lime.package.unit == "l"
    yield _line(mix, lime, Range(*(need.lime_l if by_volume else need.lime_kg for need in needs)), "lime")
    if sand.package.unit == "kg":  # water is not ordered
        yield _line(mix, sand, Range(*(need.sand_damp_kg for need in needs)), "sand")
    made, dose = volume_l.times(1 + waste), float(mix.hair_kg_per_m3)
    if dose:
        yield _line(mix, library.materials["hair"], made.each(lambda litres: hair.hair_kg(litres / 1000, dose)), "hair")
    if recipe.pozzolan:
        pozzolan = library.materials[recipe.pozzolan]
        yield _line(mix, pozzolan, made.times(_pozzolan_kg_per_l(mix, pozzolan)), "pozzolan")


def kg_per_m3(mix: Mix, library: Library) -> list[tuple[Material, float]]:
    """The dry kilograms of each material in a cubic metre of a mix, no waste counted; hair is left out."""
    recipe, need = mix.recipe, _needs(mix, library, 1000.0, 0.0)
    found = [(library.materials[recipe.lime], need.lime_kg), (library.materials[recipe.sand], need.sand_dry_kg)]
    if recipe.pozzolan:
        pozzolan = library.materials[recipe.pozzolan]
        found.append((pozzolan, 1000.0 * _pozzolan_kg_per_l(mix, pozzolan)))
    return found


def _pozzolan_kg_per_l(mix: Mix, pozzolan: Material) -> float:
    """The pozzolan in a litre of mortar."""
    return floats(pozzolan.bulk_density_kg_per_l).likely * float(mix.recipe.pozzolan_per_cent) / 100


def _needs(mix: Mix, library: Library, volume_l: float, waste_share: float) -> mortar.Materials:
    """The lime and sand in so many litres of a mix."""
    recipe, making = mix.recipe, _making(mix, library)
    lime, sand = library.materials[recipe.lime], library.materials[recipe.sand]
    return mortar.materials(
        volume_l / 1000,
        _gauge(mix),
        mortar.Densities(floats(lime.bulk_density_kg_per_l).likely, floats(sand.bulk_density_kg_per_l).likely),
        mortar_per_sand=_yield(mix, library).likely,
        bulking_share=making.spread("bulking").likely,
        sand_moisture_share=float(library.row("damp-sand").number("moisture_likely")),
        waste_share=waste_share,
    )


def _waste(mix: Mix, library: Library) -> Decimal:
    return library.row("quantity-waste", making=mix.recipe.making).number("waste_per_cent")


def _line(mix: Mix, material: Material, amount: Range[float], parts: str) -> MaterialLine:
    wasted = amount.times(1 + float(material.waste_per_cent) / 100)
    whole = mortar.tubs_to_order if material.package.unit == "l" else mortar.bags_to_order
    packages = Decimal(whole(wasted.high, float(material.package.holds)))
    return MaterialLine(mix.ref, material, wasted, packages, parts)
