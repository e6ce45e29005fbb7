"""A mix as it is measured on this site: its gauge in the sand as found, its sands, its yield, the box and the mixer."""

from __future__ import annotations

from typing import cast

from generator.decide.model import JOINT_COATS, Mix
from generator.decide.sands import best_blend
from generator.library.model import Library
from generator.library.properties import LowHigh
from generator.library.tables import TableRow
from generator.lime import expansion
from generator.lime.batch import batches_by_mixer
from generator.lime.gauging import GaugedMix, Kit, PublishedYield, SandState, SandYield, gauged_mix, sand_yield
from generator.lime.wash_lot import wash_mix
from generator.measure.model import FRESH
from generator.questionnaire.facts import Facts, View
from generator.questionnaire.scopes import PROJECT
from generator.values import Range, replace

Sands = tuple[tuple[str, int], ...]


def site_kit(facts: Facts) -> Kit:
    """The gauge box and the mixer of this site."""
    site = facts.at_scope(PROJECT)
    box_l, mixer_l = site.real("gauge_box_l"), site.real("mixer_l")
    assert box_l is not None, "the question has a default"
    assert mixer_l is not None, "the question has a default"
    return Kit(box_l, mixer_l)


def mixer_minutes(library: Library) -> float:
    """How long a batch of what is made fresh takes the mixer, min: turned dry, mixed wet, filled and tipped out."""
    return sum(float(library.number(f"nhl_{doing}_minutes") or 0) for doing in ("dry", "wet", "turn"))


def kit_for(mix: Mix, facts: Facts, library: Library) -> Kit:
    """The gauge box and the mixer of this site, and how many batches one makes in a day of a mix that is made fresh."""
    kit, minutes = site_kit(facts), mixer_minutes(library)
    if mix.recipe.making != FRESH or not minutes:
        return kit
    return replace(kit, most_a_day=batches_by_mixer(minutes))


def sand_state(facts: Facts) -> SandState:
    """How the sand of this site is found: damp under a sheet, kiln-dried, or flooded."""
    return cast(SandState, facts.at_scope(PROJECT).text("sand_state") or "damp")


def making(mix: Mix, library: Library) -> TableRow:
    """Yield and bulking by the way a mix is made."""
    return library.row("making", making=mix.recipe.making)


def floats(published: LowHigh | None) -> Range[float]:
    """A published range as floats."""
    assert published is not None
    return Range(float(published.low), float(published.likely), float(published.high))


def gauged(mix: Mix, sands: Sands, facts: Facts, library: Library) -> GaugedMix:
    """A mix in the counts that keep its gauge in the sand of this site, its sands told apart."""
    parts, jug_l = float(mix.recipe.ratio.chosen), facts.spelling.jug_l
    if mix.recipe.making == "limewash":
        return wash_mix(parts, jug_l)
    bulking = making(mix, library).spread("bulking").likely
    blend = [count for _, count in sands]
    return gauged_mix(parts, bulking, _yield(mix, library), sand=sand_state(facts), blend=blend, jug_l=jug_l)


def plain_gauge(mix: Mix, library: Library) -> GaugedMix:
    """A mix in one damp sand, whatever the site has: what a cubic metre of it holds."""
    parts = float(mix.recipe.ratio.chosen)
    if mix.recipe.making == "limewash":
        return wash_mix(parts)
    return gauged_mix(parts, making(mix, library).spread("bulking").likely, _yield(mix, library))


def _yield(mix: Mix, library: Library) -> SandYield:
    """The mortar from one volume of loose dry sand: as published where that holds, else by filling the voids."""
    row, voids = making(mix, library), library.row("damp-sand").spread("void")
    ends = (float(row.number("holds_from_parts")), float(row.number("holds_to_parts")))
    published = PublishedYield(row.spread("yield"), *ends) if mix.recipe.making != "putty" else None
    return sand_yield(
        float(mix.recipe.ratio.chosen),
        row.spread("bulking").likely,
        void_share=voids,
        published=published,
        paste_per_lime=_paste(mix, library),
    )


def _paste(mix: Mix, library: Library) -> float:
    """What a volume of lime grows to: quicklime slakes to more, other limes stay as they are."""
    if mix.recipe.making != "hot-mix":
        return 1.0
    lime, putty = library.materials[mix.recipe.lime], library.materials["lime-putty"]
    found = expansion.expansion_factor(
        floats(lime.bulk_density_kg_per_l), floats(lime.purity_share), floats(putty.solids_share)
    )
    return found.likely


def mix_sands(mix: Mix, blends: set[Sands], library: Library) -> Sands:
    """The sands of a mix with their parts: the blend of its walls where they have one and the same, else the recipe's.

    What fills joints is blended after the old mortar; plaster, render and wash are not.
    """
    (only,) = blends if len(blends) == 1 else ((),)
    return only or ((library.materials[mix.recipe.sand].name, 1),)


def blends_of(mix: Mix, facts: Facts) -> set[Sands]:
    """The blends that the walls of a mix were given; several are more than one heap can be."""
    return {_blend(facts.at_scope(path)) for path in mix.used_for}


def _blend(here: View) -> Sands:
    if here.text("coat") not in JOINT_COATS:
        return ()
    try:
        best = best_blend(here)
    except ValueError:
        return ()  # told where it is decided
    if best is None:
        return ()
    return tuple((name, count) for name, count in zip(best.names, best.boxes, strict=True) if count)
